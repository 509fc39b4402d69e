//! An edition given out: built, and entered among those that were issued.

use super::build::{Asked, Built, build};
use super::calls::{Calls, Machine};
use super::disk::DiskWorld;
use super::part::{create, failed, replace};
use super::terminal::Format;
use super::{CommandEnd, located, say, sign};
use crate::Halt;
use crate::Wanted;
use crate::compare::{ReadPlan, read_plan};
use crate::compose::{COVER, CopyNumbers, KINDS};
use crate::ground::{Failure, Files, Findings, World, caps, plural};
use crate::ledger::{Editions, Entry, IssuedPaper, IssuedSet, Manifest, issued_text, place_beside, sha256};
use crate::source::{EDITIONS, ISSUED};
use std::path::Path;

/// Builds the whole kit, then enters the edition; what was issued already with the same content stays as it is.
///
/// # Errors
/// When the plan cannot be read, a file cannot be written, or by a bug.
pub fn issue(plan: &Path, out: &Path, key: Option<&Path>) -> Result<CommandEnd, Halt> {
    let (world, root) = DiskWorld::open(plan)?;
    let read = || read_plan(&world, &root).map_err(|failure| located(plan, &failure));
    let before = read()?;
    let pair = key.map(sign::key_of).transpose()?;
    if let (Some(pair), Some(file)) = (&pair, key) {
        sign::judge_key(&before, pair, file)?;
    }
    let before = before.to_toml();
    let asked = Asked { format: Format::default(), threads: None, proof: None, explain_fit: false };
    let built = build(plan, out, &Wanted { is_issue: true, ..Wanted::default() }, &asked)?;
    let Built { end: CommandEnd::Clean, manifest: Some(manifest) } = built else {
        say::err("nothing was issued\n");
        return Ok(CommandEnd::ErrorFound);
    };
    let told = read()?;
    let text = told.to_toml();
    if text != before {
        let why = "the plan was changed while it was built, so the kit may not be what it says now; issue it again";
        return Err(Failure::new(plan.display().to_string(), why).into());
    }
    let editions = Editions::read(&world, &mut Files::default(), &mut Findings::default())
        .map_err(|failure| located(plan, &failure))?;
    let Some((number, day)) = told.number_and_day() else {
        return Err(Failure::new(root, "this plan has no [edition] that could be issued").into());
    };
    if let Some(before) = editions.of(number) {
        say::out(&format!("edition {number} was issued on {} with the same content\n", before.issued.value))?;
        pair.iter().try_for_each(|pair| sign::sign(out, &manifest, pair))?;
        return Ok(CommandEnd::Clean);
    }
    let (papers, sets) = papers(&manifest, &editions.given(number));
    let folder = if plan.is_dir() { plan } else { plan.parent().unwrap_or(Path::new("")) };
    let beside = beside(&world, &told)?;
    let text = issued_text(&text, &beside);
    write(folder, number, (&text, &beside))?;
    let entered = editions.with((number, day), &sha256(text.as_bytes()), &papers, &sets);
    put(&folder.join(EDITIONS), entered.as_bytes())?;
    say::out(&issued(&told, number, &papers))?;
    pair.iter().try_for_each(|pair| sign::sign(out, &manifest, pair))?;
    Ok(CommandEnd::Clean)
}

/// The papers of a finished kit but for those that print the findings of a run, and its sets of papers.
fn papers(manifest: &Manifest, given: &CopyNumbers) -> (Vec<IssuedPaper>, Vec<IssuedSet>) {
    let is_last = |entry: &&Entry| KINDS.iter().any(|kind| kind.name == entry.kind && kind.is_last());
    let is_cover = |entry: &&Entry| entry.kind == COVER.name;
    let papers = IssuedPaper::all(manifest.files.iter().filter(|entry| !is_last(entry)), given);
    (papers, IssuedSet::all(manifest.files.iter().filter(is_cover), given))
}

/// The plan as it was issued: the coordinator's alone. What a run left that was stopped before it entered the edition is replaced.
fn write(folder: &Path, number: u32, (text, beside): (&str, &[(String, String)])) -> Result<(), Failure> {
    let issued = folder.join(ISSUED);
    Machine.make_folder(&issued).map_err(|fault| failed(&issued, &fault))?;
    for (path, content) in beside {
        let place = folder.join(place_beside(number, path));
        let above = place.parent().unwrap_or(folder);
        Machine.make_folder(above).map_err(|fault| failed(above, &fault))?;
        put(&place, content.as_bytes())?;
    }
    put(&issued.join(format!("{number}.toml")), text.as_bytes())
}

/// The team's own profile and layouts, with what they say.
fn beside(world: &dyn World, plan: &ReadPlan) -> Result<Vec<(String, String)>, Failure> {
    let read = |path: String| {
        let bytes = world.read(&path, caps::PLAN_FILE.most).map_err(|fault| Failure::new(&path, fault.to_string()))?;
        let text = String::from_utf8(bytes).map_err(|_| Failure::new(&path, "this is not text"))?;
        Ok((path, text.replace("\r\n", "\n")))
    };
    plan.own_files().into_iter().map(read).collect()
}

fn put(place: &Path, bytes: &[u8]) -> Result<(), Failure> {
    match Machine.at(place) {
        Ok(_) => replace(&Machine, &[(place.to_owned(), bytes.to_vec())]),
        Err(_) => create(&Machine, place, bytes, "issue again"),
    }
}

fn issued(plan: &ReadPlan, number: u32, papers: &[IssuedPaper]) -> String {
    let mut text = format!("{} edition {number} is issued: {}\n", plan.edition.0, plural(papers.len(), "paper"));
    let wide = papers.iter().map(|paper| paper.file.chars().count()).max().unwrap_or(0);
    for IssuedPaper { file, audience, code, .. } in papers {
        text.push_str(&format!("  {file:wide$}  {code}  {audience}\n"));
    }
    text
}
