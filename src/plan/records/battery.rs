//! Batteries.

use crate::ground::{At, Celsius, Charge, Day, Id, Share, Span, Voltage, Words};
use crate::plan::terms::Chemistry;
use crate::source::record;

record! {
    /// `[[battery]]`: a battery that a station runs on.
    #[derive(Clone, Debug)]
    pub struct Battery = "battery" {
        /// Unique among batteries, as `shelf`; made of its name when left out.
        id: At<Id>,
        /// Name in the team, as on its label, as `Shelf battery`.
        name: At<Words>,
        /// What it is rated at, for a discharge of 20 hours.
        capacity: At<Charge>,
        /// What it is made of, as `lithium-iron-phosphate`; lead-acid, the careful one, when left out.
        chemistry: Option<At<Chemistry>>,
        /// Its nominal voltage; that of six cells of lead-acid or four of lithium iron phosphate when left out.
        voltage: Option<At<Voltage>>,
        /// How much of it is used, as `60 %`; a half of lead-acid and 80 % of lithium iron phosphate when left out.
        usable: Option<At<Share>>,
        /// Since when it is in use: it holds less each year, as `2022-05-01`; as new when left out.
        since: Option<At<Day>>,
        /// The coldest it is used in: cold, it gives less, as `-5 C`; 25 degrees when left out.
        coldest: Option<At<Celsius>>,
        /// The record.
        span: Span,
    }
}

impl Battery {
    /// What it is made of: lead-acid where the plan does not say.
    #[must_use]
    pub fn made_of(&self) -> Chemistry {
        self.chemistry.map_or(Chemistry::LeadAcid, |chemistry| chemistry.value)
    }

    /// Its nominal voltage: 12 V or 12.8 V where the plan does not say.
    #[must_use]
    pub fn nominal(&self) -> Voltage {
        let usual = match self.made_of() {
            Chemistry::LeadAcid => Voltage::grains(12_000),
            Chemistry::LithiumIronPhosphate => Voltage::grains(12_800),
        };
        self.voltage.map_or(usual, |voltage| voltage.value)
    }
}
