//! Posts, and who stands them.

use super::{Member, Net, Place};
use crate::ground::{At, Id, Span, Words};
use crate::plan::reference::Ref;
use crate::plan::terms::LocalTime;
use crate::source::record;

record! {
    /// `[[post]]`: somewhere to stand duty.
    #[derive(Clone, Debug)]
    pub struct Post = "post" {
        /// Unique among posts.
        id: At<Id>,
        /// What it is called.
        name: At<Words>,
        /// A place's id.
        place: Option<At<Ref<Place>>>,
        /// Nets worked from here.
        nets: Vec<At<Ref<Net>>>,
        /// Stood from this local time on, where not during the whole incident.
        from: Option<At<LocalTime>>,
        /// Stood until this local time, where not during the whole incident.
        to: Option<At<LocalTime>>,
        /// The record.
        span: Span,
    }

    /// `[[duty]]`: who stands a post from when to when.
    #[derive(Clone, Debug)]
    pub struct Duty = "duty" {
        /// A post's id.
        post: At<Ref<Post>>,
        /// A member's id.
        member: At<Ref<Member>>,
        /// Local time.
        from: At<LocalTime>,
        /// Local time.
        to: At<LocalTime>,
        /// The record.
        span: Span,
    }
}
