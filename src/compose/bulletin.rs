//! What is passed on the air of a new edition: what is sent is public, so it is made of the public view alone.

use super::channel_words::{in_order, row_number};
use super::since::{ChangeWords, Fate, Since};
use crate::audience::View;
use crate::ground::Audience;
use crate::plan::as_set;

/// What is passed of an edition.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Bulletin {
    /// The plan's short name.
    pub plan: String,
    /// The number of the edition that the changes are made to; none where the whole list is passed.
    pub from: Option<u32>,
    /// The number of the edition that they make.
    pub to: u32,
    /// Line for line.
    pub lines: Vec<Statement>,
    /// How many changes are not passed on the air.
    pub beside: usize,
    /// Old and new codes by paper.
    pub codes: Vec<(String, String, String)>,
}

/// One line.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Statement {
    /// What it is about: `no. 1 CMD 1`.
    pub subject: String,
    /// What is another: `send tone`.
    pub fact: String,
    /// What it was; none where there is nothing to strike.
    pub old: Option<String>,
    /// What it is.
    pub new: String,
}

/// Kinds that people compare by voice and that show no private number: their codes are passed.
const WITH_CODES: [&str; 4] = ["channel-card", "channel-plan", "frequency-chart", "channel-symbols"];

/// The bulletin of the changes since the edition before. None where there is no such edition, or its plan is not at hand.
#[must_use]
pub fn bulletin(view: &View<'_>, since: &Since) -> Option<Bulletin> {
    let (from, _) = since.before.filter(|_| since.is_told)?;
    let (plan, to) = head(view)?;
    let (told, beside) = since.changes_for(view);
    let line = |change| {
        let ChangeWords { fact, old, new } = since.words(change, view);
        Statement { subject: since.subject(change, view), fact, old: Some(old), new }
    };
    let is_read = |audience: &Audience| matches!(audience, Audience::Public | Audience::Team);
    let codes = since.papers.iter().filter(|paper| paper.fate == Fate::Replace && is_read(&paper.audience));
    let codes = codes.filter(|paper| WITH_CODES.contains(&paper.kind.as_str()));
    let codes = codes.filter_map(|paper| Some((paper.document.clone(), paper.old.clone()?, paper.new.clone()?)));
    let lines = told.into_iter().map(line).collect();
    Some(Bulletin { plan, from: Some(from), to, lines, beside, codes: codes.collect() })
}

/// The whole list of channels, for those who hold no edition.
#[must_use]
pub fn channel_list(view: &View<'_>) -> Option<Bulletin> {
    let (plan, to) = head(view)?;
    let line = |channel: &crate::plan::Channel| {
        let row = row_number(channel);
        let set = as_set(channel).into_iter().filter_map(|(key, _, value)| Some(format!("{key} {}", value?)));
        Statement {
            subject: format!("{}{}", if row.is_empty() { row } else { format!("no. {row} ") }, channel.name.value),
            fact: "set".to_owned(),
            old: None,
            new: set.collect::<Vec<_>>().join(", "),
        }
    };
    let lines = in_order(view.plan()).into_iter().map(line).collect();
    Some(Bulletin { plan, from: None, to, lines, beside: 0, codes: Vec::new() })
}

fn head(view: &View<'_>) -> Option<(String, u32)> {
    let plan = view.plan();
    Some((plan.head.as_ref()?.short.to_string(), plan.edition.as_ref()?.number.value.get()))
}
