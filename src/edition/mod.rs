//! What an edition is by its content: canonical text, hash, and the code that two stations compare by voice.

mod canonical;
mod read_back;

pub use canonical::{canonical, hash};
pub use read_back::{Codes, Shared, codes, read_back, stamp, stamp_own};
