//! Papers of an exercise: none can be taken for one in earnest, no inject is lost or parted, and no player reads what is expected.

use crate::support::geometry::{judge, runs};
use crate::support::shelf::Shelf;
use fieldsheaf::audience::view;
use fieldsheaf::checks::CheckedPlan;
use fieldsheaf::compose::block::Document;
use fieldsheaf::compose::{Compose, KINDS, Task};
use fieldsheaf::edition::canonical;
use fieldsheaf::ground::{Audience, Files, Findings};
use fieldsheaf::plan::RECORD_KINDS;
use fieldsheaf::reckon::{groups, is_arl, words};
use fieldsheaf::sheet::{Job, Mark};
use fieldsheaf::tables::Tables;
use fieldsheaf::typeset::{Order, Pen, find_layout};
use fieldsheaf::{impose, typeset};
use std::collections::BTreeSet;
use std::fmt::Write;

/// Stands in every expected action and in no other text.
const EXPECTED: &str = "Zinfandel";

const HEAD: &str = r#"
include = ["injects.toml"]

[plan]
title = "Exercise plan"
short = "PRACTICE"
team = "Example team"
profile = "us"
invented = true
time-zone = "America/Denver"

[edition]
number = 7
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "qra"
approved-by = "qra"

[[member]]
id = "qra"
call = "WZ7QRA"
name = "Ines Varga"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01

[[exercise]]
name = "Long night"
from = "2026-12-05 00:00"
to = "2026-12-06 00:00"
real-emergency = "this is real, this is real"

[[objective]]
id = "relay"
name = "Relay a message without a wrong word"
"#;

/// Numbers that look random and are the same on every run: Knuth's MMIX generator.
fn next(dice: &mut u64) -> usize {
    *dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    usize::try_from(*dice >> 33).unwrap()
}

/// A plan of `injects` at `sites`, with a document of each kind of an exercise.
fn plan(injects: usize, sites: usize, dice: &mut u64) -> Shelf {
    const WORDS: [&str; 8] = ["water", "rises", "at", "the", "door", "of", "12", "houses."];
    let mut text = String::new();
    for site in 0..sites {
        let (a, b) =
            (char::from(b'A' + u8::try_from(site / 26).unwrap()), char::from(b'A' + u8::try_from(site % 26).unwrap()));
        writeln!(text, "[[place]]\nid = \"s{site}\"\ncode = \"S{a}{b}\"\ntactical = \"Site {site}\"\nkind = \"other\"\nvisited-on = 2026-09-01\n").unwrap();
    }
    for serial in 1..=injects {
        let (minute, length) = (next(dice) % 1440, 1 + next(dice) % 45);
        let said: Vec<&str> = (0..length).map(|_| WORDS[next(dice) % WORDS.len()]).collect();
        writeln!(
            text,
            "[[inject]]\nserial = \"{serial}\"\nat = \"2026-12-05 {:02}:{:02}\"\ndeliver-at = \"s{}\"\nto = \"Site manager\"\nby = \"paper\"\ntext = \"{}\"\nexpected = \"{EXPECTED} {serial}\"\nobjective = \"relay\"\n",
            minute / 60,
            minute % 60,
            next(dice) % sites,
            said.join(" "),
        )
        .unwrap();
    }
    let kinds = KINDS.iter().filter(|kind| matches!(kind.compose, Compose::Exercise(_)));
    for kind in kinds {
        writeln!(text, "[[document]]\nid = \"{0}\"\nkind = \"{0}\"\naudience = \"{1}\"\n", kind.name, kind.widest)
            .unwrap();
    }
    Shelf::new().with("plan.toml", HEAD).with("injects.toml", text)
}

fn read(world: &Shelf) -> (CheckedPlan, Vec<Task>) {
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(world, &mut records, &mut found);
    let profile = plan.profile.clone();
    let tasks = fieldsheaf::compose::tasks(&plan, profile.as_ref().unwrap(), &mut found);
    let checked = fieldsheaf::checks::run(plan, profile, &records.files, &mut found);
    let errors: Vec<&str> = found.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    assert_eq!(errors, Vec::<&str>::new());
    (checked.unwrap(), tasks)
}

fn set(document: &Document) -> Job {
    let mut found = Findings::default();
    let layout = find_layout(&document.layout, &Shelf::new(), &mut Files::default(), &mut found).unwrap();
    let order = Order::new(layout.varied(document.variant), Tables::built_in().papers.get(document.paper).unwrap());
    let copy = order.take(document.clone());
    let panels = typeset::panels(&order, &copy, &Pen::new(), &mut found);
    let why: Vec<&str> = found.iter().map(|finding| finding.message.as_str()).collect();
    impose::sheets(panels.unwrap_or_else(|| panic!("{}: {why:?}", document.stem)), document)
}

/// Every panel of every kind: EXERCISE above all text and below it, the words of a real emergency, and dashes on all four sides. In a
/// plan without an exercise none of these papers is made.
#[test]
fn no_paper_of_an_exercise_can_be_taken_for_one_in_earnest() {
    let (checked, tasks) = read(&plan(3, 2, &mut 1));
    assert_eq!(tasks.len(), KINDS.iter().filter(|kind| matches!(kind.compose, Compose::Exercise(_))).count());
    for task in &tasks {
        for paper in ["letter", "a4"] {
            let document = fieldsheaf::compose::document(&checked, task, None);
            let job = set(&Document { paper, ..document });
            judge(&job, false);
            for panel in &job.panels {
                let name = format!("{} \"{}\"", job.stem, panel.title);
                let said = runs(panel);
                let at: Vec<_> = said.iter().filter(|run| &*run.text == "EXERCISE").map(|run| run.at.y).collect();
                let middle = panel.size.height / 2;
                assert_eq!(
                    (at.iter().filter(|y| **y < middle).count(), at.iter().filter(|y| **y > middle).count()),
                    (1, 1),
                    "{name}"
                );
                assert!(said.iter().any(|run| run.text.contains("this is real, this is real")), "{name}");
                let dashes = panel.marks().filter(|mark| matches!(mark, Mark::Line(line) if line.dash.is_some()));
                assert_eq!(dashes.count(), 4, "{name}");
            }
        }
    }
    let earnest = HEAD.split("[[exercise]]").next().unwrap();
    let order = "[[document]]\nid = \"players\"\nkind = \"player-plan\"\naudience = \"team\"\n";
    let world = Shelf::new().with("plan.toml", earnest).with("injects.toml", order);
    let (outcome, kit) = fieldsheaf::build(&world, "plan.toml", &fieldsheaf::Wanted::default(), &|_, _| ()).unwrap();
    assert!(kit.is_none());
    assert_eq!(outcome.findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>(), ["exercise-missing"]);
}

/// Cards and labels are handed to players, and so are the player plan and the sheets to write on.
#[test]
fn what_is_expected_stands_on_no_copy_of_a_player() {
    let (checked, tasks) = read(&plan(12, 3, &mut 2));
    let mut shown = BTreeSet::new();
    for task in &tasks {
        let document = fieldsheaf::compose::document(&checked, task, None);
        let job = set(&document);
        let mut said = canonical(&document, "rules").unwrap() + &format!("{document:?}{:?}", job.placements());
        said.extend(job.panels.iter().flat_map(|panel| runs(panel)).map(|run| &*run.text));
        shown.extend(said.contains(EXPECTED).then_some(document.kind));
    }
    assert_eq!(shown, BTreeSet::from(["controller-list", "scoring-sheet"]));
    for reader in ["public", "team", "agency/mercy"] {
        let view = view(&checked, Audience::parse(reader).unwrap());
        assert_eq!((view.plan().injects.len(), view.plan().messages.len()), (0, 0), "{reader}");
    }
    assert!(RECORD_KINDS.contains(&"inject"));
}

#[test]
fn no_inject_is_lost_or_parted() {
    let mut dice = 3;
    for injects in [1, 2, 7, 40, 113, 300] {
        let (checked, tasks) = read(&plan(injects, 1 + next(&mut dice) % 40, &mut dice));
        let all: BTreeSet<String> = (1..=injects).map(|serial| format!("Inject {serial}")).collect();
        for task in &tasks {
            let document = fieldsheaf::compose::document(&checked, task, None);
            let job = set(&document);
            match document.kind {
                "inject-cards" | "envelope-labels" => {
                    let titles: Vec<String> = job.panels.iter().map(|panel| panel.title.clone()).collect();
                    assert_eq!(titles.len(), injects, "{}: one card each", document.kind);
                    assert_eq!(titles.into_iter().collect::<BTreeSet<_>>(), all);
                }
                "controller-list" | "scoring-sheet" => {
                    let said: Vec<&str> =
                        job.panels.iter().flat_map(|panel| runs(panel)).map(|run| &*run.text).collect();
                    let count = said.iter().filter(|run| run.contains(EXPECTED)).count();
                    assert_eq!(count, injects, "{}: one row each", document.kind);
                }
                _ => {}
            }
        }
    }
}

/// Counts as published; each with its source.
#[test]
fn texts_are_counted_as_published() {
    let table = include_str!("../refs/message_counts.toml").parse::<toml::Table>().unwrap();
    let rows = table["row"].as_array().unwrap();
    assert!(rows.len() >= 8);
    for row in rows {
        let text = row["text"].as_str().unwrap();
        assert!(!row["source"].as_str().unwrap().is_empty());
        let count = usize::try_from(row["count"].as_integer().unwrap()).unwrap();
        assert_eq!((words(text), is_arl(text)), (count, row["arl"].as_bool().unwrap()), "{text}: {:?}", groups(text));
    }
}

/// What somebody types by mistake: a finding each, in bounded time.
#[test]
fn what_is_written_wrong_is_told() {
    let inject = |serial: &str, at: &str, text: &str| {
        format!(
            "[[inject]]\nserial = \"{serial}\"\nat = \"{at}\"\ndeliver-at = \"a\"\nto = \"Manager\"\nby = \"paper\"\ntext = \"{text}\"\n"
        )
    };
    let place =
        "[[place]]\nid = \"a\"\ncode = \"SAA\"\ntactical = \"Site\"\nkind = \"other\"\nvisited-on = 2026-09-01\n";
    let relay = "objective = \"relay\"\n";
    let long = "word ".repeat(5000);
    let cases = [
        (inject("1", "2026-12-05 25:00", "Water") + relay, "bad-value"),
        (inject("1", "-01:00", "Water") + relay, "bad-value"),
        (inject("1", "2026-12-05 09:00", long.trim()) + relay, "bad-value"),
        (
            inject("1", "2026-12-05 09:00", "Water \u{1F30A}")
                + relay
                + "\n[[document]]\nid = \"cards\"\nkind = \"inject-cards\"\naudience = \"leads\"\n",
            "glyph-missing",
        ),
        (inject("1", "2026-12-07 09:00", "Water") + relay, "inject-outside-exercise"),
        (inject("1", "2026-12-05 09:00", "Water") + "objective = \"rely\"\n", "dangling-id"),
    ];
    for (text, rule) in cases {
        let world = Shelf::new().with("plan.toml", HEAD).with("injects.toml", format!("{place}{text}"));
        let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
        let names: Vec<&str> = outcome.findings.iter().map(|finding| finding.rule.name).collect();
        assert!(names.contains(&rule), "{rule}: {names:?}");
    }
    let undated = HEAD.replace("from = \"2026-12-05 00:00\"\n", "");
    let played = format!("{place}{}{relay}", inject("1", "2026-12-05 09:00", "Water"));
    let world = Shelf::new().with("plan.toml", undated).with("injects.toml", played);
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let said: Vec<&str> = outcome.findings.iter().map(|finding| finding.rule.name).collect();
    assert_eq!(said, ["missing-key"], "one cause, one finding");
}

/// Players find each channel of the nets as a radio is set to it, by the plan's own values, and no channel that no net has.
#[test]
fn players_have_the_channels_of_their_nets_as_they_are_dialled() {
    let evidence = "verified = { on = 2026-10-04, by = \"qra\" }\n";
    let channels = format!(
        "[[repeater]]\nid = \"ridge\"\ncall = \"WZ7QUR\"\noutput = \"146.940 MHz\"\ninput = \"-600 kHz\"\ntone-in = \"103.5 Hz\"\n\
         tone-out = \"off\"\n{evidence}[[channel]]\nid = \"cmd\"\nname = \"CMD 1\"\nspoken = \"Command One\"\nrepeater = \"ridge\"\n\
         [[channel]]\nid = \"tac\"\nname = \"TAC 1\"\nspoken = \"Tactical One\"\nsimplex = \"146.560 MHz\"\n{evidence}\
         [[channel]]\nid = \"spare\"\nname = \"SPARE\"\nspoken = \"Spare Bird\"\nsimplex = \"147.450 MHz\"\n{evidence}\
         [[net]]\nid = \"n\"\nname = \"Command net\"\nspoken = \"Command Net\"\nprimary = \"cmd\"\nalternate = \"tac\"\n\
         rejoin = \"listen on CMD 1 for 5 minutes\"\n"
    );
    let order = "[[document]]\nid = \"players\"\nkind = \"player-plan\"\naudience = \"team\"\n";
    let world = Shelf::new().with("plan.toml", HEAD).with("injects.toml", format!("{channels}{order}"));
    let jobs = fieldsheaf::jobs(&world, "plan.toml").unwrap();
    let said: Vec<String> = jobs[0].panels.iter().flat_map(runs).map(|run| run.text.to_string()).collect();
    for value in ["146.9400", "146.3400", "103.5", "146.5600", "CMD 1, then TAC 1", "Command net: primary"] {
        assert!(said.iter().any(|words| words == value), "no {value} in {said:?}");
    }
    assert_eq!(said.iter().filter(|words| *words == "146.5600").count(), 2, "hear and send: {said:?}");
    assert!(!said.iter().any(|words| words.contains("147.45") || words == "SPARE"), "{said:?}");
}

/// An inject that comes when the exercise is over is told as that, and not as what its net cannot carry.
#[test]
fn an_inject_after_the_end_overloads_no_net() {
    let place =
        "[[place]]\nid = \"a\"\ncode = \"SAA\"\ntactical = \"Site\"\nkind = \"other\"\nvisited-on = 2026-09-01\n";
    let net = "[[channel]]\nid = \"tac\"\nname = \"TAC 1\"\nspoken = \"Tactical One\"\nsimplex = \"146.560 MHz\"\n\
         verified = { on = 2026-10-04, by = \"qra\" }\n[[net]]\nid = \"n\"\nname = \"Net\"\nspoken = \"The Net\"\nprimary = \"tac\"\n";
    let inject = |at: &str| {
        format!(
            "[[inject]]\nserial = \"1\"\nat = \"2026-12-{at}\"\ndeliver-at = \"a\"\nto = \"Manager\"\nby = \"paper\"\nnet = \"n\"\n\
             text = \"Water is rising at the door\"\nobjective = \"relay\"\n"
        )
    };
    let told = |at: &str| {
        let world = Shelf::new().with("plan.toml", HEAD).with("injects.toml", format!("{place}{net}{}", inject(at)));
        let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
        let said = outcome.findings.iter().map(|finding| finding.rule.name);
        said.filter(|name| name.starts_with("inject")).collect::<Vec<_>>()
    };
    // Six words at 20 a minute take 18 s.
    assert_eq!(told("06 00:00"), ["injects-overload-net"]);
    assert_eq!(told("05 23:59"), Vec::<&str>::new());
    assert_eq!(told("07 00:00"), ["inject-outside-exercise"]);
}
