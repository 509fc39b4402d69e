//! A function at a place is not called by a member's name.

use super::Facts;
use super::spoken::{has_all_words, has_words, words};
use crate::ground::{Finding, Findings, Rule, Span};
use crate::plan::{Member, Plan, subject};
use std::collections::BTreeMap;

/// A function at a place is not called by a member's name.
pub(super) const RULE: Rule = Rule::warning("site-role-names-member", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a `contact` of a place whose `role` has the name of a member in it, in any order, or a member's call sign.
Costs: a function is printed for all who may read its number, and with it a name that the member's own row may hide.

Wrong:
```toml
[[place]]
id = "alder"
code = "ALD"
tactical = "Alder General"
kind = "other"
visited-on = 2026-10-01
contact = [{ role = "Duty desk (Ines Varga)", phone = "+1 406 555 0150", audience = "team", confirmed = 2026-10-01 }]   # site-role-names-member
```
Right: name the function alone, `role = "Duty desk"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let begun = by_first_words(facts.plan);
    for place in facts.plan.places.iter() {
        for contact in &place.contacts {
            let role = &contact.role;
            let of_words = words(role.as_str()).into_iter().filter_map(|word| begun.get(&word)).flatten();
            let members: BTreeMap<_, _> = of_words.map(|member| (&member.id.value, *member)).collect();
            for member in members.into_values() {
                let Some((part, span)) = named(role.as_str(), member) else { continue };
                let (tactical, name) = (&place.tactical.value, &member.name.value);
                let what = format!("the function \"{}\" at {tactical} has the {part} of the member {name}", role.value);
                found.push(
                    Finding::new(&RULE, role.span, what)
                        .label("a person under a public function")
                        .and(span, "the member")
                        .help("name the function alone, as \"Duty desk\"")
                        .on(subject(place))
                        .on(subject(member)),
                );
            }
        }
    }
}

/// Members by the first word of their name and of their call sign: a function has to have one of them.
fn by_first_words(plan: &Plan) -> BTreeMap<String, Vec<&Member>> {
    let mut begun: BTreeMap<String, Vec<&Member>> = BTreeMap::new();
    for member in plan.members.iter() {
        let call = member.call.as_ref().map(|call| call.value.to_string());
        let texts = [Some(member.name.to_string()), call];
        for first in texts.into_iter().flatten().filter_map(|text| words(&text).into_iter().next()) {
            begun.entry(first).or_default().push(member);
        }
    }
    begun
}

/// What of a member a function's name has in it, and where the member's record says it.
fn named(role: &str, member: &Member) -> Option<(&'static str, Span)> {
    if has_all_words(role, member.name.as_str()) {
        return Some(("name", member.name.span));
    }
    let call = member.call.as_ref()?;
    has_words(role, &call.value.to_string()).then_some(("call sign", call.span))
}
