//! A channel should be open to some member of the team.

use super::Facts;
use super::amateur::{is_in_band, may_member_send, on_channel};
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Channel, subject};

/// A channel should be open to some member of the team.
pub(super) const RULE: Rule =
    Rule::warning("no-member-may-send", "the rows of the profile; us: 47 CFR 97.301, 97.305", DOC);

const DOC: &str = r#"
Finds: a channel to send on, on which no member of the whole roster may send.
Costs: a row that nobody can use, and that somebody will try.

Wrong:
```toml
[[channel]]
id = "hf"
row = 2
name = "HF 20"
spoken = "Twenty"
dial = "14160.0 kHz"        # no-member-may-send
side = "USB"
verified = { on = 2026-10-01, by = "qra" }
```
Right: choose a frequency that a member may use, or write `tx = "none"` to listen only.
"#;

/// Whether the channel is refused whoever sends: a finding of its own.
fn is_refused(facts: Facts<'_>, channel: &Channel) -> bool {
    super::transmit_not_checked::is_refused(facts, channel)
}

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    if facts.plan.members.is_empty() || !facts.plan.members.is_whole() {
        return;
    }
    for channel in facts.plan.channels.iter() {
        let Some(send) = channel.send else { continue };
        let is_amateur = channel.service.is_amateur();
        if (is_amateur && !is_in_band(facts, channel)) || is_refused(facts, channel) {
            continue;
        }
        let here = on_channel(facts, channel);
        // What no class may send is an error of its own, whoever is on the roster.
        if is_amateur && here.least().is_none() {
            continue;
        }
        let mut verdicts = facts.plan.members.iter().map(|member| may_member_send(facts, &here, member));
        if verdicts.any(|verdict| verdict != Some(false)) {
            continue;
        }
        let what = format!("no member of the roster may send on channel {}, {}", channel.name.value, send.value);
        let finding = Finding::new(&RULE, send.span, what).label("open to nobody here").on(subject(channel));
        found.push(match here.least() {
            Some(class) => finding.note(format!("{} or higher may send there", class.name)),
            None => finding
                .note(format!(
                    "authority in the {} service: a licence of it, or an agreement in force",
                    channel.service.value
                ))
                .help("write a member's licence or an `[[agreement]]`, or `tx = \"none\"` to listen only"),
        });
    }
}
