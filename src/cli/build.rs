//! A plan into a folder of documents.

use super::calls::{Calls, Machine};
use super::disk::DiskWorld;
use super::kit::Scope;
use super::terminal::Format;
use super::{End, kit, located, report, say};
use crate::Halt;
use crate::Wanted;
use crate::compose;
use crate::ground::{Audience, Failure, nearest, plural};
use crate::ledger::Kit;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::path::{Component, Path, PathBuf};
use std::time::Duration;

/// What the options ask for.
///
/// # Errors
/// When a kind or an audience does not exist.
pub fn wanted(kind: Option<String>, holder: Option<String>, audience: Option<&str>) -> Result<Wanted, Failure> {
    if let Some(name) = &kind
        && !compose::KINDS.iter().any(|kind| kind.name == name)
    {
        let near = nearest(name, compose::KINDS.iter().map(|kind| kind.name));
        let help = near.map_or_else(String::new, |near| format!("; did you mean {near}?"));
        return Err(Failure::new(name.as_str(), format!("no document kind is called this{help}")));
    }
    let audience = audience.map(|word| {
        Audience::parse(word).map_err(|refusal| Failure::new(word, format!("this is no audience: {}", refusal.what)))
    });
    Ok(Wanted { kind, holder, audience: audience.transpose()? })
}

/// How a build is to go about it.
pub struct Asked {
    /// How findings are written.
    pub format: Format,
    /// How many threads work; all when none is said.
    pub threads: Option<u16>,
    /// A folder for proofs, and their dots an inch.
    pub proof: Option<(PathBuf, u16)>,
    /// Whether to say how full each panel is.
    pub explain_fit: bool,
}

/// Checks, makes and writes; says what was found and what was written.
pub fn build(plan: &Path, out: &Path, wanted: &Wanted, asked: &Asked) -> Result<End, Halt> {
    let (world, root) = DiskWorld::open(plan)?;
    if let Some((folder, _)) = asked.proof.as_ref().filter(|(folder, _)| is_one_in_the_other(folder, out)) {
        let why = "proofs need a folder of their own, beside that of --out: each of the two holds nothing else";
        return Err(Failure::new(folder.display().to_string(), why).into());
    }
    let pool = rayon::ThreadPoolBuilder::new().num_threads(asked.threads.map_or(0, usize::from)).build();
    let pool = pool.map_err(|fault| Failure::new("threads", fault.to_string()))?;
    let bar = Bar::new();
    let result = pool.install(|| crate::build(&world, &root, wanted, &|done, all| bar.show(done, all)));
    bar.0.finish_and_clear();
    let (outcome, kit) = result.map_err(|halt| match halt {
        Halt::Failure(failure) if failure.path == root => Halt::Failure(located(plan, &failure)),
        other => other,
    })?;
    let end = report(&outcome, asked.format)?;
    let Some(kit) = kit else {
        say::err("nothing was written: mend the errors first\n");
        return Ok(end);
    };
    let proofs = match &asked.proof {
        Some((folder, dpi)) => {
            let proofs = pool.install(|| crate::ledger::proofs(&kit, &outcome.findings, *dpi)).map_err(Halt::Bug)?;
            Some((folder, proofs))
        }
        None => None,
    };
    let is_part = wanted.kind.is_some() || wanted.holder.is_some() || wanted.audience.is_some();
    kit::write(&Machine, &kit, out, if is_part { Scope::Part } else { Scope::Whole })?;
    if asked.explain_fit && asked.format == Format::Json {
        say::err(&fits(&kit));
    } else if asked.explain_fit {
        say::out(&fits(&kit))?;
    }
    if let Some((folder, proofs)) = proofs {
        kit::write(&Machine, &proofs, folder, Scope::Whole)?;
        say::err(&format!(
            "{}: {}, proof.html shows them\n",
            say::path(folder),
            plural(proofs.files.len() - 1, "picture")
        ));
    }
    let files = plural(kit.files.len(), "document");
    say::err(&format!("{}: {files}, {} edition {}\n", say::path(out), kit.plan, kit.edition));
    Ok(end)
}

/// Whether two paths are one folder, or one stands in the other, made already or not.
fn is_one_in_the_other(one: &Path, other: &Path) -> bool {
    let (Some(one), Some(other)) = (whole(one), whole(other)) else { return false };
    one.starts_with(&other) || other.starts_with(&one)
}

/// A path without links: of what is not there yet, the folder above counts that is.
fn whole(path: &Path) -> Option<PathBuf> {
    let path = std::path::absolute(path).ok()?;
    let mut whole = PathBuf::new();
    for part in path.components() {
        match part {
            Component::ParentDir => drop(whole.pop()),
            part => whole.push(part),
        }
        whole = Machine.resolve(&whole).unwrap_or(whole);
    }
    Some(whole)
}

/// How full each panel of a kit is, fullest last: that one has the least room for a longer text.
fn fits(kit: &Kit) -> String {
    let mut lines = Vec::new();
    for file in &kit.files {
        for (number, panel) in file.placements.iter().enumerate() {
            let Some(part) = panel.per_cent() else { continue };
            let (used, room) = panel.fill;
            let words = format!("{part:>3} %  {used} of {room}  {}  {}, {}\n", file.name, number + 1, panel.name());
            lines.push((part, words));
        }
    }
    lines.sort_by_key(|(part, _)| *part);
    lines.into_iter().map(|(_, words)| words).collect()
}

/// A bar that shows itself when a build lasts longer than a second, on a terminal alone.
struct Bar(ProgressBar);

impl Bar {
    fn new() -> Self {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr());
        let style = ProgressStyle::with_template("{bar:30} {pos} of {len} documents");
        Self(style.map_or_else(|_| bar.clone(), |style| bar.clone().with_style(style)))
    }

    fn show(&self, done: usize, all: usize) {
        if self.0.elapsed() > Duration::from_secs(1) {
            self.0.set_length(u64::try_from(all).unwrap_or(0));
            self.0.set_position(u64::try_from(done).unwrap_or(0));
        }
    }
}
