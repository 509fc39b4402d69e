//! What a reader who hears the document is told, read back by poppler; and four readers of the same file who agree.

use crate::support::every::{county, orders};
use crate::support::geometry::runs;
use crate::support::shelf::{HEAD, Shelf};
use crate::support::{judged, picture};
use fieldsheaf::sheet::{Job, Panel};

/// The county with each kind once more, and its card on the formats that part paper otherwise.
fn jobs() -> Vec<Job> {
    let mut jobs = fieldsheaf::jobs(&county(&orders("team", "")), "plan.toml").unwrap();
    // One of the personal cards is enough.
    jobs.retain(|job| !job.stem.starts_with("my-channels-") || job.stem.ends_with("-qrg"));
    for layout in ["fold-4", "booklet", "half", "index"] {
        let text = format!("{HEAD}{REST}layout = \"{layout}\"\n");
        jobs.extend(fieldsheaf::jobs(&Shelf::new().with("plan.toml", text), "plan.toml").unwrap());
    }
    assert!(jobs.len() > 15, "{}", jobs.len());
    jobs
}

/// A plan of one channel and its card, whose layout is still to be written.
const REST: &str = r#"
[[channel]]
id = "tac"
row = 1
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.5500 MHz"
note = "a note that is long enough to be broken into two lines on any of the formats, and is heard as one"
[[net]]
id = "n"
name = "The net"
spoken = "The Net"
primary = "tac"
[[document]]
id = "card"
kind = "channel-card"
audience = "team"
"#;

/// One element a line: its depth, its tag, or its quoted text.
fn tree(pdf: &[u8]) -> Option<Vec<(usize, String)>> {
    let said = judged("pdfinfo", &["-struct-text"], pdf, &[])?;
    Some(said.lines().map(|line| (line.len() - line.trim_start().len(), line.trim().to_owned())).collect())
}

/// The words of each section, one after the other, in the order in which they are told.
fn told(tree: &[(usize, String)]) -> Vec<String> {
    let mut sections: Vec<String> = Vec::new();
    for (_, words) in tree {
        match words.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')) {
            Some(words) => sections.last_mut().expect("words stand in a section").push_str(&format!("{words} ")),
            None if words == "Sect" => sections.push(String::new()),
            None => {}
        }
    }
    sections
}

/// Letters and figures alone: how a reader parts them is its own.
fn bare(words: &str) -> String {
    words.chars().filter(|c| c.is_alphanumeric()).collect()
}

fn words(panel: &Panel) -> String {
    let mut all = runs(panel);
    // Cells of a row are told by their columns, everything else as it stands.
    all.sort_by_key(|run| (run.place.block, run.place.cell));
    all.into_iter().map(|run| &*run.text).collect::<Vec<_>>().join(" ")
}

#[test]
fn panels_are_told_in_reading_order_whatever_the_imposition() {
    let mut panels = 0;
    for job in jobs() {
        let pdf = fieldsheaf::paint::pdf(&job).unwrap();
        let Some(tree) = tree(&pdf) else { return };
        let sections = told(&tree);
        assert!(sections.len() >= job.panels.len(), "{}", job.stem);
        for (panel, section) in job.panels.iter().zip(&sections) {
            // The title stands first; nothing is lost, nothing told twice, nothing told before its turn.
            assert!(bare(section).starts_with(&bare(&panel.title)), "{}: {section}", job.stem);
            // The word of an exercise stands at head and foot of the sheet, whatever is between.
            let told = |words: &str| (bare(words).replace("EXERCISE", ""), bare(words).matches("EXERCISE").count());
            assert_eq!(told(section), told(&words(panel)), "{} {}", job.stem, panel.title);
            panels += 1;
        }
        let count = |tag: &str| tree.iter().filter(|(_, words)| words.split_whitespace().next() == Some(tag)).count();
        assert_eq!(count("H1"), job.panels.len(), "{}: a heading a panel", job.stem);
    }
    assert!(panels > 100, "{panels}");
}

/// The card's table by its cells: headings first, then each channel in a row, its values in the order of the columns.
#[test]
fn tables_have_headings_and_rows_with_cells() {
    let job = jobs().into_iter().find(|job| job.stem == "channel-card").unwrap();
    let pdf = fieldsheaf::paint::pdf(&job).unwrap();
    let Some(tree) = tree(&pdf) else { return };
    let quoted: Vec<&str> = tree.iter().map(|(_, words)| words.as_str()).collect();
    // The nets stand on the front, in the first table.
    let from = quoted.iter().enumerate().filter(|(_, words)| **words == "Table (block)").nth(1).unwrap().0;
    let row: Vec<&str> = quoted[from..].iter().copied().take(40).collect();
    let heads = row.iter().filter(|words| words.starts_with("TH")).count();
    // Four headings, and two lines that hold for all rows.
    assert_eq!(heads, 6, "{row:?}");
    let texts: Vec<&str> = quoted[from..].iter().copied().filter(|words| words.starts_with('"')).take(11).collect();
    assert_eq!(
        texts,
        [
            "\"name\"",
            "\"hear MHz\"",
            "\"send MHz\"",
            "\"tone\"",
            "\"Unless a row says otherwise: hear tone off, FM ±5, 25 W\"",
            "\"No answer in 2 min: go to the channel after the arrow\"",
            "\"1\"",
            "\"CMD 1\"",
            "\"146.9400\"",
            "\"146.3400\"",
            "\"103.5\""
        ]
    );
}

/// Two lines of one paragraph are heard as two words, not as one.
#[test]
fn broken_lines_are_told_with_a_space_between() {
    let text = format!("{HEAD}{REST}layout = \"full\"\nvariant = \"large-print\"\n");
    let job = fieldsheaf::jobs(&Shelf::new().with("plan.toml", text), "plan.toml").unwrap().pop().unwrap();
    let Some(tree) = tree(&fieldsheaf::paint::pdf(&job).unwrap()) else { return };
    let all = told(&tree).join(" ");
    assert!(
        all.contains(
            "a note that is long enough to be broken into two lines on any of the formats, and is heard as one"
        ),
        "{all}"
    );
}

/// Page content stands in the order in which it is read, letter by letter (ISO 32000-1, 14.8.2.3.3), though it is seen from
/// right to left: readers of the structure need not guess. An Arabic pair of letters that has one glyph is told as both.
#[test]
fn names_from_right_to_left_are_told_as_they_are_read() {
    for name in ["נועה אורן", "שרה-לאה 2", "ليلى حداد", "الإسكندراني", "Ines / سمير"]
    {
        let text = format!("{HEAD}{REST}").replace("TAC 1", name);
        let job = fieldsheaf::jobs(&Shelf::new().with("plan.toml", text), "plan.toml").unwrap().pop().unwrap();
        crate::support::geometry::judge(&job, false);
        let pdf = fieldsheaf::paint::pdf(&job).unwrap();
        let Some(tree) = tree(&pdf) else { return };
        assert!(tree.iter().any(|(_, words)| *words == format!("\"{name}\"")), "{name}: {tree:?}");
    }
}

/// qpdf, mutool, poppler and hayro on one file: the same pages, the same words, nearly the same dots.
#[test]
fn four_readers_agree() {
    for job in jobs() {
        let pdf = fieldsheaf::paint::pdf(&job).unwrap();
        let Some(pages) = judged("qpdf", &["--show-npages"], &pdf, &[]) else { return };
        assert_eq!(pages.trim(), job.pages.len().to_string(), "{}", job.stem);
        judged("qpdf", &["--check"], &pdf, &[]).unwrap();
        let poppler = judged("pdftotext", &["-raw"], &pdf, &["-"]).unwrap();
        let Some(mupdf) = judged("mutool", &["draw", "-q", "-F", "txt"], &pdf, &[]) else { return };
        let sorted = |words: &str| {
            let mut letters: Vec<char> = bare(words).chars().collect();
            letters.sort_unstable();
            letters
        };
        assert_eq!(sorted(&poppler), sorted(&mupdf), "{}", job.stem);
        let Some(theirs) = drawn_by_poppler(&pdf) else { return };
        let ours = picture(&pdf, 0, 100.0 / 72.0);
        assert!(ours.width().abs_diff(theirs.width()) <= 1 && ours.height().abs_diff(theirs.height()) <= 1);
        let (width, height) = (ours.width().min(theirs.width()), ours.height().min(theirs.height()));
        let ink = |picture: &image::GrayImage, cell: (u32, u32)| -> f64 {
            let dots = (0..20_u32).flat_map(|dy| (0..20_u32).map(move |dx| (cell.0 * 20 + dx, cell.1 * 20 + dy)));
            dots.map(|(x, y)| 255.0 - f64::from(picture.get_pixel(x, y).0[0])).sum::<f64>() / 400.0
        };
        // Squares of 5 mm hold the same ink to a tenth of black: no word stands where the other does not draw it.
        for cell in (0..height / 20).flat_map(|y| (0..width / 20).map(move |x| (x, y))) {
            let (a, b) = (ink(&ours, cell), ink(&theirs, cell));
            assert!((a - b).abs() < 25.0, "{} at {cell:?}: {a} and {b}", job.stem);
        }
    }
}

fn drawn_by_poppler(pdf: &[u8]) -> Option<image::GrayImage> {
    let folder = tempfile::tempdir().unwrap();
    let stem = folder.path().join("page");
    judged("pdftoppm", &["-r", "100", "-gray", "-singlefile", "-png"], pdf, &[stem.to_str().unwrap()])?;
    Some(image::open(stem.with_extension("png")).unwrap().to_luma8())
}
