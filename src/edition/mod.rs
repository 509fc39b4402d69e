//! What an edition is by its content: canonical text, hash, and the code that two stations compare by voice.

mod canonical;
mod canonical_lines;
mod lines;
mod papers;
mod path;
mod read_back;

pub use canonical::{CANONICAL, canonical, hash};
pub use lines::{LINE, LineFault, ReadLines, plain, read_lines, to_lines};
pub use papers::{PaperChange, PaperContent, paper_changes, papers};
pub use read_back::{Codes, ContentHash, Shared, codes, read_back, stamp, stamp_own};
