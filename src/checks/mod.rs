//! The plan against the law, the band plan and itself; and the proof that no error is left.

mod adjacent_channel;
mod agreement_ended;
mod agreement_ends_in_edition;
mod agreement_gives_nothing;
mod agreement_not_settled;
mod allot;
mod allotment_exceeded;
mod allotment_unconfirmed;
mod amateur;
mod antenna_above_any_mast;
mod antenna_duplicate;
mod area_unproved;
mod around_not_open;
mod asked;
mod asking;
mod at_post;
mod authority_ends_before_duty;
mod automatic_outside_segment;
mod band_plan_segment;
mod band_plan_side;
mod battery_ends_before_duty;
mod battery_part_unclear;
mod battery_without_fuse;
mod call_sign_closed;
mod call_sign_elsewhere;
mod call_sign_not_of_service;
mod call_sign_over_class;
mod call_sign_shape;
mod call_signs;
mod calling_frequency_worked;
mod channel_contradicts_standard;
mod channel_crowded;
mod channel_crowded_after_loss;
mod channel_not_allotted;
mod channels_overlap;
mod check;
mod class_unknown;
mod compass_model_ended;
mod connectors_do_not_mate;
mod contacts_mostly_hidden;
mod control_passes_after_move;
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
mod form_editions_differ;
mod frequency_not_of_gateway;
mod fuse_below_load;
mod handover_too_short;
mod harmonic_on_receiver;
mod hear_tone_silences;
mod hear_tone_unproved;
mod heard_beside_channel;
mod hours_out_of_order;
mod inject_outside_exercise;
mod inject_says_nothing;
mod inject_serial_taken;
mod injects_overload_net;
mod inverter_too_small;
mod jack_unknown;
mod key_of_two_members;
mod last_channel_leads_nowhere;
mod leads_off_the_air;
mod licence_ends_in_edition;
mod licence_expired;
mod link_joins_nets;
mod link_within_one_band;
mod links_in_a_ring;
mod load_without_current;
mod load_without_source;
mod local_time_unclear;
mod local_times;
mod many;
mod meant_service;
mod member_at_two_places;
mod member_at_two_posts;
mod message_check_wrong;
mod message_date_disagrees;
mod message_incomplete;
mod message_not_marked;
mod message_precedence_unknown;
mod message_time_missing;
mod name_is_proword;
mod name_over_two_words;
mod names_sound_alike;
mod neighbour_on_frequency;
mod net_control_not_heard;
mod net_control_unreachable;
mod net_control_unstaffed;
mod net_does_not_rejoin;
mod net_not_together;
mod net_repeats_channel;
mod net_shares_element;
mod nets_meet_at_once;
mod nets_share_fallback;
mod network_joins_nets;
mod network_of_one;
mod next_is_own_channel;
mod no_class_may_send;
mod no_member_may_send;
mod no_radio_for_duty;
mod nobody_may_use;
mod objective_without_inject;
mod off_raster;
mod offset_not_in_force;
mod overlaps;
mod panel_without_controller;
mod part_duplicate;
mod parts_in_a_circle;
mod path_test_of_one_place;
mod period_outside_edition;
mod phone_of_two_members;
mod place_agreement_missing;
mod place_agreement_old;
mod position_far_away;
mod possible_product;
mod post_outside_range;
mod post_unstaffed;
mod post_watch;
mod power_over_class_limit;
mod power_over_limit;
mod power_over_place_limit;
mod profile_out_of_date;
mod profile_unknown;
mod radio_not_approved;
mod region_unknown;
mod repeater_in_two_networks;
mod repeater_outside_segment;
mod row_duplicate;
mod row_missing;
mod rows;
mod run;
mod same_band_at_site;
mod sends_where_not_allowed;
mod service_channel_unknown;
mod service_limit_exceeded;
mod service_row_unproved;
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
mod tone_never_sent;
mod tone_not_for_mode;
mod tone_not_standard;
mod tones_close;
mod too_few_radios_at_post;
mod too_many_nights;
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
mod voltage_outside_load;
mod waivers;
mod wider_than_band_plan;
mod wider_than_spacing;
mod word_forbidden;

pub use allot::{Allotment, Allotted, allot, allotted_texts};
pub use call_signs::calls;
pub use check::{Check, RuleCheck};
pub use facts::Facts;
pub use rows::has_rows;
pub use run::{CheckedPlan, OpenPlan, run, run_errors};
pub use signals::Reported;
pub use waivers::{Answering, apply as apply_waivers};

use crate::ground::Rule;

/// A rule is a file with its `RULE` and its `check`; one whose `check` asks what it may propose has the word behind it.
macro_rules! checks {
    (@run $rule:ident) => { RuleCheck::Finds($rule::check) };
    (@run $rule:ident proposes) => { RuleCheck::Proposes($rule::check) };
    ($($rule:ident $($proposes:ident)?,)*) => {
        &[$(Check { rule: &$rule::RULE, run: checks!(@run $rule $($proposes)?) }),*]
    };
}

/// Every rule about the plan: adding one is its file and its line here.
pub const CHECKS: &[Check] = checks! {
    profile_unknown,
    profile_out_of_date,
    region_unknown,
    edition_dates_out_of_order,
    short_too_long,
    channel_not_allotted,
    emission_contradicts_mode,
    transmit_leaves_band proposes,
    allotment_exceeded,
    allotment_unconfirmed,
    transmit_not_checked,
    channel_contradicts_standard,
    service_channel_unknown,
    service_limit_exceeded,
    service_row_unproved,
    heard_beside_channel,
    standard_name_differs,
    agreement_gives_nothing,
    agreement_not_settled,
    agreement_ended,
    agreement_ends_in_edition,
    excluded_area,
    area_unproved,
    repeater_outside_segment,
    voice_too_narrow,
    emission_too_wide,
    automatic_outside_segment,
    unattended_station_limits,
    power_over_limit,
    power_over_class_limit,
    erp_assumed,
    class_unknown,
    nobody_may_use,
    no_class_may_send proposes,
    around_not_open,
    frequency_not_of_gateway,
    no_member_may_send,
    licence_expired,
    licence_ends_in_edition,
    authority_ends_before_duty,
    call_sign_not_of_service,
    call_sign_shape,
    call_sign_over_class,
    call_sign_closed,
    call_sign_elsewhere,
    duplicate_call_sign,
    tone_not_standard,
    tone_not_for_mode,
    talkgroup_not_for_mode,
    tone_contradicts_repeater,
    tone_never_sent,
    hear_tone_silences,
    hear_tone_unproved,
    tones_close,
    shift_contradicts_tx,
    unusual_shift,
    band_plan_segment proposes,
    band_plan_side proposes,
    off_raster proposes,
    wider_than_band_plan,
    calling_frequency_worked,
    emergency_frequency_alone,
    sixty_meters_lower_sideband,
    channels_overlap proposes,
    wider_than_spacing,
    adjacent_channel,
    post_outside_range,
    channel_crowded,
    channel_crowded_after_loss,
    neighbour_on_frequency,
    possible_product,
    harmonic_on_receiver,
    same_band_at_site,
    antenna_duplicate,
    antenna_above_any_mast,
    spacing_duplicate,
    transmit_denial_unclear,
    sends_where_not_allowed,
    power_over_place_limit,
    place_agreement_missing,
    place_agreement_old,
    position_far_away,
    nets_share_fallback,
    nets_meet_at_once,
    net_repeats_channel,
    net_shares_element,
    fallback_contradicts_net,
    trigger_contradicts_row,
    control_passes_after_move,
    next_is_own_channel,
    last_channel_leads_nowhere,
    leads_off_the_air,
    net_does_not_rejoin,
    duplicate_name,
    duplicate_spoken_name,
    word_forbidden,
    names_sound_alike,
    link_joins_nets,
    link_within_one_band,
    links_in_a_ring,
    network_of_one,
    repeater_in_two_networks,
    network_joins_nets,
    net_not_together,
    name_is_proword,
    name_over_two_words,
    row_missing,
    row_duplicate,
    duty_times_out_of_order,
    hours_out_of_order,
    period_outside_edition,
    local_time_unclear,
    offset_not_in_force,
    member_at_two_places,
    member_at_two_posts,
    duty_without_rest,
    too_many_nights,
    handover_too_short proposes,
    net_control_not_heard,
    net_control_unstaffed,
    net_control_unreachable,
    post_unstaffed,
    radio_not_approved,
    no_radio_for_duty,
    too_few_radios_at_post,
    part_duplicate,
    parts_in_a_circle,
    load_without_source,
    load_without_current,
    connectors_do_not_mate,
    battery_part_unclear,
    battery_without_fuse,
    panel_without_controller,
    fuse_below_load,
    voltage_outside_load,
    inverter_too_small,
    jack_unknown,
    key_of_two_members,
    battery_ends_before_duty,
    path_test_of_one_place,
    compass_model_ended,
    evidence_missing,
    evidence_old,
    done_after_issue,
    site_number_private,
    site_role_names_member,
    coordinator_without_number,
    phone_of_two_members,
    contacts_mostly_hidden,
    message_incomplete,
    message_check_wrong,
    message_precedence_unknown,
    message_not_marked,
    message_time_missing,
    message_date_disagrees,
    inject_outside_exercise,
    inject_serial_taken,
    inject_says_nothing,
    objective_without_inject,
    injects_overload_net,
    form_editions_differ,
};

/// The rules of this floor: those that come before all others, and those about waivers, included.
pub fn rules() -> impl Iterator<Item = &'static Rule> {
    let first = signals::RULES.iter().copied();
    first.chain(CHECKS.iter().map(|check| check.rule)).chain(waivers::RULES.iter().copied())
}
