//! What a finished folder holds: its manifest, and whether it still holds that.

mod editions;
mod hash;
mod kit;
mod manifest;
mod proof;
mod rules;
mod verify;

pub use editions::{Editions, IssuedEdition, IssuedPaper};
pub use hash::{sha256, sha256_of};
pub use kit::{Kit, KitFile};
pub use manifest::{Entry, FORMAT, MANIFEST, MANIFEST_HEAD, Manifest, Unread, is_plain_name};
pub use proof::proofs;
pub use rules::RULES;
pub use verify::{Difference, verify};
