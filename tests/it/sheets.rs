//! What stands where: every sheet of the county and of a small plan on A4, mark by mark, so that a changed sheet shows what moved.

use fieldsheaf::cli::DiskWorld;
use fieldsheaf::ground::Length;
use fieldsheaf::sheet::{Area, CellPlace, Duplex, Face, Glyphs, Job, Mark, Panel, Point, Slope};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::path::Path;

/// After an intended change: `BLESS=1 cargo test --test it sheets`, then read the difference.
#[test]
fn every_mark_of_the_county_stands_where_it_stood() {
    crate::support::golden::compare("tests/sheets/sorrel-river", ".txt", &sheets("demo-plans/sorrel-river"));
}

#[test]
fn every_mark_of_a_small_plan_on_a4_stands_where_it_stood() {
    crate::support::golden::compare("tests/sheets/a4", ".txt", &sheets("tests/sheets/a4"));
}

/// Each file's sheets in words. Of the personal copies of one document the first is told whole: of others only what differs from it.
fn sheets(folder: &str) -> BTreeMap<String, String> {
    let (world, root) = DiskWorld::open(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)).unwrap();
    let jobs = fieldsheaf::jobs(&world, &root).unwrap();
    assert!(!jobs.is_empty(), "{folder} has an error");
    let mut texts = BTreeMap::new();
    // Titles are alike where a document is made for each holder.
    let mut first: BTreeMap<String, (String, BTreeSet<String>)> = BTreeMap::new();
    for job in &jobs {
        let text = told(job);
        let lines = || text.lines().map(str::to_owned).collect::<BTreeSet<String>>();
        match first.get(&job.title) {
            None => {
                first.insert(job.title.clone(), (job.stem.clone(), lines()));
                texts.insert(format!("{}.txt", job.stem), text);
            }
            Some((stem, known)) => {
                let own: String =
                    text.lines().filter(|line| !known.contains(*line)).map(|line| format!("{line}\n")).collect();
                texts.insert(format!("{}.txt", job.stem), format!("as {stem}, but for:\n{own}"));
            }
        }
    }
    texts
}

/// A file: its panels with their marks in reading order, then its pages with what is placed on them.
fn told(job: &Job) -> String {
    let duplex = match job.duplex {
        Duplex::Simplex => "one side",
        Duplex::LongEdge => "two sides, long edge",
        Duplex::ShortEdge => "two sides, short edge",
    };
    let mut text = format!("{}, {}, {duplex}\n", job.title, job.language);
    for (index, panel) in job.panels.iter().enumerate() {
        let size = format!("{} x {}", mm(panel.size.width), mm(panel.size.height));
        writeln!(text, "\npanel {index}, {}, {size}, safe {}", panel.title, area(&panel.safe)).unwrap();
        marks(&mut text, panel);
    }
    for (index, page) in job.pages.iter().enumerate() {
        let (width, height) = (mm(page.size.width), mm(page.size.height));
        writeln!(text, "\npage {index}, {width} x {height}, trim {}", area(&page.trim)).unwrap();
        for placed in &page.placed {
            let turned = if placed.is_turned { ", turned" } else { "" };
            writeln!(text, "  panel {} at {}{turned}", placed.panel, point(placed.at)).unwrap();
        }
        page.marks.iter().for_each(|mark| writeln!(text, "  {}", words(mark)).unwrap());
    }
    text
}

fn marks(text: &mut String, panel: &Panel) {
    for mark in panel.marks() {
        writeln!(text, "  {}", words(mark)).unwrap();
    }
}

/// A mark on one line, lengths in millimetres, sizes of type in points.
fn words(mark: &Mark) -> String {
    match mark {
        Mark::Glyphs(run) => glyphs(run),
        Mark::Line(line) => {
            let dash = line.dash.map(|(on, off)| format!(", dashes {} {}", mm(on), mm(off))).unwrap_or_default();
            format!("line {} to {}, {} pt{dash}", point(line.from), point(line.to), pt(line.thickness))
        }
        Mark::Fill(fill) => format!("fill {}, {} %", area(&fill.area), fill.black),
        Mark::Patterned(patterned) => format!("{:?} {}", patterned.pattern, area(&patterned.area)),
        Mark::Outline(outline) => {
            let corners: Vec<String> = outline.corners.iter().map(|corner| point(*corner)).collect();
            format!("outline {}, {} %", corners.join(" "), outline.black)
        }
        Mark::Entry(entry) => format!("{:?} {} {}", entry.kind, area(&entry.area), entry.name),
        Mark::Sign(sign) => {
            let cell = cell(sign.place.cell);
            let (at, size) = (point(sign.at), mm(sign.size));
            format!("{:?} at {at}, {size} [{}{cell}] {}", sign.sign, sign.place.block, sign.text)
        }
        Mark::Modules(modules) => {
            let dark = modules.dark.iter().filter(|dark| **dark).count();
            format!(
                "symbol at {}, {} modules of {}, {dark} dark: {:?}",
                point(modules.at),
                modules.side,
                mm(modules.module),
                modules.payload
            )
        }
    }
}

fn glyphs(run: &Glyphs) -> String {
    let face = match run.face {
        Face::Regular => "",
        Face::Medium => " medium",
        Face::SemiBold => " semibold",
        Face::Bold => " bold",
        Face::Hebrew | Face::HebrewBold | Face::Arabic | Face::ArabicBold => " other",
    };
    let cell = cell(run.place.cell);
    let slope = if run.slope == Slope::Steep { " steep" } else { "" };
    format!(
        "{} {} wide, {}{face}{slope} {:?} [{}{cell}] {}",
        point(run.at),
        mm(run.width),
        pt(run.size),
        run.role,
        run.place.block,
        run.text
    )
}

fn cell(place: Option<CellPlace>) -> String {
    place.map(|cell| format!(" {}.{}.{}", cell.table, cell.row, cell.column)).unwrap_or_default()
}

fn point(at: Point) -> String {
    format!("{},{}", mm(at.x), mm(at.y))
}

fn area(area: &Area) -> String {
    format!("{},{} to {},{}", mm(area.left), mm(area.top), mm(area.right), mm(area.bottom))
}

fn mm(length: Length) -> String {
    format!("{:.2}", length.to_pt() * 25.4 / 72.0)
}

fn pt(length: Length) -> String {
    format!("{}", (length.to_pt() * 100.0).round() / 100.0)
}
