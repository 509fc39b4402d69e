//! Radios that members have.

use crate::ground::{At, Id, Power, Span, Stretch, Tolerance, Words};
use crate::plan::terms::{Mode, Service};
use crate::source::record;

record! {
    /// `[[radio]]`: a model or a kind of radio that members have.
    #[derive(Clone, Debug)]
    pub struct Radio = "radio" {
        /// Unique among radios.
        id: At<Id>,
        /// Name in the team.
        name: At<Words>,
        /// Stretches it transmits on, as "144 MHz to 148 MHz".
        covers: At<Vec<At<Stretch>>>,
        /// Modes it has.
        modes: At<Vec<At<Mode>>>,
        /// Services that it is made for; amateur alone when left out.
        services: Vec<At<Service>>,
        /// Its highest power.
        power: At<Power>,
        /// How far it may be off the frequency that it shows.
        tolerance: Option<At<Tolerance>>,
        /// The record.
        span: Span,
    }
}
