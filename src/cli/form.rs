//! A form: blank without a plan, or filled in from one.

use super::arguments::FormOptions;
use super::calls::{Calls, Machine};
use super::disk::DiskWorld;
use super::part::{create, replace};
use super::terminal::Format;
use super::{CommandEnd, located, report, say};
use crate::AskedDocument;
use crate::FormAsked;
use crate::FormFiles;
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
    // What no plan says is told; what a plan says of itself, `check` does.
    let is_told = outcome.findings.iter().next().is_some() || (options.plan.is_none() && !outcome.notes.is_empty());
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

/// A file that the command names, opened: its folder, and its name there.
type Opened = (DiskWorld<'static>, String);

/// The same with the path under which the command names it.
type AtPath<'a> = (&'a Path, Opened);

fn opened(path: &Path) -> Result<Opened, Failure> {
    DiskWorld::open(path)
}

fn of_world((world, root): &Opened) -> (&dyn World, &str) {
    (world, root.as_str())
}

/// What a form is called, and the file in which it stands where it is none of the program's: `FILE.toml#ID`.
fn named(name: &str) -> Result<(Option<AtPath<'_>>, &str), Failure> {
    let (file, id) = name.split_once('#').unwrap_or((name, ""));
    let is_file = Path::new(file).extension().is_some_and(|ending| ending.eq_ignore_ascii_case("toml"));
    if !is_file {
        return Ok((None, name));
    }
    Ok((Some((Path::new(file), opened(Path::new(file))?)), id))
}

/// A failure at a file of those that the command names, by the path under which it names it.
fn at_path(halt: Halt, paths: &[(&Path, &Opened)]) -> Halt {
    match halt {
        Halt::Failure(failure) => {
            let of = paths.iter().find(|(_, (_, root))| *root == failure.path);
            Halt::Failure(of.map_or_else(|| failure.clone(), |(path, _)| located(path, &failure)))
        }
        other => other,
    }
}

/// A form that comes with the program, or in a file.
fn without_plan(name: &str, options: &FormOptions) -> Result<(Outcome, Option<FormMade>), Halt> {
    let (file, name) = named(name)?;
    let messages = options.from.as_deref().map(|path| Ok::<_, Failure>((path, opened(path)?))).transpose()?;
    let asked = FormAsked {
        name,
        profile: &options.profile,
        layout: options.layout.as_deref(),
        paper: options.paper.as_deref(),
        copies: options.copies,
        serial: options.serial,
        is_fillable: options.fillable,
    };
    let paths: Vec<(&Path, &Opened)> = file.iter().chain(&messages).map(|(path, opened)| (*path, opened)).collect();
    let files = FormFiles {
        form: file.as_ref().map(|(_, opened)| of_world(opened)),
        messages: messages.as_ref().map(|(_, opened)| of_world(opened)),
    };
    crate::blank_form(files, &asked).map_err(|halt| at_path(halt, &paths))
}

/// A form of a plan, of the program or in a file, filled in from a plan.
fn of_plan(plan: &Path, name: &str, options: &FormOptions) -> Result<(Outcome, Option<Vec<u8>>), Halt> {
    let opened_plan = opened(plan)?;
    let (file, name) = named(name)?;
    let messages = options.from.as_deref().map(|path| Ok::<_, Failure>((path, opened(path)?))).transpose()?;
    let beside = file.iter().chain(&messages).map(|(path, opened)| (*path, opened));
    let paths: Vec<(&Path, &Opened)> = beside.chain([(plan, &opened_plan)]).collect();
    let id = match &file {
        Some((_, opened)) => {
            crate::form_id(of_world(opened), name).map_err(|failure| at_path(failure.into(), &paths))?
        }
        None => name.to_owned(),
    };
    let mut order = "[[document]]\nid = \"form\"\nkind = \"form\"\n".to_owned();
    if messages.is_some() {
        order.push_str("each = \"message\"\ntogether = true\n");
    }
    let readers = if messages.is_some() { "leads" } else { "public" };
    let words = [
        ("form", Some(id.as_str())),
        ("audience", Some(options.audience.as_deref().unwrap_or(readers))),
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
    let files = FormFiles {
        form: file.as_ref().map(|(_, opened)| of_world(opened)),
        messages: messages.as_ref().map(|(_, opened)| of_world(opened)),
    };
    let asked = AskedDocument { text: &order, holder: options.holder.as_deref(), files, is_fillable: options.fillable };
    let (world, root) = of_world(&opened_plan);
    let (outcome, kit) = crate::ordered(world, root, &asked).map_err(|halt| at_path(halt, &paths))?;
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
