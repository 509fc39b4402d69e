//! A panel, or a column of one, while pieces are set on it one below the other.

use super::layout::Layout;
use super::pen::{RULE, Style};
use super::piece::{Piece, RULES_APART, Room};
use super::setting::{Setting, moved};
use crate::compose::block::Role;
use crate::ground::Length;
use crate::sheet::{CellPlace, Glyphs, HAIRLINE, Mark, Point, ReadPlace, across};
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
    /// Whether it begins in the place of a title.
    pub is_front: bool,
}

impl Body {
    /// A body by hand.
    pub const fn new(title: String, marks: Vec<Mark>) -> Self {
        Self { title, marks, fill: (Length::ZERO, Length::ZERO), is_front: false }
    }

    /// Where it stands on its panel, as heavy as the layout wants it.
    pub fn settled(self, room: &Room<'_>) -> Settled {
        let marks = self.marks.into_iter().map(|mark| room.layout.stroke(moved(mark, room.at))).collect();
        Settled { title: self.title, marks, fill: self.fill, is_front: self.is_front, shared: None }
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
    /// Whether it begins in the place of a title.
    pub is_front: bool,
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
    /// Labels of the rows of its first section.
    labels: Vec<String>,
    /// The titles of other sections on it, each with the place of its mark and the labels of its rows.
    titles: Vec<(usize, Vec<String>)>,
    /// Whether its first piece stands in the place of a title.
    is_front: bool,
    /// The headings that stand over the rows being set.
    head: Option<Rc<Setting>>,
    /// Whether the last piece was a row of a table.
    in_table: bool,
    /// Which mark is the rule under the last row.
    last_rule: Option<usize>,
    /// Whether that rule is part of a frame.
    is_framed: bool,
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
            labels: Vec::new(),
            titles: Vec::new(),
            is_front: false,
            head: None,
            in_table: false,
            last_rule: None,
            is_framed: false,
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
        if self.is_empty() && piece.rise > Length::ZERO {
            return Length::ZERO - piece.rise;
        }
        match (self.is_empty(), piece.head.is_some() || piece.is_framed) {
            (false, _) => piece.before,
            (true, true) => Length::ZERO,
            (true, false) => self.top + piece.top,
        }
    }

    /// The headings to print over a piece; none when they stand there already.
    fn new_head<'a>(&self, piece: &'a Piece) -> Option<&'a Rc<Setting>> {
        let head = piece.head.as_ref()?;
        let is_known = |head: &Rc<Setting>| self.head.as_ref().is_some_and(|known| Rc::ptr_eq(known, head));
        let stands = is_known(head) || piece.also.as_ref().is_some_and(is_known);
        (!stands).then_some(head)
    }

    /// Puts a piece below the others, with its marks.
    pub fn put(&mut self, piece: &Piece, marks: Vec<Mark>, width: Length) {
        self.is_front |= self.is_empty() && piece.rise > Length::ZERO;
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
            self.add(head.marks.clone(), true);
            self.y += head.height;
            self.head = Some(head);
        }
        self.rows += 1;
        let before = self.marks.len();
        if piece.is_list {
            self.add_list(marks);
        } else {
            self.add(marks, piece.is_row);
        }
        self.y += piece.setting.height;
        if piece.is_row && piece.is_framed {
            // The line under a row of a form, which is its last mark.
            self.last_rule = self.marks.len().checked_sub(1);
            self.is_framed = true;
        }
        if piece.is_row && !piece.is_open {
            self.last_rule = Some(self.marks.len());
            self.marks.push(across(Length::ZERO, width, self.y, HAIRLINE));
        }
        if piece.is_title {
            self.titles.push((before, Vec::new()));
        }
        if !piece.label.is_empty() {
            self.titles.last_mut().map_or(&mut self.labels, |(_, labels)| labels).push(piece.label.clone());
        }
    }

    /// Adds marks below the others and says where they stand among what is read aloud.
    fn add(&mut self, marks: Vec<Mark>, is_row: bool) {
        self.blocks += 1;
        let (block, table, row) = (self.blocks, self.tables, self.rows);
        let mut next = 0;
        for mark in marks {
            let mut mark = moved(mark, Point { x: Length::ZERO, y: self.y });
            // The name on a front is the title of its panel.
            let is_title = self.is_front
                && self.blocks == 1
                && matches!(&mark, Mark::Glyphs(glyphs) if glyphs.role == Role::Title);
            if let Some(place) = mark.place_mut() {
                // Where headings have no cells of their own each run is one.
                let column = place.cell.map_or(next, |cell| cell.column);
                next = column + 1;
                let cell = is_row.then_some(CellPlace { table, row, column });
                let own = if is_title { 0 } else { block + place.block };
                *place = ReadPlace { block: own, cell };
                self.blocks = self.blocks.max(place.block);
            }
            self.marks.push(mark);
        }
    }

    /// Adds a list, whose tables and cells know their places already.
    fn add_list(&mut self, marks: Vec<Mark>) {
        let (block, table) = (self.blocks + 1, self.tables + 1);
        for mark in marks {
            let mut mark = moved(mark, Point { x: Length::ZERO, y: self.y });
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
    }

    /// Closes it. Titles say which rows stand under them, as far as there is room for it.
    pub fn finish(mut self, has_range: bool, room: &Room<'_>, height: Length) -> Body {
        // The rule of the foot closes a table that ends just above it.
        let is_last = self.last_rule == self.marks.len().checked_sub(1);
        if is_last && !self.is_framed && height - self.y < RULES_APART {
            self.marks.pop();
            self.last_rule = None;
        }
        self.close_table();
        let titles = std::mem::take(&mut self.titles);
        for (at, labels) in titles.into_iter().filter(|_| has_range) {
            if let Some(Mark::Glyphs(run)) = self.marks.get_mut(at) {
                let style = Style { face: run.face, size: run.size, role: run.role };
                let fits = |title: &str| room.pen.width(title, style) <= room.width;
                let title = with_range(&run.text, &labels, fits);
                *run = Glyphs { place: run.place, ..room.pen.write(&title, style, run.span, run.at) };
            }
        }
        let style = room.layout.style(Role::Title);
        let beside = room.pen.width(NUMBER, room.layout.style(Role::Foot)) + room.layout.air(BESIDE_TITLE);
        let fits = |title: &str| room.pen.width(title, style) + beside <= room.width;
        let title = if has_range { with_range(&self.title, &self.labels, fits) } else { self.title };
        Body { title, marks: self.marks, fill: (self.y, height), is_front: self.is_front }
    }
}

/// As wide as a panel's number beside its title, and what parts them.
const NUMBER: &str = "panel 88 of 88";
const BESIDE_TITLE: Length = Length::mm(3);

/// A title with the rows below it: `Rows 1\u{2013}9, 12`; from the first to the last where there is no room for more.
fn with_range(title: &str, labels: &[String], fits: impl Fn(&str) -> bool) -> String {
    let (Some(first), Some(last)) = (labels.first(), labels.last()) else { return title.to_owned() };
    let follows = |a: &String, b: &String| {
        a.parse::<u32>().ok().zip(b.parse::<u32>().ok()).is_none_or(|(a, b)| a.checked_add(1) == Some(b))
    };
    let range = |first: &str, last: &str| match first == last {
        true => first.to_owned(),
        false => format!("{first}\u{2013}{last}"),
    };
    let runs: Vec<String> = labels.chunk_by(follows).filter_map(|run| Some(range(run.first()?, run.last()?))).collect();
    let whole = format!("{title} {}", runs.join(", "));
    if fits(&whole) { whole } else { format!("{title} {}", range(first, last)) }
}
