//! What several rules ask of one plan, found once for all of them.

use super::post_watch::PostWatch;
use super::unstaffed::Unstaffed;
use crate::reckon::{Staff, Stand};
use std::sync::OnceLock;

/// Of one plan: it stands beside the facts of that plan, and goes with them. A rule that wants what another is just finding waits
/// for it; nothing is found here side by side, or it could wait for itself.
#[derive(Default)]
pub(super) struct AskedOnce<'a> {
    pub stands: OnceLock<Vec<Stand<'a>>>,
    pub staff: OnceLock<Staff<'a>>,
    pub watches: OnceLock<Vec<PostWatch<'a>>>,
    pub unstaffed: OnceLock<Vec<Unstaffed<'a>>>,
}
