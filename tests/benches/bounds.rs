//! The worst that plans have asked of a check, whole process, against the bound that is stated for it: `cargo bench --bench bounds`.
//!
//! Machines are noisy and busy: beside the time on the wall stands that of the processor, which is what the ratio is of.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, reason = "a bench fails by panicking")]
#![allow(
    clippy::print_stdout,
    clippy::disallowed_macros,
    clippy::disallowed_methods,
    clippy::cast_precision_loss,
    reason = "a bench measures, and says so"
)]

use std::fmt::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Runs of each, of which the median is said.
const RUNS: usize = 5;

const HEAD: &str = r#"
[plan]
title = "Example plan"
short = "WORST"
team = "Example team"
profile = "us"
invented = true
time-zone = "America/Denver"
ROSTER[edition]
number = 7
issued = 2026-11-20
valid-from = 2026-12-01
review-by = 2027-06-01
prepared-by = "qra"
approved-by = "qra"
[[member]]
id = "qra"
call = "WZ7QRA"
name = "Ines Varga"
class = "extra"
expires = 2030-04-01
confirmed = 2026-10-01
"#;

const CHECK_SHEET: &str = "[[document]]\nid = \"check\"\nkind = \"check-sheet\"\naudience = \"coordinator\"\n";
const REPORT: &str = "[[document]]\nid = \"report\"\nkind = \"interference-report\"\naudience = \"team\"\n";
const CARDS: &str = "[[document]]\nid = \"card\"\nkind = \"channel-card\"\neach = \"member\"\naudience = \"team\"\n";

/// One input, what is done with it, and what it may take.
struct Case {
    name: &'static str,
    files: Vec<(&'static str, String)>,
    command: &'static str,
    bound: Duration,
    megabytes: u64,
}

fn head(roster: &str) -> String {
    HEAD.replace("ROSTER", roster)
}

fn records(count: usize, mut record: impl FnMut(usize) -> String) -> String {
    (0..count).fold(String::new(), |text, n| text + &record(n))
}

fn channels(count: usize, step: usize) -> String {
    records(count, |n| {
        let at = 144_500 + n * step % 3400;
        let (row, mhz, khz) = (n % 999 + 1, at / 1000, at % 1000);
        format!(
            "[[channel]]\nid = \"c{n}\"\nrow = {row}\nname = \"C {n}\"\nspoken = \"Channel {n}\"\nsimplex = \"{mhz}.{khz:03} MHz\"\n"
        )
    })
}

fn letters(n: usize) -> String {
    [n / 676, n / 26, n].iter().map(|n| char::from(b'A' + u8::try_from(n % 26).unwrap())).collect()
}

fn place(n: usize) -> String {
    let (code, west) = (letters(n), 109 + n / 100);
    format!(
        "[[place]]\nid = \"p{n}\"\ncode = \"{code}\"\ntactical = \"Site {n}\"\nkind = \"hospital\"\nposition = \"{}.{:02}, -{west}.5\"\nvisited-on = 2026-09-14\n",
        40 + n % 10,
        n / 10 % 100
    )
}

fn crowded_site() -> String {
    let ids: Vec<String> = (0..200).map(|n| format!("c{n}")).collect();
    let hill = format!(
        "[[place]]\nid = \"hill\"\ncode = \"HIL\"\ntactical = \"Hill\"\nkind = \"other\"\nmonitors = {ids:?}\n"
    );
    head("") + &channels(200, 13) + &hill + REPORT
}

fn repeaters() -> String {
    let repeater = |n: usize| {
        let (at, row, call) = (146_610 + n * 5 % 780, n % 999 + 1, letters(n));
        format!(
            "[[repeater]]\nid = \"r{n}\"\ncall = \"WZ7Q{call}\"\nplace = \"p{}\"\noutput = \"{}.{:03} MHz\"\ninput = \"-600 kHz\"\ntone-in = \"100.0 Hz\"\ntone-out = \"off\"\nverified = {{ on = 2026-10-04, by = \"qra\" }}\n[[channel]]\nid = \"c{n}\"\nrow = {row}\nname = \"C {n}\"\nspoken = \"Channel {n}\"\nrepeater = \"r{n}\"\n",
            n % 500,
            at / 1000,
            at % 1000
        )
    };
    head("") + &records(500, place) + &records(999, repeater) + CHECK_SHEET
}

fn one_net() -> String {
    let net = "[[net]]\nid = \"net\"\nname = \"Net\"\nspoken = \"Net\"\nprimary = \"c0\"\nalternate = \"c1\"\n";
    let radio = "[[radio]]\nid = \"ht\"\nname = \"Hand-held\"\ncovers = [\"144 MHz to 148 MHz\"]\nmodes = [\"FM\"]\npower = \"5 W\"\n";
    let post = |n: usize| {
        let member =
            format!("[[member]]\nid = \"m{n}\"\nname = \"Member {n}\"\nconfirmed = 2026-10-01\nradio = [\"ht\"]\n");
        let post =
            format!("[[post]]\nid = \"d{n}\"\nname = \"Post {n}\"\nplace = \"p{}\"\nnets = [\"net\"]\n", n % 500);
        let duty = format!(
            "[[duty]]\npost = \"d{n}\"\nmember = \"m{n}\"\nfrom = \"2027-01-05 08:00\"\nto = \"2027-01-05 18:00\"\n"
        );
        member + &post + &duty
    };
    head("") + radio + &channels(2, 30) + net + &records(500, place) + &records(2000, post) + CHECK_SHEET
}

fn one_frequency() -> String {
    let channel = |n: usize| {
        let row = n % 999 + 1;
        format!(
            "[[channel]]\nid = \"c{n}\"\nrow = {row}\nname = \"C {n}\"\nspoken = \"Channel {n}\"\nsimplex = \"146.550 MHz\"\n"
        )
    };
    head("") + &records(5000, channel)
}

fn cards() -> String {
    let member = |n: usize| format!("[[member]]\nid = \"m{n}\"\nname = \"Member {n}\"\nconfirmed = 2026-10-01\n");
    head("") + CARDS + &channels(33, 75) + &records(2000, member)
}

/// A state: 400 places with a post and a station each, 5,000 members, a duty each at one of them; with every sheet of numbers.
fn state() -> String {
    let member = |n: usize| {
        let duty = format!(
            "[[duty]]\npost = \"post{}\"\nmember = \"m{n}\"\nfrom = \"2027-01-{:02} 08:00\"\nto = \"2027-01-{:02} 16:00\"\n",
            n % 400,
            5 + n / 400,
            5 + n / 400
        );
        format!("[[member]]\nid = \"m{n}\"\nname = \"Member {n}\"\nconfirmed = 2026-10-01\n{duty}")
    };
    let site = |n: usize| {
        let letters = letters(n);
        format!(
            "[[place]]\nid = \"p{n}\"\ncode = \"{letters}\"\ntactical = \"Site {n}\"\nkind = \"shelter\"\nposition = \"{}.{:02}, -{}.5\"\nvisited-on = 2026-09-14\n\
             antenna = [{{ id = \"roof\", height = \"{} m\" }}]\n[[post]]\nid = \"post{n}\"\nname = \"Post {n}\"\nplace = \"p{n}\"\n\
             [[battery]]\nid = \"b{n}\"\nname = \"Battery {n}\"\ncapacity = \"50 Ah\"\nchemistry = \"lead-acid\"\n\
             [[station]]\nid = \"s{n}\"\nname = \"Set {n}\"\nposts = [\"post{n}\"]\nsending = \"10 %\"\npart = [\n\
             {{ id = \"sun\", kind = \"panel\", power = \"60 W\" }},\n{{ id = \"pack\", kind = \"battery\", battery = \"b{n}\", from = \"sun\", fuse = \"10 A\" }},\n\
             {{ id = \"voice\", kind = \"radio\", from = \"pack\", fuse = \"15 A\", idle = \"0.4 A\", sending = \"9 A\", wire = \"12 AWG\", length = \"2 m\" }},\n\
             {{ id = \"lamp\", kind = \"light\", from = \"pack\", fuse = \"2 A\", idle = \"0.3 A\" }},\n]\n",
            40 + n % 10,
            n / 10 % 100,
            104 + n % 11,
            2 + n % 40
        )
    };
    let kinds =
        ["distance-table", "who-hears-whom", "battery-card", "power-budget", "dc-sheet", "station-diagram", "keep-off"];
    let sheets =
        kinds.map(|kind| format!("[[document]]\nid = \"{kind}\"\nkind = \"{kind}\"\naudience = \"team\"\n")).concat();
    head("") + &channels(2, 30) + &records(400, site) + &records(5000, member) + &sheets
}

fn cases() -> Vec<Case> {
    let plan = |text: String| vec![("plan.toml", text)];
    let case = |name, files, command, milliseconds, megabytes| Case {
        name,
        files,
        command,
        bound: Duration::from_millis(milliseconds),
        megabytes,
    };
    let roster = "roster = { file = \"r.csv\", columns = { name = \"Name\", call = \"Call\", class = \"Class\" } }\n";
    let rows = records(100_000, |n| format!("Member {n},NOCALL{n},wizard\n"));
    let faulty = vec![("plan.toml", head(roster)), ("r.csv", format!("Name,Call,Class\n{rows}"))];
    let sheet = head("") + &channels(999, 13) + CHECK_SHEET;
    vec![
        case("site with 200 monitors, with paper", plan(crowded_site()), "check", 1000, 100),
        case("100,000 faulty rows", faulty, "check", 3000, 500),
        case("999 channels with a finding each, sheet", plan(sheet), "check", 2000, 150),
        case("999 repeaters at 500 sites, with paper", plan(repeaters()), "check", 10_000, 300),
        case("2,000 posts of one net, 500 places", plan(one_net()), "check", 2000, 200),
        case("5,000 channels on one frequency", plan(one_frequency()), "check --plan-only", 3000, 300),
        case("numbers of 400 places, 5,000 members", plan(state()), "check --plan-only", 2000, 300),
        case("the same with every sheet of numbers", plan(state()), "check", 10_000, 600),
        case("cards of 2,000 members, each a file", plan(cards()), "build", 20_000, 150),
    ]
}

/// Time on the wall, time of the processor, and most memory in kilobytes, where the system tells them.
type Took = (Duration, Option<Duration>, Option<u64>);

fn run(folder: &Path, case: &Case) -> Took {
    let out = tempfile::tempdir().unwrap();
    let mut command = Command::new(env!("CARGO_BIN_EXE_fieldsheaf"));
    command.args(case.command.split(' ')).arg(folder).stdout(Stdio::null()).stderr(Stdio::null());
    if case.command == "build" {
        command.arg("--out").arg(out.path());
    }
    let start = Instant::now();
    let mut child = command.spawn().unwrap();
    let (mut used, mut peak) = (None, None);
    loop {
        let about = format!("/proc/{}", child.id());
        let status = std::fs::read_to_string(format!("{about}/status")).unwrap_or_default();
        let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        peak = peak.max(line.and_then(|line| line.split_whitespace().next()?.parse().ok()));
        used = used.max(std::fs::read_to_string(format!("{about}/stat")).ok().as_deref().and_then(processor));
        if child.try_wait().unwrap().is_some() {
            return (start.elapsed(), used, peak);
        }
        std::thread::sleep(Duration::from_millis(2));
    }
}

/// Time in the program and in the system for it: the 14th and 15th field, in hundredths of a second.
fn processor(stat: &str) -> Option<Duration> {
    let (_, fields) = stat.rsplit_once(") ")?;
    let mut fields = fields.split(' ').skip(11);
    let ticks: u64 = fields.next()?.parse::<u64>().ok()? + fields.next()?.parse::<u64>().ok()?;
    Some(Duration::from_millis(ticks * 10))
}

fn main() {
    println!("median of {RUNS}, whole process; the ratio is of processor time to the bound");
    let mut text = String::new();
    for case in cases() {
        let folder = tempfile::tempdir().unwrap();
        for (name, words) in &case.files {
            std::fs::write(folder.path().join(name), words).unwrap();
        }
        let mut took: Vec<Took> = (0..RUNS).map(|_| run(folder.path(), &case)).collect();
        took.sort_by_key(|(wall, used, _)| used.unwrap_or(*wall));
        let (wall, used, _) = took[RUNS / 2];
        let peak = took.iter().filter_map(|(.., peak)| *peak).max().map(|kilobytes| kilobytes / 1024);
        let used = used.unwrap_or(wall);
        let seconds = |time: Duration| time.as_secs_f64();
        text.clear();
        let _ = write!(text, "{:40} {:6.2} s wall {:6.2} s processor", case.name, seconds(wall), seconds(used));
        let _ =
            write!(text, "  bound {:5.2} s, ratio {:4.2};", seconds(case.bound), seconds(used) / seconds(case.bound));
        let peak = peak.unwrap_or(0);
        println!("{text} {peak:4} MB  bound {} MB, ratio {:4.2}", case.megabytes, peak as f64 / case.megabytes as f64);
    }
}
