//! Who goes to a place knows what to plug into.

use super::Facts;
use crate::ground::{At, Finding, Findings, Rule, Words};
use crate::plan::{Place, subject};
use crate::reckon::{is_unstaffed, known, posts_at, says_none};

/// Who goes to a place knows what to plug into.
pub(super) const RULE: Rule = Rule::warning("jack-unknown", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a place at which a post stands, without word of its antenna jack or of the connector there, or with words that only say that it is unknown. A jack that is `none` has no connector. Repeater sites are not judged.
Costs: an operator with the wrong plug, and no adapter within an hour. The site sheet says "UNKNOWN" and whom to ask, the re-check sheet asks for it.

Wrong:
```toml
[[place]]
id = "hall"                 # jack-unknown
code = "HAL"
tactical = "River Hall"
kind = "shelter"
visited-on = 2026-10-01
connector = "unknown"

[[post]]
id = "hall-radio"
name = "Hall radio"
place = "hall"
```
Right: look, then write `jack = "Conduit in the closet"` and `connector = "N female"`; `jack = "none"` where one brings an antenna.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter().filter(|place| !is_unstaffed(place) && !says_none(place.jack.as_ref())) {
        let asked = [("antenna jack", "jack", &place.jack), ("connector", "connector", &place.connector)];
        let lacking: Vec<_> = asked.into_iter().filter(|(.., value)| known(value.as_ref()).is_none()).collect();
        if !lacking.is_empty() && posts_at(facts.plan, place).next().is_some() {
            found.push(finding(place, &lacking));
        }
    }
}

fn finding(place: &Place, lacking: &[(&str, &str, &Option<At<Words>>)]) -> Finding {
    let names: Vec<&str> = lacking.iter().map(|(name, ..)| *name).collect();
    let what = format!(
        "a post stands at {}, and its {} {} unknown",
        place.tactical.value,
        names.join(" and "),
        if names.len() == 1 { "is" } else { "are" }
    );
    let finding = Finding::new(&RULE, place.id.span, what).label("nobody knows what fits");
    let said = lacking.iter().filter_map(|(.., value)| value.as_ref());
    let finding = said.fold(finding, |finding, said| finding.and(said.span, "says nothing"));
    let typed = |key: &str| match key {
        "jack" => "`jack = \"Panel R2\"` (`jack = \"none\"` where one brings an antenna)".to_owned(),
        key => format!("`{key} = \"N female\"`"),
    };
    let typed: Vec<String> = lacking.iter().map(|(_, key, _)| typed(key)).collect();
    finding
        .note("the site sheet says \"UNKNOWN\" and whom to ask, and the re-check sheet asks for it")
        .help(format!("look, then write what is there: {}", typed.join(" and ")))
        .on(subject(place))
}
