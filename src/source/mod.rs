//! Files -> records with spans. Gathers every fault, never stops at the first.

mod alias;
mod cell;
mod de;
mod depth;
mod include;
mod node;
mod roster;
mod rules;
mod toml_text;

pub use alias::{aliases, meant, respelled};
pub use cell::Cell;
pub use de::{Read, record};
pub use include::{FILE_LIMIT, Record, Records, read};
pub use node::{Key, Node, Value};
pub use roster::{Wanted, read_roster};
pub use rules::RULES;
pub use rules::{BAD_VALUE, MISSING_KEY, MORE_THAN_TAKEN, UNKNOWN_KEY, UNKNOWN_RECORD};
pub use toml_text::parse;
