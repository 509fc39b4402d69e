//! Two plans side by side: what is another, and which papers are to be replaced.

use crate::Halt;
use crate::Outcome;
use crate::checks;
use crate::checks::CheckedPlan;
use crate::compose;
use crate::compose::{PartKey, Task};
use crate::edition;
use crate::edition::PaperChange;
use crate::ground::{Day, Failure, Files, Findings, PublicKey, World};
use crate::plan;
use crate::plan::{Change, Plan, SigningKey, ToldPlan};
use crate::source;
use crate::tables::is_profile_file;
use std::collections::{BTreeMap, BTreeSet};

/// A plan, read to be compared.
pub struct ReadPlan {
    /// Its files and findings.
    pub outcome: Outcome,
    /// Its short name and the number of its edition, as far as it has them.
    pub edition: (String, Option<u32>),
    told: ToldPlan,
    plan: Plan,
    checked: Option<(CheckedPlan, Vec<Task>)>,
}

/// What two plans differ in.
pub struct Comparison {
    /// All changes, the most dangerous first.
    pub changes: Vec<Change>,
    /// What becomes of each document; none where one of the plans has an error, so that there are no papers of it.
    pub papers: Option<Vec<PaperChange>>,
    /// What becomes of the sets of each kit; none where there are no papers.
    pub kits: Vec<KitChange>,
}

/// What becomes of the sets of a kit.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct KitChange {
    /// The kit's id.
    pub kit: String,
    /// Holders whose sets are others than before, come or go; none of a kit that is one set.
    pub holders: Vec<String>,
    /// Whether anything of it is another.
    pub is_changed: bool,
}

/// Reads a plan and checks it, without setting its documents.
///
/// # Errors
/// When the root file cannot be read.
pub fn read_plan(world: &dyn World, root: &str) -> Result<ReadPlan, Failure> {
    let mut found = Findings::default();
    let mut records = source::read(world, root, &mut found)?;
    let (plan, told) = plan::build_told(world, &mut records, &mut found, ToldPlan::of);
    let profile = plan.profile.clone();
    let tasks = profile.as_ref().map(|profile| compose::tasks(&plan, profile, &mut found)).unwrap_or_default();
    let short = plan.head.as_ref().map_or_else(String::new, |head| head.short.to_string());
    let number = plan.edition.as_ref().map(|edition| edition.number.value.get());
    let files: Files = records.files;
    let checked = checks::run_errors(plan.clone(), profile, &files, &mut found).map(|checked| (checked, tasks));
    found.sort(&files);
    let outcome = Outcome { files, findings: found, ..Outcome::default() };
    Ok(ReadPlan { outcome, edition: (short, number), told, plan, checked })
}

/// What is another in the second plan.
///
/// # Errors
/// By a bug.
pub fn compare(old: &ReadPlan, new: &ReadPlan) -> Result<Comparison, Halt> {
    let changes = plan::changes([(&old.told, &old.plan), (&new.told, &new.plan)]);
    let (Some((old, old_tasks)), Some((new, new_tasks))) = (&old.checked, &new.checked) else {
        return Ok(Comparison { changes, papers: None, kits: Vec::new() });
    };
    let (was, is) = rayon::join(|| edition::papers(old, old_tasks), || edition::papers(new, new_tasks));
    let papers = edition::paper_changes(&was.map_err(Halt::Bug)?, &is.map_err(Halt::Bug)?);
    let kits = kit_changes(sets(old_tasks), sets(new_tasks), &papers);
    Ok(Comparison { changes, papers: Some(papers), kits })
}

/// The papers of each set, by its kit and holder.
type Sets = BTreeMap<(String, Option<String>), Vec<(String, Option<String>)>>;

fn sets(tasks: &[Task]) -> Sets {
    let told = |(document, holder): &PartKey| (document.to_string(), holder.as_ref().map(ToString::to_string));
    let set = |task: &Task| {
        let key = (task.kit()?.to_string(), task.holder.as_ref().map(ToString::to_string));
        Some((key, task.parts().iter().map(told).collect()))
    };
    tasks.iter().filter_map(set).collect()
}

fn kit_changes(old: Sets, new: Sets, papers: &[PaperChange]) -> Vec<KitChange> {
    let mut others: BTreeSet<(&str, Option<&str>)> = BTreeSet::new();
    for paper in papers.iter().filter(|paper| paper.is_changed) {
        others.insert((&paper.document, None));
        others.extend(paper.holders.iter().map(|holder| (paper.document.as_str(), Some(holder.as_str()))));
    }
    let known: BTreeSet<&str> = papers.iter().map(|paper| paper.document.as_str()).collect();
    // Papers that tell of an edition are others in each.
    let is_other = |(document, holder): &(String, Option<String>)| {
        !known.contains(document.as_str()) || others.contains(&(document.as_str(), holder.as_deref()))
    };
    let mut kits: BTreeMap<&str, KitChange> = BTreeMap::new();
    let keys: BTreeSet<&(String, Option<String>)> = old.keys().chain(new.keys()).collect();
    for key in keys {
        let (kit, holder) = key;
        let is_same = old.get(key) == new.get(key) && !new.get(key).is_some_and(|parts| parts.iter().any(is_other));
        let of = || KitChange { kit: kit.clone(), holders: Vec::new(), is_changed: false };
        let told = kits.entry(kit).or_insert_with(of);
        if !is_same {
            told.is_changed = true;
            told.holders.extend(holder.clone());
        }
    }
    kits.into_values().collect()
}

impl ReadPlan {
    /// The number of its edition and the day of its issue.
    #[must_use]
    pub fn number_and_day(&self) -> Option<(u32, Day)> {
        let edition = self.plan.edition.as_ref()?;
        Some((edition.number.value.get(), edition.issued.value))
    }

    /// The keys by which editions are signed, each with its member: call sign and name.
    pub fn keys(&self) -> impl Iterator<Item = (PublicKey, String)> {
        let named = |key: &SigningKey| {
            let member = self.plan.members.get(&key.by.value);
            let words = member.map_or_else(
                || key.by.value.to_string(),
                |member| {
                    member
                        .call
                        .as_ref()
                        .map_or_else(|| member.name.to_string(), |call| format!("{} {}", call.value, member.name.value))
                },
            );
            (key.public.value, words)
        };
        self.plan.keys.iter().map(named)
    }

    /// The files of the team beside its records: its own profile and layouts, each once, by name.
    #[must_use]
    pub fn own_files(&self) -> Vec<String> {
        let profile = self.plan.head.iter().map(|head| head.profile.value.to_string());
        let layouts = self.plan.documents.iter().filter_map(|order| Some(order.layout.as_ref()?.value.to_string()));
        let all: BTreeSet<String> = profile.chain(layouts).filter(|name| is_profile_file(name)).collect();
        all.into_iter().collect()
    }

    /// The plan as one file that reads as it does, tables and further files in it.
    #[must_use]
    pub fn to_toml(&self) -> String {
        self.told.to_toml()
    }
}
