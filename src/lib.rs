//! fieldsheaf: a team's frequency plan in, validated paper out.
//!
//! Floors, from the ground up; a floor imports only those above it in this list.

pub mod audience;
pub mod checks;
pub mod cli;
pub mod compose;
pub mod edition;
pub mod ground;
pub mod impose;
pub mod ledger;
pub mod paint;
pub mod plan;
pub mod reckon;
pub mod source;
pub mod tables;
pub mod typeset;

use ground::{Failure, Files, Findings, Rule, World};

/// What a run found, with the files that the findings point into.
#[derive(Debug, Default)]
pub struct Outcome {
    /// The plan's files.
    pub files: Files,
    /// All findings, in file order.
    pub findings: Findings,
}

/// Reads and checks a plan from its root file.
///
/// # Errors
/// When the root file cannot be read: there is nothing to check.
pub fn check(world: &dyn World, root: &str) -> Result<Outcome, Failure> {
    let mut found = Findings::default();
    let mut records = source::read(world, root, &mut found)?;
    let plan = plan::build(world, &mut records, &mut found);
    if let Some(checked) = checks::run(plan, &records.files, &mut found) {
        compose::tasks(&checked, &mut found);
    }
    found.sort(&records.files);
    Ok(Outcome { files: records.files, findings: found })
}

/// Every rule of every floor, sorted by name.
#[must_use]
pub fn rules() -> Vec<&'static Rule> {
    let mut rules: Vec<&'static Rule> = [source::RULES, tables::RULES, plan::RULES, compose::RULES].concat();
    rules.extend(checks::rules());
    rules.sort_by_key(|rule| rule.name);
    rules
}
