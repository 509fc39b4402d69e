//! A document and its layout -> panels.

use super::filling::Settled;
use super::flow::{self, finished, room};
use super::furniture::Furniture;
use super::gathering::gathered;
use super::once::band;
use super::order::{Copy, Order, Said};
use super::pen::Pen;
use super::piece::{Room, does_not_fit};
use super::rules::{GLYPH_MISSING, PAD_HOLDS_PART};
use super::shaping::alphabet;
use crate::compose::block::Text;
use crate::ground::{Finding, Findings, Length, Span};
use crate::sheet::{Mark, Panel, Panels};
use std::collections::BTreeSet;

/// Sets a copy of an order, all of whose copies were taken. None, with findings, when something does not fit.
#[must_use]
pub fn panels(order: &Order, copy: &Copy, pen: &Pen, found: &mut Findings) -> Option<Panels> {
    let Order { layout, paper, .. } = order;
    let document = &copy.document;
    let before = found.errors();
    let format = layout.format;
    let page = format.page(paper, layout.is_turned);
    let Some(band) = band(document, layout, pen, page) else {
        let words = document.once.iter().map(Text::words).collect::<Vec<_>>().join(" ");
        found.push(does_not_fit(&words, Span::NOWHERE, document.layout.span, "wide", page.width));
        return None;
    };
    let asked = document.layout.span;
    let has_band = band.height > Length::ZERO;
    let furnished = |height, has_band, found: &mut Findings| {
        let about = (document, copy.has_front);
        Furniture::new((layout, pen), (format.panel(page, height), has_band), about, asked, found)
    };
    let furniture = furnished(band.height, has_band, found)?;
    // What is said once stands on the first page.
    let behind = if format.is_whole() && has_band { Some(furnished(Length::ZERO, false, found)?) } else { None };
    let room = room(order, pen, (&furniture, behind.as_ref()), asked);
    let mut bodies = bodies(order, copy, &room, found);
    // Closer rows may spare a sheet.
    let close = match format.gathering() {
        Some(sheet) if bodies.len() > sheet.panels => Some((layout.with_close_rows(), sheet.panels)),
        None if format.is_whole() && !bears_signs(copy) && ends_almost_empty(&bodies) => Some((layout.close_page(), 1)),
        _ => None,
    };
    if let Some((layout, on_a_sheet)) = close {
        let mut unheard = Findings::default();
        let close = self::bodies(order, copy, &Room { layout: &layout, ..room }, &mut unheard);
        if unheard.errors() == 0 && close.len().div_ceil(on_a_sheet) < bodies.len().div_ceil(on_a_sheet) {
            bodies = close;
        }
    }
    let panels = finished(bodies, (&furniture, behind.as_ref()), format, asked, found);
    missing_glyphs(&panels, asked, found);
    // What stands by itself, a place on each sheet, is not parted.
    if format.is_pad() && panels.len() > 1 && panels.len() != copy.sections() {
        let what =
            format!("\"{}\" takes {} pages, and each sheet of a pad holds one of them", document.title, panels.len());
        let finding = Finding::new(&PAD_HOLDS_PART, asked, what).label("asks for a pad");
        found.push(finding.help("take `layout = \"full\"`, or a form that stands on half a page"));
    }
    let (duplex, alphabet) = (layout.duplex, alphabet());
    (found.errors() == before).then_some(Panels { format, page, duplex, band, alphabet, panels, starts: vec![0] })
}

/// So much of what stands on pages closer rows may take in: a row of 4.7 mm becomes one of 4.
const SPARED: (i64, i64) = (1, 5);

/// Up to so many pages: of hundreds, one that is spared is not worth that all are set twice.
const FEW_PAGES: usize = 24;

/// Whether the last page of several has so little on it that the others could take it in.
fn ends_almost_empty(bodies: &[Settled]) -> bool {
    let Some((last, others)) = bodies.split_last().filter(|_| bodies.len() <= FEW_PAGES) else { return false };
    let all: Length = others.iter().map(|body| body.fill.0).sum();
    last.fill.0 <= all.fraction(SPARED.0, SPARED.1)
}

/// Whether some of it is to be hung and read from far away: that stays as large as it is.
fn bears_signs(copy: &Copy) -> bool {
    let sections = copy.passages.iter().filter_map(|passage| match &passage.said {
        Said::Sections(sections) => Some(sections),
        _ => None,
    });
    sections.flatten().any(|section| section.blocks.first().is_some_and(flow::is_sign))
}

/// What stands on the panels of a copy, those of a whole sheet where it is folded.
fn bodies(order: &Order, copy: &Copy, room: &Room<'_>, found: &mut Findings) -> Vec<Settled> {
    let mut bodies: Vec<Settled> = Vec::new();
    for passage in &copy.passages {
        bodies.extend(flow::bodies(order, passage, room, found));
    }
    if room.layout.format.gathering().is_none() {
        return bodies;
    }
    // A front says what the sheet is.
    let document = &copy.document;
    let title = (!copy.has_front).then(|| Text::own(document.title.clone()));
    let told: Vec<Text> = title.into_iter().chain(document.once.clone()).collect();
    gathered(order, bodies, (&copy.back, &told), room, found)
}

/// Glyph 0 of a font is its empty box.
fn missing_glyphs(panels: &[Panel], asked: Span, found: &mut Findings) {
    let mut seen: BTreeSet<String> = BTreeSet::new();
    for mark in panels.iter().flat_map(Panel::marks) {
        let Mark::Glyphs(run) = mark else { continue };
        let Some(glyph) = run.glyphs.iter().find(|glyph| glyph.id == 0) else { continue };
        // "CMD to X" repeats what was found on X.
        if seen.iter().any(|said| run.text.contains(said.as_str())) {
            continue;
        }
        seen.insert(run.text.to_string());
        let span = if run.span == Span::NOWHERE { asked } else { run.span };
        let letter = glyph.of(&run.text);
        let code = letter.chars().next().map(|c| format!(" (U+{:04X})", u32::from(c))).unwrap_or_default();
        let what = format!("the typeface has no \"{letter}\"{code}");
        let finding = Finding::new(&GLYPH_MISSING, span, what).label("would print as an empty box");
        found.push(finding.help("write it in Latin, Greek, Cyrillic, Hebrew or Arabic letters"));
    }
}
