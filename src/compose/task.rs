//! One document for one holder, as an order asks for it.

use super::kind::Kind;
use crate::ground::{At, Audience, Id};
use crate::plan::{Each, Variant};
use std::cmp::Ordering;

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
    Form(Id),
    /// All findings of the run.
    Findings,
    /// All other papers, and the edition issued before.
    Edition,
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
    /// All holders whose copies stand in one file, in this order; none where each has a file.
    pub together: Vec<Id>,
    /// The number of its copy among those of all holders, from 1; none of a sheet that is nobody's own.
    pub copy: Option<usize>,
    pub(super) shared: SharedKey,
    pub(super) each: Each,
    pub(super) layout: At<String>,
    pub(super) variant: Option<Variant>,
    pub(super) paper: &'static str,
    pub(super) copies: u16,
}

impl Task {
    /// Sheets with the same key carry the same read-back code, whatever their layout, paper or holder.
    #[must_use]
    pub const fn shared_key(&self) -> &SharedKey {
        &self.shared
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

    /// The copies that stand in its file: itself, or one for each holder.
    #[must_use]
    pub fn copies(&self) -> Vec<Self> {
        let of_holder = |(number, id): (usize, &Id)| Self {
            holder: Some(id.clone()),
            copy: Some(number),
            together: Vec::new(),
            ..self.clone()
        };
        if self.together.is_empty() { vec![self.clone()] } else { (1..).zip(&self.together).map(of_holder).collect() }
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
