//! What a rule may look at.

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
    /// Whether the plan is one that a rule tries: then no rule looks for something to propose.
    pub is_trial: bool,
}
