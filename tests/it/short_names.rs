//! The papers of a small team: names of few letters, little known of its sites, old evidence beside new. What longer plans hide shows here.

use crate::support::every::{made_of, order};
use crate::support::geometry::{ink, judge, judge_sheets, runs};
use crate::support::shelf::{Shelf, head};
use crate::support::small_team::TEAM;
use fieldsheaf::compose::KINDS;
use fieldsheaf::ground::Length;
use fieldsheaf::sheet::{Job, Mark, Panel};

/// The team's plan with more behind it.
fn team(more: &str) -> Shelf {
    Shelf::new().with("plan.toml", format!("{}{TEAM}{more}", head(&[])))
}

/// The sheets of a kind, as ordered with more.
fn sheets(kind: &str, audience: &str, more: &str) -> Vec<Job> {
    let kind = KINDS.iter().find(|own| own.name == kind).unwrap();
    fieldsheaf::jobs(&team(&order(kind, "sheet", audience, more)), "plan.toml").unwrap()
}

fn says(panel: &Panel, words: &str) -> bool {
    runs(panel).iter().any(|run| *run.text == *words)
}

/// Every kind on the layout that it usually takes, for readers near and far: nothing collides.
#[test]
fn every_kind_is_set_without_collision_where_names_are_short() {
    for kind in KINDS {
        for variant in ["", "variant = \"large-print\"\n", "variant = \"night\"\n"] {
            let plan = team(&format!("{}{}", made_of(kind), order(kind, kind.name, "coordinator", variant)));
            let jobs = fieldsheaf::jobs(&plan, "plan.toml").unwrap();
            // Large print is refused by name where a panel is too small for it.
            assert!(!jobs.is_empty() || !variant.is_empty(), "{}", kind.name);
            for job in jobs {
                judge(&job, ["chart", "wall-chart"].contains(&kind.layout));
                judge_sheets(&job, if kind.layout == "pad" { 2 } else { 1 });
            }
        }
    }
}

/// What is counted below a matrix keeps its distance from the sign behind it.
#[test]
fn words_below_a_matrix_of_short_names_keep_clear_of_their_sign() {
    let jobs = sheets("who-hears-whom", "team", "");
    let panel = &jobs[0].panels[0];
    let words = runs(panel).into_iter().find(|run| &*run.text == "places, of 4").map(ink).unwrap();
    let signs = panel.marks().filter_map(|mark| if let Mark::Sign(sign) = mark { Some(sign) } else { None });
    let beside = signs.filter(|sign| sign.at.y > words.top && sign.at.y < words.bottom);
    let nearest = beside.map(|sign| sign.at.x - sign.size / 2 - words.right).min().unwrap();
    assert!(nearest >= Length::hundredths_mm(100), "{nearest:?}");
}

/// A sign is hung by itself: each place has a page with all its words, and no radio is on an antenna of which the plan says that a
/// repeater alone is.
#[test]
fn a_keep_off_sign_is_never_parted() {
    let jobs = sheets("keep-off", "public", "");
    let panels = &jobs[0].panels;
    let titles: Vec<&str> = panels.iter().map(|panel| panel.title.as_str()).collect();
    assert_eq!(titles, ["Keep off: Blood", "Keep off: Brenn", "Keep off: Court", "Keep off: Field"]);
    for panel in panels {
        assert!(says(panel, "Keep away") && says(panel, "from these antennas while a radio sends."), "{}", panel.title);
        assert!(
            runs(panel).iter().any(|run| run.size == Length::pt(72) && run.text.ends_with(" m")),
            "{}",
            panel.title
        );
    }
    let brenn = &panels[1];
    let said = runs(brenn).iter().map(|run| &*run.text).collect::<Vec<_>>().join(" ");
    for row in [
        "TAC 25 W roof, 0 dBd, feed loses 2 dB 1.4 m",
        "LAST 25 W not given; taken: roof, 0 dBd, feed loses 2 dB 1.7 m",
        "Tower output 25 W mast, 6 dBd, feed loses 2 dB 2.7 m",
    ] {
        assert!(said.contains(row), "{row}: {said}");
    }
}

/// All words of a job, panel by panel, in the order in which they are read.
fn words(job: &Job) -> String {
    let of = |panel: &Panel| runs(panel).iter().map(|run| run.text.trim_end()).collect::<Vec<_>>().join(" ");
    job.panels.iter().map(of).collect::<Vec<_>>().join("\n")
}

/// What is unknown, or was last seen over a year ago, is asked for; what was seen within the year is not.
#[test]
fn what_is_unknown_or_old_on_the_air_is_asked_for() {
    let said = words(&sheets("recheck-sheet", "leads", "")[0]);
    for asked in [
        "Tower Tone that it sends: unknown",
        "TAC Last heard 2025-07-01, 507 days before the issue",
        "Blood to Court On TAC: last tried 2024-08-28, 814 days before the issue",
        "Number of Technician: a member's own is written, ask for the desk's (last tried 2024-08-28)",
        "All of it: last visit 2024-08-28, 814 days before the issue",
    ] {
        assert!(said.contains(asked), "{asked}: {said}");
    }
    for fresh in ["LAST Last heard", "Brenn to Court", "Tower Last heard", "Court All of it"] {
        assert!(!said.contains(fresh), "{fresh}: {said}");
    }
}

/// A site without anybody to call is named as such, and who may be scanned is said where not all may.
#[test]
fn a_contact_card_says_what_it_leaves_out() {
    let said = words(&sheets("contact-card", "team", "")[0]);
    assert!(said.contains("No contact known: Field."), "{said}");
    // Of two with a number on the copy one has a function.
    let scan = said.lines().find(|panel| panel.starts_with("Functions to scan")).unwrap();
    assert!(scan.contains("Tomas Ek") && !scan.contains("Noor Hadi"), "{scan}");
}

/// Steps that tell of frequency, shift and the tone to send leave room for all else.
#[test]
fn a_radio_card_has_room_for_what_its_steps_do_not_tell() {
    let said = words(&sheets("radio-card", "team", "")[0]);
    assert!(said.contains("UNKNOWN is what these steps do not tell. Try it before you need it:"), "{said}");
    let lines = ["Tone to hear", "Narrow, wide", "Power", "Hear the input", "Keys locked", "All as new"];
    for line in lines {
        assert_eq!(said.matches(&format!("{line} ____")).count(), 1, "{line}: {said}");
    }
    for told in ["Frequency ____", "Shift, or send ____", "Tone to send ____"] {
        assert!(!said.contains(told), "{told}: {said}");
    }
}

/// Nobody at a place is asked whom to ask there, and at a field there is no desk.
#[test]
fn where_nobody_sits_the_coordinator_is_asked() {
    let jobs = sheets("site-sheet", "team", "each = \"place\"\n");
    let said = |place: &str| words(jobs.iter().find(|job| job.panels[0].title == place).unwrap());
    assert!(said("Field").contains("Ask UNKNOWN: ask the coordinator"), "{}", said("Field"));
    assert_eq!(said("Field").matches("at the desk").count(), 0);
    assert!(said("Blood").contains("Room UNKNOWN: ask at the desk"), "{}", said("Blood"));
}

/// What closer rows take in stands on no page of its own: of lists of all lengths none ends on a page that is almost empty. As long as no
/// row is closer than usual a list of a page and a few rows does.
#[test]
fn no_sheet_runs_over_by_a_few_lines() {
    let (mut two, mut close) = (0, 0);
    for more in (10..50).step_by(3) {
        let member = |n: usize| {
            format!(
                "\n[[member]]\nid = \"m{n}\"\nname = \"Member {n}\"\nclass = \"general\"\nexpires = 2030-05-11\nradio = [\"mobile\"]\n[[duty]]\npost = \"st\"\nmember = \"m{n}\"\nfrom = \"2026-12-05 06:00\"\nto = \"2026-12-05 18:00\"\n"
            )
        };
        let jobs = sheets("equipment-list", "team", &(0..more).map(member).collect::<String>());
        let (last, others) = jobs[0].panels.split_last().unwrap();
        let before: Length = others.iter().map(|panel| panel.fill.0).sum();
        two += usize::from(others.len() == 1);
        assert!(last.fill.0 >= before.fraction(1, 10), "{more} members: {:?} behind {before:?}", last.fill);
        // From title to title: 16 pt over the first section, 12 pt over the others where they are closer.
        let titles =
            runs(&jobs[0].panels[0]).into_iter().filter(|run| run.text.starts_with("Equipment for the members"));
        close += titles.filter(|run| run.size == Length::pt(12)).count();
    }
    assert!(two > 3 && close > 0, "{two} of two pages, {close} closer");
}

/// What is said in the words of whoever reads it: the name on the door, the day that UTC has, miles, and no second gateway that is not there.
#[test]
fn papers_say_what_a_stranger_needs() {
    let signs = sheets("signs", "public", "each = \"place\"\n");
    let brenn = words(signs.iter().find(|job| words(job).contains("Brenn")).unwrap());
    assert!(brenn.contains("Saint Brenn Hospital On the air: Brenn Room"), "{brenn}");
    let script = words(&sheets("net-script", "team", "")[0]);
    assert!(script.contains("daily 18:00 (UTC 01:00 the next day, in summer time 00:00 the next day)"), "{script}");
    let distances = words(&sheets("distance-table", "team", "")[0]);
    // By hand: 1.777 km north and 2.316 km west are 2.919 km, 1.81 miles.
    assert!(distances.contains("Brenn 2.9 km, 1.8 mi 307\u{b0}"), "{distances}");
    let mailbox = |id: &str| {
        format!(
            "\n[[gateway]]\nid = \"{id}\"\ncall = \"WZ7QRB-{}\"\nname = \"Box {id}\"\nfrequency = \"145.0{}0 MHz\"\nspeed = \"1200 baud\"\ncontrol = \"attended\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n",
            id.len(),
            id.len() + 2
        )
    };
    let quick = |more: &str| words(&sheets("quick-start", "team", more)[0]);
    assert!(quick(&mailbox("a")).contains("Two tries; the plan has no other gateway"), "{}", quick(&mailbox("a")));
    let two = quick(&(mailbox("a") + &mailbox("bb")));
    assert!(two.contains("Two tries, then the next gateway.") && !two.contains("no other gateway"), "{two}");
}

/// Half a page is filled: at least three rows for what a switchboard takes while nobody answers, the last within a row of its foot.
#[test]
fn what_a_switchboard_writes_fills_its_half_of_the_page() {
    let sheets = sheets("reach-us", "public", "");
    for panel in &sheets[0].panels {
        let (used, room) = panel.fill;
        assert!(room - used < Length::mm(10), "{}: {used} of {room}", panel.title);
    }
    assert!(words(&sheets[0]).contains("Messages for the radio room"));
}
