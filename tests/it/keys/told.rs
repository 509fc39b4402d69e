//! What a plan comes to, and where two differ.

use crate::support::book::{Sheet, Typed, workbook};
use crate::support::shelf::Shelf;
use fieldsheaf::compose::block::{Block, Document, FieldBlock, Text};
use fieldsheaf::ground::{Files, Finding, Findings};
use fieldsheaf::{checks, compose, edition, plan, source};
use std::collections::{BTreeMap, BTreeSet};

const EXTRA: &str = "[[channel]]\nid = \"extra\"\nrow = 20\nname = \"EXTRA\"\nspoken = \"Extra One\"\n\
     simplex = \"147.420 MHz\"\nverified = { on = 2026-10-04, by = \"qra\" }\n";
const DEEP: &str = "[[channel]]\nid = \"deep\"\nrow = 21\nname = \"DEEP\"\nspoken = \"Deep One\"\n\
     simplex = \"147.450 MHz\"\nverified = { on = 2026-10-04, by = \"qra\" }\n";
const PEOPLE: &str = "Id,Name,Call,Other\nqrd,Petra Holub,WZ7QRD,Pat Doe\n";
const OTHERS: &str = "Id,Name,Call,Other\nqre,Hollis Grange,WZ7QRE,Pat Doe\n";
const BIRCH: &str = "Name,Sends,Other\nBirch Two,146.550 MHz,146.580 MHz\n";
const CEDAR: &str = "Name,Sends,Other\nCedar Two,146.940 MHz,146.580 MHz\n";

/// Rules that say that an id names nothing any more: for the key `id`, and for it alone, that is its use.
const NAMES_NOTHING: [&str; 2] = ["dangling-id", "unknown-form"];

/// The most characters that are shown of a difference.
const LONGEST: usize = 120;

/// What a plan comes to.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Told {
    /// Messages by rule, each with the records that it is about.
    pub findings: BTreeMap<&'static str, Vec<String>>,
    /// The lines of each document, by the place of its kind in the list of kinds and the name of its file.
    pub documents: BTreeMap<(usize, String), Vec<String>>,
    /// What is proposed for channels that want a frequency.
    pub allotted: Vec<String>,
    /// Whether a value was refused, or an id names nothing: then nothing is shown about what the key does.
    pub is_refused: bool,
}

/// Parted by either mark it has the headings, and another channel.
const LIST: &str = "Name;On;Row;Use;,Name,On,Row,Use\nList A;147.435 MHz;40;Talk;,List B,147.450 MHz,41,Talk\n";
/// As `LIST`, with the headings in either of two rows.
const TWICE: &str = "Name,On,Row,,,,Say,Say,To,Too\nOdd One,147.480 MHz,50,Name,On,Row,Say,Say,To,Too\nTwice A,147.465 MHz,51,Twice B,147.495 MHz,52,a,b,Red,Team\nSpare,,,,,,,,,\n";
/// A channel, and the title of those to come.
const TITLE: &str = "Name,On,Row\nList C,147.555 MHz,53\nSpare,,\n";

/// Two sheets of channels with repeaters of their own.
fn sheets(tone: f64) -> Vec<u8> {
    let sheet = |name: &'static str, channel: &str, tone: f64| {
        let text = |text: &str| Typed::Text(text.to_owned());
        let row = vec![
            text(channel),
            Typed::Number(147.36),
            Typed::Number(0.6),
            Typed::Number(tone),
            text("off"),
            text("WZ7QUT"),
            text("hill"),
            Typed::Number(45.0),
            text("2,5"),
            text("x"),
        ];
        let headings = vec!["Name", "Out", "In", "Tone", "Sends", "Call", "Place", "Row", "Far", "Bank"];
        Sheet { name, above: 1, headings, rows: vec![row] }
    };
    workbook(&[sheet("Other", "OTHER 1", tone), sheet("Wanted", "WANT 1", tone)])
}

/// A plan among the files that it names.
pub fn shelf(text: &str) -> Shelf {
    let files = [("extra.toml", EXTRA), ("deep.toml", DEEP), ("people.csv", PEOPLE), ("others.csv", OTHERS)];
    let files = files.into_iter().chain([("birch.csv", BIRCH), ("cedar.csv", CEDAR), ("plan.toml", text)]);
    let files = files.chain([("list.csv", LIST), ("twice.csv", TWICE), ("title.csv", TITLE)]);
    let shelf = files.fold(Shelf::new(), |shelf, (name, text)| shelf.with(name, text));
    shelf.with("list.xlsx", sheets(100.0)).with("tsil.xlsx", sheets(103.5))
}

/// Reads, checks and composes, up to the first document that says something else than in `base`; nothing is set or painted.
pub fn told(text: &str, base: Option<&Told>) -> Told {
    let world = shelf(text);
    let mut found = Findings::default();
    let mut records = source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = plan::build(&world, &mut records, &mut found);
    let profile = plan.profile.clone();
    let tasks = profile.as_ref().map(|profile| compose::tasks(&plan, profile, &mut found)).unwrap_or_default();
    let mut told = Told { is_refused: found.errors() > 0, ..Told::default() };
    if let Some(profile) = profile.as_ref().filter(|_| !plan.wishes.is_empty() && found.errors() == 0)
        && let checks::Allotment::Found { channels, .. } = checks::allot(&plan, profile)
    {
        let words = |one: &checks::Allotted| format!("{} {} of {}", one.name, one.frequency, one.open);
        told.allotted = channels.iter().map(words).collect();
    }
    let checked = checks::run(plan, profile, &records.files, &mut found);
    for finding in found.iter() {
        told.findings.entry(finding.rule.name).or_default().push(message(finding));
    }
    told.findings.values_mut().for_each(|messages| messages.sort());
    let Some(checked) = checked.filter(|_| found.errors() == 0) else { return told };
    // No finding on the check sheet: it prints lines of files, which move with whatever is changed.
    let (nothing, files) = (Findings::default(), Files::default());
    let frozen = compose::Frozen {
        findings: &nothing,
        files: &files,
        rules: &[],
        without_rows: &[],
        since: &compose::Since::default(),
    };
    for (at, (copy, task)) in in_order(&tasks) {
        let file = compose::file_stem(task, checked.plan());
        let lines = lines(&compose::document(&checked, &copy, Some(&frozen)), &file);
        let is_known = base.is_none_or(|base| base.documents.get(&at) == Some(&lines));
        told.documents.insert(at, lines);
        // Only the first difference is asked for.
        if !is_known {
            break;
        }
    }
    told
}

/// The copies of all documents, by the place of their kind in the list of kinds and the name of their file.
fn in_order(tasks: &[compose::Task]) -> BTreeMap<(usize, String), (compose::Task, &compose::Task)> {
    let place =
        |task: &compose::Task| compose::KINDS.iter().position(|kind| kind.name == task.shared_key().kind.name).unwrap();
    let copies = tasks.iter().flat_map(|task| task.copies().into_iter().map(move |copy| (copy, task)));
    copies.map(|(copy, task)| ((place(task), copy.stem()), (copy, task))).collect()
}

fn message(finding: &Finding) -> String {
    let on: Vec<String> = finding.on.iter().map(ToString::to_string).collect();
    let waived = finding.waived.as_ref();
    let waived = waived.map(|waived| format!(" (accepted by {} until {}: {})", waived.by, waived.until, waived.reason));
    format!("{}{} [{}]", finding.message, waived.unwrap_or_default(), on.join(", "))
}

/// What the document says, then how it is made.
fn lines(document: &Document, file: &str) -> Vec<String> {
    let canonical = edition::canonical(document, "").unwrap();
    let values = canonical.lines().filter_map(|line| Some(line.split_once('\t')?.1.to_owned()));
    let variant = document.variant.map(|variant| variant.to_string());
    let made = [
        document.foot.edition.words(),
        document.foot.validity.clone(),
        format!("layout {}", document.layout.value),
        format!("variant {}", variant.as_deref().unwrap_or("none")),
        format!("paper {}", document.paper),
        format!("copies {}", document.copies),
        format!("file {file}"),
    ];
    values.chain(document.once.iter().map(Text::words)).chain(made).chain(form(document)).collect()
}

/// How the lines of a form are made, which its canonical text does not tell: where pages begin, how high rows are, what sort of room
/// each field has.
fn form(document: &Document) -> Vec<String> {
    let blocks = document.sections.iter().flat_map(|section| &section.blocks);
    let lines = blocks.flat_map(|block| match block {
        Block::Form(form) => form.lines.as_slice(),
        _ => &[],
    });
    let field = |field: &FieldBlock| format!("{} {:?}", field.room.kind, field.room.least);
    lines
        .flat_map(|line| [format!("page {}", line.begins_page)].into_iter().chain(line.fields.iter().map(field)))
        .collect()
}

/// Where two differ, with both values: the first document that says something else; where none does, the first rule.
pub fn difference(one: &Told, other: &Told, is_id: bool) -> Option<String> {
    if other.is_refused {
        return is_id.then(|| rules_apart(one, other, |rule| NAMES_NOTHING.contains(&rule)))?;
    }
    // A plan with an error has no documents at all: then the rule is what shows the use.
    let printed = if other.documents.is_empty() { None } else { documents_apart(one, other) };
    let allotted =
        || (one.allotted != other.allotted).then(|| format!("allot: {}", apart(&one.allotted, &other.allotted)));
    printed.or_else(allotted).or_else(|| rules_apart(one, other, |_| true))
}

fn documents_apart(one: &Told, other: &Told) -> Option<String> {
    let all: BTreeSet<_> = one.documents.keys().chain(other.documents.keys()).collect();
    all.into_iter().find_map(|at| {
        let (kind, stem) = (compose::KINDS[at.0].name, &at.1);
        match (one.documents.get(at), other.documents.get(at)) {
            (Some(_), None) => Some(format!("{kind}: {stem} goes")),
            (None, Some(_)) => Some(format!("{kind}: {stem} comes")),
            (one, other) => (one != other).then(|| format!("{kind}: {}", apart(one.unwrap(), other.unwrap()))),
        }
    })
}

fn rules_apart(one: &Told, other: &Told, is_meant: impl Fn(&str) -> bool) -> Option<String> {
    let all: BTreeSet<&str> = one.findings.keys().chain(other.findings.keys()).copied().collect();
    let none = Vec::new();
    let of = |told: &Told, rule: &str| told.findings.get(rule).unwrap_or(&none).clone();
    all.into_iter().filter(|rule| is_meant(rule)).find_map(|rule| {
        let (before, after) = (of(one, rule), of(other, rule));
        (before != after).then(|| format!("{rule}: {}", apart(&before, &after)))
    })
}

/// The first two lines that differ, by the words in which they do.
fn apart(one: &[String], other: &[String]) -> String {
    let gone = one.iter().find(|line| !other.contains(line));
    let come = other.iter().find(|line| !one.contains(line));
    let at = one.iter().zip(other).position(|(a, b)| a != b);
    let (gone, come) = match (gone, come, at) {
        (None, None, Some(at)) => (&one[at], &other[at]),
        (None, None, None) => return format!("{} lines -> {} lines", one.len(), other.len()),
        (gone, come, _) => return trimmed(gone.map_or("", |line| line), come.map_or("", |line| line)),
    };
    trimmed(gone, come)
}

fn trimmed(one: &str, other: &str) -> String {
    let (a, b): (Vec<&str>, Vec<&str>) = (one.split(' ').collect(), other.split(' ').collect());
    let start = a.iter().zip(&b).take_while(|(x, y)| x == y).count();
    let end = a[start..].iter().rev().zip(b[start..].iter().rev()).take_while(|(x, y)| x == y).count();
    let words = |words: &[&str]| match words[start..words.len() - end].join(" ") {
        none if none.is_empty() => "nothing".to_owned(),
        some => format!("\"{}\"", some.chars().take(LONGEST).collect::<String>()),
    };
    format!("{} -> {}", words(&a), words(&b))
}
