//! Other services, areas, call signs and codes against published lists: whole plans, checked as a user's would be.

use crate::support::shelf::{Shelf, head};
use fieldsheaf::ground::{CallSign, Tone};
use fieldsheaf::tables::Tables;
use std::collections::BTreeMap;
use std::fmt::Write;

const SERVICES: &str = include_str!("../refs/us_other_services.csv");
const AREAS: &str = include_str!("../refs/us270_areas.csv");
const INVERSES: &str = include_str!("../refs/dcs-inverse.toml");

/// A head of Maine with a licence and what follows.
fn maine() -> String {
    head(&[("time-zone = \"America/Denver\"", "region = \"US-ME\"\ntime-zone = \"America/New_York\"")]) + PEOPLE
}

const PEOPLE: &str = r#"licence = [{ service = "gmrs", call = "WQAA000", expires = 2030-01-01 }]
[[agreement]]
id = "sheriff"
with = "County Sheriff"
service = "interop"
signed = 2026-01-01
expires = 2030-01-01
"#;

/// Rule names with the number of their findings.
fn raised(text: &str) -> BTreeMap<String, usize> {
    let outcome = fieldsheaf::check_plan(&Shelf::new().with("plan.toml", text), "plan.toml").unwrap();
    let mut names = BTreeMap::new();
    for finding in outcome.findings.iter() {
        *names.entry(finding.rule.name.to_owned()).or_insert(0) += 1;
    }
    names
}

fn count(names: &BTreeMap<String, usize>, rule: &str) -> usize {
    names.get(rule).copied().unwrap_or(0)
}

struct Row<'a> {
    service: &'a str,
    hear: u64,
    send: u64,
    mode: &'a str,
    width: u64,
    power: u64,
}

fn rows() -> Vec<Row<'static>> {
    let lines = SERVICES.lines().filter(|line| !line.starts_with('#')).skip(1);
    let row = |line: &'static str| {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |at: usize| cells[at].parse().unwrap();
        Row { service: cells[0], hear: number(2), send: number(3), mode: cells[4], width: number(5), power: number(6) }
    };
    lines.map(row).collect()
}

/// All channels as a plan, each a little changed by `change`: shift in hertz, width and power.
fn plan_of(rows: &[Row<'_>], change: impl Fn(&Row<'_>) -> (u64, u64, u64)) -> String {
    let mut text = maine();
    for (index, row) in rows.iter().enumerate() {
        let (shift, width, power) = change(row);
        let (hear, send) = (row.hear + shift, row.send + shift);
        write!(
            text,
            "[[channel]]\nid = \"c-{index}\"\nrow = {}\nname = \"C {index}\"\nspoken = \"Channel {index}\"\n",
            index + 1
        )
        .unwrap();
        write!(text, "service = \"{}\"\nmode = \"{}\"\nwidth = \"{width} Hz\"\n", row.service, row.mode).unwrap();
        if hear == send {
            writeln!(text, "simplex = \"{hear} Hz\"").unwrap();
        } else {
            writeln!(text, "rx = \"{hear} Hz\"\ntx = \"{send} Hz\"").unwrap();
        }
        if power > 0 {
            writeln!(text, "power = \"{power} mW\"").unwrap();
        }
    }
    text
}

#[test]
fn every_listed_channel_may_be_used_at_its_limits() {
    let rows = rows();
    assert_eq!(rows.len(), 160);
    let names = raised(&plan_of(&rows, |row| (0, row.width, row.power)));
    for rule in [
        "service-channel-unknown",
        "service-limit-exceeded",
        "service-row-unproved",
        "transmit-not-checked",
        "no-member-may-send",
    ] {
        assert_eq!(count(&names, rule), 0, "{rule}");
    }
}

#[test]
fn a_step_beside_a_channel_is_no_channel() {
    let rows = rows();
    let names = raised(&plan_of(&rows, |row| (1250, row.width, row.power)));
    assert_eq!(count(&names, "service-channel-unknown"), rows.len());
}

#[test]
fn a_hertz_wider_or_a_milliwatt_more_is_too_much() {
    let rows = rows();
    let names = raised(&plan_of(&rows, |row| (0, row.width + 1, row.power)));
    // Widths of GMRS and MURS are from memory.
    let unproved = rows.iter().filter(|row| ["gmrs", "murs"].contains(&row.service)).count();
    assert_eq!(count(&names, "service-row-unproved"), unproved);
    assert_eq!(count(&names, "service-limit-exceeded"), rows.len() - unproved);
    let limited = rows.iter().filter(|row| row.power > 0).count();
    let names = raised(&plan_of(&rows, |row| (0, row.width, if row.power > 0 { row.power + 1 } else { 0 })));
    assert_eq!(count(&names, "service-limit-exceeded"), limited);
}

#[test]
fn without_licence_or_agreement_only_frs_murs_and_cb_are_open() {
    let rows = rows();
    let text = plan_of(&rows, |row| (0, row.width, row.power));
    let bare = text.replace("licence = [{ service = \"gmrs\", call = \"WQAA000\", expires = 2030-01-01 }]\n", "");
    let gmrs = rows.iter().filter(|row| row.service == "gmrs").count();
    assert_eq!(count(&raised(&bare), "no-member-may-send"), gmrs);
    let ended = text.replace("signed = 2026-01-01\nexpires = 2030-01-01", "signed = 2025-01-01\nexpires = 2026-11-30");
    let interop = rows.iter().filter(|row| row.service == "interop").count();
    assert_eq!(count(&raised(&ended), "no-member-may-send"), interop);
    assert_eq!(count(&raised(&ended), "agreement-ended"), 1);
}

/// A 70 cm repeater of 100 W at a point, under the state of the plan.
fn at(latitude: f64, longitude: f64, region: &str) -> BTreeMap<String, usize> {
    let site = format!(
        "[[place]]\nid = \"site\"\ncode = \"SIT\"\ntactical = \"Site\"\nkind = \"repeater-site\"\nposition = \"{latitude:.4}, {longitude:.4}\"\n\
         visited-on = 2026-10-01\n[[repeater]]\nid = \"r\"\ncall = \"WZ7QUX\"\nplace = \"site\"\noutput = \"444.100 MHz\"\ninput = \"+5 MHz\"\n\
         tone-in = \"100.0 Hz\"\ntone-out = \"off\"\npower = \"100 W\"\nverified = {{ on = 2026-10-01, by = \"qra\" }}\n"
    );
    raised(&(maine().replace("US-ME", region) + &site))
}

/// 47 CFR 97.313(f): two kilometres inside and outside every circle, to the north and to the south (a degree is 111.195 km).
#[test]
fn the_circles_of_97_313_f_bind_inside_and_not_outside() {
    let mut circles = 0;
    for line in AREAS.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let cells: Vec<&str> = line.split(';').collect();
        let number = |at: usize| cells[at].parse::<f64>().unwrap();
        let (latitude, longitude, radius) = (number(1), number(2), number(3));
        for side in [1.0_f64, -1.0] {
            let away = |km: f64| at(side.mul_add(km / 111.195, latitude), longitude, "US-ME");
            assert_eq!(count(&away(radius - 2.0), "power-over-limit"), 1, "{line} inside");
            // Two of the circles overlap others; outside all of them nothing is left to say.
            let outside = count(&away(radius + 2.0), "power-over-limit");
            let is_in_another = ["Eglin", "Patrick", "Warner"].iter().any(|name| cells[0].contains(name));
            assert!(outside == 0 || is_in_another, "{line} outside");
        }
        circles += 1;
    }
    assert_eq!(circles, 9);
}

#[test]
fn states_and_parts_of_states_bind_by_region_and_position() {
    for (latitude, longitude, region, is_bound) in [
        (35.0, -111.0, "US-AZ", true),
        (35.0, -111.0, "US-UT", false),
        (37.1, -120.0, "US-CA", true),
        (37.3, -118.0, "US-CA", false),
        (37.1, -116.0, "US-NV", true),
        (31.0, -104.2, "US-TX", true),
        (31.0, -103.0, "US-TX", false),
    ] {
        let names = at(latitude, longitude, region);
        assert_eq!(count(&names, "power-over-limit") == 1, is_bound, "{latitude} {longitude} {region}");
    }
}

#[test]
fn dcs_codes_and_their_inverses_are_the_same_bits() {
    #[derive(serde::Deserialize)]
    struct Inverses {
        pairs: Vec<[String; 2]>,
    }
    let bits =
        |code: &str, turn: char| fieldsheaf::reckon::dcs_bits(Tone::parse(&format!("D{code}{turn}")).unwrap()).unwrap();
    let inverses: Inverses = toml::from_str(INVERSES).unwrap();
    assert_eq!(inverses.pairs.len(), 52);
    let mut seen = std::collections::BTreeSet::new();
    for [one, other] in &inverses.pairs {
        assert_eq!(bits(one, 'N'), bits(other, 'I'), "{one} {other}");
        assert_eq!(bits(one, 'I'), bits(other, 'N'), "{one} {other}");
        assert!(seen.insert(bits(one, 'N')) && seen.insert(bits(other, 'N')), "{one} {other} are two codes");
    }
    assert_eq!(seen.len(), 104);
}

/// Shapes from the FCC's description of its groups, from memory; closed ones from its list of call signs not available.
#[test]
fn call_signs_have_the_shapes_and_the_gaps_of_their_lists() {
    let us = Tables::built_in().profile("us").unwrap();
    let call = |text: &str| CallSign::parse(text).unwrap();
    let group = |text: &str| us.call_forms.iter().find(|form| form.fits(&call(text))).map(|form| form.name.as_str());
    for (text, expected) in [
        ("W1QR", Some("group A")),
        ("AA1Q", Some("group A")),
        ("AL7QR", Some("group A")),
        ("KA1QR", Some("group B")),
        ("N0QRA", Some("group C")),
        ("KD0QTC", Some("group D")),
        ("WZ7QRA", Some("group D")),
        ("K1Q", Some("special event")),
        ("NA7QRA", None),
        ("AM1QR", None),
        ("A1QRA", None),
        ("DL7QRA", None),
        ("G4QRA", None),
    ] {
        assert_eq!(group(text), expected, "{text}");
    }
    let is_closed = |text: &str| us.closed_calls.iter().any(|row| row.holds(&call(text)));
    for text in [
        "W1SOS", "KD0QRA", "W7QUZ", "KD0XAB", "WF1EMA", "AB1ABC", "NA1ABC", "WK1ABC", "KP6AB", "KP0A", "KA2AA",
        "KG4ZZ", "KC4USA",
    ] {
        assert!(is_closed(text), "{text}");
    }
    for text in ["W1SOT", "KD0QVA", "K1XAB", "WF1EMB", "AB1AB", "NA1AB", "WB1ABC", "KP4AB", "KA1AA", "KG4ABC", "KC4UTA"]
    {
        assert!(!is_closed(text), "{text}");
    }
}
