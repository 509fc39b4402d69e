//! fieldsheaf: a team's frequency plan in, validated paper out.
//!
//! Floors, from the ground up; a floor imports only those above it in this list. [`check`] and [`build`] are the whole program.

pub mod audience;
pub mod checks;
pub mod cli;
pub mod compose;
pub mod edition;
pub mod formats;
pub mod ground;
pub mod impose;
pub mod ledger;
pub mod paint;
pub mod plan;
pub mod reckon;
pub mod sheet;
pub mod source;
pub mod tables;
pub mod typeset;

mod blank;
pub mod compare;
mod copies;
mod exposed;
mod kits;
mod notes;
mod round;
mod run;
mod since;
mod stack;
mod turns;

pub use blank::{FormAsked, FormFiles, FormMade, blank_form, form_id, forms};

use checks::Answering;
use compose::Bulletin;
use ground::{Audience, Bug, Failure, Files, Findings, Rule, Sink, World};
use ledger::{Kit, KitFile};
pub use run::AskedDocument;
use run::Work;
use sheet::Job;

/// What a run found, with the files that the findings point into.
#[derive(Debug, Default)]
pub struct Outcome {
    /// The plan's files, and the layouts that were read.
    pub files: Files,
    /// All findings, in file order.
    pub findings: Findings,
    /// What today's date adds, for the terminal alone: findings and sheets are the same on any day.
    pub notes: Vec<String>,
    /// Who would answer for a finding that is accepted.
    pub answering: Option<Answering>,
}

/// Which documents of a plan are wanted; all of them by default.
#[derive(Clone, Debug, Default)]
pub struct Wanted {
    /// Of this kind alone.
    pub kind: Option<String>,
    /// For the member or place of this id alone.
    pub holder: Option<String>,
    /// For these readers alone.
    pub audience: Option<Audience>,
    /// Whether they are made to be issued, so that they are no drafts.
    pub is_issue: bool,
    /// Whether forms can be filled in on a screen.
    pub is_fillable: bool,
}

/// Why a run ended without a result.
#[derive(Debug)]
pub enum Halt {
    /// The world's fault: an unreadable file, a name that nothing bears.
    Failure(Failure),
    /// Our own fault.
    Bug(Bug),
}

impl From<Failure> for Halt {
    fn from(failure: Failure) -> Self {
        Self::Failure(failure)
    }
}

/// Reads and checks a plan from its root file; sets every document too, so that a plan that checks also builds.
///
/// # Errors
/// When the root file cannot be read: there is nothing to check. Or by a bug.
pub fn check(world: &dyn World, root: &str) -> Result<Outcome, Halt> {
    Work::read(world, root)?.checked(world)
}

/// Reads and checks a plan, without setting its documents.
///
/// # Errors
/// When the root file cannot be read.
pub fn check_plan(world: &dyn World, root: &str) -> Result<Outcome, Failure> {
    Ok(Work::read(world, root)?.outcome())
}

/// Told of each finished document: how many of how many.
pub type Progress<'a> = &'a (dyn Fn(usize, usize) + Sync);

/// Who is told of finished files, and takes them.
pub struct Taking<'a, F> {
    /// Told of each finished document: how many of how many.
    pub progress: Progress<'a>,
    /// Where files of many holders are written while they are made, and not held; none where all are to be held whole.
    pub growing: Option<&'a dyn Sink>,
    /// Takes a file as soon as it is finished, on any thread, and gives what is to be kept of it.
    pub take: &'a (dyn Fn(KitFile) -> F + Sync),
}

/// Checks a plan and makes the wanted documents, held in memory. No kit once any error was found: one error withholds all.
///
/// # Errors
/// When the root file cannot be read, when nothing of the plan is wanted, or by a bug.
pub fn build(
    world: &dyn World,
    root: &str,
    wanted: &Wanted,
    progress: Progress<'_>,
) -> Result<(Outcome, Option<Kit>), Halt> {
    build_each(world, root, wanted, Taking { progress, growing: None, take: &|file| file })
}

/// As [`build`], but each file goes to whoever takes it as soon as it is finished, also of a plan in which an error is found later: the kit
/// says whether all are finished, and holds what was kept of each, in the order in which the plan asks for them.
///
/// # Errors
/// As [`build`].
pub fn build_each<F: Send>(
    world: &dyn World,
    root: &str,
    wanted: &Wanted,
    taking: Taking<'_, F>,
) -> Result<(Outcome, Option<Kit<F>>), Halt> {
    Work::read(world, root)?.kit(world, root, wanted, &taking)
}

/// What of a plan's edition is passed on the air: what changed since the edition issued before that anybody may know, with the codes
/// of those sheets that these readers may read. None once any error was found.
///
/// # Errors
/// When the root file cannot be read, or by a bug.
pub fn bulletin(world: &dyn World, root: &str, readers: Audience) -> Result<(Outcome, Option<Bulletin>), Halt> {
    Work::read(world, root)?.bulletin(world, readers)
}

/// One document of a plan that somebody orders beside it. None once any error was found.
///
/// # Errors
/// When the root file or one beside it cannot be read, when nobody has the holder's id, when several forms to fill in would stand on one
/// sheet, or by a bug.
pub fn ordered(world: &dyn World, root: &str, asked: &AskedDocument<'_>) -> Result<(Outcome, Option<Kit>), Halt> {
    let mut work = Work::read_ordering(world, root, Some(asked))?;
    if asked.is_fillable {
        work.must_be_pages(world)?;
    }
    let wanted =
        Wanted { holder: asked.holder.map(str::to_owned), is_fillable: asked.is_fillable, ..Wanted::default() };
    work.kit(world, root, &wanted, &Taking { progress: &|_, _| (), growing: None, take: &|file| file })
}

/// Frequencies for the channels of a plan that want one.
pub struct Proposal {
    /// What was found wrong with the plan otherwise, and its files.
    pub outcome: Outcome,
    /// What is proposed; none where the plan has errors beside the frequencies that are wanted.
    pub allotment: Option<checks::Allotment>,
}

/// Chooses frequencies for the channels of a plan that write `simplex = "allot"`.
///
/// # Errors
/// When the root file cannot be read.
pub fn allot(world: &dyn World, root: &str) -> Result<Proposal, Failure> {
    let mut found = Findings::default();
    let mut records = source::read(world, root, &mut found)?;
    let plan = plan::build(world, &mut records, &mut found);
    let allotment = plan.profile.clone().filter(|_| found.errors() == 0).map(|profile| checks::allot(&plan, &profile));
    found.sort(&records.files);
    let outcome = Outcome { files: records.files, findings: found, ..Outcome::default() };
    Ok(Proposal { outcome, allotment })
}

/// The sheets of every document before they are painted, by name. None of them once an error was found.
///
/// # Errors
/// When the root file cannot be read, or by a bug.
pub fn jobs(world: &dyn World, root: &str) -> Result<Vec<Job>, Halt> {
    Work::read(world, root)?.jobs(world)
}

/// Every rule of every floor, sorted by name.
#[must_use]
pub fn rules() -> Vec<&'static Rule> {
    let floors = [source::RULES, tables::RULES, plan::RULES, compose::RULES, typeset::RULES, ledger::RULES];
    let mut rules: Vec<&'static Rule> = floors.concat();
    rules.extend(checks::rules());
    rules.sort_by_key(|rule| rule.name);
    rules
}
