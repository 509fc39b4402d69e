//! Air and lines of the county's sheets, on both papers: no two rules close to each other above a foot, no line of running text that the eye loses, a foot
//! of full sheets on one line, nothing across a cut.

use crate::support::geometry::{ink, judge, judge_sheets, runs};
use crate::support::shelf::Shelf;
use fieldsheaf::cli::DiskWorld;
use fieldsheaf::ground::{Length, World};
use fieldsheaf::sheet::{Area, Job, Line, Mark, Page, Panel};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::LazyLock;

/// The county with all its documents on one paper.
fn county(paper: &str) -> Vec<Job> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river");
    let (disk, root) = DiskWorld::open(&folder).unwrap();
    let mut world = Shelf::new();
    for name in disk.list().unwrap() {
        let mut bytes = disk.read(&name, 1 << 24).unwrap();
        if name == "documents.toml" {
            let text = String::from_utf8(bytes).unwrap();
            bytes = text.replace("[[document]]", &format!("[[document]]\npaper = \"{paper}\"")).into_bytes();
        }
        world = world.with(&name, bytes);
    }
    fieldsheaf::jobs(&world, &root).unwrap()
}

/// Set once for all tests: on Letter, and on A4.
static SHEETS: LazyLock<[Vec<Job>; 2]> = LazyLock::new(|| [county("letter"), county("a4")]);

fn both() -> impl Iterator<Item = &'static Job> {
    SHEETS.iter().flatten()
}

/// Whether its panels are whole pages: a card that stands alone on its sheet is none.
fn is_page(job: &Job) -> bool {
    let is_wide = |panel: &Panel| panel.size.width * 10 > job.pages[0].size.width * 9;
    job.panels.len() == job.pages.len() && job.panels.iter().all(is_wide)
}

fn level(mark: &Mark) -> Option<&Line> {
    match mark {
        Mark::Line(line) if line.from.y == line.to.y => Some(line),
        _ => None,
    }
}

/// The rule that opens a foot: a front has its contents above it.
fn foot_rule(panel: &Panel) -> Length {
    let is_wide = |line: &&Line| line.to.x - line.from.x > panel.safe.width() / 2;
    let mut rules = panel.foot.iter().filter_map(level).filter(is_wide);
    rules.next_back().unwrap_or_else(|| panic!("{} has a foot", panel.title)).from.y
}

#[test]
fn no_rule_stands_within_four_millimeters_of_the_foot() {
    let mut found = BTreeSet::new();
    for job in both() {
        for panel in &job.panels {
            let foot = foot_rule(panel);
            let is_rule = |line: &&Line| (line.to.x - line.from.x) > panel.safe.width() / 3;
            let lowest = panel.body.iter().filter_map(level).filter(is_rule).map(|line| line.from.y).max();
            if let Some(y) = lowest.filter(|y| foot - *y < Length::mm(4)) {
                found.insert(format!("{}, {}: {} mm", job.stem, panel.title, (foot - y).to_pt() * 25.4 / 72.0));
            }
        }
    }
    assert_eq!(found, BTreeSet::new());
}

/// Words of one block, or of one cell of a table, on one height.
#[test]
fn no_line_of_running_text_is_longer_than_ninety_characters() {
    let mut found = BTreeSet::new();
    for job in both() {
        for panel in &job.panels {
            let mut lines: BTreeMap<_, Vec<(Length, Length, String)>> = BTreeMap::new();
            for mark in panel.body.iter() {
                let Mark::Glyphs(run) = mark else { continue };
                let words = (run.at.x, run.at.x + run.width, run.text.to_string());
                lines.entry((run.place.block, run.place.cell, run.at.y)).or_default().push(words);
            }
            for mut line in lines.into_values() {
                line.sort();
                // What stands in another column of text is another line.
                let mut words = String::new();
                let mut end = None;
                for (from, to, text) in line {
                    if end.is_some_and(|end| from - end > Length::mm(2)) {
                        words.clear();
                    }
                    words.push_str(&text);
                    end = Some(to);
                    if words.chars().count() > 90 {
                        found.insert(format!("{}, {}: {words}", job.stem, panel.title));
                    }
                }
            }
        }
    }
    assert_eq!(found, BTreeSet::new());
}

#[test]
fn the_foot_of_a_full_sheet_is_one_line() {
    let mut count = 0;
    for job in both() {
        // Large print has letters of 14 pt, for which a line is too short.
        let is_full = is_page(job) && job.stem != "large-print";
        for panel in job.panels.iter().filter(|_| is_full) {
            let lines: BTreeSet<Length> = panel
                .foot
                .iter()
                .filter_map(|mark| match mark {
                    Mark::Glyphs(run) if run.at.y > foot_rule(panel) => Some(run.at.y),
                    _ => None,
                })
                .collect();
            assert_eq!(lines.len(), 1, "{}, {}", job.stem, panel.title);
            count += 1;
        }
    }
    assert!(count > 40, "{count}");
}

/// Holes stand 12 mm from the edge (ISO 838): nothing is within 20 mm of it on pages that are bound, and within 5 mm of any edge on any.
#[test]
fn holes_and_edges_cut_no_text() {
    let mut bound = 0;
    for job in both() {
        let is_bound = job.panels.iter().all(|panel| panel.safe.left >= Length::mm(20));
        let is_page = is_page(job) && !job.stem.ends_with("chart");
        assert!(is_bound || !is_page, "{} has no room for holes", job.stem);
        for page in &job.pages {
            let panels = page.placed.iter().flat_map(|placed| runs(&job.panels[placed.panel]).into_iter().map(ink));
            let left = panels.clone().map(|ink| ink.left).min().unwrap();
            assert!(!is_page || left >= Length::mm(20), "{}: text {left} from the left edge", job.stem);
            let edge = Length::mm(5);
            for placed in &page.placed {
                let panel = &job.panels[placed.panel];
                for run in runs(panel) {
                    let ink = ink(run);
                    let inside = placed.at.x + ink.left >= edge
                        && placed.at.y + ink.top >= edge
                        && placed.at.x + ink.right <= page.size.width - edge
                        && placed.at.y + ink.bottom <= page.size.height - edge;
                    assert!(
                        inside || !job.stem.ends_with("chart"),
                        "{}: \"{}\" within 5 mm of an edge: {ink:?}",
                        job.stem,
                        run.text
                    );
                }
            }
        }
        bound += usize::from(is_page);
    }
    assert!(bound > 30, "{bound}");
}

/// On the whole page: what is said once, and what folds and cuts.
#[test]
fn no_text_stands_across_a_cut() {
    for job in both() {
        judge_sheets(job, job.pages.iter().flat_map(|page| &page.placed).count() / job.panels.len());
        for page in &job.pages {
            for cut in cuts(page) {
                for mark in &page.marks {
                    let Mark::Glyphs(run) = mark else { continue };
                    assert!(!ink(run).overlaps(&cut), "{}: \"{}\" on a cut", job.stem, run.text);
                }
            }
        }
    }
}

/// Where a page is cut or folded between its panels, with 3 mm on both sides.
fn cuts(page: &Page) -> Vec<Area> {
    let air = Length::mm(3);
    let is_long =
        |line: &&Line| line.to.x - line.from.x > page.size.width / 2 || line.to.y - line.from.y > page.size.height / 2;
    let lines = page.marks.iter().filter_map(|mark| match mark {
        Mark::Line(line) if line.dash.is_some() => Some(line),
        _ => None,
    });
    let around = |line: &Line| Area {
        left: line.from.x - air,
        right: line.to.x + air,
        top: line.from.y - air,
        bottom: line.to.y + air,
    };
    lines.filter(is_long).map(around).collect()
}

#[test]
fn the_county_on_a4_keeps_its_sheets() {
    let pages = |jobs: &[Job]| jobs.iter().map(|job| (job.stem.clone(), job.pages.len())).collect::<BTreeMap<_, _>>();
    let [letter, a4] = &*SHEETS;
    let own_pages = pages(letter);
    for job in a4 {
        let is_dense =
            ["frequency-chart", "wall-chart", "crowded-stretches", "interference"].contains(&job.stem.as_str());
        judge(job, is_dense);
        assert!(job.panels.iter().all(|panel| !runs(panel).is_empty()), "{}", job.stem);
    }
    for (stem, pages) in pages(a4) {
        assert!(pages <= own_pages[&stem], "{stem} takes {pages} pages on A4");
    }
    let own: BTreeMap<String, usize> = pages(letter).into_iter().filter(|(stem, _)| stem.starts_with("my-")).collect();
    assert_eq!(own.len(), 30);
    assert!(own.values().all(|pages| *pages == 1), "{own:?}");
}
