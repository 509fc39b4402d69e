//! What was set before. The cards of a team have most of their panels in common: each is set once, and painted once.

use super::layout::Layout;
use crate::compose::block::{Section, Text};
use crate::ground::Length;
use crate::sheet::{Mark, Point};
use std::cell::RefCell;
use std::collections::VecDeque;
use std::sync::Arc;

/// The body of a panel where it stands on it.
#[derive(Clone)]
pub(super) struct Settled {
    /// The title printed over it.
    pub title: String,
    /// In reading order.
    pub marks: Arc<[Mark]>,
    /// How much of its height is taken, and how much there is.
    pub fill: (Length, Length),
}

/// What a body says.
#[derive(Clone, PartialEq, Eq)]
pub(super) enum Said {
    /// Sections that follow each other.
    Sections(Vec<Section>),
    /// What is said once a sheet, and which of how many sheets it is.
    About(Vec<Text>, (usize, usize)),
    /// Lines to write on.
    Notes,
}

/// All that decides how bodies look.
#[derive(Clone, PartialEq, Eq)]
pub(super) struct Asked {
    /// Top left corner of a body on its panel.
    pub at: Point,
    /// Its width and height.
    pub size: (Length, Length),
    /// What it says.
    pub said: Said,
    /// How.
    pub layout: Layout,
}

/// Bodies set last, the latest at the end.
#[derive(Default)]
pub(super) struct Memory {
    kept: RefCell<VecDeque<(Asked, Vec<Settled>)>>,
}

/// How many settings are remembered: the panels of some documents, not those of a thousand holders.
const KEPT: usize = 64;

impl Memory {
    /// What was set when the same was asked for.
    pub fn recall(&self, asked: &Asked) -> Option<Vec<Settled>> {
        let mut kept = self.kept.borrow_mut();
        let at = kept.iter().rposition(|(known, _)| known == asked)?;
        let known = kept.remove(at)?;
        let settled = known.1.clone();
        kept.push_back(known);
        Some(settled)
    }

    /// Remembers what was set; what was not asked for in the longest time is forgotten for it.
    pub fn keep(&self, asked: Asked, settled: Vec<Settled>) {
        let mut kept = self.kept.borrow_mut();
        if kept.len() >= KEPT {
            kept.pop_front();
        }
        kept.push_back((asked, settled));
    }
}
