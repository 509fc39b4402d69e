//! What helps say to type, typed; and what sheets of the shift say of what is not known, by value.

use crate::support::around::{findings, plan_around};
use crate::support::papers::{papers, says, told};
use fieldsheaf::ground::Lapse;

/// The dots of a help are no words: nobody has agreed to anything.
#[test]
fn a_text_without_letter_or_figure_is_refused() {
    let place = |transmit: &str| {
        plan_around(&format!(
            "[[place]]\nid = \"mercy\"\ncode = \"MRC\"\ntactical = \"Mercy\"\nkind = \"hospital\"\nvisited-on = 2026-10-04\n{transmit}"
        ))
    };
    let world = place("transmit = { allowed = \"...\", agreed-by = \"--\", on = 2026-10-04 }\n");
    let said = |text: &str| format!("\"{text}\" has no letter or figure, and says nothing");
    let help = "write what is so, or leave the key out".to_owned();
    assert_eq!(told(&world, "bad-value"), [(said("..."), help.clone()), (said("--"), help)]);
    assert!(findings(&world).1.errors() > 0);
    assert_eq!(
        told(&place("transmit = { allowed = \"room 5\", agreed-by = \"\u{5916}\", on = 2026-10-04 }\n"), "bad-value"),
        []
    );
    let [(_, help)] = &told(&place(""), "place-agreement-missing")[..] else { panic!("one finding") };
    assert!(!help.contains("...") && !help.contains(" = "), "{help}");
}

const STATION: &str = r#"
[[battery]]
id = "box"
name = "Box 3"
capacity = "CAPACITY"
chemistry = "lithium-iron-phosphate"
[[post]]
id = "desk"
name = "Desk"
[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 00:15"
to = "2026-12-05 12:00"
[[station]]
id = "set"
name = "Set"
posts = ["desk"]
part = [
  { id = "pack", kind = "battery", battery = "box" },
  { id = "radio", kind = "radio", from = "pack", fuse = "15 A", idle = "0.4 A", sending = "8 A", wire = "12 AWG", length = "2 m" },
]
"#;

/// By hand: a quarter sending at 8 A and the rest at 0.4 A draw 2.3 A; 11 h 45 min and a fifth in reserve are 14 h 41.25 min, in which
/// 33.79 Ah are drawn; four fifths of 43 Ah are 34.4 Ah, of 42 Ah 33.6 Ah.
#[test]
fn a_battery_that_ends_too_soon_is_told_what_would_last() {
    let found = |capacity: &str| told(&plan_around(&STATION.replace("CAPACITY", capacity)), "battery-ends-before-duty");
    let [(message, help)] = &found("20 Ah")[..] else { panic!("one finding") };
    // Four fifths of 20 Ah at 2.3 A: 6 h 57 min.
    assert_eq!(message, "Box 3 runs Set for 6 h 57 min of 11 h 45 min");
    assert!(help.starts_with("take a battery of at least 43 Ah of its kind, `capacity = \"43 Ah\"`, "), "{help}");
    assert_eq!(found("43 Ah"), []);
    assert_eq!(found("42 Ah").len(), 1);
}

/// A help that would bring another finding is not given: who leaves has 13 h already.
#[test]
fn a_handover_is_lengthened_on_the_side_that_bears_it() {
    let plan = |first: &str, last: &str, longest: &str| {
        plan_around(&format!(
            "[duty-limits]\nlongest = \"{longest}\"\nhandover = \"15 min\"\n[[post]]\nid = \"desk\"\nname = \"Desk\"\n\
             [[member]]\nid = \"qsb\"\nname = \"Abel Quist\"\nclass = \"none\"\nconfirmed = 2026-10-01\n\
             [[duty]]\npost = \"desk\"\nmember = \"qra\"\nfrom = \"{first}\"\nto = \"2026-12-05 19:00\"\n\
             [[duty]]\npost = \"desk\"\nmember = \"qsb\"\nfrom = \"2026-12-05 19:00\"\nto = \"{last}\"\n"
        ))
    };
    let help = |first: &str, last: &str, longest: &str| {
        let all = told(&plan(first, last, longest), "handover-too-short");
        let [(_, help)] = &all[..] else { panic!("one finding: {all:?}") };
        help.clone()
    };
    let stays = "let who leaves stay longer, `to = \"2026-12-05 19:15\"`";
    assert_eq!(help("2026-12-05 07:00", "2026-12-06 05:00", "13 h"), stays);
    let comes = "let who comes begin earlier, `from = \"2026-12-05 18:45\"`";
    assert_eq!(help("2026-12-05 06:00", "2026-12-06 05:00", "13 h"), comes);
    let both = "let who leaves stay longer, `to = \"2026-12-05 19:08\"`, and who comes begin earlier, `from = \"2026-12-05 18:53\"`";
    assert_eq!(help("2026-12-05 06:00", "2026-12-06 08:00", "13 h 10 min"), both);
    let neither = help("2026-12-05 06:00", "2026-12-06 08:00", "13 h");
    assert!(!neither.contains("`to =") && neither.ends_with("or give one of the duties to somebody else"), "{neither}");
}

#[test]
fn a_length_in_two_parts_is_read_wherever_one_is() {
    let limits = |longest: &str| format!("[duty-limits]\nlongest = \"{longest}\"\n");
    assert_eq!(told(&plan_around(&limits("12 h 50 min")), "bad-value"), []);
    assert_eq!(told(&plan_around(&limits("12 h 70 min")), "bad-value").len(), 1);
    assert_eq!(Lapse::parse("12 h 50 min").map(Lapse::as_seconds).ok(), Some(46_200));
}

const TWO_NETS: &str = r#"
[[radio]]
id = "mobile"
name = "Two-meter mobile"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "50 W"
[[radio]]
id = "dual"
name = "Two-band mobile"
covers = ["144 MHz to 148 MHz", "420 MHz to 450 MHz"]
modes = ["FM"]
power = "50 W"
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2030-04-01
confirmed = 2026-10-01
radio = [RADIOS]
[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
simplex = "147.570 MHz"
verified = { on = 2026-10-01, by = "qra" }
[[channel]]
id = "med"
row = 3
name = "MED 1"
spoken = "Medical One"
simplex = "446.100 MHz"
verified = { on = 2026-10-01, by = "qra" }
[[net]]
id = "command"
name = "Command net"
primary = "cmd"
[[net]]
id = "medical"
name = "Medical net"
primary = "med"
[[post]]
id = "desk"
name = "Desk"
nets = ["command", "medical"]
[[duty]]
post = "desk"
member = "qsb"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
"#;

#[test]
fn too_few_radios_are_told_with_a_list_that_is_enough() {
    let found = |radios: &str| told(&plan_around(&TWO_NETS.replace("RADIOS", radios)), "too-few-radios-at-post");
    let [(_, help)] = &found("\"dual\"")[..] else { panic!("one finding") };
    assert!(help.contains("as Tomas Lind with `radio = [\"dual\", \"dual\"]`"), "{help}");
    assert_eq!(found("\"dual\", \"dual\""), []);
    assert_eq!(found("\"mobile\", \"dual\""), []);
}

const SHIFT: &str = r#"
[incident]
name = "Flood"
from = "2026-12-05 06:00"
to = "2026-12-06 06:00"
MORE
[[place]]
id = "mill"
code = "MIL"
tactical = "Mill"
kind = "shelter"
visited-on = 2026-10-01
[[place]]
id = "yard"
code = "YRD"
tactical = "Yard"
kind = "shelter"
visited-on = 2026-10-01
[[post]]
id = "gate"
name = "Gate"
place = "mill"
[[member]]
id = "qsa"
call = "WZ7QSA"
name = "Ines Varga"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
role = ["Coordinator"]
phone = [{ number = "+1 406 555 0101", audience = "team" }]
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Abel Quist"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
phone = [{ number = "+1 406 555 0102", audience = "team" }]
[[member]]
id = "qsc"
call = "WZ7QSC"
name = "Tomas Lind"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
phone = [{ number = "+1 406 555 0103", audience = "leads" }]
[[member]]
id = "qsd"
call = "WZ7QSD"
name = "Odell Strand"
class = "general"
expires = 2030-04-01
confirmed = 2026-10-01
[[duty]]
post = "gate"
member = "qsb"
from = "2026-12-05 06:00"
to = "2026-12-05 14:15"
[[duty]]
post = "gate"
member = "qsc"
from = "2026-12-05 14:00"
to = "2026-12-05 20:00"
[[duty]]
post = "gate"
member = "qsb"
from = "2026-12-06 00:00"
to = "2026-12-06 06:00"
[[document]]
id = "open"
kind = "reach-us"
audience = "public"
each = "place"
[[document]]
id = "own"
kind = "reach-us"
audience = "team"
[[document]]
id = "signs"
kind = "signs"
audience = "public"
[[document]]
id = "tree"
kind = "call-out-tree"
audience = "team"
[[document]]
id = "leads"
kind = "call-out-tree"
audience = "leads"
"#;

/// When a post is stood names nobody: a public copy has it, and no place without a post has a sheet.
#[test]
fn the_hours_of_a_post_stand_on_every_copy_and_name_nobody() {
    let papers = papers(&plan_around(&SHIFT.replace("MORE", "")));
    for paper in ["open-mill", "own"] {
        says(&papers, paper, "Saturday 2026-12-05 06:00 to 20:00");
        says(&papers, paper, "nobody until Sun 00:00");
        says(&papers, paper, "Sunday 2026-12-06 00:00 to 06:00");
        says(&papers, paper, "the post closes");
        says(&papers, paper, "UNKNOWN: ______________________");
        assert!(["14:00", "14:15", "Quist", "Lind", "QSB", "QSC"].iter().all(|word| !papers[paper].contains(word)));
    }
    assert!(!papers.contains_key("open-yard"), "{:?}", papers.keys());
}

/// The sign that tells people they hear no emergency is made for an exercise alone.
#[test]
fn only_an_exercise_has_the_sign_of_one() {
    let has_sign =
        |more: &str| papers(&plan_around(&SHIFT.replace("MORE", more)))["signs"].contains("This is no emergency");
    assert!(!has_sign(""));
    assert!(has_sign("exercise = true\n"));
    let exercise = "[[exercise]]\nname = \"Long night\"\nfrom = \"2026-12-05 08:00\"\nto = \"2026-12-05 12:00\"\nreal-emergency = \"real emergency\"\n";
    assert!(has_sign(exercise));
}

#[test]
fn the_tree_says_why_somebody_cannot_be_called_and_who_begins_next() {
    let papers = papers(&plan_around(&SHIFT.replace("MORE", "")));
    says(&papers, "tree", "Number closed to this copy, to be called by the leads: WZ7QSC Tomas Lind.");
    says(&papers, "tree", "No number in the plan, to be reached another way: WZ7QRA Ines Varga; WZ7QSD Odell Strand.");
    says(
        &papers,
        "tree",
        "WZ7QSA Ines Varga begins; after 10 minutes without a call from there WZ7QSB Abel Quist begins",
    );
    assert!(!papers["leads"].contains("Number closed"));
    says(&papers, "leads", "No number in the plan, to be reached another way: WZ7QRA Ines Varga; WZ7QSD Odell Strand.");
}
