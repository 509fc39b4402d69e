//! Somebody who works a net must be allowed to send on each of its channels.

use super::amateur::{is_in_band, may_member_send, members_of};
use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity, plural};
use crate::plan::{Service, subject};
use crate::reckon::least_class;

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
Finds: a channel of a net on which none of the members with a duty in that net may send. Channels that are listened to alone count as well: a net needs to be answered.
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
slot = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "hf"
slot = 2
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
    for net in facts.plan.nets.iter() {
        let Some(members) = members_of(facts, net) else { continue };
        for leg in &net.legs {
            let Some(channel) = facts.plan.channels.get(&leg.channel) else { continue };
            if channel.service.value != Service::Amateur || (channel.send.is_some() && !is_in_band(facts, channel)) {
                continue;
            }
            let verdicts: Vec<Option<bool>> =
                members.iter().map(|member| may_member_send(facts, member, channel)).collect();
            // An unknown class is a finding of its own, and that member may be the one who is allowed.
            if verdicts.iter().any(|verdict| *verdict != Some(false)) {
                continue;
            }
            let what = format!(
                "none of the {} who work {} may send on {}, its {} channel",
                plural(members.len(), "member"),
                net.name.value,
                channel.name.value,
                leg.name
            );
            let finding = Finding::new(&RULE, leg.channel.span, what).label("nobody there may send on it");
            let finding = finding.and(channel.id.span, "this channel").on(subject(net)).on(subject(channel));
            found.push(match least_class(facts.tables, facts.profile, channel) {
                Some(class) => finding
                    .note(format!("{} or higher may send there", class.name))
                    .help(format!("give a duty in this net to a {} or higher, or choose another channel", class.name)),
                None => finding.help("choose a channel that is not listened to alone"),
            });
        }
    }
}
