//! A team's own profile: read by the same reader as ours, whole or built on one of ours; a faulty one is refused at its line.

use crate::support::shelf::Shelf;
use fieldsheaf::{Outcome, Wanted};

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
row = 1
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
[[service]]
id = "amateur"
name = "amateur"
authority = "class"
source = "schedule 1"
confidence = "read"
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

/// Rows of a base count beside a file's own: one band more is one band more, and a row of the same name or stretch stands in the place
/// of the base's.
#[test]
fn rows_of_a_base_are_taken_one_by_one() {
    let head = "[profile]\nid = \"county\"\nbase = \"us\"\nname = \"County\"\nrule-set = \"s\"\nsource = \"s\"\nconfidence = \"read\"\n";
    let row = |kind: &str, keys: &str| format!("[[{kind}]]\n{keys}source = \"s\"\nconfidence = \"read\"\n");
    let stretch = "low = \"70 MHz\"\nhigh = \"70.5 MHz\"\n";
    let four = row("band", &format!("id = \"4m\"\nname = \"4 m\"\n{stretch}"))
        + &row("privilege", &format!("band = \"4m\"\nclasses = [\"general\"]\n{stretch}"))
        + &row("emission", &format!("band = \"4m\"\ntypes = [\"phone\"]\n{stretch}"));
    let shorter = row("band", "id = \"2m\"\nname = \"2 m\"\nlow = \"144 MHz\"\nhigh = \"146.5 MHz\"\n");
    let weaker = row("power-limit", "low = \"144 MHz\"\nhigh = \"146 MHz\"\noutput = \"8 W\"\n");
    let check = |rows: &str, frequency: &str| {
        let plan = PLAN.replace("\"full\"", "\"general\"").replace("145.500 MHz", frequency);
        let world = Shelf::new().with("plan.toml", plan).with("island.toml", format!("{head}{rows}"));
        let outcome = fieldsheaf::check_plan(&world, "plan.toml").unwrap();
        outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.message.clone()).collect::<Vec<_>>()
    };
    let nothing = Vec::<String>::new();
    for frequency in ["70.450 MHz", "146.550 MHz", "446.000 MHz"] {
        assert_eq!(check(&four, frequency), nothing, "{frequency}");
    }
    let outside = "channel TAC 1 sends on 146.550 MHz, which occupies 146.542 MHz to 146.558 MHz, outside the 2 m band";
    assert_eq!(check(&shorter, "146.550 MHz"), [outside]);
    assert_eq!(check(&shorter, "446.000 MHz"), nothing);
    // A limit of a stretch of its own binds beside those of the base, which go on binding elsewhere.
    let over = "channel TAC 1 allows 10 W on 145.550 MHz, over the limit of 8 W transmitter output";
    assert_eq!(check(&weaker, "145.550 MHz"), [over]);
    assert_eq!(check(&weaker, "146.550 MHz"), nothing);
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
            ISLAND.replace("classes = [\"full\"]\nlow", "band = \"3m\"\nclasses = [\"full\"]\nlow"),
            "table-name-unknown",
            "[[privilege]]",
        ),
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

/// A profile of a county on `us`, with a service of its own and its one channel.
const RESCUE: &str = r#"
[profile]
id = "county"
base = "us"
name = "County"
rule-set = "47 CFR Part 97 as of 2026-02-13; the county's licence"
source = "the county's coordinator"
confidence = "read"
[[service]]
id = "rescue"
name = "mountain rescue"
short = "rescue"
also = ["mrt"]
authority = "licence"
calls = ["AAA000"]
source = "the county's licence"
confidence = "read"
[[service-channel]]
service = "rescue"
name = "Rescue 1"
frequency = "155.16 MHz"
width = "12.5 kHz"
output = "25 W"
source = "the county's licence"
confidence = "read"
"#;

/// Rows that have keys alike are written as one group: they are what they would be in full, and what is wrong with one is told at its line.
#[test]
fn rows_of_a_group_are_those_written_in_full() {
    let (head, row) = RESCUE.split_at(RESCUE.find("[[service-channel]]").unwrap());
    let cite = "source = \"the county's licence\"\nconfidence = \"read\"\n";
    let grouped = |each: &str| {
        format!(
            "{head}[[service-channel]]\nservice = \"rescue\"\nwidth = \"12.5 kHz\"\noutput = \"25 W\"\n{cite}each = {each}\n"
        )
    };
    let found = |profile: &str, lines: &str| {
        let plan =
            PLAN.replace("\"full\"", "\"general\"").replace("simplex = \"145.500 MHz\"\npower = \"10 W\"", lines);
        let world = Shelf::new().with("plan.toml", plan).with("island.toml", profile);
        let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
        let line = |finding: &fieldsheaf::ground::Finding| {
            let place = outcome.files.place(finding.span).map(|(file, line, _)| format!("{file}:{line}"));
            format!("{} {}: {}", place.unwrap_or_default(), finding.rule.name, finding.message)
        };
        outcome.findings.iter().map(line).collect::<Vec<_>>()
    };
    let channel = |at: &str, power: &str| {
        format!("service = \"rescue\"\nsimplex = \"{at} MHz\"\nwidth = \"narrow\"\npower = \"{power} W\"")
    };
    let full = format!("{head}{row}{}", row.replace("Rescue 1", "Rescue 2").replace("155.16", "155.22"));
    let two = grouped(
        "[\n  { name = \"Rescue 1\", frequency = \"155.16 MHz\" },\n  { name = \"Rescue 2\", frequency = \"155.22 MHz\" },\n]",
    );
    for (at, power) in [("155.16", "25"), ("155.22", "25"), ("155.22", "26"), ("155.19", "25")] {
        let lines = channel(at, power);
        assert_eq!(found(&two, &lines), found(&full, &lines), "{lines}");
    }
    let over = found(&two, &channel("155.22", "26"));
    assert!(over.iter().any(|said| said.ends_with("channel TAC 1 allows 26 W, where Rescue 2 has 25 W")), "{over:?}");
    // What cannot be meant: at the row's own line, told once.
    let row = 1 + grouped("").lines().take_while(|line| !line.starts_with("each")).count();
    let wrong = |each: &str, wanted: &[String]| {
        let of_profile: Vec<String> = found(&grouped(each), &channel("155.16", "5"))
            .into_iter()
            .filter(|said| said.starts_with("island"))
            .collect();
        assert_eq!(of_profile, wanted, "{each}");
    };
    wrong("3", &[format!("island.toml:{row} bad-value: a number stands where a list of tables is wanted")]);
    let empty = "this group has no rows, and what it says of all changes nothing";
    wrong("[]", &[format!("island.toml:{row} bad-value: {empty}")]);
    wrong("[\n7]", &[format!("island.toml:{} bad-value: 7 stands where a table is wanted", row + 1)]);
    wrong(
        "[\n{ name = \"R\", frequency = \"155.16 MHz\", output = \"5 W\" }]",
        &[format!("island.toml:{} bad-value: `output` is written twice, here and for the whole group", row + 1)],
    );
    wrong(
        "[\n{ name = \"R\", frequency = \"155.16 MHz\", powr = \"5 W\" }]",
        &[format!("island.toml:{} unknown-key: unknown key `powr`", row + 1)],
    );
    // A short file that repeats a long text a thousand times is refused before it takes the memory.
    let long = grouped(&format!("[{}]", "{},".repeat(1000))).replace("12.5 kHz", &"x".repeat(100_000));
    let said = found(&long, &channel("155.16", "5"));
    assert!(said.iter().any(|said| said.contains("the rows of this group repeat 1000")), "{said:?}");
}

/// Findings of a plan with these channels under [`RESCUE`], as `rule: message / note / help`.
fn rescue(lines: &str) -> Vec<String> {
    let plan = PLAN.replace("\"full\"", "\"general\"").replace("simplex = \"145.500 MHz\"\npower = \"10 W\"", lines);
    let world = Shelf::new().with("plan.toml", plan).with("island.toml", RESCUE);
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let say = |finding: &fieldsheaf::ground::Finding| {
        let more: Vec<&str> = finding.note.iter().chain(&finding.help).map(String::as_str).collect();
        format!("{}: {} / {}", finding.rule.name, finding.message, more.join(" / "))
    };
    outcome.findings.iter().map(say).collect()
}

/// A service is one row: it takes authority, has call signs and channels, and its channel's limits bind. The base's services stay.
#[test]
fn a_profile_on_a_base_adds_a_service_with_its_channel() {
    let member = "licence = [{ service = \"rescue\", call = \"QRA123\", expires = 2030-01-01 }]\n";
    let channel = "service = \"rescue\"\nsimplex = \"155.16 MHz\"\nwidth = \"narrow\"\npower = ";
    let bare = rescue(&format!("{channel}\"25 W\""));
    assert!(bare.iter().any(|said| said.starts_with("no-member-may-send: ")), "{bare:?}");
    let licensed = |channel: &str| {
        let plan = PLAN.replace("\"full\"\n", &format!("\"general\"\nexpires = 2030-01-01\n{member}"));
        let plan = plan.replace("simplex = \"145.500 MHz\"\npower = \"10 W\"", channel);
        let world = Shelf::new().with("plan.toml", plan).with("island.toml", RESCUE);
        let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
        outcome.findings.iter().map(|f| format!("{}: {}", f.rule.name, f.message)).collect::<Vec<_>>()
    };
    assert_eq!(licensed(&format!("{channel}\"25 W\"")), Vec::<String>::new());
    let over = ["service-limit-exceeded: channel TAC 1 allows 26 W, where Rescue 1 has 25 W"];
    assert_eq!(licensed(&format!("{channel}\"26 W\"")), over);
    let family = "service = \"frs\"\nsimplex = \"462.5625 MHz\"\nwidth = \"narrow\"\npower = ";
    assert_eq!(licensed(&format!("{family}\"2 W\"")), Vec::<String>::new());
    let over = ["service-limit-exceeded: channel TAC 1 allows 3 W, where FRS 1 has 2 W"];
    assert_eq!(licensed(&format!("{family}\"3 W\"")), over);
}

/// A name that no row has is answered with the nearest and with all of them; what people say in its place with the id itself.
#[test]
fn an_unknown_service_is_named_with_those_that_there_are() {
    let all = "amateur, frs, gmrs, murs, cb, marine, aviation, weather, interop, land-mobile, rescue";
    let said = |typed: &str, more: &str| {
        let found =
            rescue(&format!("service = \"{typed}\"\nsimplex = \"155.16 MHz\"\nwidth = \"narrow\"\npower = \"5 W\""));
        assert_eq!(found, [format!("service-unknown: the profile county has no service \"{typed}\" / {more}")]);
    };
    said("resque", &format!("its services: {all} / did you mean \"rescue\"?"));
    said("Rescue", &format!("its services: {all} / write \"rescue\""));
    said("MRT", &format!("its services: {all} / write \"rescue\""));
    said("Mountain rescue", &format!("its services: {all} / write \"rescue\""));
    said("public_safety", &format!("its services: {all} / write \"land-mobile\""));
    said("zeppelin", &format!("write one of: {all}"));
    // Where the profile itself is unknown, its services are as well: one finding is enough.
    let plan = PLAN.replace("island.toml", "uk").replace("\"full\"", "\"general\"");
    let plan = plan.replace("[[channel]]\n", "[[channel]]\nservice = \"zeppelin\"\n");
    let outcome = fieldsheaf::check(&Shelf::new().with("plan.toml", plan), "plan.toml").unwrap();
    assert_eq!(errors(&outcome), ["profile-unknown plan.toml:6"]);
}

/// One service, not none and not two, has the classes and bands of a profile.
#[test]
fn a_profile_has_one_amateur_service() {
    let none = ISLAND.replace("authority = \"class\"", "authority = \"licence\"");
    assert_eq!(errors(&checked(&none)), ["table-rows-missing island.toml:2"]);
    let second = ISLAND.to_owned()
        + "[[service]]\nid = \"cadets\"\nname = \"cadets\"\nauthority = \"class\"\nsource = \"s\"\nconfidence = \"read\"\n";
    let line = ISLAND.matches('\n').count() + 1;
    assert_eq!(errors(&checked(&second)), [format!("table-rows-contradict island.toml:{line}")]);
    let twice = second.replace("cadets", "amateur").replace("authority = \"class\"\nsource = \"s\"", "source = \"s\"");
    assert_eq!(errors(&checked(&twice)), [format!("table-rows-contradict island.toml:{line}")]);
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

/// A plain plan under each profile of ours has no finding: what it leaves out is as the profile has it.
#[test]
fn clean_plans_of_every_profile_find_nothing() {
    for (profile, class, call) in [("us", "technician", "WZ7QRA"), ("region-1", "any", "DA0QRA"), ("de", "a", "DA0QRA")]
    {
        let plan = PLAN
            .replace("island.toml", profile)
            .replace("\"full\"", &format!("\"{class}\""))
            .replace("WZ7QRA", call)
            .replace("confirmed =", "expires = 2030-01-01\nconfirmed =")
            .replace("145.500 MHz", if profile == "us" { "146.550 MHz" } else { "145.450 MHz" });
        let outcome = fieldsheaf::check(&Shelf::new().with("plan.toml", plan), "plan.toml").unwrap();
        let found: Vec<&str> = outcome.findings.iter().map(|finding| finding.message.as_str()).collect();
        assert_eq!(found, Vec::<&str>::new(), "{profile}");
    }
}

const GERMAN: &str = r#"
[plan]
title = "Example plan"
short = "EXAMPLE"
team = "Example team"
profile = "de"
invented = true
time-zone = "Europe/Berlin"
[edition]
number = 1
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-05-01
prepared-by = "qra"
approved-by = "qra"
[[member]]
id = "qra"
call = "DA0QRA"
name = "Ines Varga"
class = "E"
confirmed = 2026-10-01
"#;

fn german(more: &str) -> Outcome {
    fieldsheaf::check_plan(&Shelf::new().with("plan.toml", format!("{GERMAN}{more}")), "plan.toml").unwrap()
}

/// Every finding as `rule:line: message`, the line counted in what follows the head of the plan.
fn german_findings(more: &str) -> Vec<String> {
    let outcome = german(more);
    let head = GERMAN.matches('\n').count();
    let say = |finding: &fieldsheaf::ground::Finding| {
        let (_, line, _) = outcome.files.place(finding.span).unwrap();
        format!("{}:{}: {}", finding.rule.name, line.saturating_sub(head), finding.message)
    };
    outcome.findings.iter().map(say).collect()
}

fn german_channel(lines: &str) -> String {
    format!(
        "[[channel]]\nid = \"tac\"\nrow = 1\nname = \"TAC 1\"\nspoken = \"Tactical\"\n{lines}\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n"
    )
}

fn german_repeater(output: &str, input: &str) -> String {
    format!(
        "[[repeater]]\nid = \"berg\"\ncall = \"DB0QUR\"\noutput = \"{output}\"\ninput = \"{input}\"\ntone-in = \"67.0 Hz\"\ntone-out = \"off\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n"
    )
}

/// The band plan of Region 1 stands above German law: shifts, calling frequencies, satellites.
#[test]
fn the_german_profile_has_the_band_plan_of_region_1() {
    let usual = |shift: &str| {
        format!("unusual-shift:5: repeater Berg has its input {shift} from 145.650 MHz, where -600 kHz is usual")
    };
    assert_eq!(german_findings(&german_repeater("145.650 MHz", "-300 kHz")), [usual("-300 kHz")]);
    let turned = german_findings(&german_repeater("145.650 MHz", "+600 kHz"));
    assert!(turned.contains(&usual("+600 kHz")), "{turned:?}");
    assert_eq!(german_findings(&german_repeater("145.650 MHz", "-600 kHz")), Vec::<String>::new());
    let satellites = "band-plan-segment:6: channel TAC 1 sends FM on 145.900 MHz, which the band plan keeps for all mode, satellite exclusive";
    assert_eq!(german_findings(&german_channel("simplex = \"145.900 MHz\"")), [satellites]);
    let net = "[[net]]\nid = \"ort\"\nname = \"Ort\"\nspoken = \"Ort\"\nprimary = \"tac\"\n";
    let calling = "calling-frequency-worked:12: Ort works channel TAC 1, 145.500 MHz, the FM calling frequency";
    let found = german_findings(&(german_channel("simplex = \"145.500 MHz\"") + net));
    assert_eq!(found, [calling]);
}

/// Classes of 2024 with their powers, where the annex of 2006 had other rows or none.
#[test]
fn german_classes_have_the_bands_and_powers_of_2024() {
    let of = |class: &str, lines: &str| {
        let plan = format!("{GERMAN}{}", german_channel(lines)).replace("\"E\"", &format!("\"{class}\""));
        let outcome = fieldsheaf::check_plan(&Shelf::new().with("plan.toml", plan), "plan.toml").unwrap();
        let asks = outcome.findings.iter().filter(|finding| finding.severity() != fieldsheaf::ground::Severity::Note);
        asks.map(|finding| format!("{}: {}", finding.rule.name, finding.message)).collect::<Vec<_>>()
    };
    let nothing = Vec::<String>::new();
    // Class N: 10 W ERP on 10 m, 6.1 W ERP on 2 m, nothing on 40 m.
    assert_eq!(of("N", "simplex = \"145.450 MHz\"\npower = \"6.1 W\""), nothing);
    assert_eq!(
        of("n", "simplex = \"145.450 MHz\"\npower = \"10 W\""),
        ["power-over-class-limit: channel TAC 1 allows 10 W, where a Class N may use 6.1 W ERP"]
    );
    // SSB is 2.7 kHz wide where the profile's stations are narrow, as law and band plan want it; 2.8 kHz would be an error.
    let sixty = "dial = \"5354 kHz\"\nside = \"USB\"\npower = ";
    assert_eq!(of("Class A", &format!("{sixty}\"9 W\"")), nothing);
    assert_eq!(
        of("a", &format!("{sixty}\"15 W\"")),
        ["power-over-limit: channel TAC 1 allows 15 W on 5.354 MHz, over the limit of 9.14 W ERP"]
    );
    // 7.1 to 7.2 MHz was 250 W in 2006; 6 m began at 50.08 MHz and ended at 51 MHz.
    let forty = "dial = \"7150 kHz\"\nside = \"LSB\"\npower = ";
    assert_eq!(of("A", &format!("{forty}\"750 W\"")), nothing);
    let closed = of("E", &format!("{forty}\"100 W\""));
    assert!(closed.iter().any(|found| found.starts_with("no-member-may-send: ")), "{closed:?}");
    assert_eq!(of("a", "simplex = \"51.500 MHz\"\npower = \"25 W\""), nothing);
    assert_eq!(
        of("a", "simplex = \"51.500 MHz\"\npower = \"26 W\""),
        ["power-over-limit: channel TAC 1 allows 26 W on 51.500 MHz, over the limit of 25 W transmitter output"]
    );
}

/// Class words as people write them, and one that there is not, quoted as it stands.
#[test]
fn class_words_are_taken_in_any_case() {
    let with = |profile: &str, class: &str| {
        let plan = GERMAN.replace("\"de\"", &format!("\"{profile}\"")).replace("\"E\"", &format!("\"{class}\""));
        let outcome = fieldsheaf::check_plan(&Shelf::new().with("plan.toml", plan), "plan.toml").unwrap();
        let of_class = outcome.findings.iter().filter(|finding| finding.rule.name == "class-unknown");
        of_class.map(|finding| finding.message.clone()).collect::<Vec<_>>()
    };
    for (profile, class) in [
        ("us", "Technician"),
        ("us", "TECHNICIAN"),
        ("us", "technician"),
        ("us", "Extra"),
        ("us", "None"),
        ("de", "e"),
        ("de", "E"),
        ("de", "class n"),
    ] {
        assert_eq!(with(profile, class), Vec::<String>::new(), "{profile} {class}");
    }
    assert_eq!(with("us", "Generel"), ["no licence class of profile us is called \"Generel\""]);
}

/// 11.2 kHz where the profile's stations are narrow, 16 kHz where the plan says wide or the profile has wide ones.
#[test]
fn a_width_left_out_follows_the_profile() {
    use fieldsheaf::plan::WidthWord;
    let width = |profile: &str, more: &str| {
        let channel = german_channel(&format!("simplex = \"145.450 MHz\"{more}"));
        let text = format!("{GERMAN}{channel}").replace("\"de\"", &format!("\"{profile}\""));
        let world = Shelf::new().with("plan.toml", text);
        let mut found = fieldsheaf::ground::Findings::default();
        let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
        let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
        let signal = plan.channels.iter().next().unwrap().signal.clone();
        let emission = fieldsheaf::reckon::emission_of(&signal, &fieldsheaf::tables::Tables::built_in().modes).unwrap();
        (signal.width.value, emission.width().as_hertz())
    };
    assert_eq!(width("de", ""), (WidthWord::Narrow, 11_200));
    assert_eq!(width("region-1", ""), (WidthWord::Narrow, 11_200));
    assert_eq!(width("us", ""), (WidthWord::Wide, 16_000));
    assert_eq!(width("de", "\nwidth = \"wide\""), (WidthWord::Wide, 16_000));
    assert_eq!(width("us", "\nwidth = \"narrow\""), (WidthWord::Narrow, 11_200));
    let wide = german_findings(&german_channel("simplex = \"145.450 MHz\"\nwidth = \"wide\""));
    assert_eq!(
        wide,
        ["wider-than-band-plan:6: channel TAC 1 sends 16 kHz wide on 145.450 MHz, where the band plan has 12 kHz"]
    );
}

/// A rule that has no rows in a profile is not said to have been checked.
#[test]
fn rules_without_rows_are_not_said_to_be_checked() {
    use fieldsheaf::checks::has_rows;
    let tables = fieldsheaf::tables::Tables::built_in();
    let without = |id: &str| {
        let profile = tables.profile(id).unwrap();
        fieldsheaf::rules()
            .into_iter()
            .filter(|rule| !has_rows(rule, profile))
            .map(|rule| rule.name)
            .collect::<Vec<_>>()
    };
    assert!(without("us").contains(&"wider-than-band-plan"), "{:?}", without("us"));
    let german = without("de");
    for silent in ["off-raster", "adjacent-channel", "repeater-outside-segment", "call-sign-shape", "excluded-area"] {
        assert!(german.contains(&silent), "{silent}: {german:?}");
    }
    for checked in ["unusual-shift", "band-plan-segment", "calling-frequency-worked", "power-over-class-limit"] {
        assert!(!german.contains(&checked), "{checked}: {german:?}");
    }
    // On paper: counted and listed without them, and named where the limits are.
    let world =
        Shelf::new().with("plan.toml", format!("{GERMAN}[[document]]\nid = \"check\"\nkind = \"check-sheet\"\n"));
    let jobs = fieldsheaf::jobs(&world, "plan.toml").unwrap();
    let canonical = &jobs[0].canonical.as_ref().unwrap();
    let rows: Vec<&str> = canonical.lines().filter(|line| line.ends_with("off-raster")).collect();
    assert_eq!(rows, Vec::<&str>::new());
    assert!(canonical.contains("What the profile de has no rows for: adjacent-channel, "), "{canonical}");
    let checked = fieldsheaf::rules().len() - german.len();
    assert!(canonical.contains(&format!("by {checked} rules.")), "{canonical}");
}

/// A rule that reads rows of the profile says which, so that no sheet claims it where there are none.
#[test]
#[expect(clippy::disallowed_methods, reason = "a test reads the sources")]
fn every_rule_that_rests_on_rows_says_so() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/checks");
    let needs = std::fs::read_to_string(root.join("rows.rs")).unwrap();
    let rows = [
        "customs",
        "callings",
        "emergencies",
        "rasters",
        "exclusions",
        "automatic_segments",
        "auxiliary_segments",
        "beacon_segments",
        "repeater_segments",
        "closed_calls",
        "call_forms",
        "call_regions",
        "power_limits",
        "emissions",
        "forbidden",
    ];
    let mut tried = 0;
    for check in fieldsheaf::checks::CHECKS {
        let file = check.rule.name.replace('-', "_");
        let text = std::fs::read_to_string(root.join(format!("{file}.rs"))).unwrap();
        // It has words of its own; the rows only tell it which of them another rule speaks of.
        let has_own = file == "name_is_proword";
        if !has_own && rows.iter().any(|row| text.contains(&format!("profile.{row}"))) {
            assert!(needs.contains(&format!("{file}::RULE")), "{file}");
            tried += 1;
        }
    }
    assert!(tried >= 15, "{tried}");
}

/// Two classes with the same rights stand in one lane of the chart, which does not claim the third.
#[test]
fn a_lane_of_the_chart_names_the_classes_that_it_is_of() {
    let member = |id: &str, call: &str, class: &str| {
        format!(
            "[[member]]\nid = \"{id}\"\ncall = \"{call}\"\nname = \"{id}\"\nclass = \"{class}\"\nconfirmed = 2026-10-01\n"
        )
    };
    let plan = format!(
        "{GERMAN}{}{}{}[[document]]\nid = \"chart\"\nkind = \"frequency-chart\"\n",
        member("qrb", "DN9QRB", "N"),
        member("qrc", "DA0QRC", "A"),
        german_channel("dial = \"5355 kHz\"\nside = \"USB\"")
    );
    let jobs = fieldsheaf::jobs(&Shelf::new().with("plan.toml", plan), "plan.toml").unwrap();
    let canonical = jobs[0].canonical.as_ref().unwrap();
    assert!(canonical.contains("/lane/2\tN E\n"), "{canonical}");
    assert!(canonical.contains("/lane/2/1/edges\t5351500 5366500\n"), "{canonical}");
    assert!(canonical.contains("/lane/2/1/shade\tclosed\n"), "{canonical}");
    // What is open from end to end is said in words and has no lane.
    assert!(canonical.contains("open to A") && !canonical.contains("/lane/3\t"), "{canonical}");
    assert!(canonical.contains("N Class N, E Class E, A Class A: "), "{canonical}");
}
