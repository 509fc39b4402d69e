//! What is another in a plan than in an older one, and which papers are to be replaced.

use super::compare_files::{attached, finished, folder_changes, line_changes, lines_json, lines_text, unlike};
use super::disk::DiskWorld;
use super::terminal::Format;
use super::{CommandEnd, located, report, say};
use crate::Halt;
use crate::compare::{Comparison, KitChange, ReadPlan, compare as compared, read_plan};
use crate::edition::PaperChange;
use crate::ground::{Failure, plural};
use crate::ledger::IssuedWorld;
use crate::plan::{Change, Danger};
use crate::source::ISSUED;
use serde_json::json;
use std::fmt::Write;
use std::path::{Path, PathBuf};

/// Compares two plans, each a folder or its root file.
///
/// # Errors
/// When one of them cannot be read, or by a bug.
pub fn compare(old: &Path, new: &Path, is_json: bool) -> Result<CommandEnd, Halt> {
    if let Some(done) = of_files(old, new, is_json)? {
        return Ok(done);
    }
    // A number is an edition of the plan that stands beside it.
    let of_plan = |path: &Path, plan: &Path| edition_of(path, plan).unwrap_or_else(|| path.to_owned());
    let (old_path, new_path) = (of_plan(old, new), of_plan(new, old));
    let (old, new) = rayon::join(|| read(&old_path), || read(&new_path));
    let [old, new] = [old?, new?];
    let comparison = compared(&old, &new)?;
    if is_json {
        say::out(&format!("{:#}\n", json_of([&old, &new], &comparison)))?;
    } else {
        for plan in [&old, &new].into_iter().filter(|plan| plan.outcome.findings.errors() > 0) {
            let count = plural(plan.outcome.findings.errors(), "error");
            say::err(&format!(
                "{} has {count}: its papers are not compared, and what was refused is told as written\n",
                edition(plan)
            ));
        }
        say::out(&text_of([&old, &new], &comparison))?;
    }
    Ok(CommandEnd::Clean)
}

/// Compares finished folders or texts of documents; none where both are plans.
fn of_files(old: &Path, new: &Path, is_json: bool) -> Result<Option<CommandEnd>, Halt> {
    match (finished(old)?, finished(new)?) {
        (None, None) => {}
        (Some(was), Some(is)) => {
            let papers = folder_changes(&was, &is);
            if is_json {
                let papers: Vec<_> = papers.iter().map(paper_json).collect();
                say::out(&format!(
                    "{:#}\n",
                    json!({ "format": 1, "old": was.edition, "new": is.edition, "papers": papers })
                ))?;
            } else {
                let head = format!("{} edition {} -> {} edition {}\n", was.plan, was.edition, is.plan, is.edition);
                say::out(&(head + &papers_text(&papers)))?;
            }
            return Ok(Some(CommandEnd::Clean));
        }
        _ => return Err(unlike(old, new).into()),
    }
    match (attached(old)?, attached(new)?) {
        (None, None) => Ok(None),
        (Some(was), Some(is)) => {
            let lines = line_changes(&was, &is);
            say::out(&if is_json { format!("{:#}\n", lines_json(&lines)) } else { lines_text(&lines) })?;
            Ok(Some(CommandEnd::Clean))
        }
        _ => Err(unlike(old, new).into()),
    }
}

/// Where the plan of an edition stands that is named by its number, beside a plan.
fn edition_of(path: &Path, plan: &Path) -> Option<PathBuf> {
    let number: u32 = path.to_str()?.parse().ok().filter(|_| !path.exists())?;
    let folder = if plan.is_dir() { plan } else { plan.parent()? };
    Some(folder.join(IssuedWorld::root(number)))
}

fn read(path: &Path) -> Result<ReadPlan, Failure> {
    let plan = match issued(path) {
        Some((folder, number)) => {
            let (world, _) = DiskWorld::open(folder)?;
            let world = IssuedWorld::new(&world, number);
            read_plan(&world, &IssuedWorld::root(number)).map_err(|failure| located(folder, &failure))?
        }
        None => {
            let (world, root) = DiskWorld::open(path)?;
            read_plan(&world, &root).map_err(|failure| located(path, &failure))?
        }
    };
    if plan.edition.0.is_empty() && plan.outcome.findings.errors() > 0 {
        report(&plan.outcome, Format::Short)?;
    }
    Ok(plan)
}

/// The plan's folder and the number, where a path is that of a plan as it was issued.
fn issued(path: &Path) -> Option<(&Path, u32)> {
    let above = path.parent().filter(|above| above.file_name().is_some_and(|name| name == ISSUED))?;
    let number = path.file_name()?.to_str()?.strip_suffix(".toml")?.parse().ok()?;
    let folder = above.parent()?;
    Some((if folder.as_os_str().is_empty() { Path::new(".") } else { folder }, number))
}

fn edition(plan: &ReadPlan) -> String {
    let (short, number) = &plan.edition;
    let number = number.map_or_else(|| "without a number".to_owned(), |number| number.to_string());
    format!("{short} edition {number}")
}

fn text_of(plans: [&ReadPlan; 2], comparison: &Comparison) -> String {
    let mut text = format!("{} -> {}\n", edition(plans[0]), edition(plans[1]));
    for danger in Danger::ALL {
        let of: Vec<&Change> = comparison.changes.iter().filter(|change| change.danger == danger).collect();
        if of.is_empty() {
            continue;
        }
        // Writing to a string cannot fail.
        let _ = writeln!(text, "\n{}", danger.words());
        let wide = of.iter().map(|change| subject(change).chars().count()).max().unwrap_or(0);
        for change in of {
            let line = format!("  {:wide$}  {}", subject(change), what(change));
            let _ = writeln!(text, "{}", line.trim_end());
        }
    }
    if comparison.changes.is_empty() {
        text.push_str("\nnothing is another\n");
    }
    match &comparison.papers {
        Some(papers) => {
            text.push_str(&papers_text(papers));
            text.push_str(&kits_text(&comparison.kits));
        }
        None => text.push_str("\npapers: not compared\n"),
    }
    text
}

fn subject(change: &Change) -> String {
    let Change { kind, id, called, .. } = change;
    match id {
        Some(id) if id == kind => kind.clone(),
        Some(id) if id == called => format!("{kind}/{id}"),
        Some(id) => format!("{kind}/{id} ({called})"),
        None if change.key.is_some() => format!("{kind} {called}"),
        None => kind.clone(),
    }
}

fn what(change: &Change) -> String {
    let key = change.key.as_ref().map_or_else(String::new, |key| format!("{key}: "));
    match (&change.old, &change.new) {
        (Some(old), Some(new)) => format!("{key}{old} -> {new}"),
        (Some(old), None) if change.key.is_some() => format!("{key}{old} -> not said"),
        (None, Some(new)) if change.key.is_some() => format!("{key}not said -> {new}"),
        // The heading says that it came or went; without an id, only what it says tells it from others.
        (old, new) if change.id.is_none() => old.clone().or_else(|| new.clone()).unwrap_or_default(),
        _ => String::new(),
    }
}

fn papers_text(papers: &[PaperChange]) -> String {
    let (changed, valid): (Vec<&PaperChange>, Vec<&PaperChange>) = papers.iter().partition(|paper| paper.is_changed);
    let mut text = String::new();
    let wide = papers.iter().map(|paper| paper.document.chars().count()).max().unwrap_or(0);
    text.push_str(if changed.is_empty() { "\nto replace: nothing\n" } else { "\nto replace:\n" });
    for paper in changed {
        let code = match (&paper.old, &paper.new) {
            (Some(old), Some(new)) if old == new => format!("{old} (the same for all; copies of their own differ)"),
            (Some(old), Some(new)) => format!("{old} -> {new}"),
            (Some(old), None) => format!("{old} -> no more: take it back"),
            (None, new) => format!("new: {}", new.clone().unwrap_or_default()),
        };
        let who = if paper.holders.is_empty() { String::new() } else { format!("  for {}", paper.holders.join(", ")) };
        let _ = writeln!(text, "  {:wide$}  {code}{who}", paper.document);
    }
    if !valid.is_empty() {
        text.push_str("still valid:\n");
    }
    for paper in valid {
        // The code that stands on the paper which stays.
        let _ = writeln!(text, "  {:wide$}  {}", paper.document, paper.old.clone().unwrap_or_default());
    }
    text
}

fn kits_text(kits: &[KitChange]) -> String {
    let (changed, same): (Vec<&KitChange>, Vec<&KitChange>) = kits.iter().partition(|kit| kit.is_changed);
    let mut text = String::new();
    text.push_str(if changed.is_empty() { "" } else { "sets to put together anew:\n" });
    for KitChange { kit, holders, .. } in changed {
        let who = if holders.is_empty() { String::new() } else { format!("  for {}", holders.join(", ")) };
        let _ = writeln!(text, "  {kit}{who}");
    }
    for kit in same {
        let _ = writeln!(text, "sets of {} stay valid", kit.kit);
    }
    text
}

fn kit_json(KitChange { kit, holders, is_changed }: &KitChange) -> serde_json::Value {
    json!({ "kit": kit, "holders": holders, "changed": is_changed })
}

fn paper_json(paper: &PaperChange) -> serde_json::Value {
    let PaperChange { document, old, new, holders, is_changed } = paper;
    json!({ "document": document, "old": old, "new": new, "holders": holders, "changed": is_changed })
}

fn json_of(plans: [&ReadPlan; 2], comparison: &Comparison) -> serde_json::Value {
    let side = |plan: &ReadPlan| json!({ "plan": plan.edition.0, "edition": plan.edition.1, "errors": plan.outcome.findings.errors() });
    let change = |change: &Change| {
        let Change { danger, kind, id, called, key, old, new } = change;
        json!({ "danger": danger.word(), "kind": kind, "id": id, "called": called, "key": key, "old": old, "new": new })
    };
    json!({
        "format": 1,
        "old": side(plans[0]),
        "new": side(plans[1]),
        "changes": comparison.changes.iter().map(change).collect::<Vec<_>>(),
        "kits": comparison.kits.iter().map(kit_json).collect::<Vec<_>>(),
        "papers": comparison.papers.as_ref().map(|papers| papers.iter().map(paper_json).collect::<Vec<_>>()),
    })
}
