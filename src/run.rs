//! The order of work: from the plan's text to checked records, documents, sheets and files.

use crate::Halt;
use crate::Outcome;
use crate::Taking;
use crate::Wanted;
use crate::audience;
use crate::blank::FormFiles;
use crate::checks;
use crate::checks::{Answering, CheckedPlan};
use crate::compose;
use crate::compose::{Bulletin, Frozen, PartKey, Since, Task};
use crate::copies::{Set, Sheets, kit_file};
use crate::exposed::PrivateNumbers;
use crate::ground::{At, Audience, Bug, Day, Failure, Files, Findings, Id, Rule, World};
use crate::kits;
use crate::kits::Parts;
use crate::ledger::{Editions, IssuedPlan, IssuedWorld, Kit, judge_facts};
use crate::notes::notes;
use crate::paint::Press;
use crate::plan;
use crate::plan::{ToldPlan, plain_records};
use crate::round::{RoundBy, round};
use crate::rules;
use crate::sheet::Job;
use crate::since::{Before, Now, PaperFile, sets, since};
use crate::source;
use crate::source::Whole;
use crate::tables::Tables;
use crate::typeset;
use crate::typeset::{Layout, Pen};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::atomic::{AtomicUsize, Ordering};

/// A plan on its way from text to sheets.
pub(crate) struct Work {
    files: Files,
    found: Findings,
    tasks: Vec<Task>,
    checked: Option<CheckedPlan>,
    notes: Vec<String>,
    answering: Option<Answering>,
    /// Editions that were issued, and the number of this one.
    editions: (Editions, Option<EditionNumber>),
    /// The plan of the last edition issued before, where it is at hand.
    before: Option<IssuedPlan>,
    /// The plan as it was written, where editions were issued.
    told: Option<ToldPlan>,
}

type EditionNumber = At<Whole<u32, 1, 99_999_999, true>>;

/// A document that somebody orders beside the plan.
#[derive(Clone, Copy)]
pub struct AskedDocument<'a> {
    /// A TOML text with its record.
    pub text: &'a str,
    /// The place, member or message for which alone it is made; as the record says where none is named.
    pub holder: Option<&'a str>,
    /// Files with a form or with messages that are none of the plan's.
    pub files: FormFiles<'a>,
    /// Whether it can be filled in on a screen.
    pub is_fillable: bool,
}

/// Which papers are told of.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Tells {
    /// All, where a paper that tells of the edition is wanted.
    Edition,
    /// All, since they are what is wanted.
    Each,
}

impl Work {
    /// From the root file to a checked plan and what it orders, beside the editions that were issued.
    pub fn read(world: &dyn World, root: &str) -> Result<Self, Failure> {
        Self::read_ordering(world, root, None)
    }

    /// The same, for one document alone, which somebody orders beside the plan.
    pub fn read_ordering(world: &dyn World, root: &str, order: Option<&AskedDocument<'_>>) -> Result<Self, Failure> {
        let mut found = Findings::default();
        let mut records = source::read_showing(world, root, &mut found, &Tables::begin)?;
        order.iter().for_each(|order| records.order(order.text, &mut found));
        compose::begin_forms(&records.list);
        let editions = Editions::read(world, &mut records.files, &mut found)?;
        let files = order.map(|order| order.files).unwrap_or_default();
        files.form.map(|file| source::read_beside(&mut records, file, "form", &mut found)).transpose()?;
        let messages = files.messages.map(|file| source::read_beside(&mut records, file, "message", &mut found));
        let messages = messages.transpose()?;
        let mut work = Self::of(world, records, editions, (found, order.and_then(|order| order.holder)))?;
        if let (Some(files), Some(checked)) = (messages, &work.checked) {
            let message = |id: &Id| checked.plan().messages.named(id);
            let of_file = |id: &Id| message(id).is_some_and(|message| files.contains(&message.id.span.file));
            work.tasks.iter_mut().for_each(|task| task.keep_holders(of_file));
            work.tasks.retain(|task| !task.together.is_empty());
        }
        Ok(work)
    }

    /// A plan as it was issued, by the rules of now: no edition stands before it.
    fn of_issued(world: &dyn World, name: &str) -> Result<Self, Failure> {
        let mut found = Findings::default();
        let records = source::read(world, name, &mut found)?;
        Self::of(world, records, Editions::default(), (found, None))
    }

    fn of(
        world: &dyn World,
        mut records: source::Records,
        editions: Editions,
        (mut found, holder): (Findings, Option<&str>),
    ) -> Result<Self, Failure> {
        let is_asked = !editions.issued.is_empty() || editions.has_more();
        let told = |list: &[_]| is_asked.then(|| (ToldPlan::of(list), plain_records(list)));
        let (mut plan, told) = plan::build_told(world, &mut records, &mut found, told);
        holder.map(|holder| plan::order_for(&mut plan, holder)).transpose()?;
        let number = plan.edition.as_ref().map(|edition| edition.number);
        number.iter().for_each(|number| editions.judge_number(number, &mut found));
        if let (Some(number), Some((told, _)), true) = (&number, &told, editions.has_more()) {
            editions.judge_entries(world, (number, &told.to_toml()), &mut found);
        }
        let before = number.and_then(|number| editions.before(number.value.get()));
        let before = before.and_then(|before| IssuedPlan::read(world, before, &mut found));
        if let (Some(before), Some((_, now))) = (&before, &told) {
            judge_facts(before, now, &mut found);
        }
        let profile = plan.profile.clone();
        let notes = notes(&plan, profile.as_deref(), Day::from_date(world.today()));
        let mut tasks = profile.as_ref().map(|profile| compose::tasks(&plan, profile, &mut found)).unwrap_or_default();
        if let Some(number) = number {
            compose::number_copies(&mut tasks, &editions.given(number.value.get()));
        }
        let answering = Answering::of(&plan);
        let checked = checks::run(plan, profile, &records.files, &mut found);
        let (files, editions) = (records.files, (editions, number));
        let told = told.map(|(told, _)| told);
        Ok(Self { files, found, tasks, checked, notes, answering, editions, before, told })
    }

    /// From the checked plan to sheets, and on with each; nothing once an error was found. Kinds that print the findings come last.
    fn set<R: Send>(
        &mut self,
        world: &dyn World,
        (wanted, tells): (&Wanted, Tells),
        sheets: Sheets<'_>,
        on: &(dyn Fn(Set<'_>) -> R + Sync),
    ) -> Result<Vec<R>, Bug> {
        let Some(checked) = self.checked.take() else { return Ok(Vec::new()) };
        let checked = checked.as_draft(self.is_draft() && !wanted.is_issue);
        let (layouts, press, pen) = (self.layouts(world, wanted), Press::default(), Pen::default());
        // Who is told of the other papers is told of all, whichever are wanted.
        let is_of_edition =
            |task: &Task| is_wanted(task, wanted) && task.shared_key().kind.is_of_edition() && task.kit().is_none();
        let is_told = self.tasks.iter().any(is_of_edition);
        let plan = checked.plan();
        let (covers, papers): (Vec<Task>, Vec<Task>) =
            self.tasks.iter().cloned().partition(|task| task.kit().is_some());
        let covers: Vec<Task> = covers.into_iter().filter(|task| is_wanted(task, wanted)).collect();
        // The sheets of all sets are counted for whoever prints them.
        let told_covers: Vec<Task> =
            self.tasks.iter().filter(|task| is_told && task.kit().is_some()).cloned().collect();
        let mut in_sets = kits::wanted(&covers);
        in_sets.extend(kits::wanted(&told_covers));
        let is_in_set = |task: &Task| in_sets.contains(&(task.document.clone(), task.holder.clone()));
        let singles: Vec<Task> =
            compose::single_copies(&self.tasks).into_iter().filter(|task| is_in_set(task)).collect();
        let single: BTreeSet<PartKey> =
            singles.iter().map(|task| (task.document.clone(), task.holder.clone())).collect();
        let is_single = |task: &Task| single.contains(&(task.document.clone(), task.holder.clone()));
        let is_needed =
            |task: &Task| is_wanted(task, wanted) || (is_told && !task.shared_key().kind.is_last()) || is_in_set(task);
        let (last, mut first): (Vec<Task>, Vec<Task>) =
            papers.into_iter().filter(is_needed).partition(|task| task.shared_key().kind.is_last());
        first.extend(singles);
        let numbers = (is_told || tells == Tells::Each).then(|| PrivateNumbers::of(&checked));
        let by = RoundBy { layouts: &layouts, press: &press, pen: &pen, frozen: None, told: numbers.as_ref(), sheets };
        let (editions, number) = &self.editions;
        let is_issued = number.as_ref().is_some_and(|number| editions.of(number.value.get()).is_some());
        let made = round(&checked, first, by, &mut self.found, &|set: Set<'_>| {
            // Of most files nothing of this is kept, and there are thousands.
            let part = kits::part(&set, &in_sets, plan).map(Box::new);
            if is_single(set.task()) {
                return (None, None, None, part);
            }
            let paper = is_issued.then(|| set.issued()).flatten().map(Box::new);
            let file = is_told.then(|| set.file()).flatten().map(Box::new);
            (is_wanted(set.task(), wanted).then(|| on(set)), paper, file, part)
        })?;
        let (mut set, mut papers, mut files, mut parts) = (Vec::new(), Vec::new(), Vec::new(), Parts::new());
        for (result, paper, file, part) in made {
            set.extend(result);
            papers.extend(paper.map(|paper| *paper));
            files.extend(file.map(|file| *file));
            parts.extend(part.map(|part| *part));
        }
        if let (editions, Some(number)) = &self.editions {
            editions.judge_papers(number, &papers, &mut self.found);
        }
        let mut since = if is_told { self.since(world, &checked, &files)? } else { Since::default() };
        since.prints.extend(kits::prints(&told_covers, &parts, plan));
        self.found.sort(&self.files);
        let (rules, without_rows): (Vec<&Rule>, Vec<&Rule>) =
            rules().into_iter().partition(|rule| checks::has_rows(rule, checked.profile()));
        let frozen = self.found.clone();
        let files = self.files.clone();
        let frozen =
            Frozen { findings: &frozen, files: &files, rules: &rules, without_rows: &without_rows, since: &since };
        let by = RoundBy { frozen: Some(&frozen), told: None, ..by };
        let made = round(&checked, last, by, &mut self.found, &|set: Set<'_>| {
            let part = kits::part(&set, &in_sets, plan);
            (is_wanted(set.task(), wanted).then(|| on(set)), part)
        })?;
        for (result, part) in made {
            set.extend(result);
            parts.extend(part);
        }
        let (sets, mixed) = kits::told(&covers, &parts, plan);
        mixed.into_iter().for_each(|finding| self.found.push(finding));
        let since = Since { sets, ..since.clone() };
        let frozen = Frozen { since: &since, ..frozen };
        let by = RoundBy { frozen: Some(&frozen), ..by };
        set.extend(self.kits(&checked, covers, by, (&parts, on))?);
        self.found.sort(&self.files);
        self.checked = Some(checked);
        Ok(set)
    }

    /// Covers with the papers of their sets behind them: a file each, or one for all sets of a kit.
    fn kits<R: Send>(
        &mut self,
        checked: &CheckedPlan,
        covers: Vec<Task>,
        by: RoundBy<'_, '_>,
        (parts, on): (&Parts, &(dyn Fn(Set<'_>) -> R + Sync)),
    ) -> Result<Vec<R>, Bug> {
        let plan = checked.plan();
        let is_stacked = |task: &Task| {
            let kit = task.kit().and_then(|kit| plan.kits.named(kit));
            kit.is_some_and(|kit| kit.together.is_some_and(|together| together.value))
        };
        let (stacked, single): (Vec<Task>, Vec<Task>) = covers.into_iter().partition(is_stacked);
        let mut done = round(checked, single, by, &mut self.found, &|set| on(kits::gathered(set, parts)))?;
        let sets = round(checked, stacked, by, &mut self.found, &|set| kits::gathered(set, parts))?;
        let mut by_kit: BTreeMap<Id, Vec<Set<'_>>> = BTreeMap::new();
        for set in sets {
            by_kit.entry(set.task().document.clone()).or_default().push(set);
        }
        done.extend(by_kit.into_values().filter_map(kits::stacked).map(on));
        Ok(done)
    }

    /// What of the edition is passed on the air, with the codes that these readers may know. None once an error was found.
    pub fn bulletin(mut self, world: &dyn World, readers: Audience) -> Result<(Outcome, Option<Bulletin>), Halt> {
        let files = self.paper_files(world).map_err(Halt::Bug)?;
        let bulletin = match self.checked.take().filter(|_| self.found.errors() == 0) {
            Some(checked) => {
                let since = self.since(world, &checked, &files).map_err(Halt::Bug)?;
                compose::bulletin(&audience::view(&checked, readers), &since)
            }
            None => None,
        };
        Ok((self.outcome(), bulletin))
    }

    /// All papers, as others are told of them.
    fn paper_files(&mut self, world: &dyn World) -> Result<Vec<PaperFile>, Bug> {
        let files = self.set(world, (&Wanted::default(), Tells::Each), Sheets::Judged, &|set| set.file())?;
        Ok(files.into_iter().flatten().collect())
    }

    /// What the edition is beside the last one issued before it, whose papers are set once more where its plan still holds.
    fn since(&self, world: &dyn World, checked: &CheckedPlan, files: &[PaperFile]) -> Result<Since, Bug> {
        let (editions, number) = &self.editions;
        let entered = number.as_ref().and_then(|number| editions.before(number.value.get()));
        let plan = self.before.as_ref();
        let before = match entered {
            Some(entered) => {
                let world = &IssuedWorld::new(world, entered.number.value.get());
                let name = IssuedWorld::root(entered.number.value.get());
                let mut work = plan.and_then(|_| Self::of_issued(world, &name).ok());
                let files = work.as_mut().map(|work| work.paper_files(world)).transpose()?.unwrap_or_default();
                let sets = work.filter(|_| plan.is_some()).map(|work| sets(&work.tasks)).unwrap_or_default();
                Some(Before { entered, plan, files, sets })
            }
            None => None,
        };
        let given = number.as_ref().map(|number| editions.given(number.value.get())).unwrap_or_default();
        let now = Now { told: self.told.as_ref(), files, sets: sets(&self.tasks), given };
        Ok(since(checked, &now, before.as_ref()))
    }

    /// Whether this edition is not issued yet, while others of the plan were: a plan that was never issued knows no drafts.
    fn is_draft(&self) -> bool {
        let (editions, number) = &self.editions;
        number.as_ref().is_some_and(|number| !editions.issued.is_empty() && editions.of(number.value.get()).is_none())
    }

    /// Refuses what cannot be filled in on a screen: several forms on one sheet.
    pub fn must_be_pages(&mut self, world: &dyn World) -> Result<(), Failure> {
        match self.layouts(world, &Wanted::default()).into_iter().find(|(_, layout)| !layout.format.is_whole()) {
            Some((name, _)) => Err(Failure::new(
                name,
                "several forms stand on one sheet of this layout; a form to fill in on a screen needs a page: --layout full",
            )),
            None => Ok(()),
        }
    }

    fn layouts(&mut self, world: &dyn World, wanted: &Wanted) -> BTreeMap<String, Layout> {
        let mut layouts = BTreeMap::new();
        let mut asked: Vec<At<String>> = self.tasks.iter().map(|task| task.layout().clone()).collect();
        asked.sort_by(|a, b| a.value.cmp(&b.value));
        asked.dedup_by(|a, b| a.value == b.value);
        for name in asked {
            if let Some(layout) = typeset::find_layout(&name, world, &mut self.files, &mut self.found) {
                let layout = if wanted.is_fillable { layout.fillable() } else { layout };
                layouts.insert(name.value, layout);
            }
        }
        layouts
    }

    /// Sets every document, so that a plan that checks also builds.
    pub fn checked(mut self, world: &dyn World) -> Result<Outcome, Halt> {
        self.set(world, (&Wanted::default(), Tells::Edition), Sheets::Judged, &|_| ()).map_err(Halt::Bug)?;
        Ok(self.outcome())
    }

    /// The sheets of every document. None of them once an error was found.
    pub fn jobs(mut self, world: &dyn World) -> Result<Vec<Job>, Halt> {
        let jobs =
            self.set(world, (&Wanted::default(), Tells::Edition), Sheets::Kept, &|set| set.job).map_err(Halt::Bug)?;
        Ok(if self.found.errors() > 0 { Vec::new() } else { jobs })
    }

    /// The wanted documents, painted, and of each what `taking` keeps of it. No kit once any error was found.
    pub fn kit<F: Send>(
        mut self,
        world: &dyn World,
        root: &str,
        wanted: &Wanted,
        taking: &Taking<'_, F>,
    ) -> Result<(Outcome, Option<Kit<F>>), Halt> {
        let Taking { progress, growing, take } = taking;
        let has_documents = !self.tasks.is_empty();
        let (done, all) = (AtomicUsize::new(0), self.tasks.iter().filter(|task| is_wanted(task, wanted)).count());
        // Painted and handed on as soon as it is set, so that nothing more is kept of a finished document.
        let sheets = growing.map_or(Sheets::Painted, Sheets::Written);
        let files = self.set(world, (wanted, Tells::Edition), sheets, &|mut set: Set<'_>| {
            let file = kit_file(&mut set).map(take);
            progress(done.fetch_add(1, Ordering::Relaxed) + 1, all);
            file
        });
        let files = files.map_err(Halt::Bug)?;
        if self.found.errors() > 0 {
            return Ok((self.outcome(), None));
        }
        if has_documents && files.is_empty() {
            let why = "the plan orders no such document; `check` lists nothing wrong with it";
            return Err(Failure::new(root, why).into());
        }
        let files = files.into_iter().collect::<Result<Vec<F>, Halt>>()?;
        let kit = kit(&self, files);
        Ok((self.outcome(), Some(kit)))
    }

    pub fn outcome(mut self) -> Outcome {
        self.found.sort(&self.files);
        Outcome { files: self.files, findings: self.found, notes: self.notes, answering: self.answering }
    }
}

fn is_wanted(task: &Task, wanted: &Wanted) -> bool {
    let is_kind = wanted.kind.as_ref().is_none_or(|kind| task.shared_key().kind.name == kind);
    let is_audience = wanted.audience.as_ref().is_none_or(|audience| task.shared_key().audience == *audience);
    let holder = task.holder.as_ref().map(Id::as_str);
    is_kind && is_audience && wanted.holder.as_ref().is_none_or(|id| holder == Some(id.as_str()))
}

/// What all files together are.
fn kit<F>(run: &Work, files: Vec<F>) -> Kit<F> {
    let plan = run.checked.as_ref().map(CheckedPlan::plan);
    let head = plan.and_then(|plan| plan.head.as_ref());
    let edition = plan.and_then(|plan| plan.edition.as_ref());
    Kit {
        plan: head.map_or_else(String::new, |head| head.short.to_string()),
        title: head.map_or_else(String::new, |head| head.title.to_string()),
        team: head.map_or_else(String::new, |head| head.team.to_string()),
        edition: edition.map_or(0, |edition| edition.number.value.get()),
        is_draft: run.checked.as_ref().is_some_and(CheckedPlan::is_draft),
        rule_set: run.checked.as_ref().map_or_else(String::new, |checked| checked.profile().rule_set.clone()),
        files,
    }
}
