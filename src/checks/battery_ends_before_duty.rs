//! A battery outlasts the duty, with a fifth in reserve.

use super::Facts;
use crate::ground::{Day, Finding, Findings, Rule, hours_words};
use crate::plan::{Station, subject};
use crate::reckon::{LongestStands, PowerBudget, Stand, Wiring, budgets, is_short, needed};

/// A battery outlasts the duty, with a fifth in reserve.
pub(super) const RULE: Rule = Rule::warning("battery-ends-before-duty", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a station whose battery, by what hangs on it, lasts less than the `hours` of the station or the longest duty at its posts, or leaves less than a fifth of its time in reserve.
Costs: the post falls silent before its relief comes, and nobody knows why.

Wrong:
```toml
[[battery]]
id = "brick"
name = "Brick"
capacity = "9 Ah"
chemistry = "lead-acid"

[[post]]
id = "desk"
name = "Desk"

[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 06:00"
to = "2026-12-05 16:00"

[[station]]
id = "hand-set"
name = "Hand set"
posts = ["desk"]
sending = "25 %"
part = [
  { id = "pack", kind = "battery", battery = "brick" },     # battery-ends-before-duty
  { id = "radio", kind = "radio", from = "pack", fuse = "3 A", idle = "0.06 A", sending = "1.6 A" },
]
```
Right: a larger battery, a second one with the hour of the change, less power, or shorter duties. Of lead-acid a half is reckoned with, of lithium iron phosphate 0.8; cold and age take more.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let Some(on) = plan.edition.as_ref().map(|edition| edition.issued.value) else { return };
    let longest = LongestStands::of(facts.stands());
    for station in plan.stations.iter() {
        let Some((minutes, stand)) = needed(station, &longest) else { continue };
        for budget in budgets(plan, station, &Wiring::of(plan, station)) {
            found.extend(finding(station, &budget, (minutes, stand), on));
        }
    }
}

fn finding(
    station: &Station,
    budget: &PowerBudget<'_>,
    (needed, stand): (i64, Option<Stand<'_>>),
    on: Day,
) -> Option<Finding> {
    let lasts = budget.minutes();
    if lasts.is_some_and(|lasts| !is_short(lasts, needed)) {
        return None;
    }
    let span = budget.part.battery.as_ref()?.span;
    let (who, battery) = (&station.name.value, &budget.battery.name.value);
    let what = match lasts {
        None => format!("{battery} of {who} is used below -20 degrees: nobody can say how long it lasts"),
        Some(lasts) if lasts < needed => {
            format!("{battery} runs {who} for {} of {}", hours_words(lasts), hours_words(needed))
        }
        Some(lasts) => {
            format!(
                "{battery} runs {who} for {}, with less than a fifth in reserve after {}",
                hours_words(lasts),
                hours_words(needed)
            )
        }
    };
    let drawn = budget.average();
    let capacity = budget
        .capacity_for(needed, on)
        .map(|capacity| format!("take a battery of at least {capacity} of its kind, `capacity = \"{capacity}\"`, "));
    let capacity = capacity.unwrap_or_else(|| "take a larger battery, ".to_owned());
    let left = budget.usable.map_or_else(String::new, |usable| format!("{usable} can be used, "));
    let finding = Finding::new(&RULE, span, what)
        .label("ends too soon")
        .note(format!("{left}{drawn} drawn on the average"))
        .help(format!("{capacity}plan the hour of a change, send with less power, or switch something off"))
        .on(subject(station))
        .and(budget.battery.capacity.span, "what it holds");
    Some(match stand {
        Some(stand) => finding.and(stand.duty.from.span, "the longest duty at its posts"),
        None => finding,
    })
}
