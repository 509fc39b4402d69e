//! Where panels stand on pages.

use super::sheet::{Duplex, Job, Page, Placed};
use crate::compose::block::{Document, Role, Text};
use crate::ground::Length;
use crate::typeset::layout::{Format, Layout};
use crate::typeset::mark::{Line, Mark, Point, Size};
use crate::typeset::pen::{HAIRLINE, Pen, across, down};
use crate::typeset::{BAND, Panels, bar_width, paragraph, scale_bar};

/// No text nearer to the edge of a sheet.
const EDGE: Length = Length::mm(5);
/// Between the text said once a sheet and the scale bar.
const GAP: Length = Length::mm(6);
/// Length of crop and fold marks, and how far they stand from the corner.
const MARK: Length = Length::mm(3);
const CLEAR: Length = Length::mm(1);

/// Places the panels of a document on its pages.
#[must_use]
pub fn sheets(set: Panels, document: &Document, layout: &Layout, pen: &Pen) -> Job {
    let pages = match set.format {
        Format::Fold8 => folded(&set),
        Format::Card => cards(&set, &Band { document, layout, pen }),
        Format::Full => full(&set, &Band { document, layout, pen }),
    };
    let copies = usize::from(document.copies.max(1));
    // A sheet of cards is filled with copies already; other documents are printed so often.
    let times = if set.format == Format::Card { 1 } else { copies };
    let pages = std::iter::repeat_n(pages, times).flatten().collect();
    Job {
        stem: document.stem.clone(),
        title: document.title.clone(),
        language: document.language.clone(),
        panels: set.panels,
        pages,
        duplex: Duplex::Simplex,
    }
}

/// Column and row of each panel of a folded sheet, in reading order, and whether it stands on its head.
///
/// Folded the long way, cut in the middle half and pushed together, the panels run along the lower row from the second on,
/// back along the upper row, and end at the lower left: leaves are (1, 2), (3, 4), (5, 6), (7, 8).
const FOLD: [(i64, i64, bool); 8] = [
    (1, 1, false),
    (2, 1, false),
    (3, 1, false),
    (3, 0, true),
    (2, 0, true),
    (1, 0, true),
    (0, 0, true),
    (0, 1, false),
];

fn folded(set: &Panels) -> Vec<Page> {
    let (width, height) = (set.page.width / 4, set.page.height / 2);
    let indexes: Vec<usize> = (0..set.panels.len()).collect();
    let sheet = |part: &[usize]| {
        let placed = part.iter().zip(FOLD).map(|(panel, (column, row, is_turned))| Placed {
            panel: *panel,
            at: Point { x: width * column, y: height * row },
            is_turned,
        });
        Page { size: set.page, placed: placed.collect(), marks: fold_marks(set.page) }
    };
    indexes.chunks(FOLD.len()).map(sheet).collect()
}

/// Short ticks at the edges where the sheet is folded; a dashed line where it is cut.
fn fold_marks(page: Size) -> Vec<Mark> {
    let middle = page.height / 2;
    let mut marks = Vec::new();
    for column in 1..=3 {
        let x = page.width.fraction(column, 4);
        marks.push(down(x, Length::ZERO, MARK, HAIRLINE));
        marks.push(down(x, page.height - MARK, page.height, HAIRLINE));
    }
    marks.push(across(Length::ZERO, MARK, middle, HAIRLINE));
    marks.push(across(page.width - MARK, page.width, middle, HAIRLINE));
    let (from, to) = (Point { x: page.width / 4, y: middle }, Point { x: page.width.fraction(3, 4), y: middle });
    let dash = Some((Length::mm(2), Length::mm(1)));
    marks.push(Mark::Line(Line { from, to, thickness: HAIRLINE, dash }));
    marks
}

fn full(set: &Panels, band: &Band<'_>) -> Vec<Page> {
    let page = |panel| Page {
        size: set.page,
        placed: vec![Placed { panel, at: Point::default(), is_turned: false }],
        marks: band.marks(set.page, Length::mm(12)),
    };
    (0..set.panels.len()).map(page).collect()
}

/// What is said once a sheet, and the scale bar, in the band at the bottom.
struct Band<'a> {
    document: &'a Document,
    layout: &'a Layout,
    pen: &'a Pen,
}

impl Band<'_> {
    fn marks(&self, page: Size, margin: Length) -> Vec<Mark> {
        let top = page.height - BAND;
        let words = self.document.once.iter().map(Text::words).collect::<Vec<_>>().join(" ");
        let width = page.width - margin * 2 - bar_width() - GAP;
        let style = self.layout.style(Role::Small);
        let mut marks: Vec<Mark> = paragraph(self.pen, &Text::own(words), style, width)
            .map(|setting| setting.at(Point { x: margin, y: top - Length::mm(1) }).collect())
            .unwrap_or_default();
        let bar = Point { x: page.width - margin - bar_width(), y: top + Length::mm(2) };
        marks.extend(scale_bar(self.pen, self.layout, bar));
        marks
    }
}

/// Cards side by side and under each other without gaps, so that one cut parts two; the band below stays free.
fn cards(set: &Panels, band: &Band<'_>) -> Vec<Page> {
    let Some(card) = set.panels.first().map(|panel| panel.size) else { return Vec::new() };
    let fit = |room: Length, one: Length| (room.as_grains() / one.as_grains()).max(1);
    let margin = EDGE + MARK + CLEAR;
    let columns = fit(set.page.width - margin * 2, card.width);
    let rows = fit(set.page.height - margin - BAND - EDGE - MARK, card.height);
    let left = (set.page.width - card.width * columns) / 2;
    let count = usize::try_from(columns * rows).unwrap_or(1);
    let copies = usize::from(band.document.copies.max(1));
    let all: Vec<usize> = (0..set.panels.len()).flat_map(|panel| std::iter::repeat_n(panel, copies)).collect();
    let page = |part: &[usize]| {
        let placed = part.iter().zip(0..).map(|(panel, n)| Placed {
            panel: *panel,
            at: Point { x: left + card.width * (n % columns), y: margin + card.height * (n / columns) },
            is_turned: false,
        });
        let used = (i64::try_from(part.len()).unwrap_or(0) + columns - 1) / columns;
        let mut marks = crop_marks(Point { x: left, y: margin }, card, columns, used);
        marks.extend(band.marks(set.page, EDGE + MARK));
        Page { size: set.page, placed: placed.collect(), marks }
    };
    all.chunks(count).map(page).collect()
}

/// Marks beside the block of cards, at every cut.
fn crop_marks(at: Point, card: Size, columns: i64, rows: i64) -> Vec<Mark> {
    let (right, bottom) = (at.x + card.width * columns, at.y + card.height * rows);
    let mut marks = Vec::new();
    for column in 0..=columns {
        let x = at.x + card.width * column;
        marks.push(down(x, at.y - CLEAR - MARK, at.y - CLEAR, HAIRLINE));
        marks.push(down(x, bottom + CLEAR, bottom + CLEAR + MARK, HAIRLINE));
    }
    for row in 0..=rows {
        let y = at.y + card.height * row;
        marks.push(across(at.x - CLEAR - MARK, at.x - CLEAR, y, HAIRLINE));
        marks.push(across(right + CLEAR, right + CLEAR + MARK, y, HAIRLINE));
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::FOLD;
    use std::collections::BTreeSet;

    /// Two panels are a leaf when they lie back to back after folding: above each other in an outer column, or beside each other
    /// across the middle fold. Worked out with a sheet of paper.
    #[test]
    fn leaves_of_the_folded_book_hold_two_successive_panels() {
        let leaf = |(column, row, _): (i64, i64, bool)| match (column, row) {
            (0, _) => "left",
            (3, _) => "right",
            (_, 0) => "upper middle",
            _ => "lower middle",
        };
        for pair in FOLD.chunks(2) {
            assert_eq!(leaf(pair[0]), leaf(pair[1]));
        }
        assert_eq!(FOLD.iter().map(|(column, row, _)| (column, row)).collect::<BTreeSet<_>>().len(), 8);
        assert!(FOLD.iter().all(|(_, row, is_turned)| (*row == 0) == *is_turned));
    }
}
