//! Two nets do not meet on one channel at the same time.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Channel, Meeting, Net, subject};
use crate::reckon::{meet_at_once, meets_on};

/// Two nets do not meet on one channel at the same time.
pub(super) const RULE: Rule = Rule::warning("nets-meet-at-once", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: two nets whose `schedule` has them on one channel at the same time of the week, by the clocks of the plan's time zone. A time without `for` is only the minute in which a net begins.
Costs: two net controls call on one frequency.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[net]]
id = "county"
name = "County net"
spoken = "County Net"
primary = "cmd"
schedule = [{ day = "Tuesday", at = "19:00", for = "1 h" }]
rejoin = "listen on CMD 1 at each full hour"

[[net]]
id = "youth"
name = "Youth net"
spoken = "Youth Net"
primary = "cmd"
schedule = [{ day = "daily", at = "19:30", for = "30 min" }]   # nets-meet-at-once
rejoin = "listen on CMD 1 at each full hour"
```
Right: move one of them, or let it meet on another channel then: `on = "tac"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let all: Vec<(&Net, &Meeting, &Channel)> = plan
        .nets
        .iter()
        .flat_map(|net| {
            net.meetings.iter().filter_map(move |meeting| Some((net, meeting, meets_on(plan, net, meeting)?)))
        })
        .collect();
    for (index, (net, meeting, channel)) in all.iter().enumerate() {
        let clashes = |(other, theirs, there): &&(&Net, &Meeting, &Channel)| {
            other.id.value != net.id.value && there.id.value == channel.id.value && meet_at_once(meeting, theirs)
        };
        let Some((other, theirs, _)) = all.iter().take(index).find(clashes) else { continue };
        let what = format!(
            "{} and {} both meet on {}: {} {}, and {} {}",
            other.name.value,
            net.name.value,
            channel.name.value,
            theirs.day.value,
            theirs.at.value,
            meeting.day.value,
            meeting.at.value
        );
        let finding = Finding::new(&RULE, meeting.at.span, what).label("this net is there too");
        let finding = finding.and(theirs.at.span, "this one already is");
        let finding = finding.help("move one of them to another time, or with `on` to another channel");
        found.push(finding.on(subject(*other)).on(subject(*net)));
    }
}
