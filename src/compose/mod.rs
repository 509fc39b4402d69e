//! A view and a document kind -> blocks. Knows no millimetres.
//!
//! A document kind is one file here and one line in [`KINDS`].

pub mod block;

mod channel_card;
mod channel_list;
mod channel_plan;
mod channel_words;
mod check_sheet;
mod contact_card;
mod eligibility_matrix;
mod file_names;
mod foot;
mod form;
mod frequency_chart;
mod frequency_detail;
mod frequency_overview;
mod holding;
mod interference_report;
mod kind;
mod minus;
mod rehearsal_report;
mod rules;
pub(crate) mod scale;
mod site_words;
mod task;
#[cfg(test)]
mod tests;

pub use foot::{foot, once};
pub use form::{blank_form, form_names};
pub use kind::{Frozen, KINDS, Kind, Order};
pub use rules::RULES;
pub use task::{SharedKey, Task, document, shared_document, tasks};
