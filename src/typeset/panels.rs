//! A document and its layout -> panels.

use super::flow::{bodies, finished, room};
use super::furniture::Furniture;
use super::gathering::gathered;
use super::layout::Layout;
use super::mark::{Mark, Panel, Size};
use super::once::Band;
use super::pen::Pen;
use super::piece::does_not_fit;
use super::rules::GLYPH_MISSING;
use crate::compose::block::{Document, Text};
use crate::formats::Format;
use crate::ground::{Finding, Findings, Span};
use crate::tables::Paper;
use std::collections::BTreeSet;

/// A document set on panels, not yet on sheets.
pub struct Panels {
    /// How paper is parted.
    pub format: &'static dyn Format,
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
    if let Some(gathering) = format.gathering() {
        let told: Vec<Text> = std::iter::once(Text::own(document.title.clone())).chain(document.once.clone()).collect();
        bodies = gathered(bodies, (gathering, &told), &room, found);
    }
    let panels = finished(bodies, &furniture, format, asked, found);
    missing_glyphs(&panels, asked, found);
    (found.errors() == before).then_some(Panels { format, page, band, panels, starts: vec![0] })
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
        seen.insert(run.text.clone());
        let span = if run.span == Span::NOWHERE { asked } else { run.span };
        let code = glyph.text.chars().next().map(|c| format!(" (U+{:04X})", u32::from(c))).unwrap_or_default();
        let what = format!("the typeface has no \"{}\"{code}", glyph.text);
        let finding = Finding::new(&GLYPH_MISSING, span, what).label("would print as an empty box");
        found.push(finding.help("write it in Latin, Greek, Cyrillic, Hebrew or Arabic letters"));
    }
}
