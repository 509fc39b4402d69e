//! Charts: how many sheets they take, that nothing on them touches, that no channel is lost, that a copier keeps patterns apart.
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    clippy::cast_possible_wrap,
    reason = "a test fails by panicking, and measures dots"
)]

use crate::support::geometry::{crosses, ink, judge, judge_sheets, runs};
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::cli::DiskWorld;
use fieldsheaf::compose::block::Role;
use fieldsheaf::ground::{Area, Length};
use fieldsheaf::paint::pictures;
use fieldsheaf::sheet::{Job, Mark, Pattern};
use proptest::prelude::{ProptestConfig, Strategy, prop_assert, proptest};
use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;

fn county() -> Vec<Job> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river");
    let (world, root) = DiskWorld::open(&folder).unwrap();
    fieldsheaf::jobs(&world, &root).unwrap()
}

fn named<'a>(jobs: &'a [Job], stem: &str) -> &'a Job {
    jobs.iter().find(|job| job.stem == stem).unwrap_or_else(|| panic!("no {stem}"))
}

/// A plan of channels, each a name and its route, with a chart on pages and one on the wall, on a paper.
fn plan(channels: &[(String, String)], paper: &str) -> Shelf {
    let mut text = format!("{HEAD}role = [\"Coordinator\"]\n");
    for (index, (name, route)) in channels.iter().enumerate() {
        writeln!(
            text,
            "[[channel]]\nid = \"c{index}\"\nrow = {}\nname = \"{name}\"\nspoken = \"Channel {index}\"\n{route}\nverified = {{ on = 2026-10-01, by = \"qra\" }}",
            index + 1
        )
        .unwrap();
    }
    for (id, kind, layout) in [
        ("pages", "frequency-chart", "chart"),
        ("wall", "frequency-chart", "wall-chart"),
        ("detail", "frequency-detail", "chart"),
    ] {
        writeln!(text, "[[document]]\nid = \"{id}\"\nkind = \"{kind}\"\nlayout = \"{layout}\"\npaper = \"{paper}\"\naudience = \"team\"").unwrap();
    }
    Shelf::new().with("plan.toml", text)
}

fn jobs(world: &Shelf) -> Vec<Job> {
    let outcome = fieldsheaf::check(world, "plan.toml").unwrap();
    let errors: Vec<&str> = outcome.findings.iter().filter(|f| f.is_error()).map(|f| f.message.as_str()).collect();
    assert_eq!(errors, Vec::<&str>::new());
    fieldsheaf::jobs(world, "plan.toml").unwrap()
}

fn names(job: &Job) -> Vec<String> {
    let all = job.panels.iter().flat_map(runs).filter(|run| run.role == Role::Name);
    all.map(|run| run.text.to_string()).collect()
}

#[test]
fn the_countys_charts_take_one_sheet_and_three_pages() {
    let jobs = county();
    assert_eq!(named(&jobs, "wall-chart").pages.len(), 1);
    assert_eq!(named(&jobs, "frequency-chart").pages.len(), 3);
    assert_eq!(named(&jobs, "crowded-stretches").pages.len(), 1);
}

/// Each channel has a flag and a row on the county's charts, and those outside the amateur bands too.
#[test]
fn every_channel_of_the_county_has_a_flag_and_a_row() {
    let jobs = county();
    let pages = named(&jobs, "frequency-chart");
    let known: BTreeSet<String> = names(pages).into_iter().collect();
    for name in ["CMD 1", "HF 80", "SHL 2", "MED 2", "WX 2", "FRS 3", "VTAC11"] {
        assert!(known.contains(name), "{name}");
    }
    for job in [pages, named(&jobs, "wall-chart")] {
        let names = names(job);
        for name in &known {
            let times = names.iter().filter(|other| *other == name).count();
            assert!(times >= 2, "{}: {name} stands {times} times", job.stem);
        }
    }
}

/// A quarter of a millimeter at least from any word to any line, on both papers.
#[test]
fn no_word_of_a_chart_touches_a_line() {
    let all = county();
    for stem in ["frequency-chart", "wall-chart", "crowded-stretches"] {
        let job = named(&all, stem);
        for panel in &job.panels {
            for run in runs(panel) {
                let Area { left, top, right, bottom } = ink(run);
                let air = Length::hundredths_mm(25);
                let area = Area { left: left - air, top: top - air, right: right + air, bottom: bottom + air };
                for mark in panel.marks() {
                    let Mark::Line(line) = mark else { continue };
                    assert!(!crosses(line, &area), "{stem}: \"{}\" at {:?} and {line:?}", run.text, run.at);
                }
            }
        }
    }
}

/// What a bar of a hatch, of dots and of nothing is to a copier that blurs, doubles the contrast, and copies its own copy.
#[test]
fn a_second_copy_keeps_hatch_dots_and_white_apart() {
    let jobs = county();
    let job = named(&jobs, "frequency-chart");
    let pictures = pictures(&fieldsheaf::paint::pdf(job).unwrap(), 400).unwrap();
    let dots = |length: Length| (length.to_pt() * 400.0 / 72.0) as u32;
    let mut inks: [Vec<f64>; 2] = [Vec::new(), Vec::new()];
    for (panel, picture) in job.panels.iter().zip(&pictures) {
        for mark in panel.marks() {
            let Mark::Patterned(patterned) = mark else { continue };
            let Area { left, top, right, bottom } = patterned.area;
            if right - left < Length::mm(8) {
                continue;
            }
            let inside = Length::hundredths_mm(35);
            let across = dots(left + inside)..dots((right - inside).min(left + Length::mm(30)));
            let level = |x: u32, y: u32| f64::from(picture.level(x, y).unwrap());
            let mut grey: Vec<Vec<f64>> = (dots(top + inside)..dots(bottom - inside))
                .map(|y| across.clone().map(|x| 1.0 - level(x, y) / 255.0).collect())
                .collect();
            for _ in 0..2 {
                grey = copied(&grey);
            }
            let count = grey.iter().map(Vec::len).sum::<usize>() as f64;
            inks[usize::from(patterned.pattern == Pattern::Dots)].push(grey.iter().flatten().sum::<f64>() / count);
        }
    }
    let [hatch, dotted] = inks;
    assert!(hatch.len() >= 6 && dotted.len() >= 4, "{} {}", hatch.len(), dotted.len());
    let range = |inks: &[f64]| inks.iter().fold((1.0_f64, 0.0_f64), |(low, high), ink| (low.min(*ink), high.max(*ink)));
    let ((hatch_low, hatch_high), (dots_low, dots_high)) = (range(&hatch), range(&dotted));
    assert!(hatch_low > 0.02 && dots_low > 0.02, "neither is lost: {hatch_low} {dots_low}");
    assert!(
        hatch_low > dots_high + 0.01 || dots_low > hatch_high + 0.01,
        "{hatch_low} to {hatch_high}, {dots_low} to {dots_high}"
    );
}

/// Blurred by a sixteenth of a millimeter, which is a dot, and twice the contrast about the middle of the scale.
fn copied(grey: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let at = |x: usize, y: usize, dx: i64, dy: i64| -> f64 {
        let row = &grey[(y as i64 + dy).clamp(0, grey.len() as i64 - 1) as usize];
        row[(x as i64 + dx).clamp(0, row.len() as i64 - 1) as usize]
    };
    let weight = [0.25, 0.5, 0.25];
    let one = |x: usize, y: usize| {
        let pairs = (-1..=1_i64).flat_map(|dx| (-1..=1_i64).map(move |dy| (dx, dy)));
        let blurred: f64 =
            pairs.map(|(dx, dy)| at(x, y, dx, dy) * weight[(dx + 1) as usize] * weight[(dy + 1) as usize]).sum();
        ((blurred - 0.5) * 2.0 + 0.5).clamp(0.0, 1.0)
    };
    (0..grey.len()).map(|y| (0..grey[y].len()).map(|x| one(x, y)).collect()).collect()
}

fn channels() -> impl Strategy<Value = Vec<(String, String)>> {
    let two_metres = (0..260_u32).prop_map(|n| format!("simplex = \"144.{:04} MHz\"", 5000 + n * 15));
    let pair = (0..190_u32)
        .prop_map(|n| format!("rx = \"146.{:04} MHz\"\ntx = \"146.{:04} MHz\"", 6100 + n * 15, 100 + n * 15));
    let seventy = (0..190_u32).prop_map(|n| {
        format!("rx = \"444.{:04} MHz\"\ntx = \"449.{:04} MHz\"\ntx-tone = \"123.0 Hz\"", n * 25, n * 25)
    });
    let low = (0..80_u32).prop_map(|n| format!("dial = \"{}.0 kHz\"\nside = \"LSB\"\npower = \"100 W\"", 7200 + n));
    let weather = (0..7_u32)
        .prop_map(|n| format!("rx = \"162.{:04} MHz\"\ntx = \"none\"\nservice = \"weather\"", 4000 + n * 250));
    let route = proptest::prop_oneof![two_metres, pair, seventy, low, weather];
    proptest::collection::vec(("[A-Z]{2,7}", route), 1..70).prop_map(|channels| {
        let numbered = channels.into_iter().enumerate();
        numbered.map(|(index, (name, route))| (format!("{name} {index}"), route)).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, failure_persistence: None, max_shrink_iters: 20, ..ProptestConfig::default() })]

    #[test]
    fn no_channel_of_any_plan_is_lost_and_nothing_touches(channels in channels(), is_a4 in proptest::prelude::any::<bool>()) {
        let world = plan(&channels, if is_a4 { "a4" } else { "letter" });
        for job in jobs(&world) {
            judge(&job, true);
            judge_sheets(&job, 1);
            let names: BTreeSet<String> = names(&job).into_iter().collect();
            for (name, _) in channels.iter().filter(|_| job.stem != "detail") {
                prop_assert!(names.contains(name), "{} lost {name}", job.stem);
            }
        }
    }
}

/// Three hundred labels on one band, five hundred channels on one chart: as fast as a few, and every one in the list.
#[test]
fn five_hundred_channels_are_set_and_none_is_lost() {
    let mut channels: Vec<(String, String)> = (0..300)
        .map(|n| (format!("TWO {n}"), format!("simplex = \"{}.{:04} MHz\"", 146 + n / 190, 400 + n % 190 * 50)))
        .collect();
    channels.extend((0..200).map(|n| (format!("SEV {n}"), format!("simplex = \"445.{:04} MHz\"", n * 50))));
    let world = plan(&channels, "letter");
    for job in jobs(&world) {
        let names: BTreeSet<String> = names(&job).into_iter().collect();
        for (name, _) in channels.iter().filter(|_| job.stem != "detail") {
            assert!(names.contains(name), "{} lost {name}", job.stem);
        }
        judge(&job, true);
    }
}
