//! Every document kind of the program as an order, and the county to make it of: a new kind is under each test that asks here.

use super::shelf::Shelf;
use fieldsheaf::compose::{
    Compose, CopyTold, Correction, Corrections, Exposure, Fate, KINDS, Kind, KitTold, NumberOf, PaperTold, PrintTold,
    SetTold, Since,
};
use fieldsheaf::formats::Duplex;
use fieldsheaf::ground::{At, Audience, Day, Files, Findings, Id, Span};
use fieldsheaf::plan::{Change, Danger};
use fieldsheaf::typeset::find_layout as find;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// An order for a kind, for the widest readers it can be made for where these are too wide; `more` stands behind it.
pub fn order(kind: &Kind, id: &str, audience: &str, more: &str) -> String {
    let widest = kind.widest.to_string();
    let is_open = Audience::parse(audience).unwrap().may_read(&kind.widest);
    let audience = if is_open { audience } else { &widest };
    let form = if matches!(kind.compose, Compose::Form(_)) { "form = \"message\"\n" } else { "" };
    format!("[[document]]\nid = \"{id}\"\nkind = \"{}\"\naudience = \"{audience}\"\n{form}{more}\n", kind.name)
}

/// An order for each kind, on the layout that it usually takes. Its id is that of its kind behind `every-`.
pub fn orders(audience: &str, more: &str) -> String {
    KINDS.iter().map(|kind| order(kind, &format!("every-{}", kind.name), audience, more)).collect()
}

/// What kinds that tell of an edition are told: one of each sort, and a number that is the coordinator's alone.
pub fn since() -> Since {
    let change = |danger, kind: &str, id: &str, key: Option<&str>, [old, new]: [Option<&str>; 2]| Change {
        danger,
        kind: kind.to_owned(),
        id: Some(id.to_owned()),
        called: id.to_owned(),
        key: key.map(str::to_owned),
        old: old.map(str::to_owned),
        new: new.map(str::to_owned),
    };
    let copy = |number, holder, fate| CopyTold {
        number,
        holder: Id::parse(holder).unwrap(),
        own: "KTXR".to_owned(),
        was: Some("TCLR".to_owned()),
        fate,
    };
    let paper = |document: &str, audience, fate, copies| PaperTold {
        document: document.to_owned(),
        kind: "channel-card".to_owned(),
        audience,
        old: Some("TCLR".to_owned()),
        new: Some("KXHL".to_owned()),
        fate,
        copies,
        corrections: Some(Corrections::These(vec![Correction {
            panel: 2,
            place: "no. 1 CMD 1".to_owned(),
            strike: "103.5".to_owned(),
            write: "100.0".to_owned(),
        }])),
        showed: Some(Exposure {
            all: [NumberOf::Member(Id::parse("qrg").unwrap())].into(),
            own: true,
            some: BTreeSet::new(),
        }),
        shows: Some(Exposure::default()),
    };
    Since {
        before: Some((6, Day::parse("2026-06-01").unwrap())),
        is_told: true,
        changes: vec![
            change(Danger::Sent, "channel", "cmd", Some("send tone"), [Some("103.5 Hz"), Some("100.0 Hz")]),
            change(Danger::Removed, "net", "old-net", None, [Some("Old net"), None]),
            change(Danger::Contact, "member", "qrg", Some("phone"), [Some("+1 406 555 0110"), Some("+1 406 555 0198")]),
        ],
        rows: [("cmd".to_owned(), "1".to_owned())].into(),
        calls: [("qrg".to_owned(), "WZ7QRG".to_owned())].into(),
        papers: vec![
            paper("card", Audience::Public, Fate::Replace, Vec::new()),
            paper(
                "my-card",
                Audience::Team,
                Fate::Replace,
                vec![copy(1, "qra", Fate::Replace), copy(2, "qrc", Fate::Valid)],
            ),
            paper("log", Audience::Public, Fate::Valid, Vec::new()),
        ],
        places: [("old-site".to_owned(), "Old Site".to_owned())].into(),
        left: vec![Id::parse("qrg").unwrap()],
        kits: vec![KitTold {
            kit: Id::parse("bag").unwrap(),
            audience: Audience::Team,
            sets: vec![SetTold {
                number: Some(1),
                holder: Some(Id::parse("qra").unwrap()),
                fate: Fate::Replace,
                papers: vec!["my-card".to_owned()],
            }],
        }],
        prints: vec![PrintTold {
            file: "card.pdf".to_owned(),
            document: "card".to_owned(),
            paper: "letter".to_owned(),
            pages: 2,
            duplex: Duplex::LongEdge,
            format: "fold-8",
            copies: 0,
        }],
        sets: BTreeMap::new(),
    }
}

/// Whether a layout that comes with the program lets figures be smaller.
pub fn is_dense(layout: &str) -> bool {
    let asked = At::new(layout.to_owned(), Span::NOWHERE);
    find(&asked, &Shelf::new(), &mut Files::default(), &mut Findings::default()).unwrap().is_dense
}

/// An exercise for the kinds that are made of one.
const EXERCISE: &str = r#"
[[exercise]]
name = "Long night"
from = "2027-01-16 08:00"
to = "2027-01-16 12:00"
real-emergency = "this is real, this is real"
scope = "All nets"
rules = ["Open an envelope at its minute."]
safety = ["Stop for real traffic."]
controllers = ["qra"]

[[objective]]
id = "relay"
name = "Relay a message without a wrong word"
measure = "Count equals check"

[[message]]
id = "beds"
number = 1
precedence = "EXERCISE Routine"
handling = ["HXC"]
station-of-origin = "WZ7QRA"
check = 6
place-of-origin = "Alder Falls"
time-filed = "1500Z"
date = "JAN 16"
to = ["Duty officer", "Operations"]
text = "TWELVE BEDS FREE X SEND WATER"
signature = "Ines Varga"

[[inject]]
serial = "1"
at = "2027-01-16 09:00"
deliver-at = "alder"
to = "House supervisor"
by = "paper"
net = "medical"
text = "Water stands in the basement."
expected = "Alder asks for pumps."
objective = "relay"

[[inject]]
serial = "2"
at = "2027-01-16 10:00"
deliver-at = "willow"
to = "House supervisor"
by = "in person"
net = "medical"
message = "beds"
"#;

/// An exercise of a place of its own, for a plan of which nothing is known but its head.
const SMALL_EXERCISE: &str = r#"
[[exercise]]
name = "Long night"
from = "2026-12-05 08:00"
to = "2026-12-05 12:00"
real-emergency = "this is real, this is real"

[[objective]]
id = "relay"
name = "Relay a message without a wrong word"

[[place]]
id = "gym"
code = "GYM"
tactical = "Gymnasium"
kind = "shelter"
visited-on = 2026-10-01

[[inject]]
serial = "1"
at = "2026-12-05 09:00"
deliver-at = "gym"
to = "House supervisor"
by = "paper"
text = "Water stands in the basement, and nobody has the key to the pump room."
expected = "The shelter asks for pumps."
objective = "relay"

[[inject]]
serial = "2"
at = "2026-12-05 10:00"
deliver-at = "gym"
to = "Site manager"
by = "in person"
text = "Twelve beds free."
expected = "Counted and sent."
"#;

/// What a kind is made of that a plan in earnest has none of.
pub fn made_of(kind: &Kind) -> &'static str {
    if matches!(kind.compose, Compose::Exercise(_)) { SMALL_EXERCISE } else { "" }
}

/// What these orders are made of beside the county.
fn exercise_for(documents: &str) -> &'static str {
    let is_of_one = |kind: &&Kind| matches!(kind.compose, Compose::Exercise(_));
    let is_asked = |kind: &Kind| documents.contains(&format!("kind = \"{}\"", kind.name));
    if KINDS.iter().copied().filter(|kind| is_of_one(kind)).any(is_asked) { EXERCISE } else { "" }
}

/// The county with further records behind its own.
pub fn county(more: &str) -> Shelf {
    let shelf = gathered(&Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river"), "", Shelf::new());
    let own = text("documents.toml");
    shelf.with("documents.toml", format!("{own}\n{more}{}", exercise_for(more)))
}

/// The county with these documents in place of its own.
pub fn county_of(documents: &str) -> Shelf {
    county("").with("documents.toml", format!("{documents}{}", exercise_for(documents)))
}

fn text(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river").join(name);
    String::from_utf8(bytes(&path)).unwrap()
}

#[expect(clippy::disallowed_methods, reason = "a test reads what it is about")]
fn bytes(path: &Path) -> Vec<u8> {
    std::fs::read(path).unwrap()
}

fn gathered(folder: &Path, before: &str, shelf: Shelf) -> Shelf {
    std::fs::read_dir(folder).unwrap().map(Result::unwrap).fold(shelf, |shelf, entry| {
        let name = format!("{before}{}", entry.file_name().to_str().unwrap());
        if entry.file_type().unwrap().is_dir() {
            return gathered(&entry.path(), &format!("{name}/"), shelf);
        }
        shelf.with(&name, bytes(&entry.path()))
    })
}
