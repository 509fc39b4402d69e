//! Tables: CSV files and sheets of spreadsheets are records like those of TOML, each cell with its place; nothing that a file says of its
//! own size is believed.

use crate::support::book::{Sheet, Typed, channels, people, places, typed_out, workbook};
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::cli::terminal;
use fieldsheaf::ground::{Files, Findings, Severity, World, caps};
use fieldsheaf::plan::Plan;
use fieldsheaf::{Wanted, edition, plan, source};
use std::io::{Cursor, Write};
use std::process::Command;
use std::time::Instant;

const TEAM: &str = include_str!("../tables/team.toml");

fn understood(world: &dyn World) -> (Files, Findings, Plan) {
    let mut found = Findings::default();
    let mut records = source::read(world, "plan.toml", &mut found).unwrap();
    let plan = plan::build(world, &mut records, &mut found);
    found.sort(&records.files);
    (records.files, found, plan)
}

/// Every finding: where, its name, its message and its help.
fn told(world: &dyn World) -> Vec<String> {
    let (files, found, _) = understood(world);
    let line = |finding: &fieldsheaf::ground::Finding| {
        let help = finding.help.as_deref().map_or_else(String::new, |help| format!(" > {help}"));
        format!("{} {}: {}{help}", files.told(finding.span).unwrap(), finding.rule.name, finding.message)
    };
    found.iter().map(line).collect()
}

fn shelf(tables: &str) -> Shelf {
    Shelf::new().with("plan.toml", format!("{HEAD}{tables}"))
}

fn kit(world: &dyn World) -> Vec<(String, Vec<u8>)> {
    let (outcome, kit) = fieldsheaf::build(world, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap();
    let errors: Vec<String> =
        outcome.findings.iter().filter(|finding| finding.is_error()).map(|finding| finding.message.clone()).collect();
    assert_eq!(errors, Vec::<String>::new());
    kit.unwrap().files.into_iter().map(|file| (file.name, file.bytes)).collect()
}

fn team() -> Vec<u8> {
    workbook(&[channels(), people(), places()])
}

/// The plan as three CSV files.
fn in_text() -> Shelf {
    let file =
        |name: &str, sheet: &str| (format!("file = \"team.xlsx\"\nsheet = \"{sheet}\""), format!("file = \"{name}\""));
    let toml = [("c.csv", "Channels"), ("m.csv", "People"), ("p.csv", "Places")].iter().fold(
        TEAM.to_owned(),
        |toml, (name, sheet)| {
            let (from, to) = file(name, sheet);
            assert!(toml.contains(&from));
            toml.replace(&from, &to)
        },
    );
    Shelf::new()
        .with("plan.toml", toml)
        .with("c.csv", channels().csv())
        .with("m.csv", people().csv())
        .with("p.csv", places().csv())
}

#[test]
fn a_spreadsheet_of_a_team_becomes_a_kit_under_forty_lines() {
    let world = Shelf::new().with("plan.toml", TEAM).with("team.xlsx", team());
    assert!(TEAM.lines().count() < 40, "{} lines", TEAM.lines().count());
    let (_, found, plan) = understood(&world);
    assert_eq!(found.iter().map(|finding| &finding.message).collect::<Vec<_>>(), Vec::<&String>::new());
    assert_eq!((plan.channels.len(), plan.members.len(), plan.places.len()), (40, 60, 12));
    let rows: Vec<String> = plan
        .channels
        .iter()
        .filter(|channel| ["SIM 7", "REP 13", "UHF 39"].contains(&channel.name.as_str()))
        .map(|one| {
            let (row, send) = (one.row.as_ref().unwrap().value, one.send.as_ref().unwrap().value);
            let on = &one.verified.as_ref().unwrap().on.value;
            format!(
                "{} {row} {} {} {send} {} {on}",
                one.id.value, one.spoken.value, one.hear.value, one.send_tone.value
            )
        })
        .collect();
    assert_eq!(
        rows,
        [
            "rep-13 14 REP 13 146.670 MHz 146.070 MHz 103.5 Hz 2026-10-04",
            "sim-7 8 SIM 7 146.540 MHz 146.540 MHz off 2026-10-04",
            "uhf-39 40 UHF 39 445.475 MHz 445.475 MHz off 2026-10-04",
        ]
    );
    let larch = plan.places.iter().last().unwrap();
    assert_eq!((larch.id.as_str(), larch.elevation.unwrap().value.to_string().as_str()), ("larch", "1211 m"));
    assert_eq!(kit(&world).len(), 1);
}

/// Typed in TOML, from CSV files and from a spreadsheet: the same canonical text, and the same bytes.
#[test]
fn one_plan_in_three_forms_makes_the_same_sheets() {
    let typed = Shelf::new().with("plan.toml", typed_out());
    let sheet = Shelf::new().with("plan.toml", TEAM).with("team.xlsx", team());
    let [typed, text, sheet] = [typed, in_text(), sheet].map(|world| {
        let (_, mut found, plan) = understood(&world);
        assert_eq!(found.iter().map(|finding| &finding.message).collect::<Vec<_>>(), Vec::<&String>::new());
        let profile = plan.profile.clone().unwrap();
        let tasks = fieldsheaf::compose::tasks(&plan, &profile, &mut found);
        let checked = fieldsheaf::checks::run(plan, Some(profile), &Files::default(), &mut found).unwrap();
        let codes = edition::codes(&checked, &tasks, None).unwrap();
        let canonical: Vec<String> = codes.values().map(|shared| shared.text.clone()).collect();
        (canonical, kit(&world))
    });
    assert!(typed.0[0].contains("146.6700") && typed.0[0].contains("UHF 39"), "{}", typed.0[0]);
    assert_eq!(typed.0, text.0);
    assert_eq!(typed.0, sheet.0);
    assert!(typed.1 == text.1 && typed.1 == sheet.1, "other bytes");
}

/// Each cell that cannot be taken at its own place, with what to type.
#[test]
fn what_cannot_be_taken_is_told_at_its_cell() {
    let table = "[channels]\nfile = \"p.xlsx\"\nheading-row = 2\ncolumns = { name = \"Name\", rx = { heading = \"RX\", unit = \"MHz\" }, tx = \"TX\", tx-tone = { heading = \"Tone\", unit = \"Hz\" } }\n";
    let text = |text: &str| Typed::Text(text.to_owned());
    let row = |name: &str, rx: Typed, tx: Typed, tone: Typed| vec![text(name), rx, tx, tone];
    let none = || text("none");
    let rows = vec![
        row("A 1", Typed::Number(146.5), none(), Typed::Number(103.5)),
        row("A 2", text("146,5"), none(), Typed::Nothing),
        row("A 3", Typed::Number(146.54), Typed::Number(146.54), Typed::Nothing),
        row("A 4", Typed::Number(146.56), none(), text("D023N")),
        row("A 5", Typed::Number(146.58), none(), Typed::Number(900.0)),
        row("A 1", Typed::Number(146.4), none(), Typed::Nothing),
    ];
    let book = workbook(&[Sheet { name: "Plan", above: 1, headings: vec!["Name", "RX", "TX", "Tone"], rows }]);
    let world = shelf(table).with("p.xlsx", book);
    let at = |row: usize, cell: &str| format!("p.xlsx, sheet Plan, row {row}, column {cell}");
    assert_eq!(
        told(&world),
        [
            format!(
                "{} bad-value: \"146,5\" is not a frequency > write it as \"146.940 MHz\" or \"7245.0 kHz\"",
                at(4, "B (RX)")
            ),
            format!(
                "{} bare-number: 146.54 has no unit > say it with the column, as `{{ heading = \"...\", unit = \"MHz\" }}`",
                at(5, "C (TX)")
            ),
            format!(
                "{} bad-value: \"900 Hz\" is not a tone or an access code > write it as \"103.5 Hz\", \"DCS 023 normal\", \"NAC 293\", \"CC 1\", \"1750 Hz burst\", \"carrier\" or \"off\"",
                at(7, "D (Tone)")
            ),
            format!(
                "{} duplicate-id: two records are channel/a-1 > add `id = \"a-1-2\"` to one of them: without one it is made of what it is called",
                at(8, "A (Name)")
            ),
        ]
    );
    let (files, found, _) = understood(&world);
    let full = terminal::full(&files, &found, None, false);
    assert!(full.contains("--> p.xlsx, sheet Plan, row 4, column B (RX)\n"), "{full}");
    assert!(full.contains("A 2 | 146,5 | none"), "{full}");
    let json: serde_json::Value = serde_json::from_str(&terminal::json(&files, &found)).unwrap();
    let first = &json["findings"][0];
    assert_eq!(
        (&first["file"], &first["line"], &first["column"]),
        (&"p.xlsx, sheet Plan".into(), &4.into(), &2.into())
    );
    assert_eq!((&first["table-column"], &first["fix"]), (&"column B (RX)".into(), &serde_json::Value::Null));
}

/// What the plan says of a table and what the table has.
#[test]
fn headings_that_do_not_fit_are_told_where_they_are_mapped() {
    let of = |csv: &str, table: &str| {
        let world = shelf(&format!("[posts]\nfile = \"p.csv\"\n{table}\n")).with("p.csv", csv);
        told(&world).into_iter().map(|line| line.replace("plan.toml:", "")).collect::<Vec<_>>()
    };
    let at = |line: usize, column: usize| format!("{}:{column}", HEAD.lines().count() + line);
    assert_eq!(
        of(
            "\n\nName,Name,Bank,Colour\nTac,Tic,1,red\n",
            "columns = { id = \"Bank\", name = \"Name\" }\nignore = [\"Hue\"]"
        ),
        [
            "p.csv:4:1 missing-key: a post has no `name` > add `name = ...`".to_owned(),
            format!(
                "{} column-not-read: 3 columns of p.csv not read: \"Name\", \"Name\", \"Colour\" > map them to keys, or add `ignore = [\"Name\", \"Name\", \"Colour\"]`",
                at(2, 8)
            ),
            format!(
                "{} column-repeated: \"Name\" stands above two columns of p.csv, A and B > say which is meant, as `{{ heading = \"Name\", nth = 2 }}`, or give one of them another heading in the file",
                at(3, 33)
            ),
            format!("{} column-unknown: p.csv has no column \"Hue\"", at(4, 11)),
        ]
    );
    assert_eq!(
        of("Name;Bank\nTac;1\n", "columns = { name = \"Name\" }"),
        ["p.csv:1:1 column-unknown: the headings of p.csv stand in one cell > add `separator = \";\"`",]
    );
    assert_eq!(
        of("Name;Bank\nTac;1\n", "columns = { name = \"Name\" }\nseparator = \";\"\nignore = [\"Bank\"]"),
        Vec::<String>::new()
    );
    assert_eq!(
        of("Nam,Unit\nTac,1\n", "columns = { name = { heading = \"Nam\", unit = \"furlong\" } }")[1],
        format!(
            "{} bad-value: unknown word \"furlong\" > write one of: GHz, MHz, kHz, Hz, kW, W, mW, km, m, ft, d, h, min, s, dBi, dBd, dB, ppm, baud",
            at(3, 46)
        )
    );
    assert_eq!(
        of("Nam\n", "columns = { name = \"Name\" }\nignore = [\"Nam\"]"),
        [format!("{} column-unknown: p.csv has no column \"Name\" > did you mean \"Nam\"?", at(3, 20)),]
    );
    assert_eq!(
        of("Name\nTac\n", "columns = { name = \"Name\" }\nheading-row = 3"),
        [format!("{} bad-value: row 3 of p.csv is empty", at(4, 15))]
    );
    assert_eq!(
        of("Name\nTac,1\n", "columns = { name = \"Name\" }"),
        ["p.csv:2:1 row-uneven: this row has 2 cells, and there are 1 heading",]
    );
    let records = shelf("[[channels]]\nname = \"Tac\"\nsimplex = \"146.550 MHz\"\n");
    assert_eq!(
        told(&records),
        [format!(
            "plan.toml:{}:3 unknown-record: `channels` is for a table of records, and no `file` is named > write `[[channel]]` for a record that stands here",
            HEAD.lines().count() + 1
        )]
    );
}

/// Whatever kind of records a plan may have many of, a table may have them: one way for all.
#[test]
fn every_kind_of_records_may_stand_in_a_table() {
    let schema = plan::schema();
    let is_table = |schema: &serde_json::Value| schema["$ref"] == "#/$defs/table";
    let kinds: Vec<&String> =
        schema["properties"].as_object().unwrap().iter().filter(|(_, s)| is_table(s)).map(|(kind, _)| kind).collect();
    // The others are those of which a plan has one: an `Option` in the list of records.
    assert_eq!(kinds.len(), plan::RECORD_KINDS.len() - 5, "{kinds:?}");
    for kind in kinds {
        let world =
            shelf(&format!("[{kind}]\nfile = \"p.csv\"\ncolumns = {{ of-no-use = \"X\" }}\n")).with("p.csv", "X\n7\n");
        let told = told(&world);
        let unknown = format!("plan.toml:{}:13 unknown-key: unknown key `of-no-use`", HEAD.lines().count() + 3);
        assert!(told.iter().any(|line| line.starts_with(&unknown)), "{kind}: {told:#?}");
    }
}

/// The rows of a table go on where others are; a number that somebody wrote is left to them.
#[test]
fn rows_are_numbered_in_their_order() {
    let rows = |tables: &str, csv: &str| {
        let world = shelf(tables).with("p.csv", csv);
        let (_, found, plan) = understood(&world);
        assert_eq!(found.iter().map(|finding| &finding.message).collect::<Vec<_>>(), Vec::<&String>::new());
        let row = |one: &plan::Channel| {
            format!("{} {}", one.id.value, one.row.as_ref().map_or("-".to_owned(), |row| row.value.to_string()))
        };
        plan.channels.iter().map(row).collect::<Vec<_>>()
    };
    let table = "[channels]\nfile = \"p.csv\"\ncolumns = { name = \"Name\", simplex = \"On\" }\n";
    let csv = "Name,On\nTac Z,146.420 MHz\nTac A,146.440 MHz\n";
    let typed =
        |name: &str, on: &str, row: &str| format!("[[channel]]\nname = \"{name}\"\nsimplex = \"{on} MHz\"\n{row}\n");
    assert_eq!(rows(table, csv), ["tac-a 2", "tac-z 1"]);
    let beside = typed("Two", "146.460", "row = 2") + &typed("Bare", "146.480", "") + table;
    assert_eq!(rows(&beside, csv), ["bare -", "tac-a 3", "tac-z 1", "two 2"]);
    let all = typed("Two", "146.460", "") + &typed("Bare", "146.480", "") + table;
    assert_eq!(rows(&all, csv), ["bare 2", "tac-a 4", "tac-z 3", "two 1"]);
}

/// A row that says a repeater with its channel is the same as both records.
#[test]
fn a_channel_may_say_its_own_repeater() {
    let own = "[[channel]]\nid = \"cmd\"\nrow = 1\nname = \"CMD 1\"\noutput = \"146.940 MHz\"\ninput = \"usual\"\ntone-in = \"103.5 Hz\"\ncall = \"WZ7QUR\"\n";
    let (files, found, plan) = understood(&shelf(own));
    assert_eq!(found.iter().map(|finding| &finding.message).collect::<Vec<_>>(), Vec::<&String>::new());
    let (channel, repeater) = (plan.channels.iter().next().unwrap(), plan.repeaters.iter().next().unwrap());
    let send = channel.send.unwrap();
    assert_eq!(
        format!("{} {} {} {:?}", channel.hear.value, send.value, channel.send_tone.value, channel.route),
        format!(
            "146.940 MHz 146.340 MHz 103.5 Hz {:?}",
            plan::Route::Repeater(channel.id.with(plan::Ref::to(repeater.id.value.clone())))
        )
    );
    let call = repeater.call.as_ref().unwrap();
    assert_eq!((repeater.id.as_str(), call.value.to_string().as_str()), ("cmd", "WZ7QUR"));
    assert_eq!(format!("{} {}", repeater.input.unwrap().value, repeater.tones.tone_out.value), "146.340 MHz unknown");
    assert_eq!(files.text(repeater.input.unwrap().shift.span), Some("\"usual\""));
    let line = HEAD.lines().count();
    let of = |text: &str| told(&shelf(text)).into_iter().map(|told| told.replace("plan.toml:", "")).collect::<Vec<_>>();
    assert_eq!(
        of(&own.replace("146.940", "52.050")),
        [format!(
            "{}:9 bad-value: the band plan has no usual shift for 52.050 MHz > write the shift as \"-600 kHz\", or the input as a frequency",
            line + 6
        )]
    );
    assert_eq!(
        of(&own.replace("output", "simplex").replace("input = \"usual\"\n", "").replace("call = \"WZ7QUR\"\n", "")),
        [format!(
            "{}:11 channel-with-two-routes: `tone-in` is said of a repeater, and this channel has no `output` > write `tx-tone`, or `output` with the frequency that the repeater sends",
            line + 6
        )]
    );
    assert_eq!(
        of(&own.replace("tone-in = \"103.5 Hz\"\n", "")),
        [format!("{}:1 missing-key: a channel has no `tone-in` > add `tone-in = \"103.5 Hz\"`", line + 1)]
    );
    let twice = format!(
        "{own}[[repeater]]\nid = \"cmd\"\noutput = \"147.000 MHz\"\ninput = \"-600 kHz\"\ntone-in = \"carrier\"\ntone-out = \"off\"\n"
    );
    assert_eq!(
        of(&twice),
        [format!(
            "{}:6 duplicate-id: channel CMD 1 has its own repeater, and another repeater is called cmd > write `repeater = \"cmd\"` in place of `output`, or give the channel another id",
            line + 2
        )]
    );
}

/// An archive of these parts.
fn archive(parts: &[(&str, &[u8])]) -> Vec<u8> {
    let mut archive = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        archive.start_file(*name, zip::write::SimpleFileOptions::default()).unwrap();
        archive.write_all(bytes).unwrap();
    }
    archive.finish().unwrap().into_inner()
}

const OF_POSTS: &str = "[posts]\nfile = \"p\"\ncolumns = { name = \"Name\", from = \"From\" }\n";

/// A workbook with this sheet, and these texts that its cells share.
fn xlsx(sheet: &str, shared: &str, book: &str) -> Vec<u8> {
    let relation = |id: &str, kind: &str, target: &str| {
        format!("<Relationship Id=\"{id}\" Type=\"http://example.org/{kind}\" Target=\"{target}\"/>")
    };
    let of = |relations: String| format!("<?xml version=\"1.0\"?><Relationships>{relations}</Relationships>");
    let root = of(relation("a", "officeDocument", "xl/workbook.xml"));
    let inner = of(relation("s", "worksheet", "/xl/one.xml")
        + &relation("t", "sharedStrings", "texts.xml")
        + &relation("f", "styles", "styles.xml"));
    let workbook = format!("<workbook>{book}<sheets><sheet name=\"One\" r:id=\"s\"/></sheets></workbook>");
    let styles = "<styleSheet><cellXfs><xf numFmtId=\"0\"/><xf numFmtId=\"22\"/></cellXfs></styleSheet>";
    archive(&[
        ("_rels/.rels", root.as_bytes()),
        ("xl/_rels/workbook.xml.rels", inner.as_bytes()),
        ("xl/workbook.xml", workbook.as_bytes()),
        ("xl/styles.xml", styles.as_bytes()),
        ("xl/texts.xml", shared.as_bytes()),
        ("xl/one.xml", format!("<worksheet><sheetData>{sheet}</sheetData></worksheet>").as_bytes()),
    ])
}

fn ods(content: &str) -> Vec<u8> {
    archive(&[("mimetype", b"application/vnd.oasis.opendocument.spreadsheet"), ("content.xml", content.as_bytes())])
}

fn names(world: &dyn World) -> Vec<String> {
    let (_, found, plan) = understood(world);
    assert_eq!(found.iter().map(|finding| &finding.message).collect::<Vec<_>>(), Vec::<&String>::new());
    let from = |post: &plan::Post| post.from.as_ref().map_or("-".to_owned(), |from| from.value.to_string());
    plan.posts.iter().map(|post| format!("{} {}", post.name.value, from(post))).collect()
}

#[test]
fn cells_of_workbooks_are_read_as_they_are_shown() {
    let sheet = "<row r=\"2\"><c r=\"B2\" t=\"s\"><v>0</v></c><c t=\"inlineStr\"><is><t>From</t></is></c></row>\
        <row><c r=\"B3\" t=\"s\"><v>1</v></c><c s=\"1\"><v>46361.25</v></c></row>\
        <row r=\"5\"><c r=\"B5\" t=\"str\"><f>A1&amp;B1</f><v>B &amp; C</v></c><c r=\"C5\" t=\"d\"><v>2026-12-05T08:00:00</v></c></row>\
        <row r=\"6\"><c r=\"B6\"><v>7</v></c><c r=\"C6\" t=\"s\"/></row>";
    let shared = "<sst uniqueCount=\"99999999999999\"><si><t>Name</t></si><si><r><t>North </t></r><rPh><t>x</t></rPh><r><t>gate&#x41;</t></r></si></sst>";
    let world = |book: &str| shelf(OF_POSTS).with("p", xlsx(sheet, shared, book));
    assert_eq!(names(&world("")), ["7 -", "B & C 2026-12-05 08:00", "North gateA 2026-12-05 06:00"]);
    let later = names(&world("<workbookPr date1904=\"1\"/>"));
    assert_eq!(later[2], "North gateA 2030-12-06 06:00");
    // No value at all, where one is reckoned, and where it went wrong.
    let sheet = "<row><c t=\"str\"><v>Name</v></c><c t=\"str\"><v>From</v></c></row><row><c><f>A1</f></c><c t=\"e\"><v>#REF!</v></c></row>";
    let told = told(&shelf(OF_POSTS).with("p", xlsx(sheet, "<sst/>", "")));
    assert_eq!(
        told,
        [
            "p, sheet One, row 2, column A (Name) bad-value: this cell holds a formula whose result is not in the file",
            "p, sheet One, row 2, column B (From) bad-value: this cell holds an error",
        ]
    );
}

#[test]
fn cells_of_open_documents_are_read_as_they_are_shown() {
    let cell =
        |value: &str, said: &str| format!("<table:table-cell {value}><text:p>{said}</text:p></table:table-cell>");
    let text = |said: &str| cell("office:value-type=\"string\"", said);
    let row = |cells: &str| {
        format!("<table:table-row>{cells}<table:table-cell table:number-columns-repeated=\"16000\"/></table:table-row>")
    };
    let rows = row("<table:table-cell table:number-columns-repeated=\"2\"/>")
        + &row(&(text("Name") + &text("From")))
        + "<table:table-row table:number-rows-repeated=\"3\"><table:table-cell/></table:table-row>"
        + &row(&(text("North<text:s text:c=\"2\"/>gate<office:annotation><text:p>no</text:p></office:annotation>")
            + &cell("office:value-type=\"date\" office:date-value=\"2026-12-05T08:00:00\"", "5 Dec")))
        + &row(&cell("office:value-type=\"float\" office:value=\"146.34000000000003\"", "146.34"))
        + "<table:table-row table:number-rows-repeated=\"1048000\"><table:table-cell table:number-columns-repeated=\"16000\"/></table:table-row>";
    let content = |rows: &str| {
        format!(
            "<office:document-content><office:spreadsheet><table:table table:name=\"Other\"/><table:table table:name=\"One\">{rows}</table:table></office:spreadsheet></office:document-content>"
        )
    };
    let table = OF_POSTS.replace("file =", "sheet = \"One\"\nfile =");
    let world = |content: &str| shelf(&table).with("p", ods(content));
    assert_eq!(names(&world(&content(&rows))), ["146.34 -", "North  gate 2026-12-05 08:00"]);
    let line = HEAD.lines().count();
    // The first is read where none is named, and said.
    let told_of = |table: &str, bytes: Vec<u8>| told(&shelf(table).with("p", bytes));
    assert_eq!(
        told_of(OF_POSTS, ods(&content(&rows))),
        [
            format!(
                "plan.toml:{}:8 sheet-not-named: p has more than one sheet; the first, \"Other\", is read, and not \"One\" > add `sheet = \"Other\"`",
                line + 2
            ),
            format!("plan.toml:{}:8 table-unreadable: p is empty", line + 2),
        ]
    );
    assert_eq!(
        told_of(&table.replace("\"One\"", "\"Onne\""), ods(&content(&rows))),
        [format!("plan.toml:{}:9 sheet-unknown: p has no sheet \"Onne\" > did you mean \"One\"?", line + 2)]
    );
    // Cut off anywhere: a finding, and an end.
    let whole = content(&rows);
    for cut in (0..whole.len()).step_by(97) {
        let told = told_of(&table, ods(&whole[..cut]));
        assert!(
            told.iter().any(|line| line.contains("table-unreadable") || line.contains("sheet-unknown")),
            "{cut}: {told:?}"
        );
    }
}

/// What says little and is much: each refused with the cap, at once, whatever the file says of itself.
#[test]
fn traps_in_spreadsheets_are_refused_by_their_cap() {
    let line = HEAD.lines().count() + 2;
    let refused = |bytes: Vec<u8>| {
        #[expect(clippy::disallowed_methods, reason = "what is refused is refused soon")]
        let start = Instant::now();
        let told = told(&shelf(OF_POSTS).with("p", bytes));
        assert!(start.elapsed().as_secs() < 20, "{told:?}");
        assert_eq!(told.len(), 1, "{told:#?}");
        let help = " > leave out what is no part of the plan, or make two plans of it";
        let head = format!("plan.toml:{line}:8 more-than-taken: p is not read: it has more than ");
        told[0].strip_prefix(&head).and_then(|rest| rest.strip_suffix(help)).unwrap_or(&told[0]).to_owned()
    };
    let said = |cap: &caps::Cap| format!("{} {}", cap.most, cap.of);
    let row = |cell: &str, times: usize| {
        format!("<table:table-row table:number-rows-repeated=\"{times}\">{cell}</table:table-row>")
    };
    let cell = |times: usize| {
        format!(
            "<table:table-cell office:value-type=\"float\" office:value=\"1\" table:number-columns-repeated=\"{times}\"/>"
        )
    };
    let sheet = |rows: &str| ods(&format!("<table:table table:name=\"A\">{rows}</table:table>"));
    assert_eq!(refused(sheet(&row(&cell(1), usize::MAX))), said(&caps::TABLE_ROWS));
    assert_eq!(refused(sheet(&row(&cell(usize::MAX), 1))), said(&caps::TABLE_COLUMNS));
    assert_eq!(refused(sheet(&row(&cell(200), 100_000))), said(&caps::TABLE_CELLS));
    assert_eq!(
        refused(xlsx("<row r=\"99999999999\"><c r=\"A9\"><v>1</v></c></row>", "<sst/>", "")),
        said(&caps::TABLE_ROWS)
    );
    assert_eq!(
        refused(xlsx("<row r=\"1\"><c r=\"ZZZZZZZZZZZZZZ1\"><v>1</v></c></row>", "<sst/>", "")),
        said(&caps::TABLE_COLUMNS)
    );
    // Blanks of a hundred megabytes pack to a tenth of one.
    let blanks = " ".repeat(100 << 20);
    let trap = xlsx(&blanks, "<sst/>", "");
    assert!(trap.len() < 200_000, "{} bytes", trap.len());
    assert_eq!(refused(trap), said(&caps::UNPACKED_TIMES));
    // What packs little in each part, and is too much in all.
    let mut noise = 1_u64;
    let texts: String = (0..(70 << 20) / 8).fold(String::new(), |mut texts, n: u32| {
        noise = noise.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        texts.push_str(if n.is_multiple_of(2048) { "x       " } else { "        " });
        if n.is_multiple_of(4096) {
            texts.push_str(&(noise >> 33).to_string());
        }
        texts
    });
    let told = refused(xlsx(&texts, &format!("<sst>{texts}</sst>"), ""));
    assert!([said(&caps::UNPACKED), said(&caps::UNPACKED_TIMES)].contains(&told), "{told}");
}

/// Damaged, locked and older files say so.
#[test]
fn files_that_are_no_spreadsheets_are_told() {
    let line = HEAD.lines().count() + 2;
    let help = "open it in a spreadsheet program, and save it as .xlsx or .ods without a password";
    let why = |bytes: &[u8]| {
        let told = told(&shelf(OF_POSTS).with("p", bytes));
        let head = format!("plan.toml:{line}:8 table-unreadable: p cannot be read: ");
        assert_eq!(told.len(), 1, "{told:#?}");
        told[0]
            .strip_prefix(&head)
            .and_then(|rest| rest.strip_suffix(&format!(" > {help}")))
            .unwrap_or(&told[0])
            .to_owned()
    };
    assert_eq!(why(&[0xD0, 0xCF, 0x11, 0xE0, 0xA1]), "it is a spreadsheet of the older form, or under a password");
    assert_eq!(why(b"PK\x03\x04"), "it is cut short, or no spreadsheet");
    assert_eq!(
        why(&archive(&[("word/document.xml", b"<a/>")])),
        "its part _rels/.rels is missing, or cannot be unpacked"
    );
    let book = team();
    assert_eq!(why(&book[..book.len() / 2]), "it is cut short, or no spreadsheet");
    assert_eq!(
        why(&xlsx("<row><c t=\"s\"><v>5</v></c></row>", "<sst/>", "")),
        "a cell of it names a text that is not there"
    );
    assert_eq!(
        why(&xlsx("<row r=\"2\"><c><v>5</v></c></row><row r=\"1\"><c><v>5</v></c></row>", "<sst/>", "")),
        "its cells are out of order"
    );
    assert_eq!(why(&xlsx("<row></sheetData>", "<sst/>", "")), "its part xl/one.xml cannot be read");
}

/// The same workbook from other programs' libraries, where those are installed: as XLSX, and as ODS.
#[test]
#[expect(clippy::disallowed_macros, reason = "a test that is skipped says so")]
fn other_writers_make_the_same_plan() {
    let csv = [("Channels", channels()), ("People", people()), ("Places", places())];
    let folder = tempfile::tempdir().unwrap();
    for (name, sheet) in &csv {
        #[expect(clippy::disallowed_methods, reason = "a test hands files to another program")]
        std::fs::write(folder.path().join(format!("{name}.csv")), sheet.csv()).unwrap();
    }
    let ours = kit(&Shelf::new().with("plan.toml", TEAM).with("team.xlsx", team()));
    let others = [
        ("openpyxl", "team.xlsx", include_str!("../tables/second.py")),
        ("odf", "team.ods", include_str!("../tables/ods.py")),
    ];
    for (library, file, script) in others {
        let out = folder.path().join(file);
        // The system's own has its packages; another may stand before it.
        let run = ["/usr/bin/python3", "python3"].into_iter().find_map(|python| {
            let run = Command::new(python).arg("-c").arg(script).arg(folder.path()).arg(&out).output().ok()?;
            (run.status.code() != Some(77)).then_some(run)
        });
        let Some(run) = run else {
            eprintln!("skipped: python3 with {library} is not installed");
            continue;
        };
        assert!(run.status.success(), "{library}: {}", String::from_utf8_lossy(&run.stderr));
        #[expect(clippy::disallowed_methods, reason = "a test reads what another program wrote")]
        let bytes = std::fs::read(&out).unwrap();
        assert_ne!(bytes, team(), "{library} wrote it");
        let theirs = kit(&Shelf::new().with("plan.toml", TEAM.replace("team.xlsx", file)).with(file, bytes));
        assert!(ours == theirs, "{library}: another kit from the same values");
    }
}

/// Notes ask nothing of anybody.
#[test]
fn columns_that_nobody_reads_are_a_note() {
    let world = shelf("[posts]\nfile = \"p.csv\"\ncolumns = { name = \"Name\" }\n").with("p.csv", "Name,Bank\nTac,1\n");
    let (_, found, _) = understood(&world);
    let only = found.iter().next().unwrap();
    assert_eq!(
        (found.len(), only.severity(), only.message.as_str()),
        (1, Severity::Note, "a column of p.csv not read: \"Bank\"")
    );
}

/// Two columns are one value: a comma between numbers, a blank between words; what is missing in one of them is told at its cell.
#[test]
fn a_value_that_goes_on_in_another_column_is_one() {
    let table = "[places]\nfile = \"p.csv\"\nseparator = \";\"\ndecimal = \"comma\"\ncolumns = { code = \"Code\", tactical = \"Tac\", name = { heading = \"First\", followed-by = \"Last\" }, position = { heading = \"Lat\", followed-by = \"Lon\" } }\ndefaults = { kind = \"other\" }\n";
    let csv =
        "Code;Tac;First;Last;Lat;Lon\nA;Alder;Old;Mill;47,1;-109,4\nB;Birch;Mill;;47.2;-109.5\nC;Cedar;;Hall;47,3;\n";
    let world = shelf(table).with("p.csv", csv);
    let (_, _, plan) = understood(&world);
    let row = |place: &plan::Place| {
        let position = place.position.as_ref().map(|position| position.value.to_string());
        format!("{} | {}", place.name.value, position.unwrap_or_default())
    };
    let places: Vec<String> = plan.places.iter().map(row).collect();
    assert_eq!(places, ["Mill | 47.2, -109.5", "Old Mill | 47.1, -109.4"]);
    assert_eq!(
        told(&world),
        ["p.csv:4:15 bad-value: 47,3 stands alone below \"Lat\" and \"Lon\" > fill both cells, or none"]
    );
    let line = HEAD.lines().count() + 5;
    let wrong = told(&shelf(&table.replace("\"Lon\"", "\"Long\"")).with("p.csv", csv));
    let at = format!("plan.toml:{line}:");
    let is_told =
        |line: &String| line.starts_with(&at) && line.contains("column-unknown: p.csv has no column \"Long\"");
    assert!(wrong.iter().any(is_told), "{wrong:#?}");
}

/// Titles between rows are skipped where the plan names them; the number of an empty line is none; all else is a record.
#[test]
fn titles_between_rows_are_skipped_by_name() {
    let table = "[channels]\nfile = \"c.csv\"\nskip = [\"UHF\", \"Spare\"]\ncolumns = { row = \"Ch\", name = \"Name\", simplex = { heading = \"MHz\", unit = \"MHz\" } }\n";
    let csv = "Ch,Name,MHz\n1,TAC 1,146.55\n,UHF,\n2,UHF,446.05\n3,,\n,HF,\n";
    let world = shelf(table).with("c.csv", csv);
    let (_, _, plan) = understood(&world);
    let names: Vec<&str> = plan.channels.iter().map(|channel| channel.name.as_str()).collect();
    assert_eq!(names, ["TAC 1", "UHF"]);
    let line = HEAD.lines().count() + 3;
    assert_eq!(
        told(&world),
        [
            "c.csv:6:2 channel-without-frequency: a channel names no frequency > add repeater, output, gateway, simplex, dial, or rx and tx".to_owned(),
            format!("plan.toml:{line}:16 bad-value: no row of c.csv has \"Spare\" and nothing else"),
        ]
    );
}

/// A sheet shows no plus: where a column is of shifts, a number without a sign leads up; elsewhere it is a frequency.
#[test]
fn a_shift_without_a_sign_leads_up() {
    let table = "[repeaters]\nfile = \"r.csv\"\ncolumns = { id = \"Id\", output = { heading = \"Out\", unit = \"MHz\" }, input = { heading = \"Shift\", unit = \"MHz\", signed = true } }\ndefaults = { call = \"WZ7QUR\", tone-in = \"carrier\", tone-out = \"off\" }\n";
    let csv = "Id,Out,Shift\na,433.0,1.6\nb,145.6,-0.6\nc,147.0,+0.6\nd,146.7,\u{2212}0.6\n";
    let inputs = |table: &str| {
        let (_, _, plan) = understood(&shelf(table).with("r.csv", csv));
        plan.repeaters
            .iter()
            .map(|one| one.input.map_or_else(String::new, |input| input.to_string()))
            .collect::<Vec<_>>()
    };
    assert_eq!(inputs(table), ["434.600 MHz", "145.000 MHz", "147.600 MHz", "146.100 MHz"]);
    assert_eq!(
        inputs(&table.replace(", signed = true", "")),
        ["1600.0 kHz", "145.000 MHz", "147.600 MHz", "146.100 MHz"]
    );
}

/// Every channel of FRS, GMRS and MURS, and the weather's: 64 rows by their published names alone.
#[test]
fn sixty_four_published_channels_take_two_pocket_sheets() {
    let numbered = |service: &str, all: std::ops::RangeInclusive<u32>, end: &str| {
        all.map(|n| format!("{service} {n}{end}\n")).collect::<String>()
    };
    let weather =
        ["400", "425", "450", "475", "500", "525", "550"].map(|kilohertz| format!("weather 162.{kilohertz}\n"));
    let csv = format!(
        "Channel\n{}{}{}{}{}",
        numbered("FRS", 1..=22, ""),
        numbered("GMRS", 1..=22, ""),
        numbered("GMRS", 15..=22, "R"),
        numbered("MURS", 1..=5, ""),
        weather.concat()
    );
    assert_eq!(csv.lines().count(), 65);
    let toml = "[channels]\nfile = \"family.csv\"\ncolumns = { standard = \"Channel\" }\n[[document]]\nid = \"card\"\nkind = \"channel-card\"\naudience = \"team\"\n";
    let world = shelf(toml).with("family.csv", csv);
    let (outcome, kit) = fieldsheaf::build(&world, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap();
    let told: Vec<&String> = outcome.findings.iter().filter(|one| one.is_error()).map(|one| &one.message).collect();
    assert_eq!(told, Vec::<&String>::new());
    let pages: Vec<usize> = kit.unwrap().files.iter().map(|file| file.pages.len()).collect();
    assert_eq!(pages, [2]);
}

/// What nobody means by a table, each told at its cell, its column or the file: formulas that failed, days where frequencies stand, doubled and
/// thousands of headings, a cell of a megabyte, control characters, decimal commas, defaults of another kind.
#[test]
fn hostile_tables_are_told_at_their_places() {
    let table = |more: &str| {
        format!(
            "[channels]\nfile = \"c.csv\"\ncolumns = {{ name = \"Name\", simplex = {{ heading = \"MHz\", unit = \"MHz\" }}{more} }}\n"
        )
    };
    let first = |table: &str, csv: &str| told(&shelf(table).with("c.csv", csv)).into_iter().next().unwrap_or_default();
    let frequency = "is not a frequency > write it as \"146.940 MHz\" or \"7245.0 kHz\"";
    for cell in ["=A1+0.6", "2026-10-04", "Oct-46", "146.55.0", "1.4655E2", "NaN", "\u{0}146.55", "146.55 MHz MHz"] {
        let said = first(&table(""), &format!("Name,MHz\nTAC 1,{cell}\n"));
        assert!(said.starts_with("c.csv:2:7 bad-value: ") && said.ends_with(frequency), "{cell:?}: {said}");
    }
    let comma = first(&table(""), "Name,MHz\nTAC 1,\"146,55\"\n");
    assert_eq!(comma, format!("c.csv:2:7 bad-value: \"146,55\" {frequency}"));
    let long = first(&table(""), &format!("Name,MHz\n{},146.55\n", "A".repeat(1 << 20)));
    assert!(long.starts_with("c.csv:2:1 bad-value: ") && long.len() < 2000, "{} bytes", long.len());
    let long = first(&table(""), &format!("Name,MHz\nTAC 1,{}\n", "A".repeat(1 << 20)));
    assert!(
        long.starts_with("c.csv:2:7 bad-value: \"AAA") && long.ends_with(frequency) && long.len() < 2000,
        "{} bytes",
        long.len()
    );
    let many: String = (0..10_000).map(|n| format!(",H{n}")).collect();
    let wide = first(&table(""), &format!("Name,MHz{many}\nTAC 1,146.55\n"));
    assert!(
        wide.starts_with("plan.toml:") && wide.contains(&caps::TABLE_COLUMNS.most.to_string()) && wide.len() < 2000,
        "{wide}"
    );
    let unread: String = (0..200).map(|n| format!(",Heading {n}")).collect();
    let wide = first(&table(""), &format!("Name,MHz{unread}\nTAC 1,146.55{}\n", ",".repeat(200)));
    assert!(
        wide.contains("column-not-read: 200 columns of c.csv not read: \"Heading 0\"") && wide.len() < 2000,
        "{} bytes: {wide}",
        wide.len()
    );
    for (defaults, said) in [
        ("defaults = 5", "table of keys"),
        ("defaults = { power = 5 }", "5 has no unit"),
        ("defaults = { power = [] }", "list"),
        ("defaults = { nmae = \"x\" }", "nmae"),
        ("defaults = { verified = \"yesterday\" }", "text stands where a table is wanted"),
    ] {
        let all =
            told(&shelf(&format!("{}{defaults}\n", table(""))).with("c.csv", "Name,MHz\nTAC 1,146.55\nTAC 2,146.58\n"));
        assert!(all.iter().any(|line| line.contains(said)), "{defaults}: {all:#?}");
        assert!(
            all.iter().all(|line| line.starts_with("plan.toml:") || line.starts_with("c.csv:")),
            "{defaults}: {all:#?}"
        );
    }
    for (defaults, said) in [
        ("[defaults]\nchannel = 5\n", "5 stands where a table of keys is wanted"),
        (
            "[defaults.channel]\npower = 5\n[[channel]]\nid = \"a\"\nname = \"A\"\nsimplex = \"146.55 MHz\"\n",
            "5 has no unit",
        ),
        ("[defaults.chanel]\npower = \"5 W\"\n", "chanel"),
        ("[[defaults]]\nchannel = { power = \"5 W\" }\n", "defaults"),
    ] {
        let all = told(&shelf(defaults));
        assert!(all.iter().any(|line| line.contains(said) && line.starts_with("plan.toml:")), "{defaults}: {all:#?}");
    }
}
