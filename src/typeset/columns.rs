//! Pieces in columns, columns on panels.

use super::filling::{Body, Filling};
use super::layout::Layout;
use super::piece::{Piece, Room};
use super::setting::moved;
use crate::ground::{Findings, Length};
use crate::sheet::{Mark, Point};
use std::rc::Rc;

/// A piece with the title of its section.
pub(super) struct Titled {
    pub title: Rc<str>,
    pub piece: Piece,
}

/// Sets pieces one below the other, in as many columns as it takes, each as high as `height` says of its number. What is higher than
/// its column is reported. Where there is one column, the marks go with it: of a piece its measures are left.
pub(super) fn filled(
    pieces: &mut [Titled],
    room: &Room<'_>,
    height: impl Fn(usize) -> Length,
    found: &mut Findings,
) -> Vec<Filling> {
    let mut done = Vec::new();
    let mut open: Option<Filling> = None;
    let columns = usize::from(room.layout.columns.max(1));
    for index in 0..pieces.len() {
        let Some(Titled { title, piece }) = pieces.get(index) else { continue };
        let mut column = open.take().unwrap_or_else(|| Filling::new(title.to_string(), room.layout));
        // What must stand with the next pieces is judged together with them.
        let others = kept(pieces.get(index..).unwrap_or_default());
        let together = column.needs(piece) + taken(others);
        let clear = others.last().filter(|_| !column.is_empty()).map(|last| room.clear_under(&last.piece));
        let clear = clear.unwrap_or_default();
        let is_over = piece.begins_panel || column.y + together + clear > height(done.len());
        if is_over && !column.is_empty() {
            done.push(column);
            column = Filling::new(title.to_string(), room.layout);
            column.first = index;
        }
        // At the top of a page the title stands over it already.
        let is_said = piece.is_title && column.is_empty() && done.len() % columns == 0;
        if is_said {
            column.title = title.to_string();
        } else if column.needs(piece) > height(done.len()).max(room.height) {
            room.too_high(piece, column.needs(piece), found);
        } else if let Some(Titled { piece, .. }) = pieces.get_mut(index) {
            // Columns side by side are filled again until they are of one height.
            let marks = &mut piece.setting.marks;
            let marks = if columns == 1 { std::mem::take(marks) } else { marks.clone() };
            column.put(piece, marks, room.width);
        }
        open = Some(column);
    }
    done.extend(open);
    done
}

/// The last block and table of some marks.
pub(super) fn last_place(marks: &[Mark]) -> (u32, u16) {
    let places = marks.iter().filter_map(|mark| match mark {
        Mark::Glyphs(glyphs) => Some(glyphs.place),
        Mark::Sign(sign) => Some(sign.place),
        _ => None,
    });
    places.fold((0, 0), |(block, table), place| {
        (block.max(place.block), table.max(place.cell.map_or(0, |cell| cell.table)))
    })
}

/// A mark of another column, read after the blocks and tables of the columns before.
pub(super) fn placed_after(mut mark: Mark, (block, table): (u32, u16)) -> Mark {
    if let Some(place) = mark.place_mut() {
        place.block += block;
        if let Some(cell) = &mut place.cell {
            cell.table += table;
        }
    }
    mark
}

/// The first of some pieces with those that it must stand with.
fn kept(pieces: &[Titled]) -> &[Titled] {
    let keeps = pieces.iter().take_while(|titled| titled.piece.keeps_next).count();
    pieces.get(..=keeps).unwrap_or(pieces)
}

/// How high those behind the first are.
fn taken(pieces: &[Titled]) -> Length {
    let whole =
        |pair: &[Titled]| pair.last().map_or(Length::ZERO, |last| last.piece.whole(pair.first().map(|t| &t.piece)));
    pieces.windows(2).map(whole).sum()
}

/// Columns of text side by side.
pub(super) struct Columns {
    count: usize,
    /// How wide one is.
    pub width: Length,
}

/// Between two columns of text.
const GUTTER: Length = Length::mm(9);

impl Columns {
    /// The columns of a layout.
    pub fn of(layout: &Layout, width: Length) -> Self {
        let count = i64::from(layout.columns.max(1));
        Self { count: usize::from(layout.columns.max(1)), width: (width - GUTTER * (count - 1)) / count }
    }

    /// Whether text stands on its panel as one column.
    pub const fn is_one(&self) -> bool {
        self.count == 1
    }

    /// The panel on which a column stands.
    pub const fn panel(&self, column: usize) -> usize {
        column / self.count
    }

    /// How high a column is: the first page bears what is said once.
    pub fn height(&self, column: usize, room: &Room<'_>) -> Length {
        if self.panel(column) == 0 { room.height } else { room.height + room.more }
    }

    /// Columns on panels, those of the last panel of one height.
    pub fn joined(&self, mut filled: Vec<Filling>, pieces: &mut [Titled], room: &Room<'_>) -> Vec<Body> {
        let last = (filled.len().saturating_sub(1) / self.count) * self.count;
        if let Some(first) = filled.get(last).map(|column| column.first).filter(|_| self.count > 1) {
            let rest = pieces.get_mut(first..).unwrap_or_default();
            let balanced = self.balanced(rest, room, self.height(last, room));
            filled.truncate(last);
            filled.extend(balanced);
        }
        // On a page of its own a list needs no range.
        let has_range = room.layout.format.has_panels() || (self.count == 1 && filled.len() > 1);
        let mut bodies: Vec<Body> = Vec::new();
        for (index, column) in filled.into_iter().enumerate() {
            let (used, height) = (column.y, self.height(index, room));
            let Body { title, marks, is_front, .. } = column.finish(has_range, room, height);
            let place = index % self.count;
            let x = (self.width + GUTTER) * i64::try_from(place).unwrap_or(0);
            let moved: Vec<Mark> = marks.into_iter().map(|mark| moved(mark, Point { x, y: Length::ZERO })).collect();
            match bodies.last_mut().filter(|_| place > 0) {
                Some(body) => {
                    let after = last_place(&body.marks);
                    body.marks.extend(moved.into_iter().map(|mark| placed_after(mark, after)));
                    body.fill.0 = body.fill.0.max(used);
                }
                None => bodies.push(Body { title, marks: moved, fill: (used, height), is_front }),
            }
        }
        bodies
    }

    /// The least height at which the pieces still stand in the columns, found by halving.
    fn balanced(&self, pieces: &mut [Titled], room: &Room<'_>, most: Length) -> Vec<Filling> {
        // What does not fit was reported when the columns were filled.
        let mut unheard = Findings::default();
        let mut at = |height: Length| filled(pieces, room, |_| height, &mut unheard);
        let (mut low, mut high) = (Length::ZERO, most);
        while high - low > Length::mm(1) {
            let middle = (low + high) / 2;
            if at(middle).len() <= self.count { high = middle } else { low = middle }
        }
        at(high)
    }
}
