//! What is made of a number, and what must hold of it. Another reader joins by a line in [`TARGETS`].

use super::dice::{Dice, mutated};
use super::stock::Stock;
use super::support::judged;
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::ground::{At, Files, Finding, Findings, Span, Words};
use fieldsheaf::ledger::{self, FORMAT, MANIFEST_HEAD, Manifest};
use fieldsheaf::tables::{self, Tables};
use fieldsheaf::{Outcome, Wanted, checks, compose, edition, plan, source, typeset};
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};

/// How often a word came: rules that were broken, and how far inputs came.
pub type Seen = BTreeMap<&'static str, u64>;

/// A reader, or the whole program, with what feeds it.
pub struct Target {
    pub name: &'static str,
    /// Of a thousand inputs, how many are for it: the cheap ones get most.
    pub share: usize,
    pub make: fn(&Stock, &mut Dice) -> Vec<u8>,
    /// Panics when something does not hold; returns what the input led to, in one number.
    pub run: fn(&[u8], &mut Seen) -> u64,
}

pub const TARGETS: &[Target] = &[
    Target { name: "sheet", share: 50, make: spreadsheet, run: sheet },
    Target { name: "manifest", share: 200, make: manifest_text, run: manifest },
    Target { name: "layout", share: 200, make: |s, d| changed(&s.layouts, s, d), run: layout },
    Target { name: "form", share: 150, make: |s, d| changed(&s.forms, s, d), run: plan_text },
    Target { name: "roster", share: 150, make: |s, d| cut(&changed(&s.rosters, s, d), d), run: roster },
    Target { name: "plan", share: 140, make: |s, d| changed(&s.plans, s, d), run: plan_text },
    Target { name: "profile", share: 60, make: profile_text, run: profile },
    Target { name: "records", share: 40, make: |s, d| s.plan(d).into_bytes(), run: records },
    Target { name: "canonical", share: 7, make: |s, d| s.ordered(d).into_bytes(), run: canonical },
    Target { name: "build", share: 3, make: |s, d| s.ordered(d).into_bytes(), run: build },
];

fn changed(texts: &[Box<str>], stock: &Stock, dice: &mut Dice) -> Vec<u8> {
    let (text, other) = (dice.pick(texts), dice.pick(texts));
    mutated(text, &stock.words, other, dice)
}

/// A few hundred bytes: a long list of the same rows shows nothing more.
fn cut(bytes: &[u8], dice: &mut Dice) -> Vec<u8> {
    let whole = dice.once_in(10);
    bytes[..if whole { bytes.len() } else { bytes.len().min(200 + dice.below(400)) }].to_vec()
}

fn profile_text(stock: &Stock, dice: &mut Dice) -> Vec<u8> {
    let mut text = "[profile]\nid = \"own\"\nbase = \"us\"\nname = \"Own\"\nrule-set = \"own\"\nchecked-on = 2026-11-25\nreview-by = 2027-05-25\nsource = \"own\"\nconfidence = \"read\"\n".to_owned();
    for _ in 0..dice.below(5) {
        text += dice.pick(&stock.rows);
    }
    mutated(&text, &stock.words, dice.pick(&stock.rows), dice)
}

/// Rows as they are written, under the sum that belongs to them.
fn manifest_text(stock: &Stock, dice: &mut Dice) -> Vec<u8> {
    let row = "\n[[file]]\nname = \"a.pdf\"\nsha256 = \"00ff\"\nbytes = 7\nkind = \"form\"\naudience = \"team\"\nholder = \"qra\"\ncode = \"FMRX\"\ncontent = \"00\"\n[file.holder-content]\nqra = \"ff\"\n";
    let text = format!(
        "plan = \"A\"\ntitle = \"A plan\"\nteam = \"T\"\nedition = 7\nrule-set = \"us\"\n{row}{}",
        row.replace("a.pdf", "b.pdf")
    );
    let rest = mutated(&text, &stock.words, row, dice);
    let sum = ledger::sha256(&rest);
    let head = format!("{MANIFEST_HEAD}format = {FORMAT}\nrest-sha256 = \"{sum}\"\n");
    if dice.once_in(20) { mutated(&head, &stock.words, row, dice) } else { [head.as_bytes(), &rest].concat() }
}

fn count(seen: &mut Seen, word: &'static str) {
    *seen.entry(word).or_default() += 1;
}

/// Each finding can be said on one line and points at text; all of them as one number.
fn judge(files: &Files, found: &Findings, seen: &mut Seen) -> u64 {
    let mut hash = DefaultHasher::new();
    for finding in found.iter() {
        count(seen, finding.rule.name);
        judge_one(files, finding);
        (finding.rule.name, finding.span, &finding.message, &finding.help).hash(&mut hash);
    }
    hash.finish()
}

fn judge_one(files: &Files, finding: &Finding) {
    let rule = finding.rule.name;
    assert!(!finding.message.trim().is_empty(), "{rule} says nothing");
    let related = finding.related.iter();
    let texts = [&finding.message, &finding.label].into_iter().chain(&finding.note).chain(&finding.help);
    for text in texts.chain(related.clone().map(|related| &related.label)) {
        assert!(!text.chars().any(char::is_control), "{rule} says {text:?}");
    }
    let spans = std::iter::once(finding.span).chain(related.map(|related| related.span));
    for span in spans.chain(finding.fix.iter().map(|fix| fix.span)) {
        assert!(!span.is_somewhere() || files.text(span).is_some(), "{rule} points at {span:?}, where no text is");
    }
}

fn judge_outcome(outcome: &Outcome, seen: &mut Seen) -> u64 {
    let key = |f: &Finding| (outcome.files.get(f.span.file).map(|file| file.name.clone()), f.span.start, f.span.end);
    let all: Vec<&Finding> = outcome.findings.iter().collect();
    assert!(all.is_sorted_by(|a, b| key(a) <= key(b)), "findings out of order");
    count(seen, if outcome.findings.errors() == 0 { "plan without error" } else { "plan with an error" });
    judge(&outcome.files, &outcome.findings, seen)
}

fn shelf(bytes: &[u8]) -> Shelf {
    Shelf::new().with("plan.toml", bytes)
}

fn plan_text(bytes: &[u8], seen: &mut Seen) -> u64 {
    let (mut found, world) = (Findings::default(), shelf(bytes));
    let mut records = source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = plan::build(&world, &mut records, &mut found);
    count(seen, if plan.is_whole { "plan whole" } else { "plan not whole" });
    found.sort(&records.files);
    judge(&records.files, &found, seen)
}

fn roster(bytes: &[u8], seen: &mut Seen) -> u64 {
    let columns = "{ id = \"Id\", call = \"Call\", name = \"Full name\", class = \"Licence\", expires = \"Expires\", phone = \"Phone\", radio = \"Radios\", confirmed = \"Confirmed\" }";
    let others = "{ name = \"Full name\", output = \"Id\", tone-in = \"Call\" }";
    let lists = format!(
        "roster = {{ file = \"p.csv\", columns = {columns} }}\nneighbours = {{ file = \"p.csv\", columns = {others} }}\n"
    );
    let world = shelf(HEAD.replace("[edition]", &(lists + "[edition]")).as_bytes()).with("p.csv", bytes);
    let mut found = Findings::default();
    let mut records = source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = plan::build(&world, &mut records, &mut found);
    count(seen, if plan.members.ids().count() > 1 { "members in a list" } else { "nobody in a list" });
    found.sort(&records.files);
    judge(&records.files, &found, seen)
}

const ROWS: &str = "<row r=\"1\"><c r=\"A1\" t=\"s\"><v>0</v></c><c t=\"inlineStr\"><is><t>From</t></is></c></row>\n<row><c t=\"s\"><v>1</v></c><c s=\"1\"><v>46361.25</v></c></row>\n<row r=\"4\"><c r=\"A4\"><f>B1</f><v>7</v></c><c t=\"e\"><v>#REF!</v></c><c t=\"d\"><v>2026-12-05</v></c></row>\n";
const TEXTS: &str = "<sst uniqueCount=\"2\">\n<si><t>Name</t></si>\n<si><r><t>North</t></r><rPh><t>x</t></rPh><r><t> &amp; gate</t></r></si>\n</sst>";
const TABLE: &str = "<table:table table:name=\"One\">\n<table:table-row><table:table-cell office:value-type=\"string\"><text:p>Name</text:p></table:table-cell><table:table-cell office:value-type=\"string\"><text:p>From</text:p></table:table-cell></table:table-row>\n<table:table-row table:number-rows-repeated=\"2\"><table:table-cell table:number-columns-repeated=\"2\" office:value-type=\"float\" office:value=\"7\"/><table:table-cell office:value-type=\"date\" office:date-value=\"2026-12-05T08:00:00\"/></table:table-row>\n</table:table>";

/// A small spreadsheet of either form, its parts changed, or the bytes of its archive.
fn spreadsheet(stock: &Stock, dice: &mut Dice) -> Vec<u8> {
    let relation = |id: &str, kind: &str, target: &str| {
        format!("<Relationship Id=\"{id}\" Type=\"x/{kind}\" Target=\"{target}\"/>\n")
    };
    let list = |relations: String| format!("<Relationships>{relations}</Relationships>");
    let inner = relation("s", "worksheet", "/xl/one.xml")
        + &relation("t", "sharedStrings", "t.xml")
        + &relation("f", "styles", "f.xml");
    let parts: Vec<(&str, String)> = if dice.once_in(2) {
        let mime = "application/vnd.oasis.opendocument.spreadsheet";
        vec![
            ("mimetype", mime.to_owned()),
            ("content.xml", format!("<office:spreadsheet>{TABLE}</office:spreadsheet>")),
        ]
    } else {
        vec![
            ("_rels/.rels", list(relation("a", "officeDocument", "xl/b.xml"))),
            ("xl/_rels/b.xml.rels", list(inner)),
            ("xl/b.xml", "<workbook><workbookPr date1904=\"0\"/><sheets><sheet name=\"One\" r:id=\"s\"/></sheets></workbook>".to_owned()),
            ("xl/f.xml", "<styleSheet><numFmts><numFmt numFmtId=\"170\" formatCode=\"d/m\"/></numFmts><cellXfs><xf numFmtId=\"0\"/><xf numFmtId=\"22\"/></cellXfs></styleSheet>".to_owned()),
            ("xl/t.xml", TEXTS.to_owned()),
            ("xl/one.xml", format!("<worksheet><sheetData>{ROWS}</sheetData></worksheet>")),
        ]
    };
    let changed = dice.below(parts.len());
    let mut archive = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
    for (at, (name, text)) in parts.iter().enumerate() {
        archive.start_file(*name, zip::write::SimpleFileOptions::default()).unwrap();
        let bytes = if at == changed { mutated(text, &stock.words, ROWS, dice) } else { text.clone().into_bytes() };
        std::io::Write::write_all(&mut archive, &bytes).unwrap();
    }
    let mut bytes = archive.finish().unwrap().into_inner();
    if dice.once_in(4) {
        for _ in 0..dice.below(6) {
            let at = dice.below(bytes.len());
            bytes[at] = u8::try_from(dice.below(256)).unwrap();
        }
    }
    bytes
}

fn sheet(bytes: &[u8], seen: &mut Seen) -> u64 {
    let table = "[posts]\nfile = \"p\"\ncolumns = { name = \"Name\", from = \"From\" }\ndefaults = { to = \"2026-12-06 08:00\" }\n";
    let world = shelf(format!("{HEAD}{table}").as_bytes()).with("p", bytes);
    let mut found = Findings::default();
    let mut records = source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = plan::build(&world, &mut records, &mut found);
    count(seen, if plan.posts.is_empty() { "no row of a sheet" } else { "rows of a sheet" });
    assert!(source::glance(bytes).is_ok() || found.errors() > 0, "refused at a glance, and taken");
    found.sort(&records.files);
    judge(&records.files, &found, seen)
}

fn layout(bytes: &[u8], seen: &mut Seen) -> u64 {
    let (mut files, mut found) = (Files::default(), Findings::default());
    let name = At::new("own.toml".to_owned(), Span::NOWHERE);
    let world = Shelf::new().with("own.toml", bytes);
    let layout = typeset::find_layout(&name, &world, &mut files, &mut found);
    assert!(layout.is_some() || found.errors() > 0, "a layout was refused without a word");
    count(seen, if layout.is_some() { "layout read" } else { "layout refused" });
    judge(&files, &found, seen)
}

fn profile(bytes: &[u8], seen: &mut Seen) -> u64 {
    let (mut files, mut found) = (Files::default(), Findings::default());
    let name = At::new(Words::parse("own.toml").unwrap(), Span::NOWHERE);
    let profile = tables::named(&name, &Shelf::new().with("own.toml", bytes), &mut files, &mut found);
    assert!(profile.is_some() || found.errors() > 0, "a profile was refused without a word");
    count(seen, if profile.is_some() { "profile read" } else { "profile refused" });
    judge(&files, &found, seen)
}

fn manifest(bytes: &[u8], seen: &mut Seen) -> u64 {
    let Ok(manifest) = Manifest::parse(&String::from_utf8_lossy(bytes)) else {
        count(seen, "manifest refused");
        return 0;
    };
    count(seen, "manifest read");
    assert_eq!(Manifest::parse(&manifest.to_text()).as_ref(), Ok(&manifest), "printed and read again");
    assert!(manifest.files.iter().all(|entry| ledger::is_plain_name(&entry.name)), "a name leads elsewhere");
    1
}

fn records(bytes: &[u8], seen: &mut Seen) -> u64 {
    let outcome = fieldsheaf::check_plan(&shelf(bytes), "plan.toml").unwrap();
    judge_outcome(&outcome, seen)
}

/// Composed twice, a document has one canonical text, and its code is that of the text.
fn canonical(bytes: &[u8], seen: &mut Seen) -> u64 {
    let (mut found, world) = (Findings::default(), shelf(bytes));
    let mut records = source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = plan::build(&world, &mut records, &mut found);
    let Some(profile) = plan.profile.clone() else { return 0 };
    let mut tasks = compose::tasks(&plan, &profile, &mut found);
    tasks.retain(|task| !task.shared_key().kind.is_last());
    let Some(checked) = checks::run(plan, Some(profile), &records.files, &mut found) else { return 0 };
    let (codes, again) =
        (edition::codes(&checked, &tasks, None).unwrap(), edition::codes(&checked, &tasks, None).unwrap());
    for (key, shared) in &codes {
        count(seen, "canonical text");
        count(seen, key.kind.name);
        assert_eq!(again.get(key), Some(shared), "composed twice");
        assert_eq!(edition::read_back(&shared.text, &Tables::built_in().spelling), shared.read_back);
        assert!(
            shared.text.ends_with('\n') && !shared.text.chars().any(|c| c.is_control() && !matches!(c, '\n' | '\t'))
        );
        assert!(shared.text.lines().skip(1).all(|line| line.matches('\t').count() == 1), "{}", shared.text);
    }
    judge(&records.files, &found, seen)
}

/// With paper: no kit beside an error, a kit without one, plain names, and the same errors in both ways.
fn build(bytes: &[u8], seen: &mut Seen) -> u64 {
    let world = shelf(bytes);
    let checked = fieldsheaf::check(&world, "plan.toml").unwrap();
    let hash = judge_outcome(&checked, seen);
    let built = fieldsheaf::build(&world, "plan.toml", &Wanted::default(), &|_, _| ());
    let (outcome, kit) = built.expect("neither the world nor the program fails");
    assert!(checked.findings.iter().eq(outcome.findings.iter()), "check and build disagree");
    assert_eq!(kit.is_none(), outcome.findings.errors() > 0, "a kit exactly where there is no error");
    for file in kit.iter().flat_map(|kit| &kit.files) {
        count(seen, "file built");
        assert!(ledger::is_plain_name(&file.name), "{} is no plain name", file.name);
        // One in a thousand, by its own bytes, so that the same ones are judged however many run beside it.
        if ledger::sha256(&file.bytes).bytes().take(3).fold(0_u64, |n, b| n * 41 + u64::from(b)).is_multiple_of(1000)
            && judged("qpdf", &["--check"], &file.bytes, &[]).is_some()
        {
            count(seen, "file judged by qpdf");
        }
    }
    if let Some(kit) = &kit {
        count(seen, "kit built");
        let manifest = Manifest::of(kit);
        assert_eq!(Manifest::parse(&manifest.to_text()), Ok(manifest), "the kit's manifest, read again");
    }
    hash
}
