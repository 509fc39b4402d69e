//! Posts, and who stands them.

use super::{Member, Net, Place};
use crate::ground::{At, Id, Span, Words};
use crate::plan::notations::LocalTime;
use crate::plan::reference::Ref;
use crate::source::record;

record! {
    /// `[[post]]`: somewhere to stand duty.
    #[derive(Clone, Debug)]
    pub struct Post = "post" {
        /// Unique among posts, as `eoc`; made of its name when left out.
        id: At<Id>,
        /// What it is called, as `Net control`.
        name: At<Words>,
        /// Where it is; nowhere known when left out.
        place: Option<At<Ref<Place>>>,
        /// The nets worked from there; none when left out.
        nets: Vec<At<Ref<Net>>>,
        /// When it is first stood, in local time; the beginning of the incident when left out.
        from: Option<At<LocalTime>>,
        /// When it is last stood, in local time, as `2026-12-05 18:00`; the end of the incident when left out.
        to: Option<At<LocalTime>>,
        /// The record.
        span: Span,
    }

    /// `[[duty]]`: who stands a post from when to when.
    #[derive(Clone, Debug)]
    pub struct Duty = "duty" {
        /// The post that is stood.
        post: At<Ref<Post>>,
        /// The member who stands it.
        member: At<Ref<Member>>,
        /// When it begins, in local time.
        from: At<LocalTime>,
        /// When it ends, in local time, as `2026-12-05 18:00`.
        to: At<LocalTime>,
        /// The record.
        span: Span,
    }
}
