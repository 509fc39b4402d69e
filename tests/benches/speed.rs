//! One table of how long the program takes, whole process: `cargo bench --bench speed`.
//!
//! Beside each row stands its bound: for checks what is promised; for paper the least that any writer has to do, measured in the same
//! run: one thread that deflates the same pages and puts them into files with `pdf-writer`, without a plan, shaping or fonts. Machines are
//! noisy and busy: read the ratios, which are of processor time where the system tells it. `FIELDSHEAF_PROGRAM=FILE` before it measures
//! that file.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "a bench fails by panicking")]
#![allow(
    clippy::print_stdout,
    clippy::disallowed_macros,
    clippy::disallowed_methods,
    clippy::cast_precision_loss,
    reason = "a bench measures, and says so"
)]

use pdf_writer::{Finish, Pdf, Rect, Ref};
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Runs of each, of which the median is said.
const RUNS: usize = 5;

/// What a run took: on the wall, of the processor, and most memory in bytes, where the system tells the last two.
#[derive(Clone, Copy)]
struct Took {
    wall: Duration,
    processor: Option<Duration>,
    peak: Option<u64>,
}

/// What a row is held against.
enum Bound {
    /// What is promised: a time.
    Promised(Duration),
    /// The least that a writer of the same pages has to do.
    Writer,
}

struct Row {
    name: &'static str,
    command: Vec<&'static str>,
    plan: PathBuf,
    bound: Bound,
}

const HEAD: &str = r#"
[plan]
title = "State"
short = "STATE"
team = "Team"
profile = "us"
invented = true
time-zone = "America/Denver"
[edition]
number = 1
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "m0"
approved-by = "m0"
[[net]]
id = "net"
name = "Net"
spoken = "Net"
primary = "c0"
alternate = "c1"
"#;

fn letters(mut n: usize, width: usize) -> String {
    let mut letters = vec!['A'; width];
    for letter in letters.iter_mut().rev() {
        *letter = char::from(b'A' + u8::try_from(n % 26).unwrap());
        n /= 26;
    }
    letters.into_iter().collect()
}

/// A state: so many channels on four bands, members with a name, a call, two of 64 radios and a duty of their own, places with a post each.
fn state((channels, members, places): (usize, usize, usize), documents: &str) -> String {
    let mut text = format!("{HEAD}{documents}");
    let bands = ["144 MHz to 148 MHz", "420 MHz to 450 MHz", "222 MHz to 225 MHz", "50 MHz to 54 MHz"];
    for n in 0..64_usize {
        let covers: Vec<&str> =
            (0..4).filter(|band| *band == 0 || n >> band & 1 == 1).map(|band| bands[band]).collect();
        let (modes, power) =
            (if n & 16 > 0 { "[\"FM\"]" } else { "[\"FM\", \"data\"]" }, if n & 32 > 0 { 5 } else { 50 });
        let _ = writeln!(
            text,
            "[[radio]]\nid = \"r{n}\"\nname = \"Radio {}\"\ncovers = {covers:?}\nmodes = {modes}\npower = \"{power} W\"",
            letters(n, 2)
        );
    }
    for n in 0..channels {
        let (place, series) = (n % 33, n / 33);
        let hertz = match place {
            0..20 => 146_400_000 + 7_500 * place + 1_250 * (series % 5),
            20..26 => 446_000_000 + 25_000 * (place - 19) + 1_250 * series,
            26..30 => 223_500_000 + 20_000 * (place - 26) + 1_250 * series,
            _ => 52_540_000 + 20_000 * (place - 30) + 1_250 * series,
        };
        let (mhz, rest) = (hertz / 1_000_000, hertz % 1_000_000);
        let _ = writeln!(
            text,
            "[[channel]]\nid = \"c{n}\"\nrow = {}\nname = \"CH {n}\"\nspoken = \"{} Channel\"\nsimplex = \"{mhz}.{rest:06} MHz\"\nverified = {{ on = 2026-10-01, by = \"m0\" }}",
            n + 1,
            n + 1
        );
    }
    for n in 0..places {
        let _ = writeln!(
            text,
            "[[place]]\nid = \"p{n}\"\ncode = \"{}\"\ntactical = \"Site {n}\"\nkind = \"shelter\"\nposition = \"{}.{:02}, -{}.5\"\nvisited-on = 2026-09-14\n[[post]]\nid = \"d{n}\"\nname = \"Post {n}\"\nplace = \"p{n}\"\nnets = [\"net\"]",
            letters(n, 3),
            40 + n % 10,
            n / 10,
            109 + n % 7
        );
    }
    for n in 0..members {
        let (one, other) = (n % 64, (n * 7 + n / 64 + 1) % 64);
        let radios = if one == other { format!("\"r{one}\"") } else { format!("\"r{one}\", \"r{other}\"") };
        let (class, day, hour) = (["technician", "general", "extra"][n % 3], 1 + n % 28, n % 12);
        let _ = writeln!(
            text,
            "[[member]]\nid = \"m{n}\"\nname = \"Member {} Varga\"\ncall = \"W{}Q{}\"\nclass = \"{class}\"\nexpires = {}-01-01\nconfirmed = 2026-10-01\nradio = [{radios}]\n\
             [[duty]]\npost = \"d{}\"\nmember = \"m{n}\"\nfrom = \"2027-01-{day:02} {hour:02}:00\"\nto = \"2027-01-{day:02} {:02}:00\"",
            letters(n, 3),
            n / 17_576,
            letters(n % 17_576, 3),
            2028 + n % 7,
            n % places.max(1),
            hour + 8
        );
    }
    text
}

fn order(kind: &str, more: &str) -> String {
    // What prints the findings is for no wider readers.
    let audience = if kind == "check-sheet" { "coordinator" } else { "team" };
    format!("[[document]]\nid = \"{kind}\"\nkind = \"{kind}\"\naudience = \"{audience}\"\n{more}")
}

/// A site with so many transmitters and receivers, where each may mix with each.
fn site(channels: usize) -> String {
    let mut text = HEAD.split("[[net]]").next().unwrap().to_owned();
    text += "[[member]]\nid = \"m0\"\nname = \"Ines Varga\"\nconfirmed = 2026-10-01\n";
    for n in 0..channels {
        let at = 144_500 + n * 13 % 3400;
        let _ = writeln!(
            text,
            "[[channel]]\nid = \"c{n}\"\nrow = {}\nname = \"C {n}\"\nspoken = \"Channel {n}\"\nsimplex = \"{}.{:03} MHz\"",
            n + 1,
            at / 1000,
            at % 1000
        );
    }
    let ids: Vec<String> = (0..channels).map(|n| format!("c{n}")).collect();
    let _ = writeln!(
        text,
        "[[place]]\nid = \"hill\"\ncode = \"HIL\"\ntactical = \"Hill\"\nkind = \"other\"\nmonitors = {ids:?}"
    );
    text + &order("interference-report", "")
}

/// What is measured: what was built for it, or another file, as what is handed out.
fn program() -> std::ffi::OsString {
    std::env::var_os("FIELDSHEAF_PROGRAM").unwrap_or_else(|| env!("CARGO_BIN_EXE_fieldsheaf").into())
}

fn run(row: &Row, out: &Path) -> Took {
    let mut command = Command::new(program());
    command.args(&row.command).stdout(Stdio::null()).stderr(Stdio::null());
    if row.command[0] != "--version" {
        command.arg(&row.plan);
    }
    if row.command[0] == "build" {
        command.arg("--out").arg(out);
    }
    let start = Instant::now();
    let mut child = command.spawn().unwrap();
    let (mut processor, mut peak) = (None, None);
    loop {
        let about = format!("/proc/{}", child.id());
        let status = std::fs::read_to_string(format!("{about}/status")).unwrap_or_default();
        let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        let kilobytes = line.and_then(|line| line.split_whitespace().next()?.parse::<u64>().ok());
        peak = peak.max(kilobytes.map(|kilobytes| kilobytes * 1024));
        processor = processor.max(std::fs::read_to_string(format!("{about}/stat")).ok().as_deref().and_then(used));
        if let Some(end) = child.try_wait().unwrap() {
            assert!(end.success(), "{}: {end}", row.name);
            return Took { wall: start.elapsed(), processor, peak };
        }
        std::thread::sleep(Duration::from_millis(1));
    }
}

/// Time in the program and in the system for it: the 14th and 15th field, in hundredths of a second.
fn used(stat: &str) -> Option<Duration> {
    let (_, fields) = stat.rsplit_once(") ")?;
    let mut fields = fields.split(' ').skip(11);
    let ticks: u64 = fields.next()?.parse::<u64>().ok()? + fields.next()?.parse::<u64>().ok()?;
    Some(Duration::from_millis(ticks * 10))
}

/// The content of every page of each file, as it is before it is deflated.
fn contents(folder: &Path) -> Vec<Vec<Vec<u8>>> {
    let files = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    let mut files: Vec<PathBuf> = files.filter(|path| path.extension().is_some_and(|ending| ending == "pdf")).collect();
    files.sort();
    let pages = |path: PathBuf| {
        let read = lopdf::Document::load(path).unwrap();
        read.page_iter().map(|page| read.get_page_content(page)).collect()
    };
    files.into_iter().map(pages).collect()
}

/// Files of the same content and nothing else.
fn least(files: &[Vec<Vec<u8>>], out: &Path) -> Duration {
    let start = Instant::now();
    std::fs::create_dir_all(out).unwrap();
    for (number, pages) in files.iter().enumerate() {
        let mut pdf = Pdf::new();
        let (catalog, tree) = (Ref::new(1), Ref::new(2));
        let page_id = |index: usize| Ref::new(3 + 2 * i32::try_from(index).unwrap());
        pdf.catalog(catalog).pages(tree);
        pdf.pages(tree).kids((0..pages.len()).map(page_id)).count(i32::try_from(pages.len()).unwrap());
        for (index, content) in pages.iter().enumerate() {
            let id = page_id(index);
            let stream = Ref::new(id.get() + 1);
            pdf.page(id).parent(tree).media_box(Rect::new(0.0, 0.0, 792.0, 612.0)).contents(stream).finish();
            let deflated = miniz_oxide::deflate::compress_to_vec_zlib(content, 3);
            pdf.stream(stream, &deflated).filter(pdf_writer::Filter::FlateDecode);
        }
        std::fs::write(out.join(format!("{number}.pdf")), pdf.finish()).unwrap();
    }
    start.elapsed()
}

fn size(folder: &Path) -> u64 {
    std::fs::read_dir(folder).map_or(0, |entries| entries.map(|entry| entry.unwrap().metadata().unwrap().len()).sum())
}

/// The rows, with their plans in a folder.
fn rows(folder: &Path) -> Vec<Row> {
    let county = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river");
    let plan = |name: &str, text: String| {
        std::fs::create_dir_all(folder.join(name)).unwrap();
        std::fs::write(folder.join(name).join("plan.toml"), text).unwrap();
        folder.join(name)
    };
    let promised = |milliseconds| Bound::Promised(Duration::from_millis(milliseconds));
    let row = |name, command: &[&'static str], plan: &Path, bound| Row {
        name,
        command: command.to_vec(),
        plan: plan.to_owned(),
        bound,
    };
    let each = |together| order("channel-card", &format!("each = \"member\"\n{together}"));
    let of_state = |documents: &str| state((33, 5000, 200), documents);
    let cards = |members: usize| state((33, members, 200), &each(""));
    let chart = plan("chart", state((500, 50, 20), &order("frequency-chart", "")));
    let shared: String = of_state(&each("")).replace("radio = [\"r", "radio = [\"r0\"]\n# [\"r");
    vec![
        row("start alone (--version)", &["--version"], &county, promised(3)),
        row("county, check --plan-only", &["check", "--plan-only"], &county, promised(10)),
        row("county, check", &["check"], &county, promised(60)),
        row("county, build", &["build"], &county, Bound::Writer),
        row("1,000 different cards, a file each", &["build"], &plan("files1", cards(1000)), Bound::Writer),
        row("5,000 different cards, a file each", &["build"], &plan("files5", cards(5000)), Bound::Writer),
        row("20,000 different cards, a file each", &["build"], &plan("files20", cards(20_000)), Bound::Writer),
        row("the same, one file", &["build"], &plan("stack", of_state(&each("together = true\n"))), Bound::Writer),
        row("5,000 cards, one radio for all", &["build"], &plan("shared", shared), Bound::Writer),
        row(
            "site sheets of 400 places",
            &["build"],
            &plan("sites", state((33, 400, 400), &order("site-sheet", "each = \"place\"\n"))),
            Bound::Writer,
        ),
        row("duty sheet of 5,000", &["build"], &plan("duties", of_state(&order("duty-sheet", ""))), Bound::Writer),
        row("500 channels, check --plan-only", &["check", "--plan-only"], &chart, promised(1000)),
        row("500 channels on one chart, check", &["check"], &chart, promised(1000)),
        row(
            "state: 1,000 channels, 5,000 members",
            &["check"],
            &plan("state", state((999, 5000, 400), &order("check-sheet", ""))),
            promised(1000),
        ),
        row("site of 200 x 200, with paper", &["check"], &plan("site", site(200)), promised(1000)),
    ]
}

fn main() {
    let folder = tempfile::tempdir().unwrap();
    println!("median of {RUNS}, whole process; the ratio is of processor time to the bound");
    println!(
        "{:38} {:>8} {:>9} {:>7} {:>7} {:>6} {:>7} {:>8} {:>6}",
        "", "wall s", "proc. s", "MB", "MB out", "pages", "pages/s", "bound s", "ratio"
    );
    for row in rows(folder.path()) {
        // A folder for each run: some file systems are slow to give a file the number of one that was just removed.
        let out = |number: usize| folder.path().join(format!("{} {number}", row.name.replace(['/', ' '], "-")));
        let mut took: Vec<Took> = (0..RUNS).map(|number| run(&row, &out(number))).collect();
        took.sort_by_key(|took| took.processor.unwrap_or(took.wall));
        let Took { wall, processor, .. } = took[RUNS / 2];
        let (processor, peak) = (
            processor.filter(|time| time.as_millis() >= 100).unwrap_or(wall),
            took.iter().filter_map(|took| took.peak).max().unwrap_or(0),
        );
        let (bound, pages) = match row.bound {
            Bound::Promised(time) => (time, 0),
            Bound::Writer => {
                let files = contents(&out(0));
                (least(&files, &out(RUNS)), files.iter().map(Vec::len).sum::<usize>())
            }
        };
        println!(
            "{:38} {:8.3} {:9.2} {:7.1} {:7.1} {pages:6} {:7.0} {:8.3} {:6.2}",
            row.name,
            wall.as_secs_f64(),
            processor.as_secs_f64(),
            peak as f64 / 1e6,
            size(&out(0)) as f64 / 1e6,
            pages as f64 / wall.as_secs_f64(),
            bound.as_secs_f64(),
            processor.as_secs_f64() / bound.as_secs_f64()
        );
    }
}
