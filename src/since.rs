//! What an edition is beside the one issued before it, gathered from its papers and from what was entered of the other.

use crate::checks::CheckedPlan;
use crate::compose::block::Role;
use crate::compose::{
    CopyNumbers, CopyTold, Correction, Corrections, Exposure, Fate, KitTold, MOST_CORRECTIONS, NumberOf, PaperTold,
    PartKey, PrintTold, SetTold, Since, Task,
};
use crate::ground::{Audience, Id};
use crate::ledger::{IssuedCopy, IssuedEdition, IssuedPaper, IssuedPlan};
use crate::plan::{Plan, Sides, ToldPlan, changes};
use crate::sheet::{Job, Mark, ReadPlace};
use std::collections::{BTreeMap, BTreeSet};

/// A file of an edition, as far as others are told of it.
pub(crate) struct PaperFile {
    /// What is entered of it.
    pub paper: IssuedPaper,
    /// Its kind.
    pub kind: &'static str,
    /// How it is printed.
    pub print: PrintTold,
    /// What its panels say.
    pub panels: Vec<PanelText>,
    /// The private numbers that each copy of it shows, by holder.
    pub shown: Vec<(Option<Id>, BTreeSet<NumberOf>)>,
}

/// A set of a kit: its number, whose it is, its papers.
pub(crate) struct PaperSet {
    pub kit: Id,
    pub audience: Audience,
    pub number: Option<usize>,
    pub holder: Option<Id>,
    pub parts: Vec<PartKey>,
}

/// The sets of these tasks.
pub(crate) fn sets(tasks: &[Task]) -> Vec<PaperSet> {
    let set = |task: &Task| {
        let (kit, holder, number) = (task.kit()?.clone(), task.holder.clone(), task.copy);
        let audience = task.shared_key().audience.clone();
        Some(PaperSet { kit, audience, number, holder, parts: task.parts().to_vec() })
    };
    tasks.iter().filter_map(set).collect()
}

/// What an edition is made of.
pub(crate) struct Now<'a> {
    pub told: Option<&'a ToldPlan>,
    pub files: &'a [PaperFile],
    pub sets: Vec<PaperSet>,
    pub given: CopyNumbers,
}

/// What a panel says, its foot left out, and what is drawn on it that no pen can mend.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(crate) struct PanelText {
    title: String,
    cells: Vec<CellText>,
    drawn: Vec<Mark>,
}

/// The text of a cell, or of a block without cells.
#[derive(Clone, PartialEq, Eq, Debug)]
struct CellText {
    place: ReadPlace,
    role: Role,
    words: String,
}

/// What the panels of a file say.
pub(crate) fn panel_texts(job: &Job) -> Vec<PanelText> {
    let panel = |panel: &crate::sheet::Panel| {
        let (mut cells, mut drawn): (Vec<CellText>, Vec<Mark>) = (Vec::new(), Vec::new());
        for mark in panel.body.iter() {
            match mark {
                Mark::Glyphs(run) => match cells.last_mut().filter(|last| last.place == run.place) {
                    Some(last) => {
                        last.words.push(' ');
                        last.words.push_str(&run.text);
                    }
                    None => cells.push(CellText { place: run.place, role: run.role, words: run.text.to_string() }),
                },
                Mark::Modules(_) | Mark::Patterned(_) | Mark::Sign(_) | Mark::Fill(_) => drawn.push(mark.clone()),
                Mark::Line(_) | Mark::Outline(_) | Mark::Entry(_) => {}
            }
        }
        PanelText { title: panel.title.clone(), cells, drawn }
    };
    job.panels.iter().map(panel).collect()
}

/// What was issued before: what was entered, its plan where it is at hand, and its papers as they were set.
pub(crate) struct Before<'a> {
    pub entered: &'a IssuedEdition,
    pub plan: Option<&'a IssuedPlan>,
    pub files: Vec<PaperFile>,
    pub sets: Vec<PaperSet>,
}

/// Gathers what an edition is beside the one issued before.
pub(crate) fn since(checked: &CheckedPlan, now: &Now<'_>, before: Option<&Before<'_>>) -> Since {
    let (told, files) = (now.told, now.files);
    let plan = checked.plan();
    let old_plan = before.and_then(|before| before.plan);
    let plans = old_plan.map(|old| &old.plan).into_iter().chain([plan]);
    let (mut rows, mut calls, mut places) = (BTreeMap::new(), BTreeMap::new(), BTreeMap::new());
    for plan in plans {
        let row = |channel: &crate::plan::Channel| Some((channel.id.to_string(), channel.row.as_ref()?.to_string()));
        rows.extend(plan.channels.iter().filter_map(row));
        let call = |member: &crate::plan::Member| Some((member.id.to_string(), member.call.as_ref()?.to_string()));
        calls.extend(plan.members.iter().filter_map(call));
        places.extend(plan.places.iter().map(|place| (place.id.to_string(), place.tactical.to_string())));
    }
    let sides = Option::zip(old_plan, told).map(|(old, told)| -> Sides<'_> { [(&old.told, &old.plan), (told, plan)] });
    let papers = papers(plan, now, before);
    let kits = kits(&now.sets, before, &papers);
    Since {
        before: before.map(|before| (before.entered.number.value.get(), before.entered.issued.value)),
        is_told: sides.is_some(),
        changes: sides.map(changes).unwrap_or_default(),
        rows,
        calls,
        places,
        left: before.map(|before| left(plan, before)).unwrap_or_default(),
        papers,
        kits,
        prints: files.iter().map(|file| file.print.clone()).collect(),
        sets: BTreeMap::new(),
    }
}

/// What becomes of each paper: those of now by document, then those that are no more.
fn papers(plan: &Plan, Now { files, given, .. }: &Now<'_>, before: Option<&Before<'_>>) -> Vec<PaperTold> {
    let numbered = IssuedPaper::numbered(files.iter().map(|file| file.paper.clone()).collect(), given);
    let old: &[IssuedPaper] = before.map_or(&[], |before| &before.entered.papers);
    let mut documents: BTreeMap<&str, DocumentSince<'_>> = BTreeMap::new();
    for (paper, file) in numbered.iter().zip(*files) {
        let side = documents.entry(paper.document()).or_default();
        side.now.push(paper);
        side.files.push(file);
    }
    for paper in old {
        documents.entry(paper.document()).or_default().old.push(paper);
    }
    documents.into_iter().filter_map(|(document, side)| side.told(document, plan, before)).collect()
}

/// The files of one document, before and now.
#[derive(Default)]
struct DocumentSince<'a> {
    old: Vec<&'a IssuedPaper>,
    now: Vec<&'a IssuedPaper>,
    files: Vec<&'a PaperFile>,
}

impl DocumentSince<'_> {
    fn told(&self, document: &str, plan: &Plan, before: Option<&Before<'_>>) -> Option<PaperTold> {
        let first = self.now.first().or(self.old.first())?;
        let copies = self.copies();
        let fate = self.fate(&copies);
        let code = |papers: &[&IssuedPaper]| papers.first().map(|paper| paper.code.clone());
        let file = self.files.last().copied();
        let corrections = file.filter(|_| fate == Fate::Replace && copies.is_empty()).and_then(|now| {
            let files = &before?.files;
            let old = files.iter().find(|file| file.paper.document() == document)?;
            let ignored = Ignored::of(plan, before?.plan.map(|old| &old.plan)?, [old, now]);
            Some(corrections(&old.panels, &now.panels, &ignored))
        });
        Some(PaperTold {
            document: document.to_owned(),
            kind: file.map_or_else(String::new, |file| file.kind.to_owned()),
            audience: Audience::parse(&first.audience).unwrap_or(Audience::Coordinator),
            old: code(&self.old),
            new: code(&self.now),
            fate,
            copies,
            corrections,
            showed: before.filter(|before| before.plan.is_some()).and_then(|before| {
                let files = before.files.iter().filter(|file| file.paper.document() == document);
                shown(&files.collect::<Vec<_>>())
            }),
            shows: shown(&self.files),
        })
    }

    /// What becomes of the document as a whole: of one with holders, what becomes of their copies.
    fn fate(&self, copies: &[CopyTold]) -> Fate {
        let contents = |papers: &[&IssuedPaper]| -> BTreeSet<(String, String)> {
            papers.iter().map(|paper| (paper.file.clone(), paper.content.clone())).collect()
        };
        let fates: BTreeSet<Fate> = copies.iter().map(|copy| copy.fate).filter(|fate| *fate != Fate::Valid).collect();
        match (self.old.is_empty(), self.now.is_empty()) {
            (true, _) => Fate::New,
            (_, true) => Fate::TakeBack,
            _ if copies.is_empty() && contents(&self.old) == contents(&self.now) => Fate::Valid,
            _ if copies.is_empty() => Fate::Replace,
            _ => match fates.into_iter().collect::<Vec<_>>().as_slice() {
                [] => Fate::Valid,
                [one] => *one,
                _ => Fate::Replace,
            },
        }
    }

    /// The copies that have holders, those of now first.
    fn copies(&self) -> Vec<CopyTold> {
        let all = |papers: &[&IssuedPaper]| -> BTreeMap<String, (String, IssuedCopy)> {
            let copies = papers.iter().flat_map(|paper| paper.copies.iter().map(move |copy| (paper, copy)));
            copies.map(|(paper, copy)| (copy.holder.clone(), (paper.audience.clone(), copy.clone()))).collect()
        };
        let (old, now) = (all(&self.old), all(&self.now));
        let mut copies: Vec<CopyTold> = Vec::new();
        let told = |copy: &IssuedCopy, was: Option<&IssuedCopy>, fate| {
            let (number, own) = (copy.number.parse().unwrap_or_default(), copy.own.clone());
            let was = was.map(|was| was.own.clone());
            Id::parse(&copy.holder).ok().map(|holder| CopyTold { number, holder, own, was, fate })
        };
        for (holder, (audience, copy)) in &now {
            let was = old.get(holder);
            let fate = match was {
                None => Fate::New,
                Some((readers, was)) if readers == audience && was.says_what(copy) => Fate::Valid,
                Some(_) => Fate::Replace,
            };
            copies.extend(told(copy, was.map(|(_, was)| was), fate));
        }
        copies.sort_by_key(|copy| copy.number);
        for (_, (_, copy)) in old.iter().filter(|(holder, _)| !now.contains_key(*holder)) {
            copies.extend(told(copy, Some(copy), Fate::TakeBack));
        }
        copies
    }
}

/// What the copies of these files show of private numbers; none where there is no file.
fn shown(files: &[&PaperFile]) -> Option<Exposure> {
    let copies: Vec<&(Option<Id>, BTreeSet<NumberOf>)> = files.iter().flat_map(|file| &file.shown).collect();
    let (_, first) = copies.first()?;
    let all = copies.iter().fold(first.clone(), |all, (_, numbers)| all.intersection(numbers).cloned().collect());
    let mut shown = Exposure { all, ..Exposure::default() };
    for (holder, numbers) in copies {
        for number in numbers.difference(&shown.all) {
            let is_own = matches!(number, NumberOf::Member(id) if Some(id) == holder.as_ref());
            if is_own {
                shown.own = true;
            } else {
                shown.some.insert(number.clone());
            }
        }
    }
    Some(shown)
}

/// Who was in the plan issued before, or had a copy by it, and is no more in this one.
fn left(plan: &Plan, before: &Before<'_>) -> Vec<Id> {
    let members = before.plan.into_iter().flat_map(|old| old.plan.members.ids().cloned());
    let copies = before.entered.papers.iter().flat_map(|paper| &paper.copies);
    let holders = copies.filter_map(|copy| Id::parse(&copy.holder).ok());
    let is_gone = |id: &Id| plan.members.named(id).is_none() && plan.places.named(id).is_none();
    let all: BTreeSet<Id> = members.chain(holders).filter(is_gone).collect();
    all.into_iter().collect()
}

/// What becomes of each set: of one whose papers are the same, nothing.
fn kits(now: &[PaperSet], before: Option<&Before<'_>>, papers: &[PaperTold]) -> Vec<KitTold> {
    let mut fates: BTreeMap<(&str, Option<&str>), Fate> = BTreeMap::new();
    for paper in papers {
        fates.insert((&paper.document, None), paper.fate);
        fates
            .extend(paper.copies.iter().map(|copy| ((paper.document.as_str(), Some(copy.holder.as_str())), copy.fate)));
    }
    // Papers that tell of an edition are others in each.
    let fate_of = |(document, holder): &PartKey| {
        fates.get(&(document.as_str(), holder.as_ref().map(Id::as_str))).copied().unwrap_or(Fate::Replace)
    };
    let entered = |kit: &Id| before?.entered.sets.iter().find(|set| set.kit == kit.as_str());
    let number = |kit: &Id, holder: Option<&Id>| -> Option<usize> {
        entered(kit)?
            .copies
            .iter()
            .find(|copy| Some(copy.holder.as_str()) == holder.map(Id::as_str))?
            .number
            .parse()
            .ok()
    };
    let old: &[PaperSet] = before.map_or(&[], |before| &before.sets);
    let mut kits: BTreeMap<&Id, KitTold> = BTreeMap::new();
    let by_holder = |sets: &'_ [PaperSet]| -> BTreeMap<(Id, Option<Id>), Vec<PartKey>> {
        sets.iter().map(|set| ((set.kit.clone(), set.holder.clone()), set.parts.clone())).collect()
    };
    let key = |set: &PaperSet| (set.kit.clone(), set.holder.clone());
    let (had, has) = (by_holder(old), by_holder(now));
    for set in now {
        let was = had.get(&key(set)).map(Vec::as_slice);
        // Without the plan of then, the papers of a set are taken for those of now.
        let is_known = before.is_some_and(|before| before.plan.is_some());
        let was_entered = || {
            entered(&set.kit)
                .is_some_and(|entered| entered.copies.is_empty() || number(&set.kit, set.holder.as_ref()).is_some())
        };
        let was = was.or_else(|| (!is_known && was_entered()).then_some(set.parts.as_slice()));
        let others = was.map(|was| {
            let is_other = |part: &&PartKey| fate_of(part) != Fate::Valid || !was.contains(part);
            let gone = was.iter().filter(|part| !set.parts.contains(part));
            let all: BTreeSet<String> =
                set.parts.iter().filter(is_other).chain(gone).map(|(document, _)| document.to_string()).collect();
            all.into_iter().collect::<Vec<String>>()
        });
        let fate = match &others {
            None => Fate::New,
            Some(others) if others.is_empty() => Fate::Valid,
            Some(_) => Fate::Replace,
        };
        let told = SetTold { number: set.number, holder: set.holder.clone(), fate, papers: others.unwrap_or_default() };
        let of = || KitTold { kit: set.kit.clone(), audience: set.audience.clone(), sets: Vec::new() };
        kits.entry(&set.kit).or_insert_with(of).sets.push(told);
    }
    for set in old.iter().filter(|set| !has.contains_key(&key(set))) {
        let number = number(&set.kit, set.holder.as_ref()).or(set.number);
        let told = SetTold { number, holder: set.holder.clone(), fate: Fate::TakeBack, papers: Vec::new() };
        let of = || KitTold { kit: set.kit.clone(), audience: set.audience.clone(), sets: Vec::new() };
        kits.entry(&set.kit).or_insert_with(of).sets.push(told);
    }
    kits.into_values().collect()
}

/// What differs on every panel between two editions, and is said once: their numbers, days and codes.
struct Ignored {
    pairs: Vec<[String; 2]>,
}

impl Ignored {
    fn of(plan: &Plan, old_plan: &Plan, [old, now]: [&PaperFile; 2]) -> Self {
        let mut pairs = Vec::new();
        if let (Some(was), Some(is)) = (&old_plan.edition, &plan.edition) {
            for word in ["edition", "DRAFT"] {
                pairs.push([format!("edition {}", was.number.value), format!("{word} {}", is.number.value)]);
            }
            let dates = |edition: &crate::plan::Edition| {
                format!("valid from {}, review by {}", edition.valid_from.value, edition.review_by.value)
            };
            pairs.push([dates(was), dates(is)]);
            pairs.push([dates(was), "DRAFT: not issued, so not valid".to_owned()]);
            pairs.push([was.issued.value.to_string(), is.issued.value.to_string()]);
        }
        let spelling = &crate::tables::Tables::built_in().spelling;
        let words = |code: &str| code.chars().map(|letter| spelling.word(letter)).collect::<Vec<_>>().join(" ");
        pairs.push([words(&old.paper.code), words(&now.paper.code)]);
        // On a front each letter stands before its word.
        let spelled = |code: &str| {
            code.chars().map(|letter| format!("{letter} {}", spelling.word(letter))).collect::<Vec<_>>().join(" ")
        };
        pairs.insert(0, [spelled(&old.paper.code), spelled(&now.paper.code)]);
        pairs.push([old.paper.code.clone(), now.paper.code.clone()]);
        Self { pairs }
    }

    /// Whether two texts differ in nothing else.
    fn is_all(&self, old: &str, new: &str) -> bool {
        let told = |text: &str, side: usize| {
            self.pairs.iter().fold(text.to_owned(), |text, pair| {
                pair.get(side).map_or_else(|| text.clone(), |words| text.replace(words.as_str(), "\u{1}"))
            })
        };
        told(old, 0) == told(new, 1)
    }
}

/// What to correct by hand on old panels so that they say what the new ones do.
fn corrections(old: &[PanelText], new: &[PanelText], ignored: &Ignored) -> Corrections {
    let places = |panel: &PanelText| panel.cells.iter().map(|cell| cell.place).collect::<Vec<_>>();
    let is_alike = |(old, new): (&PanelText, &PanelText)| {
        old.drawn == new.drawn && old.title == new.title && places(old) == places(new)
    };
    if old.len() != new.len() || !old.iter().zip(new).all(is_alike) {
        return Corrections::Moved;
    }
    let mut all = Vec::new();
    for (panel, (old, new)) in (1..).zip(old.iter().zip(new)) {
        for (was, is) in old.cells.iter().zip(&new.cells) {
            if was.words == is.words || ignored.is_all(&was.words, &is.words) {
                continue;
            }
            let (strike, write) = shortest(&was.words, &is.words);
            all.push(Correction { panel, place: old.place_of(was), strike, write });
        }
    }
    match all.len() {
        count if count > MOST_CORRECTIONS => Corrections::TooMany(count),
        _ => Corrections::These(all),
    }
}

impl PanelText {
    /// Where a cell stands: the number and name of its row, else the title of the panel.
    fn place_of(&self, cell: &CellText) -> String {
        let row = |place: &ReadPlace| place.cell.map(|cell| (cell.table, cell.row));
        let of_row = |role: Role| {
            let is_it = |other: &&CellText| {
                other.role == role && row(&other.place).is_some() && row(&other.place) == row(&cell.place)
            };
            self.cells.iter().find(is_it).map(|cell| cell.words.as_str())
        };
        match (of_row(Role::Number), of_row(Role::Name)) {
            (Some(number), Some(name)) => format!("no. {number} {name}"),
            (Some(number), None) => format!("no. {number}"),
            (None, Some(name)) => name.to_owned(),
            (None, None) => self.title.clone(),
        }
    }
}

/// The words of two texts that differ, with one word before or behind where nothing else would tell the place. Striking the first where
/// it stands first and writing the second there makes the one text the other.
pub(crate) fn shortest(old: &str, new: &str) -> (String, String) {
    let (was, is): (Vec<&str>, Vec<&str>) = (old.split(' ').collect(), new.split(' ').collect());
    let mut head = was.iter().zip(&is).take_while(|(one, other)| one == other).count();
    let most = was.len().min(is.len()) - head;
    let mut tail = was.iter().rev().zip(is.iter().rev()).take(most).take_while(|(one, other)| one == other).count();
    loop {
        let part = |words: &[&str]| words.get(head..words.len() - tail).unwrap_or_default().join(" ");
        let (strike, write) = (part(&was), part(&is));
        let is_clear = !strike.is_empty() && !write.is_empty() && old.replacen(&strike, &write, 1) == new;
        if is_clear || (head == 0 && tail == 0) {
            return (strike, write);
        }
        if head > 0 {
            head -= 1;
        } else {
            tail -= 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::shortest;

    #[test]
    fn what_is_struck_is_as_short_as_it_can_be_and_makes_the_new_text() {
        for (old, new, strike, write) in [
            ("146.3400", "146.3550", "146.3400", "146.3550"),
            ("Cold Ridge, 24 h, tone 103.5", "Cold Ridge, 24 h, tone 100.0", "103.5", "100.0"),
            ("1 of 2 and 1 of 3", "1 of 2 and 2 of 3", "and 1", "and 2"),
            ("hear it", "hear it now", "it", "it now"),
            ("a b", "b", "a b", "b"),
        ] {
            assert_eq!(shortest(old, new), (strike.to_owned(), write.to_owned()), "{old}");
            assert_eq!(old.replacen(strike, write, 1), new);
        }
    }
}
