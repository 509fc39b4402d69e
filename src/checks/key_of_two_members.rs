//! A key by which editions are signed is one member's.

use super::Facts;
use crate::ground::{Finding, Findings, PublicKey, Rule, Subject};
use crate::plan::{Plan, SigningKey};
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

/// A key by which editions are signed is one member's.
pub(super) const RULE: Rule = Rule::warning("key-of-two-members", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: two `[[key]]` records with one public half.
Costs: a signature by that key proves nobody: `verify` cannot say which of them signed the edition, and takes it for unsigned.

Wrong:
```toml
[[member]]
id = "qsb"
name = "Tomas Lind"
confirmed = 2026-10-01

[[key]]
by = "qra"
public = "public-d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a-4f"

[[key]]
by = "qsb"
public = "public-d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a-4f"    # key-of-two-members
```
Right: whoever signs makes a pair of their own with `fieldsheaf key`, and the plan names each once.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let mut known: BTreeMap<PublicKey, &SigningKey> = BTreeMap::new();
    for key in &facts.plan.keys {
        match known.entry(key.public.value) {
            Entry::Occupied(first) => found.push(finding(first.get(), key, facts.plan)),
            Entry::Vacant(first) => drop(first.insert(key)),
        }
    }
}

fn finding(first: &SigningKey, again: &SigningKey, plan: &Plan) -> Finding {
    let name = |key: &SigningKey| {
        plan.members.named(&key.by.value).map_or_else(|| key.by.value.to_string(), |member| member.name.to_string())
    };
    let what = if first.by.value == again.by.value {
        format!("one key stands under {} twice", name(first))
    } else {
        format!("{} and {} have one key to sign by", name(first), name(again))
    };
    let finding =
        Finding::new(&RULE, again.public.span, what).label("the same key").and(first.public.span, "first here");
    finding
        .help("leave the key under whoever keeps its secret half, and make another for the other with `fieldsheaf key`")
        .on(Subject::new("member", &first.by.value))
}
