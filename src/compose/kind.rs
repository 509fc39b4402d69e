//! What a document kind declares of itself: a name, for whom, its sections and tables, and how it is composed.

use super::block::{Block, Cell, Column, Row, Section, Table, Text};
use super::form_values::FilledFrom;
use super::since::Since;
use crate::audience::View;
use crate::ground::{Audience, Files, Findings, Id, Rule};
use crate::plan::{Each, Exercise, Form, Plan};
use crate::tables::Profile;
use std::collections::BTreeSet;

/// A document kind.
pub struct Kind {
    /// As plans write it: `channel-card`.
    pub name: &'static str,
    /// As printed in a title: `Channel card`.
    pub title: &'static str,
    /// What it is, in a line of README.
    pub about: &'static str,
    /// The layout that it takes when the plan names none.
    pub layout: &'static str,
    /// For whom it can be made; the first when the plan does not say.
    pub each: &'static [Each],
    /// The widest readers that it can be made for: what it speaks of is closed to others.
    pub widest: Audience,
    /// Keys of the sections that it may have: a layout orders them by these.
    pub sections: &'static [&'static str],
    /// The tables that it may have: a layout may set them otherwise.
    pub tables: &'static [&'static TableKind],
    /// How its sections are composed, and what from beside the view.
    pub compose: Compose,
}

/// How sections are composed, and what from beside the view.
#[derive(Clone, Copy)]
pub enum Compose {
    /// From the view alone.
    View(fn(&View<'_>) -> Vec<Section>),
    /// The same, made for each place only where there is something to say.
    Where(fn(&View<'_>) -> Vec<Section>, WantedAt),
    /// From a form, which the order names, and what that is filled with.
    Form(fn(&View<'_>, &Form, FilledFrom<'_>) -> Vec<Section>),
    /// From the exercise of the plan: head and foot of its sheets say so, with the words of a real emergency, and a border stands around them.
    Exercise(fn(&View<'_>, &Exercise) -> Vec<Section>),
    /// From all findings of the run, so that it is composed last and for the coordinator alone.
    Findings(fn(&View<'_>, &Frozen<'_>) -> Vec<Section>),
    /// From what the edition is beside the one issued before it, so that it is composed when all other papers are.
    Edition(fn(&View<'_>, &Since) -> Vec<Section>),
    /// From the other papers of a set: those of the kit that is named, or all that its holder may have.
    Set(fn(&View<'_>, &Since, Option<&Id>) -> Vec<Section>),
}

/// At which places a sheet has something to say, and what is true of the others.
#[derive(Clone, Copy)]
pub struct WantedAt {
    /// The places, by id.
    pub at: fn(&Plan, &Profile) -> BTreeSet<Id>,
    /// Why the others have none.
    pub others: &'static str,
}

impl Kind {
    /// Whether it tells of the run or of the other papers: then it is composed when they are, and is none of the papers of an edition.
    #[must_use]
    pub const fn is_last(&self) -> bool {
        matches!(self.compose, Compose::Findings(_) | Compose::Edition(_) | Compose::Set(_))
    }

    /// Whether it tells of all other papers, so that these are composed for it.
    #[must_use]
    pub const fn is_of_edition(&self) -> bool {
        matches!(self.compose, Compose::Edition(_) | Compose::Set(_))
    }
}

/// All findings of a run once no more can come.
pub struct Frozen<'a> {
    /// The findings, sorted.
    pub findings: &'a Findings,
    /// The files that they point into.
    pub files: &'a Files,
    /// Every rule that was looked for, on every floor.
    pub rules: &'a [&'static Rule],
    /// Rules for which the profile has no rows, so that nobody looked.
    pub without_rows: &'a [&'static Rule],
    /// What the edition is beside the one issued before it.
    pub since: &'a Since,
}

/// A table as its kind declares it.
pub struct TableKind {
    /// Stable key, which no other table has: `channels`.
    pub key: &'static str,
    /// In the order in which the canonical text tells them.
    pub columns: &'static [Column],
    /// How it is set where a layout does not say otherwise.
    pub set: UsualSet,
}

/// How a table is set where a layout does not say otherwise, by keys of its columns.
pub enum UsualSet {
    /// All columns side by side, as declared: on pages alone, since panels are too narrow for them.
    Grid,
    /// The same in another order.
    GridOf(&'static [&'static str]),
    /// These on close lines, in as many columns of text as there is room for.
    ListOf(&'static [&'static str]),
    /// A first line in aligned columns, and further lines below it.
    Rows {
        /// First line from the left edge.
        left: &'static [&'static str],
        /// First line, aligned to the right edge.
        right: &'static [&'static str],
        /// Further lines: what stands left, what stands right.
        below: &'static [(&'static [&'static str], &'static [&'static str])],
        /// The line over the numbers where some name finds no room beside them, for all rows; each by itself where it is empty.
        above: (&'static [&'static str], &'static [&'static str]),
        /// The table whose columns it takes where both stand on one sheet.
        like: Option<&'static str>,
    },
}

impl TableKind {
    /// The table with these rows; `when_empty` is said where there are none.
    pub(super) fn of(&self, rows: Vec<Row>, when_empty: impl Into<String>) -> Block {
        Block::Table(self.table(rows, when_empty))
    }

    /// The same, to which more is said.
    pub(super) fn table(&self, rows: Vec<Row>, when_empty: impl Into<String>) -> Table {
        let when_empty = Text::own(when_empty);
        let is_used = |column: &&Column| rows.iter().any(|row| row.cell(column.key).is_some());
        let columns = self.columns.iter().filter(|column| !column.is_where_used || is_used(column));
        let columns = columns.cloned().collect();
        Table { key: self.key, columns, rows, said: Vec::new(), said_of_next: Vec::new(), own: Vec::new(), when_empty }
    }

    /// A cell of the role that its column usually has.
    pub(super) fn cell(&self, key: &'static str, text: Text) -> (&'static str, Cell) {
        let role = self.columns.iter().find(|column| column.key == key).map(|column| column.role);
        debug_assert!(role.is_some(), "{} has no column {key}", self.key);
        (key, Cell { text, role: role.unwrap_or(super::block::Role::Body), base: None })
    }
}
