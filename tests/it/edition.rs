//! The canonical text and its code against committed vectors: codes on paper outlive the program that printed them.

use fieldsheaf::compose::block::{
    Arrows, Block, Cell, Column, Document, FieldBlock, FieldLine, FlagSign, Foot, FormBlock, Join, LaneForm, Paragraph,
    Role, Row, Saying, Section, Shade, Strip, StripCell, StripFlag, StripLane, Symbol, Table, Text, Tick,
};
use fieldsheaf::edition::{hash, read_back};
use fieldsheaf::ground::{At, Id, Span, Subject};
use fieldsheaf::plan::{FieldColumn, FieldRoom};
use fieldsheaf::tables::Tables;
use serde::Deserialize;

#[derive(Deserialize)]
struct Vectors {
    vector: Vec<Vector>,
}

#[derive(Deserialize)]
struct Vector {
    name: String,
    canonical: String,
    sha256: String,
    letters: String,
    words: String,
}

fn cell(text: &str, role: Role, base: Option<&str>) -> Cell {
    Cell { text: Text::own(text), role, base: base.map(str::to_owned) }
}

/// What every document here has.
fn canonical(document: &Document, rule_set: &str) -> String {
    fieldsheaf::edition::canonical(document, rule_set).unwrap()
}

fn row(id: &str, label: &str, cells: Vec<(&'static str, Cell)>) -> Row {
    let record = Some(Subject::new("channel", &Id::parse(id).unwrap()));
    Row { label: label.to_owned(), record, span: Span::NOWHERE, cells }
}

fn document(kind: &'static str, sections: Vec<Section>) -> Document {
    Document {
        kind,
        stem: "card-qra".to_owned(),
        title: "Channel card".to_owned(),
        language: "en-US".to_owned(),
        layout: At::new("fold-8".to_owned(), Span::NOWHERE),
        variant: None,
        paper: "letter",
        copies: 3,
        foot: Foot {
            edition: Text::own("GRAYLING ").then_text(Text::of_edition("edition 7", Span::NOWHERE)),
            audience: "team copy".to_owned(),
            holder: None,
            validity: "valid from 2026-12-01, review by 2027-06-01".to_owned(),
            ..Foot::default()
        },
        once: vec![Text::own("Identify every 10 min.")],
        sections,
    }
}

fn channels(rows: Vec<Row>) -> Section {
    let columns = vec![Column::must("hear", "hear MHz", Role::Hear)];
    let (said, said_of_next, own) = (Vec::new(), Vec::new(), Vec::new());
    let table = Table { key: "channels", columns, rows, said, said_of_next, own, when_empty: Text::own("no channel") };
    Section { key: "channels", title: Text::own("Channels"), blocks: vec![Block::Table(table)] }
}

fn command(tone: &str) -> Row {
    let hear = ("hear", cell("146.9400", Role::Hear, Some("146940000")));
    row("cmd", "1", vec![hear, ("tone", cell(tone, Role::Tone, Some(&format!("{tone} Hz"))))])
}

fn tactical() -> Row {
    let hear = ("hear", cell("446.0500", Role::Hear, Some("446050000")));
    row("tac", "2", vec![hear, ("tone", cell("off", Role::Word, None))])
}

/// The documents that the vectors speak of.
fn named(name: &str) -> Document {
    match name {
        "empty" => document("channel-card", vec![]),
        "no rows" => document("channel-card", vec![channels(vec![])]),
        "two channels" => document("channel-card", vec![channels(vec![command("103.5"), tactical()])]),
        "one holder" => {
            let mut document = document("channel-card", vec![]);
            document.foot.holder = Some("WZ7QRA Ines Varga".to_owned());
            document
        }
        // Decomposed letters, a tab, a line feed and a backslash: composed and escaped in the canonical text.
        "escapes" => {
            let text = Text::own("Cafe\u{301}\tdoor\\B\nbell").then_strong(" now");
            let blocks = vec![
                Block::Heading(Text::own("Way in")),
                Block::Paragraph(Paragraph { text, role: Role::Body }),
                Block::Symbol(Symbol { payload: Text::own("a\r\nb"), caption: Text::own("scan") }),
            ];
            document("site-sheet", vec![Section { key: "way", title: Text::own("Way"), blocks }])
        }
        "form" => {
            let field = |label: &str, number: Option<u16>, room| FieldBlock {
                number: number.map(|number| number.to_string()),
                label: Text::own(label),
                help: None,
                share: 6,
                room,
                filled: None,
                ticked: Vec::new(),
                cells: Vec::new(),
            };
            let columns = vec![FieldColumn::new("Time".to_owned(), 3)];
            let ruled = FieldRoom { columns, rows: 5, is_filling: true, ..FieldRoom::empty("ruled") };
            let mut to = field("To", Some(1), FieldRoom::lines(2));
            to.filled = Some(Text::of_edition("2026-11-20", Span::NOWHERE));
            let line = FieldLine {
                title: None,
                begins_page: false,
                is_added: false,
                fields: vec![to, field("Log", None, ruled)],
            };
            let blocks = vec![Block::Form(FormBlock { lines: vec![line] })];
            document("form", vec![Section { key: "form", title: Text::own("Message"), blocks }])
        }
        "strip" => {
            let cell = StripCell {
                from: 144_000_000,
                to: 144_100_000,
                half: None,
                shade: Shade::Closed,
                arrows: Arrows::Up,
                label: Text::own("beacons"),
            };
            let flag = StripFlag {
                at: 146_940_000,
                from: 146_932_000,
                to: 146_948_000,
                sign: FlagSign::Bar,
                number: "1".to_owned(),
                name: Text::own("CMD 1"),
                figure: Text::own("146.9400"),
                word: Text::default(),
                detail: Text::own("Cold Ridge"),
            };
            let join = Join {
                down: 146_940_000,
                up: 146_340_000,
                name: Text::own("CMD 1"),
                figure: Text::own("146.3400"),
                shift: Text::own("-600"),
            };
            let tick =
                |at, label: Option<&str>| Tick { at, label: label.map(str::to_owned), is_middle: label.is_none() };
            let strip = Strip {
                key: "2m".to_owned(),
                title: Text::own("2 m"),
                notes: vec![Text::own("144 to 148 MHz")],
                unit: "MHz".to_owned(),
                low: 144_000_000,
                high: 148_000_000,
                ticks: vec![tick(144_000_000, Some("144")), tick(145_000_000, None)],
                is_even: true,
                flags: vec![flag],
                join_name: "send".to_owned(),
                joins: vec![join],
                sayings: vec![Saying { from: 144_000_000, to: 144_100_000, words: Text::own("CW") }],
                lanes: vec![StripLane { name: "band plan".to_owned(), form: LaneForm::Ribbon, cells: vec![cell] }],
                ..Strip::default()
            };
            let blocks = vec![strip.block()];
            document("frequency-chart", vec![Section { key: "bands", title: Text::own("Chart"), blocks }])
        }
        other => panic!("no document is called {other}"),
    }
}

const RULE_SET: &str = "47 CFR Part 97 as of 2026-02-13";

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[test]
fn the_vectors_hold() {
    let vectors: Vectors = toml::from_str(include_str!("../edition/vectors.toml")).unwrap();
    assert_eq!(vectors.vector.len(), 7);
    for vector in vectors.vector {
        let text = canonical(&named(&vector.name), RULE_SET);
        assert_eq!(text, vector.canonical, "{}", vector.name);
        assert_eq!(hex(&hash(&text)), vector.sha256, "{}", vector.name);
        let code = read_back(&text, &Tables::built_in().spelling);
        assert_eq!((code.letters, code.words), (vector.letters, vector.words), "{}", vector.name);
    }
}

#[test]
fn neither_edition_nor_paper_nor_emphasis_nor_the_record_is_content() {
    let text = canonical(&named("two channels"), RULE_SET);
    let mut other = document("channel-card", vec![channels(vec![command("103.5"), tactical()])]);
    other.foot.edition = Text::own("GRAYLING ").then_text(Text::of_edition("edition 8", Span::NOWHERE));
    other.foot.validity = "valid from 2027-06-01, review by 2027-12-01".to_owned();
    other.foot.read_back = Some(read_back("", &Tables::built_in().spelling));
    other.paper = "a4";
    other.copies = 1;
    other.stem = "card".to_owned();
    other.layout = At::new("card".to_owned(), Span::NOWHERE);
    other.once = vec![Text::own("Identify every").then_strong("\u{a0}10 min.")];
    let Block::Table(table) = &mut other.sections[0].blocks[0] else { panic!("a table") };
    table.rows[0].record = None;
    assert_eq!(canonical(&other, RULE_SET), text);
}

#[test]
fn the_order_of_rows_is_content() {
    let turned = document("channel-card", vec![channels(vec![tactical(), command("103.5")])]);
    assert_ne!(canonical(&turned, RULE_SET), canonical(&named("two channels"), RULE_SET));
}

/// A layout would show one of the two, and a change of the other would show nowhere.
#[test]
fn a_column_that_a_row_fills_twice_is_a_bug() {
    let twice = row("cmd", "1", vec![("hear", cell("1", Role::Hear, None)), ("hear", cell("2", Role::Hear, None))]);
    let bug =
        fieldsheaf::edition::canonical(&document("channel-card", vec![channels(vec![twice])]), RULE_SET).unwrap_err();
    assert_eq!(bug.what, "two parts of a document have the path section/1/block/1/table/row/1/hear");
    let odd = row("cmd", "1", vec![("hear/value", cell("1", Role::Hear, None))]);
    let bug =
        fieldsheaf::edition::canonical(&document("channel-card", vec![channels(vec![odd])]), RULE_SET).unwrap_err();
    assert_eq!(bug.what, "\"hear/value\" is no word for a path");
}

#[test]
fn one_tone_or_another_rule_set_changes_the_code() {
    let spelling = &Tables::built_in().spelling;
    let code = |tone, rule_set| {
        let document = document("channel-card", vec![channels(vec![command(tone), tactical()])]);
        read_back(&canonical(&document, rule_set), spelling).letters
    };
    assert_ne!(code("103.5", RULE_SET), code("107.2", RULE_SET));
    assert_ne!(code("103.5", RULE_SET), code("103.5", "47 CFR Part 97 as of 2025-01-01"));
}

#[test]
fn a_code_is_four_of_sixteen_letters_with_their_words() {
    let spelling = &Tables::built_in().spelling;
    let mut letters: Vec<char> = spelling.read_back_letters().to_vec();
    letters.dedup();
    assert_eq!(letters.len(), 16);
    // SHA-256 of the empty text begins e3b0 (FIPS 180-4 example, known by heart): letters 14, 3, 11, 0 of CDFHJKLMNRSTVWXZ.
    let code = read_back("", spelling);
    assert_eq!((code.letters.as_str(), code.words.as_str()), ("XHTC", "X-ray Hotel Tango Charlie"));
}
