//! Who answers for a plan, who heard what, and who may write to whom: the words on paper, by value.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compose::block::{Block, Document, Text};
use fieldsheaf::compose::{Frozen, document, tasks};
use fieldsheaf::ground::{Files, Findings};
use fieldsheaf::{checks, edition, plan, source};

/// Everything that a plan orders.
fn documents(more: &str) -> Vec<Document> {
    let world = Shelf::new().with("plan.toml", format!("{HEAD}\n{more}"));
    let mut found = Findings::default();
    let mut records = source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = plan::build(&world, &mut records, &mut found);
    let profile = plan.profile.clone();
    let tasks = tasks(&plan, profile.as_ref().unwrap(), &mut found);
    let checked = checks::run(plan, profile, &records.files, &mut found);
    let errors: Vec<&str> = found.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    assert_eq!(errors, Vec::<&str>::new());
    let (nothing, files) = (Findings::default(), Files::default());
    let frozen = Frozen {
        findings: &nothing,
        files: &files,
        rules: &[],
        without_rows: &[],
        since: &fieldsheaf::compose::Since::default(),
    };
    let copies = tasks.iter().flat_map(fieldsheaf::compose::Task::copies);
    copies.map(|task| document(checked.as_ref().unwrap(), &task, Some(&frozen))).collect()
}

fn order(kind: &str, audience: &str, more: &str) -> String {
    format!("[[document]]\nid = \"x\"\nkind = \"{kind}\"\naudience = \"{audience}\"\n{more}\n")
}

/// Paragraphs as they are, rows with a bar between cells.
fn said(document: &Document, section: &str) -> Vec<String> {
    let blocks = document.sections.iter().filter(|own| own.key == section).flat_map(|own| &own.blocks);
    let words = |block: &Block| match block {
        Block::Paragraph(paragraph) => vec![plain(&paragraph.text)],
        Block::Table(table) => {
            let row = |cells: &[(&'static str, fieldsheaf::compose::block::Cell)]| {
                cells.iter().map(|(_, cell)| plain(&cell.text)).collect::<Vec<_>>().join(" | ")
            };
            table.rows.iter().map(|own| row(&own.cells)).collect()
        }
        _ => Vec::new(),
    };
    blocks.flat_map(words).collect()
}

fn plain(text: &Text) -> String {
    text.words().replace('\u{a0}', " ")
}

/// A member with a number and an address for different readers, beside the one of HEAD, who has neither.
fn reached(phone: &str, address: &str) -> String {
    let audience = if address.is_empty() { String::new() } else { format!("email-audience = \"{address}\"\n") };
    format!(
        "[[member]]\nid = \"qsb\"\ncall = \"WZ7QSB\"\nname = \"Tomas Lind\"\nname-audience = \"coordinator\"\nclass = \"general\"\n\
         expires = 2030-04-01\nrole = [\"Repeaters\"]\nphone = [{{ number = \"+1 406 555 0102\", audience = \"{phone}\", \
         confirmed = 2026-10-02 }}]\nconfirmed = 2026-10-01\nemail = \"tomas@example.org\"\n{audience}"
    )
}

#[test]
fn an_address_stands_on_the_cards_of_its_readers_and_in_no_byte_of_others() {
    let card = |phone: &str, address: &str, reader: &str| {
        documents(&format!("{}{}", reached(phone, address), order("contact-card", reader, ""))).swap_remove(0)
    };
    let both = said(&card("team", "team", "team"), "people");
    let own = "Lind, Tomas | WZ7QSB | +1 406 555 0102 | tomas@example.org | Repeaters | checked 2026-10-02";
    assert_eq!(both, [own, "No number on this copy: Ines Varga WZ7QRA."]);
    // The address alone: whoever may write to somebody may know to whom.
    assert_eq!(
        said(&card("coordinator", "leads", "leads"), "people")[0],
        "Lind, Tomas | WZ7QSB | not on this copy | tomas@example.org | Repeaters"
    );
    for (phone, address, reader) in [
        ("team", "leads", "team"),
        ("team", "", "leads"),
        ("coordinator", "coordinator", "leads"),
        ("team", "team", "public"),
    ] {
        let card = card(phone, address, reader);
        let bytes = format!("{card:?}{}", edition::canonical(&card, "").unwrap());
        assert!(!bytes.contains("tomas@"), "{phone}, {address}, {reader}: {bytes}");
        assert!(!bytes.contains("e-mail"), "a column without an address: {phone}, {address}, {reader}");
    }
    // Nobody named the readers: the coordinator alone.
    assert!(said(&card("team", "", "coordinator"), "people")[0].contains("tomas@example.org"));
    // Number and address both closed: one line counts the member, by no name.
    assert_eq!(
        said(&card("coordinator", "coordinator", "leads"), "people"),
        ["Varga, Ines | WZ7QRA | no phone", "1 more, not on this copy"]
    );
}

#[test]
fn a_card_to_scan_holds_the_address_where_its_reader_may_have_it() {
    let payload = |reader: &str| {
        let cards = documents(&format!("{}{}", reached("team", "leads"), order("contact-card", reader, "")));
        let blocks =
            cards[0].sections.iter().filter(|section| section.key == "scan").flat_map(|section| &section.blocks);
        let payload = blocks.filter_map(|block| match block {
            Block::Symbol(symbol) => Some(symbol.payload.words()),
            _ => None,
        });
        payload.collect::<String>()
    };
    assert!(
        payload("leads").ends_with("TEL:+1 406 555 0102\r\nEMAIL:tomas@example.org\r\nEND:VCARD\r\n"),
        "{}",
        payload("leads")
    );
    assert!(payload("team").ends_with("TEL:+1 406 555 0102\r\nEND:VCARD\r\n"), "{}", payload("team"));
}

const STATIONS: &str = r#"
[[repeater]]
id = "ridge"
call = "WZ7QUR"
output = "146.940 MHz"
input = "-600 kHz"
tone-in = "103.5 Hz"
tone-out = "off"
backup-power = "24 h"
verified = { on = 2026-10-04, by = "qra" }
[[repeater]]
id = "mesa"
call = "WZ7QUM"
output = "444.825 MHz"
input = "+5 MHz"
tone-in = "100.0 Hz"
tone-out = "off"
[[gateway]]
id = "box"
call = "WZ7QUX-1"
frequency = "145.050 MHz"
control = "attended"
backup-power = "12 h"
verified = { on = 2026-10-05 }
[[channel]]
id = "tac"
row = 1
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-06, by = "qra" }
[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "ridge"
"#;

#[test]
fn the_check_sheet_names_who_answers_for_the_edition_and_who_heard_what() {
    let plan = format!("{}{STATIONS}{}", reached("team", ""), order("check-sheet", "coordinator", ""));
    let sheet = documents(&plan).swap_remove(0);
    let summary = said(&sheet, "summary");
    let edition = "Edition 7, issued on 2026-11-20: prepared by WZ7QRA Ines Varga, approved by WZ7QRA Ines Varga.";
    assert!(summary.iter().any(|words| words.ends_with(edition)), "{summary:?}");
    assert_eq!(
        said(&sheet, "confirmed"),
        [
            "2026-10-04 | WZ7QRA Ines Varga | repeater Ridge",
            "2026-10-05 | nobody named | gateway Box",
            "2026-10-06 | WZ7QRA Ines Varga | channel TAC 1",
        ]
    );
    // Number and day of the edition are no content: the next edition of the same plan keeps the code.
    let text = edition::canonical(&sheet, "").unwrap();
    assert!(
        text.contains(" Edition \\e, issued on \\e: prepared by WZ7QRA Ines Varga, approved by WZ7QRA Ines Varga.\n"),
        "{text}"
    );
}

#[test]
fn the_channel_plan_says_by_whom_the_edition_was_approved() {
    let filled = |reader: &str| {
        let sheet = documents(&format!("{STATIONS}{}", order("channel-plan", reader, ""))).swap_remove(0);
        let forms = sheet.sections[0].blocks.iter().filter_map(|block| match block {
            Block::Form(form) => Some(form),
            _ => None,
        });
        let fields = forms.flat_map(|form| &form.lines).flat_map(|line| &line.fields);
        let own = fields.filter(|field| field.label.words() == "Edition approved by");
        own.map(|field| field.filled.as_ref().unwrap().words()).collect::<Vec<_>>()
    };
    assert_eq!(filled("team"), ["WZ7QRA Ines Varga"]);
    assert_eq!(filled("public"), ["WZ7QRA"], "the name is the team's");
}

#[test]
fn the_rehearsal_says_how_long_each_station_runs_on_its_own_power() {
    let report = documents(&format!("{STATIONS}{}", order("rehearsal-report", "leads", ""))).swap_remove(0);
    let hours = "Without utility power these run on: Ridge 24 h, Box 12 h. No backup hours are listed for: Mesa.";
    let said = said(&report, "rehearsal");
    assert!(said.iter().any(|words| words.contains(hours)), "{said:?}");
}

#[test]
fn an_own_card_names_the_radios_that_it_goes_by() {
    let radios = "[[radio]]\nid = \"ht\"\nname = \"Two-meter hand-held\"\ncovers = [\"144 MHz to 148 MHz\"]\nmodes = [\"FM\"]\npower = \"5 W\"\n\
         [[radio]]\nid = \"hf\"\nname = \"HF transceiver\"\ncovers = [\"7 MHz to 7.3 MHz\"]\nmodes = [\"SSB\"]\npower = \"100 W\"\n";
    let member = reached("team", "").replace("email =", "radio = [\"ht\", \"hf\"]\nemail =");
    let cards = documents(&format!("{member}{radios}{STATIONS}{}", order("channel-card", "team", "each = \"member\"")));
    let radios = |card: &Document| {
        let blocks = card.sections.iter().flat_map(|section| &section.blocks);
        let lines = blocks.flat_map(|block| match block {
            Block::Front(front) => front.lines.as_slice(),
            _ => &[],
        });
        lines.map(Text::words).filter(|words| words.starts_with("Your radios")).collect::<Vec<_>>()
    };
    assert_eq!(radios(&cards[0]), Vec::<String>::new(), "who has none in the plan is not judged by any");
    assert_eq!(radios(&cards[1]), ["Your radios: Two-meter hand-held, HF transceiver"]);
}

#[test]
fn every_sheet_says_whose_plan_it_is() {
    let card = documents(&format!("{STATIONS}{}", order("channel-card", "public", ""))).swap_remove(0);
    let once: Vec<String> = card.once.iter().map(Text::words).collect();
    assert_eq!(once.last().unwrap(), "Plan of Example team.");
}
