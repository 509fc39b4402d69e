//! A profile of many countries as it is in one of them.

use super::emission_type::EmissionType;
use super::profile::Profile;
use super::profile_kinds::Rows;
use super::profile_rows::{Allowance, Band, Custom, EmissionRow, Privilege};
use crate::ground::{Frequency, Stretch};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What lies further from a band than this part of its frequency has nothing to do with it.
const NEAR: u64 = 50;

impl Profile {
    /// The profile as it is in a country, by its two letters: what that allots of a band stands in the place of the band's own rows,
    /// and its band plan in the place of the common one. Rows of other countries count nowhere.
    #[must_use]
    pub fn in_country(self: &Arc<Self>, country: Option<&str>) -> Arc<Self> {
        let is_one_everywhere = self.allotments.is_empty() && self.customs.iter().all(|row| row.country.is_none());
        if is_one_everywhere && self.bands.is_sorted_by_key(|band| band.edges.low()) {
            return Arc::clone(self);
        }
        let mut here = Self::clone(self);
        let is_here = |of: &str| country == Some(of);
        here.rows.allotments.retain(|row| is_here(&row.country));
        here.rows.customs = customs_in(&self.rows.customs, &is_here);
        let mut bands: BTreeMap<String, Vec<Allowance>> = BTreeMap::new();
        for row in &here.rows.allotments {
            bands.entry(row.band.clone()).or_default().push(row.clone());
        }
        bands.into_iter().for_each(|(id, pieces)| allot(&mut here.rows, &id, &pieces));
        here.rows.bands.sort_by_key(|band| band.edges.low());
        Arc::new(here)
    }

    /// Whether a row is bound to states or provinces, so that a plan must name its own.
    #[must_use]
    pub fn binds_states(&self) -> bool {
        let limits = self.power_limits.iter().filter_map(|row| row.area.as_ref());
        let mut areas = limits.chain(self.exclusions.iter().map(|row| &row.area));
        areas.any(|area| !area.regions.is_empty() || !area.lies_in.is_empty()) || !self.call_regions.is_empty()
    }

    /// The band that a signal is in, or near to, with what the plan's country allots of it; none where that is no country's matter.
    #[must_use]
    pub fn allotted_near(&self, at: Frequency, reaches: &Stretch) -> Option<(&Band, Vec<&Allowance>)> {
        let is_near = |band: &&Band| {
            let away = (band.edges.low() - at).as_hertz().max((at - band.edges.high()).as_hertz());
            away <= i64::try_from(at.as_hertz() / NEAR).unwrap_or(i64::MAX)
        };
        let band = self.band_of(reaches).or_else(|| self.nearest_band(at).filter(is_near))?;
        let pieces: Vec<&Allowance> = self.allotted(band).collect();
        (!pieces.is_empty()).then_some((band, pieces))
    }

    /// What the plan's country allots of a band; nothing where the band is the profile's own.
    pub fn allotted<'a>(&'a self, band: &'a Band) -> impl Iterator<Item = &'a Allowance> {
        self.allotments.iter().filter(move |row| row.band == band.id)
    }
}

fn customs_in(all: &[Custom], is_here: &dyn Fn(&str) -> bool) -> Vec<Custom> {
    let own: Vec<&Custom> = all.iter().filter(|row| row.country.as_deref().is_some_and(is_here)).collect();
    let is_planned = |row: &Custom| own.iter().any(|own| own.edges.holds(&row.edges));
    let common = all.iter().filter(|row| row.country.is_none() && !is_planned(row));
    common.chain(own.iter().copied()).cloned().collect()
}

/// Puts what a country allots in the place of a band's rows.
fn allot(rows: &mut Rows, id: &str, pieces: &[Allowance]) {
    let (Some(low), Some(high)) =
        (pieces.iter().map(|piece| piece.edges.low()).min(), pieces.iter().map(|piece| piece.edges.high()).max())
    else {
        return;
    };
    let (Some(edges), Some(first)) = (Stretch::new(low, high), pieces.first()) else { return };
    let name = rows.bands.iter().find(|band| band.id == id).map_or_else(|| name_of(id), |band| band.name.clone());
    let classes: Vec<String> = rows.classes.iter().map(|class| class.id.clone()).collect();
    rows.bands.retain(|band| band.id != id);
    rows.privileges.retain(|row| row.band.as_deref() != Some(id));
    rows.emissions.retain(|row| row.band.as_deref() != Some(id));
    rows.bands.push(Band { id: id.to_owned(), name, edges, status: None, sharing: None, cite: first.cite.clone() });
    for piece in pieces {
        rows.privileges.push(Privilege {
            band: Some(id.to_owned()),
            classes: classes.clone(),
            edges: piece.edges,
            centre: None,
            dial_to_centre: None,
            cite: piece.cite.clone(),
        });
        rows.emissions.push(EmissionRow {
            band: Some(id.to_owned()),
            edges: piece.edges,
            types: OPEN.to_vec(),
            not_for: Vec::new(),
            ssb_only_for: Vec::new(),
            width: None,
            data_width: None,
            has_angle_index_1: false,
            cite: piece.cite.clone(),
        });
    }
}

/// What is sent in a band that a country allots, where the row says no more.
const OPEN: [EmissionType; 5] =
    [EmissionType::Mcw, EmissionType::Phone, EmissionType::Image, EmissionType::Rtty, EmissionType::Data];

/// `4 m` of `4m`.
fn name_of(id: &str) -> String {
    let (number, unit) = id.split_at(id.find(|c: char| c.is_ascii_alphabetic()).unwrap_or(id.len()));
    format!("{number} {unit}")
}
