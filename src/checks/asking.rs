//! How rules ask for what several of them want to know.

use super::Facts;
use super::at_post::watches;
use super::post_watch::PostWatch;
use super::unstaffed::{Unstaffed, unstaffed};
use crate::reckon::{Staff, Stand, stands};

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
        self.asked.unstaffed.get_or_init(|| unstaffed(self.plan, self.staff(), self.eligibility(None)))
    }
}
