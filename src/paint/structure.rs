//! What a reader who hears the document is told: headings, paragraphs and tables with their cells, panel after panel,
//! whatever the imposition (ISO 32000-1, 14.7 and 14.8).

use crate::compose::block::Role;
use crate::typeset::mark::{CellPlace, Glyphs, Mark};
use lopdf::{Dictionary, Document, Object, ObjectId, dictionary, text_string};
use std::collections::BTreeMap;

/// What a stretch of content is.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Part {
    /// The title of a panel.
    Title,
    /// A heading inside it, by its block.
    Heading(u32),
    /// Anything else that is read, by its block.
    Words(u32),
    /// A cell of a table; row 0 holds the headings.
    Cell(CellPlace),
    /// A picture, with what it says.
    Figure(String),
}

impl Part {
    /// What a mark is part of; none for what only guides the eye.
    pub fn of(mark: &Mark) -> Option<Self> {
        match mark {
            Mark::Glyphs(run) => Some(Self::of_run(run)),
            Mark::Modules(modules) => Some(Self::Figure(modules.payload.clone())),
            Mark::Line(_) | Mark::Fill(_) | Mark::Outline(_) => None,
        }
    }

    fn of_run(run: &Glyphs) -> Self {
        let block = run.place.block;
        match (run.place.cell, run.role) {
            (Some(cell), _) => Self::Cell(cell),
            (None, Role::Title) if block == 0 => Self::Title,
            (None, Role::Title | Role::Name) => Self::Heading(block),
            (None, _) => Self::Words(block),
        }
    }

    /// The tag of its marked content.
    pub const fn tag(&self) -> &'static str {
        match self {
            Self::Title => "H1",
            Self::Heading(_) => "H2",
            Self::Words(_) => "P",
            Self::Cell(CellPlace { row: 0, .. }) => "TH",
            Self::Cell(_) => "TD",
            Self::Figure(_) => "Figure",
        }
    }
}

/// Marked content on a page: page and number.
type Marked = (usize, i32);

/// The parts of all panels, gathered while pages are painted.
#[derive(Default)]
pub(super) struct Structure {
    /// By panel, its parts in order of first appearance; what stands beside panels comes last, by page.
    sections: BTreeMap<Section, Vec<(Part, Vec<Marked>)>>,
    /// How many numbers each page has given out.
    numbers: BTreeMap<usize, i32>,
}

/// A panel, or what is said once a sheet.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Section {
    /// By its place among the panels.
    Panel(usize),
    /// By its page.
    Once(usize),
}

impl Structure {
    /// Takes a stretch of a page into a section; gives its number there.
    pub fn take(&mut self, section: Section, page: usize, part: &Part) -> i32 {
        let next = self.numbers.entry(page).or_default();
        let number = *next;
        *next += 1;
        let parts = self.sections.entry(section).or_default();
        match parts.iter_mut().rev().find(|(known, _)| known == part) {
            Some((_, marked)) => marked.push((page, number)),
            None => parts.push((part.clone(), vec![(page, number)])),
        }
        number
    }

    /// Writes the tree; gives its root.
    pub fn write(&self, document: &mut Document, pages: &[ObjectId]) -> ObjectId {
        let root = document.new_object_id();
        let whole = document.new_object_id();
        let mut tree = Tree { document, pages, parents: BTreeMap::new() };
        let sections: Vec<Object> =
            self.sections.values().map(|parts| Object::Reference(tree.section(whole, parts))).collect();
        let parents = std::mem::take(&mut tree.parents);
        let mut numbers = Vec::new();
        for (page, elements) in parents {
            numbers.push(Object::Integer(i64::try_from(page).unwrap_or(0)));
            numbers.push(Object::Array(elements.into_values().map(Object::Reference).collect()));
        }
        let parent_tree = document.add_object(dictionary! { "Nums" => numbers });
        document.set_object(whole, dictionary! { "S" => "Document", "P" => root, "K" => sections });
        document.set_object(
            root,
            dictionary! {
                "Type" => "StructTreeRoot",
                "K" => vec![Object::Reference(whole)],
                "ParentTree" => parent_tree,
                "ParentTreeNextKey" => i64::try_from(pages.len()).unwrap_or(0),
            },
        );
        root
    }
}

struct Tree<'a> {
    document: &'a mut Document,
    pages: &'a [ObjectId],
    /// By page, the element of each number.
    parents: BTreeMap<usize, BTreeMap<i32, ObjectId>>,
}

impl Tree<'_> {
    fn section(&mut self, parent: ObjectId, parts: &[(Part, Vec<Marked>)]) -> ObjectId {
        let section = self.document.new_object_id();
        let table_of = |part: &Part| match part {
            Part::Cell(cell) => Some(cell.table),
            _ => None,
        };
        let mut kids = Vec::new();
        for group in parts.chunk_by(|(a, _), (b, _)| table_of(a).is_some() && table_of(a) == table_of(b)) {
            match group {
                [(part, _), ..] if table_of(part).is_some() => kids.push(self.table(section, group)),
                _ => kids.extend(group.iter().map(|(part, marked)| self.leaf(section, part, marked))),
            }
        }
        self.element(section, "Sect", parent, kids)
    }

    fn table(&mut self, parent: ObjectId, cells: &[(Part, Vec<Marked>)]) -> ObjectId {
        let table = self.document.new_object_id();
        let row_of = |part: &Part| match part {
            Part::Cell(cell) => Some(cell.row),
            _ => None,
        };
        let mut rows = Vec::new();
        for cells in cells.chunk_by(|(a, _), (b, _)| row_of(a) == row_of(b)) {
            let row = self.document.new_object_id();
            let kids = cells.iter().map(|(part, marked)| self.leaf(row, part, marked)).collect();
            rows.push(self.element(row, "TR", table, kids));
        }
        self.element(table, "Table", parent, rows)
    }

    fn element(&mut self, id: ObjectId, tag: &str, parent: ObjectId, kids: Vec<ObjectId>) -> ObjectId {
        let kids: Vec<Object> = kids.into_iter().map(Object::Reference).collect();
        self.document.set_object(id, dictionary! { "S" => tag, "P" => parent, "K" => kids });
        id
    }

    fn leaf(&mut self, parent: ObjectId, part: &Part, marked: &[Marked]) -> ObjectId {
        let id = self.document.new_object_id();
        let first = marked.first().map_or(0, |(page, _)| *page);
        let page = |page: usize| self.pages.get(page).map_or(Object::Null, |id| Object::Reference(*id));
        let kids: Vec<Object> = marked
            .iter()
            .map(|(at, number)| match *at == first {
                true => Object::Integer(i64::from(*number)),
                false => dictionary! { "Type" => "MCR", "Pg" => page(*at), "MCID" => i64::from(*number) }.into(),
            })
            .collect();
        let mut element = Dictionary::new();
        element.set("S", Object::from(part.tag()));
        element.set("P", parent);
        element.set("Pg", page(first));
        element.set("K", if let [only] = kids.as_slice() { only.clone() } else { Object::Array(kids) });
        match part {
            Part::Cell(CellPlace { row: 0, .. }) => {
                element.set("A", dictionary! { "O" => "Table", "Scope" => "Column" });
            }
            Part::Figure(words) => element.set("Alt", text_string(words)),
            _ => {}
        }
        self.document.set_object(id, element);
        for (page, number) in marked {
            self.parents.entry(*page).or_default().insert(*number, id);
        }
        id
    }
}
