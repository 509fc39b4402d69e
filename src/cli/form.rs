//! A blank form without a plan.
#![expect(clippy::disallowed_methods, reason = "writes the file that the user asked for")]

use super::disk::cause;
use super::{End, say};
use crate::Halt;
use crate::ground::{Failure, nearest};
use crate::tables::Tables;
use std::fmt::Write;
use std::path::Path;

/// Writes a form; the file appears under its name only when it is whole.
pub fn write(
    name: &str,
    out: &Path,
    (copies, serial): (u16, Option<u32>),
    (profile, paper): (&str, Option<&str>),
) -> Result<End, Halt> {
    let made = crate::blank_form(profile, name, paper, (copies, serial));
    let bytes = made.ok_or_else(|| unknown(name, profile, paper))??;
    let fail = |fault: std::io::Error| Failure::new(out.display().to_string(), cause(&fault));
    let mut part = out.as_os_str().to_owned();
    part.push(".part");
    std::fs::write(&part, &bytes).map_err(fail)?;
    if let Err(fault) = std::fs::rename(&part, out) {
        // What could not take its place is no output.
        let _ = std::fs::remove_file(&part);
        return Err(fail(fault).into());
    }
    Ok(End::Clean)
}

fn unknown(name: &str, profile: &str, paper: Option<&str>) -> Failure {
    let tables = Tables::built_in();
    if tables.profile(profile).is_none() {
        return Failure::new(profile, "no profile is called this");
    }
    if let Some(paper) = paper.filter(|paper| tables.papers.get(paper).is_none()) {
        return Failure::new(paper, "no table has this paper");
    }
    let forms = crate::forms();
    let help = match nearest(name, forms.iter().map(|(id, _)| id.as_str())) {
        Some(near) => format!("did you mean {near}?"),
        None => "`fieldsheaf form --list` names them all".to_owned(),
    };
    Failure::new(name, format!("no form is called this; {help}"))
}

/// Names all forms.
pub fn list() -> Result<End, Failure> {
    let mut text = String::new();
    for (id, title) in crate::forms() {
        let _ = writeln!(text, "{id:12} {title}");
    }
    say::out(&text).map(|()| End::Clean)
}
