//! What the plan says was done was done before it was issued.

use super::Facts;
use super::evidence::facts as all_facts;
use crate::ground::{At, Day, Finding, Findings, Rule, Span, Subject};
use crate::plan::subject;
use std::collections::BTreeSet;

/// What the plan says was done was done before it was issued.
pub(super) const RULE: Rule = Rule::warning("done-after-issue", "the plan's own dates", DOC);

const DOC: &str = r#"
Finds: a day on which somebody is said to have looked (`verified`, `visited-on`, `confirmed`), a site to have agreed (`on` in `transmit`), a battery to have come into use (`since`) or a renewal to have been applied for (`renewal-filed`), and which comes after the edition's day of issue.
Costs: a wrong year makes an old fact a fresh one, and a renewal that nobody has applied for keeps a licence going on paper.

Wrong:
```toml
[[repeater]]
id = "mill-hill"
call = "WZ7QUM"
output = "147.180 MHz"
input = "+600 kHz"
tone-in = "88.5 Hz"
tone-out = "off"
verified = { on = 2027-10-04, by = "qra" }   # done-after-issue
```
Right: write the day on which it was done.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(edition) = &facts.plan.edition else { return };
    let issued = edition.issued;
    // One day may stand for several numbers.
    let mut said: BTreeSet<Span> = BTreeSet::new();
    for (what, day, on) in done(facts) {
        let days = day.value.days_since(issued.value);
        if days <= 0 || !said.insert(day.span) {
            continue;
        }
        found.push(
            Finding::new(
                &RULE,
                day.span,
                format!("{what} on {}, {days} days after the issue on {}", day.value, issued.value),
            )
            .label("not yet come at the issue")
            .and(issued.span, "day of issue")
            .help("write the day on which it was done; what comes later belongs into an edition issued later")
            .on(on),
        );
    }
}

/// All that is said to have been done, as a sentence begins, and when.
fn done(facts: Facts<'_>) -> Vec<(String, At<Day>, Subject)> {
    let looked = all_facts(facts).into_iter();
    let looked = looked.filter_map(|fact| Some((format!("the {} was checked", fact.what), fact.seen?, fact.on)));
    let places = facts.plan.places.iter();
    let agreed = places.filter_map(|place| {
        let on = place.transmit.as_ref()?.on?;
        Some((format!("{} agreed to transmitting there", place.tactical.value), on, subject(place)))
    });
    let renewals = facts.plan.members.iter().flat_map(|member| {
        let others = member.licences.iter().map(|licence| licence.renewal_filed);
        let filed = std::iter::once(member.renewal_filed).chain(others).flatten();
        filed.map(move |day| (format!("{} applied for a renewal", member.name.value), day, subject(member)))
    });
    let batteries = facts.plan.batteries.iter();
    let used = batteries.filter_map(|of| Some((format!("{} came into use", of.name.value), of.since?, subject(of))));
    looked.chain(agreed).chain(renewals).chain(used).collect()
}
