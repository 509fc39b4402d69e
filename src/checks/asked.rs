//! What several rules ask of one plan, found once for all of them.

use super::Facts;
use super::at_post::{PostWatch, watches};
use super::unstaffed::{Unstaffed, unstaffed};
use crate::reckon::{Staff, Stand, stands};
use std::sync::OnceLock;

/// Of one plan: it stands beside the facts of that plan, and goes with them. A rule that wants what another is just finding waits
/// for it; nothing is found here side by side, or it could wait for itself.
#[derive(Default)]
pub(super) struct AskedOnce<'a> {
    stands: OnceLock<Vec<Stand<'a>>>,
    staff: OnceLock<Staff<'a>>,
    watches: OnceLock<Vec<PostWatch<'a>>>,
    unstaffed: OnceLock<Vec<Unstaffed<'a>>>,
}

impl<'a> Facts<'a> {
    /// All duties in order of time.
    pub(super) fn stands(self) -> &'a [Stand<'a>] {
        self.asked.stands.get_or_init(|| stands(self.plan))
    }

    /// Who works which net when.
    pub(super) fn staff(self) -> &'a Staff<'a> {
        self.asked.staff.get_or_init(|| Staff::standing(self.plan, self.stands()))
    }

    /// All shifts at all posts that lack something.
    pub(super) fn watches(self) -> &'a [PostWatch<'a>] {
        self.asked.watches.get_or_init(|| watches(self))
    }

    /// Every gap at every post.
    pub(super) fn unstaffed(self) -> &'a [Unstaffed<'a>] {
        self.asked.unstaffed.get_or_init(|| unstaffed(self))
    }
}
