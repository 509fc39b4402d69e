//! A measured catch rate: the clean county with one planted fault per run. Every fault must be found, by the right rule, at the right line.

use crate::support::shelf::Shelf;
use fieldsheaf::Outcome;
use fieldsheaf::ground::{Finding, Severity, Span};
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// Faults planted of each kind.
const RUNS: usize = 20;

/// Numbers that look random and are the same on every run: Knuth's MMIX generator.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % limit
    }

    fn pick<'a>(&mut self, words: &[&'a str]) -> &'a str {
        words[self.below(words.len())]
    }
}

/// What is done to a line.
enum Change {
    /// Another line in its place.
    Replaced(String),
    /// A further line below it.
    Followed(String),
    /// Gone; the finding points this many lines up.
    Gone(usize),
    /// This line is not one to plant the fault in.
    Spared,
}

use Change::{Followed, Gone, Replaced, Spared};

/// A kind of fault: the rule that must find it, the file, how the line begins, what is done to it.
type Kind = (&'static str, &'static str, &'static str, fn(&str, &[String], usize, &mut Dice) -> Change);

/// The value of the nearest line above that sets `key`, within the record.
fn above<'a>(lines: &'a [String], at: usize, key: &str) -> &'a str {
    let record = lines[..at].iter().rev().take_while(|line| !line.starts_with("[["));
    let mark = format!("{key} = ");
    record.filter_map(|line| line.strip_prefix(mark.as_str())).next().unwrap_or("").trim_matches('"')
}

fn to(key: &str, value: &str) -> Change {
    Replaced(format!("{key} = {value}"))
}

/// A duty that ends before the next begins.
fn earlier(line: &str, dice: &mut Dice) -> Change {
    let [evening, morning] =
        [["17:59", "12:00", "07:30"], ["05:59", "01:00", "03:30"]].map(|times| times[dice.below(3)]);
    Replaced(if line.contains("18:00") { line.replace("18:00", evening) } else { line.replace("06:00", morning) })
}

const KINDS: &[Kind] = &[
    ("transmit-leaves-band", "channels.toml", "simplex = ", |_, _, _, dice| {
        to(
            "simplex",
            dice.pick(&[
                "\"143.995 MHz\"",
                "\"147.995 MHz\"",
                "\"148.010 MHz\"",
                "\"449.995 MHz\"",
                "\"419.990 MHz\"",
                "\"151.000 MHz\"",
            ]),
        )
    }),
    ("transmit-leaves-band", "channels.toml", "dial = ", |_, lines, at, dice| {
        let is_upper = lines[at + 1].contains("USB");
        let outside = if is_upper {
            ["\"7298.0 kHz\"", "\"14348.0 kHz\"", "\"6999.0 kHz\""]
        } else {
            ["\"7002.0 kHz\"", "\"14001.0 kHz\"", "\"7301.0 kHz\""]
        };
        to("dial", dice.pick(&outside))
    }),
    ("signal-leaves-radio", "channels.toml", "simplex = ", |_, _, _, dice| {
        to("simplex", dice.pick(&["\"147 Hz\"", "\"0.446 kHz\"", "\"5 kHz\""]))
    }),
    ("signal-leaves-radio", "channels.toml", "simplex = ", |_, _, _, _| Followed("width = \"1000 MHz\"".to_owned())),
    ("signal-leaves-radio", "repeaters.toml", "input = ", |_, _, _, dice| {
        to("input", dice.pick(&["\"5 kHz\"", "\"146 Hz\""]))
    }),
    ("voice-too-narrow", "channels.toml", "simplex = ", |_, lines, at, dice| match () {
        // Where a width or an emission is written a second one is another fault.
        () if lines[at + 1..]
            .iter()
            .take_while(|line| !line.starts_with("[["))
            .any(|line| line.starts_with("width") || line.starts_with("emission") || line.starts_with("mode")) =>
        {
            Spared
        }
        () => Followed(format!("width = {}", dice.pick(&["\"100 Hz\"", "\"2 kHz\"", "\"5 kHz\""]))),
    }),
    ("tone-never-sent", "channels.toml", "tx = \"none\"", |_, _, _, dice| {
        Followed(format!("tx-tone = {}", dice.pick(&["\"100.0 Hz\"", "\"DCS 023 normal\""])))
    }),
    ("call-sign-not-of-service", "repeaters.toml", "call = ", |_, _, _, dice| {
        to("call", dice.pick(&["\"WQAA000\"", "\"KAB1234\"", "\"WQXY123\""]))
    }),
    ("no-class-may-send", "channels.toml", "dial = ", |_, lines, at, dice| {
        let is_upper = lines[at + 1].contains("USB");
        let closed = if is_upper {
            ["\"5340.0 kHz\"", "\"14148.0 kHz\"", "\"18109.0 kHz\""]
        } else {
            ["\"3599.0 kHz\"", "\"7126.0 kHz\"", "\"7050.0 kHz\""]
        };
        to("dial", dice.pick(&closed))
    }),
    ("around-not-open", "channels.toml", "dial = ", |_, _, _, dice| {
        Followed(format!("around = {}", dice.pick(&["\"2 MHz\"", "\"500 kHz\"", "\"1 MHz\""])))
    }),
    ("frequency-not-of-gateway", "channels.toml", "gateway = ", |_, _, _, dice| {
        Followed(format!("on = {}", dice.pick(&["\"145.030 MHz\"", "\"7.1041 MHz\"", "\"441.150 MHz\""])))
    }),
    ("antenna-above-any-mast", "places.toml", "antenna = [{ id = \"roof-2m\"", |_, _, _, dice| {
        let height = dice.pick(&["1240 m", "-3 m", "4000 ft"]);
        to("antenna", &format!("[{{ id = \"roof-2m\", height = \"{height}\" }}]"))
    }),
    ("battery-without-fuse", "stations.toml", "fuse = \"30 A\"", |_, lines, at, _| {
        let up = lines[..at].iter().rev().position(|line| line.starts_with("from")).unwrap_or(0) + 1;
        Gone(up)
    }),
    ("fuse-below-load", "stations.toml", "fuse = \"15 A\"", |_, lines, at, dice| {
        let is_radio = above(lines, at, "kind") == "radio";
        if is_radio { to("fuse", dice.pick(&["\"8.9 A\"", "\"1 A\"", "\"5 A\""])) } else { Spared }
    }),
    ("connectors-do-not-mate", "stations.toml", "plug = ", |_, lines, at, dice| {
        let is_panel_s = above(lines, at, "from") == "panel";
        if is_panel_s { Spared } else { to("plug", dice.pick(&["\"lighter plug\"", "\"blade\"", "\"screws\""])) }
    }),
    ("load-without-current", "stations.toml", "idle = ", |_, lines, at, _| {
        let up = lines[..at].iter().rev().position(|line| line.starts_with("kind")).unwrap_or(0) + 1;
        if lines[at + 1].starts_with("receiving") { Spared } else { Gone(up) }
    }),
    ("load-without-source", "stations.toml", "from = ", |_, lines, at, _| {
        let up = lines[..at].iter().rev().position(|line| line.starts_with("id")).unwrap_or(0) + 1;
        let kind = above(lines, at, "kind");
        if matches!(kind, "radio" | "light" | "computer" | "data-controller") { Gone(up) } else { Spared }
    }),
    ("battery-ends-before-duty", "stations.toml", "capacity = \"100 Ah\"", |_, _, _, dice| {
        to("capacity", dice.pick(&["\"20 Ah\"", "\"9 Ah\"", "\"30 Ah\""]))
    }),
    ("tone-not-standard", "repeaters.toml", "tone-in = ", |_, _, _, dice| {
        to("tone-in", dice.pick(&["\"103.4 Hz\"", "\"100.5 Hz\"", "\"88.6 Hz\"", "\"254.2 Hz\"", "\"66.9 Hz\""]))
    }),
    ("tone-not-standard", "repeaters.toml", "tone-in = ", |_, _, _, dice| {
        to("tone-in", dice.pick(&["\"DCS 024 normal\"", "\"DCS 033 inverted\"", "\"DCS 777 normal\""]))
    }),
    ("tone-not-for-mode", "repeaters.toml", "tone-in = ", |_, _, _, dice| {
        to("tone-in", dice.pick(&["\"CC 1\"", "\"NAC 293\"", "\"RAN 5\"", "\"CAN 3\""]))
    }),
    ("bare-number", "repeaters.toml", "tone-in = ", |_, _, _, dice| to("tone-in", dice.pick(&["12", "103.5", "8"]))),
    ("unusual-shift", "repeaters.toml", "input = ", |line, _, _, _| match () {
        () if line.contains("accepted") => Spared,
        () if line.contains("\"-") => Replaced(line.replace("\"-", "\"+")),
        () => Replaced(line.replace("\"+", "\"-")),
    }),
    ("repeater-outside-segment", "repeaters.toml", "output = ", |_, _, _, dice| {
        to("output", dice.pick(&["\"145.700 MHz\"", "\"145.495 MHz\"", "\"432.100 MHz\"", "\"436.000 MHz\""]))
    }),
    ("licence-expired", "leads.toml", "expires = ", |_, _, _, dice| {
        to("expires", dice.pick(&["2026-11-30", "2025-02-01", "2026-01-31"]))
    }),
    ("licence-expired", "leads.toml", "expires = ", |_, _, _, dice| {
        Replaced(format!("expires = 2026-11-20\nrenewal-filed = {}", dice.pick(&["2026-11-21", "2026-11-30"])))
    }),
    ("licence-ends-in-edition", "leads.toml", "expires = ", |_, _, _, dice| {
        Replaced(format!("expires = 2027-02-01\nrenewal-filed = {}", dice.pick(&["2027-02-02", "2027-05-01"])))
    }),
    ("licence-expired", "people.csv", "q", |line, _, _, _| {
        let cells: Vec<&str> = line.split(',').collect();
        if cells[3].is_empty() { Spared } else { Replaced(line.replace(cells[4], "2026-11-02")) }
    }),
    ("licence-ends-in-edition", "leads.toml", "expires = ", |_, _, _, dice| {
        to("expires", dice.pick(&["2026-12-01", "2027-05-31", "2027-02-14"]))
    }),
    // A word for what the record is, so that the proposal is no other fault.
    ("class-unknown", "leads.toml", "class = ", |line, _, _, dice| match dice.below(3) {
        0 => to("class", "\"amateur\""),
        _ => Replaced(line.replacen('e', "", 1)),
    }),
    ("class-unknown", "people.csv", "q", |line, _, _, _| {
        let class = line.split(',').nth(3).unwrap();
        if class.is_empty() { Spared } else { Replaced(line.replacen(class, "tecnician", 1)) }
    }),
    ("row-duplicate", "channels.toml", "row = ", |line, _, _, dice| {
        let row = (dice.below(33) + 1).to_string();
        if line.ends_with(&format!(" {row}")) { Spared } else { to("row", &row) }
    }),
    ("row-missing", "channels.toml", "row = ", |_, _, _, _| Gone(1)),
    ("file-name-taken", "documents.toml", "id = ", |line, _, _, dice| match () {
        // Sets of one member each are files under that member's name.
        () if line.contains("my-channels") || line.contains("operator-set") => Spared,
        () => to("id", dice.pick(&["\"my-channels-qra\"", "\"my-channels-qrg\"", "\"my-channels-hedda\""])),
    }),
    ("duplicate-name", "channels.toml", "name = ", |line, _, _, dice| {
        let name = dice.pick(&["\"CMD 1\"", "\"tac 3\"", "\"WX 2\"", "\"HF 80\""]);
        if line.to_lowercase().contains(&name.to_lowercase()) { Spared } else { to("name", name) }
    }),
    ("duplicate-spoken-name", "channels.toml", "spoken = ", |line, _, _, dice| {
        let name = dice.pick(&["\"Command Net\"", "\"tactical three\"", "\"Alder General\"", "\"Eighty\""]);
        if line.to_lowercase().contains(&name.to_lowercase()) { Spared } else { to("spoken", name) }
    }),
    ("dangling-id", "channels.toml", "repeater = ", |line, _, _, _| Replaced(line.replace("= \"", "= \"x"))),
    ("dangling-id", "nets.toml", "alternate = ", |line, _, _, _| Replaced(line.replace("= \"", "= \"x"))),
    ("unknown-key", "channels.toml", "power = ", |line, _, _, _| Replaced(line.replacen("power", "powr", 1))),
    ("unknown-key", "channels.toml", "simplex = ", |line, _, _, dice| {
        Replaced(line.replacen("simplex", dice.pick(&["frequency", "freq", "Simplex"]), 1))
    }),
    ("unknown-key", "repeaters.toml", "tone-in = ", |line, _, _, dice| {
        Replaced(line.replacen("tone-in", dice.pick(&["tone", "ctcss", "tone_in"]), 1))
    }),
    ("bad-value", "channels.toml", "name = ", |line, _, _, dice| {
        let unseen = dice.pick(&["\u{200b}", "\u{ad}", "\u{2060}", "\u{feff}", "\u{61c}"]);
        Replaced(line.replacen(" = \"", &format!(" = \"{unseen}"), 1))
    }),
    ("bad-value", "channels.toml", "row = ", |_, _, _, dice| to("row", dice.pick(&["70000", "-1", "\"3\"", "[3]"]))),
    ("bad-value", "places.toml", "kind = ", |line, _, _, _| match () {
        () if line.contains("hospital") => to("kind", "\"Hospital\""),
        () if line.contains("blood") => to("kind", "\"blood bank\""),
        () => to("kind", "\"eoc\""),
    }),
    ("unknown-record", "channels.toml", "[[channel]]", |_, _, _, dice| {
        Replaced(dice.pick(&["[[chanel]]", "[[channels]]", "[[canal]]"]).to_owned())
    }),
    ("missing-key", "channels.toml", "name = ", |_, _, _, _| Gone(3)),
    ("bad-value", "channels.toml", "simplex = ", |line, _, _, _| Replaced(line.replace(" MHz", ""))),
    ("syntax", "channels.toml", "assignment = ", |line, _, _, _| Replaced(line.trim_end_matches('"').to_owned())),
    ("power-over-limit", "channels.toml", "power = ", |_, lines, at, dice| match above(lines, at, "dial") {
        "5330.5 kHz" => to("power", dice.pick(&["\"101 W\"", "\"400 W\""])),
        _ => to("power", dice.pick(&["\"1501 W\"", "\"2 kW\""])),
    }),
    ("edition-dates-out-of-order", "plan.toml", "review-by = ", |_, _, _, dice| {
        to("review-by", dice.pick(&["2026-12-01", "2026-11-30", "2026-01-01"]))
    }),
    ("net-repeats-channel", "nets.toml", "alternate = ", |_, lines, at, _| {
        to("alternate", &format!("\"{}\"", above(lines, at, "primary")))
    }),
    ("nets-share-fallback", "nets.toml", "alternate = ", |line, lines, at, dice| {
        let other = dice.pick(&["\"shl-3\"", "\"hf-40\"", "\"med-3\"", "\"log-2\"", "\"cmd-2\""]);
        // Its own channel again is another fault.
        if lines[at - 1..(at + 3).min(lines.len())].iter().any(|near| near.contains(other)) || line.contains(other) {
            Spared
        } else {
            to("alternate", other)
        }
    }),
    ("channels-overlap", "channels.toml", "simplex = ", |line, _, _, dice| {
        let near = dice.pick(&[
            "\"146.545 MHz\"",
            "\"146.940 MHz\"",
            "\"147.430 MHz\"",
            "\"446.055 MHz\"",
            "\"146.340 MHz\"",
            "\"145.045 MHz\"",
        ]);
        // A channel does not overlap with itself, moved.
        let own = line.get(11..16).unwrap_or("");
        if near.contains(own) { Spared } else { to("simplex", near) }
    }),
    ("hear-tone-silences", "channels.toml", "repeater = ", |line, _, _, dice| {
        if line.contains("fern") {
            Spared
        } else {
            Followed(format!("rx-tone = {}", dice.pick(&["\"67.0 Hz\"", "\"DCS 023 normal\"", "\"203.5 Hz\""])))
        }
    }),
    ("hear-tone-unproved", "channels.toml", "repeater = \"fern\"", |_, _, _, dice| {
        Followed(format!("rx-tone = {}", dice.pick(&["\"67.0 Hz\"", "\"156.7 Hz\""])))
    }),
    ("tone-contradicts-repeater", "channels.toml", "repeater = ", |_, _, _, dice| {
        Followed(format!("tx-tone = {}", dice.pick(&["\"67.0 Hz\"", "\"off\"", "\"DCS 047 normal\""])))
    }),
    ("shift-contradicts-tx", "channels.toml", "repeater = ", |_, _, _, dice| {
        Followed(
            dice.pick(&["tx = \"146.900 MHz\"", "shift = \"+700 kHz\"", "tx = \"447.700 MHz\"", "shift = \"-1 MHz\""])
                .to_owned(),
        )
    }),
    ("sixty-meters-lower-sideband", "channels.toml", "side = \"USB\"", |_, lines, at, _| {
        if above(lines, at, "dial") == "5330.5 kHz" { to("side", "\"LSB\"") } else { Spared }
    }),
    ("emission-too-wide", "repeaters.toml", "frequency = \"145", |_, _, _, dice| {
        Followed(format!("emission = {}", dice.pick(&["\"20K1F1D\"", "\"25K0F1D\"", "\"100KF1D\""])))
    }),
    ("transmit-not-checked", "channels.toml", "tx = \"none\"", |_, lines, at, _| {
        // Only weather broadcasts are closed to everybody; marine takes a licence.
        if lines[at + 1] != "service = \"weather\"" {
            return Spared;
        }
        to("tx", &format!("\"{}\"", above(lines, at, "rx")))
    }),
    ("no-member-may-send", "channels.toml", "tx = \"none\"", |_, lines, at, _| {
        if lines[at + 1] != "service = \"marine\"" {
            return Spared;
        }
        to("tx", &format!("\"{}\"", above(lines, at, "rx")))
    }),
    ("agreement-ended", "agreements.toml", "expires = ", |_, _, _, dice| {
        to("expires", dice.pick(&["2026-11-30", "2026-02-10", "2025-12-31"]))
    }),
    ("agreement-ended", "agreements.toml", "signed = ", |_, _, _, dice| {
        to("signed", dice.pick(&["2026-12-02", "2027-01-01"]))
    }),
    ("agreement-ends-in-edition", "agreements.toml", "expires = ", |_, _, _, dice| {
        to("expires", dice.pick(&["2026-12-01", "2027-05-31", "2027-03-01"]))
    }),
    ("agreement-gives-nothing", "agreements.toml", "channels = ", |_, _, _, dice| {
        to("channels", dice.pick(&["[\"frs-1\"]", "[\"mar-16\"]", "[\"cmd-1\"]"]))
    }),
    ("agreement-gives-nothing", "agreements.toml", "service = ", |_, _, _, dice| {
        to("service", dice.pick(&["\"amateur\"", "\"frs\"", "\"weather\"", "\"cb\""]))
    }),
    ("standard-name-differs", "channels.toml", "name = \"V", |_, _, _, dice| {
        to("name", dice.pick(&["\"IOP 9\"", "\"VCALL\"", "\"VTAC12\""]))
    }),
    ("service-limit-exceeded", "agreements.toml", "max = ", |_, _, _, dice| {
        to("max", dice.pick(&["\"4.9 W\"", "\"1 W\"", "\"500 mW\""]))
    }),
    ("call-sign-shape", "leads.toml", "call = ", |_, _, _, dice| {
        to("call", dice.pick(&["\"WZ7QRAX\"", "\"DL7QRA\"", "\"W7QRAB\"", "\"4X7QRA\""]))
    }),
    ("call-sign-over-class", "leads.toml", "call = ", |_, lines, at, dice| {
        let is_extra = lines[at..(at + 4).min(lines.len())].iter().any(|line| line == "class = \"extra\"");
        if is_extra { Spared } else { to("call", dice.pick(&["\"W7QR\"", "\"KA7Q\"", "\"AB7QR\""])) }
    }),
    ("band-plan-side", "channels.toml", "simplex = ", |_, _, _, dice| {
        to("simplex", dice.pick(&["\"146.820 MHz\"", "\"147.210 MHz\"", "\"146.130 MHz\"", "\"224.100 MHz\""]))
    }),
    ("off-raster", "channels.toml", "simplex = ", |_, _, _, dice| {
        to("simplex", dice.pick(&["\"146.5512 MHz\"", "\"446.0010 MHz\"", "\"147.5799 MHz\""]))
    }),
    ("emission-contradicts-mode", "repeaters.toml", "output = ", |_, _, _, dice| {
        Followed(format!("mode = \"FM\"\nemission = {}", dice.pick(&["\"2K80J3E\"", "\"150HA1A\"", "\"6K00A3E\""])))
    }),
    ("unattended-station-limits", "channels.toml", "simplex = \"14", |_, _, _, _| {
        Followed("station = \"beacon\"".to_owned())
    }),
    ("same-band-at-site", "places.toml", "monitors = ", |_, _, _, dice| {
        to("monitors", dice.pick(&["[\"cmd-1\", \"tac-2\"]", "[\"med-1\", \"med-3\"]", "[\"pkt-1\", \"tac-2\"]"]))
    }),
    // 2 x 454.825 - 464.825 = 444.825, which MED 1 hears: worked by hand.
    ("possible-product", "places.toml", "monitors = ", |_, _, _, dice| {
        Followed(format!(
            "other = [{{ name = \"Pager\", sends = \"{}\" }}, {{ name = \"Taxi\", sends = \"{}\" }}]",
            "454.825 MHz",
            dice.pick(&["464.825 MHz", "464.830 MHz", "464.815 MHz"])
        ))
    }),
    // Mill Hill by itself: 2 x 147.320 - 147.180, 2 x 147.180 - 147.320, 147.180 + 147.320 - 146.760.
    ("possible-product", "channels.toml", "simplex = \"14", |_, _, _, dice| {
        to("simplex", dice.pick(&["\"147.460 MHz\"", "\"147.040 MHz\"", "\"147.740 MHz\"", "\"147.725 MHz\""]))
    }),
    ("same-band-at-site", "places.toml", "spacing = [{", |line, _, _, dice| {
        let less = dice.pick(&["isolation = \"60 dB\"", "isolation = \"30.5 dB\"", "distance = \"4 m\""]);
        let from = line.find("isolation = ").unwrap();
        let to = line[from..].find(',').unwrap() + from;
        Replaced(format!("{}{less}{}", &line[..from], &line[to..]))
    }),
    ("spacing-without-pair", "places.toml", "spacing = [{ of = [\"mast-top\"", |line, _, _, dice| {
        Replaced(line.replace(dice.pick(&[", \"mast-arm\"", "\"mast-top\", "]), ""))
    }),
    ("dangling-id", "places.toml", "spacing = [{", |line, _, _, _| Replaced(line.replacen("of = [\"", "of = [\"x", 1))),
    ("power-over-place-limit", "places.toml", "transmit = ", |line, lines, at, dice| {
        // The medical desk stands in one hospital, and works MED 1 with 25 W.
        if above(lines, at, "id") == "alder" {
            Replaced(line.replace("25 W", dice.pick(&["5 W", "24.9 W", "500 mW"])))
        } else {
            Spared
        }
    }),
    ("sends-where-not-allowed", "places.toml", "transmit = ", |line, lines, at, dice| {
        if above(lines, at, "id") == "alder" {
            Replaced(line.replace("B-114 and roof only", dice.pick(&["nowhere", "Nowhere", "NOWHERE"])))
        } else {
            Spared
        }
    }),
    ("place-agreement-missing", "places.toml", "transmit = ", |line, _, _, dice| {
        Replaced(line.replace(dice.pick(&["agreed-by = \"Clinical engineering\", ", "on = 2026-09-14, "]), ""))
    }),
    ("place-agreement-old", "places.toml", "transmit = ", |line, _, _, dice| {
        Replaced(line.replace("2026-09-14", dice.pick(&["2025-11-19", "2019-05-02", "2024-02-29"])))
    }),
    ("harmonic-on-receiver", "places.toml", "monitors = ", |_, _, _, dice| {
        Followed(format!(
            "other = [{{ name = \"Works\", sends = \"{}\" }}]",
            dice.pick(&["222.4125 MHz", "148.275 MHz", "111.20625 MHz"])
        ))
    }),
    ("fallback-contradicts-net", "channels.toml", "next = ", |line, lines, at, dice| {
        let next = dice.pick(&["\"tac-4\"", "\"tac-2\"", "\"shl-3\""]);
        let is_leg = ["cmd-1", "cmd-2", "med-1", "med-2", "shl-1", "log-1", "log-2"];
        if line.contains(next) || !is_leg.contains(&above(lines, at, "id")) || above(lines, at, "id") == "shl-2" {
            Spared
        } else {
            to("next", next)
        }
    }),
    ("net-shares-element", "nets.toml", "contingency = \"med-3\"", |_, _, _, _| Gone(2)),
    ("adjacent-channel", "channels.toml", "simplex = \"446.100", |_, _, _, dice| {
        to("simplex", dice.pick(&["\"446.0620 MHz\"", "\"446.0380 MHz\"", "\"446.0615 MHz\""]))
    }),
    ("neighbour-on-frequency", "more.toml", "output = \"223", |_, _, _, dice| {
        to("output", dice.pick(&["\"146.940 MHz\"", "\"147.420 MHz\"", "\"145.050 MHz\"", "\"446.055 MHz\""]))
    }),
    ("channel-not-allotted", "channels.toml", "simplex = ", |_, _, _, _| {
        Replaced("simplex = \"allot\"\npool = \"spare\"".to_owned())
    }),
    ("call-sign-elsewhere", "leads.toml", "call = ", |line, _, _, dice| {
        Replaced(line.replacen("WZ7", dice.pick(&["WZ4", "WZ1", "WZ9"]), 1))
    }),
    ("names-sound-alike", "channels.toml", "spoken = ", |_, _, _, dice| {
        to("spoken", dice.pick(&["\"Commend Net\"", "\"Elder General\"", "\"Operation\""]))
    }),
    ("name-is-proword", "channels.toml", "spoken = ", |_, _, _, dice| {
        to("spoken", dice.pick(&["\"Break\"", "\"Roger\"", "\"Say Again\""]))
    }),
    ("name-over-two-words", "channels.toml", "spoken = ", |_, lines, at, dice| {
        // Names of published channels of other services are given.
        let record = lines[at..].iter().take_while(|line| !line.starts_with("[["));
        if record.clone().any(|line| line.starts_with("service = ")) || !above(lines, at, "standard").is_empty() {
            return Spared;
        }
        to("spoken", dice.pick(&["\"North County One\"", "\"The Net Two\""]))
    }),
    ("talkgroup-not-for-mode", "channels.toml", "simplex = ", |_, _, _, dice| {
        Followed(dice.pick(&["talkgroup = 3100", "time-slot = 1", "talkgroup = 9"]).to_owned())
    }),
    ("tone-not-for-mode", "channels.toml", "repeater = ", |_, _, _, dice| {
        Followed(format!("rx-tone = {}", dice.pick(&["\"1750 Hz burst\"", "\"CC 1\"", "\"NAC 293\""])))
    }),
    ("area-unproved", "more.toml", "output = \"224.5", |_, _, _, dice| {
        to("output", dice.pick(&["\"425.000 MHz\"", "\"421.700 MHz\"", "\"429.500 MHz\""]))
    }),
    ("excluded-area", "more.toml", "output = \"224.9", |_, _, _, dice| {
        to("output", dice.pick(&["\"425.000 MHz\"", "\"421.700 MHz\"", "\"429.500 MHz\""]))
    }),
    ("nobody-may-use", "nets.toml", "member = \"qr", |_, _, _, dice| {
        to("member", dice.pick(&["\"noel\"", "\"pavel\"", "\"hedda\""]))
    }),
    ("service-channel-unknown", "channels.toml", "simplex = ", |_, _, _, dice| {
        to("simplex", dice.pick(&["\"462.5600 MHz\"", "\"467.7250 MHz\"", "\"462.5510 MHz\"", "\"146.5500 MHz\""]))
    }),
    ("service-limit-exceeded", "channels.toml", "power = ", |_, _, _, dice| {
        to("power", dice.pick(&["\"5.1 W\"", "\"8 W\"", "\"50 W\""]))
    }),
    ("evidence-old", "repeaters.toml", "verified = ", |_, _, _, dice| {
        to("verified", dice.pick(&["{ on = 2025-11-19, by = \"qsb\" }", "{ on = 2019-01-01, by = \"qrc\" }"]))
    }),
    ("evidence-missing", "places.toml", "visited-on = ", |_, lines, at, _| {
        let up = lines[..at].iter().rev().take_while(|line| !line.starts_with("[[")).count();
        Gone(up)
    }),
    ("jack-unknown", "places.toml", "connector = ", |_, lines, at, _| {
        let up = lines[..at].iter().rev().take_while(|line| !line.starts_with("[[")).count();
        let has_post = ["alder", "willow", "blood", "ops"].contains(&above(lines, at, "id"));
        if has_post { Gone(up) } else { Spared }
    }),
    ("duplicate-id", "channels.toml", "id = ", |line, _, _, dice| {
        let id = dice.pick(&["\"cmd-1\"", "\"frs-3\"", "\"tac-2\""]);
        if line.contains(id) { Spared } else { to("id", id) }
    }),
    ("duty-times-out-of-order", "nets.toml", "to = ", |_, lines, at, _| {
        to("to", &format!("\"{}\"", above(lines, at, "from")))
    }),
    ("calling-frequency-worked", "nets.toml", "primary = ", |_, _, _, dice| {
        to("primary", dice.pick(&["\"call-2\"", "\"call-70\""]))
    }),
    ("band-plan-segment", "channels.toml", "simplex = ", |_, _, _, dice| {
        to("simplex", dice.pick(&["\"144.250 MHz\"", "\"145.900 MHz\"", "\"436.500 MHz\"", "\"222.050 MHz\""]))
    }),
    ("waiver-ended", "accepted.toml", "until = ", |_, _, _, dice| {
        to("until", dice.pick(&["2026-11-19", "2025-12-31"]))
    }),
    ("waiver-finds-nothing", "accepted.toml", "finding = ", |_, _, _, dice| {
        to("finding", dice.pick(&["\"unusual-shfit\"", "\"evidence-old\""]))
    }),
    ("waiver-finds-nothing", "accepted.toml", "on = ", |line, _, _, dice| {
        match (line.split_once(", "), dice.below(2)) {
            (Some((_, rest)), 0) => to("on", &format!("[{rest}")),
            _ => Replaced(line.replace(']', ", \"channel/wx-1\"]")),
        }
    }),
    ("waiver-without-reason", "accepted.toml", "reason = ", |_, _, _, dice| {
        to("reason", dice.pick(&["\"...\"", "\"-\"", "\"?\"", "\"1998\""]))
    }),
    ("form-number-duplicate", "forms/hospital-status.toml", "        { number = ", |line, _, _, _| {
        let number = line.trim().split(' ').nth(3).unwrap().trim_end_matches(',');
        if number == "1" { Spared } else { Replaced(line.replace(&format!("number = {number}"), "number = 1")) }
    }),
    ("form-numbers-out-of-order", "forms/hospital-status.toml", "        { number = ", |line, _, _, dice| {
        let number = line.trim().split(' ').nth(3).unwrap().trim_end_matches(',');
        let later = dice.pick(&["20", "11", "99"]);
        Replaced(line.replace(&format!("number = {number},"), &format!("number = {later},")))
    }),
    ("form-base-unknown", "forms/shelter-count.toml", "edition = ", |_, _, _, dice| {
        Followed(format!("base = {}", dice.pick(&["\"hospital-sttus\"", "\"logg\"", "\"atlantis\""])))
    }),
    ("form-base-circular", "forms/shelter-count.toml", "edition = ", |_, _, _, _| {
        Followed("base = \"shelter-count\"".to_owned())
    }),
    ("form-block-unmarked", "forms/hospital-status.toml", "        { number = ", |line, _, _, _| {
        let number = line.trim().split(' ').nth(3).unwrap().trim_end_matches(',');
        if number == "1" { Spared } else { Replaced(line.replace(&format!("number = {number}, "), "")) }
    }),
    ("form-reads-no-block", "forms/hospital-status.toml", "read-aloud = ", |_, _, _, dice| {
        to("read-aloud", dice.pick(&["[\"1 to 11\"]", "[\"1 to 10\", \"A\"]", "[\"1 to 10\", \"3\"]"]))
    }),
    ("form-label-long", "forms/hospital-status.toml", "        { number = ", |line, _, _, _| {
        let long = "label = \"What the house supervisor says of this when asked, in whole sentences: ";
        Replaced(line.replace("label = \"", long))
    }),
    ("short-too-long", "plan.toml", "short = ", |_, _, _, _| to("short", "\"SORREL RIVER COUNTY\"")),
    ("profile-unknown", "plan.toml", "profile = ", |_, _, _, dice| {
        to("profile", dice.pick(&["\"uss\"", "\"atlantis\""]))
    }),
    ("zone-unknown", "plan.toml", "time-zone = ", |_, _, _, dice| {
        to("time-zone", dice.pick(&["\"America/Denvr\"", "\"MST7MDTX\""]))
    }),
    ("column-unknown", "plan.toml", "columns = ", |line, _, _, dice| {
        Replaced(line.replace(dice.pick(&["\"Full name\"", "\"Licence\"", "\"Call\""]), "\"Nome\""))
    }),
    ("unknown-document-kind", "documents.toml", "kind = ", |line, _, _, _| Replaced(line.replace("= \"", "= \"x"))),
    ("unknown-form", "documents.toml", "form = ", |line, _, _, _| Replaced(line.replace(" = \"", " = \"x"))),
    ("document-too-open", "documents.toml", "audience = ", |_, lines, at, dice| match above(lines, at, "kind") {
        "check-sheet" => to("audience", dice.pick(&["\"public\"", "\"team\"", "\"leads\""])),
        "rehearsal-report" | "eligibility-matrix" => to("audience", dice.pick(&["\"public\"", "\"agency/mercy\""])),
        _ => Spared,
    }),
    ("link-within-one-band", "more.toml", "joins = [\"cmd-1", |_, _, _, dice| {
        to("joins", dice.pick(&["[\"cmd-1\", \"tac-4\"]", "[\"cmd-1\", \"call-2\"]", "[\"med-1\", \"med-4\"]"]))
    }),
    ("link-joins-nets", "more.toml", "joins = [\"cmd-1", |_, _, _, dice| {
        to("joins", dice.pick(&["[\"cmd-1\", \"med-1\"]", "[\"med-3\", \"log-1\"]", "[\"shl-1\", \"med-2\"]"]))
    }),
    ("links-in-a-ring", "more.toml", "joins = [\"med-1", |_, _, _, dice| {
        to("joins", dice.pick(&["[\"cmd-1\", \"med-4\"]", "[\"med-4\", \"cmd-1\"]"]))
    }),
    ("link-without-pair", "more.toml", "joins = ", |_, _, _, dice| {
        to("joins", dice.pick(&["[\"cmd-1\"]", "[]", "[\"cmd-1\", \"cmd-1\"]", "[\"cmd-1\", \"med-4\", \"tac-1\"]"]))
    }),
    ("repeater-outside-segment", "more.toml", "joins = ", |_, _, _, dice| {
        to("joins", dice.pick(&["[\"cmd-1\", \"hf-20\"]", "[\"hf-80\", \"med-4\"]"]))
    }),
    ("tones-close", "more.toml", "tone-in = \"167.9 Hz\"", |_, _, _, _| to("tone-in", "\"103.5 Hz\"")),
    ("excluded-area", "more.toml", "output = \"224.100 MHz\"", |_, _, _, dice| {
        to("output", dice.pick(&["\"927.500 MHz\"", "\"919.100 MHz\"", "\"903.100 MHz\""]))
    }),
    ("power-over-class-limit", "more.toml", "power = \"100 W\"", |_, _, _, dice| {
        to("power", dice.pick(&["\"201 W\"", "\"250 W\"", "\"1500 W\""]))
    }),
    ("channel-crowded", "more.toml", "primary = \"tac-4\"", |_, _, _, _| to("primary", "\"mesa-1\"")),
    ("channel-crowded-after-loss", "more.toml", "alternate = \"tac-2\"", |_, _, _, _| to("alternate", "\"tac-4\"")),
    ("net-does-not-rejoin", "more.toml", "primary = \"tac-2\"", |_, _, _, _| to("primary", "\"mesa-1\"")),
    ("member-at-two-places", "nets.toml", "member = ", |_, lines, at, _| {
        let is_elsewhere = !["ops-desk", "message-desk"].contains(&above(lines, at, "post"));
        if is_elsewhere && lines[at + 1].ends_with("06:00\"") { to("member", "\"qra\"") } else { Spared }
    }),
    ("member-at-two-posts", "nets.toml", "member = ", |_, lines, at, _| {
        match (above(lines, at, "post"), lines[at + 1].ends_with("06:00\"")) {
            ("message-desk", true) => to("member", "\"qra\""),
            ("message-desk", false) => to("member", "\"qsb\""),
            _ => Spared,
        }
    }),
    ("net-control-unstaffed", "nets.toml", "to = ", |_, lines, at, dice| match above(lines, at, "post") {
        post if post.ends_with("-desk") => earlier(&lines[at], dice),
        _ => Spared,
    }),
    ("post-unstaffed", "nets.toml", "to = ", |_, lines, at, dice| match above(lines, at, "post") {
        post if post.ends_with("-desk") => Spared,
        _ => earlier(&lines[at], dice),
    }),
    ("net-control-unreachable", "nets.toml", "control = ", |_, _, _, dice| {
        to("control", dice.pick(&["\"watch-1\"", "\"watch-24\""]))
    }),
    ("control-passes-after-move", "nets.toml", "control-after = ", |_, _, _, dice| {
        to("control-after", dice.pick(&["\"10 min\"", "\"15 min\"", "\"1 h\""]))
    }),
    ("net-control-not-heard", "stations.toml", "result = ", |_, lines, at, _| match above(lines, at, "channel") {
        "med-3" => to("result", "\"nothing\""),
        _ => Spared,
    }),
    ("local-time-unclear", "nets.toml", "to = ", |_, _, _, dice| {
        to("to", dice.pick(&["\"2027-03-14 02:30\"", "\"2027-03-14 02:00\"", "\"2027-11-07 01:59\""]))
    }),
    ("offset-not-in-force", "nets.toml", "to = ", |line, _, _, dice| {
        let offset = dice.pick(&["-06:00", "+00:00", "-08:00", "Z"]);
        Replaced(format!("{}{offset}\"", line.trim_end().trim_end_matches('"')))
    }),
    ("hours-out-of-order", "plan.toml", "to = ", |_, _, _, dice| {
        to("to", dice.pick(&["\"2027-01-16 06:00\"", "\"2027-01-16 05:59\"", "\"2026-01-17 18:00\""]))
    }),
    ("trigger-contradicts-row", "nets.toml", "trigger = ", |_, _, _, dice| {
        to("trigger", dice.pick(&["\"no answer for 7 minutes\"", "\"three calls for nothing\"", "\"silence, 20 s\""]))
    }),
    ("trigger-contradicts-row", "channels.toml", "after = ", |_, lines, at, dice| {
        let is_leg = ["cmd-1", "cmd-2", "med-1", "med-2", "shl-1", "shl-2", "log-1", "log-2", "pkt-1", "pkt-2"];
        if is_leg.contains(&above(lines, at, "id")) {
            to("after", dice.pick(&["\"3 min\"", "\"90 s\"", "\"1 h\""]))
        } else {
            Spared
        }
    }),
    ("last-channel-leads-nowhere", "nets.toml", "rejoin = ", |_, _, _, _| Gone(2)),
    ("no-radio-for-duty", "nets.toml", "member = ", |_, lines, at, dice| match above(lines, at, "post") {
        "medical-desk" | "willow-radio" | "blood-radio" => to("member", dice.pick(&["\"qrh\"", "\"qrj\"", "\"qrt\""])),
        _ => Spared,
    }),
    ("name-is-proword", "nets.toml", "spoken = ", |_, _, _, dice| {
        to("spoken", dice.pick(&["\"Seelonce Net\"", "\"Securite\"", "\"Net S.O.S.\""]))
    }),
    ("site-number-private", "places.toml", "contact = ", |line, _, _, dice| {
        let (before, rest) = line.split_once("phone = \"").unwrap();
        let (_, after) = rest.split_once('"').unwrap();
        let number =
            dice.pick(&["+1 406 555 0103", "406-555-0110", "555 0133", "001 (406) 555-0101", "1-406-555-0133 ext 2"]);
        Replaced(format!("{before}phone = \"{number}\"{after}"))
    }),
    ("site-role-names-member", "places.toml", "contact = ", |line, _, _, dice| {
        let name = dice.pick(&["Amara Osei", "noel dray", "Desk of Ines Varga", "Dray, Noel", "Desk WZ7QRA"]);
        Replaced(line.replacen("role = \"", &format!("role = \"{name}, "), 1))
    }),
    ("coordinator-without-number", "leads.toml", "    { number = \"+1 406 555 0107\"", |line, _, _, dice| {
        Replaced(line.replace("\"team\"", dice.pick(&["\"leads\"", "\"coordinator\"", "\"agency/alder-health\""])))
    }),
    ("word-forbidden", "channels.toml", "spoken = ", |_, _, _, dice| {
        to("spoken", dice.pick(&["\"Mayday\"", "\"Mayday Five\"", "\"Net Mayday\""]))
    }),
    ("done-after-issue", "repeaters.toml", "verified = ", |_, _, _, dice| {
        to("verified", dice.pick(&["{ on = 2026-11-21, by = \"qsb\" }", "{ on = 2027-10-04, by = \"qrc\" }"]))
    }),
    ("done-after-issue", "places.toml", "visited-on = ", |_, _, _, dice| {
        to("visited-on", dice.pick(&["2026-11-21", "2027-08-22", "2062-09-14"]))
    }),
    ("position-far-away", "places.toml", "position = ", |line, _, _, dice| match dice.below(3) {
        0 => Replaced(line.replace(", -", ", ")),
        1 => Replaced(line.replace("\"4", "\"-4")),
        _ => Replaced(line.replace("-109.", "-10.")),
    }),
    ("duplicate-name", "places.toml", "code = ", |line, _, _, dice| {
        let other = dice.pick(&["\"ALD\"", "\"wil\"", "\"OPS\""]);
        if line.to_lowercase().contains(&other.to_lowercase()) { Spared } else { to("code", other) }
    }),
    ("duplicate-call-sign", "leads.toml", "call = ", |line, _, _, dice| {
        let other = dice.pick(&["\"WZ7QRA\"", "\"WZ7QRG\"", "\"wz7qri\"", "\"WZ7QRC-7\""]);
        let is_own = line.contains(other.trim_matches('"').get(..6).unwrap());
        if is_own { Spared } else { to("call", other) }
    }),
    ("phone-of-two-members", "leads.toml", "phone = [{", |line, _, _, dice| {
        let (head, rest) = line.split_once("+1 406 555 0").unwrap();
        let other = dice.pick(&["406-555-0110", "+1 406 555 0112", "(406) 555 0113"]);
        Replaced(format!("{head}{other}{}", rest.get(3..).unwrap()))
    }),
    ("authority-ends-before-duty", "leads.toml", "expires = ", |_, lines, at, dice| match above(lines, at, "id") {
        "qrf" => Spared,
        _ => to("expires", dice.pick(&["2026-12-01", "2027-01-15", "2027-01-16"])),
    }),
    ("duty-without-rest", "nets.toml", "member = ", |_, lines, at, _| {
        let is_night = lines[at + 1].contains("2027-01-16 18:00");
        let day = lines[..at].iter().rev().find(|line| line.starts_with("member = "));
        match day {
            Some(day) if is_night => Replaced(day.clone()),
            _ => Spared,
        }
    }),
    ("period-outside-edition", "plan.toml", "from = ", |_, _, _, dice| {
        to("from", dice.pick(&["\"2026-11-30 23:59\"", "\"2026-11-28 06:00\"", "\"2025-01-16 06:00\""]))
    }),
    ("period-outside-edition", "plan.toml", "to = ", |_, _, _, dice| {
        to("to", dice.pick(&["\"2027-06-02 00:01\"", "\"2027-07-17 18:00\"", "\"2028-01-17 18:00\""]))
    }),
    ("next-is-own-channel", "channels.toml", "next = ", |_, lines, at, _| {
        to("next", &format!("\"{}\"", above(lines, at, "id")))
    }),
    ("trigger-contradicts-row", "nets.toml", "trigger = ", |line, _, _, dice| {
        let other = dice.pick(&["MESA 1", "mesa 1", "Mesa Repeater"]);
        Replaced(format!("{}: go to {other}\"", line.strip_suffix('"').unwrap()))
    }),
    // Added at the end, so that the dice fall as before for all others.
    ("antenna-duplicate", "places.toml", "antenna = [{ id = \"roof-2m\"", |line, _, _, dice| {
        let kind = dice.pick(&["vertical", "dipole", "beam"]);
        Replaced(line.replace("}]", &format!("}}, {{ id = \"roof-2m\", kind = \"{kind}\" }}]")))
    }),
    ("name-is-proword", "channels.toml", "name = ", |_, _, _, dice| {
        to("name", dice.pick(&["\"PAN-PAN 5\"", "\"SOS\"", "\"PANPAN\""]))
    }),
    ("duplicate-name", "channels.toml", "name = ", |line, _, _, dice| {
        // The name whose twin is planted must still stand elsewhere.
        if ["CMD 1", "TAC 1", "TAC 3"].iter().any(|own| line.contains(own)) {
            return Spared;
        }
        to("name", dice.pick(&["\"CMD l\"", "\"CMD  1\"", "\"\u{421}MD 1\"", "\"TAC I\"", "\"\u{ff34}AC 3\""]))
    }),
    ("transmit-denial-unclear", "places.toml", "transmit = ", |line, _, _, dice| {
        let (before, rest) = line.split_once("allowed = \"").unwrap();
        let (_, after) = rest.split_once('"').unwrap();
        Replaced(format!("{before}allowed = \"{}\"{after}", dice.pick(&["none", "not allowed", "Nowhere inside"])))
    }),
    ("region-unknown", "places.toml", "tactical = ", |_, _, _, dice| {
        Followed(format!("region = \"{}\"", dice.pick(&["Montana", "US-XX", "us-mt", "MT"])))
    }),
    ("service-unknown", "channels.toml", "service = ", |line, _, _, dice| match dice.below(2) {
        0 => Replaced(line.to_uppercase().replace("SERVICE", "service")),
        _ => Replaced(line.replacen("= \"", "= \"x", 1)),
    }),
    ("channel-contradicts-standard", "channels.toml", "standard = ", |_, _, _, dice| {
        Followed(dice.pick(&["simplex = \"462.5875 MHz\"", "service = \"gmrs\"", "tx = \"467.6625 MHz\""]).to_owned())
    }),
    ("standard-unknown", "channels.toml", "standard = ", |_, _, _, dice| {
        to("standard", dice.pick(&["\"FRS 33\"", "\"FSR 5\"", "\"Block Five\""]))
    }),
    ("heard-beside-channel", "channels.toml", "rx = \"162.", |_, _, _, dice| {
        to("rx", dice.pick(&["\"162.557 MHz\"", "\"162.405 MHz\"", "\"162.650 MHz\""]))
    }),
    ("radio-not-approved", "radios.toml", "covers = [\"144 MHz to 148 MHz\", \"420", |line, _, _, dice| {
        Replaced(line.replace("450 MHz", dice.pick(&["468 MHz", "462.6 MHz", "512 MHz"])))
    }),
    ("panel-without-controller", "stations.toml", "from = \"sun-controller\"", |_, _, _, _| to("from", "\"panel\"")),
    ("too-many-nights", "more.toml", "member = \"mesa-op\"", |_, lines, at, _| match above(lines, at, "post") {
        "night-4" => to("member", "\"night-op\""),
        _ => Spared,
    }),
    ("too-many-nights", "more.toml", "longest = ", |_, _, _, dice| {
        Followed(dice.pick(&["nights = 1", "nights = 2"]).to_owned())
    }),
    ("handover-too-short", "more.toml", "longest = ", |_, _, _, dice| {
        Followed(dice.pick(&["handover = \"15 min\"", "handover = \"1 min\"", "handover = \"2 h\""]).to_owned())
    }),
];

type Files = BTreeMap<String, Vec<String>>;

/// The law of the county's country, with a word that its own rules forbid.
const PROFILE: &str = r#"
[profile]
id = "county"
base = "us"
name = "County"
rule-set = "47 CFR Part 97, for this test"
source = "invented"
confidence = "invented"
forbidden = ["MAYDAY"]
"#;

const MORE: &str = r#"
[duty-limits]
longest = "16 h"
[[member]]
id = "night-op"
call = "WZ7QUF"
name = "Rolf Ames"
class = "general"
expires = 2030-04-01
phone = [{ number = "+1 406 555 0152", audience = "team", confirmed = 2026-10-01 }]
confirmed = 2026-10-01
[[neighbour]]
name = "Birch"
output = "223.000 MHz"
[[pool]]
id = "spare"
frequencies = ["146.430 MHz"]
[[link]]
id = "dock"
call = "WZ7QUA"
joins = ["cmd-1", "med-4"]
[[link]]
id = "yard"
call = "WZ7QUA"
joins = ["med-1", "tac-3"]
[[repeater]]
id = "twin"
call = "WZ7QUB"
output = "147.060 MHz"
input = "146.340 MHz"
tone-in = "167.9 Hz"
tone-out = "off"
verified = { on = 2026-10-04, by = "qsb" }
[[place]]
id = "mesa"
code = "MSA"
tactical = "Mesa Site"
kind = "repeater-site"
position = "32.5, -106.5"
region = "US-NM"
visited-on = 2026-10-04
[[repeater]]
id = "mesa-high"
call = "WZ7QUC"
place = "mesa"
output = "224.100 MHz"
input = "-1.6 MHz"
tone-in = "100.0 Hz"
tone-out = "off"
verified = { on = 2026-10-04, by = "qsb" }
[[place]]
id = "ridge"
code = "RDG"
tactical = "Ridge Site"
kind = "repeater-site"
visited-on = 2026-10-04
[[repeater]]
id = "ridge-high"
call = "WZ7QUD"
place = "ridge"
output = "224.500 MHz"
input = "-1.6 MHz"
tone-in = "100.0 Hz"
tone-out = "off"
verified = { on = 2026-10-04, by = "qsb" }
[[place]]
id = "line"
code = "LIN"
tactical = "Line Site"
kind = "repeater-site"
position = "48.1, -109.5"
visited-on = 2026-10-04
[[repeater]]
id = "line-high"
call = "WZ7QUE"
place = "line"
output = "224.900 MHz"
input = "-1.6 MHz"
tone-in = "100.0 Hz"
tone-out = "off"
verified = { on = 2026-10-04, by = "qsb" }
[[channel]]
id = "hf-10"
row = 40
name = "HF 10"
spoken = "Upper Ten"
dial = "28350.0 kHz"
side = "USB"
power = "100 W"
verified = { on = 2026-10-04, by = "qsb" }
[[net]]
id = "first-watch"
name = "First watch"
spoken = "First Watch"
primary = "tac-4"
[[net]]
id = "second-watch"
name = "Second watch"
spoken = "Second Watch"
primary = "mesa-1"
alternate = "tac-2"
rejoin = "listen on MESA 1 at each full hour"
[[channel]]
id = "mesa-1"
row = 41
name = "MESA 1"
spoken = "Mesa Repeater"
repeater = "mesa-high"
[[net]]
id = "mesa"
name = "Mesa net"
spoken = "Mesa Watch"
primary = "tac-2"
control = "mesa-desk"
[[post]]
id = "mesa-desk"
name = "Mesa desk"
from = "2027-01-16 06:00"
to = "2027-01-16 22:00"
[[duty]]
post = "mesa-desk"
member = "mesa-op"
from = "2027-01-16 06:00"
to = "2027-01-16 22:00"
[[member]]
id = "mesa-op"
call = "WZ7QUE"
name = "Lena Brandt"
class = "general"
expires = 2030-04-01
phone = [{ number = "+1 406 555 0151", audience = "team", confirmed = 2026-10-01 }]
confirmed = 2026-10-01
[[accept]]
finding = "unusual-shift"
on = ["repeater/twin"]
says = "repeater Twin has its input -720 kHz from 147.060 MHz, where +600 kHz is usual"
reason = "the twin shares an input, so that a fault with tones can be planted"
by = "qsb"
until = 2027-01-01
[[accept]]
finding = "channels-overlap"
on = ["repeater/twin", "channel/cmd-1"]
says = "repeater Twin (146.332 MHz to 146.348 MHz) and channel CMD 1 (146.332 MHz to 146.348 MHz) overlap"
reason = "the same"
by = "qsb"
until = 2027-01-01
"#;

#[expect(clippy::disallowed_methods, reason = "a test reads the plan that it mutates")]
fn county() -> Files {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-plans/sorrel-river");
    let names = [
        "plan.toml",
        "repeaters.toml",
        "channels.toml",
        "places.toml",
        "leads.toml",
        "people.csv",
        "radios.toml",
        "nets.toml",
        "documents.toml",
        "agreements.toml",
        "accepted.toml",
        "stations.toml",
        "forms/hospital-status.toml",
        "forms/shelter-count.toml",
    ];
    let read = |name: &str| std::fs::read_to_string(root.join(name)).unwrap().lines().map(str::to_owned).collect();
    let mut files: Files = names.into_iter().map(|name| (name.to_owned(), read(name))).collect();
    // What the county does not need for itself, and what some faults start from; nothing of it is one.
    let mut more = MORE.to_owned();
    for post in 0..25 {
        let net = if post < 20 { "first-watch" } else { "second-watch" };
        more += &format!("[[post]]\nid = \"watch-{post}\"\nname = \"Watch {post}\"\nnets = [\"{net}\"]\n");
        // Not stood in this incident.
        more += "from = \"2027-02-01 06:00\"\nto = \"2027-02-01 18:00\"\n";
    }
    // Three nights of one member, which are as many as may be; two of another.
    for night in 1..=5 {
        let (from, to) = (format!("2027-01-{} 22:00", 17 + night), format!("2027-01-{} 05:00", 18 + night));
        let (member, when) =
            (if night <= 3 { "night-op" } else { "mesa-op" }, format!("from = \"{from}\"\nto = \"{to}\"\n"));
        more += &format!("[[post]]\nid = \"night-{night}\"\nname = \"Night {night}\"\n{when}");
        more += &format!("[[duty]]\npost = \"night-{night}\"\nmember = \"{member}\"\n{when}");
    }
    files.insert("more.toml".to_owned(), more.lines().map(str::to_owned).collect());
    files.insert("county.toml".to_owned(), PROFILE.lines().map(str::to_owned).collect());
    for line in files.get_mut("plan.toml").unwrap() {
        *line = line.replace("\"agreements.toml\",", "\"agreements.toml\", \"more.toml\",");
        *line = line.replace("profile = \"us\"", "profile = \"county.toml\"");
    }
    files
}

fn checked(files: &Files) -> Outcome {
    let shelf = files.iter().fold(Shelf::new(), |shelf, (name, lines)| shelf.with(name, lines.join("\n") + "\n"));
    fieldsheaf::check_plan(&shelf, "plan.toml").unwrap()
}

/// Plants one fault; gives the line at which it must be found, counted from 1.
fn planted(files: &mut Files, kind: &Kind, dice: &mut Dice) -> Option<usize> {
    let (_, file, start, change) = kind;
    let lines = files.get_mut(*file).unwrap();
    // A row of another service has rules of its own.
    let is_of_service = |at: usize| {
        let from = lines[..=at].iter().rposition(|line| line.starts_with("[[")).unwrap_or(0);
        lines[from..]
            .iter()
            .skip(1)
            .take_while(|line| !line.starts_with("[["))
            .any(|line| line == "service = \"frs\"" || line == "service = \"interop\"")
    };
    let asks_service = kind.0.starts_with("service-") || kind.0 == "standard-name-differs";
    let is_own = |at: &usize| {
        let is_meant = *file != "channels.toml" || is_of_service(*at) == asks_service;
        lines[*at].starts_with(start) && is_meant
    };
    let places: Vec<usize> = (0..lines.len()).filter(is_own).collect();
    assert!(!places.is_empty(), "no line of {file} begins with {start}");
    let at = places[dice.below(places.len())];
    match change(&lines[at].clone(), lines, at, dice) {
        Replaced(line) => {
            assert_ne!(lines[at], line, "nothing was changed");
            lines[at] = line;
            Some(at + 1)
        }
        Followed(line) => {
            lines.insert(at + 1, line);
            Some(at + 2)
        }
        Gone(up) => {
            lines.remove(at);
            Some(at + 1 - up)
        }
        Spared => None,
    }
}

/// Whether a finding of the rule points at the line, with its first or a further place.
fn is_found(outcome: &Outcome, rule: &str, file: &str, line: usize) -> bool {
    let stands = |span: Span| outcome.files.place(span).is_some_and(|(name, at, _)| name == file && at == line);
    let of_rule = outcome.findings.iter().filter(|finding| finding.rule.name == rule);
    of_rule.into_iter().any(|finding| stands(finding.span) || finding.related.iter().any(|place| stands(place.span)))
}

/// A county with one fault, and where it must be found.
struct Planted {
    kind: &'static Kind,
    files: Files,
    line: usize,
}

/// Every planted fault is found by the right rule at the right line. What else it makes the program say is committed, rule by rule, so that
/// a rule which speaks of another's fault is noticed: `BLESS=1 cargo test --test it mutations` renews it.
#[test]
fn every_planted_fault_is_found_by_the_right_rule_at_the_right_line() {
    let clean = county();
    let asks = |finding: &&Finding| finding.waived.is_none() && finding.severity() != Severity::Note;
    let outcome = checked(&clean);
    let open: Vec<String> =
        outcome.findings.iter().filter(asks).map(|f| format!("{}: {}", f.rule.name, f.message)).collect();
    assert!(open.is_empty(), "the county itself is not clean: {open:#?}");
    let mut dice = Dice(2026);
    let mut all = Vec::new();
    for kind in KINDS {
        let mut done = 0;
        for _ in 0..RUNS * 10 {
            if done == RUNS {
                break;
            }
            let mut files = clean.clone();
            let Some(line) = planted(&mut files, kind, &mut dice) else { continue };
            done += 1;
            all.push(Planted { kind, files, line });
        }
    }
    let judged = |Planted { kind, files, line }: &Planted| {
        let outcome = checked(files);
        let others: BTreeSet<&str> =
            outcome.findings.iter().filter(asks).map(|f| f.rule.name).filter(|rule| *rule != kind.0).collect();
        let place = |f: &Finding| format!("{} {:?}", f.rule.name, outcome.files.place(f.span));
        let missed = (!is_found(&outcome, kind.0, kind.1, *line)).then(|| {
            let said: Vec<String> = outcome.findings.iter().map(place).collect();
            format!("{} at {}:{line} `{}`: {said:?}", kind.0, kind.1, files[kind.1][line - 1])
        });
        (kind.0, others, missed)
    };
    let judged: Vec<_> = all.par_iter().map(judged).collect();
    let kinds: BTreeSet<&str> = judged.iter().map(|(rule, ..)| *rule).collect();
    let total = judged.len();
    assert!(kinds.len() >= 60 && total >= 60 * RUNS, "{} rules, {total} faults", kinds.len());
    let missed: Vec<&String> = judged.iter().filter_map(|(.., missed)| missed.as_ref()).collect();
    assert!(missed.is_empty(), "{} of {total} missed:\n{missed:#?}", missed.len());
    let mut also: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    for (rule, others, _) in &judged {
        others.iter().for_each(|other| *also.entry((rule, other)).or_default() += 1);
    }
    let planted = |rule: &str| judged.iter().filter(|(of, ..)| *of == rule).count();
    let lines =
        also.iter().map(|((rule, other), count)| format!("{rule}: {count} of {} also {other}\n", planted(rule)));
    crate::support::golden::compare(
        "tests/demo",
        "planted.txt",
        &BTreeMap::from([("planted.txt".to_owned(), lines.collect())]),
    );
}

/// A fault of each kind, mended by what its finding proposes: the finding is gone, and nothing new came in the whole county.
#[test]
fn what_a_finding_proposes_mends_the_county() {
    let clean = county();
    let asks = |finding: &&Finding| finding.waived.is_none() && finding.severity() != Severity::Note;
    let counts = |outcome: &Outcome| {
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        outcome.findings.iter().filter(asks).for_each(|finding| *counts.entry(finding.rule.name).or_default() += 1);
        counts
    };
    let mut dice = Dice(7);
    let (mut tried, mut rules, mut faults) = (0, BTreeMap::new(), Vec::new());
    for kind in KINDS {
        let mut files = clean.clone();
        if (0..RUNS).all(|_| {
            files = clean.clone();
            planted(&mut files, kind, &mut dice).is_none()
        }) {
            continue;
        }
        let outcome = checked(&files);
        let before = counts(&outcome);
        for finding in outcome.findings.iter().filter(asks).filter(|finding| finding.rule.name == kind.0) {
            let Some(fix) = &finding.fix else { continue };
            let file = outcome.files.get(fix.span.file).unwrap();
            let mut text = file.text.to_string();
            text.replace_range(fix.span.start as usize..fix.span.end as usize, &fix.text);
            let mut mended = files.clone();
            mended.insert(file.name.clone(), text.lines().map(str::to_owned).collect());
            let after = counts(&checked(&mended));
            let most = |rule: &str| before.get(rule).copied().unwrap_or(0) - usize::from(rule == finding.rule.name);
            if let Some((rule, _)) = after.iter().find(|(rule, count)| **count > most(rule)) {
                faults.push(format!("{} mended by {}: {rule}", finding.message, fix.text));
            }
            tried += 1;
            *rules.entry(finding.rule.name).or_insert(0) += 1;
        }
    }
    assert!(faults.is_empty(), "{faults:#?}");
    assert!(tried >= 20 && rules.len() >= 15, "{tried} by {rules:?}");
}
