//! Our PDF as others read it: two parsers, a renderer, and the usual tools where they are installed.

use crate::support::{judged, line, picture};
use fieldsheaf::ground::Length;
use fieldsheaf::paint;
use fieldsheaf::paint::{Plates, Press};
use fieldsheaf::sheet::{Area, Duplex, Fill, Job, Line, Mark, Modules, Page, Panel, Placed, Point, Size};
use std::collections::BTreeSet;

const PAYLOAD: &str = "CMD 1 hear 146.9400 send 146.3400 tone 103.5";

fn mm(n: i64) -> Length {
    Length::mm(n)
}

fn at(x: i64, y: i64) -> Point {
    Point { x: mm(x), y: mm(y) }
}

fn symbol(x: i64, y: i64) -> Mark {
    let code = qrcode::QrCode::with_error_correction_level(PAYLOAD, qrcode::EcLevel::M).unwrap();
    let dark: Vec<bool> = code.to_colors().into_iter().map(|color| color == qrcode::Color::Dark).collect();
    let module = Length::hundredths_mm(50);
    Mark::Modules(Modules { at: at(x, y), module, side: code.width(), dark: dark.into(), payload: PAYLOAD.to_owned() })
}

fn panel(title: &str, marks: Vec<Mark>) -> Panel {
    let size = Size { width: mm(60), height: mm(80) };
    let safe = Area { left: mm(5), top: mm(5), right: mm(55), bottom: mm(75) };
    Panel {
        size,
        safe,
        title: title.to_owned(),
        holder: None,
        fill: (Length::ZERO, Length::ZERO),
        head: Vec::new(),
        body: marks.into(),
        shared: None,
        foot: [].into(),
    }
}

/// One panel with text and a symbol, one placed four times (twice turned), and marks of the page itself.
fn job() -> Job {
    let first = panel(
        "Channels 1–8",
        vec![
            line("Channels 1–8", mm(5), mm(10), Length::pt(14)),
            line("office fluffy AVAV Ω 146.9400", mm(5), mm(16), Length::twentieths_pt(210)),
            symbol(15, 30),
        ],
    );
    let again = panel(
        "Notes",
        vec![
            Mark::Fill(Fill { area: Area { left: mm(5), top: mm(5), right: mm(20), bottom: mm(8) }, black: 15 }),
            line("Copy me", mm(5), mm(15), Length::pt(10)),
        ],
    );
    let rule = Line { from: at(5, 2), to: at(55, 2), thickness: Length::twentieths_pt(7), dash: Some((mm(1), mm(1))) };
    let size = Size { width: Length::inches(17) / 2, height: Length::inches(11) };
    let placed = |panel, x, y, is_turned| Placed { panel, at: at(x, y), is_turned };
    Job {
        stem: "test".to_owned(),
        title: "Grayling — Plan (edition 7)".to_owned(),
        says: None,
        language: "en-US".to_owned(),
        panels: vec![first, again],
        pages: vec![
            Page {
                size,
                trim: Area { left: Length::ZERO, top: Length::ZERO, right: size.width, bottom: size.height },
                placed: vec![placed(0, 10, 10, false), placed(1, 80, 10, true)],
                marks: vec![Mark::Line(rule)],
            },
            Page {
                size,
                trim: Area { left: Length::ZERO, top: Length::ZERO, right: size.width, bottom: size.height },
                placed: vec![placed(1, 10, 10, false), placed(1, 80, 10, true), placed(1, 10, 100, false)],
                marks: vec![],
            },
        ],
        duplex: Duplex::LongEdge,
        canonical: Some("fieldsheaf canonical 2\n".to_owned()),
        alphabet: &[],
    }
}

fn painted() -> Vec<u8> {
    paint::pdf(&job()).unwrap()
}

#[test]
fn the_same_job_gives_the_same_bytes_on_every_thread() {
    let threads: Vec<_> = (0..4).map(|_| std::thread::spawn(painted)).collect();
    let all: BTreeSet<Vec<u8>> = threads.into_iter().map(|thread| thread.join().unwrap()).collect();
    assert_eq!(all.len(), 1);
    assert!(all.first().unwrap().starts_with(b"%PDF-1.7"));
    let mut other = job();
    other.title.push('!');
    assert!(!all.contains(&paint::pdf(&other).unwrap()), "another title is another file");
}

#[test]
fn a_second_parser_finds_pages_fonts_and_preferences() {
    let read = lopdf::Document::load_mem(&painted()).unwrap();
    assert_eq!(read.get_pages().len(), 2);
    let catalogue = read.catalog().unwrap();
    let preferences = catalogue.get(b"ViewerPreferences").unwrap().as_dict().unwrap();
    assert_eq!(preferences.get(b"Duplex").unwrap().as_name().unwrap(), b"DuplexFlipLongEdge");
    assert_eq!(preferences.get(b"PrintScaling").unwrap().as_name().unwrap(), b"None");
    assert_eq!(catalogue.get(b"Lang").unwrap().as_str().unwrap(), b"en-US");
    let outlines = catalogue.get(b"Outlines").unwrap().as_reference().unwrap();
    assert_eq!(read.get_dictionary(outlines).unwrap().get(b"Count").unwrap().as_i64().unwrap(), 2);
    for page in read.page_iter() {
        let page_entries = read.get_dictionary(page).unwrap();
        assert_eq!(page_entries.get(b"MediaBox").unwrap(), page_entries.get(b"TrimBox").unwrap());
        for font in read.get_page_fonts(page).unwrap().values() {
            let name = font.get(b"BaseFont").unwrap().as_name().unwrap();
            assert_eq!(name[6], b'+');
            assert!(name[..6].iter().all(u8::is_ascii_uppercase));
        }
    }
    let names = |key: &[u8]| read.objects.values().filter(|o| o.as_dict().is_ok_and(|d| d.has(key))).count();
    assert_eq!(names(b"FontFile2"), 1);
    assert_eq!(names(b"CreationDate"), 0);
}

/// The title in the words of XMP (ISO 16684-1), by two readers: what is special in XML is spelled so, and it is not deflated.
#[test]
fn metadata_are_found_by_whoever_looks_for_them() {
    let mut job = job();
    job.title = "Fire & <Rescue>".to_owned();
    let pdf = paint::pdf(&job).unwrap();
    let spelled = "<rdf:li xml:lang=\"x-default\">Fire &amp; &lt;Rescue&gt;</rdf:li>";
    assert!(pdf.windows(spelled.len()).any(|bytes| bytes == spelled.as_bytes()));
    if let Some(said) = judged("pdfinfo", &["-meta"], &pdf, &[]) {
        assert!(said.contains(spelled), "{said}");
    }
    if let Some(said) = judged("pdfinfo", &[], &pdf, &[]) {
        assert!(said.contains("Fire & <Rescue>"), "{said}");
    }
}

/// Where a file has the copies of several, their panels stand under them.
#[test]
fn the_outline_lists_panels_under_their_holders() {
    let mut job = job();
    job.panels.iter_mut().zip(["Ines", "Juan"]).for_each(|(panel, holder)| panel.holder = Some(holder.to_owned()));
    let read = lopdf::Document::load_mem(&paint::pdf(&job).unwrap()).unwrap();
    let entry = |id: &lopdf::Object| read.get_dictionary(id.as_reference().unwrap()).unwrap();
    let title = |entry: &lopdf::Dictionary| lopdf::decode_text_string(entry.get(b"Title").unwrap()).unwrap();
    let root = entry(read.catalog().unwrap().get(b"Outlines").unwrap());
    let first = entry(root.get(b"First").unwrap());
    let second = entry(first.get(b"Next").unwrap());
    assert_eq!((title(first), title(second)), ("Ines".to_owned(), "Juan".to_owned()));
    assert_eq!(title(entry(first.get(b"First").unwrap())), "Channels 1–8");
    assert_eq!(title(entry(second.get(b"First").unwrap())), "Notes");
    assert!(second.get(b"Next").is_err() && root.get(b"Count").unwrap().as_i64().unwrap() == 4);
}

#[test]
fn a_panel_placed_often_is_written_once() {
    let read = lopdf::Document::load_mem(&painted()).unwrap();
    let is_form = |object: &&lopdf::Object| {
        object.as_stream().is_ok_and(|s| s.dict.get(b"Subtype").is_ok_and(|n| n.as_name().ok() == Some(b"Form")))
    };
    assert_eq!(read.objects.values().filter(is_form).count(), 1);
}

#[test]
fn a_panel_that_was_never_set_is_our_bug() {
    let mut job = job();
    job.pages[0].placed[0].panel = 7;
    assert!(paint::pdf(&job).unwrap_err().to_string().contains("panel 7"));
}

#[test]
fn the_symbol_decodes_from_the_rendered_page() {
    let mut grey = rqrr::PreparedImage::prepare(picture(&painted(), 0, 3.0));
    let found = grey.detect_grids();
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].decode().unwrap().1, PAYLOAD);
}

#[test]
fn a_turned_panel_lands_in_its_own_place() {
    let picture = picture(&painted(), 1, 2.0);
    // 2 dots a point; the fill of 5..20 x 5..8 mm, turned in a panel of 60 x 80 mm at 80, 10 mm: its middle.
    let dot = |tenths_mm: u32| tenths_mm * 72 * 2 / 254;
    let grey = |x, y| picture.get_pixel(dot(x), dot(y)).0[0];
    let turned = grey(800 + 600 - 125, 100 + 800 - 65);
    assert!((210..225).contains(&turned), "15 % black is {turned}");
    assert_eq!(grey(100 + 125, 100 + 65), turned);
    assert_eq!(grey(800 + 125, 100 + 65), 255);
}

#[test]
fn text_is_found_in_reading_order() {
    let Some(text) = judged("pdftotext", &["-raw", "-enc", "UTF-8"], &painted(), &["-"]) else { return };
    let title = text.find("Channels 1–8").expect("title");
    let line = text.find("office fluffy AVAV Ω 146.9400").expect("ligatures, kerning and Greek read as written");
    assert!(title < line);
    // poppler reads the words of a turned line from right to left; all four copies are there all the same.
    assert_eq!(text.matches("Copy").count(), 4, "{text}");
    assert_eq!(text.matches("Copy me").count(), 2, "{text}");
}

#[test]
fn qpdf_finds_nothing_wrong() {
    let Some(said) = judged("qpdf", &["--check"], &painted(), &[]) else { return };
    assert!(said.contains("No syntax or stream encoding errors"), "{said}");
}

#[test]
fn mutool_reads_the_text() {
    let Some(text) = judged("mutool", &["draw", "-F", "txt", "-o", "-"], &painted(), &[]) else { return };
    assert!(text.contains("office fluffy AVAV Ω 146.9400"), "{text}");
}

#[test]
fn pdffonts_finds_embedded_subsets() {
    let Some(table) = judged("pdffonts", &[], &painted(), &[]) else { return };
    let font = table.lines().find(|row| row.contains("+FiraSansCondensed-Regular")).expect("our font");
    assert!(font.contains("Identity-H") && font.contains("yes yes yes"), "{font}");
}

/// What was painted for other files changes no byte: each is as it is by itself, whatever came first, also where the numbers of
/// bodies are those of another order.
#[test]
fn what_was_painted_before_changes_nothing() {
    let (world, root) = fieldsheaf::cli::DiskWorld::open(std::path::Path::new("demo-plans/sorrel-river")).unwrap();
    let jobs: Vec<Job> = fieldsheaf::jobs(&world, &root).unwrap().into_iter().step_by(5).collect();
    assert!(jobs.len() > 5);
    let shared = jobs.iter().flat_map(|job| &job.panels).filter(|panel| panel.shared.is_some()).count();
    assert!(shared > 20, "{shared} bodies are shared");
    let alone: Vec<Vec<u8>> = jobs.iter().map(|job| paint::pdf(job).unwrap()).collect();
    let press = Press::default();
    let (onwards, backwards) = (Plates::new(&press), Plates::new(&press));
    for (job, alone) in jobs.iter().zip(&alone) {
        assert!(onwards.pdf(job).unwrap() == *alone, "{}", job.stem);
        assert!(onwards.pdf(job).unwrap() == *alone, "{}, painted twice", job.stem);
    }
    for (job, alone) in jobs.iter().zip(&alone).rev() {
        assert!(backwards.pdf(job).unwrap() == *alone, "{}, backwards", job.stem);
    }
}

/// The streams of each page of a file: heads, each panel's body, and the rest.
fn streams(pdf: &[u8]) -> Vec<Vec<lopdf::ObjectId>> {
    let read = lopdf::Document::load_mem(pdf).unwrap();
    read.page_iter().map(|page| read.get_page_contents(page)).collect()
}

/// Papers of several orders in one file number their bodies by themselves: what bears a number at a spot is not yet the same body.
#[test]
fn bodies_of_two_orders_under_one_number_are_two() {
    let of = |words: &str| {
        let marks = vec![line(words, mm(5), mm(15), Length::pt(10))];
        Panel { shared: Some(0), ..panel("Sheet", marks) }
    };
    let page = |panel: usize| Page {
        size: Size { width: mm(70), height: mm(90) },
        trim: Area { left: Length::ZERO, top: Length::ZERO, right: mm(70), bottom: mm(90) },
        placed: vec![Placed { panel, at: at(5, 5), is_turned: false }],
        marks: vec![],
    };
    let job = Job { panels: vec![of("one"), of("other")], pages: vec![page(0), page(1)], ..job() };
    let pdf = paint::pdf(&job).unwrap();
    let text = lopdf::Document::load_mem(&pdf).unwrap();
    let said = [1, 2].map(|page| text.extract_text(&[page]).unwrap());
    assert!(said[0].contains("one") && said[1].contains("other"), "{said:?}");
}

/// A body that several copies have is one object of a file, at whatever page it stands; a copy's own body is never another's.
#[test]
fn a_shared_body_is_in_the_file_once() {
    let notes = |shared| Panel { shared, ..panel("Notes", vec![line("Copy me", mm(5), mm(15), Length::pt(10))]) };
    let size = Size { width: mm(150), height: mm(100) };
    let page = |panel: usize| Page {
        size,
        trim: Area { left: Length::ZERO, top: Length::ZERO, right: size.width, bottom: size.height },
        placed: vec![
            Placed { panel: 2 * panel, at: at(5, 5), is_turned: false },
            Placed { panel: 2 * panel + 1, at: at(80, 5), is_turned: false },
        ],
        marks: vec![],
    };
    let own = |n: usize| panel(&format!("Own {n}"), vec![line(&format!("own {n}"), mm(5), mm(15), Length::pt(10))]);
    let file = |again: &Panel, pages: usize| Job {
        panels: (0..pages).flat_map(|n| [again.clone(), own(n)]).collect(),
        pages: (0..pages).map(page).collect(),
        ..job()
    };
    let press = Press::default();
    let plates = Plates::new(&press);
    let again = notes(Some(3));
    plates.pdf(&file(&again, 5)).unwrap();
    let painted = plates.pdf(&file(&again, 40)).unwrap();
    assert!(painted == paint::pdf(&file(&again, 40)).unwrap(), "after another file");
    let distinct =
        |pdf: &[u8], place: usize| streams(pdf).iter().map(|page| page[place]).collect::<BTreeSet<_>>().len();
    assert_eq!((distinct(&painted, 1), distinct(&painted, 2)), (1, 40));
    assert_eq!(distinct(&paint::pdf(&file(&notes(None), 40)).unwrap(), 1), 40);
}
