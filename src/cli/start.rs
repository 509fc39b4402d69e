//! A small plan to start from: invented places and people, to be written over.

use super::disk::{ROOT, cause};
use super::{End, say};
use crate::ground::Failure;
use std::io::Write;
use std::path::Path;

const FILES: [(&str, &str); 4] = [
    (ROOT, include_str!("start_plan/plan.toml")),
    ("channels.toml", include_str!("start_plan/channels.toml")),
    ("places.toml", include_str!("start_plan/places.toml")),
    ("people.csv", include_str!("start_plan/people.csv")),
];

/// Writes the plan into a folder that is new or empty.
pub fn new(folder: &Path) -> Result<End, Failure> {
    let fail = |path: &Path, fault: &std::io::Error| Failure::new(path.display().to_string(), cause(fault));
    std::fs::create_dir_all(folder).map_err(|fault| fail(folder, &fault))?;
    let mut entries = std::fs::read_dir(folder).map_err(|fault| fail(folder, &fault))?;
    if entries.next().is_some() {
        return Err(Failure::new(folder.display().to_string(), "this folder is not empty; name a new one"));
    }
    for (name, text) in FILES {
        let path = folder.join(name);
        let file = std::fs::File::create_new(&path);
        file.and_then(|mut file| file.write_all(text.as_bytes())).map_err(|fault| fail(&path, &fault))?;
    }
    let shown = folder.display();
    say::out(&format!("{shown} holds a small plan. Write your own values over it, then: fieldsheaf check {shown}\n"))?;
    Ok(End::Clean)
}
