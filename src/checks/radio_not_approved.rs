//! Where a service takes approved equipment, whoever sends in it has a radio that is approved for it.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Channel, Member, Radio, subject};
use crate::reckon::{authority, covering};
use crate::tables::Service;
use std::collections::BTreeSet;

/// Where a service takes approved equipment, whoever sends in it has a radio that is approved for it.
pub(super) const RULE: Rule = Rule::warning(
    "radio-not-approved",
    "the rows of the profile; us: 47 CFR 95.335, 95.361 (from memory); Europe: the decisions and assignments of the services",
    DOC,
);

const DOC: &str = r#"
Finds: a radio that covers a channel of a service which takes approved equipment (FRS, GMRS, MURS, CB, PMR446, Freenet), in the hands of somebody who may send there and has no radio that is `approved-for` it. On that holder's own card the channel is "not in your radio".
Costs: an amateur radio that is opened up for these channels is not lawful there, whoever holds it.

Wrong:
```toml
[[radio]]
id = "wide"
name = "Wide hand-held"
covers = ["400 MHz to 480 MHz"]   # radio-not-approved
modes = ["FM"]
power = "5 W"

[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2030-04-01
confirmed = 2026-10-01
radio = ["wide"]

[[channel]]
row = 2
standard = "FRS 1"
```
Right: give the member a radio that has the approval, with `approved-for = ["frs"]`, or write that into this one if its label says so.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let asks = |channel: &&Channel| channel.send.is_some() && channel.service.takes_approved;
    let channels: Vec<&Channel> = plan.channels.iter().filter(asks).collect();
    let mut said = BTreeSet::new();
    for member in plan.members.iter() {
        let radios: Vec<&Radio> = member.radios.iter().filter_map(|id| plan.radios.get(&id.value)).collect();
        for channel in &channels {
            let service = &channel.service.value;
            if radios.iter().any(|radio| radio.is_approved_for(service))
                || authority(plan, channel, member, None).is_err()
            {
                continue;
            }
            for radio in &radios {
                let mut is_new = || said.insert((radio.id.value.clone(), service.id.clone()));
                found.extend(finding((radio, service), channel, member).filter(|_| is_new()));
            }
        }
    }
}

/// The finding of a radio that could send on a channel and may not.
fn finding((radio, service): (&Radio, &Service), channel: &Channel, member: &Member) -> Option<Finding> {
    let (send, at) = (channel.send?.value, covering(radio, channel)?);
    let what = format!(
        "radio {} covers {send}, channel {}, and is not approved for {}",
        radio.name.value, channel.name.value, service.name
    );
    let note = format!("{} takes equipment that is approved for it: {}", service.name, service.cite.said());
    let finding = Finding::new(&RULE, at, what)
        .label("may not be used to send there")
        .and(channel.id.span, "a channel of that service")
        .and(member.id.span, "has no other radio for it")
        .note(note)
        .help(format!(
            "give {} one that has `approved-for = [\"{}\"]`, or accept that this one listens",
            member.name.value, service.id
        ));
    Some(finding.on(subject(radio)))
}
