//! The paper of forms: what anybody defines stands on it or is refused, rows go on over pages and none is lost, and what the program
//! brings is as its makers want it.

use crate::support::geometry::{ink, judge, judge_sheets, runs};
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compose::block::Role;
use fieldsheaf::compose::form_names;
use fieldsheaf::ground::Length;
use fieldsheaf::sheet::{Job, Mark};
use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop_assert, prop_oneof, proptest};
use std::fmt::Write;

/// The sheets of a form, or the names of what was found.
fn sheets(form: &str, order: &str) -> Result<Job, Vec<(&'static str, String)>> {
    let document = format!("[[document]]\nid = \"it\"\nkind = \"form\"\naudience = \"coordinator\"\n{order}");
    let world = Shelf::new().with("plan.toml", format!("{HEAD}{form}{document}"));
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let errors = outcome.findings.iter().filter(|finding| finding.is_error());
    let errors: Vec<_> = errors
        .map(|finding| {
            let help = finding.help.clone().unwrap_or_default();
            (finding.rule.name, format!("{} / {help}", finding.message))
        })
        .collect();
    if !errors.is_empty() {
        return Err(errors);
    }
    Ok(fieldsheaf::jobs(&world, "plan.toml").unwrap().remove(0))
}

#[test]
fn every_form_of_the_program_is_as_forms_are_to_be() {
    for (form, _) in form_names() {
        for paper in ["letter", "a4"] {
            let order = format!("form = \"{form}\"\npaper = \"{paper}\"\n");
            let job = sheets("", &order).unwrap();
            judge(&job, false);
            judge_sheets(&job, if form == "radiogram" { 2 } else { 1 });
            for panel in &job.panels {
                let labels = runs(panel).into_iter().filter(|run| run.role == Role::Label);
                assert!(labels.clone().all(|run| run.size >= Length::pt(8)), "{form}");
                // Half a page blank is used.
                let (used, room) = panel.fill;
                assert!(used * 2 >= room, "{form} on {paper}: {} fills less than half a page", panel.title);
            }
            if form == "radiogram" {
                continue;
            }
            // Punched at the left: nothing of the form stands there.
            for mark in job.panels.iter().flat_map(|panel| panel.body.iter()) {
                let left = match mark {
                    Mark::Glyphs(run) => ink(run).left,
                    Mark::Line(line) => line.from.x.min(line.to.x),
                    _ => continue,
                };
                assert!(left >= Length::mm(19), "{form} on {paper}");
            }
        }
    }
}

/// Lines to write on are 7 mm apart at least: between hairlines of one width, from the top down.
#[test]
fn writing_lines_of_the_program_are_seven_millimeters_apart() {
    for (form, _) in form_names() {
        let job = sheets("", &format!("form = \"{form}\"\n")).unwrap();
        for panel in &job.panels {
            let mut lines: Vec<(Length, Length, Length)> = panel
                .body
                .iter()
                .filter_map(|mark| match mark {
                    Mark::Line(line) if line.from.y == line.to.y => {
                        Some((line.from.x.min(line.to.x), line.from.x.max(line.to.x), line.from.y))
                    }
                    _ => None,
                })
                .collect();
            lines.sort();
            for pair in lines.windows(2) {
                let ((left, right, y), (next_left, next_right, next)) = (pair[0], pair[1]);
                let is_square = form == "ics-201" && next - y == Length::mm(5);
                // A box to tick is 5 mm wide.
                let is_box = right - left < Length::mm(6);
                if (left, right) == (next_left, next_right) && next > y && !is_square && !is_box {
                    assert!(next - y >= Length::mm(7), "{form}: {:?} mm", (next - y).as_grains() / 7200);
                }
            }
        }
    }
}

/// The numbers of rows that are printed in the first column of a table that goes on, on all pages.
#[test]
fn a_table_that_goes_on_over_pages_loses_no_row() {
    for rows in [1_u32, 30, 90, 400] {
        for paper in ["letter", "a4"] {
            let columns = "columns = [{ heading = \"Call\", share = 4 }, { heading = \"Name\", share = 8 }]";
            let form = format!(
                "[[form]]\nid = \"f\"\ntitle = \"Roster\"\nedition = \"1\"\nline = [\n{{ field = [{{ label = \"Who\", \
                 numbered = true, continues = true, rows = {rows}, {columns} }}] }},\n{{ field = [{{ label = \"End\" }}] }},\n]\n"
            );
            let job = sheets(&form, &format!("form = \"f\"\npaper = \"{paper}\"\n")).unwrap();
            judge(&job, false);
            let numbers: Vec<u32> = job
                .panels
                .iter()
                .flat_map(runs)
                .filter(|run| run.role == Role::Label)
                .filter_map(|run| run.text.parse().ok())
                .collect();
            assert_eq!(numbers, (1..=rows).collect::<Vec<u32>>(), "{rows} rows on {paper}");
            // Each page says what its columns are.
            let headed = |panel| runs(panel).iter().filter(|run| &*run.text == "Name").count();
            let pages = job.panels.iter().filter(|panel| runs(panel).iter().any(|run| run.text.parse::<u32>().is_ok()));
            assert!(pages.clone().all(|panel| headed(panel) == 1));
            assert_eq!(rows > 90, job.panels.len() > 10, "{} pages", job.panels.len());
            // No page is left with a row or two: its rows and those of the page before are as many, but for one.
            let on = |panel| runs(panel).iter().filter(|run| run.text.parse::<u32>().is_ok()).count();
            if let [.., before, last] = pages.map(on).collect::<Vec<_>>().as_slice() {
                assert!(*last * 2 >= *before, "{rows} rows on {paper}: {before}, then {last}");
            }
        }
    }
}

/// A roster's rows are spread over its pages, and net and date stand on each: what lies apart is told whose it is.
#[test]
fn rows_of_a_roster_fill_its_pages_and_each_says_what_it_is() {
    let roster = |rows: u32| {
        let columns = "columns = [{ heading = \"Call\", share = 4 }, { heading = \"Name\", share = 8 }]";
        format!(
            "[[form]]\nid = \"f\"\ntitle = \"Roster\"\nedition = \"1\"\nline = [\n{{ field = [{{ label = \"Net\", share = 6 }}, \
             {{ label = \"Day\", share = 6 }}] }},\n{{ field = [{{ label = \"Who\", numbered = true, continues = true, rows = {rows}, \
             {columns} }}] }},\n]\n"
        )
    };
    for paper in ["letter", "a4"] {
        for rows in [30, 45, 90, 200] {
            let job = sheets(&roster(rows), &format!("form = \"f\"\npaper = \"{paper}\"\n")).unwrap();
            judge(&job, false);
            let numbers = |panel| runs(panel).into_iter().filter(|run| run.text.parse::<u32>().is_ok());
            let counts: Vec<usize> = job.panels.iter().map(|panel| numbers(panel).count()).collect();
            let (least, most) = (counts.iter().min().unwrap(), counts.iter().max().unwrap());
            // Rows are 12.5 mm high at most, so that few rows over a page leave some of the second.
            assert!(
                least * 4 >= most * 3 || (counts.len() == 2 && least * 2 >= *most),
                "{rows} rows on {paper}: {counts:?}"
            );
            for panel in &job.panels {
                for label in ["Net", "Day", "Call"] {
                    assert_eq!(
                        runs(panel).iter().filter(|run| &*run.text == label).count(),
                        1,
                        "{label}, {rows} on {paper}"
                    );
                }
                let places: Vec<Length> = numbers(panel).map(|run| ink(run).bottom).collect();
                let apart = places.windows(2).map(|pair| pair[1] - pair[0]).min().unwrap();
                assert!(apart >= Length::mm(7), "{rows} rows on {paper}");
            }
        }
    }
}

/// A form that fills no page by itself has its lines as far apart as lets it use its sheets; where one line fills the page, others stay.
#[test]
fn a_form_of_many_fields_uses_its_sheets() {
    for (count, pages) in [(15, 1), (25, 2), (36, 2)] {
        let mut lines = String::new();
        for number in 1..=count {
            writeln!(lines, "{{ field = [{{ number = {number}, label = \"Field {number}\" }}] }},").unwrap();
        }
        let form = format!("[[form]]\nid = \"f\"\ntitle = \"Own\"\nedition = \"1\"\nline = [\n{lines}]\n");
        let job = sheets(&form, "form = \"f\"\n").unwrap();
        judge(&job, false);
        assert_eq!(job.panels.len(), pages, "{count} fields");
        // The last field ends in the last quarter of the part above the foot, which is 25 mm high.
        let last = runs(job.panels.last().unwrap()).into_iter().filter(|run| run.text.starts_with("Field"));
        let lowest = last.map(|run| ink(run).bottom).max().unwrap();
        let room = job.panels[0].size.height - Length::mm(25);
        assert!(lowest >= room.fraction(3, 4), "{count} fields: {lowest:?} of {room:?}");
    }
}

/// Each sheet of a pad holds copies of one page: what is cut from it is a whole form, or it is said that it is not.
#[test]
fn a_pad_holds_the_whole_form_or_says_that_it_does_not() {
    for (form, paper, pages) in [
        ("radiogram", "letter", 1),
        ("radiogram", "a4", 1),
        ("log", "letter", 1),
        ("log", "a4", 1),
        ("message", "letter", 2),
        ("message", "a4", 2),
    ] {
        let order = format!("form = \"{form}\"\npaper = \"{paper}\"\nlayout = \"pad\"\n");
        let document = format!("[[document]]\nid = \"it\"\nkind = \"form\"\naudience = \"coordinator\"\n{order}");
        let text = format!("{HEAD}{document}");
        let layout = text.lines().position(|line| line == "layout = \"pad\"").unwrap() + 1;
        let world = Shelf::new().with("plan.toml", text);
        let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
        let told = outcome.findings.iter().filter(|finding| finding.rule.name == "pad-holds-part");
        let told: Vec<_> = told
            .map(|finding| (outcome.files.place(finding.span).map(|(_, line, _)| line), finding.message.as_str()))
            .collect();
        let what = "\"Message, Example plan\" takes 2 pages, and each sheet of a pad holds one of them";
        let wanted = if pages > 1 { vec![(Some(layout), what)] } else { Vec::new() };
        assert_eq!(told, wanted, "{form} on {paper}");
        let job = fieldsheaf::jobs(&world, "plan.toml").unwrap().remove(0);
        assert_eq!(job.panels.len(), pages, "{form} on {paper}");
    }
}

#[test]
fn rows_that_do_not_fit_are_told_with_what_lets_them_go_on() {
    let columns = "columns = [{ heading = \"Call\", share = 4 }, { heading = \"Name\", share = 8 }]";
    let form = |more: &str| {
        format!(
            "[[form]]\nid = \"f\"\ntitle = \"Roster\"\nedition = \"1\"\nline = [{{ field = [{{ label = \"Who\", {more}, {columns} }}] }}]\n"
        )
    };
    let found = sheets(&form("rows = 90"), "form = \"f\"\n").unwrap_err();
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].0, "text-does-not-fit");
    assert!(found[0].1.contains(" of its 90 rows fit / write `rows = "), "{}", found[0].1);
    assert!(found[0].1.contains("over pages needs `continues = true`"), "{}", found[0].1);
    assert!(sheets(&form("rows = 90, continues = true"), "form = \"f\"\n").is_ok());
}

/// A field of any kind, with keys that may contradict each other.
fn field() -> impl Strategy<Value = String> {
    let kind = prop_oneof![
        Just(String::new()),
        (1..40_u32).prop_map(|n| format!(", lines = {n}")),
        (1..6_usize).prop_map(|n| format!(", ticks = [{}]", vec!["\"yes\""; n].join(", "))),
        Just(", ticks = [\"a\", \"b\"], means = [\"one thing that is said at length\", \"another\"]".to_owned()),
        (1..10_u32, 1..12_u32).prop_map(|(words, lines)| format!(", words = {words}, word-lines = {lines}")),
        (1..80_u32, any::<bool>(), any::<bool>(), 1..6_u32).prop_map(|(rows, numbered, continues, count)| {
            let column = |n: u32| format!("{{ heading = \"C{n}\", share = {}, total = {} }}", 12 / count, n == 2);
            let columns: Vec<String> = (1..=count).map(column).collect();
            format!(
                ", rows = {rows}, numbered = {numbered}, continues = {continues}, columns = [{}]",
                columns.join(", ")
            )
        }),
        (1..20_u32).prop_map(|n| format!(", squares = \"5 mm\", square-lines = {n}")),
        Just(", signature = true".to_owned()),
        prop_oneof![Just("local"), Just("UTC"), Just("ticks")].prop_map(|zone| format!(", date-time = \"{zone}\"")),
        Just(", text = \"Say zero where there are none; leave out what nobody asked.\"".to_owned()),
        Just(", from = \"plan.title\"".to_owned()),
    ];
    (kind, 1..13_u32, any::<bool>(), "[A-Za-z ]{1,30}[a-z]").prop_map(|(kind, share, fill, label)| {
        format!("{{ label = \"{}\", share = {share}, fill = {fill}{kind} }}", label.trim())
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, failure_persistence: None, max_shrink_iters: 60, ..ProptestConfig::default() })]

    /// One to two hundred blocks: all stand on paper, nothing over anything, or something is found; never neither.
    #[test]
    fn any_definition_is_set_or_refused(
        fields in proptest::collection::vec((field(), any::<bool>(), any::<bool>()), 1..200),
        layout in prop_oneof![Just("full"), Just("full-wide"), Just("half"), Just("pad")],
    ) {
        let mut lines = String::new();
        for (index, (field, is_titled, is_new)) in fields.iter().enumerate() {
            let title = if *is_titled && index % 7 == 3 { "title = \"Operator\", " } else { "" };
            let page = if *is_new && index % 11 == 5 { "new-page = true, " } else { "" };
            writeln!(lines, "    {{ {title}{page}field = [{field}] }},").unwrap();
        }
        let form = format!("[[form]]\nid = \"f\"\ntitle = \"Any form\"\nedition = \"1\"\nline = [\n{lines}]\n");
        match sheets(&form, &format!("form = \"f\"\nlayout = \"{layout}\"\n")) {
            Ok(job) => {
                judge(&job, false);
                judge_sheets(&job, if layout == "pad" { 2 } else { 1 });
            }
            Err(found) => {
                let known = ["text-does-not-fit", "form-field-unclear", "more-than-taken", "form-line-too-wide"];
                prop_assert!(found.iter().all(|(name, _)| known.contains(name)), "{:?}", found);
            }
        }
    }
}
