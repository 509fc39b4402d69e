//! Paths that were tried on the air.

use super::{Channel, Place};
use crate::ground::{At, Day, Power, Span, Words};
use crate::plan::reference::Ref;
use crate::plan::terms::Heard;
use crate::source::record;

record! {
    /// `[[path-test]]`: how one place was heard at another, as tried.
    #[derive(Clone, Debug)]
    pub struct PathTest = "path-test" {
        /// The place that sent.
        from: At<Ref<Place>>,
        /// The place that listened.
        to: At<Ref<Place>>,
        /// The channel it was tried on.
        channel: At<Ref<Channel>>,
        /// The day, as `2026-10-04`.
        on: At<Day>,
        /// How it was heard, as `clear`.
        result: At<Heard>,
        /// The power it was sent with, as `5 W`; not known when left out.
        power: Option<At<Power>>,
        /// What else is to be known, as `from the roof only`; nothing is said when left out.
        note: Option<At<Words>>,
        /// The record.
        span: Span,
    }
}
