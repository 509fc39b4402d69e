//! A matrix of signs: words at the left of each row, steep heads over narrow columns, rules after every fifth, and how many there are of
//! a sign. What has more columns than the page is parted; rows close up a little where all then stand on it.

use super::matrix_words::{GAP, text_width, word_pieces};
use super::pen::{RULE, Style};
use super::piece::{Piece, Room};
use super::setting::Setting;
use crate::compose::block::{Matrix, MatrixCell, MatrixRow, Role, Sign, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{Face, Glyphs, HAIRLINE, Mark, Point, SignMark, Size, Slope, across, down};
use std::ops::Range;
use std::rc::Rc;

/// A cell, and how far it closes up where all cells then stand on the page: a thumb still keeps its row.
const CELL: Size = Size { width: Length::hundredths_mm(550), height: Length::hundredths_mm(460) };
const LEAST: Size = Size { width: Length::hundredths_mm(500), height: Length::hundredths_mm(400) };
/// Rows and columns from rule to rule.
const FIVE: usize = 5;
/// Before counts.
const BEFORE_COUNTS: Length = Length::hundredths_mm(150);
/// Between a rule and text.
const AIR: Length = Length::hundredths_mm(90);
/// Between a sign of the legend and its words, and between two of them.
const BESIDE: Length = Length::hundredths_mm(150);
const APART: Length = Length::mm(7);

/// The pieces of a matrix, one a row; `left` is the height that it has on this page.
pub(super) fn matrix_pieces(matrix: &Matrix, room: &Room<'_>, left: Length, found: &mut Findings) -> Vec<Piece> {
    if !matrix.is_of_signs() {
        return word_pieces(matrix, room, found);
    }
    let Some(set) = SignMatrix::new(matrix, room, left, found) else { return Vec::new() };
    let mut pieces: Vec<Piece> = set.parts().into_iter().flat_map(|part| set.pieces(&part)).collect();
    pieces.push(Piece { setting: set.legend(), ..Piece::default() });
    pieces
}

/// A matrix with its measures.
struct SignMatrix<'a> {
    matrix: &'a Matrix,
    room: &'a Room<'a>,
    style: Style,
    /// Where each column of words begins, and where the cells do.
    heads: Vec<Length>,
    from: Length,
    cell: Size,
    /// Most columns beside each other.
    most: usize,
}

/// Columns beside each other, and whether they are the last: counts of rows stand behind them.
struct MatrixPart {
    columns: Range<usize>,
    is_last: bool,
}

impl<'a> SignMatrix<'a> {
    /// Measures a matrix. None, with a finding, where not one column fits.
    fn new(matrix: &'a Matrix, room: &'a Room<'a>, left: Length, found: &mut Findings) -> Option<Self> {
        let style = room.layout.style(Role::Body);
        let air = |length: Length| room.layout.air(length);
        let (mut heads, mut from) = (Vec::new(), Length::ZERO);
        for (place, heading) in matrix.heads.iter().enumerate() {
            let words = matrix.rows.iter().filter_map(|row| row.head.get(place));
            let widest = words.map(|text| text_width(room.pen, text, style)).fold(Length::ZERO, Length::max);
            heads.push(from);
            from += widest.max(room.pen.width(heading, room.layout.style(Role::Heading))) + air(GAP);
        }
        let (usual, least) = (scaled(CELL, room), scaled(LEAST, room));
        // What is counted stands below the words at the left, with its sign behind it: names shorter than that leave the same room.
        if !matrix.counted.is_empty() {
            from = from.max(text_width(room.pen, &matrix.counts, style) + usual.width);
        }
        let mut set = Self { matrix, room, style, heads, from, cell: usual, most: 0 };
        let count = i64::try_from(matrix.columns.len()).unwrap_or(i64::MAX).max(1);
        let space = room.width - from - set.right();
        if usual.width * count > space && least.width * count <= space {
            set.cell.width = space / count;
        }
        set.most = usize::try_from(space.as_grains() / set.cell.width.as_grains().max(1)).unwrap_or(0);
        if set.most == 0 {
            let name = matrix.columns.first().map(|column| column.name.clone()).unwrap_or_default();
            room.too_wide(&name, space.max(Length::ZERO), found);
            return None;
        }
        let rows = i64::try_from(matrix.rows.len() + matrix.counted.len()).unwrap_or(i64::MAX).max(1);
        let beside = set.parts().iter().map(|part| set.head(part).height).sum::<Length>() + set.legend().height;
        let rows = rows * i64::try_from(set.parts().len()).unwrap_or(1);
        // What stands at the top of a page has a little more air than was taken for it.
        let left = left - air(AIR);
        if beside + usual.height * rows > left && beside + least.height * rows <= left {
            set.cell.height = (left - beside) / rows;
        }
        Some(set)
    }

    /// The width behind the cells: counts of rows, and what the last steep head reaches over them.
    fn right(&self) -> Length {
        let counted = i64::try_from(self.matrix.counted.len()).unwrap_or(0);
        let counts =
            if counted > 0 { self.room.layout.air(BEFORE_COUNTS) + self.cell.width * counted } else { Length::ZERO };
        counts.max(self.longest_name() / 2)
    }

    fn steep(&self) -> Style {
        Style { face: Face::Bold, ..self.style }
    }

    fn longest_name(&self) -> Length {
        let names = self.matrix.columns.iter().map(|column| self.room.pen.width(&column.name.words(), self.steep()));
        names.fold(Length::ZERO, Length::max)
    }

    /// Columns in parts of about one size, whole fives where that is as many parts.
    fn parts(&self) -> Vec<MatrixPart> {
        let all = self.matrix.columns.len();
        let even = all.div_ceil(all.div_ceil(self.most.max(1)).max(1)).max(1);
        let fives = even.next_multiple_of(FIVE);
        let size = if fives <= self.most { fives } else { even };
        let part = |from: usize| MatrixPart { columns: from..(from + size).min(all), is_last: from + size >= all };
        (0..all).step_by(size).map(part).collect()
    }

    fn pieces(&self, part: &MatrixPart) -> Vec<Piece> {
        let head = Rc::new(self.head(part));
        let row = |setting: Setting| Piece {
            setting,
            head: Some(Rc::clone(&head)),
            is_row: true,
            is_open: true,
            ..Piece::default()
        };
        let mut pieces = Vec::new();
        for (index, each) in self.matrix.rows.iter().enumerate() {
            pieces.push(Piece {
                span: each.span,
                words: each.head.first().map(Text::words).unwrap_or_default(),
                label: each.label.clone(),
                ..row(self.row(index, each, part))
            });
        }
        for (index, sign) in self.matrix.counted.iter().enumerate() {
            pieces.push(row(self.counts(index, *sign, part)));
        }
        // What was counted stands with the last row, and the legend with both.
        let kept = self.matrix.counted.len() + 1;
        let is_kept = |piece: &mut Piece| piece.keeps_next = true;
        pieces.iter_mut().rev().take(kept).skip(usize::from(!part.is_last)).for_each(is_kept);
        pieces
    }

    /// The left edge of a place among the columns of a part.
    fn x(&self, place: usize) -> Length {
        self.from + self.cell.width * i64::try_from(place).unwrap_or(0)
    }

    fn middle(&self, place: usize) -> Length {
        self.x(place) + self.cell.width / 2
    }

    /// The middle of the counts of a sign, behind the columns of a part.
    fn count_middle(&self, part: &MatrixPart, place: usize) -> Length {
        self.middle(part.columns.len() + place) + self.room.layout.air(BEFORE_COUNTS)
    }

    /// Where a part ends.
    fn end(&self, part: &MatrixPart) -> Length {
        let counted = if part.is_last { self.matrix.counted.len() } else { 0 };
        let gap = if counted > 0 { self.room.layout.air(BEFORE_COUNTS) } else { Length::ZERO };
        self.x(part.columns.len() + counted) + gap
    }

    fn sign(&self, sign: Sign, at: Point) -> Mark {
        let size = self.room.layout.air(sign_size(sign));
        Mark::Sign(SignMark { sign, at, size, text: self.matrix.meaning(sign), place: Default::default() })
    }

    fn centred(&self, words: &str, middle: Length, baseline: Length) -> Mark {
        let run = self.room.pen.write(words, self.style, Span::NOWHERE, Point { x: middle, y: baseline });
        Mark::Glyphs(Glyphs { at: Point { x: middle - run.width / 2, y: baseline }, ..run })
    }

    /// Names at 60 degrees, numbers below them, and over the words at the left what they are.
    fn head(&self, part: &MatrixPart) -> Setting {
        let Self { room, style, .. } = *self;
        let (air, capital) = (room.layout.air(AIR), style.capital());
        let foot = air + self.longest_name().fraction(866, 1000) + capital / 2;
        let has_numbers = self.matrix.columns.iter().any(|column| !column.number.is_empty());
        let numbers = if has_numbers { foot + air + style.tail() / 2 + capital } else { foot };
        let mut setting = Setting { marks: Vec::new(), height: numbers + style.tail() + air / 2 };
        let heading = room.layout.style(Role::Heading);
        for (place, (words, x)) in self.matrix.heads.iter().zip(&self.heads).enumerate() {
            let from = setting.marks.len();
            let at = Point { x: *x, y: numbers };
            setting.marks.push(Mark::Glyphs(room.pen.write(words, heading, Span::NOWHERE, at)));
            setting.mark_cell(from, place);
        }
        let columns = self.matrix.columns.get(part.columns.clone()).unwrap_or_default();
        for (place, column) in columns.iter().enumerate() {
            let (from, middle) = (setting.marks.len(), self.middle(place));
            // The foot of the letters stands over the middle of the column.
            let at = Point { x: middle + capital.fraction(433, 1000), y: foot };
            let name = room.pen.write(&column.name.words(), self.steep(), column.name.span, at);
            setting.marks.push(Mark::Glyphs(Glyphs { slope: Slope::Steep, ..name }));
            if !column.number.is_empty() {
                setting.marks.push(self.centred(&column.number, middle, numbers));
            }
            setting.mark_cell(from, self.heads.len() + place);
        }
        for (place, sign) in self.matrix.counted.iter().enumerate().filter(|_| part.is_last) {
            let from = setting.marks.len();
            let at = Point { x: self.count_middle(part, place), y: numbers - capital / 2 };
            setting.marks.push(self.sign(*sign, at));
            setting.mark_cell(from, self.heads.len() + columns.len() + place);
        }
        setting.marks.push(across(Length::ZERO, self.end(part), setting.height, RULE));
        setting
    }

    fn row(&self, index: usize, row: &MatrixRow, part: &MatrixPart) -> Setting {
        let height = self.cell.height;
        let baseline = (height + self.style.capital()) / 2;
        let mut setting = Setting { marks: Vec::new(), height };
        for (place, (words, x)) in row.head.iter().zip(&self.heads).enumerate() {
            let from = setting.marks.len();
            let line = self.room.pen.line(words, self.style, Point { x: *x, y: baseline });
            setting.marks.extend(line.into_iter().map(Mark::Glyphs));
            setting.mark_cell(from, place);
        }
        let cells = row.cells.get(part.columns.clone()).unwrap_or_default();
        for (place, sign) in cells.iter().map(MatrixCell::sign).enumerate() {
            let from = setting.marks.len();
            let at = Point { x: self.middle(place), y: height / 2 };
            setting.marks.extend(sign.map(|sign| self.sign(sign, at)));
            setting.mark_cell(from, self.heads.len() + place);
        }
        for (place, sign) in self.matrix.counted.iter().enumerate().filter(|_| part.is_last) {
            let from = setting.marks.len();
            let count = row.count(*sign).to_string();
            setting.marks.push(self.centred(&count, self.count_middle(part, place), baseline));
            setting.mark_cell(from, self.heads.len() + cells.len() + place);
        }
        if index > 0 && index.is_multiple_of(FIVE) {
            setting.marks.push(across(Length::ZERO, self.end(part), Length::ZERO, HAIRLINE));
        }
        let is_ruled =
            |column: &usize| column.is_multiple_of(FIVE) || [part.columns.start, part.columns.end].contains(column);
        let ruled = (part.columns.start..=part.columns.end).filter(is_ruled);
        let lines = ruled.map(|column| down(self.x(column - part.columns.start), Length::ZERO, height, HAIRLINE));
        setting.marks.extend(lines);
        setting
    }

    /// How often a sign stands in each column; a column of dashes alone has a dash.
    fn counts(&self, index: usize, sign: Sign, part: &MatrixPart) -> Setting {
        let height = self.cell.height;
        let baseline = (height + self.style.capital()) / 2;
        let mut setting = Setting { marks: Vec::new(), height };
        let right = self.from - self.cell.width / 2;
        if index == 0 {
            let words = &self.matrix.counts;
            let x = right - self.cell.width / 2 - text_width(self.room.pen, words, self.style);
            let line = self.room.pen.line(words, self.style, Point { x: x.max(Length::ZERO), y: baseline });
            setting.marks.extend(line.into_iter().map(Mark::Glyphs));
            setting.marks.push(across(Length::ZERO, self.end(part), Length::ZERO, RULE));
        }
        setting.marks.push(self.sign(sign, Point { x: right, y: height / 2 }));
        setting.mark_cell(0, 0);
        for (place, column) in part.columns.clone().enumerate() {
            let from = setting.marks.len();
            let is_void = self.matrix.count(column, Sign::Dash) == self.matrix.rows.len();
            setting.marks.push(match is_void {
                true => self.sign(Sign::Dash, Point { x: self.middle(place), y: height / 2 }),
                false => {
                    let count = self.matrix.count(column, sign).to_string();
                    self.centred(&count, self.middle(place), baseline)
                }
            });
            setting.mark_cell(from, self.heads.len() + place);
        }
        setting
    }

    /// What the signs mean, below a rule.
    fn legend(&self) -> Setting {
        let room = self.room;
        let style = room.layout.style(Role::Small);
        let (air, apart, leading) = (
            room.layout.air(AIR),
            room.layout.air(APART),
            super::lines::leading(style.size) + room.layout.air(AIR) / 2,
        );
        let mut setting = Setting { marks: vec![across(Length::ZERO, room.width, Length::ZERO, RULE)], height: air };
        let (mut x, mut baseline) = (Length::ZERO, air * 2 + style.capital());
        for (sign, words) in &self.matrix.legend {
            let mark = sign.map(|sign| room.layout.air(sign_size(sign)));
            let before = mark.map_or(Length::ZERO, |size| size + room.layout.air(BESIDE));
            let width = before + text_width(room.pen, words, style);
            if x > Length::ZERO && x + width > room.width {
                (x, baseline) = (Length::ZERO, baseline + leading);
            }
            if let (Some(sign), Some(size)) = (sign, mark) {
                let at = Point { x: x + size / 2, y: baseline - style.capital() / 2 };
                setting.marks.push(self.sign(*sign, at));
            }
            let line = room.pen.line(words, style, Point { x: x + before, y: baseline });
            setting.marks.extend(line.into_iter().map(Mark::Glyphs));
            x += width + apart;
        }
        setting.height = baseline + style.tail();
        setting
    }
}

/// How large a sign is: the square fills its cell, the dot only says that the cell was thought of.
const fn sign_size(sign: Sign) -> Length {
    Length::hundredths_mm(match sign {
        Sign::Filled => 280,
        Sign::Ring => 260,
        Sign::Dot => 80,
        Sign::Dash => 180,
    })
}

fn scaled(size: Size, room: &Room<'_>) -> Size {
    Size { width: room.layout.air(size.width), height: room.layout.air(size.height) }
}
