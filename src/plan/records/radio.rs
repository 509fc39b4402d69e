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
        /// Services for which it is approved, of those that take approved equipment, as `["frs"]`; none, so that it does not send in
        /// them, when left out.
        approved_for: Vec<At<Arc<Service>>>,
        /// Its highest power, at the transmitter, as `50 W`.
        power: At<Power>,
        /// How far it may be off the frequency that it shows; 0 when left out.
        tolerance: Option<At<Tolerance>>,
        /// How it is set, a step each, as the team found it out, as `["Frequency: knob to VFO, type six figures"]`; the radio card has
        /// room to write it when left out.
        steps: Vec<At<Words>>,
        /// The record.
        span: Span,
    }
}

impl Radio {
    /// Whether it is approved for a service.
    #[must_use]
    pub fn is_approved_for(&self, service: &Service) -> bool {
        self.approved_for.iter().any(|known| *known.value == *service)
    }
}
