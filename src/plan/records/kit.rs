//! What somebody is handed as one set.

use super::{DocumentOrder, Post};
use crate::ground::{At, Audience, Id, Span, Words};
use crate::plan::reference::Ref;
use crate::plan::terms::Each;
use crate::source::record;

record! {
    /// `[[kit]]`: documents that are handed over together, as one file behind a cover sheet that lists them.
    #[derive(Clone, Debug)]
    pub struct KitOrder = "kit" {
        /// Unique among kits, and the name of its file, as `net-control-set`; made of its title when left out.
        id: At<Id>,
        /// What the cover calls it, as `Net control's papers`; its id's words when left out.
        title: At<Words> = super::words_of(&id),
        /// The documents in it, in their order, as `channel-card`.
        documents: At<Vec<At<Ref<DocumentOrder>>>>,
        /// Whether each member or place gets a set of its own; one set when left out.
        each: At<Each> = Each::Once,
        /// Only members who have this role get one, as `Net control`; any when left out.
        role: Option<At<Words>>,
        /// Only members who stand duty at this post get one; at any or none when left out.
        post: Option<At<Ref<Post>>>,
        /// Whether the sets of all stand in one file, one behind the other, as one stack to print; false when left out.
        together: Option<At<bool>>,
        /// Who may read it: all of its documents must be open to them; coordinator when left out.
        audience: At<Audience> = Audience::Coordinator,
        /// The record.
        span: Span,
    }
}
