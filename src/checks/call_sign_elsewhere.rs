//! A numeral of another region is said, since a mistyped digit looks the same.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Severity};
use crate::plan::subject;
use crate::tables::CallForm;

/// A numeral of another region is said, since a mistyped digit looks the same.
pub(super) const RULE: Rule = Rule {
    severity: Severity::Note,
    ..Rule::warning(
        "call-sign-elsewhere",
        "the rows of the profile; us: call sign regions (second-hand); the numeral no longer proves where somebody lives",
        DOC,
    )
};

const DOC: &str = r"
Finds: a member's call sign whose numeral was given in other states than the plan's `region`. That is no fault: people move and keep their call sign.
Costs: nothing, unless a digit was mistyped.

Right: look once at the licence; nothing to type.
";

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(region) = facts.plan.head.as_ref().and_then(|head| head.region.as_ref()) else { return };
    for member in facts.plan.members.iter() {
        let Some(call) = &member.call else { continue };
        let digit = call.value.digit();
        let Some(row) = facts.profile.call_regions.iter().find(|row| row.digits.contains(digit)) else { continue };
        // A shape that the country does not give is a finding of its own.
        let is_own = facts.profile.call_forms.iter().any(|form: &CallForm| form.fits(&call.value));
        if !is_own || row.regions.iter().any(|known| known == region.as_str()) {
            continue;
        }
        let what = format!("{} has a {digit}, which was given in {}", call.value, row.regions.join(", "));
        found.push(
            Finding::new(&RULE, call.span, what)
                .label("another region")
                .and(region.span, "the plan's region")
                .note(format!("{} ({}); the numeral no longer proves the place", row.cite.source, row.cite.confidence))
                .on(subject(member)),
        );
    }
}
