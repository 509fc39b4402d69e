//! Pure formulas: what an emission occupies, who may send it.

mod alike;
mod assign;
mod authority;
mod coverage;
mod dcs;
mod eligibility;
mod emission;
mod horizon;
mod intermod;
mod isolation;
mod may_send;
mod occupied;
mod open_to;
mod rehearsal;
mod site;
mod whereabouts;

pub use alike::Spoken;
pub use assign::{Answer, Problem, assign};
pub use authority::{Barred, agreements, authority, is_in_force};
pub use coverage::{Heard, Spots, can_meet, heard, neighbour_heard, spots_can_meet, spots_of};
pub use dcs::dcs_bits;
pub use eligibility::{Eligibility, OnChannel, Verdict, can_hear, can_send, tolerance_on};
pub use emission::{Emission, carson, notation};
pub use horizon::{beyond_horizon, radio_horizon};
pub use intermod::{Hit, Shape, SiteSignal, products};
pub use isolation::{DIPOLE, Standing, isolation, needed_isolation, stacked_distance};
pub use may_send::{Refused, Sent, class_limit, lawful_stretch, least_class, may_send, mode_words};
pub use occupied::{emission_of, occupied, occupied_by};
pub use open_to::{Open, open_to};
pub use rehearsal::{Apart, Loss, Met, crew, element_words, losses, posts_of, rehearse, rests_on, settles};
pub use site::{Site, SiteEnd, site};
pub use whereabouts::{Spot, Within, spot, spots, within};
