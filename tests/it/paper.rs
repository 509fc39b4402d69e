//! The promise of the paper, on plans nobody wrote: every panel once, nothing over anything, nothing outside, digits large enough.

use crate::support::every::{is_dense, made_of, order};
use crate::support::geometry::{judge, judge_sheets, runs};
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::compose::block::Role;
use fieldsheaf::compose::{KINDS, Kind, form_names};
use fieldsheaf::ground::{Files, Findings, Length};
use fieldsheaf::sheet::{Face, Job, Mark};
use fieldsheaf::tables::Tables;
use fieldsheaf::typeset::layout_names as names;
use proptest::prelude::{
    Just, ProptestConfig, Strategy, any, prop_assert, prop_assert_eq, prop_assume, prop_oneof, proptest,
};
use std::fmt::Write;

/// Words as people write them: letters, figures, signs, some long.
fn words(most: usize) -> impl Strategy<Value = String> {
    let word = prop_oneof![
        "[A-Za-z]{1,9}",
        "[0-9]{1,4}",
        Just("été".to_owned()),
        Just("(North)".to_owned()),
        Just("A/B".to_owned())
    ];
    proptest::collection::vec(word, 1..=most).prop_map(|words| words.join(" "))
}

/// A channel of one of the ways in which stations reach each other.
fn channel() -> impl Strategy<Value = String> {
    let way = prop_oneof![
        (0..40_u32).prop_map(|n| format!(
            "simplex = \"{}.{:04} MHz\"\ntx-tone = \"100.0 Hz\"",
            146 + n % 2,
            400 + n * 75
        )),
        (0..30_u32).prop_map(|n| format!("dial = \"{}.0 kHz\"\nside = \"LSB\"\npower = \"100 W\"", 7200 + n)),
        (0..30_u32).prop_map(|n| format!(
            "rx = \"162.{:04} MHz\"\ntx = \"none\"\nservice = \"weather\"\nrx-tone = \"156.7 Hz\"",
            4000 + n * 25
        )),
        (0..30_u32).prop_map(|n| format!(
            "rx = \"444.{:04} MHz\"\ntx = \"449.{:04} MHz\"\ntx-tone = \"DCS 023 normal\"\nrx-tone = \"123.0 Hz\"",
            n * 250,
            n * 250
        )),
    ];
    (way, words(4), words(8), any::<bool>()).prop_map(|(way, spoken, note, has_note)| {
        let note = if has_note { format!("note = \"{note}\"\n") } else { String::new() };
        format!("spoken = \"{spoken}\"\n{way}\n{note}verified = {{ on = 2026-10-01, by = \"qra\" }}\n")
    })
}

/// People, sites and nets with names of any sort.
fn people() -> impl Strategy<Value = String> {
    let one = (words(2), words(4), any::<bool>(), any::<bool>());
    let purposes = proptest::collection::vec(words(12), 0..5);
    (proptest::collection::vec(one, 0..12), purposes).prop_map(|(people, purposes)| {
        let mut text = String::new();
        for (index, (name, role, is_licensed, is_shown)) in people.into_iter().enumerate() {
            let audience = if is_shown { "team" } else { "coordinator" };
            let licence = if is_licensed { format!("call = \"WZ7QS{}\"\nclass = \"technician\"\nexpires = 2030-01-01\n", char::from(b'A' + u8::try_from(index).unwrap())) } else { String::new() };
            let number = format!("+1 406 555 01{index:02}");
            let phone = format!("{{ number = \"{number}\", audience = \"{audience}\", confirmed = 2026-10-01 }}");
            writeln!(text, "[[member]]\nid = \"m{index}\"\nname = \"{name}\"\n{licence}role = [\"{role}\"]\nphone = [{phone}]").unwrap();
            let contact = format!("{{ role = \"{role}\", phone = \"{number}\", audience = \"team\", confirmed = 2026-10-01 }}");
            writeln!(
                text,
                "[[place]]\nid = \"p{index}\"\ncode = \"P{index:02}\"\ntactical = \"P{index} {name}\"\nkind = \"shelter\"\n\
                 visited-on = 2026-10-01\ncontact = [{contact}]"
            )
            .unwrap();
        }
        for (index, purpose) in purposes.iter().enumerate() {
            writeln!(text, "[[net]]\nid = \"n{index}\"\nname = \"Net {index}\"\nspoken = \"Net {index}\"\npurpose = \"{purpose}\"\nprimary = \"c0\"")
                .unwrap();
        }
        text
    })
}

fn plan(channels: &[String], people: &str) -> String {
    let phone = r#"phone = [{ number = "+1 406 555 0101", audience = "team", confirmed = 2026-10-01 }]"#;
    let mut text = format!("{HEAD}role = [\"Coordinator\"]\n{phone}\n{people}");
    for (index, channel) in channels.iter().enumerate() {
        // Row, name and spoken name are never twice.
        let channel = channel.replacen("spoken = \"", &format!("spoken = \"{} ", index + 1), 1);
        writeln!(text, "[[channel]]\nid = \"c{index}\"\nrow = {}\nname = \"CH {index}\"\n{channel}", index + 1)
            .unwrap();
    }
    // The first is set by a layout of the team in one of the tests.
    let others = [
        ("pocket", "channel-card", "fold-8", "letter"),
        ("pocket-a4", "channel-card", "fold-8", "a4"),
        ("small", "channel-card", "card", "a4"),
        ("large", "channel-card", "full", "letter"),
        ("people", "contact-card", "card", "letter"),
    ];
    for (id, kind, layout, paper) in others {
        writeln!(text, "[[document]]\nid = \"{id}\"\nkind = \"{kind}\"\nlayout = \"{layout}\"\npaper = \"{paper}\"\naudience = \"team\"")
            .unwrap();
    }
    // Papers of an exercise want one: see `practised`.
    let is_usual = |kind: &&&Kind| made_of(kind).is_empty();
    for (index, kind) in KINDS.iter().filter(is_usual).enumerate() {
        let paper = ["letter", "a4"][index % 2];
        text += &order(kind, &format!("every-{}", kind.name), "team", &format!("paper = \"{paper}\"\n"));
    }
    for (name, _) in form_names() {
        writeln!(text, "[[document]]\nid = \"{name}\"\nkind = \"form\"\nform = \"{name}\"\naudience = \"leads\"")
            .unwrap();
    }
    text
}

/// The plan with an exercise, and the papers of it alone.
fn practised(channels: &[String], people: &str) -> String {
    let text = plan(channels, people);
    let mut text = text.split("[[document]]").next().unwrap().to_owned();
    let is_of_one = |kind: &&&Kind| !made_of(kind).is_empty();
    for (index, kind) in KINDS.iter().filter(is_of_one).enumerate() {
        if index == 0 {
            text += made_of(kind);
        }
        let paper = ["letter", "a4"][index % 2];
        text += &order(kind, &format!("every-{}", kind.name), "team", &format!("paper = \"{paper}\"\n"));
    }
    text
}

/// Two of a radiogram, and of what tells how to reach a place, stand on a sheet.
fn times(job: &Job) -> usize {
    let is_twice = ["-on-pad", "radiogram", "-reach-us"].iter().any(|end| job.stem.ends_with(end));
    if is_twice { 2 } else { 1 }
}

/// Whether a document of these plans is on a dense layout: its id ends in that of its layout, or is that of its kind.
fn is_set_densely(stem: &str) -> bool {
    let kind = KINDS.iter().find(|kind| stem == format!("every-{}", kind.name));
    let layout =
        kind.map_or_else(|| names().find(|name| stem.ends_with(&format!("-on-{name}"))), |kind| Some(kind.layout));
    layout.is_some_and(is_dense)
}

fn jobs(text: &str) -> Vec<Job> {
    let world = Shelf::new().with("plan.toml", text);
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let errors: Vec<&str> = outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    assert_eq!(errors, Vec::<&str>::new());
    fieldsheaf::jobs(&world, "plan.toml").unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, max_shrink_iters: 20, max_global_rejects: 48, ..ProptestConfig::default() })]

    #[test]
    fn any_plan_that_checks_fits_its_paper(channels in proptest::collection::vec(channel(), 1..28), people in people()) {
        let text = plan(&channels, &people);
        let outcome = fieldsheaf::check(&Shelf::new().with("plan.toml", text.clone()), "plan.toml").unwrap();
        let refused: Vec<&str> = outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.rule.name).collect();
        // A name of twenty capital letters fits on no card: then the plan is refused by name, and nothing is printed.
        prop_assert!(refused.iter().all(|name| *name == "text-does-not-fit"), "{:?}", refused);
        // Such a plan counts as none of the cases: as many as asked for are really judged, and too many refusals fail.
        prop_assume!(refused.is_empty());
        for job in jobs(&text) {
            judge(&job, is_set_densely(&job.stem));
            judge_sheets(&job, times(&job));
        }
        for job in jobs(&practised(&channels, &people)) {
            judge(&job, is_set_densely(&job.stem));
            judge_sheets(&job, times(&job));
        }
    }

    #[test]
    fn no_bytes_make_check_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let world = Shelf::new().with("plan.toml", bytes);
        let outcome = fieldsheaf::check(&world, "plan.toml");
        prop_assert!(outcome.is_err() || outcome.unwrap().findings.errors() > 0);
    }

    /// A plan with a piece cut out or doubled: most cuts leave it broken, none may break the program.
    #[test]
    fn no_cut_of_a_plan_makes_check_panic(from in 0..2000_usize, length in 0..60_usize, doubled in any::<bool>()) {
        let text = plan(&["spoken = \"One\"\nsimplex = \"146.5500 MHz\"\n".to_owned()], "");
        let from = from.min(text.len());
        let to = (from + length).min(text.len());
        let tail = if doubled { from } else { to };
        let cut = format!("{}{}", &text[..from], &text[tail..]);
        let outcome = fieldsheaf::check(&Shelf::new().with("plan.toml", cut), "plan.toml");
        prop_assert_eq!(outcome.is_ok(), true);
    }
}

/// ISO 216 and ISO/IEC 7810, from memory; Letter is 8.5 by 11 inches.
#[test]
fn paper_has_its_published_sizes() {
    let papers = &Tables::built_in().papers;
    let size = |id: &str| papers.get(id).map(|paper| (paper.width, paper.height)).unwrap();
    assert_eq!(size("a4"), (Length::mm(210), Length::mm(297)));
    assert_eq!(size("letter"), (Length::hundredths_mm(21_590), Length::hundredths_mm(27_940)));
    assert_eq!(size("id-1"), (Length::hundredths_mm(8560), Length::hundredths_mm(5398)));
    let panels = jobs(&plan(&[], ""));
    let stem = |stem: &str| panels.iter().find(|job| job.stem == stem).unwrap();
    assert_eq!(stem("small").panels[0].size.width, size("id-1").0);
    assert_eq!(stem("pocket-a4").pages[0].size.width, size("a4").1);
}

/// Head and foot of every panel say that it is an exercise, in bold words as large as a title, on every kind and every layout; the
/// code says it too.
#[test]
fn an_exercise_is_said_at_head_and_foot_of_every_panel() {
    let incident = "[incident]\nname = \"Ice storm\"\nfrom = \"2027-01-16 06:00\"\nto = \"2027-01-17 18:00\"\n";
    let channel = |n: u32| {
        format!(
            "spoken = \"One\"\nsimplex = \"146.{} MHz\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n",
            400 + 15 * n
        )
    };
    let channels: Vec<String> = (0..12).map(channel).collect();
    let mut text = plan(&channels, incident);
    for layout in names() {
        for kind in ["channel-card", "contact-card"] {
            writeln!(
                text,
                "[[document]]\nid = \"{kind}-on-{layout}\"\nkind = \"{kind}\"\nlayout = \"{layout}\"\naudience = \"team\""
            )
            .unwrap();
        }
    }
    let exercise = text.replace("18:00\"\n", "18:00\"\nexercise = true\n");
    let said = |marks: &[Mark], what: &str| -> Vec<(Face, Length)> {
        let run = |mark: &Mark| match mark {
            Mark::Glyphs(run) if &*run.text == what => Some((run.face, run.size)),
            _ => None,
        };
        marks.iter().filter_map(run).collect()
    };
    for job in jobs(&exercise) {
        judge(&job, is_set_densely(&job.stem));
        judge_sheets(&job, times(&job));
        let titled = job.panels.iter().flat_map(|panel| &panel.head).find_map(|mark| match mark {
            Mark::Glyphs(run) if run.role == Role::Title => Some(run.size),
            _ => None,
        });
        for panel in &job.panels {
            // A front has its name in the place of a title.
            let Some(title) = titled else { continue };
            let word = (Face::Bold, title);
            assert_eq!(said(&panel.head, "EXERCISE"), [word], "{} {}", job.stem, panel.title);
            assert_eq!(said(&panel.foot, "EXERCISE"), [word], "{} {}", job.stem, panel.title);
            let all: Vec<Mark> = panel.head.iter().chain(panel.foot.iter()).cloned().collect();
            assert_eq!(said(&all, "invented plan").len(), 1, "{} {}", job.stem, panel.title);
            let top = runs(panel).iter().map(|run| run.at.y).min().unwrap();
            assert!(
                runs(panel).iter().any(|run| run.at.y == top && &*run.text == "EXERCISE"),
                "first of all: {}",
                job.stem
            );
        }
    }
    let in_earnest = text.replace("invented = true\n", "");
    for job in jobs(&in_earnest) {
        let words = job.panels.iter().flat_map(runs).filter(|run| ["EXERCISE", "invented plan"].contains(&&*run.text));
        assert_eq!(words.count(), 0, "{}", job.stem);
    }
    let codes = |text: &str| -> Vec<(String, Option<String>)> {
        let world = Shelf::new().with("plan.toml", text);
        let (_, kit) = fieldsheaf::build(&world, "plan.toml", &fieldsheaf::Wanted::default(), &|_, _| ()).unwrap();
        kit.unwrap().files.into_iter().map(|file| (file.name, file.code)).collect()
    };
    let (calm, drill, real) = (codes(&text), codes(&exercise), codes(&in_earnest));
    for ((calm, drill), real) in calm.iter().zip(&drill).zip(&real) {
        assert!(calm.1.is_some() && calm != drill && calm != real && drill != real, "{}", calm.0);
    }
}

/// What a layout leaves out is said, never dropped.
#[test]
fn a_layout_of_the_team_is_read_and_judged() {
    let layout = include_str!("../../layouts/fold-8.toml");
    let text = plan(
        &["spoken = \"One\"\nsimplex = \"146.5500 MHz\"\nverified = { on = 2026-10-01, by = \"qra\" }\n".to_owned()],
        "",
    )
    .replacen("layout = \"fold-8\"", "layout = \"layouts/ours.toml\"", 1);
    let names = |layout: String| {
        let world = Shelf::new().with("plan.toml", text.clone()).with("layouts/ours.toml", layout);
        let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
        let place = |f: &fieldsheaf::ground::Finding| outcome.files.place(f.span).map(|(name, ..)| name.to_owned());
        outcome.findings.iter().map(|f| (f.rule.name.to_owned(), place(f).unwrap())).collect::<Vec<_>>()
    };
    assert_eq!(names(layout.to_owned()), []);
    let own = |name: &str, file: &str| (name.to_owned(), file.to_owned());
    assert_eq!(
        names(layout.replace("dialled = \"10.5 pt\"", "dialled = \"9 pt\"")),
        [own("layout-below-floor", "layouts/ours.toml")]
    );
    let without_hear = "[[table]]\nkey = \"channels\"\nleft = [\"row\", \"name\"]\nright = [\"send\", \"tone\"]\n";
    assert_eq!(names(format!("{layout}\n{without_hear}")), [own("layout-lacks-column", "plan.toml")]);
    assert_eq!(names(layout.replace("fold-8\"", "fold-9\"")), [own("layout-unreadable", "layouts/ours.toml")]);
    assert_eq!(
        names(layout.replace("title =", "titel =")),
        [own("missing-key", "layouts/ours.toml"), own("unknown-key", "layouts/ours.toml")]
    );
}

#[test]
fn files_of_no_plan_are_not_needed_for_a_layout() {
    let (mut files, mut found) = (Files::default(), Findings::default());
    let asked = fieldsheaf::ground::At::new("full".to_owned(), fieldsheaf::ground::Span::NOWHERE);
    assert!(fieldsheaf::typeset::find_layout(&asked, &Shelf::new(), &mut files, &mut found).is_some());
}
