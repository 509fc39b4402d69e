//! Small plans, read from memory.

use super::{Plan, Route, build, builtin_form, builtin_forms};
use crate::ground::{Files, Findings, Frequency, MemoryWorld, Tone};
use crate::source;

fn read(files: &[(&'static str, &str)]) -> (Plan, Findings) {
    let shelf = MemoryWorld(files.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect());
    let mut found = Findings::default();
    let mut records = source::read(&shelf, "plan.toml", &mut found).unwrap();
    let plan = build(&shelf, &mut records, &mut found);
    found.sort(&records.files);
    (plan, found)
}

fn names(found: &Findings) -> Vec<&'static str> {
    found.iter().map(|finding| finding.rule.name).collect()
}

const HEAD: &str = r#"
[plan]
title = "Grayling County Communications Plan"
short = "GRAYLING"
team = "Grayling County Auxiliary Radio"
profile = "us"
invented = true
time-zone = "America/Denver"
include = ["more/*.toml"]
roster = { file = "people.csv", columns = { name = "Full name", call = "Call", class = "Licence", role = "Does" } }
[edition]
number = 7
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "wz7qra"
approved-by = "wz7qra"
"#;

const CHANNELS: &str = r#"
[[repeater]]
id = "cold-ridge"
output = "146.940 MHz"
input = "-600 kHz"
tone-in = "103.5 Hz"
tone-out = "off"
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
"#;

const PEOPLE: &str = "Full name,Call,Licence,Does\r\n\"Varga, Ines\",WZ7QRA,general,Coordinator; Net control\r\n";

#[test]
fn a_repeater_gives_its_channel_both_frequencies_and_the_tone() {
    let (plan, found) = read(&[("plan.toml", HEAD), ("more/a.toml", CHANNELS), ("people.csv", PEOPLE)]);
    assert_eq!(names(&found), Vec::<&str>::new(), "{found:#?}");
    let channel = plan.channels.iter().next().unwrap();
    assert_eq!(channel.hear.value, Frequency::parse("146.940 MHz").unwrap());
    assert_eq!(channel.send.unwrap().value, Frequency::parse("146.340 MHz").unwrap());
    assert_eq!(channel.send_tone.value, Tone::Ctcss(1035));
    assert_eq!(channel.hear_tone.value, Tone::Off);
    assert!(matches!(&channel.route, Route::Repeater(id) if id.as_str() == "cold-ridge"));
}

#[test]
fn a_roster_row_is_a_member_with_its_cell_places() {
    let (plan, _) = read(&[("plan.toml", HEAD), ("more/a.toml", CHANNELS), ("people.csv", PEOPLE)]);
    let member = plan.members.iter().next().unwrap();
    assert_eq!(member.name.as_str(), "Varga, Ines");
    assert_eq!(member.roles.len(), 2);
    let start = usize::try_from(member.name.span.start).unwrap();
    assert_eq!(&PEOPLE[start..start + 8], "\"Varga, ");
}

#[test]
fn one_bad_record_does_not_hide_the_next() {
    let more = r#"
[[channel]]
id = "tac"
row = 2
nam = "TAC 1"
spoken = "Tactical One"
simplex = 146.56
[[channel]]
id = "tac-2"
row = "three"
name = "TAC 2"
spoken = "Tactical Two"
simplex = "146.58"
next = "nowhere"
[[chanel]]
id = "x"
"#;
    let (plan, found) =
        read(&[("plan.toml", HEAD), ("more/a.toml", CHANNELS), ("more/b.toml", more), ("people.csv", PEOPLE)]);
    assert_eq!(
        names(&found),
        ["missing-key", "unknown-key", "bare-number", "bad-value", "bad-value", "unknown-record"],
        "{found:#?}"
    );
    assert_eq!(plan.channels.len(), 1);
    assert!(!plan.is_whole);
}

#[test]
fn built_in_forms_are_whole() {
    let mut found = Findings::default();
    let forms = builtin_forms(&mut Files::of_program(), &mut found);
    assert!(found.is_empty(), "{found:#?}");
    for form in forms.iter() {
        assert_eq!(format!("{:?}", builtin_form(form.id.as_str())), format!("{:?}", Some(form)));
    }
    assert_eq!(
        forms.ids().map(|id| id.as_str()).collect::<Vec<_>>(),
        [
            "after-action",
            "assignment",
            "check-in-roster",
            "evaluation",
            "frequency-verification",
            "group-sheet",
            "ics-201",
            "ics-205",
            "ics-205a",
            "ics-211",
            "ics-213",
            "ics-214",
            "ics-217a",
            "ics-221",
            "liaison-sheet",
            "log",
            "message",
            "net-script",
            "participant-feedback",
            "radiogram",
            "shift-handover",
            "site-status",
            "status-board",
            "traffic-tally",
            "waiting-traffic",
        ]
    );
}

#[test]
fn a_dangling_repeater_leaves_no_channel_behind() {
    let text = CHANNELS.replace("repeater = \"cold-ridge\"", "repeater = \"cold-rigde\"");
    let (plan, found) = read(&[("plan.toml", HEAD), ("more/a.toml", &text), ("people.csv", PEOPLE)]);
    assert_eq!(names(&found), ["dangling-id"]);
    assert_eq!(found.iter().next().unwrap().help.as_deref(), Some("did you mean \"cold-ridge\"?"));
    assert_eq!(plan.channels.len(), 0);
}
