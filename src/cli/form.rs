//! A form: blank without a plan, or filled in from one.

use super::arguments::FormOptions;
use super::calls::{Calls, Machine};
use super::disk::DiskWorld;
use super::part::{create, replace};
use super::terminal::Format;
use super::{CommandEnd, located, report, say};
use crate::FormAsked;
use crate::FormMade;
use crate::Halt;
use crate::Outcome;
use crate::ground::caps::SERIAL;
use crate::ground::{Failure, World, plural};
use std::fmt::Write;
use std::io::IsTerminal;
use std::path::Path;

/// Makes a form, names all of them, or says how many to bring.
pub fn form(options: &FormOptions) -> Result<CommandEnd, Halt> {
    let Some(name) = options.name.as_ref().filter(|_| !options.list) else { return Ok(list()?) };
    if let Some(last) = options.serial.map(|first| u64::from(first) + u64::from(options.copies.unwrap_or(1)) - 1)
        && !SERIAL.takes(last)
    {
        let copies = options.copies.unwrap_or(1);
        let why = format!("{copies} copies would end at number {last}, and {} is the highest", SERIAL.most);
        return Err(Failure::new("--serial", why).into());
    }
    let (outcome, made) = match &options.plan {
        Some(plan) => of_plan(plan, name, options)?,
        None => {
            let (outcome, made) = without_plan(name, options)?;
            if let (Some(made), Some(pack)) = (&made, &options.pack) {
                return Ok(say::out(&to_bring(pack, options.reserve, made)?).map(|()| CommandEnd::Clean)?);
            }
            (outcome, made.map(|made| made.bytes))
        }
    };
    let is_told = outcome.findings.iter().next().is_some();
    let is_piped = options.out.as_deref() == Some(Path::new("-"));
    // A PDF on standard output has nothing before it.
    let end = match is_told && !(is_piped && made.is_some()) {
        true => report(&outcome, Format::Full)?,
        false => CommandEnd::Clean,
    };
    match (made, &options.out) {
        (Some(bytes), Some(out)) => place(&bytes, out, options.replace).map(|()| end),
        _ => Ok(end),
    }
}

/// A form that comes with the program, or in a file.
fn without_plan(name: &str, options: &FormOptions) -> Result<(Outcome, Option<FormMade>), Halt> {
    let (file, id) = match name.split_once('#') {
        Some((file, id)) => (file, id),
        None => (name, ""),
    };
    let is_file = Path::new(file).extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml"));
    let opened = is_file.then(|| DiskWorld::open(Path::new(file))).transpose()?;
    let asked = FormAsked {
        name: if is_file { id } else { name },
        profile: &options.profile,
        layout: options.layout.as_deref(),
        paper: options.paper.as_deref(),
        copies: options.copies,
        serial: options.serial,
        is_fillable: options.fillable,
    };
    let world = opened.as_ref().map(|(world, root)| {
        let world: &dyn World = world;
        (world, root.as_str())
    });
    crate::blank_form(world, &asked).map_err(|halt| match halt {
        Halt::Failure(failure) if is_file => Halt::Failure(located(Path::new(file), &failure)),
        other => other,
    })
}

/// A form of a plan, or of the program, filled in from it.
fn of_plan(plan: &Path, name: &str, options: &FormOptions) -> Result<(Outcome, Option<Vec<u8>>), Halt> {
    let (world, root) = DiskWorld::open(plan)?;
    let mut order = "[[document]]\nid = \"form\"\nkind = \"form\"\n".to_owned();
    let words = [
        ("form", Some(name)),
        ("audience", Some(options.audience.as_str())),
        ("layout", options.layout.as_deref()),
        ("paper", options.paper.as_deref()),
        ("net", options.net.as_deref()),
    ];
    for (key, word) in words {
        let Some(word) = word else { continue };
        if word.contains(|c: char| c.is_control() || c == '"' || c == '\\') {
            return Err(Failure::new(key, "a name has no quotes, backslashes or controls").into());
        }
        let _ = writeln!(order, "{key} = \"{word}\"");
    }
    let copies = options.copies.map(|copies| ("copies", u64::from(copies)));
    for (key, number) in copies.into_iter().chain(options.serial.map(|serial| ("serial", u64::from(serial)))) {
        let _ = writeln!(order, "{key} = {number}");
    }
    let (outcome, kit) = crate::ordered(&world, &root, (&order, options.holder.as_deref()), options.fillable).map_err(
        |halt| match halt {
            Halt::Failure(failure) if failure.path == root => Halt::Failure(located(plan, &failure)),
            other => other,
        },
    )?;
    let bytes = kit.and_then(|kit| kit.files.into_iter().next()).map(|file| file.bytes);
    Ok((outcome, bytes))
}

/// Writes a PDF; the file appears under its name only when it is whole.
fn place(bytes: &[u8], out: &Path, is_replacing: bool) -> Result<(), Halt> {
    if out == Path::new("-") {
        if std::io::stdout().is_terminal() {
            let why = "a PDF is not for a terminal; send it to a file or a printer";
            return Err(Failure::new("standard output", why).into());
        }
        say::bytes(bytes)?;
    } else if is_replacing && Machine.resolve(out).is_ok() {
        replace(&Machine, &[(out.to_owned(), bytes.to_vec())])?;
    } else {
        create(&Machine, out, bytes, "write --replace to write over it, or name another")?;
    }
    Ok(())
}

/// How many to bring: `10x12` are ten an hour for twelve hours. Common practice, no source.
fn to_bring(pack: &str, reserve: u16, made: &FormMade) -> Result<String, Failure> {
    let parts = pack.split_once(['x', 'X']).and_then(|(rate, hours)| {
        let number = |text: &str| text.trim().parse::<u32>().ok().filter(|number| (1..=10_000).contains(number));
        Some((number(rate)?, number(hours)?))
    });
    let Some((rate, hours)) = parts else {
        return Err(Failure::new(pack, "write how many an hour and how many hours, from 1 to 10000, as 10x12"));
    };
    let whole = u64::from(rate) * u64::from(hours);
    let entries = (whole * (100 + u64::from(reserve))).div_ceil(100);
    let each = |count: usize| u64::try_from(count.max(1)).unwrap_or(1);
    let forms = entries.div_ceil(each(made.rows));
    let sheets = forms.div_ceil(each(made.a_sheet)) * each(made.sheets);
    let count = |number: u64, one: &str| plural(usize::try_from(number).unwrap_or(usize::MAX), one);
    let rows = match made.rows {
        0 | 1 => String::new(),
        rows => format!(" = {}, {rows} rows on each", count(forms, "form")),
    };
    let side = match (made.a_sheet, made.sheets) {
        (0 | 1, 0 | 1) => String::new(),
        (0 | 1, sheets) => format!(", {sheets} sheets each"),
        (a_sheet, 0 | 1) => format!(", {a_sheet} on a sheet"),
        (a_sheet, sheets) => format!(", {a_sheet} on {sheets} sheets"),
    };
    Ok(format!(
        "{rate} an hour x {} x {} reserve = {entries}{rows}{side}: bring {} (common practice, no source)\n",
        count(u64::from(hours), "hour"),
        format_args!("{}.{:02}", 1 + reserve / 100, reserve % 100),
        count(sheets, "sheet"),
    ))
}

/// Names all forms.
fn list() -> Result<CommandEnd, Failure> {
    let mut text = String::new();
    for (id, title) in crate::forms() {
        let _ = writeln!(text, "{id:24} {title}");
    }
    say::out(&text).map(|()| CommandEnd::Clean)
}
