//! Editions that were issued: one number has one content, numbers rise, and the file that says so is as it was written.

use crate::support::every::county;
use crate::support::shelf::Shelf;
use fieldsheaf::compare::read_plan;
use fieldsheaf::ground::{Day, Files, Findings};
use fieldsheaf::ledger::{Editions, Entry, IssuedPaper, Manifest, sha256};
use fieldsheaf::source::EDITIONS;
use fieldsheaf::{Wanted, build, check};

/// The county with its edition issued, as the command does it.
fn issued(shelf: Shelf) -> Shelf {
    let (_, kit) = build(&shelf, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap();
    let manifest = Manifest::of(&kit.unwrap());
    let is_paper = |entry: &&Entry| entry.kind != "check-sheet";
    let papers: Vec<IssuedPaper> = manifest.files.iter().filter(is_paper).filter_map(IssuedPaper::of).collect();
    let plan = read_plan(&shelf, "plan.toml").unwrap();
    let (number, day) = plan.number_and_day().unwrap();
    let editions = Editions::read(&shelf, &mut Files::default(), &mut Findings::default()).unwrap();
    let text = editions.with(number, day, &sha256(plan.to_toml().as_bytes()), &papers);
    shelf.with(EDITIONS, text)
}

fn errors(shelf: &Shelf) -> Vec<(&'static str, String, String)> {
    let outcome = check(shelf, "plan.toml").unwrap();
    let errors = outcome.findings.iter().filter(|finding| finding.is_error());
    errors.map(|f| (f.rule.name, f.message.clone(), f.help.clone().unwrap_or_default())).collect()
}

fn with(shelf: &Shelf, file: &str, old: &str, new: &str) -> Shelf {
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
    let text = Editions::default().with(7, Day::parse("2026-11-20").unwrap(), "cd", &[paper("card"), paper("chart")]);
    let read = |text: &str| {
        let mut found = Findings::default();
        let shelf = Shelf::new().with(EDITIONS, text);
        let editions = Editions::read(&shelf, &mut Files::default(), &mut found).unwrap();
        (editions, found)
    };
    let (editions, none) = read(&text);
    assert_eq!((editions.issued.len(), none.errors()), (1, 0));
    let two = editions.with(8, Day::parse("2027-01-20").unwrap(), "ef", &[paper("card")]);
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
