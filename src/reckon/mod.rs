//! Pure formulas: what an emission occupies, who may send it.

mod eligibility;
mod emission;
mod may_send;
mod occupied;
mod open_to;

pub use eligibility::{Eligibility, OnChannel, Verdict, can_send};
pub use emission::{Emission, carson, notation};
pub use may_send::{Refused, Sent, lawful_stretch, least_class, may_send, mode_words};
pub use occupied::{emission_of, occupied, occupied_by};
pub use open_to::{Open, open_to};
