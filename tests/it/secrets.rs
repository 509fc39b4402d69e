//! Audiences hold to the byte: plans with a secret of its own in every private field, every kind of document for every audience, and
//! everything that a finished file holds: streams inflated, letters told by their fonts, attachments, symbols, names, the manifest.

use crate::support::every::order;
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compose::{Compose, KINDS, Kind};
use fieldsheaf::ground::Audience;
use fieldsheaf::ledger::Manifest;
use fieldsheaf::plan::Each;
use fieldsheaf::sheet::{Job, Mark};
use fieldsheaf::{Wanted, build, jobs};
use lopdf::{Dictionary, Document, Object, ObjectId};
use proptest::prelude::{Strategy, any};
use proptest::strategy::ValueTree;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

const READERS: [&str; 6] = ["public", "team", "leads", "coordinator", "agency/mercy", "agency/odo"];

/// Something that stands in one place of a plan alone, with those for whom it is marked: one of them must be open to a reader.
#[derive(Clone, Debug)]
struct Secret {
    words: String,
    marks: Vec<&'static str>,
    /// Whether the coordinator's sheets show it: of two numbers of a member they show the first.
    is_first: bool,
}

impl Secret {
    fn is_open_to(&self, reader: &Audience) -> bool {
        self.marks.iter().any(|mark| reader.may_read(&Audience::parse(mark).unwrap()))
    }

    /// Without the spaces: who sets a text may part it there.
    fn bare(&self) -> String {
        self.words.replace(' ', "")
    }
}

/// A plan with a secret in every private field, and what the secrets are.
#[derive(Clone, Debug)]
struct Planted {
    plan: String,
    secrets: Vec<Secret>,
}

/// Letters that make a name nobody else has.
fn name(seed: u32) -> String {
    let letter = |place: u32| char::from(b'a' + u8::try_from(seed / 26_u32.pow(place) % 26).unwrap());
    format!("Q{}{}{}xq", letter(0), letter(1), letter(2))
}

fn planted() -> impl Strategy<Value = Planted> {
    let marks = proptest::collection::vec(0..READERS.len(), 32);
    (marks, 1..4_usize, 1..3_usize, any::<bool>(), 0..17_000_u32).prop_map(|(marks, members, places, has_role, seed)| {
        let mut mark = marks.into_iter().cycle().map(|mark| READERS[mark]);
        let mut mark = || mark.next().unwrap();
        let (mut plan, mut secrets, mut count) = (HEAD.to_owned(), Vec::new(), 0_u32);
        plan += "[incident]\nname = \"Ice storm\"\nfrom = \"2027-01-16 06:00\"\nto = \"2027-01-17 18:00\"\n";
        plan += "[[channel]]\nid = \"one\"\nrow = 1\nname = \"ONE\"\nspoken = \"One\"\nsimplex = \"146.5500 MHz\"\nverified = { on = 2026-10-01, by = \"qra\" }\n";
        plan += "[[net]]\nid = \"command\"\nname = \"Command\"\nspoken = \"Command\"\nprimary = \"one\"\ncontrol = \"desk\"\n";
        let mut number = || {
            count += 1;
            format!("+1 406 555 01{count:02}")
        };
        for index in 0..members {
            let at = seed + u32::try_from(index).unwrap();
            let (named, phone, other, mail) = (name(at), number(), number(), format!("{}@example.org", name(at).to_lowercase()));
            let [of_name, of_phone, of_other, of_mail] = [mark(), mark(), mark(), mark()];
            let role = if has_role { "role = [\"Net control\"]\n" } else { "" };
            writeln!(
                plan,
                "[[member]]\nid = \"m{index}\"\nname = \"{named}\"\nname-audience = \"{of_name}\"\n{role}email = \"{mail}\"\nemail-audience = \"{of_mail}\"\nconfirmed = 2026-10-01\nphone = [{{ number = \"{phone}\", audience = \"{of_phone}\" }}, {{ number = \"{other}\", audience = \"{of_other}\" }}]"
            )
            .unwrap();
            secrets.push(Secret { words: phone, marks: vec![of_phone], is_first: true });
            secrets.push(Secret { words: other, marks: vec![of_other], is_first: false });
            secrets.push(Secret { words: mail, marks: vec![of_mail], is_first: true });
            // Whoever may call somebody knows whom.
            secrets.push(Secret { words: named, marks: vec![of_name, of_phone, of_other, of_mail], is_first: true });
        }
        for index in 0..places {
            let (phone, contact) = (number(), name(seed + 400 + u32::try_from(index).unwrap()));
            let (of_phone, of_name) = (mark(), mark());
            let agency = ["mercy", "odo"][index % 2];
            writeln!(
                plan,
                "[[place]]\nid = \"p{index}\"\ncode = \"P{index}\"\nkind = \"hospital\"\nname = \"Place {index}\"\ntactical = \"Site {index}\"\nagency = \"{agency}\"\nposition = \"46.5{index}0, -112.02\"\ntransmit = {{ allowed = \"roof only\" }}\nvisited-on = 2026-09-14\ncontact = [{{ role = \"{contact}\", phone = \"{phone}\", audience = \"{of_phone}\", name-audience = \"{of_name}\", confirmed = 2026-09-14 }}]"
            )
            .unwrap();
            secrets.push(Secret { words: phone, marks: vec![of_phone], is_first: true });
            secrets.push(Secret { words: contact, marks: vec![of_name, of_phone], is_first: true });
        }
        plan += "[[post]]\nid = \"desk\"\nname = \"Desk\"\nplace = \"p0\"\nnets = [\"command\"]\n";
        plan += "[[duty]]\npost = \"desk\"\nmember = \"qra\"\nfrom = \"2027-01-16 06:00\"\nto = \"2027-01-16 18:00\"\n";
        Planted { plan, secrets }
    })
}

/// The kinds that need no exercise.
fn made() -> impl Iterator<Item = &'static Kind> {
    KINDS.iter().copied().filter(|kind| !matches!(kind.compose, Compose::Exercise(_)))
}

/// Orders for every kind, each for the readers whose turn it is among those that may have it, with a kit and all contacts for the
/// coordinator; and which kinds are ordered for whom.
fn documents(turn: u32) -> (String, Vec<(&'static str, usize)>) {
    let (mut text, mut ordered) = (String::new(), Vec::new());
    for (place, kind) in made().enumerate() {
        let may = |number: &usize| Audience::parse(READERS[*number]).unwrap().may_read(&kind.widest);
        let readers: Vec<usize> = (0..READERS.len()).filter(may).collect();
        let number = readers[(place + turn as usize) % readers.len()];
        for each in kind.each {
            // A message is for those who lead at the widest.
            let is_closed =
                *each == Each::Message && !Audience::parse(READERS[number]).unwrap().may_read(&Audience::Leads);
            let number = if is_closed { READERS.iter().position(|reader| *reader == "leads").unwrap() } else { number };
            let id = format!("{}-{each}-{number}", kind.name);
            text += &order(kind, &id, READERS[number], &format!("each = \"{each}\"\n"));
        }
        ordered.push((kind.name, number));
    }
    text += "[[document]]\nid = \"own-2\"\nkind = \"channel-card\"\naudience = \"leads\"\neach = \"member\"\n";
    text += "[[document]]\nid = \"all-3\"\nkind = \"contact-card\"\naudience = \"coordinator\"\n";
    text += "[[kit]]\nid = \"set-2\"\naudience = \"leads\"\neach = \"member\"\ndocuments = [\"own-2\"]\n";
    text += MESSAGE;
    (text, ordered)
}

/// What a form for each message is filled in from.
const MESSAGE: &str = r#"
[[message]]
id = "water"
number = 12
precedence = "Routine"
station-of-origin = "WZ7QRA"
check = 2
place-of-origin = "Mercy"
time-filed = "1815 MST"
date = "DEC 5"
to = ["Duty officer", "Operations"]
text = "SEND WATER"
signature = "Abel Quist"
"#;

/// The letters that the codes of a font stand for, by its ToUnicode.
fn letters(document: &Document, font: &Dictionary) -> BTreeMap<u16, String> {
    let stream =
        font.get(b"ToUnicode").and_then(|id| document.get_object(id.as_reference()?)).and_then(Object::as_stream);
    let Ok(stream) = stream else { return BTreeMap::new() };
    let text = String::from_utf8_lossy(&stream.get_plain_content().unwrap()).into_owned();
    let mut letters = BTreeMap::new();
    for line in text.lines() {
        let codes: Vec<&str> = line.split(['<', '>']).filter(|part| !part.trim().is_empty()).collect();
        let unicode = |hex: &str| -> String {
            let units: Vec<u16> =
                (0..hex.len() / 4).filter_map(|at| u16::from_str_radix(&hex[4 * at..4 * at + 4], 16).ok()).collect();
            String::from_utf16_lossy(&units)
        };
        if let [code, meant] = codes.as_slice()
            && let (4, Ok(code)) = (code.len(), u16::from_str_radix(code, 16))
        {
            letters.insert(code, unicode(meant));
        }
    }
    letters
}

/// What the letters of a content stream say, by the fonts of its resources.
fn said(content: &[u8], fonts: &BTreeMap<Vec<u8>, BTreeMap<u16, String>>) -> String {
    let content = lopdf::content::Content::decode(content).unwrap();
    let (mut font, mut text) = (None, String::new());
    for operation in &content.operations {
        let mut show = |bytes: &[u8]| {
            let Some(letters) = font.and_then(|name: &Vec<u8>| fonts.get(name)) else { return };
            for code in bytes.chunks(2).filter(|code| code.len() == 2) {
                text.push_str(letters.get(&u16::from_be_bytes([code[0], code[1]])).map_or("\u{fffd}", String::as_str));
            }
        };
        match (operation.operator.as_str(), operation.operands.first()) {
            ("Tf", Some(Object::Name(name))) => font = Some(name),
            ("Tj", Some(Object::String(bytes, _))) => show(bytes),
            ("TJ", Some(Object::Array(parts))) => {
                for part in parts {
                    if let Object::String(bytes, _) = part {
                        show(bytes);
                    }
                }
            }
            _ => {}
        }
    }
    text
}

fn strings(object: &Object, into: &mut String) {
    match object {
        Object::String(bytes, _) => {
            into.push_str(&String::from_utf8_lossy(bytes));
            into.push('\n');
            into.push_str(&lopdf::decode_text_string(object).unwrap_or_default());
            into.push('\n');
        }
        Object::Name(bytes) => into.push_str(&format!("{}\n", String::from_utf8_lossy(bytes))),
        Object::Array(items) => items.iter().for_each(|item| strings(item, into)),
        Object::Dictionary(items) => of_dictionary(items, into),
        Object::Stream(stream) => of_dictionary(&stream.dict, into),
        _ => {}
    }
}

fn of_dictionary(items: &Dictionary, into: &mut String) {
    for (name, item) in items {
        into.push_str(&format!("{}\n", String::from_utf8_lossy(name)));
        strings(item, into);
    }
}

/// All that a PDF holds as text without spaces, and how many letters of it were set by fonts.
fn all_of(pdf: &[u8]) -> (String, usize) {
    let document = Document::load_mem(pdf).unwrap();
    let mut fonts: BTreeMap<Vec<u8>, BTreeMap<u16, String>> = BTreeMap::new();
    let named: BTreeSet<ObjectId> = document
        .objects
        .values()
        .filter_map(|object| object.as_dict().ok())
        .flat_map(|dictionary| {
            let fonts = dictionary.get(b"Font").and_then(Object::as_reference);
            fonts.into_iter()
        })
        .collect();
    for list in named.iter().filter_map(|id| document.get_dictionary(*id).ok()) {
        for (name, font) in list {
            let font = font.as_reference().and_then(|id| document.get_dictionary(id)).unwrap();
            fonts.insert(name.clone(), letters(&document, font));
        }
    }
    assert!(!fonts.is_empty() && fonts.values().all(|letters| !letters.is_empty()), "{fonts:?}");
    let (mut text, mut set) = (String::new(), 0);
    for object in document.objects.values() {
        strings(object, &mut text);
        let Object::Stream(stream) = object else { continue };
        let plain = stream.get_plain_content().unwrap_or_else(|_| stream.content.clone());
        let as_text = String::from_utf8_lossy(&plain);
        text.push_str(&as_text);
        text.push('\n');
        let is_content = stream.dict.get(b"Type").is_err()
            || stream.dict.get(b"Subtype").is_ok_and(|kind| kind.as_name().ok() == Some(b"Form"));
        if is_content && as_text.contains(" Tf") {
            let letters = said(&plain, &fonts);
            set += letters.chars().count();
            text.push_str(&letters);
            text.push('\n');
        }
    }
    (text.replace([' ', '\u{a0}'], ""), set)
}

/// The secrets that a file shows to whom they are closed.
fn leaks(secrets: &[Secret], reader: &Audience, text: &str) -> Vec<String> {
    let closed = secrets.iter().filter(|secret| !secret.is_open_to(reader));
    closed.filter(|secret| text.contains(&secret.bare())).map(|secret| secret.words.clone()).collect()
}

/// As many as asked for by the environment: continuous integration asks for more.
#[expect(clippy::disallowed_methods, reason = "how many plans are tried reaches no page")]
fn plans() -> u32 {
    std::env::var("PLANS_WITH_SECRETS").ok().and_then(|count| count.parse().ok()).unwrap_or(50)
}

/// Each plan orders each kind for one audience, and the next plan for the next: over six plans each is ordered for all.
#[test]
fn no_byte_that_is_given_out_is_above_its_readers() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut ordered = BTreeSet::new();
    for turn in 0..plans() {
        let planted = planted().new_tree(&mut runner).unwrap().current();
        let (documents, kinds) = documents(turn);
        ordered.extend(kinds);
        let shelf = Shelf::new().with("plan.toml", format!("{}{documents}", planted.plan));
        let (outcome, kit) = build(&shelf, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap();
        let errors = outcome.findings.iter().filter(|f| f.is_error());
        let errors: Vec<String> = errors.map(|f| format!("{}: {}", f.rule.name, f.message)).collect();
        assert_eq!(errors, Vec::<String>::new(), "{}", planted.plan);
        let kit = kit.unwrap();
        let mut shown = BTreeSet::new();
        for file in &kit.files {
            let (text, set) = all_of(&file.bytes);
            assert!(set > 100, "{}: {set} letters", file.name);
            let leaks = leaks(&planted.secrets, &file.audience, &format!("{}\n{text}", file.name));
            assert!(leaks.is_empty(), "{} for {}: {leaks:?}\n{}", file.name, file.audience, planted.plan);
            shown.extend(planted.secrets.iter().map(Secret::bare).filter(|secret| text.contains(secret.as_str())));
        }
        // The coordinator is shown them: what looks for them would find them elsewhere too.
        for secret in planted.secrets.iter().filter(|secret| secret.is_first) {
            assert!(shown.contains(&secret.bare()), "{secret:?}: {shown:?}");
        }
        let manifest: String = Manifest::of(&kit).to_text().split(' ').collect();
        assert_eq!(leaks(&planted.secrets, &Audience::Public, &manifest), Vec::<String>::new(), "the manifest");
    }
    let readers = READERS.map(|reader| Audience::parse(reader).unwrap());
    let may_have = |kind: &&Kind| readers.iter().filter(|reader| reader.may_read(&kind.widest)).count();
    let all: usize = made().map(|kind| may_have(&kind)).sum();
    assert!(plans() < 6 || ordered.len() == all, "{} of {all}", ordered.len());
}

/// What stands on symbols is told by their payload, which two readers of symbols read back elsewhere.
#[test]
fn symbols_and_outlines_show_nothing_above_their_readers() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    for turn in 0..4 {
        let planted = planted().new_tree(&mut runner).unwrap().current();
        let shelf = Shelf::new().with("plan.toml", format!("{}{}", planted.plan, documents(turn).0));
        let mut symbols = 0;
        for job in jobs(&shelf, "plan.toml").unwrap() {
            let number: usize = job.stem.split('-').rev().find_map(|part| part.parse().ok()).unwrap();
            let reader = Audience::parse(READERS[number]).unwrap();
            let mut text = format!("{}{}{:?}", job.stem, job.title, job.placements());
            for mark in job.panels.iter().flat_map(|panel| panel.body.iter()) {
                if let Mark::Modules(modules) = mark {
                    text.push_str(&modules.payload);
                    symbols += 1;
                }
            }
            let text: String = text.split(' ').collect();
            assert_eq!(leaks(&planted.secrets, &reader, &text), Vec::<String>::new(), "{}", job.stem);
        }
        assert!(symbols > 0);
    }
}

/// A leak that is planted on purpose is found wherever it stands: in what is attached, in the title, in one run of letters, in a name.
#[test]
fn a_planted_leak_is_found_wherever_it_stands() {
    let secret = Secret { words: "+1 406 555 0177".to_owned(), marks: vec!["coordinator"], is_first: true };
    let shelf = Shelf::new().with("plan.toml", format!("{HEAD}{}", order(KINDS[0], "card", "team", "")));
    let clean = jobs(&shelf, "plan.toml").unwrap().remove(0);
    let found = |job: &Job| {
        let (text, _) = all_of(&fieldsheaf::paint::pdf(job).unwrap());
        leaks(std::slice::from_ref(&secret), &Audience::Team, &text).len()
    };
    assert_eq!(found(&clean), 0);
    let attached = clean.canonical.as_ref().map(|text| format!("{text}x\t{}\n", secret.words));
    assert_eq!(found(&Job { canonical: attached, ..clean.clone() }), 1, "attached");
    assert_eq!(found(&Job { title: format!("Card {}", secret.words), ..clean.clone() }), 1, "title");
    let mut outlined = clean.clone();
    outlined.panels[0].title = secret.words.clone();
    assert_eq!(found(&outlined), 1, "outline");
    // The letters of a real sheet that shows it, on a sheet that may not.
    let own = format!(
        "{HEAD}phone = [{{ number = \"{}\", audience = \"team\" }}]\n{}",
        secret.words,
        order(KINDS.iter().find(|kind| kind.name == "contact-card").unwrap(), "card", "team", "")
    );
    let card = jobs(&Shelf::new().with("plan.toml", own), "plan.toml").unwrap().remove(0);
    assert_eq!(found(&Job { canonical: None, ..card }), 1, "letters");
    assert_eq!(leaks(std::slice::from_ref(&secret), &Audience::Coordinator, &secret.bare()), Vec::<String>::new());
}
