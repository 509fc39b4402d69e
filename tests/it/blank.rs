//! How much of each sheet of the county is blank: a page that is mostly air is a failure of the one before it.

use crate::support::geometry::ink;
use fieldsheaf::cli::DiskWorld;
use fieldsheaf::ground::Length;
use fieldsheaf::sheet::{Area, Job, Mark, Panel};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;

/// Squares of 5 mm by which blank is measured.
const SQUARE: Length = Length::mm(5);

/// Where a mark leaves ink.
fn inked(mark: &Mark) -> Area {
    let around = |left: Length, top: Length, right: Length, bottom: Length| Area { left, top, right, bottom };
    match mark {
        Mark::Glyphs(run) => ink(run),
        Mark::Line(line) => {
            let (a, b, half) = (line.from, line.to, line.thickness / 2);
            around(a.x.min(b.x) - half, a.y.min(b.y) - half, a.x.max(b.x) + half, a.y.max(b.y) + half)
        }
        Mark::Fill(fill) => fill.area,
        Mark::Entry(entry) => Area { right: entry.area.left, ..entry.area },
        Mark::Patterned(patterned) => patterned.area,
        Mark::Outline(outline) => {
            let (xs, ys) = (outline.corners.iter().map(|at| at.x), outline.corners.iter().map(|at| at.y));
            around(xs.clone().min().unwrap(), ys.clone().min().unwrap(), xs.max().unwrap(), ys.max().unwrap())
        }
        Mark::Modules(modules) => {
            let side = modules.module * i64::try_from(modules.side).unwrap();
            around(modules.at.x, modules.at.y, modules.at.x + side, modules.at.y + side)
        }
        Mark::Sign(sign) => {
            let half = sign.size / 2;
            around(sign.at.x - half, sign.at.y - half, sign.at.x + half, sign.at.y + half)
        }
    }
}

/// Per cent of the squares of a panel's safe area that no mark touches.
fn blank(panel: &Panel) -> usize {
    let areas: Vec<Area> = panel.marks().map(inked).collect();
    let count = |length: Length| length.as_grains() / SQUARE.as_grains();
    let (columns, rows) = (count(panel.safe.width()), count(panel.safe.height()));
    let is_blank = |square: &Area| !areas.iter().any(|area| area.overlaps(square));
    let square = |n: i64| {
        let (left, top) = (panel.safe.left + SQUARE * (n % columns), panel.safe.top + SQUARE * (n / columns));
        Area { left, top, right: left + SQUARE, bottom: top + SQUARE }
    };
    let all = columns * rows;
    let empty = (0..all).map(square).filter(is_blank).count();
    empty * 100 / usize::try_from(all).unwrap()
}

fn jobs() -> Vec<Job> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river");
    let (world, root) = DiskWorld::open(&folder).unwrap();
    fieldsheaf::jobs(&world, &root).unwrap()
}

/// After an intended change: `BLESS=1 cargo test --test it blank`, then read whether sheets became emptier.
#[test]
fn no_sheet_of_the_county_is_emptier_than_it_was() {
    let mut text = String::new();
    for job in jobs().iter().filter(|job| !job.stem.starts_with("my-channels-")) {
        let panels: Vec<String> = job.panels.iter().map(|panel| format!("{} %", blank(panel))).collect();
        writeln!(text, "{}: {}", job.stem, panels.join(", ")).unwrap();
    }
    let texts = BTreeMap::from([("sorrel-river.txt".to_owned(), text)]);
    crate::support::golden::compare("tests/blank", ".txt", &texts);
}

/// Reports that one reads at a glance stand on so many pages.
#[test]
fn reports_of_the_county_stand_on_few_pages() {
    let jobs = jobs();
    let pages = |stem: &str| jobs.iter().find(|job| job.stem == stem).unwrap().pages.len();
    for (stem, most) in [("who-may-send", 1), ("rehearsal", 1), ("check-sheet", 2), ("interference", 2)] {
        assert!(pages(stem) <= most, "{stem} takes {} pages", pages(stem));
    }
}
