//! A team's own profile: read by the same reader as ours, whole or built on one of ours; a faulty one is refused at its line.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "a test fails by panicking")]

#[path = "support/shelf.rs"]
mod shelf;

use fieldsheaf::{Outcome, Wanted};
use shelf::Shelf;

const PLAN: &str = r#"
[plan]
title = "Example plan"
short = "EXAMPLE"
team = "Example team"
profile = "island.toml"
invented = true
time-zone = "Pacific/Honolulu"
[edition]
number = 1
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "qra"
approved-by = "qra"
[[member]]
id = "qra"
call = "WZ7QRA"
name = "Ines Varga"
class = "full"
confirmed = 2026-10-01
[[channel]]
id = "tac"
slot = 1
name = "TAC 1"
spoken = "Tactical One"
simplex = "145.500 MHz"
power = "10 W"
verified = { on = 2026-10-01, by = "qra" }
[[document]]
id = "card"
kind = "channel-card"
audience = "team"
"#;

/// A whole profile of an invented country.
const ISLAND: &str = r#"
[profile]
id = "island"
name = "Island"
rule-set = "Island Radio Act of 2020"
checked-on = 2026-10-01
review-by = 2027-10-01
source = "Island Radio Act, schedule 1"
confidence = "read"
language = "en-GB"
paper = "a4"
identification = "Identify every five minutes."
identification-short = "Identify every 5 min"
control-operator = "The licensee answers for the station."
[[class]]
id = "full"
name = "Full"
source = "schedule 1"
confidence = "read"
[[band]]
id = "2m"
name = "2 m"
low = "144 MHz"
high = "146 MHz"
source = "schedule 1"
confidence = "read"
[[privilege]]
classes = ["full"]
low = "144 MHz"
high = "146 MHz"
source = "schedule 1"
confidence = "read"
[[emission]]
low = "144 MHz"
high = "146 MHz"
types = ["phone", "data"]
width = "20 kHz"
source = "schedule 1"
confidence = "read"
[[power-limit]]
low = "144 MHz"
high = "146 MHz"
output = "50 W"
source = "schedule 1"
confidence = "read"
"#;

fn checked(profile: &str) -> Outcome {
    let world = Shelf::new().with("plan.toml", PLAN).with("island.toml", profile);
    fieldsheaf::check(&world, "plan.toml").unwrap()
}

/// Errors as `rule line` of the profile's file.
fn errors(outcome: &Outcome) -> Vec<String> {
    let errors = outcome.findings.iter().filter(|finding| finding.is_error());
    errors
        .map(|finding| {
            let (file, line, _) = outcome.files.place(finding.span).unwrap();
            format!("{} {file}:{line}", finding.rule.name)
        })
        .collect()
}

#[test]
fn a_whole_profile_decides_and_is_named_on_the_paper() {
    let world = Shelf::new().with("plan.toml", PLAN).with("island.toml", ISLAND);
    let (outcome, kit) = fieldsheaf::build(&world, "plan.toml", &Wanted::default(), &|_, _| ()).unwrap();
    assert_eq!(errors(&outcome), Vec::<String>::new());
    assert_eq!(kit.unwrap().rule_set, "Island Radio Act of 2020");
    let jobs = fieldsheaf::jobs(&world, "plan.toml").unwrap();
    assert_eq!(jobs[0].language, "en-GB");
    // Its limits bind: 50 W, and a band that ends at 146 MHz.
    let world =
        |from: &str, to: &str| Shelf::new().with("plan.toml", PLAN.replace(from, to)).with("island.toml", ISLAND);
    for (from, to, rule) in
        [("10 W", "51 W", "power-over-limit"), ("145.500 MHz", "146.500 MHz", "transmit-leaves-band")]
    {
        let outcome = fieldsheaf::check(&world(from, to), "plan.toml").unwrap();
        assert!(outcome.findings.iter().any(|finding| finding.rule.name == rule), "{rule}");
    }
}

#[test]
fn a_profile_on_a_base_changes_what_it_writes_and_nothing_else() {
    let own = r#"
[profile]
id = "county"
base = "us"
name = "County"
rule-set = "47 CFR Part 97 as of 2026-02-13; local band plan of 2026"
source = "the county's coordinator"
confidence = "read"
[[custom]]
low = "146.4 MHz"
high = "146.6 MHz"
use = "repeater outputs of this area"
side = "output"
shift = "+1 MHz"
source = "the county's coordinator"
confidence = "read"
"#;
    let plan = PLAN.replace("\"full\"", "\"general\"").replace("145.500 MHz", "146.550 MHz");
    let check = |profile: &str| {
        let world = Shelf::new().with("plan.toml", plan.as_str()).with("island.toml", profile);
        let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
        assert_eq!(errors(&outcome), Vec::<String>::new());
        outcome.findings.iter().map(|finding| finding.rule.name).collect::<Vec<_>>()
    };
    assert_eq!(check(own), ["band-plan-side"]);
    // Without rows of its own the base's band plan holds, where this is a simplex channel.
    assert_eq!(check(own.split("[[custom]]").next().unwrap()), Vec::<&str>::new());
}

/// One change a case: what is written in place of what, the rule, the line where it is found (of the changed text).
#[test]
fn a_faulty_profile_is_refused_where_it_is_faulty() {
    let second_limit = "\n[[power-limit]]\nlow = \"145 MHz\"\nhigh = \"147 MHz\"\noutput = \"25 W\"\nsource = \"s\"\nconfidence = \"read\"\n";
    let second_width = "\n[[emission]]\nlow = \"145 MHz\"\nhigh = \"146 MHz\"\ntypes = [\"phone\"]\nwidth = \"12 kHz\"\nsource = \"s\"\nconfidence = \"read\"\n";
    let second_band = "\n[[band]]\nid = \"vhf\"\nname = \"VHF\"\nlow = \"145 MHz\"\nhigh = \"147 MHz\"\nsource = \"s\"\nconfidence = \"read\"\n";
    let own = |text: &str| ISLAND.to_owned() + text;
    let cases = [
        (own(second_limit), "table-rows-contradict", "[[power-limit]]"),
        (own(second_width), "table-rows-contradict", "[[emission]]"),
        (own(second_band), "table-rows-contradict", "[[band]]"),
        (ISLAND.replace("classes = [\"full\"]", "classes = [\"ful\"]"), "table-name-unknown", "[[privilege]]"),
        (
            ISLAND.replace("output = \"50 W\"\nsource = \"schedule 1\"\n", "output = \"50 W\"\n"),
            "table-row-unsourced",
            "[[power-limit]]",
        ),
        (
            ISLAND.replace(
                "id = \"2m\"\nname = \"2 m\"\nlow = \"144 MHz\"\nhigh = \"146 MHz\"",
                "id = \"2m\"\nname = \"2 m\"\nlow = \"146 MHz\"\nhigh = \"144 MHz\"",
            ),
            "table-row-swapped",
            "high = \"144 MHz\"",
        ),
        (ISLAND.replace("[[privilege]]", "[[privilage]]"), "table-kind-unknown", "[[privilage]]"),
        (
            ISLAND.replace("output = \"50 W\"", "output = \"50 W\"\nwidth = \"20 kHz\""),
            "table-key-unused",
            "width = \"20 kHz\"\nsource",
        ),
        (ISLAND.replace("output = \"50 W\"", "ouput = \"50 W\""), "unknown-key", "ouput"),
        (ISLAND.replace("paper = \"a4\"", "paper = \"foolscap\""), "table-name-unknown", "[profile]"),
        (ISLAND.replace("id = \"island\"\n", "id = \"island\"\nbase = \"uss\"\n"), "table-name-unknown", "base ="),
        (ISLAND.replace("[profile]\n", "[profil]\n"), "table-kind-unknown", "[profil]"),
        (ISLAND.replace("name = \"Island\"\n", ""), "missing-key", "[profile]"),
    ];
    for (text, rule, mark) in cases {
        let outcome = checked(&text);
        let at = text.rfind(mark).unwrap();
        let line = text[..at].matches('\n').count() + 1;
        let wanted = format!("{rule} island.toml:{line}");
        assert!(errors(&outcome).contains(&wanted), "wanted {wanted}, found {:?}", errors(&outcome));
    }
    let bare = fieldsheaf::check(&Shelf::new().with("plan.toml", PLAN), "plan.toml").unwrap();
    assert_eq!(errors(&bare), ["profile-unreadable plan.toml:6"]);
    let latin = Shelf::new().with("plan.toml", PLAN).with("island.toml", vec![0xff, 0xfe]);
    assert_eq!(errors(&fieldsheaf::check(&latin, "plan.toml").unwrap()), ["profile-unreadable plan.toml:6"]);
}

/// A profile without one of the four kinds of rows that every question rests on.
#[test]
fn a_profile_with_a_hole_is_refused() {
    for kind in ["class", "band", "privilege", "emission"] {
        let (before, rest) = ISLAND.split_once(&format!("[[{kind}]]")).unwrap();
        let after = rest.find("[[").map_or("", |at| &rest[at..]);
        let found = errors(&checked(&format!("{before}{after}")));
        assert!(found.iter().any(|line| line.starts_with("table-rows-missing")), "{kind}: {found:?}");
    }
}

/// A plain plan under each profile of ours has no error.
#[test]
fn clean_plans_of_every_profile_give_no_error() {
    for (profile, class, call) in [("us", "technician", "WZ7QRA"), ("region-1", "any", "DA0QRA"), ("de", "a", "DA0QRA")]
    {
        let plan = PLAN
            .replace("island.toml", profile)
            .replace("\"full\"", &format!("\"{class}\""))
            .replace("WZ7QRA", call)
            .replace("145.500 MHz", if profile == "us" { "146.550 MHz" } else { "145.450 MHz" })
            .replace("power =", if profile == "us" { "power =" } else { "width = \"narrow\"\npower =" });
        let outcome = fieldsheaf::check(&Shelf::new().with("plan.toml", plan), "plan.toml").unwrap();
        assert_eq!(errors(&outcome), Vec::<String>::new(), "{profile}");
    }
}
