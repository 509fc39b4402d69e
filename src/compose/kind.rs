//! The list of document kinds.

use super::block::Section;
use super::{
    channel_card, channel_plan, check_sheet, contact_card, eligibility_matrix, form, frequency_chart, frequency_detail,
    interference_report, rehearsal_report,
};
use crate::audience::View;
use crate::ground::{Files, Findings, Rule};
use crate::plan::{Each, Form};

/// A document kind: what it is called, for whom it can be made, and how it is composed.
pub struct Kind {
    /// As plans write it: `channel-card`.
    pub name: &'static str,
    /// As printed in a title: `Channel card`.
    pub title: &'static str,
    /// The layout that it takes when the plan names none.
    pub layout: &'static str,
    /// For whom it can be made; the first when the plan does not say.
    pub each: &'static [Each],
    /// Whether it prints the findings of the run, so that it is composed last and for the coordinator alone.
    pub is_last: bool,
    /// Keys of the sections that it may have: a layout orders them by these.
    pub sections: &'static [&'static str],
    /// Composes its sections.
    pub compose: fn(&View<'_>, &Order<'_>) -> Vec<Section>,
}

/// What a document is made from beside its view.
#[derive(Clone, Copy, Default)]
pub struct Order<'a> {
    /// The form, for the kind `form`.
    pub form: Option<&'a Form>,
    /// The findings, for a kind that [`Kind::is_last`].
    pub frozen: Option<&'a Frozen<'a>>,
}

/// All findings of a run once no more can come.
pub struct Frozen<'a> {
    /// The findings, sorted.
    pub findings: &'a Findings,
    /// The files that they point into.
    pub files: &'a Files,
    /// Every rule that was looked for, on every floor.
    pub rules: &'a [&'static Rule],
    /// Rules for which the profile has no rows, so that nobody looked.
    pub without_rows: &'a [&'static Rule],
}

/// All document kinds, in the order in which they are listed for people.
pub const KINDS: &[&Kind] = &[
    &channel_card::KIND,
    &frequency_chart::KIND,
    &frequency_detail::KIND,
    &channel_plan::KIND,
    &contact_card::KIND,
    &eligibility_matrix::KIND,
    &rehearsal_report::KIND,
    &interference_report::KIND,
    &form::KIND,
    &check_sheet::KIND,
];

/// The kind of this name.
pub(super) fn kind(name: &str) -> Option<&'static Kind> {
    KINDS.iter().copied().find(|kind| kind.name == name)
}
