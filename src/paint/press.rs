//! What was painted before. The sheets of a team have most of their panels in common: each is painted and deflated once.

use super::canvas::Canvas;
use super::container::zlib_shared;
use super::file::{Gathered, gathered};
use super::fonts::{Cuts, Used};
use super::structure::{Part, Structure};
use crate::ground::{Bug, Length};
use crate::sheet::{Glyph, Mark, Panel};
use lopdf::ObjectId;
use std::cell::RefCell;
use std::collections::{BTreeMap, VecDeque};
use std::sync::Arc;

/// How many bodies, and how many streams of small objects, are remembered.
const BODIES: usize = 256;
const STREAMS: usize = 64;

/// Paints documents one after the other. What it remembers changes no byte, only the time that a file takes.
#[derive(Default)]
pub struct Press {
    painted: RefCell<VecDeque<Arc<Painted>>>,
    counted: RefCell<VecDeque<Counted>>,
    cuts: RefCell<Option<Arc<Cuts>>>,
    streams: RefCell<BTreeMap<Vec<u8>, Arc<[u8]>>>,
    tree: RefCell<Option<Tree>>,
}

/// A body with its glyphs.
struct Counted {
    marks: Arc<[Mark]>,
    used: Arc<Used>,
}

/// A structure tree as it stands in a file.
struct Tree {
    structure: Structure,
    first: u32,
    pages: Vec<ObjectId>,
    streams: Arc<[Gathered]>,
}

/// Where a body is painted: its frame on the page, and the first number of its parts there.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Spot {
    pub frame: [f32; 6],
    pub height: Length,
    pub first: i32,
}

/// What tells one body at one spot from all others of a document: where its marks lie in memory, and the spot.
pub(super) type Likeness = (usize, [u32; 6], i32);

impl Spot {
    /// The likeness of a panel's body here.
    pub fn likeness(&self, panel: &Panel) -> Likeness {
        (panel.body.as_ptr().addr(), self.frame.map(f32::to_bits), self.first)
    }
}

/// A body as it stands in a file.
pub(super) struct Painted {
    marks: Arc<[Mark]>,
    spot: Spot,
    /// Its glyphs, and the fonts whose codes it says.
    used: Arc<Used>,
    cuts: Arc<Cuts>,
    /// Its parts, by their numbers on the page from the first on.
    pub parts: Vec<Part>,
    /// Its content, deflated.
    pub stream: Vec<u8>,
}

impl Painted {
    /// Whether it would look the same with other fonts.
    fn suits(&self, marks: &Arc<[Mark]>, spot: Spot, cuts: &Arc<Cuts>) -> bool {
        let is_same = Arc::ptr_eq(&self.marks, marks) && self.spot == spot;
        is_same && (Arc::ptr_eq(&self.cuts, cuts) || self.cuts.agree(cuts, &self.used))
    }
}

impl Press {
    /// A press that has painted nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// A panel's body at a spot.
    pub(super) fn body(&self, panel: &Panel, spot: Spot, cuts: &Arc<Cuts>) -> Result<Arc<Painted>, Bug> {
        let known =
            self.painted.borrow().iter().rev().find(|known| known.suits(&panel.body, spot, cuts)).map(Arc::clone);
        if let Some(known) = known {
            return Ok(known);
        }
        let mut canvas = Canvas::new(panel.size.height, cuts);
        let parts = canvas.framed(spot.frame, spot.height, |canvas| canvas.tagged(&panel.body, spot.first))?;
        let (marks, used, cuts) = (Arc::clone(&panel.body), self.used(&panel.body), Arc::clone(cuts));
        let painted = Arc::new(Painted { marks, spot, used, cuts, parts, stream: zlib_shared(&canvas.finish()) });
        latest(&mut self.painted.borrow_mut(), Arc::clone(&painted));
        Ok(painted)
    }

    /// The glyphs of a body.
    pub(super) fn used(&self, marks: &Arc<[Mark]>) -> Arc<Used> {
        let mut counted = self.counted.borrow_mut();
        if let Some(known) = counted.iter().rev().find(|known| Arc::ptr_eq(&known.marks, marks)) {
            return Arc::clone(&known.used);
        }
        let used = Arc::new(Used::of(marks.iter()));
        latest(&mut counted, Counted { marks: Arc::clone(marks), used: Arc::clone(&used) });
        used
    }

    /// Fonts cut to some glyphs; those of the last document where it used the same.
    pub(super) fn cuts(&self, used: Used, alphabet: &[(Glyph, String)]) -> Result<Arc<Cuts>, Bug> {
        let mut last = self.cuts.borrow_mut();
        if let Some(known) = last.as_ref().filter(|known| known.is_of(&used)) {
            return Ok(Arc::clone(known));
        }
        let cuts = Arc::new(Cuts::new(used, alphabet)?);
        *last = Some(Arc::clone(&cuts));
        Ok(cuts)
    }

    /// The objects of a structure tree, numbered from `first` on; those of the last document where it had the same.
    pub(super) fn tree(&self, structure: Structure, first: u32, pages: &[ObjectId]) -> Arc<[Gathered]> {
        let mut last = self.tree.borrow_mut();
        let is_same = |tree: &&Tree| tree.first == first && tree.pages == pages && tree.structure == structure;
        if let Some(known) = last.as_ref().filter(is_same) {
            return Arc::clone(&known.streams);
        }
        let objects = (first..).zip(structure.objects(first, pages)).collect();
        let streams: Arc<[Gathered]> = gathered(objects, |bytes| self.deflated(bytes).to_vec()).into();
        *last = Some(Tree { structure, first, pages: pages.to_vec(), streams: Arc::clone(&streams) });
        streams
    }

    /// Deflated bytes with zlib's frame, of what many files hold.
    pub(super) fn deflated(&self, bytes: &[u8]) -> Arc<[u8]> {
        let mut streams = self.streams.borrow_mut();
        if let Some(known) = streams.get(bytes) {
            return Arc::clone(known);
        }
        let deflated: Arc<[u8]> = zlib_shared(bytes).into();
        if streams.len() >= STREAMS {
            streams.clear();
        }
        streams.insert(bytes.to_vec(), Arc::clone(&deflated));
        deflated
    }
}

fn latest<T>(kept: &mut VecDeque<T>, new: T) {
    if kept.len() >= BODIES {
        kept.pop_front();
    }
    kept.push_back(new);
}
