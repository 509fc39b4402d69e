//! A document and its layout -> panels.

use super::filling::Body;
use super::flow::{bodies, finished, room};
use super::format::Format;
use super::furniture::{Furniture, scale_bar};
use super::layout::Layout;
use super::lines::paragraph;
use super::mark::{Mark, Panel, Point, Size};
use super::once::Band;
use super::pen::{HAIRLINE, Pen, across};
use super::piece::does_not_fit;
use super::rules::GLYPH_MISSING;
use crate::compose::block::{Document, Role, Text};
use crate::ground::{Finding, Findings, Length, Span};
use crate::tables::Paper;
use std::collections::BTreeSet;

/// A document set on panels, not yet on sheets.
pub struct Panels {
    /// How paper is parted.
    pub format: Format,
    /// Size of the page, as shown.
    pub page: Size,
    /// What is said once a sheet, on pages with room for it.
    pub band: Band,
    /// In reading order.
    pub panels: Vec<Panel>,
    /// Where the panels of each holder begin: a leaf, a sheet or a booklet is nobody else's.
    pub starts: Vec<usize>,
}

impl Panels {
    /// Adds the panels of another holder's copy.
    pub fn append(&mut self, other: Self) {
        self.starts.push(self.panels.len());
        self.panels.extend(other.panels);
    }

    /// The panels of each holder, by their places in the list.
    pub fn of_holders(&self) -> impl Iterator<Item = std::ops::Range<usize>> + '_ {
        let ends = self.starts.iter().skip(1).copied().chain([self.panels.len()]);
        self.starts.iter().zip(ends).map(|(from, to)| *from..to)
    }
}

/// Sets a document. None, with findings, when something does not fit.
#[must_use]
pub fn panels(
    document: &Document,
    (layout, paper): (&Layout, &Paper),
    pen: &Pen,
    found: &mut Findings,
) -> Option<Panels> {
    let before = found.errors();
    let format = layout.format;
    let page = format.page(paper, layout.is_turned);
    let Some(band) = Band::of(document, layout, pen, page) else {
        let words = document.once.iter().map(Text::words).collect::<Vec<_>>().join(" ");
        found.push(does_not_fit(&words, Span::NOWHERE, document.layout.span, "wide", page.width));
        return None;
    };
    let asked = document.layout.span;
    let furniture = Furniture::new((layout, pen), format.panel(page, band.height), &document.foot, asked, found)?;
    let room = room(layout, pen, &furniture, asked);
    let mut bodies = bodies(document, &room, found);
    if let Some(size) = format.gathering() {
        let (width, height) = (furniture.inner.width(), furniture.inner.height());
        // A booklet is one gathering of as many fours as it takes.
        let size = if format == Format::Booklet { (bodies.len() + 1).next_multiple_of(size) } else { size };
        let about = |count| about(document, layout, pen, width, count);
        bodies = gathered(bodies, size, about, || notes(width, height, layout));
    }
    let mut panels = finished(bodies, &furniture, format, asked, found);
    if layout.is_heavy {
        panels.iter_mut().flat_map(|panel| &mut panel.marks).for_each(thicken);
    }
    missing_glyphs(&panels, asked, found);
    (found.errors() == before).then_some(Panels { format, page, band, panels, starts: vec![0] })
}

/// Panels of content, empty ones to write on, and the last of each gathering: rules, folding, scale. A folded sheet is a
/// gathering; a booklet is one as a whole.
fn gathered(
    bodies: Vec<Body>,
    size: usize,
    about: impl Fn((usize, usize)) -> Body,
    notes: impl Fn() -> Body,
) -> Vec<Body> {
    let sheets = bodies.len().div_ceil(size - 1).max(1);
    let mut bodies = bodies.into_iter();
    let mut gathered = Vec::new();
    for sheet in 1..=sheets {
        for _ in 1..size {
            gathered.push(bodies.next().unwrap_or_else(&notes));
        }
        gathered.push(about((sheet, sheets)));
    }
    gathered
}

/// Lines to write on.
fn notes(width: Length, height: Length, layout: &Layout) -> Body {
    let line = layout.writing_line;
    let count = (height.as_grains() / line.as_grains()).max(0);
    let marks = (1..=count).map(|n| across(Length::ZERO, width, line * n, HAIRLINE)).collect();
    Body::new("Notes".to_owned(), marks)
}

/// How a sheet becomes what it is to be.
const fn folding(format: Format) -> &'static str {
    match format {
        Format::Fold8 => {
            "Print on one side at 100 %. Fold the sheet in half the long way, then in four across; open it, cut along the \
             dashed line; fold the long way again and push the ends together until it closes as a book."
        }
        Format::Fold4 => {
            "Print on one side at 100 %. Fold the upper half back behind the lower one, then the left half back behind the \
             right one: panel 1 is in front."
        }
        Format::Booklet => {
            "Print on both sides at 100 %, turned about the short edge. Lay the sheets on each other in order, fold them in the \
             middle and staple the fold. The inner pages stand out a little (creep); nothing is moved to make up for it."
        }
        _ => "",
    }
}

fn about(document: &Document, layout: &Layout, pen: &Pen, width: Length, (sheet, sheets): (usize, usize)) -> Body {
    let mut marks = Vec::new();
    let mut y = Length::mm(1);
    let mut block = 0;
    let folding = Text::own(folding(layout.format));
    let title = Text::own(document.title.clone());
    let said = std::iter::once((&title, Role::Body)).chain(document.once.iter().map(|text| (text, Role::Body)));
    for (text, role) in said.chain(std::iter::once((&folding, Role::Small))) {
        let Some(setting) = paragraph(pen, text, layout.style(role), width) else { continue };
        block += 1;
        marks.extend(setting.at(Point { x: Length::ZERO, y }).map(|mark| in_block(mark, block)));
        y += setting.height + Length::hundredths_mm(180);
    }
    let bar = scale_bar(pen, layout, Point { x: Length::ZERO, y: y + Length::mm(3) });
    marks.extend(bar.into_iter().map(|mark| in_block(mark, block + 1)));
    let title =
        if layout.format == Format::Booklet { "This booklet".to_owned() } else { format!("Sheet {sheet} of {sheets}") };
    Body::new(title, marks)
}

/// A mark as part of a block of what is read aloud.
fn in_block(mut mark: Mark, block: u32) -> Mark {
    if let Mark::Glyphs(glyphs) = &mut mark {
        glyphs.place.block = block;
    }
    mark
}

/// The least thickness of a line in red or dim light.
const NIGHT_LINE: Length = Length::twentieths_pt(15);

fn thicken(mark: &mut Mark) {
    if let Mark::Line(line) = mark {
        line.thickness = line.thickness.max(NIGHT_LINE);
    }
}

/// Glyph 0 of a font is its empty box.
fn missing_glyphs(panels: &[Panel], asked: Span, found: &mut Findings) {
    let mut seen: BTreeSet<String> = BTreeSet::new();
    for mark in panels.iter().flat_map(|panel| &panel.marks) {
        let Mark::Glyphs(run) = mark else { continue };
        let Some(glyph) = run.glyphs.iter().find(|glyph| glyph.id == 0) else { continue };
        // "CMD to X" repeats what was found on X.
        if seen.iter().any(|said| run.text.contains(said.as_str())) {
            continue;
        }
        seen.insert(run.text.clone());
        let span = if run.span == Span::NOWHERE { asked } else { run.span };
        let code = glyph.text.chars().next().map(|c| format!(" (U+{:04X})", u32::from(c))).unwrap_or_default();
        let what = format!("the typeface has no \"{}\"{code}", glyph.text);
        let finding = Finding::new(&GLYPH_MISSING, span, what).label("would print as an empty box");
        found.push(finding.help("write it in Latin, Greek or Cyrillic letters"));
    }
}
