//! Runs every rule; makes the proof that none found an error.

use super::trials::Trials;
use super::{CHECKS, Facts, waivers};
use crate::ground::{Files, Findings, Rule};
use crate::plan::Plan;
use crate::reckon::Sites;
use crate::tables::{Profile, Tables, USUAL_PROFILE, is_profile_file};
use std::sync::Arc;

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
    profile: Arc<Profile>,
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
    pub fn profile(&self) -> &Profile {
        &self.profile
    }

    /// The tables that it was checked against.
    #[must_use]
    pub const fn tables(&self) -> &'static Tables {
        self.tables
    }

    /// Says that `plan` was checked and held, for tests of later floors.
    #[cfg(test)]
    pub(crate) fn seal(plan: Plan, profile: Arc<Profile>) -> Self {
        Self { plan, profile, tables: Tables::built_in() }
    }

    /// A plan without content, for forms that need none. None when there is no such profile.
    #[must_use]
    pub fn blank(profile: &str) -> Option<Self> {
        let tables = Tables::built_in();
        Some(Self { plan: Plan::default(), profile: tables.profile(profile)?.clone(), tables })
    }
}

/// Checks a plan by every rule and applies its waivers. None once any error stands, those of earlier floors included.
///
/// `named` is the profile that the plan names; where there is no such profile, which is a finding, the rest is still checked
/// against the usual one, so that one run shows all it can. Behind a file of the team that cannot be used nothing is checked: the
/// law of another country would answer for it.
pub fn run(plan: Plan, named: Option<Arc<Profile>>, files: &Files, found: &mut Findings) -> Option<CheckedPlan> {
    let tables = Tables::built_in();
    let is_named = named.is_some();
    let is_file = plan.head.as_ref().is_some_and(|head| is_profile_file(head.profile.as_str()));
    if is_file && !is_named {
        found.sort(files);
        return None;
    }
    let profile = named.or_else(|| tables.profile(USUAL_PROFILE).cloned())?;
    let sites = Sites::of(&plan, &profile, &tables.modes);
    let trials = Trials::of(&plan, &sites);
    let facts = Facts::new(&plan, &profile, (tables, &sites), found).with_trials(&trials);
    for check in CHECKS {
        (check.run)(facts, found);
    }
    waivers::apply(&plan, found);
    waivers::check(&plan, found);
    found.sort(files);
    (found.errors() == 0 && is_named).then_some(CheckedPlan { plan, profile, tables })
}
