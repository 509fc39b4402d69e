//! A document and its layout -> panels.

use super::flow::{Body, bodies, finished, room};
use super::furniture::{Furniture, scale_bar};
use super::layout::{Format, Layout};
use super::lines::paragraph;
use super::mark::{Mark, Panel, Point, Size};
use super::pen::{HAIRLINE, Pen, across};
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
    /// In reading order.
    pub panels: Vec<Panel>,
}

/// White at a sheet's edge and beside folds and cuts: 5 mm holds for both.
const FOLD_MARGIN: Length = Length::mm(5);
const CARD_MARGIN: Length = Length::mm(3);
const PAGE_MARGIN: Length = Length::mm(12);
/// Reserved below the panel of a full page for the scale bar and what is said once a sheet.
pub(crate) const BAND: Length = Length::mm(12);

/// ISO/IEC 7810 ID-1.
const CARD: Size = Size { width: Length::hundredths_mm(8560), height: Length::hundredths_mm(5398) };

/// How many panels of a folded sheet hold the document; the eighth says what the sheet is.
const FOLD_PANELS: usize = 7;

/// Sets a document. None, with findings, when something does not fit.
#[must_use]
pub fn panels(
    document: &Document,
    (layout, paper): (&Layout, &Paper),
    pen: &Pen,
    found: &mut Findings,
) -> Option<Panels> {
    let before = found.errors();
    let page = page(layout, paper);
    let sizes = panel_size(layout.format, page);
    let asked = document.layout.span;
    let furniture = Furniture::new((layout, pen), sizes, &document.foot, asked, found)?;
    let room = room(layout, pen, &furniture, asked);
    let mut bodies = bodies(document, &room, found);
    if layout.format == Format::Fold8 {
        bodies = folded(bodies, document, layout, pen, (room.width, room.height));
    }
    let panels = finished(bodies, &furniture, layout.format, asked, found);
    missing_glyphs(&panels, asked, found);
    (found.errors() == before).then_some(Panels { format: layout.format, page, panels })
}

/// The page as shown: a folded sheet lies on its side.
fn page(layout: &Layout, paper: &Paper) -> Size {
    let (short, long) = (paper.width.min(paper.height), paper.width.max(paper.height));
    match layout.format {
        Format::Fold8 => Size { width: long, height: short },
        Format::Full if layout.is_turned => Size { width: long, height: short },
        Format::Full | Format::Card => Size { width: short, height: long },
    }
}

fn panel_size(format: Format, page: Size) -> (Size, Length) {
    match format {
        Format::Fold8 => (Size { width: page.width / 4, height: page.height / 2 }, FOLD_MARGIN),
        Format::Card => (CARD, CARD_MARGIN),
        Format::Full => (Size { width: page.width, height: page.height - BAND }, PAGE_MARGIN),
    }
}

/// Seven panels of content a sheet, empty ones to write on, and the eighth: rules, folding, scale.
fn folded(
    bodies: Vec<Body>,
    document: &Document,
    layout: &Layout,
    pen: &Pen,
    (width, height): (Length, Length),
) -> Vec<Body> {
    let sheets = bodies.len().div_ceil(FOLD_PANELS).max(1);
    let mut bodies = bodies.into_iter();
    let mut folded = Vec::new();
    for sheet in 1..=sheets {
        for _ in 0..FOLD_PANELS {
            folded.push(bodies.next().unwrap_or_else(|| notes(width, height)));
        }
        folded.push(about(document, layout, pen, width, (sheet, sheets)));
    }
    folded
}

/// Lines to write on.
fn notes(width: Length, height: Length) -> Body {
    let line = Length::hundredths_mm(750);
    let count = (height.as_grains() / line.as_grains()).max(0);
    let marks = (1..=count).map(|n| across(Length::ZERO, width, line * n, HAIRLINE)).collect();
    Body::new("Notes".to_owned(), marks)
}

const FOLDING: &str = "Print on one side at 100 %. Fold the sheet in half the long way, then in four across; open it, cut along the \
                       dashed line; fold the long way again and push the ends together until it closes as a book.";

fn about(document: &Document, layout: &Layout, pen: &Pen, width: Length, (sheet, sheets): (usize, usize)) -> Body {
    let mut marks = Vec::new();
    let mut y = Length::mm(1);
    let folding = Text::own(FOLDING);
    let title = Text::own(document.title.clone());
    let said = std::iter::once((&title, Role::Body)).chain(document.once.iter().map(|text| (text, Role::Body)));
    for (text, role) in said.chain(std::iter::once((&folding, Role::Small))) {
        let Some(setting) = paragraph(pen, text, layout.style(role), width) else { continue };
        marks.extend(setting.at(Point { x: Length::ZERO, y }));
        y += setting.height + Length::hundredths_mm(180);
    }
    marks.extend(scale_bar(pen, layout, Point { x: Length::ZERO, y: y + Length::mm(3) }));
    Body::new(format!("Sheet {sheet} of {sheets}"), marks)
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
