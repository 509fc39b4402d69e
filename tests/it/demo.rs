//! The demo plans: the county builds to the same bytes everywhere, the faulty plan shows each of its faults at its line.

use crate::support::{judged, picture};
use fieldsheaf::cli::{DiskWorld, terminal};
use fieldsheaf::ledger::{Kit, sha256};
use fieldsheaf::{Outcome, Wanted};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans").join(name)
}

fn county(threads: usize) -> (Outcome, Kit) {
    let (world, root) = DiskWorld::open(&folder("sorrel-river")).unwrap();
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
    let (outcome, kit) = pool.install(|| fieldsheaf::build(&world, &root, &Wanted::default(), &|_, _| ())).unwrap();
    (outcome, kit.expect("the county has no error"))
}

#[expect(clippy::disallowed_methods, reason = "a test reads what it is about")]
fn text(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap()
}

fn pdf<'a>(kit: &'a Kit, name: &str) -> &'a [u8] {
    &kit.files.iter().find(|file| file.name == name).unwrap_or_else(|| panic!("{name}")).bytes
}

/// Committed hashes, one line a file. They hold in debug and release, on one thread and many, in any time zone and locale.
/// After an intended change: `BLESS=1 cargo test --test it demo`, then read the difference and look at the sheets.
#[test]
fn every_document_of_the_county_has_the_committed_bytes() {
    let (_, one) = county(1);
    let (_, four) = county(4);
    assert_eq!(one, four, "the number of threads changes nothing");
    let lines: String = one.files.iter().map(|file| format!("{}  {}\n", sha256(&file.bytes), file.name)).collect();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/demo/sorrel-river.sha256");
    if std::env::var_os("BLESS").is_some() {
        #[expect(clippy::disallowed_methods, reason = "blessing writes the committed file")]
        std::fs::write(&path, &lines).unwrap();
    }
    assert_eq!(lines, text(&path), "sheets changed: look at them, then bless");
}

/// The same of the exercise.
#[test]
fn every_document_of_the_exercise_has_the_committed_bytes() {
    let (world, root) = DiskWorld::open(&folder("tern-sound")).unwrap();
    let (outcome, kit) = fieldsheaf::build(&world, &root, &Wanted::default(), &|_, _| ()).unwrap();
    let asks = |finding: &&fieldsheaf::ground::Finding| finding.severity() != fieldsheaf::ground::Severity::Note;
    let open: Vec<&str> = outcome.findings.iter().filter(asks).map(|f| f.message.as_str()).collect();
    assert_eq!(open, Vec::<&str>::new());
    let lines = kit.unwrap().files.iter().map(|file| format!("{}  {}\n", sha256(&file.bytes), file.name)).collect();
    let all = BTreeMap::from([("tern-sound.sha256".to_owned(), lines)]);
    crate::support::golden::compare("tests/demo", "tern-sound.sha256", &all);
}

#[test]
fn the_county_is_of_the_size_that_it_claims() {
    let (world, root) = DiskWorld::open(&folder("sorrel-river")).unwrap();
    let mut found = fieldsheaf::ground::Findings::default();
    let mut records = fieldsheaf::source::read(&world, &root, &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    assert_eq!(found.len(), 0);
    assert!(plan.channels.len() >= 30);
    assert_eq!((plan.places.len(), plan.members.len(), plan.nets.len()), (14, 30, 5));
    let classes: BTreeSet<&str> =
        plan.members.iter().filter_map(|member| member.class.as_ref().map(|class| class.as_str())).collect();
    assert_eq!(classes, BTreeSet::from(["technician", "general", "advanced", "extra"]));
    let hospitals = plan.places.iter().filter(|place| place.kind.value.to_string() == "hospital").count();
    assert_eq!(hospitals, 6);
    let kinds: BTreeSet<&str> = plan.documents.iter().map(|order| order.kind.as_str()).collect();
    // Papers of an exercise have their own plan; those that tell of an edition want one that was issued before; covers come with kits.
    let is_own = |kind: &&&fieldsheaf::compose::Kind| {
        use fieldsheaf::compose::Compose::{Edition, Exercise, Set};
        !matches!(kind.compose, Exercise(_) | Edition(_) | Set(_))
    };
    let all: BTreeSet<&str> = fieldsheaf::compose::KINDS.iter().filter(is_own).map(|kind| kind.name).collect();
    assert_eq!(kinds, all, "every document kind that needs neither an exercise nor an edition before");
}

#[test]
fn the_county_has_no_finding_that_nobody_answers_for() {
    let (outcome, _) = county(2);
    // A note asks nothing of anybody.
    let asks = |finding: &&fieldsheaf::ground::Finding| {
        finding.waived.is_none() && finding.severity() != fieldsheaf::ground::Severity::Note
    };
    let open: Vec<&str> = outcome.findings.iter().filter(asks).map(|f| f.message.as_str()).collect();
    assert_eq!(open, Vec::<&str>::new());
    assert!(outcome.findings.iter().any(|finding| finding.waived.is_some()), "one is accepted with its reason");
}

#[test]
fn a_file_takes_eighty_kilobytes_and_twenty_a_page_at_most_and_a_personal_one_100() {
    let (_, kit) = county(2);
    // Sets hold papers of both once more.
    let (sets, single): (Vec<_>, Vec<_>) = kit.files.iter().partition(|file| !file.parts.is_empty());
    let pages: usize = sets.iter().map(|file| file.pages.len()).sum();
    let held: usize = sets.iter().map(|file| file.bytes.len()).sum();
    assert!(pages > 100 && held / pages < 20_000, "{held} bytes of {pages} pages");
    let (personal, shared): (Vec<_>, Vec<_>) = single.into_iter().partition(|file| file.holder.is_some());
    assert!(personal.len() >= 30);
    for file in personal {
        assert!(file.bytes.len() < 100_000, "{}: {} bytes", file.name, file.bytes.len());
    }
    for file in shared {
        let (bytes, pages) = (file.bytes.len(), file.pages.len());
        assert!(bytes < 80_000 + 20_000 * pages, "{}: {bytes} bytes, {pages} pages", file.name);
    }
}

/// Each planted fault carries the finding's name as a comment on its line.
#[test]
fn the_faulty_plan_raises_each_planted_fault_at_its_line_and_nothing_else() {
    let (world, root) = DiskWorld::open(&folder("faulty")).unwrap();
    let outcome = fieldsheaf::check(&world, &root).unwrap();
    let names: BTreeSet<&str> = fieldsheaf::rules().iter().map(|rule| rule.name).collect();
    let mut planted = BTreeSet::new();
    for (number, line) in text(&folder("faulty").join("plan.toml")).lines().enumerate() {
        if let Some((_, comment)) = line.rsplit_once("# ")
            && names.contains(comment)
        {
            planted.insert((number + 1, comment.to_owned()));
        }
    }
    assert!(planted.len() >= 15, "{}", planted.len());
    let place =
        |finding: &fieldsheaf::ground::Finding| outcome.files.place(finding.span).map_or(0, |(_, line, _)| line);
    let raised: BTreeSet<(usize, String)> =
        outcome.findings.iter().map(|finding| (place(finding), finding.rule.name.to_owned())).collect();
    assert_eq!(planted, raised);
    let said = terminal::full(&outcome.files, &outcome.findings, None, false);
    crate::support::golden::compare("tests/demo", "faulty.txt", &BTreeMap::from([("faulty.txt".to_owned(), said)]));
}

#[test]
fn outside_judges_accept_every_file() {
    let (_, kit) = county(2);
    for file in &kit.files {
        judged("qpdf", &["--check"], &file.bytes, &[]);
        judged("mutool", &["info"], &file.bytes, &[]);
    }
    for name in ["channel-card.pdf", "frequency-chart.pdf", "all-contacts.pdf", "check-sheet.pdf", "log.pdf"] {
        let Some(fonts) = judged("pdffonts", &[], pdf(&kit, name), &[]) else { continue };
        // Columns: name, type, encoding, emb, sub, uni.
        for line in fonts.lines().skip(2) {
            let words: Vec<&str> = line.split_whitespace().collect();
            assert!(words[0].contains('+'), "a subset: {line}");
            assert_eq!(words.iter().filter(|word| **word == "yes").count(), 3, "embedded, subset, mapped: {line}");
        }
    }
}

/// Every channel with its numbers in the order of the card: name, hear, send, tone.
#[test]
fn every_channel_is_found_in_reading_order() {
    let (world, root) = DiskWorld::open(&folder("sorrel-river")).unwrap();
    let mut found = fieldsheaf::ground::Findings::default();
    let mut records = fieldsheaf::source::read(&world, &root, &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let (_, kit) = county(2);
    let Some(card) = judged("pdftotext", &["-raw"], pdf(&kit, "channel-card.pdf"), &["-"]) else { return };
    let chart = judged("pdftotext", &["-raw"], pdf(&kit, "frequency-chart.pdf"), &["-"]).unwrap();
    let flat = |text: String| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let (card, chart) = (flat(card), flat(chart));
    for channel in plan.channels.iter() {
        let is_dial = channel.side().is_some();
        let print = |f: fieldsheaf::ground::Frequency| if is_dial { f.to_khz() } else { f.to_mhz() };
        let send = channel.send.as_ref().map_or_else(|| "listen only".to_owned(), |send| print(send.value));
        let tone = match channel.send_tone.value {
            _ if channel.send.is_none() => String::new(),
            _ if is_dial => channel.side().unwrap().word().to_owned(),
            tone if tone.is_set() => tone.keyed(),
            _ => "off".to_owned(),
        };
        let whole = if is_dial { tone.clone() } else { channel.send_tone.value.keyed_whole() };
        let whole = if channel.send.is_none() { String::new() } else { whole };
        let set = if is_dial { whole } else { format!("{send} {whole}") };
        let (row, hear) = (channel.row.unwrap().value, print(channel.hear.value));
        let row = format!("{row} {} {hear} {set}", channel.name.value);
        assert!(card.contains(row.trim_end()), "{row}");
        let sense = channel.send.and(channel.send_tone.value.sense());
        let narrow = if sense.is_some() { channel.send_tone.value.keyed_short() } else { tone.clone() };
        let number = channel.row.unwrap().value;
        let row = match is_dial {
            // One dial is for both ways.
            true => format!("{number} {} {} {tone}", channel.name.value, print(channel.hear.value)),
            false => format!("{number} {} {} {send} {narrow}", channel.name.value, print(channel.hear.value)),
        };
        assert!(chart.contains(row.trim_end()), "{row} on the chart");
    }
}

/// Whoever scans the card gets the channel list; whoever scans the contacts a vCard (RFC 6350).
#[test]
fn symbols_on_the_sheets_read_as_what_they_hold() {
    let (_, kit) = county(2);
    // Modules of 0.5 mm become 6 pixels, then 8 and 5: this reader loses some clean symbols at any one scale.
    let scales = [6.0, 8.0, 5.0];
    let read = |name: &str, page: usize, scale: f32| {
        let image = picture(pdf(&kit, name), page, scale * 25.4 / 72.0 / 0.5);
        let (width, height) = (image.width() / 4, image.height() / 2);
        let mut texts = Vec::new();
        for (column, row) in (0..4).flat_map(|column| [(column, 0), (column, 1)]) {
            // One panel at a time, as one holds a folded sheet before a phone.
            let panel = image::imageops::crop_imm(&image, column * width, row * height, width, height).to_image();
            let mut prepared = rqrr::PreparedImage::prepare(panel);
            texts.extend(prepared.detect_grids().into_iter().filter_map(|grid| Some(grid.decode().ok()?.1)));
        }
        texts
    };
    let pages = kit.files.iter().find(|file| file.name == "scan-list.pdf").unwrap().pages.len();
    let list =
        (0..pages).flat_map(|page| scales.map(|scale| read("scan-list.pdf", page, scale)).concat()).collect::<Vec<_>>();
    let list = list.join("\n");
    let forty = "24 HF 40|7245.0 kHz|same|LSB|100 W|listen only without a General in control here";
    for line in [
        "hear|send|tone|set (FM +-5, 25 W where not said)",
        "1 CMD 1|146.9400|146.3400|103.5\n",
        "26 WX 1|162.4000|listen only||FM +-2.5, weather service",
        forty,
    ] {
        assert!(list.contains(line), "{line} in {list}");
    }
    let pages = kit.files.iter().find(|file| file.name == "lead-contacts.pdf").unwrap().pages.len();
    let cards = (0..pages).flat_map(|page| scales.map(|scale| read("lead-contacts.pdf", page, scale)).concat());
    let cards = cards.collect::<BTreeSet<_>>();
    assert!(cards.len() >= 6, "{}", cards.len());
    assert!(cards.iter().any(|card| card.contains("EMAIL:repeaters@example.org\r\n")));
    for card in cards {
        assert!(card.starts_with("BEGIN:VCARD\r\nVERSION:4.0\r\nFN:") && card.ends_with("END:VCARD\r\n"), "{card}");
    }
}

const CLOSED: [&str; 2] = ["+1 406 555 0110", "amara.osei@example.org"];

/// A number or an address that is the coordinator's alone stands on no other sheet, and in no other file.
#[test]
fn private_numbers_stay_with_their_readers() {
    let (_, kit) = county(2);
    for file in kit.files.iter().filter(|file| file.audience.to_string() != "coordinator") {
        let Some(words) = judged("pdftotext", &["-raw"], &file.bytes, &["-"]) else { return };
        for private in CLOSED {
            assert!(!words.contains(private), "{} shows {private}", file.name);
        }
        let is_led = file.audience.to_string() == "leads" || !words.contains("repeaters@example.org");
        assert!(is_led, "{} shows an address of the leads", file.name);
    }
    let read = |name: &str| judged("pdftotext", &["-raw"], pdf(&kit, name), &["-"]).unwrap();
    assert!(CLOSED.iter().all(|private| read("all-contacts.pdf").contains(private)));
    assert!(read("lead-contacts.pdf").contains("repeaters@example.org"));
    assert!(read("contact-cards.pdf").contains("coordinator@example.org"));
}

/// The order in which a plan names its files is no content: not a byte of any sheet changes.
#[test]
fn the_order_of_files_changes_no_sheet() {
    let (_, kit) = county(2);
    let copy = tempfile::tempdir().unwrap();
    copied(&folder("sorrel-river"), copy.path());
    let plan = copy.path().join("plan.toml");
    let turned = text(&plan).replace(
        "\"repeaters.toml\", \"channels.toml\", \"places.toml\", \"leads.toml\"",
        "\"leads.toml\", \"places.toml\", \"channels.toml\", \"repeaters.toml\"",
    );
    assert_ne!(turned, text(&plan));
    #[expect(clippy::disallowed_methods, reason = "a test writes its own plan")]
    std::fs::write(&plan, turned).unwrap();
    let (world, root) = DiskWorld::open(copy.path()).unwrap();
    let (_, turned) = fieldsheaf::build(&world, &root, &Wanted::default(), &|_, _| ()).unwrap();
    let hashes = |kit: &Kit| -> BTreeMap<String, String> {
        kit.files.iter().map(|file| (file.name.clone(), sha256(&file.bytes))).collect()
    };
    assert_eq!(hashes(&kit), hashes(&turned.unwrap()));
}

fn copied(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let place = to.join(entry.file_name());
        if entry.file_type().unwrap().is_dir() {
            copied(&entry.path(), &place);
        } else {
            std::fs::copy(entry.path(), place).unwrap();
        }
    }
}
