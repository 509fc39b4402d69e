//! A region is one that there is.

use super::Facts;
use crate::ground::{At, Finding, Findings, Rule, Words};
use crate::plan::subject;
use crate::tables::{is_country, region_called, regions_of};

/// A region is one that there is.
pub(super) const RULE: Rule = Rule::error("region-unknown", "ISO 3166-2 (from memory)", DOC);

const DOC: &str = r#"
Finds: a `region` of the plan or of a place that is no code of ISO 3166-2, such as a name, and in the United States, Canada and Germany one that no state has. A country's two letters suffice where the profile binds nothing to states.
Costs: limits and bans that are bound to a state are not found: the program takes the place for one elsewhere.

Wrong:
```toml
[[place]]
id = "mesa"
code = "MSA"
tactical = "Mesa"
kind = "other"
visited-on = 2026-10-04
region = "New Mexico"       # region-unknown
```
Right: `region = "US-NM"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let own = facts.plan.head.as_ref().and_then(|head| head.region.as_ref());
    found_unknown(facts, own, "the plan", found, |finding| finding);
    for place in facts.plan.places.iter() {
        let tactical = place.tactical.value.to_string();
        found_unknown(facts, place.region.as_ref(), &tactical, found, |finding| finding.on(subject(place)));
    }
}

fn found_unknown(
    facts: Facts<'_>,
    region: Option<&At<Words>>,
    whose: &str,
    found: &mut Findings,
    on: impl Fn(Finding) -> Finding,
) {
    let Some(region) = region else { return };
    let code = region.as_str();
    // Under a profile of states two letters are a slip: MT is Montana, and Malta.
    if is_country(code) && !facts.profile.binds_states() {
        return;
    }
    let country = code.split_once('-').filter(|_| is_code(code)).map(|(country, _)| country);
    let known: Vec<&str> = country.into_iter().flat_map(regions_of).map(|(code, _)| code).collect();
    if country.is_some() && (known.is_empty() || known.contains(&code)) {
        return;
    }
    let finding =
        Finding::new(&RULE, region.span, format!("the region of {whose} is \"{code}\", which no state or province is"));
    let finding = finding.label("no region");
    let meant = region_called(code).or_else(|| {
        regions_of(code.get(..2)?.to_uppercase().as_str())
            .map(|(known, _)| known)
            .find(|known| known.eq_ignore_ascii_case(code))
    });
    found.push(on(match (meant, country) {
        // The letters of its call signs and of the internet, not those of the standard.
        (_, None) if code == "UK" && !facts.profile.binds_states() => finding.did_you_mean("GB"),
        (Some(meant), None) => finding.did_you_mean(meant),
        (_, Some(country)) => {
            let all = known.join(", ");
            finding.note(format!("the regions of {country} are {all}")).help("write one of these")
        }
        (None, None) => finding.help("write the country and the state by ISO 3166-2, as \"US-MT\""),
    }));
}

/// Whether a text has the shape of a code: `US-MT`, `FR-75C`.
fn is_code(text: &str) -> bool {
    let Some((country, part)) = text.split_once('-') else { return false };
    let is_part = |c: u8| c.is_ascii_uppercase() || c.is_ascii_digit();
    country.len() == 2
        && country.bytes().all(|c| c.is_ascii_uppercase())
        && (1..=3).contains(&part.len())
        && part.bytes().all(is_part)
}
