//! Runs every rule; makes the proof that none found an error.

use super::{CHECKS, Facts, waivers};
use crate::ground::{Files, Findings, Rule};
use crate::plan::Plan;
use crate::tables::{Profile, Tables};

/// A rule and how it is checked.
pub struct Check {
    /// The rule.
    pub rule: &'static Rule,
    /// Finds its faults.
    pub run: fn(Facts<'_>, &mut Findings),
}

/// A plan in which no rule found an error. Only [`run`] and [`CheckedPlan::blank`] make one, and only one can be printed.
pub struct CheckedPlan {
    plan: Plan,
    profile: &'static Profile,
    tables: &'static Tables,
}

impl CheckedPlan {
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

    /// The tables that it was checked against.
    #[must_use]
    pub const fn tables(&self) -> &'static Tables {
        self.tables
    }

    /// Says that `plan` was checked and held, for tests of later floors.
    #[cfg(test)]
    pub(crate) fn seal(plan: Plan, profile: &'static Profile) -> Self {
        Self { plan, profile, tables: Tables::built_in() }
    }

    /// A plan without content, for forms that need none. None when there is no such profile.
    #[must_use]
    pub fn blank(profile: &str) -> Option<Self> {
        let tables = Tables::built_in();
        Some(Self { plan: Plan::default(), profile: tables.profile(profile)?, tables })
    }
}

/// The profile that a plan names. An unknown one is a finding; the rest is still checked against the first, so that one run shows all it can.
#[must_use]
pub fn profile_of(plan: &Plan) -> Option<&'static Profile> {
    let tables = Tables::built_in();
    let named = plan.head.as_ref().and_then(|head| tables.profile(head.profile.as_str()));
    named.or_else(|| tables.profiles.first())
}

/// Checks a plan by every rule and applies its waivers. None once any error stands, those of earlier floors included.
pub fn run(plan: Plan, files: &Files, found: &mut Findings) -> Option<CheckedPlan> {
    let tables = Tables::built_in();
    let named = plan.head.as_ref().and_then(|head| tables.profile(head.profile.as_str()));
    let profile = profile_of(&plan)?;
    let facts = Facts { plan: &plan, profile, tables };
    for check in CHECKS {
        (check.run)(facts, found);
    }
    waivers::apply(&plan, found);
    waivers::check(&plan, found);
    found.sort(files);
    (found.errors() == 0 && named.is_some()).then_some(CheckedPlan { plan, profile, tables })
}
