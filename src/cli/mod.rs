//! Arguments, terminal, disk, clock and exit code.

mod allot;
mod arguments;
mod build;
mod bulletin;
mod calls;
mod compare;
mod compare_files;
mod disk;
mod excerpt;
mod exchange;
mod explain;
mod folder;
mod folder_sink;
mod form;
mod guard;
mod issue;
mod issued;
mod key;
pub mod kit;
mod lock;
mod lone;
mod part;
mod progress;
mod reference;
mod say;
mod sign;
mod start;
mod successor;
pub mod terminal;
mod verify;

pub use calls::{Calls, JOURNAL, Machine, Opened, Stands};
pub use disk::DiskWorld;
pub use folder::{Journal, StandingFolder};
pub use folder_sink::FolderSink;

use crate::Halt;
use crate::ground::Failure;
use arguments::{Arguments, Command};
use clap::Parser;
use std::path::Path;
use std::process::ExitCode;

/// How a command ended, when it could run.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum CommandEnd {
    /// No error: exit code 0.
    Clean,
    /// An error was found: exit code 1.
    ErrorFound,
}

/// Runs one command line. Exit code 0: no error; 1: an error was found; 2: it could not run; 3: a bug in the program.
pub fn run(arguments: std::env::ArgsOs) -> ExitCode {
    guard::guarded(|| match Arguments::try_parse_from(arguments) {
        Ok(arguments) => match obey(arguments.command) {
            Ok(CommandEnd::Clean) => 0,
            Ok(CommandEnd::ErrorFound) => 1,
            Err(Halt::Failure(failure)) => {
                say::err(&format!("error: {}\n", crate::ground::without_controls(&failure.to_string())));
                2
            }
            Err(Halt::Bug(bug)) => {
                say::err(&format!("error: {}\n", crate::ground::without_controls(&bug.to_string())));
                3
            }
        },
        Err(usage) => usage_exit(&usage),
    })
    .into()
}

/// Help and version go to standard output and are no fault; the rest is the caller's.
fn usage_exit(usage: &clap::Error) -> u8 {
    // A closed pipe is success.
    let _ = usage.print();
    if usage.use_stderr() { 2 } else { 0 }
}

fn obey(command: Command) -> Result<CommandEnd, Halt> {
    Ok(match command {
        Command::New { folder, from: None } => start::new(&folder)?,
        Command::New { folder, from: Some(table) } => start::new_from(&folder, &table)?,
        Command::Check { plan, format, plan_only } => check(&plan, format, plan_only)?,
        Command::Build { plan, out, only, holder, audience, proof, dpi, explain_fit, format, threads } => {
            let wanted = build::wanted(only, holder, audience.as_deref())?;
            let asked = build::Asked { format, threads, proof: proof.map(|folder| (folder, dpi)), explain_fit };
            build::build(&plan, &out, &wanted, &asked)?.end
        }
        Command::Allot { plan, write } => allot::allot(&plan, write)?,
        Command::Form(options) => form::form(&options)?,
        Command::Explain { name, markdown } => explain::explain(name.as_deref(), markdown)?,
        Command::Schema => say::out(&format!("{:#}\n", crate::plan::schema())).map(|()| CommandEnd::Clean)?,
        Command::Compare { old, new, json } => compare::compare(&old, &new, json)?,
        Command::Issue { plan, out, sign } => issue::issue(&plan, &out, sign.as_deref())?,
        Command::Key { folder } => key::key(&folder)?,
        Command::Bulletin { plan, text, channels, audience } => bulletin::bulletin(
            &plan,
            audience.as_deref(),
            bulletin::Passed { is_text: text || channels, is_channels: channels },
        )?,
        Command::Verify { folder, plan, bulletin } => match (folder, bulletin) {
            (_, Some(file)) => bulletin::verify(&file, plan.as_deref())?,
            (Some(folder), None) => verify::verify(&folder, plan.as_deref())?,
            (None, None) => return Err(Failure::new("verify", "name a folder, or --bulletin FILE").into()),
        },
    })
}

fn check(plan: &Path, format: terminal::Format, plan_only: bool) -> Result<CommandEnd, Halt> {
    let (world, root) = DiskWorld::open(plan)?;
    // On a thread of those that go on with it: what one of them gives back, the same takes again.
    let outcome = rayon::scope(|_| match plan_only {
        true => crate::check_plan(&world, &root).map_err(Halt::Failure),
        false => crate::check(&world, &root),
    });
    let outcome = outcome.map_err(|halt| match halt {
        Halt::Failure(failure) => Halt::Failure(located(plan, &failure)),
        bug @ Halt::Bug(_) => bug,
    })?;
    Ok(report(&outcome, format)?)
}

/// A failure inside the plan's folder, with the folder as the user named it.
fn located(plan: &Path, failure: &Failure) -> Failure {
    let path = if plan.is_dir() { plan.join(&failure.path) } else { plan.with_file_name(&failure.path) };
    Failure::new(path.display().to_string(), failure.cause.clone())
}

/// Findings are what was asked for: they go to standard output, the last of them nearest to the prompt. Notes are said before.
fn report(outcome: &crate::Outcome, format: terminal::Format) -> Result<CommandEnd, Failure> {
    let (files, found) = (&outcome.files, &outcome.findings);
    if format != terminal::Format::Json {
        for note in &outcome.notes {
            say::err(&format!("note: {}\n", crate::ground::without_controls(note)));
        }
    }
    let answering = outcome.answering.as_ref().filter(|_| format == terminal::Format::Long);
    let text = match format {
        terminal::Format::Full | terminal::Format::Long => terminal::full(files, found, answering, say::has_colours()),
        terminal::Format::Short => terminal::short(files, found),
        terminal::Format::Json => terminal::json(files, found),
    };
    say::bytes(text.as_bytes())?;
    Ok(if found.errors() > 0 { CommandEnd::ErrorFound } else { CommandEnd::Clean })
}
