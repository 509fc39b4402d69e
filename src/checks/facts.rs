//! What a rule may look at.

use super::trial::Trials;
use crate::plan::Plan;
use crate::tables::{Profile, Tables};

/// The plan, the profile that it names, and the tables.
#[derive(Clone, Copy)]
pub struct Facts<'a> {
    /// The plan as meant.
    pub plan: &'a Plan,
    /// Its country profile.
    pub profile: &'a Profile,
    /// All tables.
    pub tables: &'a Tables,
    /// What rules may try before they propose it; none in a plan that is itself a trial.
    pub trials: Option<&'a Trials>,
}
