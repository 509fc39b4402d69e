//! What an exercise asks of a net can be read out while it lasts.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, plural};
use crate::plan::subject;
use crate::reckon::{exercise_period, net_loads};

/// What an exercise asks of a net can be read out while it lasts.
pub(super) const RULE: Rule = Rule::warning("injects-overload-net", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a net whose injects, read out one after the other from the minute in which each is delivered, are not through when the exercise ends. Reckoned with the words a minute of the exercise, 20 where it does not say; calls and waiting come on top.
Costs: the last injects are never sent, and what they were to show stays unknown.

Wrong:
```toml
[[channel]]
id = "a"
row = 2
name = "A"
spoken = "Alpha"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "n"                    # injects-overload-net
name = "The net"
spoken = "The Net"
primary = "a"

[[exercise]]
name = "Long night"
from = "2026-12-05 08:00"
to = "2026-12-05 09:00"
real-emergency = "real emergency, real emergency"
words-a-minute = 1

[[place]]
id = "north-high"
code = "NHS"
tactical = "North High"
kind = "shelter"
visited-on = 2026-09-01

[[inject]]
serial = "7"
at = "2026-12-05 08:58"
deliver-at = "north-high"
to = "Shelter manager"
by = "paper"
net = "n"
text = "Water is rising at the door"
```
Right: deliver it earlier, give some to another net, or shorten the texts.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let Some(exercise) = &plan.exercise else { return };
    let period = exercise_period(plan, exercise);
    let window = period.from.minutes_to(period.to);
    for load in net_loads(plan, exercise).iter().filter(|load| load.over > 0 && window > 0) {
        let (net, minutes) = (load.net, load.seconds.div_ceil(60));
        let what = format!(
            "{} on net {} have {} words, {minutes} min of reading at {} words a minute, and are through {} min after the exercise ends",
            plural(load.injects.len(), "inject"),
            net.name.value,
            load.words,
            exercise.pace(),
            load.over.div_ceil(60),
        );
        let finding = Finding::new(&RULE, net.id.span, what).label("is asked for too much");
        let finding = finding.and(exercise.to.span, format!("the exercise lasts {window} min"));
        found.push(
            finding.help("deliver some earlier, give some to another net, or shorten the texts").on(subject(net)),
        );
    }
}
