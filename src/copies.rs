//! The copies of one file, from their documents to sheets and to bytes.

use crate::Halt;
use crate::checks::CheckedPlan;
use crate::compose;
use crate::compose::block::Document;
use crate::compose::{Frozen, NumberOf, PrintTold, Task};
use crate::edition;
use crate::edition::{Codes, ContentHash, Shared};
use crate::exposed::PrivateNumbers;
use crate::formats::Format;
use crate::ground::caps::PAGES;
use crate::ground::{Bug, Finding, Findings, Id, Sink, Size, on_all_threads};
use crate::impose;
use crate::ledger;
use crate::ledger::{IssuedPaper, KitFile, WrittenBytes};
use crate::paint::{Plates, Press};
use crate::sheet::{Job, Panels, Placement};
use crate::since::{PanelText, PaperFile, panel_texts};
use crate::source::MORE_THAN_TAKEN;
use crate::tables::Tables;
use crate::typeset;
use crate::typeset::{Copy, Layout, Order, Pen};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// What the files of one order have in common: what their copies say alike is set once and painted once.
pub(crate) struct Common<'a> {
    order: Order,
    plates: Plates<'a>,
}

impl<'a> Common<'a> {
    /// Of the order that a task is of. None when its layout or paper is not to be had, which was said before.
    pub fn of(task: &Task, layouts: &BTreeMap<String, Layout>, press: &'a Press) -> Option<Self> {
        let layout = layouts.get(task.layout().as_str())?.varied(task.variant());
        let layout = if task.has_numbers() { layout.numbered() } else { layout };
        let paper = Tables::built_in().papers.get(task.paper())?;
        Some(Self { order: Order::new(layout, paper), plates: Plates::new(press) })
    }
}

impl Common<'_> {
    /// Lets go of what only one of the copies so far has said.
    pub fn forget_own(&self) {
        self.order.forget_own();
    }

    /// How its paper is parted.
    pub fn format(&self) -> &'static dyn Format {
        self.order.format()
    }

    /// What its files are painted with.
    pub const fn plates(&self) -> &Plates<'_> {
        &self.plates
    }
}

/// By what the files of a round are made.
#[derive(Clone, Copy)]
pub(crate) struct Making<'a> {
    pub checked: &'a CheckedPlan,
    pub frozen: Option<&'a Frozen<'a>>,
    pub codes: &'a Codes,
    pub pen: &'a Pen,
    /// The private numbers that are looked for in every paper, where papers are told of each other.
    pub told: Option<&'a PrivateNumbers>,
    pub sheets: Sheets<'a>,
}

impl Making<'_> {
    /// Whether anybody asks for what the papers say: a state's check sheet says megabytes.
    const fn keeps_texts(&self) -> bool {
        self.told.is_some() || !matches!(self.sheets, Sheets::Judged)
    }
}

/// What becomes of the sheets of a file that many holders' copies stand in.
#[derive(Clone, Copy)]
pub(crate) enum Sheets<'a> {
    /// They are handed on, as those of any other file.
    Kept,
    /// They are let go: only what is wrong with them is wanted.
    Judged,
    /// They are painted as they come, and the bytes held.
    Painted,
    /// They are painted as they come, and written there.
    Written(&'a dyn Sink),
}

/// A copy, composed, with its codes.
pub(crate) struct ComposedCopy {
    pub copy: Copy,
    /// What it has in common with others of its key: all, where it is nobody's own.
    pub shared: Arc<Shared>,
    own: Option<OwnText>,
    /// Bytes of its canonical text.
    length: usize,
}

/// The canonical text of a copy that says more than what all share, with its SHA-256.
type OwnText = (String, ContentHash);

impl ComposedCopy {
    /// Composes a copy.
    pub fn of(task: &Task, common: &Common<'_>, making: &Making<'_>) -> Result<Self, Bug> {
        let rule_set = &making.checked.profile().rule_set;
        let mut document = compose::document(making.checked, task, making.frozen);
        let (shared, length) = match making.codes.get(task.shared_key()) {
            Some(shared) => (Arc::clone(shared), shared.text.len()),
            None if !task.is_shared() => return Err(Bug::new("a copy of its own has no code to share")),
            // Nobody has an own copy of it: this is what all share.
            None => {
                let mut shared = Shared::of(&document, rule_set)?;
                let length = shared.text.len();
                if !making.keeps_texts() {
                    shared.text = String::new();
                }
                (Arc::new(shared), length)
            }
        };
        edition::stamp(&mut document, &shared);
        let own = (!task.is_shared()).then(|| {
            let text = edition::canonical(&document, rule_set)?;
            let hash = edition::hash(&text);
            Ok((text, hash))
        });
        let own: Option<OwnText> = own.transpose()?;
        edition::stamp_own(&mut document, own.as_ref().map_or(&shared.hash, |(_, hash)| hash));
        let length = own.as_ref().map_or(length, |(text, _)| text.len());
        Ok(Self { copy: common.order.take(document), shared, own, length })
    }

    /// Its canonical text, with its SHA-256.
    pub fn said(&self) -> (&str, &ContentHash) {
        said(self.own.as_ref(), &self.shared)
    }
}

/// What a copy says: its own text, or that which all share.
fn said<'a>(own: Option<&'a OwnText>, shared: &'a Shared) -> (&'a str, &'a ContentHash) {
    own.map_or((&shared.text, &shared.hash), |(text, hash)| (text, hash))
}

/// The copies of one file, composed.
pub(crate) struct Composed<'a> {
    task: Task,
    common: Arc<Common<'a>>,
    copies: Vec<Copy>,
    /// What each says beyond what they share.
    own: Vec<Option<OwnText>>,
    /// None where there is no copy.
    shared: Option<Arc<Shared>>,
    /// Bytes of the canonical texts of all: how long they will take to set, about.
    pub length: usize,
}

impl<'a> Composed<'a> {
    /// Composes the copies of one file, with their codes.
    pub fn of(task: Task, common: Arc<Common<'a>>, making: &Making<'_>) -> Result<Self, Bug> {
        let mut composed = Self { copies: Vec::new(), own: Vec::new(), shared: None, common, task, length: 0 };
        for copy in composed.task.copies() {
            let ComposedCopy { copy, shared, own, length } = ComposedCopy::of(&copy, &composed.common, making)?;
            composed.copies.push(copy);
            composed.own.push(own);
            composed.shared = Some(shared);
            composed.length += length;
        }
        Ok(composed)
    }

    /// Sets them, when all of their order are composed. What the file says is its copy's own text, or that which all have in
    /// common where there are many.
    pub fn set(self, making: &Making<'_>, found: &mut Findings) -> Option<Set<'a>> {
        let Self { task, common, copies, mut own, shared, length: _ } = self;
        let (job, shared) = (job(&common.order, &copies, making.pen, found)?, shared?);
        let mut of_copies = OfCopies::default();
        for ((copy, set), own) in task.copies().iter().zip(&copies).zip(&own) {
            of_copies.take(copy, set, said(own.as_ref(), &shared), making.told);
        }
        if making.told.is_some() {
            of_copies.panels = panel_texts(&job);
        }
        let own = own.pop().filter(|_| own.is_empty()).flatten().map(|(text, _)| text);
        let canonical = Some(own.unwrap_or_else(|| shared.text.clone()));
        let says = says(copies.first()?.document(), copies.len());
        let job = Job { stem: task.stem(), canonical, says, ..job };
        Some(Set { task, common, shared: Some(shared), of_copies, parts: Vec::new(), painted: None, job })
    }
}

/// What is kept of the copies of a file beside their sheets.
#[derive(Default)]
pub(crate) struct OfCopies {
    /// The hash of each holder's own canonical text, by holder.
    holders: BTreeMap<String, String>,
    /// The code of each holder's own copy, by holder.
    own_codes: BTreeMap<String, String>,
    /// What each shows of private numbers, where that is asked.
    shown: Vec<(Option<Id>, BTreeSet<NumberOf>)>,
    /// The texts of the panels, where they are asked.
    pub panels: Vec<PanelText>,
}

impl OfCopies {
    /// Takes one.
    pub fn take(
        &mut self,
        task: &Task,
        copy: &Copy,
        (text, hash): (&str, &ContentHash),
        told: Option<&PrivateNumbers>,
    ) {
        if let Some(holder) = &task.holder {
            self.holders.insert(holder.to_string(), ledger::hexadecimal(hash));
            let own = copy.document().foot.own.clone();
            own.into_iter().for_each(|own| _ = self.own_codes.insert(holder.to_string(), own));
        }
        self.shown.extend(told.map(|numbers| (task.holder.clone(), numbers.shown(text))));
    }

    /// Takes what was kept of others.
    pub fn join(&mut self, other: Self) {
        self.holders.extend(other.holders);
        self.own_codes.extend(other.own_codes);
        self.shown.extend(other.shown);
        self.panels.extend(other.panels);
    }
}

/// A file that was painted while it was made.
pub(crate) struct PaintedFile {
    /// Where they are held.
    pub bytes: Vec<u8>,
    pub written: Option<WrittenBytes>,
    pub pages: Vec<Size>,
    /// Where its panels stand, where the bytes are held.
    pub placements: Vec<Placement>,
}

/// A file on its sheets.
pub(crate) struct Set<'a> {
    task: Task,
    common: Arc<Common<'a>>,
    shared: Option<Arc<Shared>>,
    of_copies: OfCopies,
    /// The files whose papers stand in it, where it is a set.
    pub parts: Vec<String>,
    /// Where its sheets were painted while they were made: the job has none.
    painted: Option<Result<PaintedFile, Halt>>,
    pub job: Job,
}

impl<'a> Set<'a> {
    /// One whose sheets did not wait for each other; the job says what they have in common.
    pub fn grown(
        (task, common): (Task, Arc<Common<'a>>),
        (job, shared): (Job, Option<Arc<Shared>>),
        (of_copies, painted): (OfCopies, Result<PaintedFile, Halt>),
    ) -> Self {
        Self { task, common, shared, of_copies, parts: Vec::new(), painted: Some(painted), job }
    }
}

impl Set<'_> {
    /// What it was made from.
    pub const fn task(&self) -> &Task {
        &self.task
    }

    /// The code that all its copies share.
    pub fn code(&self) -> Option<String> {
        self.shared.as_ref().map(|shared| shared.read_back.letters.clone())
    }

    /// The code of a holder's own copy.
    pub fn own_code(&self, holder: &Id) -> Option<String> {
        self.of_copies.own_codes.get(holder.as_str()).cloned()
    }

    /// Becomes the file of all, of which this is one holder's and the other another's.
    pub fn join(&mut self, other: Self) {
        self.task.holder = None;
        self.job.stem = self.task.stem();
        self.job.canonical = self.shared.as_ref().map(|shared| shared.text.clone());
        self.job.says = self.job.says.take().map(|says| says.split(OWN).next().unwrap_or_default().to_owned());
        self.of_copies.holders.extend(other.of_copies.holders);
        self.of_copies.own_codes.extend(other.of_copies.own_codes);
        self.parts.extend(other.parts.into_iter().filter(|part| !self.parts.contains(part)).collect::<Vec<_>>());
    }

    /// What is entered of it when its edition is issued. None of a file that prints the findings of the run.
    pub fn issued(&self) -> Option<IssuedPaper> {
        let (key, shared) = (self.task.shared_key(), self.shared.as_ref()?);
        let name = (self.job.stem.clone(), key.audience.to_string());
        let content = ledger::hexadecimal(&shared.hash);
        let paper = || {
            let paper = IssuedPaper::new(name, shared.read_back.letters.clone(), &content, &self.of_copies.holders);
            paper.with_copies(self.task.document.as_str(), &self.of_copies.own_codes, &self.of_copies.holders)
        };
        (!key.kind.is_last()).then(paper)
    }

    /// What is told of it beside the other papers, of which it was asked when it was made.
    pub fn file(&self) -> Option<PaperFile> {
        let pages = match &self.painted {
            Some(Ok(painted)) => painted.pages.len(),
            _ => self.job.pages.len(),
        };
        Some(PaperFile {
            paper: self.issued()?,
            kind: self.task.shared_key().kind.name,
            print: PrintTold {
                file: format!("{}.pdf", self.job.stem),
                document: self.task.document.to_string(),
                paper: self.task.paper().to_owned(),
                pages,
                duplex: self.job.duplex,
                format: self.common.format().word(),
                copies: self.of_copies.holders.len(),
            },
            panels: self.of_copies.panels.clone(),
            shown: self.of_copies.shown.clone(),
        })
    }
}

/// So many copies are set one after the other; more of them on all threads.
const ON_ONE_THREAD: usize = 250;

/// Before the code of one holder's copy, in what a file says of itself.
const OWN: &str = "; own ";

/// What a file of these copies says of itself: edition, readers, days, and codes; the own code where there is one copy.
pub(crate) fn says(document: &Document, copies: usize) -> Option<String> {
    let foot = &document.foot;
    let code = foot.read_back.as_ref().filter(|_| !foot.validity.is_empty())?;
    let edition = foot.edition.words();
    let mut says = format!("{edition}; {}; {}; code {}", foot.audience, foot.validity, code.letters);
    if let (Some(own), 1) = (&foot.own, copies) {
        says.push_str(&format!("{OWN}{own} of {}", foot.holder.as_deref().unwrap_or("its holder")));
    }
    Some(says)
}

/// Sets copies of an order one after the other onto sheets of one file.
pub(crate) fn job(order: &Order, copies: &[Copy], pen: &Pen, found: &mut Findings) -> Option<Job> {
    let first = copies.first()?.document();
    let mut all: Option<Panels> = None;
    let mut take = |panels: Panels, found: &mut Findings| {
        match &mut all {
            Some(all) => all.append(panels),
            None => all = Some(panels),
        }
        let finding = all.as_ref().and_then(|all| too_many_pages(all, first));
        let is_taken = finding.is_none();
        finding.into_iter().for_each(|finding| found.push(finding));
        is_taken.then_some(())
    };
    if copies.len() <= ON_ONE_THREAD {
        for copy in copies {
            take(set(order, (copy, copies.len()), pen, found)?, found)?;
        }
        return Some(impose::sheets(all?, first));
    }
    // As many at once as there are threads: what is too much ends it before all are set.
    for few in copies.chunks(ON_ONE_THREAD.saturating_mul(rayon::current_num_threads())) {
        let on_thread = |part: &[Copy]| {
            let mut found = Findings::default();
            let set: Option<Vec<Panels>> =
                part.iter().map(|copy| set(order, (copy, copies.len()), pen, &mut found)).collect();
            (set, found)
        };
        let parts = on_all_threads(few.chunks(ON_ONE_THREAD), 1, on_thread);
        for (set, told) in parts {
            told.iter().for_each(|finding| found.push(finding.clone()));
            for panels in set? {
                take(panels, found)?;
            }
        }
    }
    Some(impose::sheets(all?, first))
}

/// The sheets of one copy of so many, which no other copy stands on.
pub(crate) fn own_sheets(common: &Common<'_>, of: (&Copy, usize), pen: &Pen, found: &mut Findings) -> Option<Job> {
    Some(impose::sheets(set(&common.order, of, pen, found)?, of.0.document()))
}

/// The panels of one copy of so many.
fn set(order: &Order, (copy, count): (&Copy, usize), pen: &Pen, found: &mut Findings) -> Option<Panels> {
    let mut panels = typeset::panels(order, copy, pen, found)?;
    // Among the copies of many, an outline tells whose a panel is.
    if let Some(holder) = copy.document().foot.holder.as_ref().filter(|_| count > 1) {
        panels.panels.iter_mut().for_each(|panel| panel.holder = Some(holder.clone()));
    }
    Some(panels)
}

/// The finding of a file with more pages than are taken; cards on one page count each.
fn too_many_pages(panels: &Panels, document: &Document) -> Option<Finding> {
    let sheets = panels.panels.len().div_ceil(panels.format.gathering().map_or(1, |gathering| gathering.panels));
    let pages = u64::try_from(sheets).unwrap_or(u64::MAX).saturating_mul(u64::from(document.copies));
    more_pages(pages, document)
}

/// The same of so many pages.
pub(crate) fn more_pages(pages: u64, document: &Document) -> Option<Finding> {
    let what =
        format!("a file of the kind {} would have {pages} pages or more, and {} are taken", document.kind, PAGES.most);
    let finding = Finding::new(&MORE_THAN_TAKEN, document.layout.span, what).label("asks for this document");
    (!PAGES.takes(pages)).then(|| finding.help("ask for fewer copies, or leave `together` out"))
}

/// A finished file: painted now, where it was not while it was made.
pub(crate) fn kit_file(set: &mut Set<'_>) -> Result<KitFile, Halt> {
    let painted = match set.painted.take() {
        Some(painted) => painted?,
        None => PaintedFile {
            bytes: set.common.plates.pdf(&set.job).map_err(Halt::Bug)?,
            written: None,
            pages: set.job.pages.iter().map(|page| page.size).collect(),
            placements: set.job.placements(),
        },
    };
    let PaintedFile { bytes, written, pages, placements } = painted;
    let key = set.task.shared_key();
    Ok(KitFile {
        name: format!("{}.pdf", set.job.stem),
        bytes,
        written,
        kind: key.kind.name.to_owned(),
        audience: key.audience.clone(),
        holder: set.task.holder.as_ref().map(ToString::to_string),
        pages,
        placements,
        parts: set.parts.clone(),
        code: set.code(),
        content: set.shared.as_ref().map(|shared| ledger::hexadecimal(&shared.hash)),
        holder_content: std::mem::take(&mut set.of_copies.holders),
        holder_code: std::mem::take(&mut set.of_copies.own_codes),
    })
}
