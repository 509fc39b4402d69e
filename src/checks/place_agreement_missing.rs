//! A place of medical care has said where a radio may transmit.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Place, subject};

/// A place of medical care has said where a radio may transmit.
pub(super) const RULE: Rule = Rule::warning(
    "place-agreement-missing",
    "common practice, no source: medical equipment is kept by the site's clinical engineering, which decides",
    DOC,
);

const DOC: &str = r#"
Finds: a hospital, blood center or clinic without word of where a radio may transmit, of who agreed to it, or of the day.
Costs: a radio beside equipment that keeps somebody alive, and nobody who was asked.

Wrong:
```toml
[[place]]
id = "mercy"                # place-agreement-missing
code = "MRC"
tactical = "Mercy"
kind = "hospital"
visited-on = 2026-10-04
```
Right: ask the site, then write what its staff say: `transmit = { allowed = "roof only", agreed-by = "Clinical engineering", on = 2026-10-04, max = "5 W" }`; `allowed = "nowhere"` where they say no.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter().filter(|place| place.kind.value.is_medical()) {
        let Some((span, lacks, key)) = lacks(place) else { continue };
        let what = format!("{} is a place of medical care, and the plan does not say {lacks}", place.tactical.value);
        found.push(
            Finding::new(&RULE, span, what)
                .label("not agreed as far as the plan says")
                .note("the site's own staff decide; nothing that this program prints stands in for them")
                .help(format!("ask the site, then write what its staff say: {key}"))
                .on(subject(place)),
        );
    }
}

fn lacks(place: &Place) -> Option<(crate::ground::Span, &'static str, &'static str)> {
    let Some(limit) = &place.transmit else {
        let key = "`transmit` with `allowed`, the rooms (\"nowhere\" where they say no), `agreed-by`, who said so, and `on`, the day";
        return Some((place.id.span, "where a radio may transmit there", key));
    };
    match (&limit.agreed_by, &limit.on) {
        _ if limit.is_nowhere() => None,
        (None, _) => Some((limit.allowed.span, "who agreed to transmitting there", "`agreed-by`")),
        (_, None) => Some((limit.allowed.span, "on which day transmitting there was agreed to", "`on`")),
        (Some(_), Some(_)) => None,
    }
}
