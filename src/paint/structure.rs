//! What a reader who hears the document is told: headings, paragraphs and tables with their cells, panel after panel,
//! whatever the imposition (ISO 32000-1, 14.7 and 14.8).

use crate::compose::block::Role;
use crate::sheet::{CellPlace, Glyphs, Mark};
use lopdf::ObjectId;
use std::collections::BTreeMap;
use std::fmt::Write;

/// What a stretch of content is.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum TaggedPart {
    /// The title of a panel.
    Title,
    /// A heading inside it, by its block.
    Heading(u32),
    /// Anything else that is read, by its block.
    Words(u32),
    /// A cell of a table; row 0 holds the headings.
    Cell(CellPlace),
    /// A sign in a cell, with the words that it stands for.
    Sign(CellPlace, String),
    /// A picture, with what it says.
    Figure(String),
}

impl TaggedPart {
    /// What a mark is part of; none for what only guides the eye.
    pub fn of(mark: &Mark) -> Option<Self> {
        match mark {
            Mark::Glyphs(run) => Some(Self::of_run(run)),
            Mark::Modules(modules) => Some(Self::Figure(modules.payload.clone())),
            // In a legend the words stand beside it.
            Mark::Sign(sign) => sign.place.cell.map(|cell| Self::Sign(cell, sign.text.clone())),
            Mark::Line(_) | Mark::Fill(_) | Mark::Outline(_) | Mark::Patterned(_) | Mark::Entry(_) => None,
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
            Self::Cell(_) | Self::Sign(..) => "TD",
            Self::Figure(_) => "Figure",
        }
    }
}

/// Marked content on a page: page and number.
type Marked = (usize, i32);

/// The parts of all panels, gathered while pages are painted.
#[derive(PartialEq, Eq, Default)]
pub(super) struct Structure {
    /// By panel; what stands beside panels comes last, by page.
    sections: BTreeMap<ToldSection, Parts>,
    /// How many numbers each page has given out.
    numbers: BTreeMap<usize, i32>,
}

/// A panel, or what is said once a sheet.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum ToldSection {
    /// By its place among the panels.
    Panel(usize),
    /// By its page.
    Once(usize),
}

/// The parts of a section in order of first appearance.
#[derive(PartialEq, Eq, Default)]
struct Parts {
    list: Vec<(TaggedPart, Vec<Marked>)>,
    places: BTreeMap<TaggedPart, usize>,
}

impl Parts {
    fn take(&mut self, part: &TaggedPart, marked: Marked) {
        if let Some((_, known)) = self.places.get(part).and_then(|place| self.list.get_mut(*place)) {
            known.push(marked);
            return;
        }
        self.places.insert(part.clone(), self.list.len());
        self.list.push((part.clone(), vec![marked]));
    }
}

impl Structure {
    /// The number of the next part on a page.
    pub fn next(&self, page: usize) -> i32 {
        self.numbers.get(&page).copied().unwrap_or(0)
    }

    /// Takes parts of a page into a section; their numbers are the next ones there.
    pub fn take(&mut self, section: ToldSection, page: usize, parts: &[TaggedPart]) {
        let next = self.numbers.entry(page).or_default();
        let known = self.sections.entry(section).or_default();
        for part in parts {
            known.take(part, (page, *next));
            *next += 1;
        }
    }

    /// The tree as objects, numbered from `first` on; its root comes first.
    pub fn objects(&self, first: u32, pages: &[ObjectId]) -> Vec<Vec<u8>> {
        let mut tree = Tree { first, pages, objects: vec![Vec::new(); 3], parents: BTreeMap::new() };
        let (parents, whole) = (first + 1, first + 2);
        let sections: Vec<u32> = self.sections.values().map(|parts| tree.section(whole, &parts.list)).collect();
        tree.element(whole, "Document", first, &sections);
        let mut numbers = String::from("<</Nums[");
        for (page, elements) in std::mem::take(&mut tree.parents) {
            let elements: Vec<u32> = elements.into_values().collect();
            write(&mut numbers, format_args!("{page}[{}]", references(&elements)));
        }
        numbers.push_str("]>>");
        tree.put(parents, numbers);
        let next = pages.len();
        tree.put(
            first,
            format!("<</Type/StructTreeRoot/K[{whole} 0 R]/ParentTree {parents} 0 R/ParentTreeNextKey {next}>>"),
        );
        tree.objects
    }
}

struct Tree<'a> {
    /// Number of the first object.
    first: u32,
    pages: &'a [ObjectId],
    /// As they are written.
    objects: Vec<Vec<u8>>,
    /// By page, the element of each number.
    parents: BTreeMap<usize, BTreeMap<i32, u32>>,
}

impl Tree<'_> {
    /// A place for an object that is written later.
    fn new_object(&mut self) -> u32 {
        self.objects.push(Vec::new());
        self.first + u32::try_from(self.objects.len()).unwrap_or(u32::MAX) - 1
    }

    fn put(&mut self, id: u32, words: String) {
        let place = usize::try_from(id - self.first).unwrap_or(usize::MAX);
        if let Some(object) = self.objects.get_mut(place) {
            *object = words.into_bytes();
        }
    }

    fn section(&mut self, parent: u32, parts: &[(TaggedPart, Vec<Marked>)]) -> u32 {
        let section = self.new_object();
        let table_of = |part: &TaggedPart| match part {
            TaggedPart::Cell(cell) | TaggedPart::Sign(cell, _) => Some(cell.table),
            _ => None,
        };
        let mut kids = Vec::new();
        for group in parts.chunk_by(|(a, _), (b, _)| table_of(a).is_some() && table_of(a) == table_of(b)) {
            match group {
                [(part, _), ..] if table_of(part).is_some() => kids.push(self.table(section, group)),
                _ => kids.extend(group.iter().map(|(part, marked)| self.leaf(section, part, marked))),
            }
        }
        self.element(section, "Sect", parent, &kids);
        section
    }

    fn table(&mut self, parent: u32, cells: &[(TaggedPart, Vec<Marked>)]) -> u32 {
        let table = self.new_object();
        let row_of = |part: &TaggedPart| match part {
            TaggedPart::Cell(cell) | TaggedPart::Sign(cell, _) => Some(cell.row),
            _ => None,
        };
        let mut rows = Vec::new();
        for cells in cells.chunk_by(|(a, _), (b, _)| row_of(a) == row_of(b)) {
            let row = self.new_object();
            let kids: Vec<u32> = cells.iter().map(|(part, marked)| self.leaf(row, part, marked)).collect();
            self.element(row, "TR", table, &kids);
            rows.push(row);
        }
        self.element(table, "Table", parent, &rows);
        table
    }

    fn element(&mut self, id: u32, tag: &str, parent: u32, kids: &[u32]) {
        self.put(id, format!("<</S/{tag}/P {parent} 0 R/K[{}]>>", references(kids)));
    }

    fn leaf(&mut self, parent: u32, part: &TaggedPart, marked: &[Marked]) -> u32 {
        let id = self.new_object();
        let first = marked.first().map_or(0, |(page, _)| *page);
        let page = |page: usize| self.pages.get(page).map_or(0, |(id, _)| *id);
        let mut words = format!("<</S/{}/P {parent} 0 R/Pg {} 0 R/K", part.tag(), page(first));
        let mut kids = String::new();
        for (at, number) in marked {
            match *at == first {
                true => write(&mut kids, format_args!("{number} ")),
                false => write(&mut kids, format_args!("<</Type/MCR/Pg {} 0 R/MCID {number}>>", page(*at))),
            }
        }
        match marked {
            [(_, only)] => write(&mut words, format_args!(" {only}")),
            _ => write(&mut words, format_args!("[{}]", kids.trim_end())),
        }
        match part {
            TaggedPart::Cell(CellPlace { row: 0, .. }) => words.push_str("/A<</O/Table/Scope/Column>>"),
            TaggedPart::Sign(_, said) => {
                words.push_str("/ActualText");
                words.push_str(&hexadecimal(said));
            }
            TaggedPart::Figure(said) => {
                words.push_str("/Alt");
                words.push_str(&hexadecimal(said));
            }
            _ => {}
        }
        words.push_str(">>");
        self.put(id, words);
        for (page, number) in marked {
            self.parents.entry(*page).or_default().insert(*number, id);
        }
        id
    }
}

/// Objects by their numbers.
fn references(ids: &[u32]) -> String {
    let mut words = String::new();
    for id in ids {
        write(&mut words, format_args!("{id} 0 R "));
    }
    words.truncate(words.trim_end().len());
    words
}

/// A text string (ISO 32000-1, 7.9.2.2) in hexadecimal digits: UTF-16 with its mark.
fn hexadecimal(text: &str) -> String {
    let mut words = String::from("<FEFF");
    text.encode_utf16().for_each(|unit| write(&mut words, format_args!("{unit:04X}")));
    words.push('>');
    words
}

fn write(words: &mut String, more: std::fmt::Arguments<'_>) {
    // Writing to memory does not fail.
    let _ = words.write_fmt(more);
}
