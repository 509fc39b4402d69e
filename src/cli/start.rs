//! A small plan to start from: invented places and people, to be written over.

use super::calls::{Calls, Machine};
use super::disk::ROOT;
use super::part::{create, failed};
use super::{CommandEnd, say};
use crate::ground::Failure;
use std::path::Path;

const FILES: [(&str, &str); 4] = [
    (ROOT, include_str!("start_plan/plan.toml")),
    ("channels.toml", include_str!("start_plan/channels.toml")),
    ("places.toml", include_str!("start_plan/places.toml")),
    ("people.csv", include_str!("start_plan/people.csv")),
];

/// Writes the plan into a folder that is new or empty.
pub fn new(folder: &Path) -> Result<CommandEnd, Failure> {
    let fail = |fault: std::io::Error| failed(folder, &fault);
    Machine.make_folder(folder).map_err(fail)?;
    if !Machine.entries(folder, 1).map_err(fail)?.is_empty() {
        return Err(Failure::new(folder.display().to_string(), "this folder is not empty; name a new one"));
    }
    for (name, text) in FILES {
        create(&Machine, &folder.join(name), text.as_bytes(), "name a new folder")?;
    }
    let shown = say::path(folder);
    say::out(&format!("{shown} holds a small plan. Write your own values over it, then: fieldsheaf check {shown}\n"))?;
    Ok(CommandEnd::Clean)
}
