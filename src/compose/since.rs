//! What an edition is beside the one issued before it: what changed, and what becomes of each paper and each copy.
//!
//! All of it is known to the run; a sheet asks for what its readers may know, and gets no more.

use super::channel_words::set;
use crate::audience::{Holder, View};
use crate::formats::Duplex;
use crate::ground::{Audience, Day, Id};
use crate::plan::{Change, Danger};
use std::collections::{BTreeMap, BTreeSet};

/// What an edition is beside the one issued before it.
#[derive(Clone, Debug, Default)]
pub struct Since {
    /// Number and day of the last edition issued with a lower number; none where nothing was.
    pub before: Option<(u32, Day)>,
    /// Whether that edition's plan is at hand, so that changes can be told.
    pub is_told: bool,
    /// All changes since, the most dangerous first.
    pub changes: Vec<Change>,
    /// The rows of channels by id, those that are no more as they were.
    pub rows: BTreeMap<String, String>,
    /// The call signs of members by id, those that left as they were.
    pub calls: BTreeMap<String, String>,
    /// The tactical calls of places by id, those that are no more as they were.
    pub places: BTreeMap<String, String>,
    /// Who held copies or sets of the edition before, and is no more in the plan.
    pub left: Vec<Id>,
    /// What becomes of each paper, by document.
    pub papers: Vec<PaperTold>,
    /// What becomes of the sets of each kit.
    pub kits: Vec<KitTold>,
    /// How each file is printed, by name.
    pub prints: Vec<PrintTold>,
    /// The papers of each set, by its kit and holder; those that all sets of a kit have in common under no holder.
    pub sets: BTreeMap<(Id, Option<Id>), Vec<SetPaper>>,
}

/// A paper of a set.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SetPaper {
    /// The document's id.
    pub document: Id,
    /// What it is called.
    pub title: String,
    /// Who may read it.
    pub audience: Audience,
    /// Its code.
    pub code: String,
    /// The code of this copy alone; none where it is nobody's own.
    pub own: Option<String>,
    /// The page of the set's file on which it begins, from 1; none where that is each set's own.
    pub page: Option<usize>,
    /// Its pages; none where that is each set's own.
    pub pages: Option<usize>,
}

/// The sets of a kit, before and now.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct KitTold {
    /// The kit's id.
    pub kit: Id,
    /// Who may read its sets.
    pub audience: Audience,
    /// Its sets, by their numbers.
    pub sets: Vec<SetTold>,
}

/// A set, before and now.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SetTold {
    /// Its number among those of its kit; none where there is one.
    pub number: Option<usize>,
    /// Whose it is; none where there is one.
    pub holder: Option<Id>,
    /// What becomes of it.
    pub fate: Fate,
    /// The documents of it that are others than before, come or go.
    pub papers: Vec<String>,
}

/// Whose private number or address a paper shows.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum NumberOf {
    /// A member's.
    Member(Id),
    /// That of a place's contact, by the place and which of its contacts, from 0.
    Contact(Id, usize),
}

/// What the copies of a document show of private numbers and addresses.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Exposure {
    /// On every copy.
    pub all: BTreeSet<NumberOf>,
    /// Whether copies show their holder's own beside.
    pub own: bool,
    /// On some copies.
    pub some: BTreeSet<NumberOf>,
}

impl Exposure {
    /// Whether nobody's number is on any copy.
    #[must_use]
    pub fn is_none(&self) -> bool {
        self.all.is_empty() && self.some.is_empty() && !self.own
    }
}

/// What a change says.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ChangeWords {
    /// What is another: `send tone`.
    pub fact: String,
    /// What it was.
    pub old: String,
    /// What it is.
    pub new: String,
}

/// What becomes of a paper or a copy.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Fate {
    /// An old one is to be replaced.
    Replace,
    /// There was none.
    New,
    /// There is no new one.
    TakeBack,
    /// It says the same as the old one.
    Valid,
}

/// A document, before and now.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PaperTold {
    /// The document's id; of one that is no more, the name of its file.
    pub document: String,
    /// Its kind, as plans write it; empty of one that is no more.
    pub kind: String,
    /// Who may read it.
    pub audience: Audience,
    /// Its code before.
    pub old: Option<String>,
    /// Its code now.
    pub new: Option<String>,
    /// What becomes of it as a whole.
    pub fate: Fate,
    /// Its copies that have holders, by their numbers.
    pub copies: Vec<CopyTold>,
    /// What to correct by hand on the old one; none where that cannot be told.
    pub corrections: Option<Corrections>,
    /// What the one issued before shows; none where there was none, or its plan is not at hand.
    pub showed: Option<Exposure>,
    /// What the one of now shows; none where it is no more.
    pub shows: Option<Exposure>,
}

/// One holder's copy of a document.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CopyTold {
    /// Its number in its edition: holders count by their ids. That of a copy to be taken back is of the edition before.
    pub number: usize,
    /// Whose it is.
    pub holder: Id,
    /// The code of this copy alone, now, or before where it is no more.
    pub own: String,
    /// The code that the holder's old copy has; none where there was none.
    pub was: Option<String>,
    /// What becomes of it.
    pub fate: Fate,
}

/// What to correct by hand on an old sheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Corrections {
    /// These, in reading order; then the sheet says what the new one does.
    These(Vec<Correction>),
    /// So many that it is safer to give out the new sheet.
    TooMany(usize),
    /// Lines come or go, so that what follows stands elsewhere.
    Moved,
}

/// Most corrections by hand on one document: this program's own limit, no source. Each is a chance to write a wrong figure.
pub const MOST_CORRECTIONS: usize = 12;

/// One correction by hand.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Correction {
    /// Counted from 1.
    pub panel: usize,
    /// Where on it: `no. 7 CMD 1`; its title where there is nothing closer.
    pub place: String,
    /// What to strike; empty where something is to be added.
    pub strike: String,
    /// What to write; empty where nothing is.
    pub write: String,
}

/// How a file is printed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PrintTold {
    /// Its name with its ending.
    pub file: String,
    /// The document's id.
    pub document: String,
    /// The name of its paper.
    pub paper: String,
    /// Its pages.
    pub pages: usize,
    /// How to turn the sheet.
    pub duplex: Duplex,
    /// The word for its format: `fold-8`.
    pub format: &'static str,
    /// How many holders' copies stand in it; none where it is nobody's own.
    pub copies: usize,
}

/// Kinds of records that stand on anybody's copies, of which names and what is set are told to anybody.
const OPEN: [&str; 10] = ["channel", "repeater", "gateway", "link", "network", "net", "place", "post", "radio", "form"];

/// Keys of them that may name a person: told to those who lead alone.
const MAY_NAME: [(&str, &str); 2] = [("place", "transmit"), ("net", "control")];

/// Kinds that are told to those who lead.
const OF_LEADS: [&str; 3] = ["member", "duty", "agreement"];

impl Since {
    /// The changes that a view's readers may know, the most dangerous first, and how many there are beside that would be news to them.
    #[must_use]
    pub fn changes_for(&self, view: &View<'_>) -> (Vec<&Change>, usize) {
        let told: Vec<&Change> = self.changes.iter().filter(|change| is_open(change, view.audience())).collect();
        let is_beside = |change: &&Change| change.is_news() && !is_open(change, view.audience());
        let beside = self.changes.iter().filter(is_beside).count();
        (told, beside)
    }

    /// The papers that a view's readers may read: of others they learn neither name nor code.
    #[must_use]
    pub fn papers_for(&self, view: &View<'_>) -> Vec<&PaperTold> {
        self.papers.iter().filter(|paper| view.audience().may_read(&paper.audience)).collect()
    }

    /// The kits whose sets a view's readers may read.
    #[must_use]
    pub fn kits_for(&self, view: &View<'_>) -> Vec<&KitTold> {
        self.kits.iter().filter(|kit| view.audience().may_read(&kit.audience)).collect()
    }

    /// The papers of a kit's set that a view's readers may read: its holder's, or what all sets have in common.
    #[must_use]
    pub fn set_of(&self, kit: &Id, view: &View<'_>) -> Vec<SetPaper> {
        let key = (kit.clone(), view.holder().map(|holder| holder.id().clone()));
        let papers = self.sets.get(&key).into_iter().flatten();
        papers.filter(|paper| view.audience().may_read(&paper.audience)).cloned().collect()
    }

    /// All papers that a view's holder may have: those of everybody, and their own.
    #[must_use]
    pub fn papers_in_hand(&self, view: &View<'_>) -> Vec<SetPaper> {
        let holder = view.holder();
        let holder = holder.as_ref().map(Holder::id);
        let paper = |paper: &PaperTold| {
            let own = paper.copies.iter().find(|copy| Some(&copy.holder) == holder).map(|copy| copy.own.clone());
            let is_had = paper.copies.is_empty() || own.is_some() || holder.is_none();
            let title = paper.kind.replace('-', " ");
            let (document, code) = (Id::parse(&paper.document).ok()?, paper.new.clone()?);
            let audience = paper.audience.clone();
            is_had.then_some(SetPaper { document, title, audience, code, own, page: None, pages: None })
        };
        self.papers_for(view).into_iter().filter_map(paper).collect()
    }

    /// What a change says.
    #[must_use]
    pub fn words(&self, change: &Change, view: &View<'_>) -> ChangeWords {
        let side = |value: &Option<String>, none: &str| value.clone().unwrap_or_else(|| none.to_owned());
        let (fact, old, new) = match (&change.key, change.danger) {
            (None, Danger::Removed) => ("all of it", "there".to_owned(), "no more".to_owned()),
            (None, Danger::Renamed) => ("id", side(&change.old, "none"), side(&change.new, "none")),
            (None, _) if change.old.is_some() && change.new.is_none() => {
                ("all of it", side(&change.old, "there"), "no more".to_owned())
            }
            (None, _) => ("all of it", "not there".to_owned(), added(change, view)),
            (Some(key), _) => (key.as_str(), side(&change.old, "not said"), side(&change.new, "not said")),
        };
        ChangeWords { fact: fact.to_owned(), old, new }
    }

    /// What a change is about, as its readers know it: `no. 1 CMD 1`, `repeater Cold Ridge`; a member by the call sign, since the name
    /// may be closed.
    #[must_use]
    pub fn subject(&self, change: &Change, view: &View<'_>) -> String {
        let id = change.id.clone().unwrap_or_default();
        match change.kind.as_str() {
            "channel" => match self.rows.get(&id) {
                Some(row) => format!("no. {row} {}", change.called),
                None => change.called.clone(),
            },
            "member" if *view.audience() != Audience::Coordinator => {
                self.calls.get(&id).cloned().unwrap_or_else(|| "a member without a call sign".to_owned())
            }
            "duty" => change.called.clone(),
            kind if id == kind || change.id.is_none() => kind.to_owned(),
            kind => format!("{kind} {}", change.called),
        }
    }
}

/// What a new record is: of a channel, how a radio is set.
fn added(change: &Change, view: &View<'_>) -> String {
    let id = change.id.as_deref().and_then(|id| Id::parse(id).ok());
    let plan = view.plan();
    let words = match (change.kind.as_str(), id) {
        ("channel", Some(id)) => plan.channels.named(&id).map(set),
        ("place", Some(id)) => plan
            .places
            .named(&id)
            .map(|place| format!("tactical call {}, code {}", place.tactical.value, place.code.value)),
        ("member", Some(id)) => {
            plan.members.named(&id).and_then(|member| Some(format!("call {}", member.call.as_ref()?.value)))
        }
        ("duty", _) => change.new.clone(),
        _ => None,
    };
    words.unwrap_or_else(|| "new".to_owned())
}

/// Whether these readers may know of a change. What nobody may know but the coordinator includes all that is not named here.
pub(super) fn is_open(change: &Change, reader: &Audience) -> bool {
    let (kind, key) = (change.kind.as_str(), change.key.as_deref());
    let is_set = !matches!(change.danger, Danger::Contact | Danger::Text);
    let leads = reader.may_read(&Audience::Leads);
    let may_name = key.is_some_and(|key| MAY_NAME.contains(&(kind, key)));
    *reader == Audience::Coordinator
        || (is_set && OPEN.contains(&kind) && (leads || !may_name))
        || (is_set && leads && OF_LEADS.contains(&kind))
}
