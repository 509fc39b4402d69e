//! Proof that a plan was checked: the only thing that a view can be made from.

use crate::plan::Plan;
use crate::tables::{Profile, Tables};

/// A plan in which no error was found, with the profile that it was checked against.
pub struct CheckedPlan {
    plan: Plan,
    profile: &'static Profile,
}

impl CheckedPlan {
    /// Says that `plan` was checked against `profile` and held.
    #[must_use]
    #[cfg(test)]
    pub(crate) const fn seal(plan: Plan, profile: &'static Profile) -> Self {
        Self { plan, profile }
    }

    /// A plan without content, for forms that need none. None when there is no such profile.
    #[must_use]
    pub fn blank(profile: &str) -> Option<Self> {
        Some(Self { plan: Plan::default(), profile: Tables::built_in().profile(profile)? })
    }

    /// The plan. Private values stay closed.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// The profile that it was checked against.
    #[must_use]
    pub const fn profile(&self) -> &'static Profile {
        self.profile
    }
}
