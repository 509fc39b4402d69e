//! fieldsheaf: a team's frequency plan in, validated paper out.
//!
//! Floors, from the ground up; a floor imports only those above it in this list.

pub mod audience;
pub mod checks;
pub mod cli;
pub mod compose;
pub mod edition;
pub mod ground;
pub mod impose;
pub mod ledger;
pub mod paint;
pub mod plan;
pub mod reckon;
pub mod source;
pub mod tables;
pub mod typeset;
