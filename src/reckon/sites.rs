//! What sends and hears at each place of a plan, worked out once: many rules ask for it.

use super::Unreckoned;
use super::listeners::Listeners;
use super::site::{Here, Site};
use super::site_end::By;
use super::worked::Works;
use crate::ground::caps::{SITE_SENDERS, SITE_THREES};
use crate::ground::{At, Id};
use crate::plan::{Place, Plan, Ref};
use crate::tables::{Modes, Profile};
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};

/// Most senders and receivers that are kept; what stands at further places is worked out again each time.
const MOST_KEPT: usize = 200_000;

/// The sites of a plan.
pub struct Sites<'a> {
    by: By<'a>,
    works: Works<'a>,
    standing: BTreeMap<&'a Id, Here<'a>>,
    listeners: Listeners<'a>,
    kept: BTreeMap<&'a Id, Result<Site, Unreckoned>>,
    /// Places for whose products there is no more room under the cap of the whole plan.
    beyond: BTreeSet<&'a Id>,
}

impl<'a> Sites<'a> {
    /// All of a plan, worked out.
    #[must_use]
    pub fn of(plan: &'a Plan, profile: &'a Profile, modes: &'a Modes) -> Self {
        let (mut sites, mut ends, mut threes) = (Self::asked_for(plan, profile, modes), 0, 0_u64);
        for place in plan.places.iter() {
            let count = u64::try_from(sites.sending(place)).unwrap_or(u64::MAX);
            // What is crowded by itself takes no time.
            let own = if SITE_SENDERS.takes(count) { count.saturating_pow(3) } else { 0 };
            threes = threes.saturating_add(own);
            if own > 0 && !SITE_THREES.takes(threes) {
                sites.beyond.insert(&place.id.value);
            }
        }
        for place in plan.places.iter() {
            let site = sites.reckoned(place);
            ends += site.as_ref().map_or(0, |site| site.senders.len() + site.receivers.len());
            if ends > MOST_KEPT {
                break;
            }
            sites.kept.insert(&place.id.value, site);
        }
        sites
    }

    /// Each worked out when it is asked for.
    #[must_use]
    pub fn asked_for(plan: &'a Plan, profile: &'a Profile, modes: &'a Modes) -> Self {
        let by = By { plan, profile, modes };
        let mut standing: BTreeMap<&Id, Here<'a>> = BTreeMap::new();
        let mut at = |place: &'a Option<At<Ref<Place>>>, put: &dyn Fn(&mut Here<'a>)| {
            if let Some(place) = place {
                put(standing.entry(&place.value).or_default());
            }
        };
        plan.links.iter().for_each(|link| at(&link.place, &|here| here.links.push(link)));
        plan.repeaters.iter().for_each(|repeater| at(&repeater.place, &|here| here.repeaters.push(repeater)));
        plan.gateways.iter().for_each(|gateway| at(&gateway.place, &|here| here.gateways.push(gateway)));
        let (works, listeners) = (Works::of(plan), Listeners::of(by));
        Self { by, works, standing, listeners, kept: BTreeMap::new(), beyond: BTreeSet::new() }
    }

    /// What sends and hears at a place.
    ///
    /// # Errors
    /// When one of the signals cannot be reckoned: without it the site would look quieter than it is.
    pub fn at(&self, place: &Place) -> Result<Cow<'_, Site>, Unreckoned> {
        match self.kept.get(&place.id.value) {
            Some(Ok(site)) => Ok(Cow::Borrowed(site)),
            Some(Err(why)) => Err(why.clone()),
            None => self.reckoned(place).map(Cow::Owned),
        }
    }

    fn reckoned(&self, place: &Place) -> Result<Site, Unreckoned> {
        let none = Here::default();
        let here = self.standing.get(&place.id.value).unwrap_or(&none);
        Site::of(place, (&self.works.at(place), here, self.beyond.contains(&place.id.value)), &self.listeners, self.by)
    }

    /// About how many transmitters are at a place.
    #[must_use]
    pub fn sending(&self, place: &Place) -> usize {
        let none = Here::default();
        let here = self.standing.get(&place.id.value).unwrap_or(&none);
        let standing = here.repeaters.len() + here.gateways.len() + 2 * here.links.len();
        self.works.at(place).len() + standing + place.others.len()
    }
}
