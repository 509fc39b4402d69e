//! Somebody who works a net must be allowed to send on each of its channels.

use super::amateur::on_channel;
use super::at_post::{is_silent, named, nets_of, watches};
use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity, Span, plural};
use crate::plan::{Channel, Service, subject};
use crate::reckon::{Staff, reached};

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// Somebody who works a net must be allowed to send on each of its channels.
pub(super) const RULE: Rule = Rule {
    name: "nobody-may-use",
    severity: Severity::Error,
    waivable: false,
    source: "the rows of the profile; us: 47 CFR 97.301, 97.305; privileges follow the control operator (97.105)",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a channel of a net, or one to which the `next` of its rows lead, on which none of the members with a duty in that net may send; and a post of the net at which, during some shift, nobody may: said once a post and shift. Channels that are listened to alone count as well: a net needs to be answered.
Costs: the net moves to its fallback and falls silent there.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Abel Quist"
class = "technician"
expires = 2030-04-01
confirmed = 2026-10-01

[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "hf"
row = 2
name = "HF DAY"
spoken = "Forty"
dial = "7245.0 kHz"
side = "LSB"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "county"
name = "County Net"
spoken = "County Net"
primary = "cmd"
alternate = "hf"            # nobody-may-use
control = "desk"
rejoin = "listen on CMD 1 for 5 minutes at each full hour"

[[post]]
id = "desk"
name = "Net control"
nets = ["county"]

[[duty]]
post = "desk"
member = "qsb"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
```
Right: give a General a duty in the net, or choose a channel that a Technician may use.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    let staff = Staff::of(facts.plan);
    for net in facts.plan.nets.iter() {
        let Some(members) = staff.crew(net) else { continue };
        for need in reached(facts.plan, net).iter().filter(|need| is_silent(facts, &members, need.channel)) {
            let what = format!(
                "none of the {} who work {} may send on {}, its {}",
                plural(members.len(), "member"),
                net.name.value,
                need.channel.name.value,
                need.what
            );
            let finding = finding(facts, need.channel, need.at, what).on(subject(net)).on(subject(need.channel));
            let duty = facts.plan.duties.iter().find(|duty| members.iter().any(|m| m.id.value == duty.member.value));
            found.push(match duty {
                Some(duty) => finding.and(duty.member.span, "works it"),
                None => finding,
            });
        }
    }
    // A post falls silent alone, for one shift, where the net as a whole does not.
    for watch in watches(facts) {
        let Some((first, duty)) = watch.silent.first().zip(watch.duties.first()) else { continue };
        let what = format!(
            "from {} nobody at {} ({}) may send on {}",
            watch.when,
            watch.post.name.value,
            watch.names(),
            named(&watch.silent)
        );
        let finding = finding(facts, first.channel, duty.member.span, what).on(subject(watch.post));
        found.push(nets_of(&watch.silent).into_iter().fold(finding, |finding, net| finding.on(subject(net))));
    }
}

fn finding(facts: Facts<'_>, channel: &Channel, at: Span, what: String) -> Finding {
    let finding =
        Finding::new(&RULE, at, what).label("nobody there may send on it").and(channel.id.span, "this channel");
    if channel.service.value != Service::Amateur && channel.send.is_some() {
        let service = channel.service.value;
        return finding
            .note(format!("authority in the {service} service: a licence of it, or an agreement in force"))
            .help("write the member's licence, or the `[[agreement]]` that covers the channel");
    }
    match on_channel(facts, channel).least() {
        Some(class) => finding
            .note(format!("{} or higher may send there", class.name))
            .help(format!("give a duty there to a {} or higher, or choose another channel", class.name)),
        None => finding.help("choose a channel that is not listened to alone"),
    }
}
