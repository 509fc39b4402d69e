//! Proofs: what they show is what is printed, and one page shows it all without a server, a script or anything fetched.
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a test fails by panicking, and measures dots"
)]

use crate::support::geometry::runs;
use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::Wanted;
use fieldsheaf::ground::Length;
use fieldsheaf::ledger::{Kit, proofs};
use fieldsheaf::paint::pictures;
use fieldsheaf::sheet::Mark;
use std::collections::{BTreeMap, BTreeSet};
use std::io::Write;
use std::process::{Command, Stdio};

const REST: &str = r#"
[[channel]]
id = "tac"
row = 1
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.5500 MHz"
[[document]]
id = "card"
kind = "channel-card"
audience = "team"
[[document]]
id = "chart"
kind = "frequency-chart"
audience = "team"
[[document]]
id = "night"
kind = "frequency-chart"
variant = "night"
audience = "team"
"#;

/// A plan of three sheets, with a title that HTML would stumble over.
fn world() -> Shelf {
    Shelf::new().with("plan.toml", format!("{HEAD}{REST}").replace("Example plan", "Example <plan> & \\\"more\\\""))
}

fn kit() -> (fieldsheaf::Outcome, Kit) {
    let world = world();
    let (outcome, kit) =
        fieldsheaf::build(&world, "plan.toml", &Wanted::default(), &|_, _| {}).map_err(|_| "halted").unwrap();
    (outcome, kit.unwrap())
}

#[test]
fn every_sheet_and_panel_has_its_pictures_and_the_page_holds_them_all() {
    let (outcome, kit) = kit();
    let proofs = proofs(&kit, &outcome.findings, 100).unwrap();
    let named = |ending: &str| proofs.files.iter().filter(|file| file.name.ends_with(ending)).count();
    let sheets: usize = kit.files.iter().map(|file| file.pages.len()).sum();
    let panels: usize = kit.files.iter().map(|file| file.placements.len()).sum();
    assert!(sheets >= 3 && panels >= 10, "{sheets} {panels}");
    assert_eq!((named("_red.png"), named("_copied.png")), (sheets, sheets));
    assert_eq!(proofs.files.len(), 3 * sheets + panels + 1);
    let page = proofs.files.iter().find(|file| file.name == "proof.html").unwrap();
    let html = std::str::from_utf8(&page.bytes).unwrap();
    assert_eq!(html.matches("<image ").count(), sheets);
    assert_eq!(html.matches("class=\"panel\"").count(), panels);
    assert!(html.contains("evidence-missing"), "the findings stand on it");
    assert!(html.contains("% full"), "the fit stands on it");
    for foreign in ["<script", "http:", "https:", "src=", "@import", "url(h"] {
        assert!(!html.contains(foreign), "{foreign}");
    }
    // Every reference is to a picture of its own.
    for part in html.split("href=\"").skip(1) {
        assert!(part.starts_with("data:image/png;base64,") || part.starts_with("#d"), "{}", &part[..40]);
    }
}

/// The same picture from the renderer that the program uses and from poppler: the words are where both say.
#[test]
fn a_panels_picture_is_its_part_of_the_sheet_upright() {
    let (_, kit) = kit();
    let file = kit.files.iter().find(|file| file.name == "card.pdf").unwrap();
    let sides = pictures(&file.bytes, 100).unwrap();
    for panel in &file.placements {
        let part = sides[panel.page].part(panel.area, file.pages[panel.page], panel.is_turned);
        // The heavy rule opens every panel 3 mm below the fold that is its upper edge, and nothing stands above it: upright, not upside down.
        let dark =
            |y: u32| (0..part.width).filter(|x| part.level(*x, y).unwrap() < 100).count() > part.width as usize / 2;
        let first = (0..part.height).find(|y| dark(*y)).unwrap();
        let at = f64::from(first) / 100.0 * 25.4;
        assert!((3.0..4.0).contains(&at), "{}: the first rule stands at {at} mm", panel.title);
    }
}

/// Contrast by WCAG 2.2 (relative luminance, from memory) as rendered: the ink of every word against white paper, at least
/// 7 to 1. That words never stand on grey is a promise of tests/it/audit.rs.
#[test]
fn words_have_a_contrast_of_seven_to_one_and_more() {
    let luminance = |level: u8| libm::pow(f64::from(level) / 255.0, 2.2);
    let mut measured = 0;
    for job in fieldsheaf::jobs(&world(), "plan.toml").unwrap() {
        // At 400 dots the stems of 7 pt letters are some dots wide: their middles are ink alone.
        let sides = pictures(&fieldsheaf::paint::pdf(&job).unwrap(), 400).unwrap();
        let mut titles = BTreeMap::new();
        for placed in job.placements() {
            let page = job.pages[placed.page].size;
            let part = sides[placed.page].part(placed.area, page, placed.is_turned);
            // Of panels with one title, the first is placed first.
            let mut panels =
                job.panels.iter().filter(|panel| panel.title == placed.title && panel.holder == placed.holder);
            let before: &mut usize = titles.entry((placed.title.clone(), placed.holder.clone())).or_default();
            let panel = panels.nth(*before).unwrap();
            *before += 1;
            for run in runs(panel).into_iter().filter(|run| run.text.chars().any(char::is_alphanumeric)) {
                let dots = |length: Length| (length.to_pt() * 400.0 / 72.0) as u32;
                let (top, bottom) = (dots(run.at.y - run.size.fraction(689, 1000)), dots(run.at.y));
                let across = dots(run.at.x)..dots(run.at.x + run.width);
                let darkest = (top..bottom).flat_map(|y| across.clone().map(move |x| (x, y)));
                let darkest = darkest.filter_map(|(x, y)| part.level(x, y)).min().unwrap();
                let contrast = 1.05 / (luminance(darkest) + 0.05);
                assert!(contrast >= 7.0, "{} \"{}\": {contrast}", job.stem, run.text);
                measured += 1;
            }
        }
    }
    assert!(measured > 200, "{measured} words");
}

/// Greys that fill areas are told apart from each other, from paper and from ink, also when only red light comes back.
#[test]
fn a_red_lamp_keeps_every_mark_that_carries_meaning() {
    let mut greys = BTreeSet::from([0_u8, 100]);
    // What the lamp makes of each grey, read from the county's own pictures.
    let mut lit: BTreeMap<u8, u8> = BTreeMap::new();
    for job in fieldsheaf::jobs(&world(), "plan.toml").unwrap() {
        for picture in pictures(&fieldsheaf::paint::pdf(&job).unwrap(), 72).unwrap() {
            let red = image::load_from_memory(&picture.red().unwrap()).unwrap().to_rgb8();
            for (x, y, pixel) in red.enumerate_pixels() {
                assert_eq!(pixel.0[1..], [0, 0], "{} at {x}, {y}", job.stem);
                let known = *lit.entry(picture.level(x, y).unwrap()).or_insert(pixel.0[0]);
                assert_eq!(known, pixel.0[0], "{} at {x}, {y}", job.stem);
            }
        }
        for mark in job.panels.iter().flat_map(fieldsheaf::sheet::Panel::marks) {
            match mark {
                Mark::Fill(fill) => greys.insert(fill.black),
                Mark::Outline(outline) => greys.insert(outline.black),
                _ => false,
            };
        }
    }
    assert_eq!(greys, BTreeSet::from([0, 100]), "patterns stand in for greys");
    let level = |black: &u8| (u16::from(100 - black) * 255 / 100) as u8;
    let shown = |black: &u8| lit.range(level(black)..).next().map(|(level, red)| (*level, *red)).unwrap();
    let levels: Vec<(u8, u8)> = greys.iter().map(shown).collect();
    for (black, (found, _)) in greys.iter().zip(&levels) {
        assert!(found - level(black) <= 1, "a grey of {black} % is drawn as {found}");
    }
    assert!(levels.windows(2).all(|pair| pair[0].1 - pair[1].1 >= 12), "{levels:?}");
}

/// A real browser, without scripts, shows the page: skipped where none is installed.
#[test]
fn a_browser_shows_the_page() {
    let (outcome, kit) = kit();
    let proofs = proofs(&kit, &outcome.findings, 72).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let page = proofs.files.iter().find(|file| file.name == "proof.html").unwrap();
    let (html, shot) = (folder.path().join("proof.html"), folder.path().join("shot.png"));
    write(&html, &page.bytes);
    let mut browser = Command::new("chromium");
    browser.args(["--headless=new", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--window-size=1200,1600"]);
    browser.arg(format!("--user-data-dir={}", folder.path().join("profile").display()));
    browser.arg(format!("--screenshot={}", shot.display())).arg(format!("file://{}", html.display()));
    match browser.stdin(Stdio::null()).output() {
        Err(fault) if fault.kind() == std::io::ErrorKind::NotFound => {
            say("skipped: chromium not installed");
            return;
        }
        run => assert!(run.unwrap().status.success(), "the browser refused the page"),
    }
    let picture = image::open(&shot).unwrap().to_rgb8();
    let count = |is: fn(&[u8; 3]) -> bool| picture.pixels().filter(|pixel| is(&pixel.0)).count();
    let red = count(|[r, g, b]| *r > 120 && *g < 40 && *b < 40);
    let (white, black) = (count(|pixel| *pixel == [255; 3]), count(|pixel| pixel.iter().all(|level| *level < 60)));
    assert!(red > 20_000, "{red} red pixels: the lamp is not lit");
    assert!(white > 300_000 && black > 3_000, "{white} white, {black} black");
}

#[expect(clippy::disallowed_methods, reason = "a test hands a file to a browser")]
fn write(path: &std::path::Path, bytes: &[u8]) {
    std::fs::write(path, bytes).unwrap();
}

fn say(words: &str) {
    let mut out = std::io::stderr();
    writeln!(out, "{words}").unwrap();
}

/// A sheet of `card-panel` and a panel of `card` were pictures of one name.
#[test]
fn no_two_pictures_have_one_name() {
    let order =
        |id: &str| format!("[[document]]\nid = \"{id}\"\nkind = \"form\"\nform = \"message\"\naudience = \"public\"\n");
    let orders = ["card", "card-panel", "card-1", "card-1-red"].map(order).concat();
    let world = Shelf::new().with("plan.toml", format!("{HEAD}{orders}"));
    let (outcome, kit) = fieldsheaf::build(&world, "plan.toml", &Wanted::default(), &|_, _| {}).unwrap();
    let proofs = proofs(&kit.unwrap(), &outcome.findings, 40).unwrap();
    let names: BTreeSet<&str> = proofs.files.iter().map(|file| file.name.as_str()).collect();
    assert_eq!((names.len(), proofs.files.len()), (4 * 4 + 1, 4 * 4 + 1), "{names:?}");
}
