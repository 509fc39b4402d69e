//! Of a meeting place about a frequency all must be open to some class.

use super::Facts;
use super::amateur::senders;
use crate::ground::{Finding, Findings, Rule, Stretch, Width};
use crate::plan::Channel;
use crate::reckon::{Sent, Transmission, may_send, strayed};
use crate::tables::Class;

/// Of a meeting place about a frequency all must be open to some class.
pub(super) const RULE: Rule = Rule {
    since: "0.3.0",
    ..Rule::error("around-not-open", "the rows of the profile; us: 47 CFR 97.301, 97.305", DOC)
};

const DOC: &str = r#"
Finds: a channel with `around` whose middle is open to a class of licence, and a part of what lies around it to none that may use the middle.
Costs: who looks for the others where the card says so, calls where nobody may send.

Wrong:
```toml
[[channel]]
id = "hf-75"
row = 2
name = "HF 75"
spoken = "Seventy Five"
dial = "3990.0 kHz"
side = "LSB"
around = "20 kHz"           # around-not-open
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `around = "10 kHz"`, or move the middle down.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for sender in senders(facts) {
        let Some((channel, around)) = sender.from.channel().and_then(|channel| Some((channel, channel.around?))) else {
            continue;
        };
        let Ok(occupied) = facts.occupies(&sender) else { continue };
        let sent = sender.sent();
        let most = around.value;
        let may =
            |class: &Class, strays| may_send(facts.tables, facts.profile, class, &Sent { strays, ..sent }).is_ok();
        // The class that gets farthest; a middle that is open to none is a finding of its own.
        let classes = facts.profile.classes.iter().filter(|class| may(class, [Width::hertz(0); 2]));
        let farthest = classes.map(|class| {
            let below = farthest(most, |width| may(class, [width, Width::hertz(0)]));
            [below, farthest(most, |width| may(class, [Width::hertz(0), width]))]
        });
        let Some(open) =
            farthest.max_by_key(|[below, above]| (below.min(above).as_hertz(), below.max(above).as_hertz()))
        else {
            continue;
        };
        if open == [most; 2] {
            continue;
        }
        found.push(finding(&sender, channel, (around.span, most), (open, &occupied)));
    }
}

/// The most of some width, in whole hertz, that `is_open`: what holds of a width holds of all narrower ones.
fn farthest(most: Width, is_open: impl Fn(Width) -> bool) -> Width {
    let (mut open, mut closed) = (0, most.as_hertz() + 1);
    while open + 1 < closed {
        let middle = open.midpoint(closed);
        if is_open(Width::hertz(middle)) { open = middle } else { closed = middle }
    }
    Width::hertz(open)
}

fn finding(
    sender: &Transmission<'_>,
    channel: &Channel,
    (span, most): (crate::ground::Span, Width),
    (open, occupied): ([Width; 2], &Stretch),
) -> Finding {
    let [below, above] = open;
    let parts: Vec<String> = [([most, below], false), ([above, most], true)]
        .into_iter()
        .filter(|([one, other], _)| one != other)
        .filter_map(|([one, other], is_above)| part(occupied, one, other, is_above))
        .collect();
    let what = format!(
        "channel {} is met within {most} of {}, and {} is open to no class of licence that may send there",
        channel.name.value,
        sender.frequency.value,
        parts.join(" and ")
    );
    let finding = Finding::new(&RULE, span, what)
        .label("reaches past what is open")
        .and(sender.frequency.span, "around this")
        .on_all(sender.from.subject());
    // What is dialled is read off in kilohertz.
    let whole = below.min(above).as_hertz() / 1000;
    match whole {
        0 => finding.help("leave `around` out, or move the middle"),
        _ => finding.help(format!("write `around = \"{whole} kHz\"`, or move the middle")),
    }
}

/// What lies between two distances from a signal, on one side of it.
fn part(occupied: &Stretch, one: Width, other: Width, is_above: bool) -> Option<String> {
    let zero = Width::hertz(0);
    let reach = |width| {
        let strays = if is_above { [zero, width] } else { [width, zero] };
        let stretch = strayed(occupied, strays).ok()?;
        Some(if is_above { stretch.high() } else { stretch.low() })
    };
    Some(Stretch::new(reach(one)?, reach(other)?)?.to_string())
}
