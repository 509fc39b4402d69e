//! A matrix of words: columns of one width side by side, words broken where they must be, and below a row what is to be said of it.

use super::lines::{TextLine, broken, leading, pieces};
use super::pen::{Pen, RULE, Style};
use super::piece::{Piece, Room};
use super::setting::Setting;
use crate::compose::block::{Matrix, MatrixCell, MatrixRow, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{Face, HAIRLINE, Mark, Point, across, down};
use std::ops::Range;
use std::rc::Rc;

/// Between two columns of words at the left.
pub(super) const GAP: Length = Length::hundredths_mm(250);
/// Over and under the text of a row.
const AIR: Length = Length::hundredths_mm(80);
/// Between a rule that stands upright and text.
const INSET: Length = Length::hundredths_mm(180);
/// Where rows of another kind begin.
const BEGINS: Length = Length::twentieths_pt(16);

/// The pieces of a matrix of words, one a row.
pub(super) fn word_pieces(matrix: &Matrix, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let Some(set) = WordMatrix::new(matrix, room, found) else { return Vec::new() };
    let mut all = Vec::new();
    for columns in set.parts() {
        let Some(head) = set.head(&columns) else { continue };
        let head = Rc::new(head);
        for row in &matrix.rows {
            let Some(setting) = set.row(row, &columns) else { continue };
            let words = row.head.first().map(Text::words).unwrap_or_default();
            let (span, label, head) = (row.span, row.label.clone(), Some(Rc::clone(&head)));
            all.push(Piece { setting, span, words, label, head, is_row: true, ..Piece::default() });
        }
    }
    all
}

/// How wide a text is on one line.
pub(super) fn text_width(pen: &Pen, text: &Text, style: Style) -> Length {
    pen.line_width(text, style)
}

struct WordMatrix<'a> {
    matrix: &'a Matrix,
    room: &'a Room<'a>,
    /// Where each column of words at the left begins, and where the cells do.
    heads: Vec<Length>,
    from: Length,
    width: Length,
    /// Most columns beside each other.
    most: usize,
}

impl<'a> WordMatrix<'a> {
    /// Measures a matrix. None, with a finding, where not one column fits.
    fn new(matrix: &'a Matrix, room: &'a Room<'a>, found: &mut Findings) -> Option<Self> {
        let style = room.layout.style(Role::Body);
        let (mut heads, mut from) = (Vec::new(), Length::ZERO);
        for (place, heading) in matrix.heads.iter().enumerate() {
            let words = matrix.rows.iter().filter_map(|row| row.head.get(place));
            let widest = words.map(|text| text_width(room.pen, text, style)).fold(Length::ZERO, Length::max);
            heads.push(from);
            let widest = widest.min(room.width / 4);
            from += widest.max(room.pen.width(heading, room.layout.style(Role::Heading))) + room.layout.air(GAP);
        }
        let mut set = Self { matrix, room, heads, from, width: Length::ZERO, most: 0 };
        let (widest, word) = set.widest_word();
        let least = widest + room.layout.air(INSET) * 2;
        let space = room.width - from;
        set.most = usize::try_from(space.as_grains() / least.as_grains().max(1)).unwrap_or(0);
        if set.most == 0 {
            room.too_wide(word.unwrap_or(&Text::default()), space.max(Length::ZERO), found);
            return None;
        }
        let beside = set.parts().first().map_or(1, |columns| columns.len().max(1));
        set.width = space / i64::try_from(beside).unwrap_or(1);
        Some(set)
    }

    fn parts(&self) -> Vec<Range<usize>> {
        let all = self.matrix.columns.len();
        let size = all.div_ceil(all.div_ceil(self.most.max(1)).max(1)).max(1);
        (0..all).step_by(size).map(|from| from..(from + size).min(all)).collect()
    }

    /// The widest of what stays on one line in a column, and the text that has it.
    fn widest_word(&self) -> (Length, Option<&'a Text>) {
        let Room { layout, pen, .. } = *self.room;
        let word = |text: &'a Text, style: Style| {
            let style = Style { face: Face::Bold, ..style };
            let width = pieces(&text.words()).iter().map(|word| pen.width(word, style)).fold(Length::ZERO, Length::max);
            (width, Some(text))
        };
        let (name, small) = (layout.style(Role::Name), layout.style(Role::Small));
        let heads = self.matrix.columns.iter().flat_map(|column| {
            column.lines.iter().map(move |line| word(line, small)).chain(std::iter::once(word(&column.name, name)))
        });
        let cells = self.matrix.rows.iter().flat_map(|row| &row.cells).map(|cell| match cell {
            MatrixCell::Words(words) => word(words, name),
            MatrixCell::Sign(_) => (Length::ZERO, None),
        });
        heads.chain(cells).fold((Length::ZERO, None), |most, next| if next.0 > most.0 { next } else { most })
    }

    fn x(&self, place: usize) -> Length {
        self.from + self.width * i64::try_from(place).unwrap_or(0)
    }

    /// Lines of a text in a column, one below the other; gives how far down they reach.
    fn put(&self, setting: &mut Setting, lines: &[TextLine], at: Point) -> Length {
        let mut y = at.y;
        for line in lines {
            let baseline = y + (leading(line.size()) + line.size().fraction(689, 1000)) / 2;
            setting
                .marks
                .extend(line.place(self.room.pen, Point { x: at.x, y: baseline }).into_iter().map(Mark::Glyphs));
            y += leading(line.size());
        }
        y
    }

    fn head(&self, columns: &Range<usize>) -> Option<Setting> {
        let Room { layout, pen, width, .. } = *self.room;
        let (air, inset) = (layout.air(AIR), layout.air(INSET));
        let mut setting = Setting::default();
        let mut bottom = air;
        for (place, (words, x)) in self.matrix.heads.iter().zip(&self.heads).enumerate() {
            let from = setting.marks.len();
            let style = layout.style(Role::Heading);
            let baseline = air + (leading(style.size) + style.capital()) / 2;
            let at = Point { x: *x, y: baseline };
            setting.marks.push(Mark::Glyphs(pen.write(words, style, Span::NOWHERE, at)));
            setting.mark_cell(from, place);
        }
        for (place, column) in self.matrix.columns.get(columns.clone()).unwrap_or_default().iter().enumerate() {
            let from = setting.marks.len();
            let mut y = air;
            let texts = std::iter::once((&column.name, Role::Name));
            for (text, role) in texts.chain(column.lines.iter().map(|line| (line, Role::Small))) {
                let lines = broken(pen, text, layout.style(role), self.width - inset * 2)?;
                y = self.put(&mut setting, &lines, Point { x: self.x(place) + inset, y });
            }
            bottom = bottom.max(y);
            setting.mark_cell(from, self.heads.len() + place);
        }
        setting.height = bottom + air;
        let height = setting.height;
        let upright = (0..columns.len()).map(|place| down(self.x(place), Length::ZERO, height, HAIRLINE));
        setting.marks.extend(upright);
        setting.marks.push(across(Length::ZERO, width, height, RULE));
        Some(setting)
    }

    fn row(&self, row: &MatrixRow, columns: &Range<usize>) -> Option<Setting> {
        let Room { layout, pen, width, .. } = *self.room;
        let (air, inset, style) = (layout.air(AIR), layout.air(INSET), layout.style(Role::Body));
        // What a cell says is as large as a name, and as plain as it can be.
        let large = Style { face: style.face, role: style.role, ..layout.style(Role::Name) };
        let mut setting = Setting::default();
        let mut bottom = air;
        for (place, words) in row.head.iter().enumerate() {
            let from = setting.marks.len();
            let left = self.heads.get(place).copied().unwrap_or_default();
            let right = self.heads.get(place + 1).copied().unwrap_or(self.from);
            let lines = broken(pen, words, style, right - left - layout.air(GAP))?;
            bottom = bottom.max(self.put(&mut setting, &lines, Point { x: left, y: air }));
            setting.mark_cell(from, place);
        }
        for (place, cell) in row.cells.get(columns.clone()).unwrap_or_default().iter().enumerate() {
            let MatrixCell::Words(words) = cell else { continue };
            let from = setting.marks.len();
            let lines = broken(pen, words, large, self.width - inset * 2)?;
            bottom = bottom.max(self.put(&mut setting, &lines, Point { x: self.x(place) + inset, y: air }));
            setting.mark_cell(from, self.heads.len() + place);
        }
        bottom += air;
        let upright = (0..columns.len()).map(|place| down(self.x(place), Length::ZERO, bottom, HAIRLINE));
        setting.marks.extend(upright);
        if row.begins {
            setting.marks.push(across(Length::ZERO, width, Length::ZERO, BEGINS));
        }
        let from = setting.marks.len();
        let is_last = columns.end == self.matrix.columns.len();
        for note in row.notes.iter().filter(|_| is_last) {
            let lines = broken(pen, note, style, width - inset)?;
            bottom = self.put(&mut setting, &lines, Point { x: inset, y: bottom });
        }
        setting.mark_cell(from, self.heads.len() + columns.len());
        setting.height = if row.notes.is_empty() || !is_last { bottom } else { bottom + air };
        Some(setting)
    }
}
