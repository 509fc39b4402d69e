//! Sets of papers: what each holds, told on its cover, and all of it as one file.

use crate::compose::{KIT_MIXES_PAPER, PartKey, PrintTold, SetPaper, Task};
use crate::copies::Set;
use crate::formats::{Duplex, Placed};
use crate::ground::{Finding, Id, Size};
use crate::plan::{KitOrder, Plan, subject};
use crate::sheet::{Job, Page};
use crate::tables::Tables;
use std::collections::{BTreeMap, BTreeSet};

/// A paper that stands in sets: its sheets, and what covers say of it.
pub(crate) struct HeldPaper {
    job: Job,
    file: String,
    title: String,
    holder: Option<Id>,
    paper: SetPaper,
}

/// The papers that stand in sets, by document and holder.
pub(crate) type Parts = BTreeMap<PartKey, HeldPaper>;

/// The papers of each set, by its kit and holder.
pub(crate) type Sets = BTreeMap<(Id, Option<Id>), Vec<SetPaper>>;

/// The papers that the sets of these covers hold.
pub(crate) fn wanted(covers: &[Task]) -> BTreeSet<PartKey> {
    covers.iter().flat_map(Task::parts).cloned().collect()
}

/// What a set needs of a file, where it needs it.
pub(crate) fn part(set: &Set<'_>, wanted: &BTreeSet<PartKey>, plan: &Plan) -> Option<(PartKey, HeldPaper)> {
    let task = set.task();
    let key = (task.document.clone(), task.holder.clone());
    let code = set.code().filter(|_| wanted.contains(&key))?;
    let after = plan.head.as_ref().map_or_else(String::new, |head| format!(", {}", head.title.value));
    let paper = SetPaper {
        document: task.document.clone(),
        title: set.job.title.strip_suffix(&after).unwrap_or(&set.job.title).to_owned(),
        audience: task.shared_key().audience.clone(),
        code,
        own: task.holder.as_ref().and_then(|holder| set.own_code(holder)),
        page: None,
        pages: None,
    };
    let title = task.document.to_string();
    // A copy of one out of a file with all of them is told by that file.
    let order = plan.documents.named(&task.document);
    let is_together = order.is_some_and(|order| order.together.is_some_and(|together| together.value));
    let stem = if is_together { &title } else { &set.job.stem };
    Some((
        key,
        HeldPaper { job: set.job.clone(), file: format!("{stem}.pdf"), title, holder: task.holder.clone(), paper },
    ))
}

/// What each cover says, with the sheets of its papers at hand, and what cannot be printed as one file.
pub(crate) fn told(covers: &[Task], parts_at_hand: &Parts, plan: &Plan) -> (Sets, Vec<Finding>) {
    let (mut sets, mut common, mut findings) = (Sets::new(), BTreeMap::<Id, Vec<Vec<SetPaper>>>::new(), Vec::new());
    let mut judged = BTreeSet::new();
    for cover in covers {
        let Some(kit) = cover.kit() else { continue };
        let held = held(cover, parts_at_hand);
        if judged.insert(kit.clone()) {
            findings.extend(plan.kits.named(kit).and_then(|kit| mixed(kit, cover, &held)));
        }
        let duplex = duplex(&held);
        let (mut at, mut papers) = (first_page(duplex), Vec::new());
        for part in held {
            let pages = laid(&part.job, duplex).len();
            // In a member's set a sheet says of which site it is.
            let site = part.holder.as_ref().filter(|holder| Some(*holder) != cover.holder.as_ref());
            let site = site.and_then(|site| plan.places.named(site));
            let title = site.map_or_else(
                || part.paper.title.clone(),
                |site| format!("{}, {}", part.paper.title, site.tactical.value),
            );
            let paper = SetPaper { title, page: Some(at), pages: Some(part.job.pages.len()), ..part.paper.clone() };
            papers.push(paper);
            at += pages;
        }
        common.entry(kit.clone()).or_default().push(papers.clone());
        sets.insert((kit.clone(), cover.holder.clone()), papers);
    }
    for (kit, of_holders) in common {
        sets.entry((kit, None)).or_insert_with(|| alike(&of_holders));
    }
    (sets, findings)
}

/// What stands for the title of papers that are each set's own.
const SITE_SHEETS: &str = "of the holder's sites";

/// What all sets of a kit say alike: each document once, no holder's code, and the pages where they are those of all.
fn alike(sets: &[Vec<SetPaper>]) -> Vec<SetPaper> {
    let mut papers: Vec<&SetPaper> = Vec::new();
    for paper in sets.iter().flatten() {
        if !papers.iter().any(|known| known.document == paper.document) {
            papers.push(paper);
        }
    }
    let paper = |paper: &SetPaper| {
        // Of which site a sheet is, is each set's own.
        let is_own = sets.iter().flatten().any(|other| other.document == paper.document && other.title != paper.title);
        let title = if is_own { SITE_SHEETS.to_owned() } else { paper.title.clone() };
        // A set may hold the sheets of several sites, or of none.
        let is_like = |of: fn(&SetPaper) -> Option<usize>| {
            sets.iter().all(|set| {
                let mut own = set.iter().filter(|other| other.document == paper.document);
                own.next().map(of) == Some(of(paper)) && own.next().is_none()
            })
        };
        let page = paper.page.filter(|_| is_like(|paper| paper.page));
        let pages = paper.pages.filter(|_| is_like(|paper| paper.pages));
        SetPaper { own: None, title, page, pages, ..paper.clone() }
    };
    papers.into_iter().map(paper).collect()
}

/// A cover is one page, and its back where the set is turned.
const fn first_page(duplex: Duplex) -> usize {
    match duplex {
        Duplex::Simplex => 2,
        Duplex::LongEdge | Duplex::ShortEdge => 3,
    }
}

fn held<'a>(cover: &Task, at_hand: &'a Parts) -> Vec<&'a HeldPaper> {
    cover.parts().iter().filter_map(|key| at_hand.get(key)).collect()
}

/// How the sheets of a set are turned: as any of its papers is.
fn duplex(held: &[&HeldPaper]) -> Duplex {
    held.iter().map(|part| part.job.duplex).find(|duplex| *duplex != Duplex::Simplex).unwrap_or(Duplex::Simplex)
}

/// Papers that are not turned alike, or stand on other paper than their cover.
fn mixed(kit: &KitOrder, cover: &Task, held: &[&HeldPaper]) -> Option<Finding> {
    let paper = Tables::built_in().papers.get(cover.paper())?;
    let of_cover = upright(Size { width: paper.width, height: paper.height });
    let turned = held.iter().find(|part| part.job.duplex != Duplex::Simplex);
    let is_on_other = |part: &&&HeldPaper| part.job.pages.iter().any(|page| upright(page.size) != of_cover);
    let other_paper = held.iter().find(is_on_other).map(|part| ("its cover", part, "on other paper"));
    let is_other_way = |part: &&&HeldPaper| {
        part.job.duplex != Duplex::Simplex && Some(part.job.duplex) != turned.map(|first| first.job.duplex)
    };
    let other_way = held
        .iter()
        .find(is_other_way)
        .and_then(|part| Some((turned?.title.as_str(), part, "turned over another edge")));
    let (one, other, how) = other_paper.or(other_way)?;
    let named = kit.documents.value.iter().find(|id| id.value == other.paper.document)?;
    let what = format!("kit {} holds {}, which is {how} than {one}", kit.id.value, other.title);
    let finding = Finding::new(&KIT_MIXES_PAPER, named.span, what).on(subject(kit)).label("is printed otherwise");
    Some(
        finding
            .help(format!("leave {} out and print it by itself, or give both one layout and one paper", other.title)),
    )
}

/// How the files of these sets are printed; no pages of one that holds papers which tell of the edition, since those are set later.
pub(crate) fn prints(covers: &[Task], at_hand: &Parts, plan: &Plan) -> Vec<PrintTold> {
    let mut files: BTreeMap<String, PrintTold> = BTreeMap::new();
    for cover in covers {
        let held = held(cover, at_hand);
        let duplex = duplex(&held);
        let pages: usize = held.iter().map(|part| laid(&part.job, duplex).len()).sum();
        let all = first_page(duplex) - 1 + pages;
        let is_whole = held.len() == cover.parts().len();
        let kit = cover.kit().and_then(|kit| plan.kits.named(kit));
        let is_stack = kit.is_some_and(|kit| kit.together.is_some_and(|together| together.value));
        let stem = if is_stack { cover.document.to_string() } else { cover.stem() };
        let document = cover.document.to_string();
        let paper = cover.paper().to_owned();
        let none =
            || PrintTold { file: format!("{stem}.pdf"), document, paper, pages: 0, duplex, format: "kit", copies: 0 };
        let is_first = !files.contains_key(&stem);
        let print = files.entry(stem.clone()).or_insert_with(none);
        let is_known = is_whole && (is_first || print.pages > 0);
        print.pages = if is_known { print.pages + all } else { 0 };
        print.copies += usize::from(cover.holder.is_some());
    }
    files.into_values().collect()
}

/// A size as it is before anybody turns it.
fn upright(size: Size) -> Size {
    if size.width > size.height { Size { width: size.height, height: size.width } } else { size }
}

/// The pages of a job as they stand in a file that is turned in this way: each job begins on a front, and what stands on one side
/// has an empty back.
fn laid(job: &Job, duplex: Duplex) -> Vec<Page> {
    let empty = |page: &Page| Page { placed: Vec::new(), marks: Vec::new(), ..page.clone() };
    let mut pages = Vec::new();
    for page in &job.pages {
        pages.push(page.clone());
        if duplex != Duplex::Simplex && job.duplex == Duplex::Simplex {
            pages.push(empty(page));
        }
    }
    if let (true, Some(last)) = (duplex != Duplex::Simplex && pages.len() % 2 == 1, pages.last()) {
        pages.push(empty(last));
    }
    pages
}

/// A cover with the papers of its set behind it, as one file.
pub(crate) fn gathered<'a>(mut set: Set<'a>, at_hand: &Parts) -> Set<'a> {
    let held = held(set.task(), at_hand);
    let duplex = duplex(&held);
    let cover = laid(&set.job, duplex);
    set.job.pages = cover;
    set.job.duplex = duplex;
    for part in &held {
        append(&mut set.job, &part.job, duplex);
    }
    set.parts = held.iter().map(|part| part.file.clone()).collect();
    set
}

/// The sets of all holders as one file, one behind the other.
pub(crate) fn stacked(sets: Vec<Set<'_>>) -> Option<Set<'_>> {
    let mut sets = sets.into_iter();
    let mut all = sets.next()?;
    for set in sets {
        let duplex = all.job.duplex;
        append(&mut all.job, &set.job, duplex);
        all.join(set);
    }
    Some(all)
}

fn append(job: &mut Job, other: &Job, duplex: Duplex) {
    let before = job.panels.len();
    job.panels.extend(other.panels.iter().cloned());
    let moved = |mut page: Page| {
        page.placed = page.placed.iter().map(|placed| Placed { panel: placed.panel + before, ..*placed }).collect();
        page
    };
    // Sets that were gathered stand on both sides already.
    job.pages.extend(laid(other, duplex).into_iter().map(moved));
}
