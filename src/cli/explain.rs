//! What a finding means.

use super::{End, say};
use crate::ground::{Failure, Rule, nearest};
use std::fmt::Write;

/// Explains one finding, or lists all.
pub fn explain(name: Option<&str>) -> Result<End, Failure> {
    let rules = crate::rules();
    let Some(name) = name else { return say::out(&list(&rules)).map(|()| End::Clean) };
    let Some(rule) = rules.iter().find(|rule| rule.name == name) else {
        let help = match nearest(name, rules.iter().map(|rule| rule.name)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "`fieldsheaf explain` lists them all".to_owned(),
        };
        return Err(Failure::new(name, format!("no finding is called this; {help}")));
    };
    say::out(&page(rule)).map(|()| End::Clean)
}

fn page(rule: &Rule) -> String {
    let waiver = if rule.waivable { "may be accepted with a reason" } else { "cannot be accepted" };
    format!(
        "{}[{}], since {}; {waiver}\n\n{}\n\nSource: {}\n",
        rule.severity.word(),
        rule.name,
        rule.since,
        rule.doc.trim(),
        rule.source
    )
}

/// A line for each: name, severity, source.
fn list(rules: &[&Rule]) -> String {
    let widest = rules.iter().map(|rule| rule.name.len()).max().unwrap_or(0);
    let mut text = String::new();
    for rule in rules {
        let _ = writeln!(text, "{:widest$}  {:7}  {}", rule.name, rule.severity.word(), rule.source);
    }
    text
}
