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

use checks::{Answering, CheckedPlan};
use compose::block::Document;
use compose::{Frozen, Task};
use edition::{Codes, Shared};
use ground::caps::PAGES;
use ground::{At, Audience, Bug, Day, Failure, Files, Finding, Findings, Rule, World};
use ledger::{Kit, KitFile};
use paint::Press;
use plan::Plan;
use rayon::iter::{IntoParallelIterator, ParallelIterator};
use sheet::{Job, Panels};
use source::MORE_THAN_TAKEN;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicUsize, Ordering};
use tables::Tables;
use typeset::layout::Layout;
use typeset::pen::Pen;

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
    let mut run = Run::read(world, root)?;
    run.set(world, &Wanted::default(), &|_, _| ()).map_err(Halt::Bug)?;
    Ok(run.outcome())
}

/// Reads and checks a plan, without setting its documents.
///
/// # Errors
/// When the root file cannot be read.
pub fn check_plan(world: &dyn World, root: &str) -> Result<Outcome, Failure> {
    Ok(Run::read(world, root)?.outcome())
}

/// Checks a plan and makes the wanted documents. No kit once any error was found: one error withholds all.
///
/// `progress` is told of each finished document: how many of how many.
///
/// # Errors
/// When the root file cannot be read, when nothing of the plan is wanted, or by a bug.
pub fn build(
    world: &dyn World,
    root: &str,
    wanted: &Wanted,
    progress: &(dyn Fn(usize, usize) + Sync),
) -> Result<(Outcome, Option<Kit>), Halt> {
    let mut run = Run::read(world, root)?;
    let has_documents = !run.tasks.is_empty();
    let (done, all) = (AtomicUsize::new(0), run.tasks.iter().filter(|task| is_wanted(task, wanted)).count());
    // Painted as soon as it is set, so that no more than its bytes is kept of a finished document.
    let files = run.set(world, wanted, &|set: Set, press: &Press| {
        let file = kit_file(&set, press);
        progress(done.fetch_add(1, Ordering::Relaxed) + 1, all);
        file
    });
    let files = files.map_err(Halt::Bug)?;
    if run.found.errors() > 0 {
        return Ok((run.outcome(), None));
    }
    if has_documents && files.is_empty() {
        return Err(Failure::new(root, "the plan orders no such document; `check` lists nothing wrong with it").into());
    }
    let files = files.into_iter().collect::<Result<Vec<KitFile>, Bug>>().map_err(Halt::Bug)?;
    let kit = kit(&run, files);
    Ok((run.outcome(), Some(kit)))
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

/// The files of a plan with the proposed frequencies in the places of the words that asked for them; only files that change.
#[must_use]
pub fn allotted_texts(files: &Files, channels: &[checks::Allotted]) -> Vec<(String, String)> {
    let mut changed: BTreeMap<String, String> = BTreeMap::new();
    let mut sorted: Vec<&checks::Allotted> = channels.iter().collect();
    // From the end, so that earlier places stay where they are.
    sorted.sort_by_key(|channel| std::cmp::Reverse((channel.word.file, channel.word.start)));
    for channel in sorted {
        let Some(file) = files.get(channel.word.file) else { continue };
        let text = changed.entry(file.name.clone()).or_insert_with(|| file.text.clone());
        let (start, end) = (channel.word.start as usize, channel.word.end as usize);
        if text.get(start..end).is_some() {
            text.replace_range(start..end, &format!("\"{}\"", channel.frequency));
        }
    }
    changed.into_iter().collect()
}

/// The sheets of every document before they are painted, by name. None of them once an error was found.
///
/// # Errors
/// When the root file cannot be read, or by a bug.
pub fn jobs(world: &dyn World, root: &str) -> Result<Vec<Job>, Halt> {
    let mut run = Run::read(world, root)?;
    let jobs = run.set(world, &Wanted::default(), &|set, _| set.job).map_err(Halt::Bug)?;
    Ok(if run.found.errors() > 0 { Vec::new() } else { jobs })
}

/// A blank form that comes with the program, for a profile, as a PDF; its copies numbered where a first number is given. None
/// when no form is called `name`.
///
/// # Errors
/// A finding's message when the form does not fit on the paper, or a bug.
pub fn blank_form(
    profile: &str,
    name: &str,
    paper: Option<&str>,
    (copies, serial): (u16, Option<u32>),
) -> Option<Result<Vec<u8>, Halt>> {
    let tables = Tables::built_in();
    let mut document = compose::blank_form(tables.profile(profile)?, name, copies)?;
    if let Some(paper) = paper {
        document.paper = tables.papers.get(paper)?.id.as_str();
    }
    let (mut files, mut found) = (Files::default(), Findings::default());
    let layout = typeset::layout::find(&document.layout, &Nowhere, &mut files, &mut found);
    let documents = numbered(document, (copies, serial));
    let job = layout.and_then(|layout| job(&documents, &layout, &Pen::new(), &mut found));
    let said = || found.iter().next().map_or_else(String::new, |finding| finding.message.clone());
    Some(match job {
        Some(job) => paint::pdf(&job, &Press::new()).map_err(Halt::Bug),
        None => Err(Failure::new(name, said()).into()),
    })
}

/// One document for all copies or, where they are numbered, one for each with its number in the foot.
fn numbered(document: Document, (copies, serial): (u16, Option<u32>)) -> Vec<Document> {
    let Some(first) = serial else { return vec![document] };
    let of_number = |number: u32| {
        let mut copy = Document { copies: 1, ..document.clone() };
        copy.foot.holder = Some(format!("number {number:04}"));
        copy
    };
    (0..u32::from(copies)).map(|index| of_number(first.saturating_add(index))).collect()
}

/// Names of the forms that come with the program, with their titles.
#[must_use]
pub fn forms() -> Vec<(String, String)> {
    compose::form_names()
}

/// Every rule of every floor, sorted by name.
#[must_use]
pub fn rules() -> Vec<&'static Rule> {
    let floors = [source::RULES, tables::RULES, plan::RULES, compose::RULES, typeset::RULES];
    let mut rules: Vec<&'static Rule> = floors.concat();
    rules.extend(checks::rules());
    rules.sort_by_key(|rule| rule.name);
    rules
}

/// A world without files, for what comes with the program.
struct Nowhere;

impl World for Nowhere {
    fn read(&self, _: &str, _: u64) -> Result<Vec<u8>, ground::ReadFault> {
        Err(ground::ReadFault::Missing)
    }
    fn list(&self) -> Result<Vec<String>, Failure> {
        Ok(Vec::new())
    }
    fn today(&self) -> chrono::NaiveDate {
        chrono::NaiveDate::default()
    }
}

/// A plan on its way from text to sheets.
struct Run {
    files: Files,
    found: Findings,
    tasks: Vec<Task>,
    checked: Option<CheckedPlan>,
    notes: Vec<String>,
    answering: Option<Answering>,
}

/// A document on its sheets.
struct Set {
    task: Task,
    shared: Option<Shared>,
    /// The hash of each holder's own canonical text, by holder.
    holders: BTreeMap<String, String>,
    job: Job,
}

impl Run {
    /// From the root file to a checked plan and what it orders.
    fn read(world: &dyn World, root: &str) -> Result<Self, Failure> {
        let mut found = Findings::default();
        let mut records = source::read(world, root, &mut found)?;
        let plan = plan::build(world, &mut records, &mut found);
        let profile = plan.profile.clone();
        let notes = notes(&plan, profile.as_deref(), Day::from_date(world.today()));
        let tasks = profile.as_ref().map(|profile| compose::tasks(&plan, profile, &mut found));
        let answering = Answering::of(&plan);
        let checked = checks::run(plan, profile, &records.files, &mut found);
        Ok(Self { files: records.files, found, tasks: tasks.unwrap_or_default(), checked, notes, answering })
    }

    /// From the checked plan to sheets, and on with each; nothing once an error was found. Kinds that print the findings come last.
    fn set<R: Send>(
        &mut self,
        world: &dyn World,
        wanted: &Wanted,
        on: &(dyn Fn(Set, &Press) -> R + Sync),
    ) -> Result<Vec<R>, Bug> {
        let Some(checked) = self.checked.take() else { return Ok(Vec::new()) };
        let layouts = self.layouts(world);
        let (last, first): (Vec<Task>, Vec<Task>) = self
            .tasks
            .iter()
            .filter(|task| is_wanted(task, wanted))
            .cloned()
            .partition(|task| task.shared_key().kind.is_last);
        let mut set = self.round(&checked, first, (&layouts, None), on)?;
        self.found.sort(&self.files);
        let (rules, without_rows): (Vec<&Rule>, Vec<&Rule>) =
            rules().into_iter().partition(|rule| checks::has_rows(rule, checked.profile()));
        let frozen = self.found.clone();
        let files = self.files.clone();
        let frozen = Frozen { findings: &frozen, files: &files, rules: &rules, without_rows: &without_rows };
        set.extend(self.round(&checked, last, (&layouts, Some(&frozen)), on)?);
        self.found.sort(&self.files);
        self.checked = Some(checked);
        Ok(set)
    }

    fn layouts(&mut self, world: &dyn World) -> BTreeMap<String, Layout> {
        let mut layouts = BTreeMap::new();
        let mut asked: Vec<At<String>> = self.tasks.iter().map(|task| task.layout().clone()).collect();
        asked.sort_by(|a, b| a.value.cmp(&b.value));
        asked.dedup_by(|a, b| a.value == b.value);
        for name in asked {
            if let Some(layout) = typeset::layout::find(&name, world, &mut self.files, &mut self.found) {
                layouts.insert(name.value, layout);
            }
        }
        layouts
    }

    /// Composes and sets tasks side by side; findings are merged in order, each once.
    fn round<R: Send>(
        &mut self,
        checked: &CheckedPlan,
        tasks: Vec<Task>,
        (layouts, frozen): (&BTreeMap<String, Layout>, Option<&Frozen<'_>>),
        on: &(dyn Fn(Set, &Press) -> R + Sync),
    ) -> Result<Vec<R>, Bug> {
        let codes = edition::codes(checked, &tasks, frozen)?;
        let results = side_by_side(tasks, |task, pen, press| {
            let mut found = Findings::default();
            let copies = copies(checked, &task, frozen, &codes);
            let set = copies.map(|copies| set(task, (copies, &codes), layouts, pen, &mut found));
            (set.map(|set| set.map(|set| on(set, press))), found)
        });
        let mut sets = Vec::new();
        // Sixty personal cards have the same fault once.
        let said = |finding: &Finding| (finding.rule.name, finding.span, finding.message.clone());
        let mut known: BTreeSet<_> = self.found.iter().map(said).collect();
        for (set, found) in results {
            sets.extend(set?);
            for finding in found.iter().filter(|finding| known.insert(said(finding))) {
                self.found.push(finding.clone());
            }
        }
        Ok(sets)
    }

    fn outcome(mut self) -> Outcome {
        self.found.sort(&self.files);
        Outcome { files: self.files, findings: self.found, notes: self.notes, answering: self.answering }
    }
}

/// What has passed since the plan was written.
fn notes(plan: &Plan, profile: Option<&tables::Profile>, today: Day) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(edition) = plan.edition.as_ref().filter(|edition| edition.review_by.value < today) {
        let (number, by) = (edition.number.value, edition.review_by.value);
        notes.push(format!("edition {number} was to be reviewed by {by}; today is {today}"));
    }
    if let Some(profile) = profile.filter(|_| plan.head.as_ref().is_some_and(|head| head.is_invented)) {
        let calls = checks::calls(plan);
        let open = calls.iter().filter(|(call, _)| !profile.closed_calls.iter().any(|row| row.holds(&call.value)));
        let all = ground::plural(calls.len(), "call sign");
        notes.push(format!("the plan says that it is invented; of its {all}, {} might be somebody's", open.count()));
    }
    if let Some(profile) = profile.filter(|profile| profile.review_by < today) {
        let (id, by) = (&profile.id, profile.review_by);
        notes.push(format!("the profile {id} was to be compared with its source by {by}; today is {today}"));
    }
    notes
}

fn is_wanted(task: &Task, wanted: &Wanted) -> bool {
    let is_kind = wanted.kind.as_ref().is_none_or(|kind| task.shared_key().kind.name == kind);
    let is_audience = wanted.audience.as_ref().is_none_or(|audience| task.shared_key().audience == *audience);
    let holder = task.holder.as_ref().map(ground::Id::as_str);
    is_kind && is_audience && wanted.holder.as_ref().is_none_or(|id| holder == Some(id.as_str()))
}

/// Works on tasks on all threads, every thread with a pen and a press of its own, which remember what they have set and
/// painted; results in order.
fn side_by_side<R: Send>(tasks: Vec<Task>, work: impl Fn(Task, &Pen, &Press) -> R + Sync) -> Vec<R> {
    let threads = rayon::current_num_threads().max(1);
    // Dealt like cards, so that the long documents of one kind do not all fall to one thread.
    let mut hands: Vec<Vec<(usize, Task)>> = (0..threads).map(|_| Vec::new()).collect();
    for (index, task) in tasks.into_iter().enumerate() {
        if let Some(hand) = hands.get_mut(index % threads) {
            hand.push((index, task));
        }
    }
    let play = |hand: Vec<(usize, Task)>| {
        let (pen, press) = (Pen::new(), Press::new());
        hand.into_iter().map(|(index, task)| (index, work(task, &pen, &press))).collect::<Vec<_>>()
    };
    let mut results: Vec<(usize, R)> = hands.into_par_iter().flat_map_iter(play).collect();
    results.sort_by_key(|(index, _)| *index);
    results.into_iter().map(|(_, result)| result).collect()
}

/// The copies of one file with their codes, and each one's canonical text.
fn copies(
    checked: &CheckedPlan,
    task: &Task,
    frozen: Option<&Frozen<'_>>,
    codes: &Codes,
) -> Result<Vec<(Document, String)>, Bug> {
    let copy = |copy: &Task| {
        let mut document = compose::document(checked, copy, frozen);
        edition::stamp(&mut document, copy, codes);
        let text = edition::canonical(&document, &checked.profile().rule_set)?;
        Ok((document, text))
    };
    task.copies().iter().map(copy).collect()
}

/// Sets the copies of one file. What the file says is its copy's own text, or that which all have in common where there are many.
fn set(
    task: Task,
    (copies, codes): (Vec<(Document, String)>, &Codes),
    layouts: &BTreeMap<String, Layout>,
    pen: &Pen,
    found: &mut Findings,
) -> Option<Set> {
    let (documents, texts): (Vec<Document>, Vec<String>) = copies.into_iter().unzip();
    let layout = layouts.get(task.layout().as_str())?.varied(documents.first()?.variant);
    let job = job(&documents, &layout, pen, found)?;
    let holders = task.copies().into_iter().filter_map(|copy| copy.holder).map(|holder| holder.to_string());
    let holders = holders.zip(&texts).map(|(holder, text)| (holder, ledger::sha256(text.as_bytes()))).collect();
    let shared = codes.get(task.shared_key()).cloned();
    let canonical = match texts.as_slice() {
        [only] => Some(only.clone()),
        _ => shared.as_ref().map(|shared| shared.text.clone()),
    };
    let job = Job { stem: task.stem(), canonical, ..job };
    Some(Set { task, shared, holders, job })
}

/// Sets documents one after the other onto sheets of one file. All have one layout and paper.
fn job(documents: &[Document], layout: &Layout, pen: &Pen, found: &mut Findings) -> Option<Job> {
    let first = documents.first()?;
    let paper = Tables::built_in().papers.get(first.paper)?;
    let mut all: Option<Panels> = None;
    for document in documents {
        let mut panels = typeset::panels(document, (layout, paper), pen, found)?;
        // Among the copies of many, an outline tells whose a panel is.
        if let Some(holder) = document.foot.holder.as_ref().filter(|_| documents.len() > 1) {
            panels.panels.iter_mut().for_each(|panel| panel.holder = Some(holder.clone()));
        }
        match &mut all {
            Some(all) => all.append(panels),
            None => all = Some(panels),
        }
        if let Some(finding) = all.as_ref().and_then(|all| too_many_pages(all, first)) {
            found.push(finding);
            return None;
        }
    }
    Some(impose::sheets(all?, first))
}

/// The finding of a file with more pages than are taken; cards on one page count each.
fn too_many_pages(panels: &Panels, document: &Document) -> Option<Finding> {
    let sheets = panels.panels.len().div_ceil(panels.format.gathering().map_or(1, |gathering| gathering.panels));
    let pages = u64::try_from(sheets).unwrap_or(u64::MAX).saturating_mul(u64::from(document.copies));
    let what =
        format!("a file of the kind {} would have {pages} pages or more, and {} are taken", document.kind, PAGES.most);
    let finding = Finding::new(&MORE_THAN_TAKEN, document.layout.span, what).label("asks for this document");
    (!PAGES.takes(pages)).then(|| finding.help("ask for fewer copies, or leave `together` out"))
}

/// Paints a document.
fn kit_file(set: &Set, press: &Press) -> Result<KitFile, Bug> {
    let key = set.task.shared_key();
    Ok(KitFile {
        name: format!("{}.pdf", set.job.stem),
        bytes: paint::pdf(&set.job, press)?,
        kind: key.kind.name.to_owned(),
        audience: key.audience.clone(),
        holder: set.task.holder.as_ref().map(ToString::to_string),
        pages: set.job.pages.iter().map(|page| page.size).collect(),
        placements: set.job.placements(),
        code: set.shared.as_ref().map(|shared| shared.read_back.letters.clone()),
        content: set.shared.as_ref().map(|shared| ledger::sha256(shared.text.as_bytes())),
        holder_content: set.holders.clone(),
    })
}

/// What all files together are.
fn kit(run: &Run, files: Vec<KitFile>) -> Kit {
    let plan = run.checked.as_ref().map(CheckedPlan::plan);
    let head = plan.and_then(|plan| plan.head.as_ref());
    let edition = plan.and_then(|plan| plan.edition.as_ref());
    Kit {
        plan: head.map_or_else(String::new, |head| head.short.to_string()),
        edition: edition.map_or(0, |edition| edition.number.value),
        rule_set: run.checked.as_ref().map_or_else(String::new, |checked| checked.profile().rule_set.clone()),
        files,
    }
}
