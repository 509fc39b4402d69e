//! What is another in a plan than in an older one, and which papers are to be replaced.

use super::disk::DiskWorld;
use super::terminal::Format;
use super::{CommandEnd, located, report, say};
use crate::Halt;
use crate::compare::{Comparison, ReadPlan, compare as compared, read_plan};
use crate::edition::PaperChange;
use crate::ground::{Failure, plural};
use crate::ledger::IssuedWorld;
use crate::plan::{Change, Danger};
use crate::source::ISSUED;
use serde_json::json;
use std::fmt::Write;
use std::path::Path;

/// Compares two plans, each a folder or its root file.
///
/// # Errors
/// When one of them cannot be read, or by a bug.
pub fn compare(old: &Path, new: &Path, is_json: bool) -> Result<CommandEnd, Halt> {
    let [old, new] = [read(old)?, read(new)?];
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
        Some(papers) => text.push_str(&papers_text(papers)),
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
        let _ = writeln!(text, "  {:wide$}  {}", paper.document, paper.new.clone().unwrap_or_default());
    }
    text
}

fn json_of(plans: [&ReadPlan; 2], comparison: &Comparison) -> serde_json::Value {
    let side = |plan: &ReadPlan| json!({ "plan": plan.edition.0, "edition": plan.edition.1, "errors": plan.outcome.findings.errors() });
    let change = |change: &Change| {
        let Change { danger, kind, id, called, key, old, new } = change;
        json!({ "danger": danger.word(), "kind": kind, "id": id, "called": called, "key": key, "old": old, "new": new })
    };
    let paper = |paper: &PaperChange| {
        let PaperChange { document, old, new, holders, is_changed } = paper;
        json!({ "document": document, "old": old, "new": new, "holders": holders, "changed": is_changed })
    };
    json!({
        "format": 1,
        "old": side(plans[0]),
        "new": side(plans[1]),
        "changes": comparison.changes.iter().map(change).collect::<Vec<_>>(),
        "papers": comparison.papers.as_ref().map(|papers| papers.iter().map(paper).collect::<Vec<_>>()),
    })
}
