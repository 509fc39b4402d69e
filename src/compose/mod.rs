//! A view and a document kind -> blocks. Knows no millimetres.
//!
//! A document kind is one file in `kinds/` and its line in [`KINDS`].

pub mod block;

mod channel_list;
mod channel_words;
mod file_names;
mod foot;
mod forms;
mod frequency_overview;
mod holding;
mod kind;
mod kinds;
mod minus;
mod rules;
pub(crate) mod scale;
mod site_words;
mod task;
#[cfg(test)]
mod tests;

pub use foot::{foot, once};
pub use forms::{blank_form, form_names};
pub use kind::{Compose, Frozen, Kind, TableKind, UsualSet};
pub use kinds::{KINDS, tables};
pub use rules::RULES;
pub use task::{Beside, SharedKey, Task, document, shared_document, tasks};
