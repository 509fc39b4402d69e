//! What an edition is by its content: canonical text, hash, and the code that two stations compare by voice.

mod bulletin_text;
mod bulletin_voice;
mod canonical;
mod papers;
mod read_back;

pub use bulletin_text::{Damage, LINE, MOST_LINES, Received, bulletin_text, read_bulletin};
pub use bulletin_voice::{MOST_SPOKEN, WORDS_A_MINUTE, bulletin_voice};
pub use canonical::{canonical, hash};
pub use papers::{PaperChange, PaperContent, paper_changes, papers};
pub use read_back::{Codes, Shared, codes, read_back, stamp, stamp_own};
