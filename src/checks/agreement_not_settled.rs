//! Whether somebody's licence may be used by others is settled by its service.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::subject;

/// Whether somebody's licence may be used by others is settled by its service.
pub(super) const RULE: Rule =
    Rule::warning("agreement-not-settled", "the rows of the profile; us: 47 CFR 95.1705 (from memory)", DOC);

const DOC: &str = r#"
Finds: an agreement to use somebody's license in a service of which the profile does not know whether others than the licensee's own may: GMRS in `us`. Cards and checks take it as given.
Costs: the card says that one may send, and the rules may say that one may not.

Wrong:
```toml
[[agreement]]
id = "club"
with = "Ridge GMRS Club"
service = "gmrs"            # agreement-not-settled
signed = 2026-01-10
expires = 2028-01-10
```
Right: write each member's own `licence` of the service; or accept it with `[[accept]]` once somebody who knows has said that it holds.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for agreement in facts.plan.agreements.iter() {
        let service = &agreement.service;
        let Some(doubt) = &service.lending else { continue };
        let what = format!(
            "the agreement with {} lets others use a {} license, and it is not settled that they may",
            agreement.with.value, service.name
        );
        let finding = Finding::new(&RULE, service.span, what).label("is taken as given").note(doubt.clone());
        let help = format!(
            "write each member's own `licence = [{{ service = \"{}\", call = ..., expires = ... }}]`, or accept this with who says that it holds",
            service.value
        );
        found.push(finding.help(help).on(subject(agreement)));
    }
}
