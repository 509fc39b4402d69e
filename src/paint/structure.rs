//! What a reader who hears the document is told: headings, paragraphs and tables with their cells, panel after panel,
//! whatever the imposition (ISO 32000-1, 14.7 and 14.8).

use super::file::{GATHERED, Gathered, Gatherer, put_number, put_reference};
use crate::compose::block::Role;
use crate::ground::on_all_threads;
use crate::sheet::{CellPlace, Glyphs, Mark};
use std::collections::BTreeMap;
use std::iter::Peekable;

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

    /// The cell of a table in which it stands.
    pub const fn cell(&self) -> Option<CellPlace> {
        match self {
            Self::Cell(cell) | Self::Sign(cell, _) => Some(*cell),
            _ => None,
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

/// A part with all stretches of content that it is.
type ToldPart = (TaggedPart, Vec<Marked>);

/// Parts of which the next may be looked at.
type Parted = Peekable<std::vec::IntoIter<ToldPart>>;

/// The parts of all panels, gathered while pages are painted.
#[derive(Default)]
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
#[derive(Default)]
struct Parts {
    list: Vec<ToldPart>,
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
    /// Takes parts of a page into a section; their numbers are the next ones there.
    pub fn take(&mut self, section: ToldSection, page: usize, parts: &[TaggedPart]) {
        let next = self.numbers.entry(page).or_default();
        let known = self.sections.entry(section).or_default();
        for part in parts {
            known.take(part, (page, *next));
            *next += 1;
        }
    }

    /// The number of the next part of a page.
    pub fn next(&self, page: usize) -> i32 {
        self.numbers.get(&page).copied().unwrap_or(0)
    }

    /// Takes the parts of other pages: no section is read on two.
    pub fn join(&mut self, other: Self) {
        self.sections.extend(other.sections);
        self.numbers.extend(other.numbers);
    }

    /// The tree of these pages, without numbers of objects.
    pub fn tree(self, pages: usize) -> Tree {
        let mut tree = Tree { nodes: Vec::new(), sections: Vec::new(), parents: vec![Vec::new(); pages] };
        for parts in self.sections.into_values() {
            let section = tree.section(parts.list);
            tree.sections.push(section);
        }
        tree
    }
}

/// What is read of some pages. Its nodes, pages and parts are counted from 0 until it has a place in a file.
pub(super) struct Tree {
    nodes: Vec<ReadNode>,
    /// The nodes that stand for panels.
    sections: Vec<u32>,
    /// For each page the nodes of its parts, in the order of their numbers.
    parents: Vec<Vec<u32>>,
}

enum ReadNode {
    Element { tag: &'static str, parent: Option<u32>, kids: Vec<u32> },
    Leaf { part: TaggedPart, parent: u32, marked: Vec<Marked> },
}

/// Where a tree comes to stand in a file.
pub(super) struct TreePlace<'a> {
    /// The number of its first node; the parts of each page follow its nodes.
    pub first: u32,
    /// The object that holds all sections of the file.
    pub whole: u32,
    /// The objects of its pages.
    pub pages: &'a [u32],
}

/// So few streams of objects are made one after the other.
const STREAMS_OF_A_THREAD: usize = 4;

impl Tree {
    /// How many objects it takes.
    pub const fn len(&self) -> usize {
        self.nodes.len() + self.parents.len()
    }

    /// How many of them are nodes; the others are the lists of each page's parts.
    pub const fn nodes(&self) -> usize {
        self.nodes.len()
    }

    /// The nodes that stand for panels.
    pub fn sections(&self) -> &[u32] {
        &self.sections
    }

    /// Its objects, gathered: as one stream after the other, made side by side where there are many.
    pub fn gathered(&self, place: &TreePlace<'_>, deflate: impl Fn(&[u8]) -> Vec<u8> + Sync) -> Vec<Gathered> {
        let stream = |from: usize| {
            let mut gatherer = Gatherer::new(&deflate);
            for at in from..self.len().min(from + GATHERED) {
                let id = place.first + count(at);
                match (self.nodes.get(at), at.checked_sub(self.nodes.len()).and_then(|page| self.parents.get(page))) {
                    (Some(node), _) => gatherer.object(id, |out| node.put(out, place)),
                    (None, Some(parts)) => gatherer.object(id, |out| put_references(out, parts, place.first)),
                    (None, None) => {}
                }
            }
            gatherer.finish()
        };
        let streams = 0..self.len().div_ceil(GATHERED);
        on_all_threads(streams, STREAMS_OF_A_THREAD, |number| stream(number * GATHERED)).into_iter().flatten().collect()
    }

    /// A place for a node that is known later.
    fn new_node(&mut self) -> u32 {
        self.nodes.push(ReadNode::Element { tag: "", parent: None, kids: Vec::new() });
        count(self.nodes.len()) - 1
    }

    fn put(&mut self, id: u32, node: ReadNode) {
        if let Some(place) = usize::try_from(id).ok().and_then(|id| self.nodes.get_mut(id)) {
            *place = node;
        }
    }

    fn section(&mut self, parts: Vec<ToldPart>) -> u32 {
        let section = self.new_node();
        let (mut kids, mut parts) = (Vec::new(), parts.into_iter().peekable());
        while let Some(part) = parts.next() {
            kids.push(match part.0.cell() {
                Some(cell) => self.table(section, (part, cell.table), &mut parts),
                None => self.leaf(section, part),
            });
        }
        self.put(section, ReadNode::Element { tag: "Sect", parent: None, kids });
        section
    }

    /// The table that begins with a part, and all that follows in it.
    fn table(&mut self, parent: u32, (first, number): (ToldPart, u16), parts: &mut Parted) -> u32 {
        let table = self.new_node();
        let (mut rows, mut next) = (Vec::new(), Some(first));
        while let Some(first) = next {
            let (row, place) = (self.new_node(), first.0.cell());
            let mut kids = vec![self.leaf(row, first)];
            let is_in_row = |part: &ToldPart| {
                part.0.cell().zip(place).is_some_and(|(cell, place)| (cell.table, cell.row) == (place.table, place.row))
            };
            while let Some(part) = parts.next_if(is_in_row) {
                kids.push(self.leaf(row, part));
            }
            self.put(row, ReadNode::Element { tag: "TR", parent: Some(table), kids });
            rows.push(row);
            next = parts.next_if(|part| part.0.cell().is_some_and(|cell| cell.table == number));
        }
        self.put(table, ReadNode::Element { tag: "Table", parent: Some(parent), kids: rows });
        table
    }

    fn leaf(&mut self, parent: u32, (part, marked): ToldPart) -> u32 {
        let id = self.new_node();
        for (page, number) in &marked {
            let nodes = self.parents.get_mut(*page);
            // Parts are numbered as they come, panel after panel; a panel may be read before another that was painted first.
            if let (Some(nodes), Ok(number)) = (nodes, usize::try_from(*number)) {
                if nodes.len() <= number {
                    nodes.resize(number + 1, id);
                }
                if let Some(node) = nodes.get_mut(number) {
                    *node = id;
                }
            }
        }
        self.put(id, ReadNode::Leaf { part, parent, marked });
        id
    }
}

impl ReadNode {
    fn put(&self, out: &mut Vec<u8>, place: &TreePlace<'_>) {
        match self {
            Self::Element { tag, parent, kids } => {
                out.extend(b"<</S/");
                out.extend(tag.as_bytes());
                out.extend(b"/P ");
                put_reference(out, parent.map_or(place.whole, |parent| place.first + parent));
                out.extend(b"/K");
                put_references(out, kids, place.first);
                out.extend(b">>");
            }
            Self::Leaf { part, parent, marked } => put_leaf(out, part, (*parent, marked), place),
        }
    }
}

fn put_leaf(out: &mut Vec<u8>, part: &TaggedPart, (parent, marked): (u32, &[Marked]), place: &TreePlace<'_>) {
    let page = |page: usize| place.pages.get(page).copied().unwrap_or(0);
    let first = marked.first().map_or(0, |(page, _)| *page);
    let number = |out: &mut Vec<u8>, number: i32| put_number(out, u32::try_from(number).unwrap_or(0));
    out.extend(b"<</S/");
    out.extend(part.tag().as_bytes());
    out.extend(b"/P ");
    put_reference(out, place.first + parent);
    out.extend(b"/Pg ");
    put_reference(out, page(first));
    out.extend(b"/K");
    match marked {
        [(_, only)] => {
            out.push(b' ');
            number(out, *only);
        }
        _ => {
            out.push(b'[');
            for (index, (at, own)) in marked.iter().enumerate() {
                if index > 0 {
                    out.push(b' ');
                }
                if *at == first {
                    number(out, *own);
                } else {
                    out.extend(b"<</Type/MCR/Pg ");
                    put_reference(out, page(*at));
                    out.extend(b"/MCID ");
                    number(out, *own);
                    out.extend(b">>");
                }
            }
            out.push(b']');
        }
    }
    match part {
        TaggedPart::Cell(CellPlace { row: 0, .. }) => out.extend(b"/A<</O/Table/Scope/Column>>"),
        TaggedPart::Sign(_, said) => {
            out.extend(b"/ActualText");
            put_hexadecimal(out, said);
        }
        TaggedPart::Figure(said) => {
            out.extend(b"/Alt");
            put_hexadecimal(out, said);
        }
        _ => {}
    }
    out.extend(b">>");
}

/// A list of nodes.
fn put_references(out: &mut Vec<u8>, nodes: &[u32], first: u32) {
    out.push(b'[');
    for (index, node) in nodes.iter().enumerate() {
        if index > 0 {
            out.push(b' ');
        }
        put_reference(out, first + node);
    }
    out.push(b']');
}

fn count(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}

/// A text string (ISO 32000-1, 7.9.2.2) in hexadecimal digits: UTF-16 with its mark.
fn put_hexadecimal(out: &mut Vec<u8>, text: &str) {
    const DIGITS: &[u8; 16] = b"0123456789ABCDEF";
    out.extend(b"<FEFF");
    for unit in text.encode_utf16() {
        for shift in [12, 8, 4, 0] {
            out.extend(DIGITS.get(usize::from(unit >> shift & 15)));
        }
    }
    out.push(b'>');
}
