//! What is passed by radio: only what anybody may know, in lines that show every damage.

use super::editions::{issued, with};
use crate::support::desk::Desk;
use crate::support::every::county;
use crate::support::shelf::Shelf;
use fieldsheaf::compose::Bulletin;
use fieldsheaf::edition::{LINE, LineFault, plain, read_lines, to_lines};
use fieldsheaf::ground::Audience;
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::OnceLock;

/// The county after its edition 7, found once: a tone and a phone are others.
fn changed() -> &'static Shelf {
    static CHANGED: OnceLock<Shelf> = OnceLock::new();
    CHANGED.get_or_init(after)
}

fn after() -> Shelf {
    let shelf = issued(county(""));
    let shelf = with(&shelf, "repeaters.toml", "tone-in = \"103.5 Hz\"", "tone-in = \"100.0 Hz\"");
    let shelf = with(&shelf, "people.csv", "+1 406 555 0110", "+1 406 555 0199");
    with(&shelf, "plan.toml", "number = 7", "number = 8")
}

fn bulletin(shelf: &Shelf, readers: Audience) -> Bulletin {
    let (outcome, bulletin) = fieldsheaf::bulletin(shelf, "plan.toml", readers).unwrap();
    let errors: Vec<&String> =
        outcome.findings.iter().filter(|found| found.is_error()).map(|found| &found.message).collect();
    assert_eq!(errors, Vec::<&String>::new());
    bulletin.unwrap()
}

/// The bulletin for the team, found once.
fn team() -> &'static Bulletin {
    static TEAM: OnceLock<Bulletin> = OnceLock::new();
    TEAM.get_or_init(|| bulletin(changed(), Audience::Team))
}

fn text() -> String {
    to_lines(&team().sentences())
}

#[test]
fn a_changed_tone_is_told_as_it_is_written_and_as_it_is_said() {
    let bulletin = team();
    assert_eq!(bulletin.makes.0, 8);
    assert_eq!(bulletin.of.map(|(number, day)| format!("{number} {day}")).unwrap(), "7 2026-11-20");
    assert!(bulletin.is_draft, "it is not issued yet");
    let tone = bulletin.lines.iter().find(|line| line.written.contains("send tone")).unwrap();
    assert!(
        tone.written.starts_with("no. ") && tone.written.ends_with(", send tone: was 103.5 Hz, now 100.0 Hz"),
        "{tone:?}"
    );
    assert!(
        tone.spoken
            .ends_with(", send tone. was One Zero Tree, decimal, Fife hertz, now One Zero Zero, decimal, Zero hertz"),
        "{tone:?}"
    );
    let card = bulletin.codes.iter().find(|code| code.document.split(", ").any(|one| one == "channel-card")).unwrap();
    assert!(card.old != card.new && card.old.as_ref().is_some_and(|code| code.len() == 4), "{card:?}");
    // Words by hand: each line has its number beside what is written.
    let written: usize = bulletin.lines.iter().map(|line| line.written.split(' ').count() + 1).sum();
    let codes: usize = bulletin.codes.iter().map(|code| code.written().split(' ').count() + 1).sum();
    assert_eq!(bulletin.words(), written + codes);
    assert_eq!(bulletin.minutes(), (2 * (written + codes)).div_ceil(20));
}

/// A phone is no matter for the air, nor is a code of sheets that the readers do not have.
#[test]
fn what_is_private_is_to_be_asked_of_the_coordinator() {
    let all = bulletin(changed(), Audience::Coordinator);
    for readers in [Audience::Public, Audience::Team, Audience::Coordinator] {
        let bulletin = bulletin(changed(), readers);
        assert_eq!(bulletin.lines, all.lines, "the lines are those that anybody may know");
        let told = format!("{bulletin:?}");
        for private in ["0199", "0110", "406", "phone"] {
            assert!(!told.contains(private), "{private}");
        }
        let asked = bulletin.lines.last().unwrap();
        assert!(asked.written.ends_with("not for the air: ask the coordinator"), "{asked:?}");
    }
    let public = bulletin(changed(), Audience::Public);
    assert!(public.codes.is_empty(), "no sheet of the county is for the public");
    let team = team();
    assert!(!team.codes.is_empty() && team.codes.len() < all.codes.len());
    assert!(team.codes.iter().all(|code| !code.document.contains("all-contacts")));
}

#[test]
fn a_large_bulletin_is_said_to_be_too_large() {
    let mut large = team().clone();
    assert!(!large.is_too_large(), "{} minutes", large.minutes());
    let line = large.lines[0].clone();
    large.lines.extend(vec![line; 60]);
    assert!(large.minutes() > 15 && large.is_too_large());
}

#[test]
fn lines_are_short_plain_and_few() {
    let text = text();
    for line in text.lines() {
        assert!(line.len() <= LINE && line.bytes().all(|byte| (b' '..=b'~').contains(&byte)), "{line}");
        let (_, letters) = line.rsplit_once(' ').unwrap();
        assert!(letters.len() == 2 && letters.chars().all(|c| "CDFHJKLMNRSTVWXZ".contains(c)), "{line}");
    }
    assert!(text.len() < 1024, "{} bytes:\n{text}", text.len());
    let read = read_lines(&text);
    assert_eq!(read.faults, []);
    let sentences: Vec<String> = team().sentences().iter().map(|one| plain(one)).collect();
    assert_eq!(read.sentences.into_values().collect::<Vec<_>>(), sentences);
}

/// Every character of the demo's bulletin replaced by every other that can be printed, and the line is named where it can be told.
#[test]
fn every_character_that_is_another_is_noticed() {
    let text = text();
    let mut bytes = text.clone().into_bytes();
    let mut tried = 0_usize;
    for at in 0..bytes.len() {
        let own = bytes[at];
        let line = text[..at].matches('\n').count() + 1;
        for other in (b' '..=b'~').filter(|other| *other != own) {
            bytes[at] = other;
            let read = read_lines(std::str::from_utf8(&bytes).unwrap());
            tried += 1;
            // The line end of the last line alone says nothing, and a space in its place neither.
            if at + 1 == text.len() && other == b' ' {
                continue;
            }
            assert_ne!(read.faults, [], "line {line}, {} as {}", char::from(own), char::from(other));
            let is_named = |fault: &LineFault| match fault {
                LineFault::Damaged { at, .. } => *at == line,
                LineFault::Missing(number) => *number == line || *number == line + 1,
                LineFault::NoEnd => line + 1 >= text.lines().count(),
                LineFault::OutOfOrder { .. } | LineFault::Count { .. } | LineFault::Foreign => false,
            };
            assert!(read.faults.iter().any(is_named), "line {line}: {:?}", read.faults);
        }
        bytes[at] = own;
    }
    assert_eq!(tried, text.lines().map(|line| line.len() * 94 + 95).sum::<usize>());
}

#[test]
fn every_character_left_out_or_doubled_is_noticed() {
    let text = text();
    for (at, own) in text.char_indices().take(text.len() - 1) {
        let left_out = format!("{}{}", &text[..at], &text[at + 1..]);
        assert_ne!(read_lines(&left_out).faults, [], "{at} left out");
        let doubled = format!("{}{}", &text[..=at], &text[at..]);
        // An empty line says nothing.
        assert_eq!(read_lines(&doubled).faults.is_empty(), own == '\n', "{at} doubled");
    }
}

/// Any two characters of a line exchanged, at any distance.
#[test]
fn every_two_characters_exchanged_are_noticed() {
    let text = text();
    let lines: Vec<&str> = text.lines().collect();
    for (number, line) in lines.iter().enumerate() {
        for one in 0..line.len() {
            for two in one + 1..line.len() {
                let mut bytes = line.as_bytes().to_vec();
                bytes.swap(one, two);
                let other = String::from_utf8(bytes).unwrap();
                if other == *line {
                    continue;
                }
                let mut all = lines.clone();
                all[number] = &other;
                assert_ne!(read_lines(&all.join("\n")).faults, [], "{other}");
            }
        }
    }
}

#[test]
fn every_two_lines_exchanged_and_every_line_left_out_or_doubled_are_noticed() {
    let text = text();
    let lines: Vec<&str> = text.lines().collect();
    assert!(lines.len() > 5, "{text}");
    let faults = |lines: &[&str]| read_lines(&lines.join("\n")).faults;
    for one in 0..lines.len() {
        for two in one + 1..lines.len() {
            let mut other = lines.clone();
            other.swap(one, two);
            assert_ne!(faults(&other), [], "{one} and {two}");
        }
        let mut other = lines.clone();
        other.remove(one);
        let expected = if one + 1 == lines.len() { LineFault::NoEnd } else { LineFault::Missing(one + 1) };
        assert_eq!(faults(&other), [expected]);
        let mut other = lines.clone();
        other.insert(one, lines[one]);
        assert_ne!(faults(&other), [], "{one} doubled");
    }
}

/// A line of another bulletin under the same number is sound by itself; the code of all tells it.
#[test]
fn a_line_of_another_bulletin_is_noticed() {
    let one = to_lines(&["a".to_owned(), "first".to_owned()]);
    let other = to_lines(&["a".to_owned(), "second".to_owned()]);
    let mut lines: Vec<&str> = one.lines().collect();
    lines[1] = other.lines().nth(1).unwrap();
    assert_eq!(read_lines(&lines.join("\n")).faults, [LineFault::Foreign]);
}

/// Line ends of other systems, spaces at the ends, empty lines, small letters, and what mail puts around it.
#[test]
fn what_says_nothing_is_no_fault() {
    let text = text();
    let others = [
        text.replace('\n', "\r\n"),
        text.replace('\n', "  \t\n"),
        text.replace('\n', "\n\n"),
        text.to_lowercase(),
        text.lines().map(|line| format!("  {line}\n")).collect(),
        format!("R:261127/1650z @:WZ7QUM\nTo: ALL\n\n{text}\n73 de WZ7QSB\n"),
        format!("\u{feff}\n{text}"),
    ];
    for other in others {
        let read = read_lines(&other);
        assert_eq!(read.faults, [], "{other}");
        assert_eq!(read.sentences, read_lines(&text).sentences);
    }
    let tabbed = text.replacen(' ', "\t", 2);
    assert!(
        read_lines(&tabbed)
            .faults
            .iter()
            .any(|fault| matches!(fault, LineFault::Damaged { .. } | LineFault::Missing(1)))
    );
    let spaced = text.replacen(" WAS ", "  WAS ", 1);
    assert!(
        matches!(read_lines(&spaced).faults[0], LineFault::Damaged { is_spacing: true, .. }),
        "{:?}",
        read_lines(&spaced).faults
    );
}

/// What a channel is on the air: a dial and a side where it has one, no tone of what only listens; and from which day an edition holds.
#[test]
fn channels_are_said_as_a_radio_is_set() {
    let said = team().channel_sentences();
    let of =
        |start: &str| said.iter().find(|line| line.starts_with(start)).unwrap_or_else(|| panic!("{start}: {said:?}"));
    assert_eq!(of("no. 22 "), "no. 22 HF 80: side LSB, dial 3985.0 kHz, power 100 W");
    assert!(of("no. 26 ").starts_with("no. 26 WX 1: send nothing, mode FM"), "{}", of("no. 26 "));
    assert!(of("no. 1 ").contains("send 146.340 MHz, send tone 100.0 Hz, mode FM"), "{}", of("no. 1 "));
    assert_eq!(team().sentences()[1], "it holds from 2026-12-01 on, until then the edition before it");
}

/// Names with accents and signs are 7-bit text, and long sentences are parted and joined again.
#[test]
fn anything_is_written_in_plain_letters_and_read_back_whole() {
    assert_eq!(plain("Café  Größe → 5 µ"), "CAFE GROSSE ? 5 \u{3bc}".replace('\u{3bc}', "?"));
    let long = format!("{} {}", "word ".repeat(40).trim(), "x".repeat(300));
    let text = to_lines(&["a".to_owned(), long.clone(), "b".to_owned()]);
    assert!(text.lines().all(|line| line.len() <= LINE), "{text}");
    let read = read_lines(&text);
    assert_eq!(read.faults, []);
    let joined: Vec<String> = read.sentences.into_values().map(|one| one.replace(' ', "")).collect();
    assert_eq!(joined, ["A", &plain(&long).replace(' ', ""), "B"]);
    let lines: Vec<&str> = text.lines().collect();
    let cut: Vec<&str> = lines.iter().enumerate().filter(|(at, _)| *at != 3).map(|(_, line)| *line).collect();
    let read = read_lines(&cut.join("\n"));
    assert_eq!(read.faults, [LineFault::Missing(4)]);
    assert_eq!(read.sentences.into_values().collect::<Vec<_>>(), ["A", "B"]);
    assert_ne!(read_lines("").faults, []);
    assert_ne!(read_lines(&"\u{0}\u{1}\n".repeat(1000)).faults, []);
}

fn copied(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        if entry.file_type().unwrap().is_dir() {
            copied(&entry.path(), &to.join(entry.file_name()));
        } else {
            std::fs::copy(entry.path(), to.join(entry.file_name())).unwrap();
        }
    }
}

/// As net control and an operator do it: issue, change, issue, send, receive, compare.
#[test]
fn a_bulletin_is_sent_and_verified() {
    let desk = Desk::with_plan();
    desk.run(&["bulletin", "plan", "--text"])
        .exits(2)
        .says("no edition was issued before this one")
        .says("send --channels");
    desk.run(&["issue", "plan", "--out", "kit"]).exits(0);
    copied(&desk.path("plan"), &desk.path("old"));
    let channels = desk.read("plan/channels.toml");
    let tone = channels
        .lines()
        .find(|line| line.starts_with("tone-in"))
        .or(channels.lines().find(|line| line.starts_with("simplex")))
        .unwrap();
    let other = if tone.starts_with("tone-in") { "tone-in = \"114.8 Hz\"" } else { "simplex = \"146.5650 MHz\"" };
    desk.edit("plan/channels.toml", tone, other).edit("plan/plan.toml", "number = 1", "number = 2");
    let draft = desk.run(&["bulletin", "plan", "--text"]).exits(0).says("nothing of it is for the air yet");
    assert!(draft.said().starts_with("01 DRAFT BULLETIN ALDER: EDITION 1 TO 2 OF "), "{}", draft.said());
    desk.run(&["issue", "plan", "--out", "kit"]).exits(0);
    let sent = desk.run(&["bulletin", "plan", "--text", "--audience", "team"]).exits(0).said();
    assert!(sent.starts_with("01 BULLETIN ALDER: EDITION 1 TO 2 OF "), "{sent}");
    desk.file("received.txt", sent.replace('\n', "\r\n"));
    desk.run(&["verify", "--bulletin", "received.txt"])
        .exits(0)
        .says("makes edition 2 of ALDER, issued on ")
        .says(", of edition 1: ")
        .says("all as sent");
    desk.run(&["verify", "--bulletin", "received.txt", "--plan", "plan"])
        .exits(0)
        .says("the plan at hand says the same");
    desk.run(&["verify", "--bulletin", "received.txt", "--plan", "old"]).exits(1).says("the plan at hand is another");
    desk.file("damaged.txt", sent.replacen(" WAS ", " HAS ", 1));
    desk.run(&["verify", "--bulletin", "damaged.txt"])
        .exits(1)
        .says(" is damaged (line ")
        .says("the lines named above were not received as sent");

    let channels = desk.run(&["bulletin", "plan", "--channels"]).exits(0).said();
    desk.file("channels.txt", &channels);
    desk.run(&["verify", "--bulletin", "channels.txt", "--plan", "plan"])
        .exits(0)
        .says("the channels of ALDER edition 2 of ")
        .says("the plan at hand says the same");
    // Sound by themselves, and not what the plan says.
    let mut sentences: Vec<String> = read_lines(&sent).sentences.into_values().collect();
    sentences[2] = "NO. 1 RIDGE, SEND: WAS 146.3400 MHZ, NOW 146.3550 MHZ".to_owned();
    desk.file("forged.txt", to_lines(&sentences));
    desk.run(&["verify", "--bulletin", "forged.txt"]).exits(0);
    desk.run(&["verify", "--bulletin", "forged.txt", "--plan", "plan"])
        .exits(1)
        .says("line 3 is not what the plan at hand says")
        .says("the plan at hand says more");

    let spoken = desk.run(&["bulletin", "plan"]).exits(0).says("at 20 words a minute, read back").said();
    assert!(spoken.contains("  1  "), "{spoken}");
    desk.file("huge", vec![b'0'; 10_000_000]);
    desk.run(&["verify", "--bulletin", "huge"]).exits(2).says("10000000 bytes");
    desk.file("binary", (0..=255_u8).cycle().take(100_000).collect::<Vec<_>>());
    desk.run(&["verify", "--bulletin", "binary"]).exits(1).says("the last line is missing");
    desk.run(&["verify", "--bulletin", "nothing"]).exits(2);
    desk.run(&["verify"]).exits(2);
}

/// No two letters of a check, nor of a code, are one word of the alphabet.
#[test]
fn letters_of_checks_have_words_of_their_own() {
    let spelling = &fieldsheaf::tables::Tables::built_in().spelling;
    let words: BTreeSet<String> = spelling.read_back_letters().iter().map(|letter| spelling.word(*letter)).collect();
    assert_eq!(words.len(), 16);
}
