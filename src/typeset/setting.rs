//! A block set at a width, before it has a place.

use crate::ground::Length;
use crate::sheet::{Area, CellPlace, Mark, Point};

/// Marks from a top left corner at zero, and how much of the page they take.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Setting {
    /// In reading order.
    pub marks: Vec<Mark>,
    /// From the top to where the next block may begin.
    pub height: Length,
}

impl Setting {
    /// Says that the marks from one on are a cell of a row.
    pub fn mark_cell(&mut self, from: usize, column: usize) {
        let column = u16::try_from(column).unwrap_or(u16::MAX);
        for mark in self.marks.iter_mut().skip(from) {
            if let Some(place) = mark.place_mut() {
                place.cell = Some(CellPlace { column, ..CellPlace::default() });
            }
        }
    }

    /// The same drawn larger, every measure times `numerator / denominator`.
    #[must_use]
    pub fn scaled(&self, numerator: i64, denominator: i64) -> Self {
        let times = |length: Length| length.fraction(numerator, denominator);
        let marks = self.marks.iter().map(|mark| scaled(mark, &times)).collect();
        Self { marks, height: times(self.height) }
    }

    /// The marks, moved.
    pub fn at(&self, by: Point) -> impl Iterator<Item = Mark> + '_ {
        self.marks.iter().map(move |mark| moved(mark.clone(), by))
    }
}

/// A mark, moved right by `by.x` and down by `by.y`.
#[must_use]
pub fn moved(mut mark: Mark, by: Point) -> Mark {
    let point = |at: Point| Point { x: at.x + by.x, y: at.y + by.y };
    match &mut mark {
        Mark::Glyphs(glyphs) => glyphs.at = point(glyphs.at),
        Mark::Line(line) => (line.from, line.to) = (point(line.from), point(line.to)),
        Mark::Fill(fill) => fill.area = area_moved(fill.area, by),
        Mark::Patterned(patterned) => patterned.area = area_moved(patterned.area, by),
        Mark::Outline(outline) => outline.corners.iter_mut().for_each(|corner| *corner = point(*corner)),
        Mark::Modules(modules) => modules.at = point(modules.at),
        Mark::Sign(sign) => sign.at = point(sign.at),
        Mark::Entry(entry) => entry.area = area_moved(entry.area, by),
    }
    mark
}

fn area_moved(Area { left, top, right, bottom }: Area, by: Point) -> Area {
    Area { left: left + by.x, top: top + by.y, right: right + by.x, bottom: bottom + by.y }
}

fn scaled(mark: &Mark, times: &impl Fn(Length) -> Length) -> Mark {
    let point = |at: Point| Point { x: times(at.x), y: times(at.y) };
    let area = |Area { left, top, right, bottom }: Area| Area {
        left: times(left),
        top: times(top),
        right: times(right),
        bottom: times(bottom),
    };
    let mut mark = mark.clone();
    match &mut mark {
        Mark::Glyphs(glyphs) => {
            glyphs.at = point(glyphs.at);
            (glyphs.size, glyphs.width) = (times(glyphs.size), times(glyphs.width));
        }
        Mark::Line(line) => {
            (line.from, line.to) = (point(line.from), point(line.to));
            line.thickness = times(line.thickness);
            line.dash = line.dash.map(|(on, off)| (times(on), times(off)));
        }
        Mark::Fill(fill) => fill.area = area(fill.area),
        Mark::Patterned(patterned) => patterned.area = area(patterned.area),
        Mark::Outline(outline) => outline.corners.iter_mut().for_each(|corner| *corner = point(*corner)),
        Mark::Modules(modules) => {
            modules.at = point(modules.at);
            modules.module = times(modules.module);
        }
        Mark::Sign(sign) => (sign.at, sign.size) = (point(sign.at), times(sign.size)),
        Mark::Entry(entry) => entry.area = area(entry.area),
    }
    mark
}
