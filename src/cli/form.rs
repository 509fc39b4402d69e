//! A blank form without a plan.

use super::calls::{Calls, Machine};
use super::part::{create, replace};
use super::{CommandEnd, say};
use crate::Halt;
use crate::ground::caps::SERIAL;
use crate::ground::{Failure, nearest};
use crate::tables::Tables;
use std::fmt::Write;
use std::io::IsTerminal;
use std::path::Path;

/// Where a form goes.
pub struct Target<'a> {
    /// A file, or `-` for standard output.
    pub out: &'a Path,
    /// Whether a file that is there is written over.
    pub is_replacing: bool,
}

/// Writes a form; the file appears under its name only when it is whole.
pub fn write(
    name: &str,
    &Target { out, is_replacing }: &Target<'_>,
    (copies, serial): (u16, Option<u32>),
    (profile, paper): (&str, Option<&str>),
) -> Result<CommandEnd, Halt> {
    if let Some(last) = serial.map(|first| u64::from(first) + u64::from(copies.saturating_sub(1)))
        && !SERIAL.takes(last)
    {
        let why = format!("{copies} copies would end at number {last}, and {} is the highest", SERIAL.most);
        return Err(Failure::new("--serial", why).into());
    }
    let made = crate::blank_form(profile, name, paper, (copies, serial));
    let bytes = made.ok_or_else(|| unknown(name, profile, paper))??;
    if out == Path::new("-") {
        if std::io::stdout().is_terminal() {
            let why = "a PDF is not for a terminal; send it to a file or a printer";
            return Err(Failure::new("standard output", why).into());
        }
        say::bytes(&bytes)?;
    } else if is_replacing && Machine.resolve(out).is_ok() {
        replace(&Machine, &[(out.to_owned(), bytes)])?;
    } else {
        create(&Machine, out, &bytes, "write --replace to write over it, or name another")?;
    }
    Ok(CommandEnd::Clean)
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
pub fn list() -> Result<CommandEnd, Failure> {
    let mut text = String::new();
    for (id, title) in crate::forms() {
        let _ = writeln!(text, "{id:12} {title}");
    }
    say::out(&text).map(|()| CommandEnd::Clean)
}
