//! Editions that were issued: one number has one content, numbers rise, and the file that says so is as it was written.
#![expect(clippy::disallowed_methods, reason = "a test reads what was written")]

use crate::support::desk::Desk;
use crate::support::every::county;
use crate::support::geometry::runs;
use crate::support::shelf::Shelf;
use fieldsheaf::compare::read_plan;
use fieldsheaf::compose::KINDS;
use fieldsheaf::ground::{Day, Files, Findings};
use fieldsheaf::ledger::{Editions, Entry, IssuedPaper, IssuedSet, Manifest, sha256};
use fieldsheaf::source::EDITIONS;
use fieldsheaf::{Wanted, build, check};

/// The county with its edition issued, as the command does it.
pub fn issued(shelf: Shelf) -> Shelf {
    let (_, kit) = build(&shelf, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap();
    let manifest = Manifest::of(&kit.unwrap());
    let is_paper = |entry: &&Entry| !KINDS.iter().any(|kind| kind.name == entry.kind && kind.is_last());
    let plan = read_plan(&shelf, "plan.toml").unwrap();
    let (number, day) = plan.number_and_day().unwrap();
    let editions = Editions::read(&shelf, &mut Files::default(), &mut Findings::default()).unwrap();
    let given = editions.given(number);
    let papers = IssuedPaper::all(manifest.files.iter().filter(is_paper), &given);
    let sets = IssuedSet::all(manifest.files.iter().filter(|entry| entry.kind == "cover-sheet"), &given);
    let text = editions.with((number, day), &sha256(plan.to_toml().as_bytes()), &papers, &sets);
    shelf.with(EDITIONS, text).with(&format!("issued/{number}.toml"), plan.to_toml())
}

fn errors(shelf: &Shelf) -> Vec<(&'static str, String, String)> {
    let outcome = check(shelf, "plan.toml").unwrap();
    let errors = outcome.findings.iter().filter(|finding| finding.is_error());
    errors.map(|f| (f.rule.name, f.message.clone(), f.help.clone().unwrap_or_default())).collect()
}

pub fn with(shelf: &Shelf, file: &str, old: &str, new: &str) -> Shelf {
    let text = shelf.text(file);
    assert!(text.contains(old), "{file}: {old}");
    shelf.clone().with(file, text.replacen(old, new, 1))
}

#[test]
fn one_number_has_one_content() {
    let first = issued(county(""));
    assert_eq!(errors(&first), []);
    let entered = first.text(EDITIONS);
    assert!(entered.contains("number = 7\nissued = 2026-11-20\n"), "{entered}");
    assert!(entered.contains("file = \"channel-card\", audience = \"team\""), "{entered}");
    assert!(!entered.contains("check-sheet"), "what prints the findings of a run is no paper to be held");

    let changed = with(&first, "repeaters.toml", "tone-in = \"103.5 Hz\"", "tone-in = \"100.0 Hz\"");
    let found = errors(&changed);
    assert_eq!(found.len(), 1, "{found:?}");
    let (rule, message, help) = &found[0];
    assert_eq!(*rule, "edition-issued-otherwise");
    assert!(message.starts_with("edition 7 was issued on 2026-11-20 with another channel-card ("), "{message}");
    assert_eq!(help, "write number = 8, or take the change back");
    // The papers that do not name the repeater stay as they were.
    assert!(!message.contains("with another message"), "{message}");

    let raised = with(&changed, "plan.toml", "number = 7", "number = 8");
    assert_eq!(errors(&raised), []);
    let second = issued(raised);
    assert!(second.text(EDITIONS).starts_with(&entered), "what was entered stays as it is");
    let back = with(&second, "plan.toml", "number = 8", "number = 7");
    let (rule, message, help) = errors(&back).remove(0);
    assert_eq!(
        (rule, message.as_str()),
        ("edition-number-fell", "this is edition 7, and edition 8 was issued on 2026-11-20")
    );
    assert_eq!(help, "write number = 9");
}

/// A holder's own copy counts as the rest does: another radio of one member changes no code that all share.
#[test]
fn what_one_holder_alone_is_told_is_content_too() {
    let first = issued(county(""));
    let found = errors(&with(&first, "people.csv", "+1 406 555 0110,ht-dual;ht-frs", "+1 406 555 0110,ht-frs"));
    assert_eq!(found.len(), 1, "{found:?}");
    let (rule, message, _) = &found[0];
    assert_eq!(*rule, "edition-issued-otherwise");
    assert!(
        message.contains(" with another my-channels-qrg (code ")
            && message.contains(", its holder's own copy another)"),
        "{message}"
    );
}

/// Every letter of the file that is changed is noticed, wherever it stands.
#[test]
fn a_file_of_editions_that_was_changed_is_a_finding() {
    let paper =
        |file: &str| IssuedPaper::new((file.to_owned(), "team".to_owned()), "TCLR".to_owned(), "ab", &[].into());
    let text =
        Editions::default().with((7, Day::parse("2026-11-20").unwrap()), "cd", &[paper("card"), paper("chart")], &[]);
    let read = |text: &str| {
        let mut found = Findings::default();
        let shelf = Shelf::new().with(EDITIONS, text);
        let editions = Editions::read(&shelf, &mut Files::default(), &mut found).unwrap();
        (editions, found)
    };
    let (editions, none) = read(&text);
    assert_eq!((editions.issued.len(), none.errors()), (1, 0));
    let two = editions.with((8, Day::parse("2027-01-20").unwrap()), "ef", &[paper("card")], &[]);
    assert_eq!((read(&two).0.issued.len(), read(&two).1.errors()), (2, 0));
    let mut missed = Vec::new();
    for (at, letter) in two.char_indices() {
        let (head, tail) = (&two[..at], &two[at + letter.len_utf8()..]);
        for other in [format!("{head}{tail}"), format!("{head}{}{tail}", if letter == '0' { '1' } else { '0' })] {
            missed.extend((read(&other).1.errors() == 0).then_some(at));
        }
    }
    // The line end behind the last seal alone says nothing.
    assert_eq!(missed, [two.len() - 1], "{two}");
    let swapped = two.replacen("number = 8", "number = 7", 1);
    assert!(read(&swapped).1.errors() > 0);
}

/// What is built while an edition is not issued says so on every panel, takes no more paper, and has the codes of the content.
#[test]
fn an_edition_that_is_not_issued_yet_is_a_draft_on_every_panel() {
    let wanted = |is_issue| Wanted { is_issue, ..Wanted::default() };
    let kit = |shelf: &Shelf, is_issue| build(shelf, "plan.toml", &wanted(is_issue), &|_, _| ()).unwrap().1.unwrap();
    // A plan that was never issued knows no drafts, nor does the edition that was.
    let never = kit(&county(""), false);
    let first = issued(county(""));
    assert_eq!((never.is_draft, kit(&first, false).is_draft), (false, false));
    assert!(never.files.iter().zip(kit(&first, false).files).all(|(one, other)| one.bytes == other.bytes));

    let raised = with(&first, "plan.toml", "number = 7", "number = 8");
    let (draft, final_kit) = (kit(&raised, false), kit(&raised, true));
    assert_eq!((draft.is_draft, final_kit.is_draft), (true, false));
    assert!(Manifest::of(&draft).to_text().contains("\nedition = 8\ndraft = true\n"));
    assert_eq!(Manifest::parse(&Manifest::of(&draft).to_text()), Ok(Manifest::of(&draft)));
    // The number alone changes no code, and neither does the word.
    let codes = |kit: &fieldsheaf::ledger::Kit| -> Vec<_> {
        kit.files
            .iter()
            .map(|file| (file.name.clone(), file.code.clone(), file.holder_code.clone(), file.pages.len()))
            .collect()
    };
    assert_eq!(codes(&draft), codes(&final_kit));
    assert_eq!(codes(&draft), codes(&never));
    let mut panels = 0;
    for job in fieldsheaf::jobs(&raised, "plan.toml").unwrap() {
        for panel in &job.panels {
            let said: Vec<&str> = runs(panel).iter().map(|run| &*run.text).collect();
            let said = said.join(" ");
            assert!(said.contains("DRAFT 8"), "{} {}: {said}", job.stem, panel.title);
            let is_final = said.contains("edition 8") || said.contains("valid from");
            assert!(!is_final, "{} {}: {said}", job.stem, panel.title);
            panels += 1;
        }
    }
    assert!(panels > 300, "{panels}");
}

fn warnings(shelf: &Shelf, rule: &str) -> Vec<(String, String)> {
    let outcome = check(shelf, "plan.toml").unwrap();
    let found = outcome.findings.iter().filter(|finding| finding.rule.name == rule);
    found.map(|f| (f.message.clone(), f.help.clone().unwrap_or_default())).collect()
}

/// A value that changed while the day of its check did not: said with both values. Another day, a new record or a new number is none.
#[test]
fn a_changed_fact_that_nobody_looked_at_is_told_with_both_values() {
    let next = with(&issued(county("")), "plan.toml", "number = 7", "number = 8");
    let rule = "changed-fact-unchecked";
    assert_eq!(warnings(&next, rule), []);
    let tone = with(&next, "repeaters.toml", "tone-in = \"103.5 Hz\"", "tone-in = \"100.0 Hz\"");
    let (message, help) = warnings(&tone, rule).remove(0);
    let expected =
        "tone-in of repeater cold-ridge was 103.5 Hz in edition 7 and is 100 Hz, and it was last checked on 2026-10-04";
    assert_eq!(message, expected);
    assert_eq!(help, "look, ask or call, then write that day: verified = { on = ... }");
    let checked = with(&tone, "repeaters.toml", "verified = { on = 2026-10-04", "verified = { on = 2026-11-19");
    assert_eq!(warnings(&checked, rule), []);
    // A frequency in another spelling is the same.
    let spelled = with(&next, "repeaters.toml", "output = \"146.940 MHz\"", "output = \"146940 kHz\"");
    assert_eq!(warnings(&spelled, rule), []);
    let room = with(&next, "places.toml", "room = \"B-114\"", "room = \"B-115\"");
    assert_eq!(
        warnings(&room, rule)[0].0,
        "room of place alder was B-114 in edition 7 and is B-115, and it was last checked on 2026-09-14"
    );
    let phone = with(&next, "places.toml", "+1 406 555 0141", "+1 406 555 0199");
    assert_eq!(
        warnings(&phone, rule)[0].0,
        "phone (House supervisor) of place alder was +1 406 555 0141 in edition 7 and is +1 406 555 0199, and it was last checked on 2026-09-14"
    );
    let own = with(&next, "people.csv", "+1 406 555 0110", "+1 406 555 0198");
    assert_eq!(
        warnings(&own, rule)[0].0,
        "phone of member qrg was +1 406 555 0110 in edition 7 and is +1 406 555 0198, and it was last checked on 2026-10-01"
    );
}

/// The plan of an edition that somebody changed is told, and nothing is said of changes; with the line ends of another system it is the same.
#[test]
fn the_plan_of_an_edition_is_held_to_its_hash() {
    let next = with(&issued(county("")), "plan.toml", "number = 7", "number = 8");
    let rule = "issued-plan-changed";
    assert_eq!(warnings(&next, rule), []);
    let other = with(&next, "issued/7.toml", "103.5 Hz", "100.0 Hz");
    assert_eq!(warnings(&other, rule)[0].0, "issued/7.toml is not the plan that was issued as edition 7");
    let lines = |name: &str| next.text(name).replace('\n', "\r\n");
    let crlf = next.clone().with("issued/7.toml", lines("issued/7.toml")).with(EDITIONS, lines(EDITIONS));
    assert_eq!((warnings(&crlf, rule), errors(&crlf)), (vec![], vec![]));
}

/// Papers of an older edition are told, one by one or a folder at once; those that say the same stay valid.
#[test]
fn papers_that_another_edition_has_otherwise_are_superseded() {
    let desk = Desk::with_plan();
    desk.run(&["issue", "plan", "--out", "old"]).exits(0);
    desk.run(&["verify", "old", "--plan", "plan"]).exits(0);
    desk.edit("plan/channels.toml", "tone-in = \"103.5 Hz\"", "tone-in = \"100.0 Hz\"");
    desk.edit("plan/plan.toml", "number = 1\n", "number = 2\n");
    desk.run(&["build", "plan", "--out", "draft"]).exits(0).says("ALDER DRAFT 2");
    desk.run(&["issue", "plan", "--out", "new"]).exits(0);
    let told = desk.run(&["verify", "old", "--plan", "plan"]).exits(1).said();
    assert!(told.contains("superseded") && told.contains("edition 2 has "), "{told}");
    desk.run(&["verify", "new", "--plan", "plan"]).exits(0);
    let file = told.lines().find_map(|line| line.strip_prefix("superseded  ")?.split(':').next()).unwrap().to_owned();
    desk.run(&["verify", &format!("old/{file}"), "--plan", "plan"]).exits(1).says("ALDER edition 1");

    // A file by itself says its edition and code, and its text has that code; the plan knows which edition it is of.
    let bytes = |name: String| std::fs::read(desk.path(&name)).unwrap();
    desk.file("lone/old.pdf", bytes(format!("old/{file}"))).file("lone/new.pdf", bytes(format!("new/{file}")));
    let alone = desk.run(&["verify", "lone/old.pdf"]).exits(0).said();
    assert!(alone.contains("says of itself: ALDER edition 1; ") && alone.contains(", as it says"), "{alone}");
    desk.run(&["verify", "lone/old.pdf", "--plan", "plan"]).exits(1).says("superseded: it is ");
    desk.run(&["verify", "lone/new.pdf", "--plan", "plan"]).exits(0).says(" of edition 2, the last that was issued");
    let code = alone.split("the code ").nth(1).unwrap()[..4].to_owned();
    let mut forged = bytes(format!("new/{file}"));
    let said = b"; code ";
    let at = forged.windows(said.len()).position(|part| part == said).unwrap() + said.len();
    forged[at..at + 4].copy_from_slice(code.as_bytes());
    desk.file("lone/new.pdf", forged);
    desk.run(&["verify", "lone/new.pdf"]).exits(1).says("and it says another: it was changed");
    desk.file("lone/none.pdf", b"%PDF-1.7 of another hand");
    desk.run(&["verify", "lone/none.pdf"]).exits(1).says("no paper of ours");

    // The last entry cut off whole leaves every seal sound: the plan that was issued tells, and nothing is issued over it.
    let ledger = desk.read("plan/editions.toml");
    let cut = ledger.rfind("\n[[issued]]").unwrap();
    for left in [Some(&ledger[..cut]), None] {
        match left {
            Some(text) => drop(desk.file("plan/editions.toml", text)),
            None => std::fs::remove_file(desk.path("plan/editions.toml")).unwrap(),
        }
        desk.edit("plan/channels.toml", "tone-in = \"100.0 Hz\"", "tone-in = \"127.3 Hz\"");
        desk.run(&["check", "plan"]).exits(1).says("error[edition-not-entered]: issued/");
        desk.run(&["issue", "plan", "--out", "third"]).exits(1);
        desk.run(&["verify", "new", "--plan", "plan"]).exits(1).says("editions.toml has no edition ");
        desk.edit("plan/channels.toml", "tone-in = \"127.3 Hz\"", "tone-in = \"100.0 Hz\"");
    }
    desk.file("plan/editions.toml", &ledger);
    desk.run(&["verify", "new", "--plan", "plan"]).exits(0);
}

/// A team's own layout and profile stand beside an issued plan as they were, and are held to their hashes.
#[test]
fn what_an_issued_plan_needs_beside_itself_stays_as_it_was() {
    let desk = Desk::with_plan();
    let plan = desk.read("plan/plan.toml");
    let order = "\n[[document]]\nid = \"ours\"\nkind = \"channel-card\"\naudience = \"team\"\nlayout = \"ours.toml\"\n";
    desk.file("plan/plan.toml", plan + order);
    desk.edit("plan/plan.toml", "profile = \"us\"", "profile = \"county.toml\"");
    let profile = "[profile]\nid = \"county\"\nbase = \"us\"\nname = \"County\"\nrule-set = \"s\"\nsource = \"s\"\nconfidence = \"read\"\n";
    desk.file("plan/county.toml", profile);
    let layout = |size: &str| format!("base = \"full\"\n[text]\nname = \"{size} pt\"\n");
    desk.file("plan/ours.toml", layout("12"));
    desk.run(&["issue", "plan", "--out", "kit"]).exits(0);
    assert_eq!(desk.read("plan/issued/1/ours.toml"), layout("12"));
    assert_eq!(desk.read("plan/issued/1/county.toml"), profile);
    desk.edit("plan/plan.toml", "number = 1\n", "number = 2\n").file("plan/ours.toml", "base = \"no such layout\"\n");
    // The edition that was issued is set by its own layout, whatever became of the file.
    desk.run(&["compare", "plan/issued/1.toml", "plan/issued/1.toml"])
        .exits(0)
        .says("nothing is another")
        .says("still valid:");
    desk.file("plan/ours.toml", layout("13"));
    desk.run(&["check", "plan"]).exits(0);
    desk.file("plan/issued/1/ours.toml", layout("11"));
    desk.run(&["check", "plan"]).exits(1).says("issued/1/ours.toml is not the file that was issued with edition 1");
}
