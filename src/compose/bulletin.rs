//! What of a new edition is passed on the air: what anybody may know of its changes, and the codes of sheets.

use super::channel_words::set;
use super::since::{Fate, PaperTold, Since, is_open};
use super::spoken::{is_plain, spelled, spoken};
use crate::audience::View;
use crate::ground::{Audience, Day, Id, plural};
use crate::plan::{Change, Channel, Danger, WORDS_A_MINUTE};
use crate::tables::Spelling;
use std::collections::BTreeMap;

/// Most minutes for which a channel is kept busy with a bulletin: this program's own limit, no source.
pub const MOST_MINUTES: usize = 15;

/// Most words of one value that is read out; longer ones are read from the new sheet. This program's own limit, no source.
const MOST_WORDS: usize = 20;

/// What is passed of an edition.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Bulletin {
    /// The plan's short name.
    pub plan: String,
    /// The number and day of the edition that it makes.
    pub makes: (u32, Day),
    /// From which day on that one holds: until then the sheets before it do.
    pub valid_from: Day,
    /// Those of the edition that it changes; none where nothing was issued before.
    pub of: Option<(u32, Day)>,
    /// Whether the edition is not issued yet.
    pub is_draft: bool,
    /// What changed, the most dangerous first.
    pub lines: Vec<BulletinLine>,
    /// Codes of sheets, old and new.
    pub codes: Vec<BulletinCode>,
    /// The channels as the edition has them: what a radio is set to.
    pub channels: Vec<String>,
}

/// A line of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BulletinLine {
    /// As it is written down: `no. 1 CMD 1, send: was 146.3400 MHz, now 146.3550 MHz`.
    pub written: String,
    /// As it is read out.
    pub spoken: String,
}

/// A sheet whose code is another.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BulletinCode {
    /// The document, or several with one code.
    pub document: String,
    /// Its code before; none where it is new.
    pub old: Option<String>,
    /// Its code now; none where it is no more.
    pub new: Option<String>,
    /// As it is read out.
    pub spoken: String,
}

impl Bulletin {
    /// Its name on the air: plan and edition.
    #[must_use]
    pub fn serial(&self) -> String {
        format!("{} {}", self.plan, self.makes.0)
    }

    /// Words that are written down, by the count of radiograms: a group of figures is one (common practice, no source).
    #[must_use]
    pub fn words(&self) -> usize {
        let codes = self.codes.iter().map(|code| code.written());
        let lines = self.lines.iter().map(|line| line.written.clone()).chain(codes);
        lines.map(|line| line.split_whitespace().count() + 1).sum()
    }

    /// Minutes that it takes, each line read out and read back.
    #[must_use]
    pub fn minutes(&self) -> usize {
        (2 * self.words()).div_ceil(usize::from(WORDS_A_MINUTE))
    }

    /// Whether it is too large to be read out.
    #[must_use]
    pub fn is_too_large(&self) -> bool {
        self.minutes() > MOST_MINUTES
    }

    /// What changed, as sentences for lines of text.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let draft = if self.is_draft { "draft " } else { "" };
        let (number, day) = self.makes;
        let of = self.of.map_or_else(|| "none".to_owned(), |(number, _)| number.to_string());
        // Short, so that it stands on one line: it tells what all others are of.
        let mut all = vec![format!("{draft}bulletin {}: edition {of} to {number} of {day}", self.plan)];
        all.push(format!("it holds from {} on, until then the edition before it", self.valid_from));
        all.extend(self.lines.iter().map(|line| line.written.clone()));
        all.extend(self.codes.iter().map(BulletinCode::written));
        all
    }

    /// The channels, as sentences for lines of text.
    #[must_use]
    pub fn channel_sentences(&self) -> Vec<String> {
        let draft = if self.is_draft { "draft " } else { "" };
        let (number, day) = self.makes;
        let head = format!("{draft}channels {}: edition {number} of {day}", self.plan);
        std::iter::once(head).chain(self.channels.iter().cloned()).collect()
    }
}

impl BulletinCode {
    /// As it is written down.
    #[must_use]
    pub fn written(&self) -> String {
        match (&self.old, &self.new) {
            (Some(old), Some(new)) => format!("sheet {}: was {old}, now {new}", self.document),
            (Some(old), None) => format!("sheet {}: was {old}, no more", self.document),
            (None, new) => format!("sheet {}: new, {}", self.document, new.clone().unwrap_or_default()),
        }
    }
}

/// The bulletin of an edition, its codes those that a view's readers may know; none of a plan without head or edition. Whoever reads it
/// out is heard by all, so that its lines are those that anybody may know, whoever holds the sheet.
#[must_use]
pub fn bulletin(view: &View<'_>, since: &Since) -> Option<Bulletin> {
    let (head, edition) = (view.plan().head.as_ref()?, view.plan().edition.as_ref()?);
    Some(Bulletin {
        plan: head.short.to_string(),
        makes: (edition.number.value.get(), edition.issued.value),
        valid_from: edition.valid_from.value,
        of: since.before,
        is_draft: view.is_draft(),
        lines: lines(view, since),
        codes: codes(view, since),
        channels: channels(view),
    })
}

fn lines(view: &View<'_>, since: &Since) -> Vec<BulletinLine> {
    let spelling = &view.tables().spelling;
    let own = |words: String| BulletinLine { spoken: spoken(&words, spelling), written: words };
    let Some((number, _)) = since.before else {
        return vec![own("no edition was issued before this one: every sheet is new".to_owned())];
    };
    if !since.is_told {
        return vec![own(format!("the plan of edition {number} is not at hand: ask the coordinator"))];
    }
    let (open, closed): (Vec<&Change>, Vec<&Change>) =
        since.changes.iter().partition(|change| is_open(change, &Audience::Public));
    let mut lines: Vec<BulletinLine> = open.iter().map(|change| line(change, view, since)).collect();
    let closed: Vec<&Change> = closed.into_iter().filter(|change| change.is_news()).collect();
    if !closed.is_empty() {
        let further = if lines.is_empty() { "" } else { "beside these " };
        lines.push(own(format!("{further}{}, not for the air: ask the coordinator", plural(closed.len(), "change"))));
    }
    if lines.is_empty() {
        lines.push(own("nothing is another than before".to_owned()));
    }
    lines
}

fn line(change: &Change, view: &View<'_>, since: &Since) -> BulletinLine {
    let spelling = &view.tables().spelling;
    let subject = since.subject(change, view);
    let value = |value: &Option<String>| {
        value.as_deref().map_or_else(|| "not said".to_owned(), |value| plainly(value, &since.rows))
    };
    let (what, names) = match (change.key.as_deref(), change.danger) {
        (None, Danger::Removed) => (": no more".to_owned(), Vec::new()),
        (None, Danger::Renamed) => {
            (format!(": called {} in files, nothing else is another", value(&change.new)), Vec::new())
        }
        (None, _) => match since.words(change, view).new {
            words if words == "new" => (": new".to_owned(), vec![change.called.clone()]),
            words => (format!(": new, {words}"), vec![change.called.clone()]),
        },
        (Some(key), danger) => {
            let (old, new) = (value(&change.old), value(&change.new));
            let names = if danger == Danger::Renamed { vec![new.clone()] } else { Vec::new() };
            let new = if new.split_whitespace().count() > MOST_WORDS {
                "too long to read out: see the new sheet".to_owned()
            } else {
                new
            };
            let old = if old.split_whitespace().count() > MOST_WORDS { "other words".to_owned() } else { old };
            (format!(", {key}: was {old}, now {new}"), names)
        }
    };
    let written = format!("{subject}{what}");
    let mut said = with_capital(&(said_subject(change, &subject, view) + &spoken(&what, spelling)));
    // A name that is to be written must be written by all alike.
    let is_spelled = |name: &str| spelled(name, spelling).replace(',', "") == spoken(name, spelling).replace(',', "");
    let is_to_spell = |name: &&String| name.as_str() != "not said" && !is_spelled(name);
    for name in names.iter().filter(is_to_spell).filter(|name| change.danger == Danger::Renamed || !is_plain(name)) {
        said.push_str(&format!(". I spell {}", spelled(name, spelling)));
    }
    BulletinLine { written, spoken: said }
}

fn with_capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A channel by its number and its spoken name, all else by its name.
fn said_subject(change: &Change, subject: &str, view: &View<'_>) -> String {
    let spelling = &view.tables().spelling;
    let id = change.id.as_deref().filter(|_| change.kind == "channel").and_then(|id| Id::parse(id).ok());
    match id.and_then(|id| view.plan().channels.named(&id)) {
        Some(channel) => {
            let row = channel.row.as_ref().map_or_else(String::new, |row| format!("number {} ", row.value));
            spoken(&format!("{row}{}", channel.spoken.value), spelling)
        }
        None => spoken(subject, spelling),
    }
}

fn channels(view: &View<'_>) -> Vec<String> {
    let told = |channel: &Channel| {
        let row = channel.row.as_ref().map_or_else(String::new, |row| format!("no. {} ", row.value));
        format!("{row}{}: {}", channel.name.value, set(channel))
    };
    super::channel_words::in_order(view.plan()).into_iter().map(told).collect()
}

fn codes(view: &View<'_>, since: &Since) -> Vec<BulletinCode> {
    let spelling = &view.tables().spelling;
    // Who comes gets a new copy by hand: those of the others say what they said.
    let is_other = |paper: &&PaperTold| match paper.fate {
        Fate::Valid => false,
        Fate::New => paper.old.is_none(),
        Fate::TakeBack => paper.new.is_none(),
        Fate::Replace => paper.old != paper.new,
    };
    let changed = since.papers_for(view).into_iter().filter(is_other);
    // Sheets that say the same have one code, which is said once.
    let mut groups: Vec<(&PaperTold, Vec<String>)> = Vec::new();
    for paper in changed {
        let is_like =
            |other: &PaperTold| (&other.old, &other.new, &other.audience) == (&paper.old, &paper.new, &paper.audience);
        // Of copies of their own some may say what they said.
        let is_of_some = paper.copies.iter().any(|copy| copy.fate == Fate::Valid);
        let document = format!("{}{}", paper.document, if is_of_some { " of some holders" } else { "" });
        match groups.iter_mut().find(|(other, _)| is_like(other)) {
            Some((_, documents)) => documents.push(document),
            None => groups.push((paper, vec![document])),
        }
    }
    let code = |(paper, documents): (&PaperTold, Vec<String>)| {
        let document = documents.join(", ");
        let spoken = code_spoken(&document, [&paper.old, &paper.new], spelling);
        BulletinCode { document, old: paper.old.clone(), new: paper.new.clone(), spoken }
    };
    groups.into_iter().map(code).collect()
}

fn code_spoken(document: &str, [old, new]: [&Option<String>; 2], spelling: &Spelling) -> String {
    let said = |code: &Option<String>| code.as_ref().map(|code| spelled(code, spelling));
    let name = spoken(&document.replace('-', " "), spelling);
    match (said(old), said(new)) {
        (Some(old), Some(new)) => format!("Sheet {name}. Was {old}. Now {new}"),
        (Some(old), None) => format!("Sheet {name}. Was {old}. No more"),
        (None, new) => format!("Sheet {name}. New. {}", new.unwrap_or_default()),
    }
}

/// A value without the marks of its file; a channel's id by the number that it is called by.
fn plainly(value: &str, rows: &BTreeMap<String, String>) -> String {
    let bare = value.replace(['"', '[', ']', '{', '}'], "");
    let word = |word: &str| {
        let (own, mark) = word.split_at(word.trim_end_matches(',').len());
        rows.get(own).map_or_else(|| word.to_owned(), |row| format!("no. {row}{mark}"))
    };
    bare.split_whitespace().map(word).collect::<Vec<_>>().join(" ")
}
