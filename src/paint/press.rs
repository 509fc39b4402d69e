//! What the copies of an order say alike, painted once.

use super::canvas::Canvas;
use super::deflate::zlib_shared;
use super::file::{Gathered, gathered};
use super::fonts::{Cuts, Press, Used};
use super::structure::TaggedPart;
use crate::ground::{Bug, Length, Shelf};
use crate::sheet::{Job, Mark, Panel};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

/// Fonts and streams that are kept for the next files of an order: where each file has its own, there is no use in more.
const KEPT: usize = 256;

/// What the files of an order have in common, painted once. It changes no byte, only the time that a file takes.
pub struct Plates<'a> {
    press: &'a Press,
    used: Shelf<u32, Counted>,
    cuts: Shelf<Used, Result<Arc<Cuts>, Bug>>,
    /// Several at a spot where files have other fonts.
    bodies: Mutex<BTreeMap<Likeness, Vec<Arc<Painted>>>>,
    /// Deflated, by the hash of what they hold.
    streams: Shelf<[u8; 32], Arc<[u8]>>,
}

/// A body with its glyphs.
#[derive(Clone)]
struct Counted {
    marks: Arc<[Mark]>,
    used: Arc<Used>,
}

/// Where a body is painted: its frame on the page, and the first number of its parts there.
#[derive(Clone, Copy, Debug)]
pub(super) struct BodySpot {
    pub frame: [f32; 6],
    pub height: Length,
    pub first: i32,
}

/// What tells a body that several copies have, at a spot, from all others of its order.
pub(super) type Likeness = (u32, [u32; 6], i32);

impl BodySpot {
    /// The likeness of a panel's body here; none where it is its copy's own.
    pub fn likeness(&self, panel: &Panel) -> Option<Likeness> {
        Some((panel.shared?, self.frame.map(f32::to_bits), self.first))
    }
}

/// A body as it stands in a file.
pub(super) struct Painted {
    marks: Arc<[Mark]>,
    /// The fonts whose codes it says.
    cuts: Arc<Cuts>,
    /// Its parts, by their numbers on the page from the first on.
    pub parts: Vec<TaggedPart>,
    /// Its content, deflated.
    pub stream: Vec<u8>,
}

impl Painted {
    /// Whether it is the body of this panel.
    pub(super) fn shows(&self, panel: &Panel) -> bool {
        Arc::ptr_eq(&self.marks, &panel.body)
    }
}

impl<'a> Plates<'a> {
    /// For the files of an order, painted on a press.
    #[must_use]
    pub fn new(press: &'a Press) -> Self {
        let (used, cuts, streams) = (Shelf::default(), Shelf::default(), Shelf::default());
        Self { press, used, cuts, bodies: Mutex::default(), streams }
    }

    /// A panel's body at a spot.
    pub(super) fn body(&self, panel: &Panel, spot: BodySpot, cuts: &Arc<Cuts>) -> Result<Arc<Painted>, Bug> {
        let Some(likeness) = spot.likeness(panel) else { return Ok(Arc::new(painted(panel, spot, cuts)?)) };
        let used = self.used(panel);
        // The numbers of another order's bodies mean something else.
        let suits = |known: &&Arc<Painted>| {
            let has_codes = Arc::ptr_eq(&known.cuts, cuts) || known.cuts.agree(cuts, &used);
            known.shows(panel) && has_codes
        };
        let bodies = || self.bodies.lock().unwrap_or_else(PoisonError::into_inner);
        let known = bodies().get(&likeness).and_then(|known| known.iter().find(suits).map(Arc::clone));
        if let Some(known) = known {
            return Ok(known);
        }
        let new = Arc::new(painted(panel, spot, cuts)?);
        bodies().entry(likeness).or_default().push(Arc::clone(&new));
        Ok(new)
    }

    /// The glyphs of a panel's body.
    pub(super) fn used(&self, panel: &Panel) -> Arc<Used> {
        let count = || Counted { marks: Arc::clone(&panel.body), used: Arc::new(Used::of(panel.body.iter())) };
        let known = panel.shared.map(|number| self.used.get(number, count));
        known.filter(|known| Arc::ptr_eq(&known.marks, &panel.body)).unwrap_or_else(count).used
    }

    /// Fonts cut to the glyphs of all panels and pages of a file.
    pub(super) fn cuts(&self, job: &Job) -> Result<Arc<Cuts>, Bug> {
        let mut used = Used::default();
        let mut foot: Option<&Arc<[Mark]>> = None;
        for panel in &job.panels {
            used.add(panel.head.iter());
            used.join(&self.used(panel));
            if !foot.is_some_and(|known| Arc::ptr_eq(known, &panel.foot)) {
                used.add(panel.foot.iter());
                foot = Some(&panel.foot);
            }
        }
        used.add(job.pages.iter().flat_map(|page| &page.marks));
        used.take_alphabet(job.alphabet);
        self.cuts.get_of(KEPT, used.clone(), || Ok(Arc::new(Cuts::new(used, job.alphabet, self.press)?)))
    }

    /// Objects in streams of their own, as many files have them: the words of the order's sheets differ more than their order.
    pub(super) fn gathered(&self, objects: Vec<(u32, Vec<u8>)>) -> Vec<Gathered> {
        let deflated =
            |bytes: &[u8]| self.streams.get_of(KEPT, Sha256::digest(bytes).into(), || zlib_shared(bytes).into());
        gathered(objects, |bytes| deflated(bytes).to_vec())
    }
}

fn painted(panel: &Panel, spot: BodySpot, cuts: &Arc<Cuts>) -> Result<Painted, Bug> {
    let mut canvas = Canvas::new(panel.size.height, cuts);
    let parts = canvas.framed(spot.frame, spot.height, |canvas| canvas.tagged(&panel.body, spot.first))?;
    let marks = Arc::clone(&panel.body);
    Ok(Painted { marks, cuts: Arc::clone(cuts), parts, stream: zlib_shared(&canvas.finish()) })
}
