//! Forms that are filled in with messages, of a file or of a plan: values read back from the PDF.
#![expect(clippy::disallowed_methods, reason = "a test reads what was written")]

use crate::support::desk::Desk;
use crate::support::geometry::{judge, runs};
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::reckon::groups;
use lopdf::Document;

const BEDS: &str = r#"[[message]]
id = "beds"
number = 12
precedence = "EXERCISE W"
handling = ["HXC", "HXB 4"]
station-of-origin = "WZ7QRA"
place-of-origin = "Sorrel MT"
time-filed = "1815 MST"
date = "DEC 5"
to = ["Duty officer", "Operations", "Alder MT"]
text = "Twelve beds free. Send water, 40 blankets and 3 cots by 1900. Road to ridge open? Reply on TAC 1 at once. Call 555-0141 then stop."
signature = "Abel Quist"
"#;

/// The groups of that text by hand, after the ARRL's rules: X between sentences and never at the end, QUERY for the question mark, no
/// comma and no hyphen at an end.
const GROUPS: [&str; 27] = [
    "TWELVE", "BEDS", "FREE", "X", "SEND", "WATER", "40", "BLANKETS", "AND", "3", "COTS", "BY", "1900", "X", "ROAD",
    "TO", "RIDGE", "OPEN", "QUERY", "REPLY", "ON", "TAC", "1", "AT", "ONCE", "X", "CALL",
];

const WELL: &str = r#"
[[message]]
id = "well"
number = 7
precedence = "Emergency"
station-of-origin = "WZ7QRB"
place-of-origin = "Mercy"
time-filed = "0115Z"
date = "DEC 6"
to = ["Shift lead"]
text = "ALL WELL"
signature = "Ines Varga"
"#;

/// What each page says, word by word, in the order in which it is drawn.
fn pages(pdf: &[u8]) -> Vec<Vec<String>> {
    let read = Document::load_mem(pdf).unwrap();
    let numbers: Vec<u32> = read.get_pages().into_keys().collect();
    // A sign in another weight than the word before it stands in a text of its own.
    let whole = |page: u32| {
        let words: Vec<String> = read.extract_text(&[page]).unwrap().split_whitespace().map(str::to_owned).collect();
        words.join(" ").replace(" ,", ",").replace(" :", ":")
    };
    let words = |page: u32| whole(page).split(' ').map(str::to_owned).collect();
    numbers.into_iter().map(words).collect()
}

/// Whether the words stand there one behind the other.
fn says(page: &[String], words: &str) -> bool {
    let wanted: Vec<&str> = words.split_whitespace().collect();
    page.windows(wanted.len()).any(|said| said.iter().map(String::as_str).eq(wanted.iter().copied()))
}

#[test]
fn each_message_of_a_file_fills_a_form_of_its_own() {
    let desk = Desk::new();
    desk.file("messages.toml", format!("{BEDS}{WELL}"));
    desk.run(&["form", "radiogram", "--from", "messages.toml", "--layout", "full", "--out", "both.pdf"]).exits(0);
    let pages = pages(&std::fs::read(desk.path("both.pdf")).unwrap());
    let [beds, well] = pages.as_slice() else { panic!("{} pages", pages.len()) };
    // In the order of the file. The box of its precedence is ticked, and no other.
    assert!(says(beds, "EXERCISE Emergency Priority X Welfare Routine"), "{beds:?}");
    assert!(says(well, "X Emergency Priority Welfare Routine"), "{well:?}");
    for value in ["1 Number 12", "HXC, HXB 4", "WZ7QRA", "Sorrel MT", "1815 MST"] {
        assert!(says(beds, value), "no {value} in {beds:?}");
    }
    assert!(says(beds, "X local UTC"), "{beds:?}");
    assert!(says(well, "local X UTC") && says(well, "0115Z"), "{well:?}");
    assert!(says(beds, "Duty officer Operations Alder MT"), "{beds:?}");
    assert!(says(beds, "DEC 5") && says(well, "DEC 6") && says(well, "ALL WELL"));
    assert!(says(beds, "Abel Quist") && says(well, "Ines Varga") && !says(well, "Abel Quist"));
    // What is no real message says so on its sheet.
    assert!(beds.iter().filter(|word| *word == "EXERCISE").count() >= 2 && !says(well, "EXERCISE"), "{beds:?}");
}

#[test]
fn each_box_has_a_word_and_each_row_its_running_total() {
    let desk = Desk::new();
    desk.file("beds.toml", BEDS);
    desk.run(&["form", "radiogram", "--from", "beds.toml", "--layout", "full", "--out", "beds.pdf"]).exits(0);
    let pages = pages(&std::fs::read(desk.path("beds.pdf")).unwrap());
    let page = &pages[0];
    // The hyphen within a group is none of the signs that are not sent at its ends.
    let all: Vec<&str> = GROUPS.into_iter().chain(["555-0141", "THEN", "STOP"]).collect();
    // The total stands before the words of its row, since it is drawn first.
    let rows = all.chunks(5).enumerate().map(|(row, words)| format!("{} {}", (row + 1) * 5, words.join(" ")));
    let drawn = rows.collect::<Vec<_>>().join(" ");
    assert!(says(page, &drawn), "no {drawn} in {page:?}");
    assert!(says(page, "5 Check 30"), "the check is the count: {page:?}");
}

#[test]
fn a_message_is_judged_as_that_of_a_plan_is() {
    let desk = Desk::new();
    let wrong = |from: &str, to: &str| {
        assert!(BEDS.contains(from), "{from}");
        desk.file("beds.toml", BEDS.replace(from, to));
        desk.run(&["form", "radiogram", "--from", "beds.toml", "--out", "beds.pdf", "--replace"])
    };
    wrong("place-of-origin", "check = 9\nplace-of-origin")
        .exits(0)
        .says("message-check-wrong")
        .says("beds.toml:7:9")
        .says("write 30");
    wrong("EXERCISE W", "EXERCISE Immediate").exits(0).says("message-precedence-unknown").says("beds.toml:4:");
    wrong("time-filed = \"1815 MST\"\n", "").exits(0).says("message-time-missing").says("beds.toml:5:");
    wrong("[[message]]", "[[mesage]]").exits(1).says("unknown-record").says("beds.toml:1:");
    wrong("\"1815 MST\"", "\"1815\"x").exits(1).says("syntax").says("beds.toml:8:");
    wrong("WZ7QRA", "W").exits(1).says("beds.toml:6:");
    wrong("\"DEC 5\"", "\"DEC 35\"").exits(1).says("beds.toml:9:").says("JUL 13");
    wrong("number = 12", "number = 12345").exits(1).says("beds.toml:3:");
    let many = vec!["WATER"; 1200].join(" ");
    wrong("Twelve beds", &many).exits(1).says("400").says("beds.toml:11:");
    wrong("Twelve beds", &"W".repeat(60)).exits(1).says("text-does-not-fit").says("beds.toml:11:");
    let form = |form: &str, from: &str| desk.run(&["form", form, "--from", from, "--out", "x.pdf"]).exits(2);
    desk.file("beds.toml", BEDS);
    form("log", "beds.toml").says("no value of a message");
    form("radiogram", "none.toml").says("none.toml");
    desk.file("empty.toml", "[plan]\ntitle = \"x\"\n");
    form("radiogram", "empty.toml").says("empty.toml").says("has no [[message]]");
    assert!(!desk.path("x.pdf").exists());
}

#[test]
fn messages_of_a_plan_print_for_those_who_lead_alone() {
    let desk = Desk::with_plan();
    let order = |audience: &str, more: &str| {
        let order = "[[document]]\nid = \"radiograms\"\nkind = \"form\"\nform = \"ics-213\"\neach = \"message\"\n";
        let message = format!("{BEDS}{WELL}").replace("EXERCISE ", "");
        desk.file("plan/messages.toml", format!("{order}audience = \"{audience}\"\n{more}{message}"));
    };
    let plan = desk.read("plan/plan.toml");
    desk.file("plan/plan.toml", format!("include = [\"messages.toml\"]\n{plan}"));
    order("team", "");
    desk.run(&["check", "plan"]).exits(1).says("document-too-open").says("leads at the widest");
    order("leads", "serial = 1\n");
    desk.run(&["check", "plan"]).exits(1).says("document-each-not-possible").says("numbers of their own");
    order("leads", "");
    desk.run(&["build", "plan", "--out", "kit", "--only", "form"]).exits(0);
    let beds = pages(&std::fs::read(desk.path("kit/radiograms-beds.pdf")).unwrap()).concat();
    for value in ["A Message number 12", "Abel Quist", "WZ7QRA", "DEC 5 1815 MST", "message 12", "leads copy"] {
        assert!(says(&beds, value), "no {value} in {beds:?}");
    }
    assert!(says(&beds, "X Welfare: asks or tells how a person is"), "{beds:?}");
    assert!(desk.path("kit/radiograms-well.pdf").exists());
    // The same for messages that the plan does not have, beside its own.
    let other = BEDS.replace("\"beds\"", "\"other\"").replace("EXERCISE ", "").replace("= 12", "= 99");
    desk.file("other.toml", other);
    let form = ["form", "radiogram", "--plan", "plan", "--from", "other.toml", "--layout", "full", "--out", "one.pdf"];
    desk.run(&form).exits(0);
    let one = pages(&std::fs::read(desk.path("one.pdf")).unwrap());
    assert!(one.len() == 1 && says(&one[0], "1 Number 99") && says(&one[0], "leads copy"), "{one:?}");
    desk.run(&[&form[..], &["--replace", "--audience", "team"]].concat()).exits(1).says("document-too-open");
    // And for one of its own by its id.
    let of_plan = ["form", "radiogram", "--plan", "plan", "--for", "well", "--audience", "leads", "--out", "well.pdf"];
    desk.run(&of_plan).exits(0);
    let well = pages(&std::fs::read(desk.path("well.pdf")).unwrap()).concat();
    assert!(says(&well, "1 Number 7") && says(&well, "ALL WELL") && !says(&well, "Abel Quist"), "{well:?}");
}

#[test]
fn the_message_of_an_exercise_bears_its_border_and_the_words_of_a_real_emergency() {
    let desk = Desk::with_plan();
    let plan = desk.read("plan/plan.toml");
    let exercise = "[[exercise]]\nname = \"Long night\"\nfrom = \"2026-12-05 08:00\"\nto = \"2026-12-05 12:00\"\nreal-emergency = \"this is real\"\n";
    let order = "[[document]]\nid = \"out\"\nkind = \"form\"\nform = \"radiogram\"\neach = \"message\"\ntogether = true\naudience = \"leads\"\n";
    let second = WELL.replace("Emergency", "EXERCISE Emergency");
    desk.file("plan/plan.toml", format!("{plan}\n{exercise}{order}{BEDS}{second}"));
    desk.run(&["build", "plan", "--out", "kit", "--only", "form"]).exits(0);
    // Two on a sheet, each once.
    let pages = pages(&std::fs::read(desk.path("kit/out.pdf")).unwrap());
    assert_eq!(pages.len(), 1);
    assert!(says(&pages[0], "1 Number 12") && says(&pages[0], "1 Number 7"), "{pages:?}");
    assert!(pages[0].join(" ").matches("\"this is real\"").count() == 2, "{pages:?}");
    let general = desk.read("plan/plan.toml").replace("form = \"radiogram\"\neach", "form = \"ics-213\"\neach");
    desk.file("plan/plan.toml", general);
    desk.run(&["build", "plan", "--out", "kit", "--only", "form"]).exits(0);
    let first = self::pages(&std::fs::read(desk.path("kit/out.pdf")).unwrap()).remove(0);
    assert!(says(&first, "EXERCISE Long night"), "{first:?}");
    let unmarked = BEDS.replace("EXERCISE W", "W");
    desk.file("plan/plan.toml", format!("{plan}\n{exercise}{order}{unmarked}"));
    desk.run(&["check", "plan"]).exits(1).says("message-not-marked");
}

#[test]
fn a_form_of_a_file_is_filled_from_a_plan() {
    let desk = Desk::with_plan();
    let form = "[[form]]\nid = \"beds\"\ntitle = \"Bed report\"\nedition = \"1\"\nline = [\n{ field = [{ label = \"Team\", from = \"plan.team\" }] },\n]\n";
    desk.file("beds.toml", form);
    desk.run(&["form", "beds.toml", "--plan", "plan", "--out", "beds.pdf"]).exits(0);
    let said = pages(&std::fs::read(desk.path("beds.pdf")).unwrap()).concat();
    let plan = desk.read("plan/plan.toml");
    let team = plan.lines().find_map(|line| line.strip_prefix("team = \"")?.split('"').next()).unwrap();
    assert!(says(&said, &format!("Team {team}")), "{said:?}");
    desk.run(&["form", "beds.toml#bed", "--plan", "plan", "--out", "x.pdf"])
        .exits(2)
        .says("no form of this file is called bed; it has beds");
    desk.file("wrong.toml", form.replace("plan.team", "plan.taem"));
    desk.run(&["form", "wrong.toml", "--plan", "plan", "--out", "x.pdf"])
        .exits(1)
        .says("wrong.toml:6:")
        .says("plan.team");
    desk.run(&["form", "none.toml", "--plan", "plan", "--out", "x.pdf"]).exits(2).says("none.toml");
}

/// Messages of any length: each group of the text stands in its box, in order and once, on whatever pages that takes; nothing stands on
/// anything else.
#[test]
fn no_word_of_a_message_is_lost() {
    let mut dice = 17_u64;
    let mut next = |below: usize| {
        dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(dice >> 33).unwrap() % below
    };
    let words = [
        "Water",
        "beds",
        "12",
        "146.52",
        "hospital",
        "X",
        "open?",
        "KX9QRA/M",
        "to",
        "evacuation",
        "a",
        "gone.",
        "4x4",
    ];
    for run in 0..24 {
        let mut text = "First".to_owned();
        let count = 1 + next(60);
        while text.split(' ').count() < count && text.len() < 380 {
            text.push(' ');
            text.push_str(words[next(words.len())]);
        }
        let address: Vec<String> = (0..=next(8)).map(|line| format!("\"Ward{line} desk\"")).collect();
        let (form, layout) = (["radiogram", "ics-213"][run % 2], ["pad", "full", "half"][run % 3]);
        let mark = ["", "EXERCISE "][next(2)];
        let plan = format!(
            "{HEAD}[[document]]\nid = \"it\"\nkind = \"form\"\nform = \"{form}\"\neach = \"message\"\naudience = \"leads\"\n\
             layout = \"{layout}\"\npaper = \"{}\"\n[[message]]\nid = \"m\"\nnumber = 1\nprecedence = \"{mark}Routine\"\n\
             handling = [\"HXC\"]\nstation-of-origin = \"WZ7QRA\"\nplace-of-origin = \"Mercy\"\ntime-filed = \"1815 MST\"\n\
             date = \"DEC 5\"\nto = [{}]\ntext = \"{text}\"\nsignature = \"Abel Quist\"\n",
            ["letter", "a4"][next(2)],
            address.join(", "),
        );
        let world = Shelf::new().with("plan.toml", plan);
        let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
        let errors: Vec<&str> =
            outcome.findings.iter().filter(|found| found.is_error()).map(|found| found.message.as_str()).collect();
        assert_eq!(errors, Vec::<&str>::new(), "{text}");
        let job = fieldsheaf::jobs(&world, "plan.toml").unwrap().remove(0);
        judge(&job, false);
        let said: Vec<String> = job.panels.iter().flat_map(runs).map(|run| run.text.to_string()).collect();
        // Totals, and what stands before the text and behind it, are no words of it.
        let start = said.iter().position(|run| run == "FIRST").unwrap();
        let (mut wanted, mut totals) = (groups(&text).into_iter().peekable(), 1);
        for run in &said[start..] {
            if wanted.peek() == Some(run) {
                wanted.next();
            } else if wanted.peek().is_some() {
                totals += 1;
                assert_eq!(run, &(totals * 5).to_string(), "before {:?} in {text}", wanted.peek());
            }
        }
        assert_eq!(wanted.next(), None, "{form} on {layout}: {text}");
        for line in 0..address.len() {
            let named = format!("Ward{line}");
            assert_eq!(said.iter().filter(|run| run.contains(&named)).count(), 1, "{named}: {said:?}");
        }
    }
}
