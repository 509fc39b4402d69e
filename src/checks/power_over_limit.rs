//! The power that a channel allows must be within what every station there may use.

use super::Facts;
use crate::ground::{At, Finding, Findings, Power, Rule, Stretch};
use crate::reckon::{End, Transmission, Within, transmissions, within};
use crate::tables::{LawArea, PowerMeasure};

/// The power that a channel allows must be within what every station there may use.
pub(super) const RULE: Rule = Rule::error("power-over-limit", "the rows of the profile; us: 47 CFR 97.313", DOC);

const DOC: &str = r#"
Finds: a channel, repeater, gateway or link with more transmitter power than the law allows there to any class, and one whose radiated power would exceed an ERP limit with a half-wave dipole (0 dBd).
Costs: the card would tell somebody to send with too much.

Wrong:
```toml
[[channel]]
id = "sixty"
row = 2
name = "HF 60"
spoken = "Sixty"
dial = "5357.0 kHz"
side = "USB"
power = "50 W"              # power-over-limit
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `power = "9 W"`: the segment allows 9.15 W ERP.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    // What people send into a repeater is limited on each of its channels.
    let is_judged = |sent: &&Transmission<'_>| sent.from.is_amateur() && sent.end != Some(End::Input);
    for sent in transmissions(facts.plan).iter().filter(is_judged) {
        let (Some(power), Ok(stretch)) = (sent.power(), facts.occupies(sent)) else { continue };
        compare(facts, sent, power, &stretch).into_iter().for_each(|finding| found.push(finding));
    }
}

fn compare(facts: Facts<'_>, sent: &Transmission<'_>, power: At<Power>, stretch: &Stretch) -> Option<Finding> {
    let (words, frequency) = (sent.from.words(), sent.frequency);
    let spots = sent.from.channel().map_or_else(|| vec![sent.own_spot()], |_| sent.spots());
    let is_there = |area: &LawArea| spots.iter().any(|spot| within(area, spot) == Within::Yes);
    let binding = facts.profile.power_limits.iter().filter(|limit| {
        limit.classes.is_empty() && limit.edges.overlaps(stretch) && limit.area.as_ref().is_none_or(is_there)
    });
    let limit = binding.min_by_key(|limit| limit.most.power).filter(|limit| power.value > limit.most.power)?;
    let measure = match limit.most.measure {
        PowerMeasure::Output => "transmitter output",
        PowerMeasure::Erp => "ERP",
    };
    let place = limit.area.as_ref().map_or_else(String::new, |area| format!(" in {}", area.name));
    let what = format!(
        "{words} allows {} on {}, over the limit of {} {measure}{place}",
        power.value, frequency.value, limit.most.power
    );
    let finding = Finding::new(&RULE, power.span, what)
        .label("too much here")
        .and(frequency.span, "on this frequency")
        .on_all(sent.from.subject());
    let note = match limit.most.measure {
        PowerMeasure::Output => limit.cite.source.clone(),
        PowerMeasure::Erp => {
            format!("{}; a half-wave dipole (0 dBd) is assumed, more gain leaves less power", limit.cite.source)
        }
    };
    let help = format!("write `power = \"{}\"` or less", limit.most.power);
    Some(finding.note(note).help(help).fix(power.span, format!("\"{}\"", limit.most.power)))
}
