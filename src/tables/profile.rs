//! A country profile.

use super::profile_kinds::Rows;
use super::profile_rows::{Band, Calling, Class, Custom, ServiceChannel, UsualWidth};
use super::row::Cite;
use super::service::Service;
use super::standard::Standards;
use crate::ground::{Day, Frequency, Shift, Stretch};
use crate::source::Habits;
use std::sync::{Arc, OnceLock};

/// What the law and the band plan of one country say. Its rows stand behind `Deref`.
#[derive(Clone, Debug)]
pub struct Profile {
    /// `us`.
    pub id: String,
    /// Name of the country.
    pub name: String,
    /// The rule set with its date, as printed: `47 CFR Part 97 as of 2026-02-13`.
    pub rule_set: String,
    /// Last day on which somebody looked for changes.
    pub checked_on: Day,
    /// Day by which somebody must look again.
    pub review_by: Day,
    /// Where the rule set is from.
    pub cite: Cite,
    /// Language of the words, as `en-US`.
    pub language: String,
    /// Usual paper.
    pub paper: String,
    /// The identification rule in a sentence.
    pub identification: String,
    /// The identification rule in a few words.
    pub identification_short: String,
    /// Precedence words, highest first.
    pub precedence: Vec<String>,
    /// Words that no name said on the air may have.
    pub forbidden: Vec<String>,
    /// Whose privileges count, in a sentence.
    pub control_operator: String,
    /// What a width is that a plan leaves out.
    pub usual_width: UsualWidth,
    /// Whether distances over ground are printed in miles too.
    pub has_miles: bool,
    /// The service that its classes, bands and band plan are of.
    pub amateur: Arc<Service>,
    /// Its standard channels by name, once somebody has asked for one.
    pub(super) standards: OnceLock<Standards>,
    /// All its rows.
    pub(super) rows: Rows,
}

impl std::ops::Deref for Profile {
    type Target = Rows;
    fn deref(&self) -> &Rows {
        &self.rows
    }
}

impl Profile {
    /// What it says of values that a plan leaves out or writes in several ways.
    #[must_use]
    pub fn habits(self: &Arc<Self>) -> Habits {
        let classes = self.classes.iter().map(|class| [class.id.clone(), class.name.clone()]).collect();
        let shifts = self.customs.iter().filter_map(|custom| Some((custom.edges, custom.shift?))).collect();
        Habits {
            is_narrow: self.usual_width == UsualWidth::Narrow,
            classes,
            shifts,
            whole: Some(Arc::<Self>::clone(self)),
        }
    }

    /// The class of this id.
    #[must_use]
    pub fn class(&self, id: &str) -> Option<&Class> {
        self.classes.iter().find(|class| class.id == id)
    }

    /// The class that somebody means who writes its id or its printed name in small or capital letters.
    #[must_use]
    pub fn class_meant(&self, written: &str) -> Option<&Class> {
        let is_meant = |word: &str| word.to_lowercase() == written.to_lowercase();
        self.classes.iter().find(|class| is_meant(&class.id) || is_meant(&class.name))
    }

    /// The band that holds all of `occupied`.
    #[must_use]
    pub fn band_of(&self, occupied: &Stretch) -> Option<&Band> {
        self.bands.iter().find(|band| band.edges.holds(occupied))
    }

    /// The band that `frequency` lies in, or else the one whose edge is nearest.
    #[must_use]
    pub fn nearest_band(&self, frequency: Frequency) -> Option<&Band> {
        let distance = |band: &&Band| {
            let below = (band.edges.low() - frequency).as_hertz();
            let above = (frequency - band.edges.high()).as_hertz();
            below.max(above).max(0)
        };
        self.bands.iter().min_by_key(distance)
    }

    /// What the band plan says of a repeater with its output here: the narrowest row with a shift.
    #[must_use]
    pub fn usual_shift(&self, output: Frequency) -> Option<(&Custom, Shift)> {
        let with_shift = self.customs.iter().filter(|custom| custom.edges.has(output));
        with_shift
            .filter_map(|custom| Some((custom, custom.shift?)))
            .min_by_key(|(custom, _)| (custom.edges.high() - custom.edges.low()).size())
    }

    /// The calling frequency equal to `frequency`.
    #[must_use]
    pub fn calling(&self, frequency: Frequency) -> Option<&Calling> {
        self.callings.iter().find(|calling| calling.frequency == frequency)
    }

    /// Whether a repeater may occupy all of `occupied`.
    #[must_use]
    pub fn repeater_may_stand(&self, occupied: &Stretch) -> bool {
        self.repeater_segments.is_empty()
            || Stretch::are_covering(self.repeater_segments.iter().map(|segment| segment.edges), occupied)
    }

    /// The service of this id.
    #[must_use]
    pub fn service(&self, id: &str) -> Option<&Arc<Service>> {
        self.services.iter().find(|service| service.id == id)
    }

    /// The ids of its services, in file order.
    pub(super) fn service_ids(&self) -> Vec<&str> {
        self.services.iter().map(|service| service.id.as_str()).collect()
    }

    /// The channels of a service.
    pub fn channels_of<'a>(&'a self, service: &'a Service) -> impl Iterator<Item = &'a ServiceChannel> {
        self.service_channels.iter().filter(move |row| row.service == service.id)
    }
}
