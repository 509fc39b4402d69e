//! The document kinds: each is one file here and its line in [`KINDS`].

mod arrival_list;
mod battery_card;
mod bulletin;
mod call_out_tree;
mod change_sheet;
mod channel_card;
mod channel_plan;
mod channel_symbols;
mod check_sheet;
mod contact_card;
mod controller_list;
mod cover_sheet;
mod dc_sheet;
mod distance_table;
mod distribution_list;
mod duty_sheet;
mod eligibility_matrix;
mod envelope_labels;
mod equipment_list;
mod feedback_sheet;
mod form;
mod frequency_chart;
mod frequency_detail;
mod hot_wash_sheet;
mod inject_cards;
mod interference_report;
mod keep_off;
mod net_script;
mod operator_reference;
mod player_plan;
mod power_budget;
mod printing_guide;
mod quick_start;
mod radio_card;
mod reach_us;
mod recall_sheet;
mod recheck_sheet;
mod rehearsal_report;
mod safety_card;
mod scoring_sheet;
mod signs;
mod site_sheet;
mod station_diagram;
#[cfg(test)]
mod tests;
mod who_hears_whom;

use super::kind::{Kind, TableKind};

pub(super) use channel_plan::{mode_letter as channel_mode_letter, on_the_dial, remarks as channel_remarks};
pub(super) use form::{KIND as FORM, TextOwner, section as form_section};

/// All document kinds, in the order in which they are listed for people.
pub const KINDS: &[&Kind] = &[
    &channel_card::KIND,
    &frequency_chart::KIND,
    &frequency_detail::KIND,
    &channel_plan::KIND,
    &channel_symbols::KIND,
    &contact_card::KIND,
    &site_sheet::KIND,
    &signs::KIND,
    &reach_us::KIND,
    &duty_sheet::KIND,
    &call_out_tree::KIND,
    &net_script::KIND,
    &operator_reference::KIND,
    &quick_start::KIND,
    &arrival_list::KIND,
    &safety_card::KIND,
    &radio_card::KIND,
    &equipment_list::KIND,
    &recheck_sheet::KIND,
    &eligibility_matrix::KIND,
    &rehearsal_report::KIND,
    &interference_report::KIND,
    &station_diagram::KIND,
    &battery_card::KIND,
    &power_budget::KIND,
    &dc_sheet::KIND,
    &distance_table::KIND,
    &who_hears_whom::KIND,
    &keep_off::KIND,
    &form::KIND,
    &player_plan::KIND,
    &controller_list::KIND,
    &inject_cards::KIND,
    &envelope_labels::KIND,
    &scoring_sheet::KIND,
    &feedback_sheet::KIND,
    &hot_wash_sheet::KIND,
    &check_sheet::KIND,
    &change_sheet::KIND,
    &bulletin::KIND,
    &distribution_list::KIND,
    &recall_sheet::KIND,
    &printing_guide::KIND,
    COVER,
];

/// What lies on top of a kit.
pub const COVER: &Kind = &cover_sheet::KIND;

/// The kind of this name.
pub(super) fn kind(name: &str) -> Option<&'static Kind> {
    KINDS.iter().copied().find(|kind| kind.name == name)
}

/// Every table that some kind has; one that two kinds have comes once.
pub fn tables() -> impl Iterator<Item = &'static TableKind> + Clone {
    let is_known =
        |at: usize, key: &str| KINDS.iter().take(at).flat_map(|kind| kind.tables).any(|table| table.key == key);
    let all = KINDS.iter().enumerate().flat_map(|(at, kind)| kind.tables.iter().map(move |table| (at, *table)));
    all.filter(move |(at, table)| !is_known(*at, table.key)).map(|(_, table)| table)
}
