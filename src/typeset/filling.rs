//! A panel, or a column of one, while pieces are set on it one below the other.

use super::layout::Layout;
use super::pen::RULE;
use super::piece::{Piece, Room};
use super::setting::Setting;
use crate::ground::Length;
use crate::sheet::{CellPlace, HAIRLINE, Mark, Point, ReadPlace, across};
use std::rc::Rc;
use std::sync::Arc;

/// Air over what stands at the top.
pub(super) const TOP: Length = Length::hundredths_mm(130);

/// A filled panel without its furniture.
pub(super) struct Body {
    pub title: String,
    pub marks: Vec<Mark>,
    /// How much of its height is taken, and how much there is.
    pub fill: (Length, Length),
}

impl Body {
    /// A body by hand.
    pub const fn new(title: String, marks: Vec<Mark>) -> Self {
        Self { title, marks, fill: (Length::ZERO, Length::ZERO) }
    }

    /// Where it stands on its panel, as heavy as the layout wants it.
    pub fn settled(self, room: &Room<'_>) -> Settled {
        let content = Setting { marks: self.marks, height: Length::ZERO };
        let marks = content.at(room.at).map(|mark| room.layout.stroke(mark)).collect();
        Settled { title: self.title, marks, fill: self.fill, shared: None }
    }
}

/// The body of a panel where it stands on it.
#[derive(Clone)]
pub(super) struct Settled {
    /// The title printed over it.
    pub title: String,
    /// In reading order.
    pub marks: Arc<[Mark]>,
    /// How much of its height is taken, and how much there is.
    pub fill: (Length, Length),
    /// Its number among the bodies that several copies have.
    pub shared: Option<u32>,
}

/// A panel, or a column of one, being filled.
pub(super) struct Filling {
    pub title: String,
    /// Index of its first piece.
    pub first: usize,
    /// Air over what stands at the top.
    top: Length,
    marks: Vec<Mark>,
    /// How far down it is filled.
    pub y: Length,
    /// First and last label of the rows on it.
    range: Option<(String, String)>,
    /// Whether another section has begun on it: the title's range is that of the first.
    is_named: bool,
    /// The headings that stand over the rows being set.
    head: Option<Rc<Setting>>,
    /// Whether the last piece was a row of a table.
    in_table: bool,
    /// Which mark is the rule under the last row.
    last_rule: Option<usize>,
    /// Blocks and tables so far, and rows of the last table.
    blocks: u32,
    tables: u16,
    rows: u16,
}

impl Filling {
    pub fn new(title: String, layout: &Layout) -> Self {
        Self {
            title,
            first: 0,
            top: layout.air(TOP),
            marks: Vec::new(),
            y: Length::ZERO,
            range: None,
            is_named: false,
            head: None,
            in_table: false,
            last_rule: None,
            blocks: 0,
            tables: 0,
            rows: 0,
        }
    }

    pub fn is_empty(&self) -> bool {
        self.marks.is_empty()
    }

    /// The rule under the last row of a table closes it.
    fn close_table(&mut self) {
        if let Some(Mark::Line(line)) = self.last_rule.take().and_then(|at| self.marks.get_mut(at)) {
            line.thickness = RULE;
        }
        self.head = None;
    }

    pub fn needs(&self, piece: &Piece) -> Length {
        self.air(piece) + self.new_head(piece).map_or(Length::ZERO, |head| head.height) + piece.setting.height
    }

    /// What stands at the top keeps clear of the rule above it; headings of columns bring their own air, and forms their own frame.
    fn air(&self, piece: &Piece) -> Length {
        match (self.is_empty(), piece.head.is_some() || piece.is_framed) {
            (false, _) => piece.before,
            (true, true) => Length::ZERO,
            (true, false) => self.top + piece.top,
        }
    }

    /// The headings to print over a piece; none when they stand there already.
    fn new_head<'a>(&self, piece: &'a Piece) -> Option<&'a Rc<Setting>> {
        let head = piece.head.as_ref()?;
        let stands = self.head.as_ref().is_some_and(|known| Rc::ptr_eq(known, head));
        (!stands).then_some(head)
    }

    pub fn put(&mut self, piece: &Piece, width: Length) {
        self.y += self.air(piece);
        if !piece.is_row || self.new_head(piece).is_some() {
            self.close_table();
        }
        let begins_table = piece.is_row && (self.new_head(piece).is_some() || !self.in_table);
        self.in_table = piece.is_row;
        if begins_table {
            self.tables += 1;
            self.rows = 0;
        }
        if let Some(head) = self.new_head(piece).map(Rc::clone) {
            self.add(&head, true);
            self.head = Some(head);
        }
        self.rows += 1;
        if piece.is_list {
            self.add_list(&piece.setting);
        } else {
            self.add(&piece.setting, piece.is_row);
        }
        if piece.is_row && !piece.is_open {
            self.last_rule = Some(self.marks.len());
            self.marks.push(across(Length::ZERO, width, self.y, HAIRLINE));
        }
        self.is_named |= piece.is_title;
        if !piece.label.is_empty() && !self.is_named {
            let first = self.range.take().map_or_else(|| piece.label.clone(), |(first, _)| first);
            self.range = Some((first, piece.label.clone()));
        }
    }

    /// Adds marks below the others and says where they stand among what is read aloud.
    fn add(&mut self, setting: &Setting, is_row: bool) {
        self.blocks += 1;
        let (block, table, row) = (self.blocks, self.tables, self.rows);
        let mut next = 0;
        for mut mark in setting.at(Point { x: Length::ZERO, y: self.y }) {
            if let Some(place) = mark.place_mut() {
                // Where headings have no cells of their own each run is one.
                let column = place.cell.map_or(next, |cell| cell.column);
                next = column + 1;
                let cell = is_row.then_some(CellPlace { table, row, column });
                *place = ReadPlace { block: block + place.block, cell };
                self.blocks = self.blocks.max(place.block);
            }
            self.marks.push(mark);
        }
        self.y += setting.height;
    }

    /// Adds a list, whose tables and cells know their places already.
    fn add_list(&mut self, setting: &Setting) {
        let (block, table) = (self.blocks + 1, self.tables + 1);
        for mut mark in setting.at(Point { x: Length::ZERO, y: self.y }) {
            if let Mark::Glyphs(glyphs) = &mut mark {
                glyphs.place.block += block;
                self.blocks = self.blocks.max(glyphs.place.block);
                if let Some(cell) = &mut glyphs.place.cell {
                    cell.table += table;
                    self.tables = self.tables.max(cell.table);
                }
            }
            self.marks.push(mark);
        }
        self.y += setting.height;
    }

    pub fn finish(mut self, has_range: bool, height: Length) -> Body {
        self.close_table();
        let title = match self.range.filter(|_| has_range) {
            Some((first, last)) if first == last => format!("{} {first}", self.title),
            Some((first, last)) => format!("{} {first}\u{2013}{last}", self.title),
            None => self.title,
        };
        Body { title, marks: self.marks, fill: (self.y, height) }
    }
}
