//! What a rule may look at.

use super::asked::AskedOnce;
use super::signals::{Reported, report};
use crate::ground::{Day, Findings, Stretch};
use crate::plan::{Channel, Place, Plan, Signal};
use crate::reckon::{Eligibility, Emission, FoundOnce, Site, Sites, Transmission, emission_of};
use crate::tables::{Profile, Tables};
use std::borrow::Cow;

/// The plan, the profile that it names, and the tables. Whoever has one knows that every signal of the plan of which nothing
/// can be reckoned has an error already.
#[derive(Clone, Copy)]
pub struct Facts<'a> {
    /// The plan as meant.
    pub plan: &'a Plan,
    /// Its country profile.
    pub profile: &'a Profile,
    /// All tables.
    pub tables: &'a Tables,
    sites: &'a Sites<'a>,
    known: &'a FoundOnce,
    pub(super) asked: &'a AskedOnce<'a>,
    reported: Reported,
}

impl<'a> Facts<'a> {
    /// Reports what cannot be reckoned, so that no rule takes it for lawful.
    pub(super) fn new(
        plan: &'a Plan,
        profile: &'a Profile,
        (tables, sites): (&'a Tables, &'a Sites<'a>),
        (known, asked): (&'a FoundOnce, &'a AskedOnce<'a>),
        found: &mut Findings,
    ) -> Self {
        let reported = report(plan, profile, tables, found);
        Self { plan, profile, tables, sites, known, asked, reported }
    }

    /// What a transmission occupies.
    pub(super) fn occupies(self, sent: &Transmission<'_>) -> Result<Stretch, Reported> {
        sent.occupies(self.profile, &self.tables.modes).map_err(|_| self.reported)
    }

    /// The same, with its tolerance on both sides.
    pub(super) fn reaches(self, sent: &Transmission<'_>) -> Result<Stretch, Reported> {
        sent.reaches(self.profile, &self.tables.modes).map_err(|_| self.reported)
    }

    /// What is occupied by whoever sends on a channel; none where one listens only, or where nothing can be reckoned.
    pub(super) fn sent_on(self, channel: &Channel) -> Option<Stretch> {
        self.occupies(&Transmission::on(self.plan, channel)?).ok()
    }

    /// Who may send on what, on a day: what the law says of a channel is found once for all rules that ask.
    pub(super) const fn eligibility(self, day: Option<Day>) -> Eligibility<'a> {
        let Self { tables, profile, plan, known, .. } = self;
        Eligibility { tables, profile, plan, day, known }
    }

    /// The emission of a signal of the plan.
    pub(super) fn emission_of(self, signal: &Signal) -> Result<Emission, Reported> {
        emission_of(signal, &self.tables.modes).map_err(|_| self.reported)
    }

    /// What sends and hears at a place of the plan.
    pub(super) fn site(self, place: &Place) -> Result<Cow<'a, Site>, Reported> {
        self.sites.at(place).map_err(|_| self.reported)
    }
}
