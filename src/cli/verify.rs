//! Is this what was built, and of which edition?

use super::calls::Machine;
use super::disk::DiskWorld;
use super::folder::{hashes, is_passing, manifest};
use super::lock;
use super::{CommandEnd, located, say, sign};
use crate::compare::{ReadPlan, read_plan};
use crate::ground::{Failure, caps, plural, without_controls};
use crate::ledger::{Difference, MANIFEST, SIGNATURE, Unread, verify as differences};
use std::fmt::Write;
use std::path::Path;
use std::time::Duration;

/// Compares a folder with its manifest.
pub fn verify(folder: &Path, plan: Option<&Path>) -> Result<CommandEnd, Failure> {
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
        None => return Err(Failure::new(place, "there is no such file; a build writes it")),
    };
    let mut present = hashes(&Machine, folder, &manifest)?;
    present.remove(SIGNATURE);
    let all = present.len();
    present.retain(|name, _| !is_passing(name));
    let was_stopped = present.len() < all;
    let found = differences(&manifest, &present);
    let mut text = String::new();
    for difference in &found {
        let (word, name) = match difference {
            Difference::Changed(name) => ("changed", name),
            Difference::Missing(name) => ("missing", name),
            Difference::Extra(name) => ("extra", name),
        };
        let _ = writeln!(text, "{word:7}  {}", without_controls(name));
    }
    if was_stopped {
        text.push_str("a build was stopped in this folder; build again to complete it\n");
    }
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
    Ok(if found.is_empty() && !was_stopped && proof.holds { CommandEnd::Clean } else { CommandEnd::ErrorFound })
}

/// The plan that says whose key is whose.
fn read(plan: &Path) -> Result<ReadPlan, Failure> {
    let (world, root) = DiskWorld::open(plan)?;
    read_plan(&world, &root).map_err(|failure| located(plan, &failure))
}
