//! Is this what was built, and of which edition?

use super::folder_sink::{JOURNAL, hashes, manifest};
use super::{End, say};
use crate::ground::{Failure, plural, without_controls};
use crate::ledger::{Difference, MANIFEST, verify as differences};
use std::fmt::Write;
use std::path::Path;

/// Compares a folder with its manifest.
pub fn verify(folder: &Path) -> Result<End, Failure> {
    let Some(manifest) = manifest(folder)? else {
        return Err(Failure::new(
            folder.join(MANIFEST).display().to_string(),
            "there is no such file; a build writes it",
        ));
    };
    let present = hashes(folder)?;
    let found = differences(&manifest, &present);
    let mut text = String::new();
    for difference in &found {
        let (word, name) = match difference {
            Difference::Changed(name) => ("changed", name),
            Difference::Missing(name) => ("missing", name),
            Difference::Extra(name) => ("extra", name),
        };
        let _ = writeln!(text, "{word:7}  {name}");
    }
    if present.contains_key(JOURNAL) {
        text.push_str("a build was stopped in this folder; build again to complete it\n");
    }
    let edition = format!("{} edition {}, checked by {}", manifest.plan, manifest.edition, manifest.rule_set);
    let size = plural(manifest.files.len(), "file");
    let _ = match found.len() {
        0 => writeln!(text, "{edition}: {size}, all as written"),
        count => writeln!(text, "{edition}: {size}, {}", plural(count, "difference")),
    };
    let safe: Vec<String> = text.lines().map(without_controls).collect();
    say::out(&format!("{}\n", safe.join("\n")))?;
    Ok(if found.is_empty() { End::Clean } else { End::ErrorFound })
}
