//! Files, syntax, includes and rosters: every fault at its place, nothing lost, no panic.

use crate::support::shelf::Shelf;
use fieldsheaf::ground::{Findings, World};
use fieldsheaf::plan::{self, Plan};
use fieldsheaf::source::{self, FILE_LIMIT, Records};
use proptest::prelude::{Just, Strategy, any, prop, prop_oneof, proptest};

fn read(world: &dyn World) -> (Plan, Records, Findings) {
    let mut found = Findings::default();
    let mut records = source::read(world, "plan.toml", &mut found).unwrap();
    let plan = plan::build(world, &mut records, &mut found);
    found.sort(&records.files);
    (plan, records, found)
}

/// `file:line:column rule` of every finding.
fn places(world: &dyn World) -> Vec<String> {
    let (_, records, found) = read(world);
    let place = |span| {
        records.files.place(span).map_or("nowhere".to_owned(), |(file, line, column)| format!("{file}:{line}:{column}"))
    };
    found.iter().map(|finding| format!("{} {}", place(finding.span), finding.rule.name)).collect()
}

const HEAD: &str = r#"[plan]
title = "T"
short = "T"
team = "T"
profile = "us"
time-zone = "America/Denver"
"#;

const EDITION: &str = r#"[edition]
number = 1
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "qra"
approved-by = "qra"
[[member]]
id = "qra"
name = "Ines Varga"
"#;

fn plan_with(extra_head: &str, rest: &str) -> Shelf {
    Shelf::new().with("plan.toml", format!("{HEAD}{extra_head}{EDITION}{rest}"))
}

#[test]
fn a_whole_plan_finds_nothing() {
    assert_eq!(places(&plan_with("", "")), Vec::<String>::new());
}

#[test]
fn a_missing_root_is_a_failure_not_a_finding() {
    let failure = source::read(&Shelf::new(), "plan.toml", &mut Findings::default()).unwrap_err();
    assert_eq!(failure.to_string(), "plan.toml: there is no such file");
}

#[test]
fn a_missing_include_points_at_its_name() {
    assert_eq!(places(&plan_with("include = [\"chanels.toml\"]\n", "")), ["plan.toml:7:12 file-unreadable"]);
}

#[test]
fn includes_never_leave_the_folder() {
    for pattern in ["../x.toml", "/etc/passwd", "a/../../x.toml", "..\\\\x.toml"] {
        let world = plan_with(&format!("include = [\"{pattern}\"]\n"), "");
        assert_eq!(places(&world), ["plan.toml:7:12 include-leaves-folder"], "{pattern}");
    }
}

#[test]
fn a_circle_of_includes_is_found_once() {
    let world = plan_with("include = [\"a.toml\"]\n", "")
        .with("a.toml", "include = [\"b.toml\"]\n")
        .with("b.toml", "include = [\"a.toml\"]\n");
    assert_eq!(places(&world), ["b.toml:1:12 include-circle"]);
}

#[test]
fn a_file_asked_for_twice_is_read_once() {
    let world = plan_with("include = [\"a.toml\", \"*.toml\"]\n", "").with("a.toml", "[[net]]\n");
    assert_eq!(places(&world).iter().filter(|place| place.starts_with("a.toml")).count(), 3);
}

#[test]
fn a_pattern_that_finds_nothing_is_said() {
    assert_eq!(places(&plan_with("include = [\"none/*.toml\"]\n", "")), ["plan.toml:7:12 include-finds-nothing"]);
}

#[test]
fn a_file_that_is_not_text_shows_where() {
    let world = plan_with("include = [\"a.toml\"]\n", "").with("a.toml", b"# caf\xe9\n".to_vec());
    assert_eq!(places(&world), ["a.toml:1:6 file-not-text"]);
}

#[test]
fn a_file_over_the_limit_is_refused() {
    let size = usize::try_from(FILE_LIMIT).unwrap() + 1;
    let world = plan_with("include = [\"a.toml\"]\n", "").with("a.toml", vec![b'#'; size]);
    assert_eq!(places(&world), ["plan.toml:7:12 file-too-large"]);
}

#[test]
fn deep_nesting_is_a_finding_at_its_place() {
    let world = plan_with("", &format!("[[radio]]\nid = {}1{}\n", "[".repeat(5000), "]".repeat(5000)));
    // Two levels of the header, then thirty of the thirty-two that may be.
    assert_eq!(places(&world), ["plan.toml:18:36 nesting-too-deep"]);
}

#[test]
fn after_a_syntax_fault_what_only_follows_from_it_is_held_back() {
    let world = plan_with("", "[[post]]\nid = \"a\"\nname = \"A\"\nplace = \"mercy\"\n[[place]\nid = \"mercy\"\n");
    assert_eq!(places(&world), ["plan.toml:21:9 syntax"]);
}

#[test]
fn a_roster_heading_that_is_not_there_is_named() {
    let head = "roster = { file = \"p.csv\", columns = { name = \"Full nam\", call = \"Call\" } }\n";
    let world = plan_with(head, "").with("p.csv", "Full name,Call\nA,WZ7QSB\n");
    let (_, _, found) = read(&world);
    let unknown = found.iter().find(|finding| finding.rule.name == "column-unknown").unwrap();
    assert_eq!(unknown.help.as_deref(), Some("did you mean \"Full name\"?"));
}

#[test]
fn an_uneven_roster_row_does_not_hide_the_next() {
    let head = "roster = { file = \"p.csv\", columns = { name = \"Name\", call = \"Call\" } }\n";
    let world = plan_with(head, "").with("p.csv", "Name,Call\nA,B,WZ7QSA\nC,WZ7QSB\n");
    let (plan, _, _) = read(&world);
    assert_eq!(places(&world), ["p.csv:2:1 row-uneven"]);
    assert!(plan.members.iter().any(|member| member.name.as_str() == "C"));
}

#[test]
fn a_bad_roster_cell_points_into_the_roster() {
    let head = "roster = { file = \"p.csv\", columns = { name = \"Name\", call = \"Call\" } }\n";
    let world = plan_with(head, "").with("p.csv", "Name,Call\n\"Varga, I\",WZQSA\nC,WZ7QSB\n");
    assert_eq!(places(&world), ["p.csv:2:12 bad-value"]);
}

#[test]
fn the_order_of_files_changes_nothing() {
    let (a, b) = ("[[post]]\nid = \"a\"\nname = \"A\"\n", "[[post]]\nid = \"b\"\nname = \"B\"\n");
    let ids = |first: &str, second: &str| {
        let world = plan_with("include = [\"1.toml\", \"2.toml\"]\n", "").with("1.toml", first).with("2.toml", second);
        read(&world).0.posts.ids().map(ToString::to_string).collect::<Vec<_>>()
    };
    assert_eq!(ids(a, b), ids(b, a));
}

proptest! {
    #[test]
    fn no_bytes_cause_a_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        read(&Shelf::new().with("plan.toml", bytes));
    }

    #[test]
    fn no_text_causes_a_panic(letters in prop::collection::vec(any::<char>(), 0..400)) {
        are_somewhere(&Shelf::new().with("plan.toml", letters.into_iter().collect::<String>()));
    }

    /// A plan with every key, of which some characters are others, gone or there twice.
    #[test]
    fn no_slip_of_the_pen_causes_a_panic(slips in prop::collection::vec((any::<prop::sample::Index>(), slip()), 1..6)) {
        let mut letters: Vec<char> = include_str!("../keys/plan.toml").chars().collect();
        for (at, slip) in slips {
            let at = at.index(letters.len());
            match slip {
                Slip::Gone => drop(letters.remove(at)),
                Slip::Twice => letters.insert(at, letters[at]),
                Slip::Other(letter) => letters[at] = letter,
                Slip::LineGone => {
                    let end = letters[at..].iter().position(|letter| *letter == '\n').map_or(letters.len(), |n| at + n);
                    drop(letters.drain(at..end));
                }
            }
        }
        are_somewhere(&Shelf::new().with("plan.toml", letters.into_iter().collect::<String>()));
    }

    #[test]
    fn no_roster_bytes_cause_a_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let head = "roster = { file = \"p.csv\", columns = { name = \"Name\", call = \"Call\" } }\n";
        read(&plan_with(head, "").with("p.csv", bytes));
    }

    /// Any record with any key set to any kind of value: findings, never a panic, and each one inside its file.
    #[test]
    fn no_value_causes_a_panic(
        kind in prop::sample::select(plan::RECORD_KINDS),
        key in "(id|row|name|spoken|rx|tx|shift|power|tone-in|output|input|phone|contact|line|on|columns|covers|verified|[a-z-]{1,8})",
        value in prop::sample::select(&["1", "-1", "1.5", "true", "\"x\"", "\"\"", "[]", "[1]", "[[]]", "{}", "{ on = 1 }", "[{}]", "2026-01-01", "[{ role = 1 }]", "9223372036854775807", "nan", "\"146.94 MHz\"", "\"off\""]),
    ) {
        let world = plan_with("", &format!("[[{kind}]]\n{key} = {value}\n"));
        are_somewhere(&world);
    }
}

/// More digits than 64 bits hold are a number all the same.
#[test]
fn a_number_of_too_many_digits_is_said_to_be_one() {
    for (written, said) in [("99999999999999999999", "100000000000000000000"), ("-5", "-5"), ("2.5", "2.5")] {
        let (.., found) = read(&plan_with("", &format!("[duty-limits]\nnights = {written}\n")));
        let told: Vec<&str> = found.iter().map(|finding| finding.message.as_str()).collect();
        assert_eq!(told, [format!("{said} stands where a whole number from 1 to 365 is wanted")], "{written}");
    }
}

/// What may befall a character.
#[derive(Clone, Debug)]
enum Slip {
    Gone,
    Twice,
    Other(char),
    /// All that follows on its line goes with it.
    LineGone,
}

fn slip() -> impl Strategy<Value = Slip> {
    let other = prop_oneof![prop::sample::select("\"'=[]{},.#\n\\ 0-_é".chars().collect::<Vec<_>>()), any::<char>()];
    prop_oneof![Just(Slip::Gone), Just(Slip::Twice), other.prop_map(Slip::Other), Just(Slip::LineGone)]
}

/// Reads a plan, and wants every finding in one of its files.
fn are_somewhere(world: &Shelf) {
    let (_, records, found) = read(world);
    for finding in found.iter() {
        assert!(records.files.place(finding.span).is_some(), "{finding:?}");
    }
}
