//! A call sign is one member's.

use super::Facts;
use crate::ground::{At, CallSign, Finding, Findings, Rule};
use crate::plan::{Member, subject};
use std::collections::BTreeMap;

/// A call sign is one member's.
pub(super) const RULE: Rule = Rule::of_format("duplicate-call-sign", DOC);

const DOC: &str = r#"
Finds: two members with the same call sign, an SSID aside. The `call` of a licence of another service may be a family's, and is not compared.
Costs: one of them signs with another's call, and nobody can tell from a log who sent.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2030-04-01
confirmed = 2026-10-01

[[member]]
id = "qsc"
call = "WZ7QSB"             # duplicate-call-sign
name = "Abel Quist"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
```
Right: write each member's own call sign, `call = "WZ7QSC"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut known: BTreeMap<&str, (&Member, &At<CallSign>)> = BTreeMap::new();
    for member in facts.plan.members.iter() {
        let Some(call) = &member.call else { continue };
        let Some((first, own)) = known.get(call.value.base()) else {
            known.insert(call.value.base(), (member, call));
            continue;
        };
        let what = format!("{} and {} have the call sign {}", first.name.value, member.name.value, call.value.base());
        found.push(
            Finding::new(&RULE, call.span, what)
                .label("the same call sign again")
                .and(own.span, "first here")
                .help("write each member's own call sign, or leave `call` out for a helper who has none")
                .on(subject(*first))
                .on(subject(member)),
        );
    }
}
