//! What a finished folder holds: its manifest, and whether it still holds that.

mod hash;
mod kit;
mod manifest;
mod proof;
mod verify;

pub use hash::{sha256, sha256_of};
pub use kit::{Kit, KitFile};
pub use manifest::{Entry, FORMAT, MANIFEST, MANIFEST_HEAD, Manifest, Unread, is_plain_name};
pub use proof::proofs;
pub use verify::{Difference, verify};
