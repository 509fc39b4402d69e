//! The copies of one file, from their documents to sheets and to bytes.

use crate::checks::CheckedPlan;
use crate::compose;
use crate::compose::block::Document;
use crate::compose::{Frozen, PrintTold, Task};
use crate::edition;
use crate::edition::{Codes, Shared};
use crate::exposed::PrivateNumbers;
use crate::ground::caps::PAGES;
use crate::ground::{Bug, Finding, Findings, Id};
use crate::impose;
use crate::ledger;
use crate::ledger::{IssuedPaper, KitFile};
use crate::paint::{Plates, Press};
use crate::sheet::{Job, Panels};
use crate::since::{PaperFile, panel_texts};
use crate::source::MORE_THAN_TAKEN;
use crate::tables::Tables;
use crate::typeset;
use crate::typeset::{Copy, Layout, Order, Pen};
use rayon::iter::ParallelIterator;
use rayon::slice::ParallelSlice;
use std::collections::BTreeMap;
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

    /// The word for how its paper is parted.
    fn format(&self) -> &'static str {
        self.order.format().word()
    }
}

/// The copies of one file, composed.
pub(crate) struct Composed<'a> {
    task: Task,
    common: Arc<Common<'a>>,
    copies: Vec<Copy>,
    /// The canonical text of each.
    texts: Vec<String>,
}

impl<'a> Composed<'a> {
    /// Composes the copies of one file, with their codes.
    pub fn of(
        checked: &CheckedPlan,
        task: Task,
        common: Arc<Common<'a>>,
        (frozen, codes): (Option<&Frozen<'_>>, &Codes),
    ) -> Result<Self, Bug> {
        let (mut copies, mut texts) = (Vec::new(), Vec::new());
        for copy in task.copies() {
            let mut document = compose::document(checked, &copy, frozen);
            edition::stamp(&mut document, &copy, codes);
            let text = edition::canonical(&document, &checked.profile().rule_set)?;
            edition::stamp_own(&mut document, &text);
            texts.push(text);
            copies.push(common.order.take(document));
        }
        Ok(Self { task, common, copies, texts })
    }

    /// Sets them, when all of their order are composed. What the file says is its copy's own text, or that which all have in
    /// common where there are many.
    pub fn set(self, codes: &Codes, pen: &Pen, found: &mut Findings) -> Option<Set<'a>> {
        let Self { task, common, copies, texts } = self;
        let job = job(&common.order, &copies, pen, found)?;
        let holders = task.copies().into_iter().filter_map(|copy| copy.holder).map(|holder| holder.to_string());
        let holders: Vec<String> = holders.collect();
        let own = copies.iter().filter_map(|copy| copy.document().foot.own.clone());
        let own_codes = holders.iter().cloned().zip(own).collect();
        let hashes = texts.iter().map(|text| ledger::sha256(text.as_bytes()));
        let holders = holders.into_iter().zip(hashes).collect();
        let shared = codes.get(task.shared_key()).cloned();
        let canonical = match texts.as_slice() {
            [only] => Some(only.clone()),
            _ => shared.as_ref().map(|shared| shared.text.clone()),
        };
        let says = says(&copies);
        let job = Job { stem: task.stem(), canonical, says, ..job };
        Some(Set { task, common, shared, holders, own_codes, texts, parts: Vec::new(), job })
    }
}

/// A file on its sheets.
pub(crate) struct Set<'a> {
    task: Task,
    common: Arc<Common<'a>>,
    shared: Option<Shared>,
    /// The hash of each holder's own canonical text, by holder.
    holders: BTreeMap<String, String>,
    /// The code of each holder's own copy, by holder.
    own_codes: BTreeMap<String, String>,
    /// The canonical text of each copy.
    texts: Vec<String>,
    /// The files whose papers stand in it, where it is a set.
    pub parts: Vec<String>,
    pub job: Job,
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
        self.own_codes.get(holder.as_str()).cloned()
    }

    /// Becomes the file of all, of which this is one holder's and the other another's.
    pub fn join(&mut self, other: Self) {
        self.task.holder = None;
        self.job.stem = self.task.stem();
        self.job.canonical = self.shared.as_ref().map(|shared| shared.text.clone());
        self.job.says = self.job.says.take().map(|says| says.split(OWN).next().unwrap_or_default().to_owned());
        self.holders.extend(other.holders);
        self.own_codes.extend(other.own_codes);
        self.parts.extend(other.parts.into_iter().filter(|part| !self.parts.contains(part)).collect::<Vec<_>>());
    }

    /// What is entered of it when its edition is issued. None of a file that prints the findings of the run.
    pub fn issued(&self) -> Option<IssuedPaper> {
        let (key, shared) = (self.task.shared_key(), self.shared.as_ref()?);
        let name = (self.job.stem.clone(), key.audience.to_string());
        let content = ledger::sha256(shared.text.as_bytes());
        let paper = || {
            let paper = IssuedPaper::new(name, shared.read_back.letters.clone(), &content, &self.holders);
            paper.with_copies(self.task.document.as_str(), &self.own_codes, &self.holders)
        };
        (!key.kind.is_last()).then(paper)
    }

    /// What is told of it beside the other papers.
    pub fn file(&self, numbers: &PrivateNumbers) -> Option<PaperFile> {
        let key = self.task.shared_key();
        let copies = self.task.copies();
        let shown = copies.iter().zip(&self.texts).map(|(copy, text)| (copy.holder.clone(), numbers.shown(text)));
        Some(PaperFile {
            paper: self.issued()?,
            kind: key.kind.name,
            print: PrintTold {
                file: format!("{}.pdf", self.job.stem),
                document: self.task.document.to_string(),
                paper: self.task.paper().to_owned(),
                pages: self.job.pages.len(),
                duplex: self.job.duplex,
                format: self.common.format(),
                copies: self.holders.len(),
            },
            panels: panel_texts(&self.job),
            shown: shown.collect(),
        })
    }
}

/// So many copies are set by one pen, which knows the words that it has shaped; more of them on all threads.
const OF_ONE_PEN: usize = 250;

/// Before the code of one holder's copy, in what a file says of itself.
const OWN: &str = "; own ";

/// What a file of these copies says of itself: edition, readers, days, and codes; the own code where there is one copy.
fn says(copies: &[Copy]) -> Option<String> {
    let foot = &copies.first()?.document().foot;
    let code = foot.read_back.as_ref().filter(|_| !foot.validity.is_empty())?;
    let edition = foot.edition.words();
    let mut says = format!("{edition}; {}; {}; code {}", foot.audience, foot.validity, code.letters);
    if let (Some(own), [_]) = (&foot.own, copies) {
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
    if copies.len() <= OF_ONE_PEN {
        for copy in copies {
            take(set(order, (copy, copies.len()), pen, found)?, found)?;
        }
        return Some(impose::sheets(all?, first));
    }
    // As many at once as there are threads: what is too much ends it before all are set.
    for few in copies.chunks(OF_ONE_PEN.saturating_mul(rayon::current_num_threads())) {
        let of_pen = |part: &[Copy]| {
            let (pen, mut found) = (Pen::new(), Findings::default());
            let set: Option<Vec<Panels>> =
                part.iter().map(|copy| set(order, (copy, copies.len()), &pen, &mut found)).collect();
            (set, found)
        };
        let parts: Vec<(Option<Vec<Panels>>, Findings)> = few.par_chunks(OF_ONE_PEN).map(of_pen).collect();
        for (set, told) in parts {
            told.iter().for_each(|finding| found.push(finding.clone()));
            for panels in set? {
                take(panels, found)?;
            }
        }
    }
    Some(impose::sheets(all?, first))
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
    let what =
        format!("a file of the kind {} would have {pages} pages or more, and {} are taken", document.kind, PAGES.most);
    let finding = Finding::new(&MORE_THAN_TAKEN, document.layout.span, what).label("asks for this document");
    (!PAGES.takes(pages)).then(|| finding.help("ask for fewer copies, or leave `together` out"))
}

/// Paints a file.
pub(crate) fn kit_file(set: &Set<'_>) -> Result<KitFile, Bug> {
    let key = set.task.shared_key();
    Ok(KitFile {
        name: format!("{}.pdf", set.job.stem),
        bytes: set.common.plates.pdf(&set.job)?,
        kind: key.kind.name.to_owned(),
        audience: key.audience.clone(),
        holder: set.task.holder.as_ref().map(ToString::to_string),
        pages: set.job.pages.iter().map(|page| page.size).collect(),
        placements: set.job.placements(),
        parts: set.parts.clone(),
        code: set.code(),
        content: set.shared.as_ref().map(|shared| ledger::sha256(shared.text.as_bytes())),
        holder_content: set.holders.clone(),
        holder_code: set.own_codes.clone(),
    })
}
