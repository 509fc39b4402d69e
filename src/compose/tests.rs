//! Documents of a small plan, and orders that cannot be carried out.

use super::block::{Block, Document, Role, Row, Sign, Text};
use super::{Task, document, shared_document, tasks};
use crate::checks::CheckedPlan;
use crate::ground::{Findings, MemoryWorld};
use crate::plan;
use crate::source;
use crate::tables::Tables;
use std::collections::{BTreeMap, BTreeSet};

/// Head, people and channels of the small plan; orders for documents follow it.
pub const PLAN: &str = include_str!("tests/plan.toml");

/// The small plan with further records. The reading floors must find no fault in it.
pub fn checked(more: &str) -> CheckedPlan {
    let shelf = MemoryWorld(BTreeMap::from([("plan.toml".to_owned(), format!("{PLAN}\n{more}"))]));
    let mut found = Findings::default();
    let mut records = source::read(&shelf, "plan.toml", &mut found).unwrap();
    let plan = plan::build(&shelf, &mut records, &mut found);
    assert_eq!(found.iter().map(|finding| finding.message.clone()).collect::<Vec<_>>(), Vec::<String>::new());
    CheckedPlan::seal(plan, Tables::built_in().profile("us").unwrap().clone())
}

/// The tasks of an order that must be possible.
pub fn tasks_of(checked: &CheckedPlan) -> Vec<Task> {
    let mut found = Findings::default();
    let tasks = tasks(checked.plan(), checked.profile(), &mut found);
    assert_eq!(found.len(), 0);
    tasks
}

fn first(order: &str) -> Document {
    let checked = checked(order);
    shared_document(&checked, &tasks_of(&checked)[0], None)
}

fn row<'a>(document: &'a Document, id: &str) -> &'a Row {
    let tables = document.sections.iter().flat_map(|section| &section.blocks).filter_map(|block| match block {
        Block::Table(table) => Some(&table.rows),
        _ => None,
    });
    tables.flatten().find(|row| row.record.as_ref().is_some_and(|record| record.id.as_str() == id)).unwrap()
}

fn said(document: &Document, id: &str) -> String {
    let cells = &row(document, id).cells;
    cells.iter().map(|(key, cell)| format!("{key}={}", cell.text.words())).collect::<Vec<_>>().join(" | ")
}

const CARD: &str = r#"
[[document]]
id = "card"
kind = "channel-card"
audience = "team"
"#;

#[test]
fn a_row_holds_all_that_is_set_by_hand() {
    let card = first(CARD);
    // Each line worked by hand from tests/plan.toml; hear tone off, FM ±5, 25 W and 2 min are said above the rows.
    assert_eq!(
        said(&card, "cmd"),
        "row=1 | name=CMD 1 | hear=146.9400 | send=146.3400 | tone=103.5 | spoken=Command One | \
         where=Cold Ridge WZ7QUR | shift=\u{2212}600 | next=TAC 1"
    );
    assert_eq!(
        said(&card, "tac"),
        "row=2 | name=TAC 1 | hear=446.0500 | send=446.0500 | tone=off | spoken=Tactical One | hear-tone=100.0 | \
         set=FM ±2.5, 5 W"
    );
    assert_eq!(
        said(&card, "mail"),
        "row=3 | name=MAIL | hear=145.0500 | send=145.0500 | tone=off | spoken=Mail | where=Mailbox WZ7QUM-1 | \
         set=packet on FM ±5, 1200 baud, power unknown, via WZ7QUR-2"
    );
    assert_eq!(
        said(&card, "hf-day"),
        "row=4 | name=HF DAY | hear=7245.0 | side=LSB | power=100 W | spoken=Forty | where=region by day | \
         warn=listen only without a General in control here"
    );
    assert_eq!(
        said(&card, "weather"),
        "row=5 | name=WEATHER | hear=162.4000 | send=listen only | spoken=Weather | where=weather service"
    );
    let above = card.sections.iter().flat_map(|section| &section.blocks).flat_map(|block| match block {
        Block::Table(table) => table.said.as_slice(),
        _ => &[],
    });
    assert_eq!(
        above.map(Text::words).collect::<Vec<_>>(),
        [
            "Unless a row says otherwise: hear tone off, FM ±5, 25 W",
            "No answer in 2 min: go to the channel after the arrow",
            "Hear and send on the dial; voice unless said otherwise"
        ]
    );
}

#[test]
fn words_in_a_column_of_numbers_are_no_numbers() {
    let card = first(CARD);
    assert_eq!(row(&card, "tac").cell("tone").unwrap().role, Role::Word);
    assert_eq!(row(&card, "weather").cell("send").unwrap().role, Role::Word);
    assert_eq!(row(&card, "cmd").cell("send").unwrap().role, Role::Send);
    assert_eq!(row(&card, "cmd").cell("send").unwrap().base.as_deref(), Some("146340000"));
    assert_eq!(row(&card, "hf-day").cell("hear").unwrap().base.as_deref(), Some("7245000"));
}

#[test]
fn a_personal_card_says_what_its_holder_may_not_send() {
    let checked = checked(&CARD.replace("audience", "each = \"member\"\naudience"));
    let tasks = tasks_of(&checked);
    let documents: Vec<_> = tasks.iter().map(|task| document(&checked, task, None)).collect();
    let said = |at: usize, id: &str, key: &str| row(&documents[at], id).cell(key).map(|cell| cell.text.words());
    let warning = |at: usize, id: &str| said(at, id, "warn");
    assert_eq!(documents.iter().map(|d| d.stem.as_str()).collect::<Vec<_>>(), ["card-qra", "card-qsb", "card-qsc"]);
    assert_eq!(documents[0].foot.holder.as_deref(), Some("WZ7QRA Ines Varga"));
    assert_eq!(warning(0, "hf-day"), None);
    assert_eq!(said(0, "hf-day", "power").as_deref(), Some("100 W"));
    assert_eq!(warning(1, "hf-day").as_deref(), Some("your class may not send here"));
    assert_eq!(said(1, "hf-day", "power").as_deref(), Some("listen only"));
    assert_eq!(said(1, "hf-day", "side").as_deref(), Some("LSB"));
    assert_eq!(warning(1, "cmd"), None);
    assert_eq!(said(2, "cmd", "send").as_deref(), Some("listen only"));
    assert_eq!((said(2, "cmd", "tone"), warning(2, "cmd")), (None, None));
    assert_eq!(said(2, "weather", "send").as_deref(), Some("listen only"));
    let Some(Block::Front(front)) = documents[2].sections[0].blocks.first() else { panic!("a front first") };
    let license = "No amateur license: listen only without a licensed operator in control";
    assert!(front.lines.iter().any(|line| line.words() == license), "{:?}", front.lines);
}

#[test]
fn the_foot_says_plan_edition_audience_and_days() {
    let foot = first(CARD).foot;
    assert_eq!(foot.edition.words(), "GRAYLING edition 7");
    assert_eq!(foot.audience, "team copy");
    assert_eq!(foot.validity, "valid from 2026-12-01, review by 2027-06-01");
    assert_eq!((foot.holder, foot.read_back), (None, None));
}

#[test]
fn a_scanned_list_holds_every_channel() {
    let list = first(&CARD.replace("channel-card", "channel-symbols"));
    let payloads: Vec<_> = list
        .sections
        .iter()
        .flat_map(|section| &section.blocks)
        .filter_map(|block| match block {
            Block::Symbol(symbol) => Some(symbol.payload.words()),
            _ => None,
        })
        .collect();
    let text = payloads.join("\n");
    assert!(text.contains("\n1 CMD 1|146.9400|146.3400|103.5|FM +-5, 25 W\n"), "{text}");
    assert!(text.contains("\n2 TAC 1|446.0500|same|off|hear tone 100.0, FM +-2.5, 5 W\n"), "{text}");
    assert!(text.contains("\n3 MAIL|145.0500|same|off|packet on FM +-5, 1200 baud, via WZ7QUR-2\n"), "{text}");
    let forty = "\n4 HF DAY|7245.0 kHz|same|LSB|100 W|listen only without a General in control here\n";
    assert!(text.contains(forty), "{text}");
    assert!(text.ends_with("\n5 WEATHER|162.4000|listen only||FM +-5, weather service"), "{text}");
}

#[test]
fn orders_that_cannot_be_carried_out_are_findings() {
    let order = |lines: &str| {
        let mut found = Findings::default();
        let checked = checked(&format!("[[document]]\nid = \"x\"\n{lines}"));
        let count = tasks(checked.plan(), checked.profile(), &mut found).len();
        let finding = found.iter().next().unwrap();
        (count, found.len(), finding.rule.name, finding.help.clone().unwrap_or_default())
    };
    let wrong = |name, help: &str| (0, 1, name, help.to_owned());
    assert_eq!(
        order("kind = \"chanel-card\"\naudience = \"team\""),
        wrong("unknown-document-kind", "did you mean \"channel-card\"?")
    );
    assert_eq!(
        order("kind = \"form\"\nform = \"mesage\"\naudience = \"team\""),
        wrong("unknown-form", "did you mean \"message\"?")
    );
    assert_eq!(
        order("kind = \"interference-report\"\neach = \"member\"\naudience = \"coordinator\""),
        wrong("document-each-not-possible", "write each = \"once\" or \"place\"")
    );
    assert_eq!(
        order("kind = \"channel-card\"\npaper = \"leter\"\naudience = \"team\""),
        wrong("unknown-paper", "did you mean \"letter\"?")
    );
}

/// What an order's content rests on is in its key, and nothing else.
#[test]
fn documents_of_one_content_have_one_key_and_others_do_not() {
    let order = |id: &str, lines: &str| format!("[[document]]\nid = \"{id}\"\n{lines}\n");
    let card = "kind = \"channel-card\"\naudience = \"team\"\n";
    let same = ["layout = \"full\"", "variant = \"night\"", "paper = \"a4\"", "copies = 2", "each = \"place\""];
    let other = [
        "kind = \"channel-card\"\naudience = \"leads\"",
        "kind = \"contact-card\"\naudience = \"team\"",
        "kind = \"form\"\nform = \"log\"\naudience = \"team\"",
        "kind = \"form\"\nform = \"message\"\naudience = \"team\"",
        "kind = \"form\"\nform = \"message\"\naudience = \"public\"",
    ];
    let mut orders = order("a", card);
    same.iter().enumerate().for_each(|(n, line)| orders += &order(&format!("b{n}"), &format!("{card}{line}")));
    other.iter().enumerate().for_each(|(n, lines)| orders += &order(&format!("c{n}"), lines));
    let tasks = tasks_of(&checked(&orders));
    let alike = |task: &&Task| task.shared_key() == tasks[0].shared_key();
    assert!(tasks.iter().take_while(|task| !task.document.as_str().starts_with('c')).all(|task| alike(&task)));
    let keys: BTreeSet<_> = tasks.iter().map(Task::shared_key).collect();
    assert_eq!(keys.len(), 1 + other.len());
}

#[test]
fn the_matrix_gives_a_reason_for_everybody_who_only_listens() {
    let order = "[[document]]\nid = \"who\"\nkind = \"eligibility-matrix\"\naudience = \"leads\"\n";
    let document = first(order);
    let blocks = document.sections.iter().flat_map(|section| &section.blocks);
    let mut matrix = blocks.filter_map(|block| if let Block::Matrix(matrix) = block { Some(matrix) } else { None });
    let matrix = matrix.next_back().unwrap();
    let signs = |channel: &str| -> Vec<Sign> {
        let column = matrix.columns.iter().position(|column| column.name.words() == channel).unwrap();
        matrix.rows.iter().filter_map(|row| row.cells[column].sign()).collect()
    };
    // By family name: WZ7QSB a Technician, a helper without a licence, WZ7QRA a General (tests/plan.toml).
    assert_eq!(signs("CMD 1"), [Sign::Filled, Sign::Dot, Sign::Filled]);
    assert_eq!(signs("HF DAY"), [Sign::Dot, Sign::Dot, Sign::Filled]);
    assert_eq!(signs("WEATHER"), [Sign::Dash; 3]);
    let said = paragraphs(&document);
    assert_eq!(said[0], "Fewest: HF DAY 1 of 3 (Ines Varga).");
    let why = "Why some listen only: no amateur license; below General on HF DAY.";
    assert!(said[1].ends_with(why), "{said:?}");
}

/// A renewal that was applied for too late is none on the matrix and on the holder's own card; one in time keeps the licence.
#[test]
fn matrix_and_cards_know_a_late_renewal_from_one_in_time() {
    let with = |expires: &str, filed: &str| {
        format!(
            "[[member]]\nid = \"qse\"\ncall = \"WZ7QSE\"\nname = \"Edda Moor\"\nclass = \"extra\"\nexpires = {expires}\n\
             renewal-filed = {filed}\n"
        )
    };
    let matrix = |more: &str| {
        let order = "[[document]]\nid = \"who\"\nkind = \"eligibility-matrix\"\naudience = \"team\"\n";
        paragraphs(&first(&format!("{more}{order}"))).join(" ")
    };
    let card = |more: &str| {
        let order = "[[document]]\nid = \"own\"\nkind = \"channel-card\"\naudience = \"team\"\neach = \"member\"\n";
        let checked = checked(&format!("{more}{order}"));
        let tasks = tasks_of(&checked);
        let own = tasks.iter().find(|task| task.holder.as_ref().is_some_and(|id| id.as_str() == "qse")).unwrap();
        said(&document(&checked, own, None), "tac")
    };
    let late = with("2026-11-20", "2026-11-21");
    assert!(matrix(&late).contains("license ended: "), "{}", matrix(&late));
    assert!(card(&late).contains("send=listen only |"), "{}", card(&late));
    let in_time = with("2026-11-20", "2026-11-20");
    assert!(!matrix(&in_time).contains("ended"), "{}", matrix(&in_time));
    assert!(!card(&in_time).contains("listen only"), "{}", card(&in_time));
    let later = with("2027-02-01", "2027-02-02");
    assert!(matrix(&later).contains(" until 2027-02-01 on amateur channels."), "{}", matrix(&later));
}

/// The paragraphs of a document, a space in place of each that is not broken.
fn paragraphs(document: &Document) -> Vec<String> {
    let blocks = document.sections.iter().flat_map(|section| &section.blocks);
    let said = |block: &Block| match block {
        Block::Paragraph(paragraph) => Some(paragraph.text.words().replace('\u{a0}', " ")),
        _ => None,
    };
    blocks.filter_map(said).collect()
}

/// What a contact card says: rows as "name: phone", other words as they are.
fn contacts(more: &str) -> Vec<String> {
    let card = first(more);
    let blocks = card.sections.iter().flat_map(|section| &section.blocks);
    let said = |block: &Block| match block {
        Block::Table(table) if table.rows.is_empty() => vec![table.when_empty.words()],
        Block::Table(table) => {
            let words = |row: &Row, key: &str| row.cell(key).unwrap().text.words();
            table.rows.iter().map(|row| format!("{}: {}", words(row, "name"), words(row, "phone"))).collect()
        }
        Block::Paragraph(paragraph) => vec![paragraph.text.words().replace('\u{a0}', " ")],
        _ => Vec::new(),
    };
    blocks.flat_map(said).collect()
}

#[test]
fn a_name_is_hidden_with_its_number_unless_its_own_audience_reads_it() {
    let order = |audience: &str, more: &str| {
        contacts(&format!("{more}[[document]]\nid = \"x\"\nkind = \"contact-card\"\naudience = \"{audience}\"\n"))
    };
    let closed = ["3, not on this copy", "2, not on this copy"];
    assert_eq!(order("public", ""), closed);
    assert_eq!(order("agency/mercy-health", ""), closed);
    // A name is the team's where nothing else is written; a function's is that of its number.
    assert_eq!(
        order("team", ""),
        [
            "Aldous, Tom: +1 406 555 0102",
            "No number on this copy: Pia Lund; Ines Varga WZ7QRA, Coordinator.",
            "Mercy: +1 406 555 0143",
            "1 more, not on this copy"
        ]
    );
    let member = |names: &str, numbers: &str| {
        format!(
            "[[member]]\nid = \"qsd\"\nname = \"Bo Ek\"\nname-audience = \"{names}\"\nphone-audience = \"{numbers}\"\nphone = [{{ number = \"+1 406 555 0109\" }}]\n"
        )
    };
    assert_eq!(
        order("public", &member("public", "leads")),
        ["Ek, Bo: not on this copy", "3 more, not on this copy", "2, not on this copy"]
    );
    assert!(order("team", &member("coordinator", "leads")).contains(&"1 more, not on this copy".to_owned()));
    assert!(!order("team", &member("coordinator", "leads")).iter().any(|row| row.contains("Ek")));
    // Whoever may call somebody may know whom.
    assert!(order("team", &member("coordinator", "team")).contains(&"Ek, Bo: +1 406 555 0109".to_owned()));
    let place = "[[place]]\nid = \"hall\"\ncode = \"HAL\"\ntactical = \"Hall\"\nkind = \"other\"\ncontact = [{ role = \"Keys\", phone = \"+1 406 555 0150\", name-audience = \"public\" }]\n";
    assert_eq!(order("public", place)[1..], ["Hall: not on this copy", "2 more, not on this copy"]);
}

/// The names of those without a call sign stand on no copy whose readers may not know them.
#[test]
fn reports_name_nobody_to_readers_who_may_not_know_them() {
    let closed = "[[member]]\nid = \"zed\"\nname = \"Rut Holm\"\nname-audience = \"leads\"\n";
    let matrix = |audience: &str| {
        let order = format!("[[document]]\nid = \"x\"\nkind = \"eligibility-matrix\"\naudience = \"{audience}\"\n");
        let card = first(&format!("{closed}{order}"));
        let blocks = card.sections.iter().flat_map(|section| &section.blocks);
        let rows = blocks.filter_map(|block| if let Block::Matrix(matrix) = block { Some(&matrix.rows) } else { None });
        rows.flatten().map(|row| row.head[0].words()).collect::<Vec<_>>()
    };
    assert_eq!(matrix("team"), ["Aldous Tom", "Lund Pia", "somebody", "Varga Ines"]);
    assert_eq!(matrix("leads"), ["Aldous Tom", "Holm Rut", "Lund Pia", "Varga Ines"]);
}

#[test]
fn foots_say_what_is_an_exercise_and_what_is_invented() {
    let incident = |exercise: &str| {
        let text = format!(
            "[incident]\nname = \"Ice\"\nfrom = \"2027-01-16 06:00\"\nto = \"2027-01-17 06:00\"\n{exercise}\n{CARD}"
        );
        first(&text).foot.exercise.map(|mark| mark.word)
    };
    assert_eq!(
        (incident("exercise = true"), incident("exercise = false"), incident("")),
        (Some("EXERCISE"), None, None)
    );
    assert_eq!(first(CARD).foot.invented, None);
}
