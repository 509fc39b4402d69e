//! A view and a document kind -> blocks. Knows no millimetres.
//!
//! A document kind is one file in `kinds/` and its line in [`KINDS`].

pub mod block;

mod away_words;
mod band_lanes;
mod band_strip;
mod bulletin;
mod channel_list;
mod channel_table;
mod channel_words;
mod chart_legend;
mod copy_numbers;
mod document;
mod duty_people;
mod duty_words;
mod exercise_words;
mod file_names;
mod foot;
mod form_channel;
mod form_duty;
mod form_rows;
mod form_values;
mod forms;
mod frequency_list;
mod front_words;
mod held;
mod holding;
mod kind;
mod kinds;
mod kits;
mod list_words;
mod message_values;
mod minus;
mod net_calls;
mod net_words;
mod orders;
mod own_battery;
mod own_channels;
mod people;
mod position_words;
mod power_words;
mod prowords;
mod rehearsal_told;
mod rules;
mod scale;
mod service_strip;
mod since;
mod site_cautions;
mod site_facts;
mod site_near;
mod site_stations;
mod site_words;
mod spoken;
mod sun_words;
mod task;
#[cfg(test)]
mod tests;
mod to_write;

pub use bulletin::{Bulletin, BulletinCode, BulletinLine, MOST_MINUTES, bulletin};
pub use copy_numbers::{CopyNumbers, HolderNumbers, copy_numbers, number_copies};
pub use document::{document, message_forms, shared_document};
pub use file_names::file_stem;
pub use foot::{foot, once};
pub use form_values::FilledFrom;
pub use forms::{CopyMark, begin_forms, blank_form, built_in_form, form_layout, form_names};
pub use held::is_held;
pub use kind::{Compose, Frozen, Kind, TableKind, UsualSet};
pub use kinds::{COVER, KINDS, tables};
pub use kits::single_copies;
pub use orders::tasks;
pub use rules::{KIT_MIXES_PAPER, RULES};
pub use since::{
    ChangeWords, CopyTold, Correction, Corrections, Exposure, Fate, KitTold, MOST_CORRECTIONS, NumberOf, PaperTold,
    PrintTold, SetPaper, SetTold, Since,
};
pub use task::{Beside, PartKey, SharedKey, Task};
