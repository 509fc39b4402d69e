//! The profile that a plan names: one of ours, or a file of the team.

use super::profile_read::Trust;
use super::rules::{PROFILE_UNREADABLE, TABLE_NAME_UNKNOWN};
use super::{Profile, Tables};
use crate::ground::caps::PLAN_FILE;
use crate::ground::{At, Files, Finding, Findings, Words, World};
use std::path::Path;
use std::sync::Arc;

/// The profile of this id, or the one in the file of the plan's folder that `name` names: a name ending in `.toml`.
/// None when there is no such profile (which checks report) or its file cannot be used (which is reported here).
pub fn named(name: &At<Words>, world: &dyn World, files: &mut Files, found: &mut Findings) -> Option<Arc<Profile>> {
    let tables = Tables::built_in();
    let text = name.as_str();
    if !is_profile_file(text) {
        return tables.profile(text).cloned();
    }
    let mut refuse = |why: &str| {
        let what = format!("the profile file \"{text}\" {why}");
        found.push(Finding::new(&PROFILE_UNREADABLE, name.span, what).label("cannot be read"));
    };
    let content = match world.read(text, PLAN_FILE.most).map(String::from_utf8) {
        Ok(Ok(content)) => content,
        Ok(Err(_)) => {
            refuse("is not UTF-8 text");
            return None;
        }
        Err(fault) => {
            refuse(&fault.to_string());
            return None;
        }
    };
    if let Some(why) = files.too_much(&content) {
        refuse(&format!("is not read: {why}"));
        return None;
    }
    let file = files.add(text, content.clone());
    let errors_before = found.errors();
    let mut root = crate::source::parse(file, &content, found);
    let profile = tables.profiles.add(&mut root, Trust::Asked, found);
    if profile.is_none() && found.errors() == errors_before {
        let what = format!("the profile file \"{text}\" has no [profile] table");
        found.push(Finding::new(&PROFILE_UNREADABLE, name.span, what).label("is no profile"));
    }
    let profile = profile?;
    if tables.papers.get(&profile.paper).is_none() {
        let what = format!("the profile {} names the paper \"{}\", which no table has", profile.id, profile.paper);
        found.push(Finding::new(&TABLE_NAME_UNKNOWN, profile.cite.span, what).label("this profile"));
        return None;
    }
    Some(Arc::new(profile))
}

/// Whether a profile is named by its file.
#[must_use]
pub fn is_profile_file(name: &str) -> bool {
    Path::new(name).extension().is_some_and(|ending| ending == "toml")
}
