//! Is this what was built, and of which edition?

use super::calls::{Calls, GONE, JOURNAL, Machine, Stands, is_gone};
use super::disk::DiskWorld;
use super::folder::{hashes, is_part, manifest};
use super::issued::Issued;
use super::lock;
use super::lone::verify_lone;
use super::part::failed;
use super::{CommandEnd, located, say, sign};
use crate::compare::{ReadPlan, read_plan};
use crate::ground::{Failure, caps, plural, without_controls};
use crate::ledger::{Difference, MANIFEST, SIGNATURE, Unread, verify as differences};
use std::fmt::Write;
use std::path::Path;
use std::time::Duration;

/// Compares a folder, or one file of it, with its manifest; with the plan it says who signed and what is superseded.
///
/// # Errors
/// When there is no manifest, or something cannot be read.
pub fn verify(what: &Path, plan: Option<&Path>) -> Result<CommandEnd, Failure> {
    let is_folder = Machine.at(what).map_err(|fault| failed(what, &fault))? == Stands::Folder;
    let above = what.parent().filter(|above| !above.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let (folder, only) =
        if is_folder { (what, None) } else { (above, what.file_name().and_then(|name| name.to_str())) };
    let editions = plan.map(Issued::read).transpose()?;
    let plan = plan.map(read).transpose()?;
    let place = folder.join(MANIFEST).display().to_string();
    let _lock = lock::beside_others(&Machine, folder, Duration::from_secs(caps::LOCK_SECONDS.most))?;
    let manifest = match manifest(&Machine, folder)? {
        Some(Ok(manifest)) => manifest,
        Some(Err(Unread::Changed)) => {
            say::out(&format!(
                "changed  {MANIFEST}\nits own hash does not fit, so nothing it says of the files counts; build again\n"
            ))?;
            return Ok(CommandEnd::ErrorFound);
        }
        Some(Err(why @ Unread::Format(_))) => {
            return Err(Failure::new(place, format!("this file {why}; verify with that version, or build again")));
        }
        Some(Err(why)) => return Err(Failure::new(place, format!("this file {why}"))),
        None if only.is_some_and(|only| only.ends_with(".pdf")) => return verify_lone(what, editions.as_ref()),
        None if is_gone() => return Err(Failure::new(place, GONE)),
        None => return Err(Failure::new(place, "there is no such file; a build writes it")),
    };
    let mut present = hashes(&Machine, folder, &manifest)?;
    present.remove(SIGNATURE);
    let was_stopped = present.remove(JOURNAL).is_some();
    let all = present.len();
    present.retain(|name, _| !is_part(name));
    let has_parts = present.len() < all;
    let mut found = differences(&manifest, &present);
    let is_asked = |name: &str| only.is_none_or(|only| only == name);
    found.retain(|difference| is_asked(difference.name()));
    let mut text = String::new();
    if let Some(entry) = only.and_then(|only| manifest.entry(only)) {
        let code = entry.code.as_deref().unwrap_or("none");
        let _ = writeln!(text, "{}: {} for {}, code {code}", entry.name, entry.kind, entry.audience);
        if !entry.parts.is_empty() {
            let _ = writeln!(text, "a set of {}: {}", plural(entry.parts.len(), "paper"), entry.parts.join(", "));
        }
    }
    for difference in &found {
        let word = match difference {
            Difference::Changed(_) => "changed",
            Difference::Missing(_) => "missing",
            Difference::Extra(_) => "extra",
        };
        let _ = writeln!(text, "{word:7}  {}", without_controls(difference.name()));
    }
    if was_stopped {
        text.push_str("a build was stopped in this folder; build again to complete it\n");
    } else if has_parts {
        text.push_str("a build was stopped before it changed anything here; the next one clears what it left\n");
    }
    let is_valid = editions.zip(plan.as_ref()).is_none_or(|(editions, plan)| {
        let (words, is_valid) = editions.tell((&manifest, plan), &is_asked);
        text.push_str(&words);
        is_valid
    });
    let word = if manifest.is_draft { "DRAFT" } else { "edition" };
    let edition = format!("{} {word} {}, checked by {}", manifest.plan, manifest.edition, manifest.rule_set);
    let size = plural(manifest.files.len(), "file");
    let _ = match found.len() {
        0 if was_stopped => writeln!(text, "{edition}: {size}"),
        0 => writeln!(text, "{edition}: {size}, all as written"),
        count => writeln!(text, "{edition}: {size}, {}", plural(count, "difference")),
    };
    let proof = sign::judge(folder, &format!("{} {word} {}", manifest.plan, manifest.edition), plan.as_ref())?;
    text.push_str(&proof.words.map_or_else(String::new, |words| format!("{words}\n")));
    let safe: Vec<String> = text.lines().map(without_controls).collect();
    say::out(&format!("{}\n", safe.join("\n")))?;
    Ok(if found.is_empty() && !was_stopped && proof.holds && is_valid {
        CommandEnd::Clean
    } else {
        CommandEnd::ErrorFound
    })
}

/// The plan that says whose key is whose.
fn read(plan: &Path) -> Result<ReadPlan, Failure> {
    let (world, root) = DiskWorld::open(plan)?;
    read_plan(&world, &root).map_err(|failure| located(plan, &failure))
}
