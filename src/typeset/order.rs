//! The copies of one order: a document is what it has in common with other copies, and what it has for itself.
//!
//! All copies are taken before the first is set. What several of them say in the same words is then set once, and all that
//! bear it have the very same marks; what one copy says alone is set with it.

use super::filling::Settled;
use super::layout::Layout;
use super::symbol_code::Symbols;
use crate::compose::block::{Block, Document, Front, Section, Text};
use crate::formats::Format;
use crate::ground::{Findings, Length, Shelf};
use crate::sheet::Point;
use crate::tables::Paper;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::atomic::{AtomicU32, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

/// What is set with one layout on one paper, for as many holders as there are.
pub struct Order {
    pub(super) layout: Layout,
    pub(super) paper: &'static Paper,
    pub(super) symbols: Symbols,
    /// By their hashes.
    passages: Mutex<BTreeMap<u64, Vec<Arc<Passage>>>>,
    /// Number of the next body that several have.
    next: AtomicU32,
}

/// A document of an order: its head and foot, and its passages.
pub struct Copy {
    /// Without its sections.
    pub(super) document: Document,
    pub(super) passages: Vec<Arc<Passage>>,
    /// Whether one of its sections is a front, which says the words of the code.
    pub(super) has_front: bool,
    /// What stands on the last panel of each gathering.
    pub(super) back: Vec<Section>,
}

/// What is set in one go: its sections, or what a gathering bears beside its content.
#[derive(PartialEq, Eq, Hash)]
pub(super) enum Said {
    /// Sections that follow each other.
    Sections(Vec<Section>),
    /// What is said once a sheet.
    About(About),
    /// Lines to write on.
    Notes,
}

/// What is said once a sheet, and which of how many sheets it is.
#[derive(Clone, PartialEq, Eq, Hash)]
pub(super) struct About {
    /// Sections of the document that stand there.
    pub sections: Vec<Section>,
    /// What the sheet is, and by which rules.
    pub told: Vec<Text>,
    /// Which sheet of how many.
    pub count: SheetCount,
}

/// A sheet of several.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub(super) struct SheetCount {
    /// Which it is, from 1.
    pub sheet: usize,
    /// How many there are.
    pub of: usize,
}

/// Something said, with the number of times that it is.
pub(super) struct Passage {
    pub said: Said,
    times: AtomicUsize,
    set: Shelf<BodyPlace, Arc<SetPassage>>,
}

/// Top left corner of a body on its panel, its width and height, and whether it stands closer.
pub(super) type BodyPlace = (Point, Length, Length, bool);

/// A passage on as many bodies as it takes, and what is wrong with it.
pub(super) struct SetPassage {
    pub bodies: Vec<Settled>,
    pub found: Findings,
}

impl Order {
    /// An order without copies.
    #[must_use]
    pub fn new(layout: Layout, paper: &'static Paper) -> Self {
        Self { layout, paper, symbols: Symbols::default(), passages: Mutex::default(), next: AtomicU32::new(0) }
    }

    /// How its paper is parted.
    #[must_use]
    pub const fn format(&self) -> &'static dyn Format {
        self.layout.format
    }

    /// Takes a copy, to be set when all are there.
    #[must_use]
    pub fn take(&self, mut document: Document) -> Copy {
        self.symbols.count(&document.sections);
        let sections = in_order(std::mem::take(&mut document.sections), &self.layout);
        let mut blocks = sections.iter().flat_map(|section| &section.blocks);
        let has_front = blocks.any(|block| matches!(block, Block::Front(Front { code: Some(_), .. })));
        let is_back = |section: &Section| {
            self.layout.format.gathering().is_some() && self.layout.back.iter().any(|key| key == section.key)
        };
        let (back, sections): (Vec<Section>, Vec<Section>) = sections.into_iter().partition(is_back);
        let passages = runs(sections, &self.layout).into_iter().map(|run| self.passage(Said::Sections(run))).collect();
        Copy { document, passages, has_front, back }
    }

    /// Lets go of what only one copy said, when all copies so far are set: more of them would pile up than any memory holds.
    pub fn forget_own(&self) {
        let mut passages = self.passages.lock().unwrap_or_else(PoisonError::into_inner);
        passages.retain(|_, alike| {
            alike.retain(|passage| passage.times.load(Ordering::Relaxed) > 1);
            !alike.is_empty()
        });
        self.symbols.forget_own();
    }

    /// The passage that says this: one for all copies that do.
    pub(super) fn passage(&self, said: Said) -> Arc<Passage> {
        let mut hasher = DefaultHasher::new();
        said.hash(&mut hasher);
        let mut passages = self.passages.lock().unwrap_or_else(PoisonError::into_inner);
        let alike = passages.entry(hasher.finish()).or_default();
        if let Some(known) = alike.iter().find(|known| known.said == said) {
            known.times.fetch_add(1, Ordering::Relaxed);
            return Arc::clone(known);
        }
        let new = Arc::new(Passage { said, times: AtomicUsize::new(1), set: Shelf::default() });
        alike.push(Arc::clone(&new));
        new
    }

    /// A passage at a place: set now, or set already where several copies have it.
    pub(super) fn settled(
        &self,
        passage: &Passage,
        place: BodyPlace,
        set: impl FnOnce() -> SetPassage,
    ) -> Arc<SetPassage> {
        if !passage.is_shared() {
            return Arc::new(set());
        }
        passage.set.get(place, || {
            let mut made = set();
            for body in &mut made.bodies {
                body.shared = Some(self.next.fetch_add(1, Ordering::Relaxed));
            }
            Arc::new(made)
        })
    }
}

impl Copy {
    /// The document without its sections.
    #[must_use]
    pub const fn document(&self) -> &Document {
        &self.document
    }

    /// How many sections it has.
    pub(super) fn sections(&self) -> usize {
        let sections = self.passages.iter().map(|passage| match &passage.said {
            Said::Sections(sections) => sections.len(),
            Said::About(_) | Said::Notes => 0,
        });
        sections.sum()
    }
}

impl Passage {
    /// Whether several copies have it; what a gathering bears is nobody's own.
    pub fn is_shared(&self) -> bool {
        !matches!(self.said, Said::Sections(_)) || self.times.load(Ordering::Relaxed) > 1
    }
}

/// Sections as the layout wants them: those that it names first, then the others as composed.
fn in_order(mut sections: Vec<Section>, layout: &Layout) -> Vec<Section> {
    let place = |section: &Section| layout.order.iter().position(|key| key == section.key);
    sections.sort_by_key(|section| place(section).unwrap_or(layout.order.len()));
    sections
}

/// Sections that follow each other without a new panel: where there are panels, those that the layout lets follow; all on pages.
fn runs(sections: Vec<Section>, layout: &Layout) -> Vec<Vec<Section>> {
    let mut runs: Vec<Vec<Section>> = Vec::new();
    for section in sections {
        let follows = !layout.format.has_panels() || layout.follows.iter().any(|key| key == section.key);
        match runs.last_mut().filter(|_| follows) {
            Some(run) => run.push(section),
            None => runs.push(vec![section]),
        }
    }
    runs
}
