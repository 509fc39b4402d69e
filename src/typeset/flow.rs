//! Fills panels with pieces, in order; nothing is parted that belongs together, nothing is left out.

use super::furniture::{Furniture, unit};
use super::layout::{Format, Layout, TableSet};
use super::lines::paragraph;
use super::mark::{Mark, Panel, Point};
use super::pen::{HAIRLINE, Pen, RULE, across};
use super::piece::{Piece, Room, does_not_fit};
use super::rules::{LAYOUT_BELOW_FLOOR, LAYOUT_LACKS_COLUMN, TEXT_DOES_NOT_FIT};
use super::setting::Setting;
use super::{form, grid, rows, strip, symbol};
use crate::compose::block::{Block, Document, Role, Section, Strip, Table, Text};
use crate::ground::{Finding, Findings, Length, Span, plural};
use std::rc::Rc;

/// Before a heading inside a panel, and before other blocks.
const BEFORE_HEADING: Length = Length::hundredths_mm(220);
const BEFORE: Length = Length::hundredths_mm(120);
const TOP: Length = Length::hundredths_mm(130);
const BEFORE_STRIP: Length = Length::mm(9);

/// A filled panel without its furniture.
pub(super) struct Body {
    title: String,
    marks: Vec<Mark>,
}

/// A panel being filled.
struct Filling {
    title: String,
    marks: Vec<Mark>,
    y: Length,
    /// First and last label of the rows on it.
    range: Option<(String, String)>,
    /// The headings that stand over the rows being set.
    head: Option<Rc<Setting>>,
    /// Which mark is the rule under the last row.
    last_rule: Option<usize>,
}

impl Filling {
    fn new(title: String) -> Self {
        Self { title, marks: Vec::new(), y: Length::ZERO, range: None, head: None, last_rule: None }
    }

    fn is_empty(&self) -> bool {
        self.marks.is_empty()
    }

    /// The rule under the last row of a table closes it.
    fn close_table(&mut self) {
        if let Some(Mark::Line(line)) = self.last_rule.take().and_then(|at| self.marks.get_mut(at)) {
            line.thickness = RULE;
        }
        self.head = None;
    }

    fn needs(&self, piece: &Piece) -> Length {
        self.air(piece) + self.new_head(piece).map_or(Length::ZERO, |head| head.height) + piece.setting.height
    }

    /// What stands at the top keeps clear of the rule above it; headings of columns bring their own air, and forms their own frame.
    fn air(&self, piece: &Piece) -> Length {
        match (self.is_empty(), piece.head.is_some() || piece.is_framed) {
            (false, _) => piece.before,
            (true, true) => Length::ZERO,
            (true, false) => TOP,
        }
    }

    /// The headings to print over a piece; none when they stand there already.
    fn new_head<'a>(&self, piece: &'a Piece) -> Option<&'a Rc<Setting>> {
        let head = piece.head.as_ref()?;
        let stands = self.head.as_ref().is_some_and(|known| Rc::ptr_eq(known, head));
        (!stands).then_some(head)
    }

    fn put(&mut self, piece: &Piece, width: Length) {
        self.y += self.air(piece);
        if !piece.is_row || self.new_head(piece).is_some() {
            self.close_table();
        }
        if let Some(head) = self.new_head(piece) {
            self.marks.extend(head.at(Point { x: Length::ZERO, y: self.y }));
            self.y += head.height;
            self.head = Some(Rc::clone(head));
        }
        self.marks.extend(piece.setting.at(Point { x: Length::ZERO, y: self.y }));
        self.y += piece.setting.height;
        if piece.is_row {
            self.last_rule = Some(self.marks.len());
            self.marks.push(across(Length::ZERO, width, self.y, HAIRLINE));
        }
        if !piece.label.is_empty() {
            let first = self.range.take().map_or_else(|| piece.label.clone(), |(first, _)| first);
            self.range = Some((first, piece.label.clone()));
        }
    }

    fn finish(mut self, has_range: bool) -> Body {
        self.close_table();
        let title = match self.range.filter(|_| has_range) {
            Some((first, last)) if first == last => format!("{} {first}", self.title),
            Some((first, last)) => format!("{} {first}\u{2013}{last}", self.title),
            None => self.title,
        };
        Body { title, marks: self.marks }
    }
}

/// All bodies of a document.
pub(super) fn bodies(document: &Document, room: &Room<'_>, found: &mut Findings) -> Vec<Body> {
    let has_panels = room.layout.format != Format::Full;
    let mut done = Vec::new();
    let mut filling: Option<Filling> = None;
    for section in &document.sections {
        let title = section.title.words();
        let mut pieces = pieces(section, room, found);
        if has_panels {
            done.extend(filling.take().map(|filled| filled.finish(has_panels)));
        } else if filling.is_some() {
            pieces.insert(0, heading(&section.title, Role::Title, room, found));
        }
        let mut panel = filling.take().unwrap_or_else(|| Filling::new(title.clone()));
        for (index, piece) in pieces.iter().enumerate() {
            // What must stand with the next piece is judged together with it.
            let kept = pieces.get(index + 1).filter(|_| piece.keeps_next);
            let together = panel.needs(piece) + kept.map_or(Length::ZERO, Piece::whole);
            if panel.y + together > room.height && !panel.is_empty() {
                done.push(panel.finish(has_panels));
                panel = Filling::new(title.clone());
            }
            if panel.needs(piece) > room.height {
                found.push(does_not_fit(&piece.words, piece.span, room.asked, "high", room.height));
                continue;
            }
            panel.put(piece, room.width);
        }
        filling = Some(panel);
    }
    done.extend(filling.map(|filled| filled.finish(has_panels)));
    done
}

fn pieces(section: &Section, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let is_form = |block: &Block| matches!(block, Block::Form(_));
    let mut set: Vec<(usize, Vec<Piece>)> = Vec::new();
    let mut taken = Length::ZERO;
    for (index, block) in section.blocks.iter().enumerate().filter(|(_, block)| !is_form(block)) {
        let pieces = block_pieces(block, room, found);
        taken += pieces.iter().map(|piece| piece.before + piece.setting.height).sum();
        set.push((index, pieces));
    }
    for (index, block) in section.blocks.iter().enumerate() {
        if let Block::Form(block) = block {
            let mut pieces = form::set(block, room, room.height - taken - BEFORE, found);
            if let Some(first) = pieces.first_mut() {
                first.before = BEFORE;
            }
            taken += pieces.iter().map(|piece| piece.before + piece.setting.height).sum();
            set.push((index, pieces));
        }
    }
    set.sort_by_key(|(index, _)| *index);
    set.into_iter().flat_map(|(_, pieces)| pieces).collect()
}

fn block_pieces(block: &Block, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    match block {
        Block::Heading(text) => vec![heading(text, Role::Name, room, found)],
        Block::Paragraph(block) => vec![one(&block.text, block.role, BEFORE, room, found)],
        Block::Table(table) => table_pieces(table, room, found),
        Block::Form(_) => Vec::new(),
        Block::Strip(block) => {
            if !room.layout.is_dense {
                found.push(not_dense(block, room));
                return Vec::new();
            }
            let Some(setting) = strip::set(room.pen, block, room.width, room.height - TOP) else {
                found.push(too_crowded(block, room));
                return Vec::new();
            };
            vec![drawn(Some(setting), &block.title, BEFORE_STRIP, room, found)]
        }
        Block::Symbol(block) => {
            let before = found.len();
            let setting = symbol::set(room.pen, block, (room.width, room.height - TOP), found);
            if setting.is_none() && found.len() > before {
                return Vec::new();
            }
            vec![drawn(setting, &block.caption, BEFORE, room, found)]
        }
    }
}

/// Figures on a strip are below the usual floor: the layout must say that it wants that.
fn not_dense(strip: &Strip, room: &Room<'_>) -> Finding {
    let what = format!("{}: figures on a strip are 8 pt, and this layout is not dense", strip.title.words());
    Finding::new(&LAYOUT_BELOW_FLOOR, room.asked, what)
        .label("asks for this layout")
        .help("take the layout \"chart\", or write `is-dense = true` in your own")
}

/// A band with more labels than a page holds.
fn too_crowded(strip: &Strip, room: &Room<'_>) -> Finding {
    let labels = strip.marks.iter().filter(|mark| !mark.name.is_empty()).count();
    let what =
        format!("{}, holds {}, too many for one page of this layout", strip.title.words(), plural(labels, "label"));
    Finding::new(&TEXT_DOES_NOT_FIT, room.asked, what)
        .label("asks for this chart")
        .help("take a larger layout, or leave this document out")
}

fn drawn(setting: Option<Setting>, title: &Text, before: Length, room: &Room<'_>, found: &mut Findings) -> Piece {
    if setting.is_none() {
        room.too_wide(title, room.width, found);
    }
    Piece { setting: setting.unwrap_or_default(), span: title.span, words: title.words(), before, ..Piece::default() }
}

fn heading(text: &Text, role: Role, room: &Room<'_>, found: &mut Findings) -> Piece {
    Piece { keeps_next: true, ..one(text, role, BEFORE_HEADING, room, found) }
}

fn one(text: &Text, role: Role, before: Length, room: &Room<'_>, found: &mut Findings) -> Piece {
    let setting = paragraph(room.pen, text, room.layout.style(role), room.width);
    if setting.is_none() {
        room.too_wide(text, room.width, found);
    }
    Piece { setting: setting.unwrap_or_default(), span: text.span, words: text.words(), before, ..Piece::default() }
}

fn table_pieces(table: &Table, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    if table.rows.is_empty() {
        return vec![one(&table.when_empty, Role::Body, BEFORE, room, found)];
    }
    let Some(set) = room.layout.table(table.key) else {
        found.push(lacks(&format!("the layout has no place for the table `{}`", table.key), room));
        return Vec::new();
    };
    let columns: Vec<&str> = set.set.columns().collect();
    let missing = |column: &&crate::compose::block::Column| column.is_must && !columns.contains(&column.key);
    if let Some(column) = table.columns.iter().find(missing) {
        let what = format!("the layout has no place for the column `{}` of the table `{}`", column.key, table.key);
        found.push(lacks(&what, room));
        return Vec::new();
    }
    let mut pieces = match &set.set {
        TableSet::Grid(columns) => grid::set(table, columns, room, found),
        rows_set @ TableSet::Rows { .. } => rows::set(table, rows_set, room, found),
    };
    if let Some(first) = pieces.first_mut() {
        first.before = BEFORE;
    }
    pieces
}

fn lacks(what: &str, room: &Room<'_>) -> Finding {
    Finding::new(&LAYOUT_LACKS_COLUMN, room.asked, what)
        .label("asks for this layout")
        .help("name it in the layout's tables, or take another layout")
}

/// Bodies with their furniture, numbered in order.
pub(super) fn finished(
    bodies: Vec<Body>,
    furniture: &Furniture<'_>,
    format: Format,
    asked: Span,
    found: &mut Findings,
) -> Vec<Panel> {
    let count = bodies.len();
    let mut panels = Vec::new();
    for (index, body) in bodies.into_iter().enumerate() {
        let number = format!("{} {} of {count}", unit(format), index + 1);
        let mut marks = furniture.marks(&body.title, &number, asked, found);
        // Reading order: head, content, foot.
        let foot = marks.split_off(4.min(marks.len()));
        let origin = Point { x: furniture.inner.left, y: furniture.inner.top };
        let content = Setting { marks: body.marks, height: Length::ZERO };
        marks.extend(content.at(origin));
        marks.extend(foot);
        panels.push(Panel { size: furniture.size, safe: furniture.safe, title: body.title, marks });
    }
    panels
}

impl Body {
    /// A body by hand.
    pub(super) const fn new(title: String, marks: Vec<Mark>) -> Self {
        Self { title, marks }
    }
}

/// A room for the text of a document.
pub(super) fn room<'a>(layout: &'a Layout, pen: &'a Pen, furniture: &Furniture<'_>, asked: Span) -> Room<'a> {
    Room { layout, pen, width: furniture.inner.width(), height: furniture.inner.height(), asked }
}
