//! A small plan to start from: invented places and people, to be written over.

use super::calls::{Calls, Machine, read};
use super::disk::{DiskWorld, ROOT};
use super::part::{create, failed};
use super::{CommandEnd, say, terminal};
use crate::ground::Failure;
use crate::plan::{Around, propose};
use crate::source::{FILE_LIMIT, glance};
use chrono::Months;
use std::path::Path;

const FILES: [(&str, &str); 4] = [
    (ROOT, include_str!("start_plan/plan.toml")),
    ("channels.toml", include_str!("start_plan/channels.toml")),
    ("places.toml", include_str!("start_plan/places.toml")),
    ("people.csv", include_str!("start_plan/people.csv")),
];

/// Writes the plan into a folder that is new or empty.
pub fn new(folder: &Path) -> Result<CommandEnd, Failure> {
    make(folder)?;
    for (name, text) in FILES {
        create(&Machine, &folder.join(name), text.as_bytes(), "name a new folder")?;
    }
    let shown = say::path(folder);
    say::out(&format!("{shown} holds a small plan. Write your own values over it, then: fieldsheaf check {shown}\n"))?;
    Ok(CommandEnd::Clean)
}

fn make(folder: &Path) -> Result<(), Failure> {
    let fail = |fault: std::io::Error| failed(folder, &fault);
    Machine.make_folder(folder).map_err(fail)?;
    if !Machine.entries(folder, 1).map_err(fail)?.is_empty() {
        return Err(Failure::new(folder.display().to_string(), "this folder is not empty; name a new one"));
    }
    Ok(())
}

/// Writes a plan around a table that a team has, and says what of it is still open.
pub fn new_from(folder: &Path, table: &Path) -> Result<CommandEnd, Failure> {
    let fail = |why: String| Failure::new(table.display().to_string(), why);
    let bytes = read(&Machine, table, FILE_LIMIT).map_err(|fault| fail(fault.to_string()))?;
    let name = table.file_name().and_then(|name| name.to_str()).filter(|name| !name.contains(char::is_control));
    let file = name.filter(|name| *name != ROOT).ok_or_else(|| fail("give the file another name".to_owned()))?;
    let glances = glance(&bytes).map_err(|why| fail(format!("it cannot be read: {why}")))?;
    let called = folder.file_name().map_or_else(|| "Plan".to_owned(), |name| name.to_string_lossy().into_owned());
    let today = DiskWorld::today_by(&Machine);
    let review = today.checked_add_months(Months::new(6)).unwrap_or(today);
    let proposal = propose(&glances, &Around { name: &called, file, days: [today, review] });
    let proposal =
        proposal.ok_or_else(|| fail("no headings of channels, people or places were found in it".to_owned()))?;
    make(folder)?;
    create(&Machine, &folder.join(ROOT), proposal.text.as_bytes(), "name a new folder")?;
    create(&Machine, &folder.join(file), &bytes, "name a new folder")?;
    let shown = say::path(folder);
    let mut told = format!("{shown} holds a plan around a copy of {file}.\n");
    for line in &proposal.left {
        told += &format!("  {line}\n");
    }
    let (world, root) = DiskWorld::open(folder)?;
    let outcome = crate::check_plan(&world, &root)?;
    told += &format!("It has {}", terminal::count(&outcome.findings));
    told +=
        &format!("Write your team's name and what else is yours into {shown}/{ROOT}, then: fieldsheaf check {shown}\n");
    say::out(&told)?;
    Ok(CommandEnd::Clean)
}
