//! A plan into a folder of documents.

use super::calls::{Calls, Machine};
use super::disk::DiskWorld;
use super::kit::Scope;
use super::progress::Progress;
use super::terminal::Format;
use super::{CommandEnd, FolderSink, kit, located, report, say};
use crate::Halt;
use crate::Taking;
use crate::Wanted;
use crate::compose;
use crate::ground::{Audience, Failure, Sink, nearest, plural};
use crate::ledger::{Entry, KitFile, Manifest};
use crate::sheet::Placement;
use std::path::{Component, Path, PathBuf};

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
    Ok(Wanted { kind, holder, audience: audience.transpose()?, ..Wanted::default() })
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

/// How a build ended.
pub struct Built {
    /// Whether an error was found.
    pub end: CommandEnd,
    /// The manifest of what was written; none where nothing was.
    pub manifest: Option<Manifest>,
}

/// Checks, makes and writes; says what was found and what was written.
pub fn build(plan: &Path, out: &Path, wanted: &Wanted, asked: &Asked) -> Result<Built, Halt> {
    let (world, root) = DiskWorld::open(plan)?;
    if let Some((folder, _)) = asked.proof.as_ref().filter(|(folder, _)| is_one_in_the_other(folder, out)) {
        let why = "proofs need a folder of their own, beside that of --out: each of the two holds nothing else";
        return Err(Failure::new(folder.display().to_string(), why).into());
    }
    let pool = rayon::ThreadPoolBuilder::new().num_threads(asked.threads.map_or(0, usize::from)).build();
    let pool = pool.map_err(|fault| Failure::new("threads", fault.to_string()))?;
    let line = Progress::new();
    let sink = FolderSink::new(&Machine, out);
    let take = |file: KitFile| Staged::of(file, &sink, asked);
    let progress = |done, all| line.show(done, all);
    // What is shown panel by panel is made of whole files.
    let growing = (asked.proof.is_none() && !asked.explain_fit).then_some(&sink as &dyn Sink);
    let taking = Taking { progress: &progress, growing, take: &take };
    let result = pool.install(|| crate::build_each(&world, &root, wanted, taking));
    line.end();
    let (outcome, kit) = result.map_err(|halt| match halt {
        Halt::Failure(failure) if failure.path == root => Halt::Failure(located(plan, &failure)),
        other => other,
    })?;
    let end = report(&outcome, asked.format)?;
    let Some(kit) = kit else {
        say::err("nothing was written: mend the errors first\n");
        return Ok(Built { end, manifest: None });
    };
    let (mut entries, mut fits, mut whole) = (Vec::new(), Vec::new(), Vec::new());
    let about = kit.with(Vec::<Entry>::new());
    for file in kit.files {
        let file = file?;
        entries.push(file.entry);
        fits.extend(file.fits);
        whole.extend(file.whole.map(|file| *file));
    }
    let files = plural(entries.len(), "document");
    let proofs = match &asked.proof {
        Some((folder, dpi)) => {
            let whole = about.with(whole);
            let proofs = pool.install(|| crate::ledger::proofs(&whole, &outcome.findings, *dpi)).map_err(Halt::Bug)?;
            Some((folder, proofs))
        }
        None => None,
    };
    let is_part = wanted.kind.is_some() || wanted.holder.is_some() || wanted.audience.is_some();
    let manifest = Manifest::listing(about.with(entries));
    let manifest = kit::finish(sink, manifest, if is_part { Scope::Part } else { Scope::Whole })?;
    let fits = in_lines(fits);
    if asked.explain_fit && asked.format == Format::Json {
        say::err(&fits);
    } else if asked.explain_fit {
        say::out(&fits)?;
    }
    if let Some((folder, proofs)) = proofs {
        kit::write(&Machine, &proofs, folder, Scope::Whole)?;
        say::err(&format!(
            "{}: {}, proof.html shows them\n",
            say::path(folder),
            plural(proofs.files.len() - 1, "picture")
        ));
    }
    let word = if about.is_draft { "DRAFT" } else { "edition" };
    say::err(&format!("{}: {files}, {} {word} {}\n", say::path(out), about.plan, about.edition));
    Ok(Built { end, manifest: Some(manifest) })
}

/// What is kept of a file that waits in its folder for the others.
struct Staged {
    entry: Entry,
    /// How full each panel is, in parts of a hundred and in words, where that is asked.
    fits: Vec<(i64, String)>,
    /// All of it, where pictures are to be made.
    whole: Option<Box<KitFile>>,
}

impl Staged {
    fn of(file: KitFile, sink: &dyn Sink, asked: &Asked) -> Result<Self, Failure> {
        if file.written.is_none() {
            sink.put(&file.name, &file.bytes)?;
        }
        let fits = if asked.explain_fit { panels(&file) } else { Vec::new() };
        Ok(Self { entry: Entry::of(&file), fits, whole: asked.proof.is_some().then(|| Box::new(file)) })
    }
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

/// How full each panel of a file is.
fn panels(file: &KitFile) -> Vec<(i64, String)> {
    let line = |(number, panel): (usize, &Placement)| {
        let part = panel.per_cent()?;
        let (used, room) = panel.fill;
        Some((part, format!("{part:>3} %  {used} of {room}  {}  {}, {}\n", file.name, number + 1, panel.name())))
    };
    file.placements.iter().enumerate().filter_map(line).collect()
}

/// How full each panel of a kit is, fullest last: that one has the least room for a longer text.
fn in_lines(mut panels: Vec<(i64, String)>) -> String {
    panels.sort_by_key(|(part, _)| *part);
    panels.into_iter().map(|(_, words)| words).collect()
}
