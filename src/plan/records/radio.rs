//! Radios that members have.

use crate::ground::{At, Id, Power, Span, Stretch, Tolerance, Words};
use crate::plan::terms::Mode;
use crate::source::record;
use crate::tables::Service;
use std::sync::Arc;

record! {
    /// `[[radio]]`: a model or a kind of radio that members have.
    #[derive(Clone, Debug)]
    pub struct Radio = "radio" {
        /// Unique among radios, as `two-meter`; made of its name when left out.
        id: At<Id>,
        /// Name in the team, as `Two-meter mobile`.
        name: At<Words>,
        /// Stretches that it transmits on.
        covers: At<Vec<At<Stretch>>>,
        /// Modes that it has, as `FM`.
        modes: At<Vec<At<Mode>>>,
        /// Services that it is made for; amateur alone when left out.
        services: Vec<At<Arc<Service>>>,
        /// Its highest power, at the transmitter, as `50 W`.
        power: At<Power>,
        /// How far it may be off the frequency that it shows; 0 when left out.
        tolerance: Option<At<Tolerance>>,
        /// The record.
        span: Span,
    }
}
