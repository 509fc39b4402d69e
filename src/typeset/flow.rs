//! Fills panels with pieces, in order; nothing is parted that belongs together, nothing is left out.

use super::format::Format;
use super::furniture::Furniture;
use super::layout::{DIALLED_FLOOR, Layout, SMALL, TableSet};
use super::lines::paragraph;
use super::mark::{CellPlace, Mark, Panel, Place, Point};
use super::pen::{HAIRLINE, Pen, RULE, Style, across};
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
/// More air over a strip at the top.
const STRIP_TOP: Length = Length::hundredths_mm(150);

/// A filled panel without its furniture.
pub(super) struct Body {
    title: String,
    marks: Vec<Mark>,
    /// How much of its height is taken, and how much there is.
    fill: (Length, Length),
}

/// A panel, or a column of one, being filled.
struct Filling {
    title: String,
    /// Index of its first piece.
    first: usize,
    /// Air over what stands at the top.
    top: Length,
    marks: Vec<Mark>,
    y: Length,
    /// First and last label of the rows on it.
    range: Option<(String, String)>,
    /// The headings that stand over the rows being set.
    head: Option<Rc<Setting>>,
    /// Which mark is the rule under the last row.
    last_rule: Option<usize>,
    /// Blocks and tables so far, and rows of the last table.
    blocks: u32,
    tables: u16,
    rows: u16,
}

impl Filling {
    fn new(title: String, layout: &Layout) -> Self {
        Self {
            title,
            first: 0,
            top: layout.air(TOP),
            marks: Vec::new(),
            y: Length::ZERO,
            range: None,
            head: None,
            last_rule: None,
            blocks: 0,
            tables: 0,
            rows: 0,
        }
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
            (true, false) => self.top + piece.top,
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
        let begins_table = piece.is_row && (self.new_head(piece).is_some() || self.last_rule.is_none());
        if begins_table {
            self.tables += 1;
            self.rows = 0;
        }
        if let Some(head) = self.new_head(piece).map(Rc::clone) {
            self.add(&head, true);
            self.head = Some(head);
        }
        self.rows += 1;
        self.add(&piece.setting, piece.is_row);
        if piece.is_row {
            self.last_rule = Some(self.marks.len());
            self.marks.push(across(Length::ZERO, width, self.y, HAIRLINE));
        }
        if !piece.label.is_empty() {
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
            if let Mark::Glyphs(glyphs) = &mut mark {
                // Headings have no cells of their own yet: each run is one.
                let column = glyphs.place.cell.map_or(next, |cell| cell.column);
                next = column + 1;
                let cell = is_row.then_some(CellPlace { table, row, column });
                glyphs.place = Place { block, cell };
            }
            self.marks.push(mark);
        }
        self.y += setting.height;
    }

    fn finish(mut self, has_range: bool, height: Length) -> Body {
        self.close_table();
        let title = match self.range.filter(|_| has_range) {
            Some((first, last)) if first == last => format!("{} {first}", self.title),
            Some((first, last)) => format!("{} {first}\u{2013}{last}", self.title),
            None => self.title,
        };
        Body { title, marks: self.marks, fill: (self.y, height) }
    }
}

/// All bodies of a document.
pub(super) fn bodies(document: &Document, room: &Room<'_>, found: &mut Findings) -> Vec<Body> {
    let layout = room.layout;
    let columns = Columns::of(layout, room.width);
    let room = Room { width: columns.width, ..*room };
    let mut runs: Vec<Vec<Titled>> = Vec::new();
    for section in in_order(&document.sections, layout) {
        let mut pieces = pieces(section, &room, found);
        let follows = !layout.format.has_panels() && !runs.is_empty();
        if follows {
            let title = heading(&section.title, Role::Title, &room, found);
            pieces.insert(0, Piece { is_title: true, ..title });
        }
        let title: Rc<str> = section.title.words().into();
        let pieces = pieces.into_iter().map(|piece| Titled { title: Rc::clone(&title), piece });
        match runs.last_mut().filter(|_| follows) {
            Some(run) => run.extend(pieces),
            None => runs.push(pieces.collect()),
        }
    }
    let mut bodies = Vec::new();
    for (section, run) in in_order(&document.sections, layout).into_iter().zip(&runs) {
        let filled = filled(run, &room, room.height, found);
        let filled = if filled.is_empty() { vec![Filling::new(section.title.words(), room.layout)] } else { filled };
        bodies.extend(columns.joined(filled, run, &room));
    }
    bodies
}

/// Sections as the layout wants them: those that it names first, then the others as composed.
fn in_order<'a>(sections: &'a [Section], layout: &Layout) -> Vec<&'a Section> {
    let mut ordered: Vec<&Section> = sections.iter().collect();
    let place = |section: &&Section| layout.order.iter().position(|key| key == section.key);
    ordered.sort_by_key(|section| place(section).unwrap_or(layout.order.len()));
    ordered
}

/// A piece with the title of its section.
struct Titled {
    title: Rc<str>,
    piece: Piece,
}

/// Sets pieces one below the other, in as many columns of `height` as it takes. What is higher than the room is reported.
fn filled(pieces: &[Titled], room: &Room<'_>, height: Length, found: &mut Findings) -> Vec<Filling> {
    let mut done = Vec::new();
    let mut open: Option<Filling> = None;
    let columns = usize::from(room.layout.columns.max(1));
    for (index, Titled { title, piece }) in pieces.iter().enumerate() {
        let mut column = open.take().unwrap_or_else(|| Filling::new(title.to_string(), room.layout));
        // What must stand with the next pieces is judged together with them.
        let together = column.needs(piece) + kept(pieces.get(index..).unwrap_or_default());
        if column.y + together > height && !column.is_empty() {
            done.push(column);
            column = Filling::new(title.to_string(), room.layout);
            column.first = index;
        }
        // At the top of a page the title stands over it already.
        let is_said = piece.is_title && column.is_empty() && done.len() % columns == 0;
        if is_said {
            column.title = title.to_string();
        } else if column.needs(piece) > room.height {
            found.push(does_not_fit(&piece.words, piece.span, room.asked, "high", room.height));
        } else {
            column.put(piece, room.width);
        }
        open = Some(column);
    }
    done.extend(open);
    done
}

/// The last block and table of some marks.
fn last_place(marks: &[Mark]) -> (u32, u16) {
    let places = marks.iter().filter_map(|mark| match mark {
        Mark::Glyphs(glyphs) => Some(glyphs.place),
        _ => None,
    });
    places.fold((0, 0), |(block, table), place| {
        (block.max(place.block), table.max(place.cell.map_or(0, |cell| cell.table)))
    })
}

/// A mark of another column, read after the blocks and tables of the columns before.
fn placed_after(mut mark: Mark, (block, table): (u32, u16)) -> Mark {
    if let Mark::Glyphs(glyphs) = &mut mark {
        glyphs.place.block += block;
        if let Some(cell) = &mut glyphs.place.cell {
            cell.table += table;
        }
    }
    mark
}

/// The height of what the first of some pieces must stand with.
fn kept(pieces: &[Titled]) -> Length {
    let keeps = pieces.iter().take_while(|titled| titled.piece.keeps_next).count();
    pieces.iter().skip(1).take(keeps).map(|titled| titled.piece.whole()).sum()
}

/// Columns of text side by side.
struct Columns {
    count: usize,
    width: Length,
}

/// Between two columns of text.
const GUTTER: Length = Length::mm(9);

impl Columns {
    fn of(layout: &Layout, width: Length) -> Self {
        let count = i64::from(layout.columns.max(1));
        Self { count: usize::from(layout.columns.max(1)), width: (width - GUTTER * (count - 1)) / count }
    }

    /// Columns on panels, those of the last panel of one height.
    fn joined(&self, mut filled: Vec<Filling>, pieces: &[Titled], room: &Room<'_>) -> Vec<Body> {
        let last = (filled.len().saturating_sub(1) / self.count) * self.count;
        if let Some(first) = filled.get(last).map(|column| column.first).filter(|_| self.count > 1) {
            let rest = pieces.get(first..).unwrap_or_default();
            let balanced = self.balanced(rest, room);
            filled.truncate(last);
            filled.extend(balanced);
        }
        let has_range = room.layout.format.has_panels();
        let mut bodies: Vec<Body> = Vec::new();
        for (index, column) in filled.into_iter().enumerate() {
            let used = column.y;
            let Body { title, marks, .. } = column.finish(has_range, room.height);
            let place = index % self.count;
            let x = (self.width + GUTTER) * i64::try_from(place).unwrap_or(0);
            let moved = Setting { marks, height: Length::ZERO };
            let moved: Vec<Mark> = moved.at(Point { x, y: Length::ZERO }).collect();
            match bodies.last_mut().filter(|_| place > 0) {
                Some(body) => {
                    let after = last_place(&body.marks);
                    body.marks.extend(moved.into_iter().map(|mark| placed_after(mark, after)));
                    body.fill.0 = body.fill.0.max(used);
                }
                None => bodies.push(Body { title, marks: moved, fill: (used, room.height) }),
            }
        }
        bodies
    }

    /// The least height at which the pieces still stand in the columns, found by halving.
    fn balanced(&self, pieces: &[Titled], room: &Room<'_>) -> Vec<Filling> {
        // What does not fit was reported when the columns were filled.
        let mut unheard = Findings::default();
        let mut at = |height: Length| filled(pieces, room, height, &mut unheard);
        let (mut low, mut high) = (Length::ZERO, room.height);
        while high - low > Length::mm(1) {
            let middle = (low + high) / 2;
            if at(middle).len() <= self.count { high = middle } else { low = middle }
        }
        at(high)
    }
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
            let mut pieces = form::set(block, room, room.height - taken - room.layout.air(BEFORE), found);
            if let Some(first) = pieces.first_mut() {
                first.before = room.layout.air(BEFORE);
            }
            taken += pieces.iter().map(|piece| piece.before + piece.setting.height).sum();
            set.push((index, pieces));
        }
    }
    set.sort_by_key(|(index, _)| *index);
    let mut pieces: Vec<Piece> = set.into_iter().flat_map(|(_, pieces)| pieces).collect();
    keep_together(&mut pieces, room.height / 3);
    pieces
}

/// A heading and the few lines under it are not parted where they are small.
fn keep_together(pieces: &mut [Piece], small: Length) {
    for group in pieces.chunk_by_mut(|_, next| !next.is_heading) {
        let height: Length = group.iter().map(Piece::whole).sum();
        let is_small = group.first().is_some_and(|first| first.is_heading) && height <= small;
        if let Some((_, others)) = group.split_last_mut().filter(|_| is_small) {
            others.iter_mut().for_each(|piece| piece.keeps_next = true);
        }
    }
}

fn block_pieces(block: &Block, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    match block {
        Block::Heading(text) => vec![heading(text, Role::Name, room, found)],
        Block::Paragraph(block) => vec![one(&block.text, block.role, room.layout.air(BEFORE), room, found)],
        Block::Table(table) => table_pieces(table, room, found),
        Block::Form(_) => Vec::new(),
        Block::Strip(block) => {
            let is_readable = strip::figures(room.layout.scale()) >= DIALLED_FLOOR;
            if !room.layout.is_dense && !is_readable {
                found.push(not_dense(block, room));
                return Vec::new();
            }
            let Some(setting) =
                strip::set(room.pen, block, room.layout, (room.width, room.height - room.layout.air(TOP + STRIP_TOP)))
            else {
                found.push(too_crowded(block, room));
                return Vec::new();
            };
            let top = room.layout.air(STRIP_TOP);
            vec![Piece { top, ..drawn(Some(setting), &block.title, room.layout.air(BEFORE_STRIP), room, found) }]
        }
        Block::Symbol(block) => {
            let before = found.len();
            let setting = symbol::set(
                room.pen,
                block,
                caption_style(room.layout),
                (room.width, room.height - room.layout.air(TOP)),
                found,
            );
            if setting.is_none() && found.len() > before {
                return Vec::new();
            }
            vec![drawn(setting, &block.caption, room.layout.air(BEFORE), room, found)]
        }
    }
}

/// Captions of symbols are read beside them, from further away than other small text.
fn caption_style(layout: &Layout) -> Style {
    let style = layout.style(Role::Small);
    Style { size: style.size.max(SMALL), ..style }
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
    Piece { keeps_next: true, is_heading: true, ..one(text, role, room.layout.air(BEFORE_HEADING), room, found) }
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
        return vec![one(&table.when_empty, Role::Body, room.layout.air(BEFORE), room, found)];
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
        first.before = room.layout.air(BEFORE);
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
        let number = format!("{} {} of {count}", format.unit(), index + 1);
        let mut marks = furniture.marks(&body.title, &number, asked, found);
        // Reading order: head, content, foot.
        let foot = marks.split_off(4.min(marks.len()));
        let origin = Point { x: furniture.inner.left, y: furniture.inner.top };
        let content = Setting { marks: body.marks, height: Length::ZERO };
        marks.extend(content.at(origin));
        marks.extend(foot);
        panels.push(Panel { size: furniture.size, safe: furniture.safe, title: body.title, fill: body.fill, marks });
    }
    panels
}

impl Body {
    /// A body by hand.
    pub(super) const fn new(title: String, marks: Vec<Mark>) -> Self {
        Self { title, marks, fill: (Length::ZERO, Length::ZERO) }
    }
}

/// A room for the text of a document.
pub(super) fn room<'a>(layout: &'a Layout, pen: &'a Pen, furniture: &Furniture<'_>, asked: Span) -> Room<'a> {
    Room { layout, pen, width: furniture.inner.width(), height: furniture.inner.height(), asked }
}
