//! fieldsheaf: a team's frequency plan in, validated paper out.
//!
//! Floors, from the ground up; a floor imports only those above it in this list.

pub mod ground;
pub mod source;
pub mod tables;
pub mod plan;
pub mod reckon;
pub mod checks;
pub mod audience;
pub mod compose;
pub mod edition;
pub mod typeset;
pub mod impose;
pub mod paint;
pub mod ledger;
pub mod cli;
