//! What the plan at hand knows of editions that were issued: which papers another edition has otherwise.

use super::disk::DiskWorld;
use super::located;
use crate::compare::ReadPlan;
use crate::compose::KINDS;
use crate::ground::{Failure, Files, Findings};
use crate::ledger::{Editions, IssuedPaper, Manifest, PaperStanding, standing};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

/// What the plan at hand knows of editions that were issued.
pub(super) struct Issued {
    editions: Editions,
    is_sound: bool,
    /// The number of a plan that was issued and never entered.
    not_entered: Option<u32>,
}

impl Issued {
    pub(super) fn read(plan: &Path) -> Result<Self, Failure> {
        let (world, _) = DiskWorld::open(plan)?;
        let mut found = Findings::default();
        let editions = Editions::read(&world, &mut Files::default(), &mut found);
        let editions = editions.map_err(|failure| located(plan, &failure))?;
        let not_entered = editions.not_entered(&world, None);
        Ok(Self { editions, is_sound: found.errors() == 0, not_entered })
    }

    /// Why nothing counts that the file of editions says; none where it is whole.
    fn fault(&self) -> Option<String> {
        let cut = self.not_entered.map(|number| {
            format!("issued/{number}.toml is there, and editions.toml has no edition {number}: `check` says what to do")
        });
        let is_changed =
            || "editions.toml is not as it was written: `check` says where, and nothing of it counts".to_owned();
        (!self.is_sound).then(is_changed).or(cut)
    }

    /// Which paper of which edition has a text with this hash, and whether the last edition has it still; else that of its code.
    pub(super) fn of_text(&self, hash: &str, code: &str) -> (String, bool) {
        if let Some(fault) = self.fault() {
            return (fault, false);
        }
        let none = BTreeMap::new();
        let whole = IssuedPaper::new((String::new(), String::new()), String::new(), hash, &none).content;
        let is_it = |paper: &IssuedPaper| {
            paper.content == whole || paper.copies.iter().any(|copy| copy.content.as_deref() == Some(hash))
        };
        let has_code = |paper: &IssuedPaper| paper.code == code;
        let found = |wanted: &dyn Fn(&IssuedPaper) -> bool| {
            let editions = self.editions.issued.iter().rev();
            let mut papers = editions.flat_map(|edition| edition.papers.iter().map(move |paper| (edition, paper)));
            papers.find(|(_, paper)| wanted(paper))
        };
        let last = self.editions.issued.last().map(|last| last.number.value);
        let Some((edition, paper)) = found(&is_it).or_else(|| found(&has_code)) else {
            return ("no edition that was issued has this text".to_owned(), false);
        };
        let copy = paper.copies.iter().find(|copy| copy.content.as_deref() == Some(hash));
        let whose = copy.map_or_else(String::new, |copy| format!(", copy {} of {}", copy.number, copy.holder));
        let (number, document) = (edition.number.value, paper.document());
        match last.filter(|last| *last != number) {
            None => (format!("it is {document}{whose} of edition {number}, the last that was issued"), true),
            Some(last) => (
                format!("superseded: it is {document}{whose} of edition {number}, and edition {last} has another"),
                false,
            ),
        }
    }

    /// Which papers the last edition issued has otherwise, and whether all are valid.
    pub(super) fn tell(
        &self,
        (manifest, plan): (&Manifest, &ReadPlan),
        is_asked: &dyn Fn(&str) -> bool,
    ) -> (String, bool) {
        if let Some(fault) = self.fault() {
            return (format!("{fault}\n"), false);
        }
        if plan.edition.0 != manifest.plan {
            return (format!("this folder is of {}, and the plan is {}\n", manifest.plan, plan.edition.0), false);
        }
        let is_paper = |kind: &str| !KINDS.iter().any(|known| known.name == kind && known.is_last());
        let mut text = String::new();
        for (file, standing) in standing(manifest, &self.editions, is_paper) {
            let words = match standing {
                _ if !is_asked(&format!("{file}.pdf")) => continue,
                PaperStanding::Valid => continue,
                PaperStanding::Superseded(number, code) => format!("edition {number} has {code}"),
                PaperStanding::Withdrawn(number) => format!("edition {number} has none"),
                PaperStanding::Holds(part) => format!("a set, of which {part} is superseded"),
            };
            let _ = writeln!(text, "superseded  {file}.pdf: {words}");
        }
        let is_valid = text.is_empty();
        (text, is_valid)
    }
}
