//! What the copies of an order say alike, painted once.

use super::canvas::Canvas;
use super::deflate::{zlib, zlib_shared};
use super::fonts::Press;
use super::readings::Readings;
use super::structure::TaggedPart;
use super::used::Used;
use crate::ground::{Length, Shelf};
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
    /// Several at a spot where orders number their bodies alike.
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
    /// Its parts, by their numbers on the page from the first on.
    pub parts: Vec<TaggedPart>,
    /// Its content, deflated.
    pub stream: Vec<u8>,
}

impl Painted {
    /// Whether it is the body of this panel.
    fn shows(&self, panel: &Panel) -> bool {
        Arc::ptr_eq(&self.marks, &panel.body)
    }

    /// Whether it is of the same marks as another.
    pub fn is_of(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.marks, &other.marks)
    }

    fn of(panel: &Panel, spot: BodySpot, readings: &Readings) -> Self {
        let mut canvas = Canvas::new(panel.size.height, readings);
        let parts = canvas.framed(spot.frame, spot.height, |canvas| canvas.tagged(&panel.body, spot.first));
        let deflate = if panel.shared.is_some() { zlib_shared } else { zlib };
        Self { marks: Arc::clone(&panel.body), parts, stream: deflate(&canvas.finish()) }
    }
}

impl<'a> Plates<'a> {
    /// For the files of an order, painted on a press.
    #[must_use]
    pub fn new(press: &'a Press) -> Self {
        Self { press, used: Shelf::default(), bodies: Mutex::default(), streams: Shelf::default() }
    }

    /// Where its fonts are.
    pub(super) const fn press(&self) -> &'a Press {
        self.press
    }

    /// A panel's body at a spot.
    pub(super) fn body(&self, panel: &Panel, spot: BodySpot, readings: &Readings) -> Arc<Painted> {
        let Some(likeness) = spot.likeness(panel) else { return Arc::new(Painted::of(panel, spot, readings)) };
        let bodies = || self.bodies.lock().unwrap_or_else(PoisonError::into_inner);
        // The numbers of another order's bodies mean something else.
        let known =
            bodies().get(&likeness).and_then(|known| known.iter().find(|known| known.shows(panel)).map(Arc::clone));
        if let Some(known) = known {
            return known;
        }
        let new = Arc::new(Painted::of(panel, spot, readings));
        bodies().entry(likeness).or_default().push(Arc::clone(&new));
        new
    }

    /// The glyphs of a panel's body.
    fn used(&self, panel: &Panel, readings: &Readings) -> Arc<Used> {
        let count =
            || Counted { marks: Arc::clone(&panel.body), used: Arc::new(Used::of(panel.body.iter(), readings)) };
        let known = panel.shared.map(|number| self.used.get(number, count));
        known.filter(|known| Arc::ptr_eq(&known.marks, &panel.body)).unwrap_or_else(count).used
    }

    /// The glyphs of all panels and pages of a job.
    pub(super) fn used_by(&self, job: &Job, readings: &Readings) -> Used {
        let mut used = Used::default();
        let mut foot: Option<&Arc<[Mark]>> = None;
        for panel in &job.panels {
            used.add(panel.head.iter(), readings);
            used.join(&self.used(panel, readings));
            if !foot.is_some_and(|known| Arc::ptr_eq(known, &panel.foot)) {
                used.add(panel.foot.iter(), readings);
                foot = Some(&panel.foot);
            }
        }
        used.add(job.pages.iter().flat_map(|page| &page.marks), readings);
        used
    }

    /// Bytes that many files have, deflated: the words of the order's sheets differ more than their order.
    pub(super) fn deflated(&self, bytes: &[u8]) -> Vec<u8> {
        self.streams.get_of(KEPT, Sha256::digest(bytes).into(), || zlib_shared(bytes).into()).to_vec()
    }
}
