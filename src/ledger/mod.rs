//! What a finished folder holds: its manifest, and whether it still holds that.

mod editions;
mod hash;
mod issued_plan;
mod issued_world;
mod kit;
mod manifest;
mod proof;
mod rules;
mod signed;
mod unchecked;
mod verify;

pub use editions::{Editions, IssuedCopy, IssuedEdition, IssuedPaper, IssuedSet, IssuedSetCopy};
pub use hash::{hexadecimal, sha256, sha256_of};
pub use issued_plan::IssuedPlan;
pub use issued_world::{IssuedWorld, issued_text, place_beside};
pub use kit::{Kit, KitFile, WrittenBytes};
pub use manifest::{ByHolder, Entry, FORMAT, MANIFEST, MANIFEST_HEAD, Manifest, Unread, is_plain_name};
pub use proof::proofs;
pub use rules::RULES;
pub use signed::{SIGNATURE, SIGNATURE_HEAD, Signed};
pub use unchecked::judge_facts;
pub use verify::{Difference, PaperStanding, standing, verify};
