//! One document for one holder, as an order asks for it.

use super::kind::Kind;
use crate::ground::{At, Audience, Id};
use crate::plan::{Each, Variant};
use std::cmp::Ordering;
use std::sync::Arc;

/// A paper of a set: its document, and whose copy.
pub type PartKey = (Id, Option<Id>);

/// All of an order that its content rests on, beside the plan: nothing else of a [`Task`] reaches what is composed without a holder.
#[derive(Clone)]
pub struct SharedKey {
    /// The document kind.
    pub kind: &'static Kind,
    /// Who may read it.
    pub audience: Audience,
    /// What it is made from beside the view.
    pub beside: Beside,
}

/// What a document is made from beside its view, as its kind wants it.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Beside {
    /// Nothing.
    Nothing,
    /// This form.
    Form {
        /// Its id.
        form: Id,
        /// The net whose values it has.
        net: Option<Id>,
    },
    /// All findings of the run.
    Findings,
    /// All other papers, and the edition issued before.
    Edition,
    /// The papers of this kit.
    Kit(Id),
}

impl SharedKey {
    fn parts(&self) -> (&'static str, &Audience, &Beside) {
        (self.kind.name, &self.audience, &self.beside)
    }
}

impl PartialEq for SharedKey {
    fn eq(&self, other: &Self) -> bool {
        self.parts() == other.parts()
    }
}

impl Eq for SharedKey {}

impl PartialOrd for SharedKey {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for SharedKey {
    fn cmp(&self, other: &Self) -> Ordering {
        self.parts().cmp(&other.parts())
    }
}

/// One document for one holder, ready to be composed on any thread.
#[derive(Clone)]
pub struct Task {
    /// The record that asks for it.
    pub document: Id,
    /// For whom; none for a sheet that is the same for everybody, and for the copies of all in one file.
    pub holder: Option<Id>,
    /// All holders whose copies stand in one file, in this order, with the number of each copy; none where each has a file.
    pub together: Vec<(usize, Id)>,
    /// The number of its copy among those of all holders, from 1; none of a sheet that is nobody's own.
    pub copy: Option<usize>,
    pub(super) shared: SharedKey,
    pub(super) each: Each,
    pub(super) layout: At<String>,
    pub(super) variant: Option<Variant>,
    pub(super) paper: &'static str,
    pub(super) copies: u16,
    /// The number of the first of its numbered copies.
    pub(super) serial: Option<u32>,
    /// The sheets of a set, by what is said of each; none where there is one.
    pub(super) sheets: Vec<String>,
    /// Which of numbered copies it is.
    pub(super) number: Option<u32>,
    /// Which sheet of a set it is.
    pub(super) sheet: Option<String>,
    /// The papers of its set, in order, where it is the cover of one.
    pub(super) parts: Arc<[PartKey]>,
}

impl Task {
    /// Sheets with the same key carry the same read-back code, whatever their layout, paper or holder.
    #[must_use]
    pub const fn shared_key(&self) -> &SharedKey {
        &self.shared
    }

    /// Whether it says no more than what all copies with its key share: nobody's own, of no number, no sheet of a set.
    #[must_use]
    pub const fn is_shared(&self) -> bool {
        self.holder.is_none() && self.together.is_empty() && self.number.is_none() && self.sheet.is_none()
    }

    /// Whether a copy that stands in its file says more than that: whose it is, its number, which sheet of a set.
    #[must_use]
    pub fn has_own_copies(&self) -> bool {
        !self.is_shared() || self.has_numbers()
    }

    /// The layout that it asks for.
    #[must_use]
    pub const fn layout(&self) -> &At<String> {
        &self.layout
    }

    /// For readers or light of a kind.
    #[must_use]
    pub const fn variant(&self) -> Option<Variant> {
        self.variant
    }

    /// Name of its paper in the paper table.
    #[must_use]
    pub const fn paper(&self) -> &'static str {
        self.paper
    }

    /// The copies that stand in its file: itself, or one for each holder, number and sheet of a set.
    #[must_use]
    pub fn copies(&self) -> Vec<Self> {
        if self.together.is_empty() {
            return self.of_numbers();
        }
        self.singles().iter().flat_map(Self::of_numbers).collect()
    }

    /// What holds the copies of all in one file, as one task for each holder.
    pub(super) fn singles(&self) -> Vec<Self> {
        // Cloned whole for each holder, the list of all holders would be made as often as there are holders.
        let Self {
            document,
            holder: _,
            together: _,
            copy: _,
            shared,
            each,
            layout,
            variant,
            paper,
            copies,
            serial,
            sheets,
            number,
            sheet,
            parts,
        } = self;
        let single = |(copy, id): &(usize, Id)| Self {
            document: document.clone(),
            holder: Some(id.clone()),
            together: Vec::new(),
            copy: Some(*copy),
            shared: shared.clone(),
            each: *each,
            layout: layout.clone(),
            variant: *variant,
            paper,
            copies: *copies,
            serial: *serial,
            sheets: sheets.clone(),
            number: *number,
            sheet: sheet.clone(),
            parts: parts.clone(),
        };
        self.together.iter().map(single).collect()
    }

    /// The papers that its set holds, in order; none of what is no cover.
    #[must_use]
    pub fn parts(&self) -> &[PartKey] {
        &self.parts
    }

    /// The kit whose cover it is.
    #[must_use]
    pub const fn kit(&self) -> Option<&Id> {
        match &self.shared.beside {
            Beside::Kit(kit) => Some(kit),
            _ => None,
        }
    }

    /// One for each number, and each sheet of its set; itself where its copies are alike.
    fn of_numbers(&self) -> Vec<Self> {
        if self.serial.is_none() && self.sheets.is_empty() {
            return vec![self.clone()];
        }
        let one = Self { copies: 1, serial: None, sheets: Vec::new(), ..self.clone() };
        let number = |index: u32| self.serial.map(|first| first.saturating_add(index));
        let sheets: Vec<Option<&String>> =
            if self.sheets.is_empty() { vec![None] } else { self.sheets.iter().map(Some).collect() };
        let of_number = |index| sheets.iter().map(move |sheet| (number(index), *sheet));
        let all = (0..u32::from(self.copies)).flat_map(of_number);
        all.map(|(number, sheet)| Self { number, sheet: sheet.cloned(), ..one.clone() }).collect()
    }

    /// Whether no two of its copies are alike.
    #[must_use]
    pub fn has_numbers(&self) -> bool {
        let is_of_messages = self.each == Each::Message && !self.together.is_empty();
        self.serial.is_some() || !self.sheets.is_empty() || is_of_messages
    }

    /// Whether every holder has one copy of one sheet.
    #[must_use]
    pub fn has_one_of_each(&self) -> bool {
        self.copies == 1 && self.serial.is_none() && self.sheets.is_empty()
    }

    /// Leaves those holders out whose copies are not wanted.
    pub fn keep_holders(&mut self, is_wanted: impl Fn(&Id) -> bool) {
        self.together.retain(|(_, id)| is_wanted(id));
    }

    /// Name of the output file without its ending.
    #[must_use]
    pub fn stem(&self) -> String {
        self.stem_of(&self.document)
    }

    /// The same if its document had this id.
    pub(super) fn stem_of(&self, document: &Id) -> String {
        let holder = self.holder.as_ref().map_or_else(String::new, |holder| format!("-{holder}"));
        format!("{document}{holder}")
    }
}
