//! Forms without a plan, from any file: numbered, in sets, in pads, filled in on a screen, and what is wrong with them.
#![expect(clippy::disallowed_methods, reason = "a test reads what was written")]

use crate::support::desk::Desk;
use lopdf::{Document, Object};
use std::process::Command;

const BEDS: &str = "[[form]]\nid = \"beds\"\ntitle = \"Bed report\"\nedition = \"1\"\nread-aloud = [\"1 to 3\"]\nline = [\n\
    { field = [{ number = 1, label = \"Hospital\", share = 8 }, { number = 2, label = \"As of\", share = 4, date-time = \"local\" }] },\n\
    { field = [{ number = 3, label = \"Beds free\", numbered = true, row-labels = [\"adult\", \"child\"], columns = [\n\
        { heading = \"Kind\", share = 6 }, { heading = \"Now\", share = 6 },\n    ] }] },\n]\n";

#[test]
fn a_form_of_any_file_is_printed_without_a_plan() {
    let desk = Desk::new();
    desk.file("beds.toml", BEDS);
    desk.run(&["form", "beds.toml", "--out", "beds.pdf", "--copies", "2", "--serial", "41"]).exits(0);
    let read = Document::load_mem(&std::fs::read(desk.path("beds.pdf")).unwrap()).unwrap();
    assert_eq!(read.get_pages().len(), 2);
    let words = read.extract_text(&[1, 2]).unwrap();
    assert!(words.contains("number 0041") && words.contains("number 0042"), "{words}");
    // Two on a sheet: each number once.
    desk.run(&["form", "beds.toml", "--layout", "pad", "--out", "pad.pdf", "--copies", "4", "--serial", "1"]).exits(0);
    let read = Document::load_mem(&std::fs::read(desk.path("pad.pdf")).unwrap()).unwrap();
    assert_eq!(read.get_pages().len(), 2);
    let words = read.extract_text(&[1, 2]).unwrap();
    for number in ["0001", "0002", "0003", "0004"] {
        assert_eq!(words.matches(&format!("number {number}")).count(), 1, "{words}");
    }
    // A set: each number on each of its sheets.
    desk.file("set.toml", BEDS.replace("read-aloud", "sheet = [\"goes out\", \"stays here\"]\nread-aloud"));
    desk.run(&["form", "set.toml#beds", "--out", "set.pdf", "--serial", "7"]).exits(0);
    let read = Document::load_mem(&std::fs::read(desk.path("set.pdf")).unwrap()).unwrap();
    let words = read.extract_text(&[1, 2]).unwrap();
    assert!(words.contains("number 0007, goes out") && words.contains("number 0007, stays here"), "{words}");
    desk.run(&["form", "set.toml#bed", "--out", "x.pdf"])
        .exits(2)
        .says("no form of this file is called bed; it has beds");
}

#[test]
fn what_is_wrong_with_a_form_is_told_at_its_line() {
    let desk = Desk::new();
    let wrong = |text: &str| {
        desk.file("wrong.toml", text);
        desk.run(&["form", "wrong.toml", "--out", "wrong.pdf"]).exits(1)
    };
    wrong(&BEDS.replace("share = 8", "share = 9")).says("form-line-too-wide").says("wrong.toml:7:");
    wrong(&BEDS.replace("label = \"Hospital\"", "label = \"Hospital\", from = \"net.nmae\""))
        .says("write \"net.name\"");
    wrong(&BEDS.replace("edition", "base = \"beds\"\nedition")).says("form-base-circular").says("wrong.toml:4:");
    wrong(&BEDS.replace("numbered = true", "rows = 10000000"))
        .says("10000000 stands where a whole number from 1 to 2000");
    wrong(&BEDS.replace("edition", "copies = 65535\nedition")).says("from 1 to 1000 is wanted");
    wrong(&BEDS.replace("[\"1 to 3\"]", "[\"1 to 4\"]")).says("form beds reads block 4 aloud, and has no such block");
    wrong(&BEDS.replace("share = 8 }", "share = 8, height = \"5 mm\" }")).says("7 mm is the least");
    wrong(&BEDS.replace("heading = \"Now\", share = 6", "heading = \"Now\", share = 6, cells = [\"beds\"]"))
        .says("\"Now\" has 1 cell for 2 named rows")
        .says("wrong.toml:9:");
    let head = "[[form]]\nid = \"none\"\ntitle = \"None\"\nedition = \"1\"\n";
    wrong(&format!("{head}line = []\n")).says("a form has no `line`").says("wrong.toml:1:");
    wrong(&format!("{head}line = [\n{{ field = [{{ label = \"To\" }}] }},\n{{ field = [] }},\n]\n"))
        .says("a line of a form has no field")
        .says("wrong.toml:7:");
    assert!(!desk.path("wrong.pdf").exists());
    desk.file("warned.toml", BEDS.replace("number = 2, ", ""));
    desk.run(&["form", "warned.toml", "--out", "warned.pdf"])
        .exits(0)
        .says("form-block-unmarked")
        .says("warned.toml:7:");
    desk.file("empty.toml", "[plan]\ntitle = \"x\"\n");
    desk.run(&["form", "empty.toml", "--out", "x.pdf"]).exits(2).says("has no [[form]]");
}

#[test]
fn how_many_to_bring_is_rate_times_hours_and_a_reserve() {
    let desk = Desk::new();
    let said = |arguments: &[&str]| desk.run(&[&["form"], arguments].concat()).exits(0).said();
    // By hand: 10 x 12 x 1.3 = 156; two on a sheet, 78.
    let pack = said(&["radiogram", "--pack", "10x12"]);
    assert!(pack.contains("= 156, 2 on a sheet: bring 78 sheets (common practice, no source)"), "{pack}");
    let pack = said(&["message", "--pack", "10x12", "--reserve", "0"]);
    assert!(pack.contains("= 120: bring 120 sheets"), "{pack}");
    // A form of three sheets, and one that goes on behind the half of a pad.
    let pack = said(&["ics-201", "--pack", "1x4", "--reserve", "0"]);
    assert!(pack.contains(" rows on each, 3 sheets each: bring 3 sheets"), "{pack}");
    let pack = said(&["message", "--layout", "pad", "--pack", "10x12", "--reserve", "0"]);
    assert!(pack.contains("= 120, 2 on 2 sheets: bring 120 sheets"), "{pack}");
    desk.run(&["form", "message", "--pack", "10 12"]).exits(2).says("10x12");
}

#[test]
fn a_form_of_a_plan_is_filled_from_it() {
    let desk = Desk::with_plan();
    let form = |arguments: &[&str]| desk.run(&[&["form"], arguments].concat());
    form(&["ics-205", "--plan", "plan", "--audience", "team", "--out", "205.pdf"]).exits(0);
    form(&["log", "--plan", "plan", "--for", "nobody", "--out", "x.pdf"]).exits(2).says("no place, member or message");
    form(&["lgo", "--plan", "plan", "--out", "x.pdf"]).exits(1).says("unknown-form");
    assert!(std::fs::read(desk.path("205.pdf")).unwrap().starts_with(b"%PDF-1.7"));
    // A kit is made of documents that nobody asks for here.
    let county = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-plans/sorrel-river");
    form(&["ics-205", "--plan", county, "--audience", "team", "--out", "county.pdf"]).exits(0);
    // What the plan fills in is printed, all else can be typed; of several forms on a sheet nobody could tell which.
    let typed = |more: &[&str]| {
        form(&[&["ics-213", "--fillable", "--out", "213.pdf", "--replace"], more].concat()).exits(0);
        fields(&std::fs::read(desk.path("213.pdf")).unwrap()).into_iter().map(|(name, ..)| name).collect::<Vec<_>>()
    };
    let (blank, filled) = (typed(&[]), typed(&["--plan", "plan"]));
    assert!(!blank.is_empty() && filled.iter().all(|name| blank.contains(name)), "{filled:?} of {blank:?}");
    form(&["radiogram", "--plan", "plan", "--fillable", "--out", "x.pdf"]).exits(2).says("--layout full");
}

/// The fields of a fillable form: name, kind, help, in the order in which the document lists them.
fn fields(pdf: &[u8]) -> Vec<(String, String, String)> {
    let document = Document::load_mem(pdf).unwrap();
    let form = document.catalog().unwrap().get(b"AcroForm").unwrap().as_reference().unwrap();
    let form = document.get_dictionary(form).unwrap();
    let list = form.get(b"Fields").unwrap().as_array().unwrap();
    let text = |object: &Object| lopdf::decode_text_string(object).unwrap();
    list.iter()
        .map(|field| {
            let field = document.get_dictionary(field.as_reference().unwrap()).unwrap();
            assert!(field.get(b"A").is_err() && field.get(b"AA").is_err(), "no script");
            let kind = String::from_utf8_lossy(field.get(b"FT").unwrap().as_name().unwrap()).into_owned();
            (text(field.get(b"T").unwrap()), kind, text(field.get(b"TU").unwrap()))
        })
        .collect()
}

#[test]
fn a_fillable_form_lists_its_fields_as_they_are_read() {
    let desk = Desk::new();
    desk.file("beds.toml", BEDS);
    desk.run(&["form", "beds.toml", "--out", "fill.pdf", "--fillable"]).exits(0);
    desk.run(&["form", "beds.toml", "--out", "blank.pdf"]).exits(0);
    let (fill, blank) = (std::fs::read(desk.path("fill.pdf")).unwrap(), std::fs::read(desk.path("blank.pdf")).unwrap());
    assert!(Document::load_mem(&blank).unwrap().catalog().unwrap().get(b"AcroForm").is_err());
    let names: Vec<String> = fields(&fill).into_iter().map(|(name, ..)| name).collect();
    assert_eq!(names, ["1 Hospital", "2 As of", "3 Beds free, row 1, Now", "3 Beds free, row 2, Now"]);
    // The message: words in boxes, ticks, several lines; what is told of each is its label and help.
    desk.run(&["form", "message", "--out", "message.pdf", "--fillable"]).exits(0);
    let message = fields(&std::fs::read(desk.path("message.pdf")).unwrap());
    assert_eq!(message[1], ("2 To".to_owned(), "Tx".to_owned(), "2 To (Name and Position)".to_owned()));
    assert_eq!(message.iter().filter(|(_, kind, _)| kind == "Btn").count(), 2 + 2 + 4 + 2);
    let mut known: Vec<&String> = message.iter().map(|(name, ..)| name).collect();
    known.sort();
    known.dedup();
    assert_eq!(known.len(), message.len(), "no two have one name");
    desk.run(&["form", "radiogram", "--out", "x.pdf", "--fillable"]).exits(2).says("2 forms stand on one sheet");
}

#[test]
fn a_fillable_form_looks_blank_as_the_other_and_keeps_what_is_typed() {
    let desk = Desk::new();
    for (name, more) in [("blank.pdf", None), ("fill.pdf", Some("--fillable"))] {
        let arguments = ["form", "message", "--out", name];
        desk.run(&arguments.into_iter().chain(more).collect::<Vec<_>>()).exits(0);
    }
    let picture = |name: &str| {
        let stem = desk.path(&format!("{name}-seen"));
        let ran = Command::new("pdftoppm")
            .args(["-r", "110", "-gray", "-singlefile", "-png"])
            .arg(desk.path(name))
            .arg(&stem)
            .output()
            .ok()?;
        assert!(ran.status.success(), "{}", String::from_utf8_lossy(&ran.stderr));
        Some(image::open(desk.path(&format!("{name}-seen.png"))).unwrap().into_luma8())
    };
    let Some(blank) = picture("blank.pdf") else {
        say("skipped: pdftoppm is not installed");
        return;
    };
    assert_eq!(blank, picture("fill.pdf").unwrap(), "blank, pixel for pixel");
    let script = "import sys\ntry:\n    import pypdf\nexcept ImportError:\n    print('no pypdf'); sys.exit(0)\n\
        r = pypdf.PdfReader(sys.argv[1])\nf = r.get_fields()\nnames = list(f)\nprint(len(names)); print(names[0]); print(names[1])\n\
        w = pypdf.PdfWriter()\nw.append_pages_from_reader(r)\n\
        root = pypdf.generic.NameObject('/AcroForm')\nw._root_object[root] = r.trailer['/Root']['/AcroForm'].clone(w)\n\
        w.update_page_form_field_values(w.pages[0], {'2 To': 'Shelter manager', '9 Reply': 'On our way'})\nw.write(sys.argv[2])\n\
        g = pypdf.PdfReader(sys.argv[2])\nprint(sorted(a.get_object()['/T'] + '=' + a.get_object()['/V'] for a in g.pages[0]['/Annots'] if '/V' in a.get_object() and a.get_object()['/FT'] == '/Tx'))\n";
    desk.file("fill.py", script);
    let (from, to) = (desk.path("fill.pdf"), desk.path("filled.pdf"));
    let ran = Command::new("/usr/bin/python3").arg(desk.path("fill.py")).args([&from, &to]).output();
    let said = ran.map(|ran| {
        (String::from_utf8_lossy(&ran.stdout).into_owned(), String::from_utf8_lossy(&ran.stderr).into_owned())
    });
    let Ok((said, wrong)) = said.as_ref().map(|(said, wrong)| (said.as_str(), wrong.as_str())) else {
        say("skipped: python3 is not installed");
        return;
    };
    if said.contains("no pypdf") {
        say("skipped: pypdf is not installed");
        return;
    }
    let count = fields(&std::fs::read(&from).unwrap()).len();
    let expected = format!("{count}\n1 Incident Name\n2 To\n['2 To=Shelter manager', '9 Reply=On our way']\n");
    assert_eq!(said, expected, "{wrong}");
    assert_ne!(blank, picture("filled.pdf").unwrap(), "what was typed is seen");
}

#[expect(clippy::disallowed_macros, reason = "a test that is skipped says so")]
fn say(words: &str) {
    eprintln!("{words}");
}
