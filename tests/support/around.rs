//! A plan without fault around an example: what the example does not say itself is said there.

use super::shelf::Shelf;
use fieldsheaf::ground::Findings;

const HEAD: &str = r#"
[plan]
title = "Example plan"
short = "EXAMPLE"
team = "Example team"
profile = "us"
invented = true
time-zone = "America/Denver"
"#;

const EDITION: &str = r#"
[edition]
number = 7
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "qra"
approved-by = "qra"
"#;

const REPEATER: &str = r#"
[[repeater]]
id = "cold-ridge"
call = "WZ7QUR"
output = "146.940 MHz"
input = "-600 kHz"
tone-in = "103.5 Hz"
tone-out = "off"
verified = { on = 2026-10-04, by = "qra" }
"#;

const MEMBER: &str = r#"
[[member]]
id = "qra"
call = "WZ7QRA"
name = "Ines Varga"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
"#;

/// The example as a plan: what it does not say itself is said by a plan without fault.
pub fn plan_around(example: &str) -> Shelf {
    let has = |mark: &str| example.lines().any(|line| line.starts_with(mark));
    let mut base = "include = [\"example.toml\"]\n".to_owned();
    if !has("[plan]") {
        base.push_str(HEAD);
    }
    if !has("[edition]") && !has("[[edition]]") {
        base.push_str(EDITION);
    }
    // Another country has other bands and classes: such an example brings its own people.
    let is_abroad = example.contains("profile = \"region-1\"") || example.contains("profile = \"de\"");
    if !is_abroad {
        let has_own = has("[[repeater]]") && example.contains("id = \"cold-ridge\"");
        base.push_str(if has_own { "" } else { REPEATER });
        base.push_str(MEMBER);
    }
    Shelf::new().with("plan.toml", base).with("example.toml", example)
}

pub fn findings(world: &Shelf) -> (fieldsheaf::ground::Files, Findings) {
    let outcome = fieldsheaf::check(world, "plan.toml").unwrap();
    (outcome.files, outcome.findings)
}

/// The example of a rule's page.
pub fn example(doc: &str) -> Option<&str> {
    let (_, rest) = doc.split_once("```toml\n")?;
    Some(rest.split_once("```").unwrap().0)
}

/// A file of the repository.
#[expect(clippy::disallowed_methods, reason = "a test reads its fixtures")]
pub fn text(path: &std::path::Path) -> String {
    std::fs::read_to_string(path).unwrap()
}
