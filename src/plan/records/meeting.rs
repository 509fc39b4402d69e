//! When nets meet.

use super::Channel;
use crate::ground::{At, Lapse, Span};
use crate::plan::notations::TimeOfDay;
use crate::plan::reference::Ref;
use crate::plan::terms::MeetingDay;
use crate::source::record;

record! {
    /// A time at which a net meets, again and again.
    #[derive(Clone, Debug)]
    pub struct Meeting = "schedule" {
        /// The day of the week, or `daily`, as `Tuesday`.
        day: At<MeetingDay>,
        /// When it begins, by the clocks of the plan's time zone, as `19:30`.
        at: At<TimeOfDay>,
        /// How long it lasts at most, as `1 h`; not printed when left out.
        lasts as "for": Option<At<Lapse>>,
        /// The channel on which it meets then, where one is for the day and another for the night; the net's primary when left
        /// out.
        on: Option<At<Ref<Channel>>>,
        /// The record.
        span: Span,
    }
}
