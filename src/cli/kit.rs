//! A kit into its folder.

use super::calls::Calls;
use super::folder::StandingFolder;
use super::folder_sink::FolderSink;
use crate::ground::{Failure, Sink};
use crate::ledger::{Kit, Manifest};
use std::path::Path;

/// How much of an edition a kit is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Scope {
    /// All of it: what stood in the folder is replaced.
    Whole,
    /// Some documents: the others of the same edition stay.
    Part,
}

/// Writes a kit that is held in memory into a folder: all of it, or nothing and the folder as it was.
///
/// # Errors
/// When the folder cannot be written, holds a file that this program did not write, or an edition that this one may not replace.
pub fn write(calls: &dyn Calls, kit: &Kit, folder: &Path, scope: Scope) -> Result<(), Failure> {
    let sink = FolderSink::new(calls, folder);
    kit.files.iter().try_for_each(|file| sink.put(&file.name, &file.bytes))?;
    finish(sink, Manifest::of(kit), scope).map(drop)
}

/// Gives all files of a kit that a sink has taken their places, and gives the manifest as it stands there.
///
/// # Errors
/// As [`write()`].
pub fn finish(sink: FolderSink<'_>, manifest: Manifest, scope: Scope) -> Result<Manifest, Failure> {
    sink.finish(|standing| Succession { standing, scope }.manifest(manifest))
}

/// Whether an edition may follow upon what stands in a folder.
struct Succession<'a> {
    standing: &'a StandingFolder<'a>,
    scope: Scope,
}

impl Succession<'_> {
    /// The manifest of the folder after this kit: with the files that stay, where the kit is a part.
    fn manifest(&self, mut new: Manifest) -> Result<Manifest, Failure> {
        let Some(old) = &self.standing.manifest else { return Ok(new) };
        let (held, other) = (format!("edition {} of {}", old.edition, old.plan), self.other_folder());
        if let Some(why) = another_plan(old, &new) {
            return self.refused(format!("this folder holds {held}, {why}; write {other}"));
        }
        if new.edition < old.edition {
            let next = old.edition.saturating_add(1);
            return self.refused(format!(
                "this folder holds {held}, and this is edition {}; write `number = {next}` in [edition], or {other}",
                new.edition
            ));
        }
        if self.scope == Scope::Whole {
            return Ok(new);
        }
        let all = format!("build without --only, --for and --audience, or write {other}");
        if new.edition > old.edition {
            let edition = new.edition;
            return self
                .refused(format!("this folder holds {held}; a part of edition {edition} may not mix with it: {all}"));
        }
        if new.rule_set != old.rule_set {
            let (ours, theirs) = (&new.rule_set, &old.rule_set);
            return self.refused(format!("this folder was checked by {theirs}, and this build by {ours}: {all}"));
        }
        let stays = old.files.iter().filter(|entry| new.entry(&entry.name).is_none());
        let stays: Vec<_> = stays.cloned().collect();
        if let Some(entry) = stays.iter().find(|entry| !self.standing.whole.contains(&entry.name)) {
            return self.refused(format!("{} of {held} does not stand here as it was written: {all}", entry.name));
        }
        new.files.extend(stays);
        new.files.sort_by(|a, b| a.name.cmp(&b.name));
        Ok(new)
    }

    fn other_folder(&self) -> String {
        format!("`--out {}-new`", self.standing.folder.display().to_string().trim_end_matches('/'))
    }

    fn refused<T>(&self, why: String) -> Result<T, Failure> {
        Err(Failure::new(self.standing.folder.display().to_string(), why))
    }
}

/// Why two manifests are of two plans: short names are few, and two counties may have one.
fn another_plan(old: &Manifest, new: &Manifest) -> Option<String> {
    if old.plan != new.plan {
        return Some(format!("another plan than {}", new.plan));
    }
    let words = [("title", &old.title, &new.title), ("team", &old.team, &new.team)];
    let (key, theirs, ours) = words.into_iter().find(|(_, theirs, ours)| theirs != ours)?;
    Some(format!("whose {key} is \"{theirs}\", and this plan's is \"{ours}\""))
}
