//! Files -> records with spans. Gathers every fault, never stops at the first.

mod alias;
mod depth;
mod field;
mod include;
mod node;
mod reading;
mod record;
mod roster;
mod rules;
mod schema;
mod toml_text;
mod units;
mod whole;
mod written;

pub(crate) use alias::section;
pub use alias::{aliases, meant, respelled};
pub(crate) use field::plain_field;
pub use field::{Field, Implied, Partly, SettledBy};
pub use include::{FILE_LIMIT, Records, WrittenRecord, read};
pub use node::{Key, Node, Value};
pub use reading::{Habits, Mention, Reading, Tried};
pub use record::{Declared, Keys, Meant, hyphened, record_of, schema_of};
pub(crate) use record::{key_of, record, settled, taken_as};
pub use roster::{RosterFile, read_roster};
pub use rules::RULES;
pub use rules::{BAD_VALUE, MISSING_KEY, MORE_THAN_TAKEN, UNKNOWN_KEY, UNKNOWN_RECORD};
pub use schema::{KeySchemas, Schemas};
pub use toml_text::parse;
pub use whole::Whole;
pub use written::{Anything, TextForm, Written, word};
pub(crate) use written::{text_values, words_of};
