//! Pure formulas: what an emission occupies, who may send it.

mod authority;
mod dcs;
mod eligibility;
mod emission;
mod may_send;
mod occupied;
mod open_to;
mod whereabouts;

pub use authority::{Barred, agreements, authority, is_in_force};
pub use dcs::dcs_bits;
pub use eligibility::{Eligibility, OnChannel, Verdict, can_send, tolerance_on};
pub use emission::{Emission, carson, notation};
pub use may_send::{Refused, Sent, class_limit, lawful_stretch, least_class, may_send, mode_words};
pub use occupied::{emission_of, occupied, occupied_by};
pub use open_to::{Open, open_to};
pub use whereabouts::{Spot, Within, spot, spots, within};
