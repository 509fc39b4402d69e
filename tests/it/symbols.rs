//! QR symbols as a phone meets them: printed at 300 dots an inch, a little out of focus, in poor light.

use crate::support::shelf::Shelf;
use fieldsheaf::ground::Length;
use fieldsheaf::paint::{Picture, pictures};
use fieldsheaf::sheet::{Area, Job, Mark, Modules};
use rayon::iter::{IntoParallelIterator, IntoParallelRefIterator, ParallelIterator};
use std::collections::BTreeSet;
use std::fmt::Write;
use std::io::Write as _;
use std::process::Command;
use std::sync::LazyLock;

const DOTS: u16 = 300;

/// Contacts and channels in such numbers that symbols of many sizes come about, on every format that bears them.
fn plan() -> String {
    let mut text = String::from(
        "[plan]\ntitle = \"Example\"\nshort = \"EXAMPLE\"\nteam = \"T\"\nprofile = \"us\"\ninvented = true\ntime-zone = \"America/Denver\"\n\
         [edition]\nnumber = 7\nissued = 2026-11-20\nvalid-from = 2026-12-01\nreview-by = 2027-06-01\nprepared-by = \"m0\"\napproved-by = \"m0\"\n",
    );
    for index in 0..14 {
        let role = "Liaison to the hospitals ".repeat(index / 2);
        writeln!(
            text,
            "[[member]]\nid = \"m{index}\"\ncall = \"WZ7QS{}\"\nname = \"Été Member {index}\"\nclass = \"extra\"\nexpires = 2030-01-01\nconfirmed = 2026-10-01\n\
             role = [\"{}\"]\nphone = [{{ number = \"+1 406 555 01{index:02}\", audience = \"team\", confirmed = 2026-10-01 }}]",
            char::from(b'A' + u8::try_from(index).unwrap()),
            if role.is_empty() { "Helper" } else { role.trim() },
        )
        .unwrap();
    }
    for index in 0..37 {
        writeln!(
            text,
            "[[channel]]\nid = \"c{index}\"\nrow = {}\nname = \"CH {index}\"\nspoken = \"{} Channel\"\nsimplex = \"146.{:04} MHz\"\nverified = {{ on = 2026-10-01, by = \"m0\" }}",
            index + 1,
            index + 1,
            4000 + 75 * index
        )
        .unwrap();
    }
    for (kind, layouts) in [
        ("channel-symbols", &["fold-8", "fold-4", "card", "index", "half", "full"][..]),
        ("contact-card", &["fold-8", "card", "index", "full"][..]),
    ] {
        for layout in layouts {
            writeln!(
                text,
                "[[document]]\nid = \"{kind}-{layout}\"\nkind = \"{kind}\"\nlayout = \"{layout}\"\naudience = \"team\""
            )
            .unwrap();
        }
    }
    text
}

/// A symbol with the white around it, as it lies on its sheet.
fn area(job: &Job, panel: usize, modules: &Modules) -> (usize, Area, bool) {
    let place = job.placements().into_iter().nth(panel).unwrap();
    let quiet = modules.module * 4;
    let side = modules.module * i64::try_from(modules.side).unwrap();
    let (left, top) = (modules.at.x - quiet, modules.at.y - quiet);
    let (right, bottom) = (modules.at.x + side + quiet, modules.at.y + side + quiet);
    let size = job.panels[panel].size;
    let (x, y) = (place.area.left, place.area.top);
    let area = if place.is_turned {
        Area {
            left: x + size.width - right,
            right: x + size.width - left,
            top: y + size.height - bottom,
            bottom: y + size.height - top,
        }
    } else {
        Area { left: x + left, right: x + right, top: y + top, bottom: y + bottom }
    };
    (place.page, area, place.is_turned)
}

/// Printed on grey, grainy paper, then seen out of focus by a dot to each side.
fn worn(picture: &Picture) -> image::GrayImage {
    let mut noise: u64 = 5;
    let grainy = image::GrayImage::from_fn(picture.width, picture.height, |x, y| {
        noise = noise.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let grain = i64::try_from(noise >> 33).unwrap() % 81 - 40;
        // Ink at 60 and paper at 210 of 255, each dot up to 40 off.
        let level = i64::from(picture.level(x, y).unwrap()) * 150 / 255 + 60 + grain;
        image::Luma([u8::try_from(level.clamp(0, 255)).unwrap()])
    });
    let kernel = [1.0_f32 / 9.0; 9];
    image::imageops::filter3x3(&grainy, &kernel)
}

#[test]
fn every_symbol_reads_from_a_worn_print_at_every_size_and_on_every_format() {
    let jobs = fieldsheaf::jobs(&Shelf::new().with("plan.toml", plan()), "plan.toml").unwrap();
    assert_eq!(jobs.len(), 10);
    let read: Vec<(usize, Length)> = jobs.par_iter().flat_map(symbols).collect();
    let sides: BTreeSet<usize> = read.iter().map(|(side, _)| *side).collect();
    let modules: BTreeSet<Length> = read.iter().map(|(_, module)| *module).collect();
    say(&format!("{} symbols of {sides:?} modules a side, modules of {modules:?}", read.len()));
    assert!(read.len() > 60 && sides.len() >= 5, "{} symbols, {sides:?}", read.len());
}

/// Reads every symbol of a job; gives their sizes.
fn symbols(job: &Job) -> Vec<(usize, Length)> {
    let pdf = fieldsheaf::paint::pdf(job).unwrap();
    // Other sizes only where they are wanted: drawing them takes a while.
    let sheets = [DOTS, 200, 450, 250, 350].map(|dots| {
        LazyLock::new({
            let pdf = &pdf;
            move || pictures(pdf, dots).unwrap()
        })
    });
    let on_panels = job.panels.iter().enumerate().flat_map(|(index, panel)| {
        panel.marks().filter_map(move |mark| match mark {
            Mark::Modules(modules) => Some((index, modules)),
            _ => None,
        })
    });
    let one = |(panel, modules): (usize, &Modules)| {
        let (page, area, is_turned) = area(job, panel, modules);
        let part = |sheets: &Vec<Picture>| sheets[page].part(area, job.pages[page].size, is_turned);
        let name = format!("{} panel {panel}, {} modules", job.stem, modules.side);
        // At one of some sizes: this reader loses an alignment mark now and then.
        assert!(sheets.iter().any(|sheets| rqrr_reads(&part(sheets), &modules.payload)), "{name}");
        if let Some(said) = zbar_reads(&worn(&part(&sheets[0]))) {
            assert_eq!(said, modules.payload.trim_end(), "{name}");
        }
        (modules.side, modules.module)
    };
    on_panels.collect::<Vec<_>>().into_par_iter().map(one).collect()
}

/// Whether the crate reads a clean picture.
fn rqrr_reads(part: &Picture, payload: &str) -> bool {
    let clean = image::GrayImage::from_fn(part.width, part.height, |x, y| image::Luma([part.level(x, y).unwrap()]));
    let mut prepared = rqrr::PreparedImage::prepare(clean);
    prepared.detect_grids().into_iter().any(|grid| grid.decode().is_ok_and(|(_, said)| said == payload))
}

/// What another reader says of a picture; none, said on stderr, where it is not installed.
fn zbar_reads(picture: &image::GrayImage) -> Option<String> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("symbol.png");
    picture.save(&path).unwrap();
    match Command::new("zbarimg").args(["--quiet", "--raw", "--oneshot"]).arg(&path).output() {
        Err(fault) if fault.kind() == std::io::ErrorKind::NotFound => {
            say("skipped: zbarimg not installed");
            None
        }
        run => Some(String::from_utf8(run.unwrap().stdout).unwrap().trim_end().to_owned()),
    }
}

fn say(words: &str) {
    let mut out = std::io::stderr();
    writeln!(out, "{words}").unwrap();
}
