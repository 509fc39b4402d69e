//! Runs every rule; makes the proof that none found an error.

use super::asked::AskedOnce;
use super::check::{Check, RuleCheck, ask};
use super::trials::{Proposing, Trials, wordless};
use super::{CHECKS, Facts, waivers};
use crate::ground::{Audience, Files, Findings, Severity};
use crate::plan::Plan;
use crate::reckon::{FoundOnce, Sites};
use crate::tables::{Profile, Tables, USUAL_PROFILE, is_profile_file};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A plan in which no rule found an error. Only [`run`] and [`CheckedPlan::blank`] make one, and only one can be printed.
pub struct CheckedPlan {
    plan: Plan,
    /// The plan as the public may reach it.
    public: OpenPlan,
    /// The same for every other audience, for each that a document is for.
    others: Vec<(Audience, OpenPlan)>,
    profile: Arc<Profile>,
    tables: &'static Tables,
    is_draft: bool,
}

/// A plan as some readers may reach it, with what their papers ask of it again and again.
#[derive(Default)]
pub struct OpenPlan {
    /// The plan.
    pub plan: Plan,
    /// Of this very plan.
    pub known: FoundOnce,
}

impl CheckedPlan {
    /// The plan. Private values stay closed.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// The plan as a reader may reach it. One for whom no document is ordered reaches what the public does.
    #[must_use]
    pub fn open_to(&self, reader: &Audience) -> &OpenPlan {
        self.others.iter().find(|(audience, _)| audience == reader).map_or(&self.public, |(_, open)| open)
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

    /// Whether what is printed of it is a draft: the plan's editions are issued, and this one is not yet.
    #[must_use]
    pub const fn is_draft(&self) -> bool {
        self.is_draft
    }

    /// The same as a draft, or as none.
    #[must_use]
    pub fn as_draft(self, is_draft: bool) -> Self {
        Self { is_draft, ..self }
    }

    fn of(plan: Plan, profile: Arc<Profile>, tables: &'static Tables) -> Self {
        let mut readers = BTreeSet::from([Audience::Team, Audience::Leads, Audience::Coordinator]);
        readers.extend(plan.documents.iter().map(|order| order.audience.value.clone()));
        let opened = |reader: &Audience| OpenPlan { plan: plan.open_to(reader), known: FoundOnce::default() };
        let open_to = |reader: Audience| {
            let open = opened(&reader);
            (reader, open)
        };
        let others = readers.into_iter().filter(|reader| *reader != Audience::Public).map(open_to).collect();
        Self { public: opened(&Audience::Public), others, plan, profile, tables, is_draft: false }
    }

    /// Says that `plan` was checked and held, for tests of later floors.
    #[cfg(test)]
    pub(crate) fn seal(plan: Plan, profile: Arc<Profile>) -> Self {
        Self::of(plan, profile, Tables::built_in())
    }

    /// A plan without content, for forms that need none. None when there is no such profile.
    #[must_use]
    pub fn blank(profile: &str) -> Option<Self> {
        let tables = Tables::built_in();
        Some(Self::of(Plan::default(), tables.profile(profile)?.clone(), tables))
    }
}

/// Checks a plan by every rule and applies its waivers. None once any error stands, those of earlier floors included.
///
/// `named` is the profile that the plan names; where there is no such profile, which is a finding, the rest is still checked
/// against the usual one, so that one run shows all it can. Behind a file of the team that cannot be used nothing is checked: the
/// law of another country would answer for it.
pub fn run(plan: Plan, named: Option<Arc<Profile>>, files: &Files, found: &mut Findings) -> Option<CheckedPlan> {
    judged(plan, named, (files, Asked::All), found)
}

/// Checks a plan by those rules alone that withhold its papers, for whoever compares them with another plan's and gives none out:
/// neither warnings nor waivers are told.
pub fn run_errors(plan: Plan, named: Option<Arc<Profile>>, files: &Files, found: &mut Findings) -> Option<CheckedPlan> {
    judged(plan, named, (files, Asked::Errors), found)
}

/// Which rules are asked.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Asked {
    All,
    Errors,
}

fn judged(
    plan: Plan,
    named: Option<Arc<Profile>>,
    (files, rules): (&Files, Asked),
    found: &mut Findings,
) -> Option<CheckedPlan> {
    let tables = Tables::built_in();
    let is_named = named.is_some();
    let is_file = plan.head.as_ref().is_some_and(|head| is_profile_file(head.profile.as_str()));
    if is_file && !is_named {
        found.sort(files);
        return None;
    }
    let profile = named.or_else(|| tables.profile(USUAL_PROFILE).cloned())?;
    let sites = Sites::of(&plan, &profile, &tables.modes);
    let (known, asked) = (FoundOnce::default(), AskedOnce::default());
    let mut reported = Findings::default();
    let facts = Facts::new(&plan, &profile, (tables, &sites), (&known, &asked), &mut reported);
    let is_asked = |check: &&Check| rules == Asked::All || check.rule.severity == Severity::Error;
    let checks: Vec<&Check> = CHECKS.iter().filter(is_asked).collect();
    let told = ask(&checks, facts);
    let mut trials = Trials::of(&plan, &sites);
    let proposes = |check: &Check, told: &Findings| matches!(check.run, RuleCheck::Proposes(_)) && !told.is_empty();
    if rules == Asked::All && checks.iter().zip(&told).any(|(check, told)| proposes(check, told)) {
        trials.before = Some(reported.iter().chain(told.iter().flat_map(Findings::iter)).map(wordless).collect());
    }
    found.append(reported);
    for (check, told) in checks.into_iter().zip(told) {
        // What was found is found once more with what to type instead, one rule after the other: no two proposals collide.
        let is_tried = proposes(check, &told);
        found.append(if is_tried { check.found(facts, &mut Proposing::of(&mut trials)) } else { told });
    }
    if rules == Asked::All {
        waivers::apply(&plan, found);
        waivers::check(&plan, found);
    }
    found.sort(files);
    (found.errors() == 0 && is_named).then(|| CheckedPlan::of(plan, profile, tables))
}
