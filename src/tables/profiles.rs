//! The country profiles that come with the program: each is read when somebody first asks for it, since most plans need one of them.

use super::each::spread;
use super::profile::Profile;
use super::profile_read::{KnownProfiles, Trust};
use super::{USUAL_PROFILE, texts};
use crate::ground::{FileId, Findings};
use crate::source::{Node, parse_ours};
use std::sync::{Arc, OnceLock};

/// The profiles of the program, that which is usual first, then by their ids.
pub struct Profiles(Vec<BuiltIn>);

/// A profile of the program: its id is the name of its file.
struct BuiltIn {
    id: &'static str,
    text: &'static str,
    file: FileId,
    read: OnceLock<Option<Arc<Profile>>>,
}

impl Profiles {
    /// All of them, none read yet. `number` is that of the first of their files among the program's.
    pub(super) fn unread(number: u32) -> Self {
        let built_in =
            |((id, text), number)| BuiltIn { id, text, file: FileId::of_program(number), read: OnceLock::new() };
        let mut all: Vec<BuiltIn> = texts::profiles().zip(number..).map(built_in).collect();
        // As people read a list: what is usual stands first.
        all.sort_by_key(|profile| (profile.id != USUAL_PROFILE, profile.id));
        Self(all)
    }

    /// Their ids.
    pub fn ids(&self) -> impl Iterator<Item = &'static str> {
        self.0.iter().map(|profile| profile.id)
    }

    /// The profile of this id.
    #[must_use]
    pub fn named(&self, id: &str) -> Option<&Arc<Profile>> {
        self.0.iter().find(|profile| profile.id == id).and_then(|profile| self.read(profile))
    }

    /// All of them.
    pub fn iter(&self) -> impl Iterator<Item = &Arc<Profile>> {
        self.0.iter().filter_map(|profile| self.read(profile))
    }

    /// Reads one that may rest on these, and leaves its rows spread.
    pub(super) fn add(&self, root: &mut Node, trust: Trust, found: &mut Findings) -> Option<Profile> {
        let named = |id: &str| self.named(id).map(|profile| &**profile);
        spread(root, found);
        Profile::read(root, (&KnownProfiles { ids: self.ids().collect(), named: &named }, trust), found)
    }

    /// What is wrong with them is a test's concern, which reads them anew ([`super::Tables::faults`]).
    fn read<'a>(&self, profile: &'a BuiltIn) -> Option<&'a Arc<Profile>> {
        // Dropped behind the profile's being there: a hundred thousand texts, for which nobody waits.
        let mut rows = None;
        let read = || {
            let mut unheard = Findings::default();
            let finish = |part: &mut Node| spread(part, &mut Findings::default());
            let root = rows.insert(parse_ours(profile.file, profile.text, &mut unheard, finish));
            self.add(root, Trust::Held, &mut unheard).map(Arc::new)
        };
        profile.read.get_or_init(read).as_ref()
    }
}

impl<'a> IntoIterator for &'a Profiles {
    type Item = &'a Arc<Profile>;
    type IntoIter = Box<dyn Iterator<Item = &'a Arc<Profile>> + 'a>;

    fn into_iter(self) -> Self::IntoIter {
        Box::new(self.iter())
    }
}

#[cfg(test)]
mod tests {
    use super::super::texts;
    use super::spread;
    use crate::ground::{FileId, Findings};
    use crate::source::{parse, parse_ours};
    use std::collections::BTreeMap;

    /// Rows are spread part by part, and all of them are as if the text were read as a whole.
    #[test]
    fn rows_that_are_spread_part_by_part_are_those_of_the_whole() {
        for (name, text) in texts::profiles() {
            let mut found = Findings::default();
            let mut whole = parse(FileId(0), text, &mut found);
            spread(&mut whole, &mut found);
            let parted = parse_ours(FileId(0), text, &mut found, |part| spread(part, &mut Findings::default()));
            assert!(found.is_empty(), "{name}");
            assert_eq!(format!("{parted:?}"), format!("{whole:?}"), "{name}");
        }
    }

    /// A file's name is its profile's id, and none rests on one that rests on it: who reads the one would wait for the other forever.
    #[test]
    fn each_is_called_as_its_file_and_rests_on_none_that_rests_on_it() {
        let mut bases: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for (name, text) in texts::profiles() {
            let root = parse(FileId(0), text, &mut Findings::default());
            let said = |key: &str| Some(root.get("profile")?.get(key)?.text()?.to_owned());
            assert_eq!(said("id").as_deref(), Some(name));
            bases.insert(name.to_owned(), ["base", "band-plan"].into_iter().filter_map(said).collect());
        }
        assert!(bases.values().any(|bases| !bases.is_empty()));
        for id in bases.keys() {
            let mut beneath = vec![id.as_str()];
            let mut at = 0;
            while let Some(next) = beneath.get(at) {
                let rests_on = bases[*next].iter().map(String::as_str);
                beneath.extend(rests_on.collect::<Vec<_>>());
                at += 1;
                assert!(at <= bases.len(), "{id} rests on itself: {beneath:?}");
            }
            assert!(!beneath.iter().skip(1).any(|below| below == id), "{id} rests on itself: {beneath:?}");
        }
    }
}
