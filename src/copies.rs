//! The copies of one file, from their documents to sheets and to bytes.

use crate::checks::CheckedPlan;
use crate::compose;
use crate::compose::block::Document;
use crate::compose::{Frozen, Task};
use crate::edition;
use crate::edition::{Codes, Shared};
use crate::ground::caps::PAGES;
use crate::ground::{Bug, Finding, Findings};
use crate::impose;
use crate::ledger;
use crate::ledger::KitFile;
use crate::paint;
use crate::paint::Press;
use crate::sheet::{Job, Panels};
use crate::source::MORE_THAN_TAKEN;
use crate::tables::Tables;
use crate::typeset;
use crate::typeset::layout::Layout;
use crate::typeset::pen::Pen;
use std::collections::BTreeMap;

/// A document on its sheets.
pub(crate) struct Set {
    task: Task,
    shared: Option<Shared>,
    /// The hash of each holder's own canonical text, by holder.
    holders: BTreeMap<String, String>,
    /// The code of each holder's own copy, by holder.
    own_codes: BTreeMap<String, String>,
    pub job: Job,
}

/// The copies of one file with their codes, and each one's canonical text.
pub(crate) fn copies(
    checked: &CheckedPlan,
    task: &Task,
    frozen: Option<&Frozen<'_>>,
    codes: &Codes,
) -> Result<Vec<(Document, String)>, Bug> {
    let copy = |copy: &Task| {
        let mut document = compose::document(checked, copy, frozen);
        edition::stamp(&mut document, copy, codes);
        let text = edition::canonical(&document, &checked.profile().rule_set)?;
        edition::stamp_own(&mut document, &text);
        Ok((document, text))
    };
    task.copies().iter().map(copy).collect()
}

/// Sets the copies of one file. What the file says is its copy's own text, or that which all have in common where there are many.
pub(crate) fn set(
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
    let holders: Vec<String> = holders.collect();
    let own = documents.iter().filter_map(|document| document.foot.own.clone());
    let own_codes = holders.iter().cloned().zip(own).collect();
    let hashes = texts.iter().map(|text| ledger::sha256(text.as_bytes()));
    let holders = holders.into_iter().zip(hashes).collect();
    let shared = codes.get(task.shared_key()).cloned();
    let canonical = match texts.as_slice() {
        [only] => Some(only.clone()),
        _ => shared.as_ref().map(|shared| shared.text.clone()),
    };
    let job = Job { stem: task.stem(), canonical, ..job };
    Some(Set { task, shared, holders, own_codes, job })
}

/// Sets documents one after the other onto sheets of one file. All have one layout and paper.
pub(crate) fn job(documents: &[Document], layout: &Layout, pen: &Pen, found: &mut Findings) -> Option<Job> {
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
pub(crate) fn kit_file(set: &Set, press: &Press) -> Result<KitFile, Bug> {
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
        holder_code: set.own_codes.clone(),
    })
}
