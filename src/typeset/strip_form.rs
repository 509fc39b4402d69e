//! The two forms of a strip, with every measure: one for pages, one so low that all strips of a plan stand on one sheet.

use super::pen::{Pen, Style};
use crate::compose::block::{Join, Role, StripFlag, Text};
use crate::ground::Length;
use crate::sheet::{Glyphs, Point};

/// Sizes and distances of a strip.
#[derive(PartialEq, Eq, Debug)]
pub(super) struct StripForm {
    /// How long its line is where there is room: bands have one scale on all papers.
    pub line: Length,
    /// What stands left of the line; the title too where it has no line of its own.
    pub gutter: Length,
    /// The line with the title above the strip.
    pub head: Option<Length>,
    /// What is said beside the title.
    pub note: Style,
    pub name: Style,
    pub figure: Style,
    /// The figure of what is not of the plan.
    pub other: Style,
    pub word: Style,
    pub detail: Style,
    /// A level of flags with two lines of words, and with one.
    pub level: Length,
    pub low_level: Length,
    /// Levels of flags at most.
    pub levels: usize,
    /// Between name and figure.
    pub apart: Length,
    /// The knee of leaders, and of those that are straight.
    pub knee: Length,
    pub straight: Length,
    /// A bar on the line, and half a diamond.
    pub bar: Length,
    pub diamond: Length,
    /// Ticks: short, middle, long.
    pub ticks: [Length; 3],
    /// From the line to the foot of its numerals.
    pub numeral_foot: Length,
    pub numeral: Style,
    /// From bracket to bracket.
    pub bracket: Length,
    pub ribbon: Length,
    /// A thin row.
    pub thin: Length,
    /// Between two strips.
    pub air: Length,
}

/// Bands' titles.
pub(super) const TITLE: Style = Style::bold(360, Role::Title);
/// Words of ribbons, letters of thin rows, names of rows.
pub(super) const MEANING: Style = Style::regular(140, Role::Small);
/// Words of brackets: 8 pt figures are 1.94 mm high, the floor for what is dialled from a dense sheet.
pub(super) const JOIN_NAME: Style = Style::bold(160, Role::Name);
pub(super) const JOIN: Style = Style::regular(160, Join::FIGURE);
/// The least size of what is dialled on a strip.
const LEAST: Style = JOIN;

/// From a line of ribbon words to the next.
pub(super) const MEANING_LINE: Length = Length::hundredths_mm(290);
/// Between a pole and its words.
pub(super) const GAP: Length = Length::hundredths_mm(80);
/// Between a row's name and the line's left end.
pub(super) const BESIDE: Length = Length::hundredths_mm(130);
/// The line itself, its ends, brackets, leaders and outlines.
pub(super) const LINE: Length = Length::twentieths_pt(32);
pub(super) const END: Length = Length::twentieths_pt(14);
pub(super) const BRACKET: Length = Length::twentieths_pt(12);
pub(super) const THIN: Length = Length::twentieths_pt(10);
/// Where a line is broken.
pub(super) const BREAK: Length = Length::mm(9);

/// How much larger than drawn a strip is: where text is, so much that its smallest words are as large as the others.
pub(super) const fn scale((numerator, denominator): (i64, i64)) -> (i64, i64) {
    if numerator > denominator { (numerator, MEANING.size.as_grains()) } else { (numerator, denominator) }
}

const fn figure(style: Style) -> Style {
    Style { role: StripFlag::FIGURE, ..style }
}

/// For pages that are read at the table.
pub(super) const PAGE: StripForm = StripForm {
    line: Length::mm(232),
    gutter: Length::mm(13),
    head: Some(Length::mm(8)),
    note: Style::regular(180, Role::Small),
    name: Style::bold(210, Role::Name),
    figure: figure(Style::medium(210, Role::Small)),
    other: figure(Style::regular(200, Role::Small)),
    word: Style::regular(160, Role::Small),
    detail: Style::regular(160, Role::Small),
    level: Length::hundredths_mm(680),
    low_level: Length::hundredths_mm(420),
    levels: 4,
    apart: Length::hundredths_mm(160),
    knee: Length::hundredths_mm(400),
    straight: Length::hundredths_mm(120),
    bar: Length::hundredths_mm(300),
    diamond: Length::hundredths_mm(150),
    ticks: [Length::hundredths_mm(110), Length::hundredths_mm(160), Length::hundredths_mm(220)],
    numeral_foot: Length::hundredths_mm(470),
    numeral: Style::regular(170, Role::Small),
    bracket: Length::hundredths_mm(420),
    ribbon: Length::hundredths_mm(460),
    thin: Length::hundredths_mm(300),
    air: Length::hundredths_mm(300),
};

/// For one sheet that hangs on the wall.
pub(super) const WALL: StripForm = StripForm {
    line: Length::mm(280),
    gutter: Length::mm(23),
    head: None,
    note: Style::regular(140, Role::Small),
    name: Style::bold(190, Role::Name),
    figure: figure(Style::medium(190, Role::Small)),
    other: figure(Style::regular(180, Role::Small)),
    word: Style::regular(140, Role::Small),
    detail: Style::regular(150, Role::Small),
    level: Length::hundredths_mm(630),
    low_level: Length::hundredths_mm(350),
    levels: 3,
    apart: Length::hundredths_mm(150),
    knee: Length::hundredths_mm(350),
    straight: Length::hundredths_mm(90),
    bar: Length::hundredths_mm(250),
    diamond: Length::hundredths_mm(135),
    ticks: [Length::hundredths_mm(70), Length::hundredths_mm(100), Length::hundredths_mm(140)],
    numeral_foot: Length::hundredths_mm(380),
    numeral: Style::regular(160, Role::Small),
    bracket: Length::hundredths_mm(340),
    ribbon: Length::hundredths_mm(420),
    thin: Length::hundredths_mm(225),
    air: Length::hundredths_mm(235),
};

/// Size of the least figures on a strip that is drawn `scale` as large as here.
pub(super) const fn figures((numerator, denominator): (i64, i64)) -> Length {
    LEAST.size.fraction(numerator, denominator)
}

/// A style with no thin strokes, where that is asked for.
pub(super) fn cut(style: Style, is_heavy: bool) -> Style {
    Style { face: if is_heavy { style.face.heavier() } else { style.face }, ..style }
}

/// Texts of several styles on one line, with so much air between them.
pub(super) fn row(pen: &Pen, texts: &[(&Text, Style)], apart: Length, at: Point) -> Vec<Glyphs> {
    let mut x = at.x;
    let mut runs = Vec::new();
    for (text, style) in texts.iter().filter(|(text, _)| !text.is_empty()) {
        let line = pen.line(text, *style, Point { x, y: at.y });
        x += line.iter().map(|run| run.width).sum::<Length>() + apart;
        runs.extend(line);
    }
    runs
}

/// How wide such a line is.
pub(super) fn row_width(pen: &Pen, texts: &[(&Text, Style)], apart: Length) -> Length {
    let widths = texts.iter().filter(|(text, _)| !text.is_empty()).map(|(text, style)| pen.line_width(text, *style));
    widths.reduce(|row, width| row + apart + width).unwrap_or(Length::ZERO)
}
