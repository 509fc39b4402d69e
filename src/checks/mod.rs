//! The plan against the law, the band plan and itself; and the proof that no error is left.

mod adjacent_channel;
mod agreement_ended;
mod agreement_ends_in_edition;
mod agreement_gives_nothing;
mod agreement_not_settled;
mod allot;
mod amateur;
mod antenna_duplicate;
mod area_unproved;
mod at_post;
mod authority_ends_before_duty;
mod automatic_outside_segment;
mod band_plan_segment;
mod band_plan_side;
mod call_sign_closed;
mod call_sign_elsewhere;
mod call_sign_not_of_service;
mod call_sign_over_class;
mod call_sign_shape;
mod call_signs;
mod calling_frequency_worked;
mod channel_crowded;
mod channel_crowded_after_loss;
mod channel_not_allotted;
mod channels_overlap;
mod class_unknown;
mod contacts_mostly_hidden;
mod coordinator_without_number;
mod done_after_issue;
mod duplicate_call_sign;
mod duplicate_name;
mod duplicate_spoken_name;
mod duty_times_out_of_order;
mod duty_without_rest;
mod edition_dates_out_of_order;
mod emergency_frequency_alone;
mod emission_contradicts_mode;
mod emission_too_wide;
mod emission_unreadable;
mod erp_assumed;
mod evidence;
mod evidence_missing;
mod evidence_old;
mod excluded_area;
mod facts;
mod fallback_contradicts_net;
mod harmonic_on_receiver;
mod hear_tone_silences;
mod hear_tone_unproved;
mod hours_out_of_order;
mod last_channel_leads_nowhere;
mod licence_ends_in_edition;
mod licence_expired;
mod link_joins_nets;
mod link_within_one_band;
mod links_in_a_ring;
mod local_time_unclear;
mod meant_service;
mod member_at_two_places;
mod member_at_two_posts;
mod name_is_proword;
mod name_over_two_words;
mod names_sound_alike;
mod neighbour_on_frequency;
mod net_control_unreachable;
mod net_control_unstaffed;
mod net_does_not_rejoin;
mod net_repeats_channel;
mod net_shares_element;
mod nets_share_fallback;
mod next_is_own_channel;
mod no_class_may_send;
mod no_member_may_send;
mod no_radio_for_duty;
mod nobody_may_use;
mod off_raster;
mod period_outside_edition;
mod phone_of_two_members;
mod place_agreement_missing;
mod place_agreement_old;
mod position_far_away;
mod possible_product;
mod post_outside_range;
mod post_unstaffed;
mod power_over_class_limit;
mod power_over_limit;
mod power_over_place_limit;
mod profile_out_of_date;
mod profile_unknown;
mod region_unknown;
mod repeater_outside_segment;
mod row_duplicate;
mod row_missing;
mod rows;
mod run;
mod same_band_at_site;
mod sends_where_not_allowed;
mod service_channel_unknown;
mod service_limit_exceeded;
mod shift_contradicts_tx;
mod short_too_long;
mod signal_leaves_radio;
mod signals;
mod site_number_private;
mod site_role_names_member;
mod sixty_meters_lower_sideband;
mod spacing_duplicate;
mod spoken;
mod standard_name_differs;
mod talkgroup_not_for_mode;
mod tone_contradicts_repeater;
mod tone_not_for_mode;
mod tone_not_standard;
mod tones_close;
mod too_few_radios_at_post;
mod transmit_denial_unclear;
mod transmit_leaves_band;
mod transmit_not_checked;
mod trial;
mod trials;
mod trigger_contradicts_row;
mod twins;
mod unattended_station_limits;
mod unstaffed;
mod unusual_shift;
mod voice_too_narrow;
mod waivers;
mod wider_than_band_plan;
mod word_forbidden;

pub use allot::{Allotment, Allotted, allot, allotted_texts};
pub use call_signs::calls;
pub use facts::Facts;
pub use rows::has_rows;
pub use run::{Check, CheckedPlan, run};
pub use signals::Reported;
pub use waivers::{Answering, apply as apply_waivers};

use crate::ground::Rule;

/// Every rule about the plan: adding one is its file and its line here.
pub const CHECKS: &[Check] = &[
    profile_unknown::CHECK,
    profile_out_of_date::CHECK,
    region_unknown::CHECK,
    edition_dates_out_of_order::CHECK,
    short_too_long::CHECK,
    channel_not_allotted::CHECK,
    emission_contradicts_mode::CHECK,
    transmit_leaves_band::CHECK,
    transmit_not_checked::CHECK,
    service_channel_unknown::CHECK,
    service_limit_exceeded::CHECK,
    standard_name_differs::CHECK,
    agreement_gives_nothing::CHECK,
    agreement_not_settled::CHECK,
    agreement_ended::CHECK,
    agreement_ends_in_edition::CHECK,
    excluded_area::CHECK,
    area_unproved::CHECK,
    repeater_outside_segment::CHECK,
    voice_too_narrow::CHECK,
    emission_too_wide::CHECK,
    automatic_outside_segment::CHECK,
    unattended_station_limits::CHECK,
    power_over_limit::CHECK,
    power_over_class_limit::CHECK,
    erp_assumed::CHECK,
    class_unknown::CHECK,
    nobody_may_use::CHECK,
    no_class_may_send::CHECK,
    no_member_may_send::CHECK,
    licence_expired::CHECK,
    licence_ends_in_edition::CHECK,
    authority_ends_before_duty::CHECK,
    call_sign_not_of_service::CHECK,
    call_sign_shape::CHECK,
    call_sign_over_class::CHECK,
    call_sign_closed::CHECK,
    call_sign_elsewhere::CHECK,
    duplicate_call_sign::CHECK,
    tone_not_standard::CHECK,
    tone_not_for_mode::CHECK,
    talkgroup_not_for_mode::CHECK,
    tone_contradicts_repeater::CHECK,
    hear_tone_silences::CHECK,
    hear_tone_unproved::CHECK,
    tones_close::CHECK,
    shift_contradicts_tx::CHECK,
    unusual_shift::CHECK,
    band_plan_segment::CHECK,
    band_plan_side::CHECK,
    off_raster::CHECK,
    wider_than_band_plan::CHECK,
    calling_frequency_worked::CHECK,
    emergency_frequency_alone::CHECK,
    sixty_meters_lower_sideband::CHECK,
    channels_overlap::CHECK,
    adjacent_channel::CHECK,
    post_outside_range::CHECK,
    channel_crowded::CHECK,
    channel_crowded_after_loss::CHECK,
    neighbour_on_frequency::CHECK,
    possible_product::CHECK,
    harmonic_on_receiver::CHECK,
    same_band_at_site::CHECK,
    antenna_duplicate::CHECK,
    spacing_duplicate::CHECK,
    transmit_denial_unclear::CHECK,
    sends_where_not_allowed::CHECK,
    power_over_place_limit::CHECK,
    place_agreement_missing::CHECK,
    place_agreement_old::CHECK,
    position_far_away::CHECK,
    nets_share_fallback::CHECK,
    net_repeats_channel::CHECK,
    net_shares_element::CHECK,
    fallback_contradicts_net::CHECK,
    trigger_contradicts_row::CHECK,
    next_is_own_channel::CHECK,
    last_channel_leads_nowhere::CHECK,
    net_does_not_rejoin::CHECK,
    duplicate_name::CHECK,
    duplicate_spoken_name::CHECK,
    word_forbidden::CHECK,
    names_sound_alike::CHECK,
    link_joins_nets::CHECK,
    link_within_one_band::CHECK,
    links_in_a_ring::CHECK,
    name_is_proword::CHECK,
    name_over_two_words::CHECK,
    row_missing::CHECK,
    row_duplicate::CHECK,
    duty_times_out_of_order::CHECK,
    hours_out_of_order::CHECK,
    period_outside_edition::CHECK,
    local_time_unclear::CHECK,
    member_at_two_places::CHECK,
    member_at_two_posts::CHECK,
    duty_without_rest::CHECK,
    net_control_unstaffed::CHECK,
    net_control_unreachable::CHECK,
    post_unstaffed::CHECK,
    no_radio_for_duty::CHECK,
    too_few_radios_at_post::CHECK,
    evidence_missing::CHECK,
    evidence_old::CHECK,
    done_after_issue::CHECK,
    site_number_private::CHECK,
    site_role_names_member::CHECK,
    coordinator_without_number::CHECK,
    phone_of_two_members::CHECK,
    contacts_mostly_hidden::CHECK,
];

/// The rules of this floor: those that come before all others, and those about waivers, included.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    let first = signals::RULES.iter().copied();
    first.chain(CHECKS.iter().map(|check| check.rule)).chain(waivers::RULES.iter().copied())
}
