//! Which rules a profile gives something to judge by.

use super::{
    adjacent_channel, agreement_not_settled, allotment_exceeded, allotment_unconfirmed, area_unproved,
    automatic_outside_segment, band_plan_segment, band_plan_side, call_sign_closed, call_sign_elsewhere,
    call_sign_over_class, call_sign_shape, calling_frequency_worked, emergency_frequency_alone, emission_too_wide,
    erp_assumed, excluded_area, heard_beside_channel, no_class_may_send, off_raster, power_over_class_limit,
    power_over_limit, radio_not_approved, repeater_outside_segment, service_channel_unknown, service_limit_exceeded,
    service_row_unproved, sixty_meters_lower_sideband, standard_name_differs, unattended_station_limits, unusual_shift,
    wider_than_band_plan, wider_than_spacing, word_forbidden,
};
use crate::ground::Rule;
use crate::tables::{PowerMeasure, Profile, ServiceChannel};

/// Whether a profile has the rows that a rule rests on.
type Has = fn(&Profile) -> bool;

/// Rules that find nothing under a profile without certain rows. A rule that is not here rests on the plan, or on the bands, classes
/// and privileges that every profile has.
const NEEDS: &[(&Rule, Has)] = &[
    (&adjacent_channel::RULE, |of| of.rasters.iter().any(|row| row.spacing.is_some())),
    (&agreement_not_settled::RULE, |of| of.services.iter().any(|service| service.lending.is_some())),
    (&allotment_exceeded::RULE, |of| !of.allotments.is_empty()),
    (&allotment_unconfirmed::RULE, |of| !of.allotments.is_empty()),
    (&area_unproved::RULE, has_areas),
    (&automatic_outside_segment::RULE, |of| !of.automatic_segments.is_empty()),
    (&band_plan_segment::RULE, |of| {
        of.customs.iter().any(|row| row.is_without_fm || row.is_without_voice || row.is_without_mailboxes)
    }),
    (&band_plan_side::RULE, |of| of.customs.iter().any(|row| row.side.is_some())),
    (&call_sign_closed::RULE, |of| !of.closed_calls.is_empty()),
    (&call_sign_elsewhere::RULE, |of| !of.call_regions.is_empty()),
    (&call_sign_over_class::RULE, |of| of.call_forms.iter().any(|form| !form.classes.is_empty())),
    (&call_sign_shape::RULE, |of| !of.call_forms.is_empty()),
    (&calling_frequency_worked::RULE, |of| !of.callings.is_empty()),
    (&emergency_frequency_alone::RULE, |of| !of.emergencies.is_empty()),
    (&emission_too_wide::RULE, |of| of.emissions.iter().any(|row| row.width.is_some() || row.data_width.is_some())),
    (&erp_assumed::RULE, |of| {
        of.power_limits.iter().any(|row| row.classes.is_empty() && row.most.measure == PowerMeasure::Erp)
    }),
    (&excluded_area::RULE, |of| !of.exclusions.is_empty()),
    (&heard_beside_channel::RULE, |of| !of.service_channels.is_empty()),
    (&no_class_may_send::RULE, |of| !of.emissions.is_empty()),
    (&off_raster::RULE, |of| !of.rasters.is_empty()),
    (&power_over_class_limit::RULE, |of| of.power_limits.iter().any(|row| !row.classes.is_empty())),
    (&power_over_limit::RULE, |of| of.power_limits.iter().any(|row| row.classes.is_empty())),
    (&radio_not_approved::RULE, |of| of.services.iter().any(|service| service.takes_approved)),
    (&repeater_outside_segment::RULE, |of| !of.repeater_segments.is_empty()),
    (&service_channel_unknown::RULE, |of| !of.service_channels.is_empty()),
    (&service_limit_exceeded::RULE, |of| !of.service_channels.is_empty()),
    (&service_row_unproved::RULE, |of| {
        let is_unsure = |row: &ServiceChannel| {
            ["frequency", "width", "power"].map(|of| row.cite.is_from_memory(of)).contains(&true)
        };
        of.service_channels.iter().any(is_unsure)
    }),
    (&sixty_meters_lower_sideband::RULE, |of| of.bands.iter().any(|band| band.id == "60m")),
    (&standard_name_differs::RULE, |of| of.services.iter().any(|service| service.has_standard_names)),
    (&unattended_station_limits::RULE, |of| !of.auxiliary_segments.is_empty() || !of.beacon_segments.is_empty()),
    (&unusual_shift::RULE, |of| of.customs.iter().any(|row| row.shift.is_some())),
    (&wider_than_band_plan::RULE, |of| of.customs.iter().any(|row| row.width.is_some())),
    (&wider_than_spacing::RULE, |of| of.rasters.iter().any(|row| row.spacing.is_some())),
    (&word_forbidden::RULE, |of| !of.forbidden.is_empty()),
];

fn has_areas(of: &Profile) -> bool {
    !of.exclusions.is_empty() || of.power_limits.iter().any(|row| row.area.is_some())
}

/// Whether a rule has something to judge by under a profile: one without rows finds nothing, and was not checked.
#[must_use]
pub fn has_rows(rule: &Rule, profile: &Profile) -> bool {
    NEEDS.iter().find(|(known, _)| *known == rule).is_none_or(|(_, has)| has(profile))
}
