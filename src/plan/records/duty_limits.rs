//! How much duty is too much.

use crate::ground::{At, Lapse, Span};
use crate::source::{Whole, record};

record! {
    /// `[duty-limits]`: how long and how many nights in a row somebody stands duty, and how long a relief takes.
    #[derive(Clone, Debug)]
    pub struct DutyLimits = "duty-limits" {
        /// The most duty of one member without a rest, as `14 h`; 16 h when left out.
        longest: Option<At<Lapse>>,
        /// How much time off is a rest, as `10 h`; 8 h when left out.
        rest: Option<At<Lapse>>,
        /// The most nights of duty in a row, as `2`; 3 when left out.
        nights: Option<At<Whole<u16, 1, 365>>>,
        /// How long both stand at a post when one relieves the other, as `15 min`; not judged when left out.
        handover: Option<At<Lapse>>,
        /// The record.
        span: Span,
    }
}
