//! Products at a site against a checker that knows no shortcut, and neighbours from a file.

use crate::support::shelf::{Shelf, head};
use fieldsheaf::ground::{Frequency, Width};
use fieldsheaf::reckon::{Keying, Shape, SiteSignal, harmonics, products};
use proptest::collection::vec;
use proptest::prelude::{prop_assert_eq, proptest};
use std::collections::BTreeSet;

type Plain = (u64, u64, Option<usize>);

fn signal(&(at, width, owner): &Plain) -> SiteSignal {
    SiteSignal { at: Frequency::hertz(at).unwrap(), width: Width::hertz(width), owner }
}

/// Every product on every receiver, written down one by one as the definitions read.
fn naive(
    senders: &[Plain],
    receivers: &[Plain],
    apart: &dyn Fn(usize, usize) -> bool,
) -> BTreeSet<(usize, Shape, [usize; 3])> {
    let mut all: Vec<(Shape, [usize; 3], i64, u64)> = Vec::new();
    let at = |i: usize| i64::try_from(senders[i].0).unwrap();
    let wide = |i: usize| senders[i].1;
    for a in 0..senders.len() {
        for n in 2..=5_u8 {
            all.push((Shape::Harmonic(n), [a, a, a], i64::from(n) * at(a), u64::from(n) * wide(a)));
        }
        for b in (0..senders.len()).filter(|b| *b != a && !apart(a, *b)) {
            all.push((Shape::TwoThird, [a, b, b], 2 * at(a) - at(b), 2 * wide(a) + wide(b)));
            all.push((Shape::TwoFifth, [a, b, b], 3 * at(a) - 2 * at(b), 3 * wide(a) + 2 * wide(b)));
            for c in (0..senders.len()).filter(|c| *c != a && *c != b && a < b && !apart(a, *c) && !apart(b, *c)) {
                all.push((Shape::ThreeThird, [a, b, c], at(a) + at(b) - at(c), wide(a) + wide(b) + wide(c)));
            }
        }
    }
    let mut hits = BTreeSet::new();
    for (shape, of, product, product_width) in all {
        for (index, (middle, width, owner)) in receivers.iter().enumerate() {
            let is_own = owner.is_some() && of.iter().any(|sender| senders[*sender].2 == *owner);
            if !is_own && i64::try_from(*middle).unwrap().abs_diff(product) * 2 < product_width + width {
                hits.insert((index, shape, of));
            }
        }
    }
    hits
}

/// Third-order products that fall on a channel of the set, channels 25 kHz apart and as narrow as the grid.
fn third_order_hits(channels: &[u64]) -> usize {
    let set: Vec<SiteSignal> = channels.iter().map(|n| signal(&(150_000_000 + n * 25_000, 1, None))).collect();
    let hits = products(&set, &set, &Keying { apart: &|_, _| false, deaf: &|_, _| false });
    hits.kept.iter().filter(|hit| matches!(hit.shape, Shape::TwoThird | Shape::ThreeThird)).count()
}

#[derive(serde::Deserialize)]
struct FreeSets {
    set: Vec<FreeSet>,
}

#[derive(serde::Deserialize)]
struct FreeSet {
    length: u64,
    channels: Vec<u64>,
}

/// The published table of channel sets free of third-order products, recomputed: each set is free, with a channel more in the
/// middle of two it is not, and up to six channels no shorter set is free (all of them tried).
#[test]
fn the_published_sets_without_third_order_products_are_free_and_none_is_shorter() {
    let table: FreeSets = toml::from_str(include_str!("../refs/third-order-free.toml")).unwrap();
    assert_eq!(table.set.len(), 8);
    for row in &table.set {
        let (first, last) = (row.channels[0], *row.channels.last().unwrap());
        assert_eq!(last - first, row.length);
        assert_eq!(third_order_hits(&row.channels), 0, "{:?}", row.channels);
        // The middle of two channels that lie an even distance apart is hit by 2A - B.
        let pair = row.channels.windows(2).find(|pair| (pair[1] - pair[0]) % 2 == 0);
        if let Some(pair) = pair {
            let mut more = row.channels.clone();
            more.push(pair[0].midpoint(pair[1]));
            assert!(third_order_hits(&more) > 0, "{more:?}");
        }
    }
    let mut tried = 0;
    for row in table.set.iter().filter(|row| row.channels.len() <= 6) {
        let inner = row.channels.len() - 2;
        for length in (inner as u64 + 1)..row.length {
            // Every choice of the channels between the two ends, as bits.
            for bits in (0..1_u64 << (length - 1)).filter(|bits| bits.count_ones() as usize == inner) {
                let between = (1..length).filter(|at| bits >> (at - 1) & 1 == 1);
                let set: Vec<u64> = [0].into_iter().chain(between).chain([length]).collect();
                assert!(third_order_hits(&set) > 0, "{set:?} is shorter than the table's {}", row.length);
                tried += 1;
            }
        }
    }
    assert!(tried > 3000, "{tried} shorter sets");
}

/// A radio that links two channels sends and hears on both at its place: 3 x 147.450 = 442.350 falls on a repeater beside it.
#[test]
fn a_link_counts_among_what_sends_and_hears_at_its_place() {
    let text = r#"
[plan]
title = "Example plan"
short = "EXAMPLE"
team = "Example team"
profile = "us"
invented = true
time-zone = "America/Denver"
[[place]]
id = "yard"
code = "YRD"
tactical = "Yard"
kind = "repeater-site"
visited-on = 2026-10-04
other = [{ name = "Works", hears = "442.350 MHz" }]
[[channel]]
id = "near"
row = 1
name = "NEAR"
spoken = "Near"
simplex = "147.450 MHz"
[[channel]]
id = "far"
row = 2
name = "FAR"
spoken = "Far"
simplex = "223.500 MHz"
[[link]]
id = "link"
call = "WZ7QRA"
place = "yard"
joins = ["near", "far"]
"#;
    let harmonics = |text: &str| {
        let outcome = fieldsheaf::check_plan(&Shelf::new().with("plan.toml", text), "plan.toml").unwrap();
        outcome.findings.iter().filter(|finding| finding.rule.name == "harmonic-on-receiver").count()
    };
    assert_eq!(harmonics(text), 1);
    assert_eq!(harmonics(&text.replace("place = \"yard\"\n", "")), 0);
}

/// Two repeaters on one pair 150 km apart: still a warning, for hills are not known, but it says what the masts reach.
#[test]
fn the_radio_horizon_is_said_beside_a_collision_and_never_hides_one() {
    let station = |id: &str, call: &str, position: &str, height: &str| {
        format!(
            "[[place]]\nid = \"{id}\"\ncode = \"{id}\"\ntactical = \"{id} Site\"\nkind = \"repeater-site\"\n\
             position = \"{position}\"\nvisited-on = 2026-10-04\nantenna = [{{ id = \"top\", height = \"{height}\" }}]\n\
             [[repeater]]\nid = \"{id}\"\ncall = \"{call}\"\nplace = \"{id}\"\noutput = \"146.940 MHz\"\n\
             input = \"-600 kHz\"\ntone-in = \"100.0 Hz\"\ntone-out = \"off\"\n"
        )
    };
    let notes = |height: &str| {
        let head = "[plan]\ntitle = \"T\"\nshort = \"T\"\nteam = \"T\"\nprofile = \"us\"\ninvented = true\n\
                    time-zone = \"America/Denver\"\n";
        let text = head.to_owned()
            + &station("one", "WZ7QUX", "46.0, -109.0", height)
            + &station("two", "WZ7QUY", "47.35, -109.0", height);
        let outcome = fieldsheaf::check_plan(&Shelf::new().with("plan.toml", text), "plan.toml").unwrap();
        let overlaps: Vec<_> = outcome.findings.iter().filter(|f| f.rule.name == "channels-overlap").collect();
        assert_eq!(overlaps.len(), 1);
        overlaps[0].note.clone().unwrap_or_default()
    };
    // 4.12 x 2 x sqrt(30) = 45 km; 4.12 x 2 x sqrt(400) = 164 km.
    assert!(notes("30 m").contains("reach 45 km, and they stand 150 km apart"), "{}", notes("30 m"));
    assert!(!notes("400 m").contains("reach"), "{}", notes("400 m"));
}

proptest! {
    #[test]
    fn all_products_are_those_of_a_checker_without_shortcuts(
        senders in vec((144_000_u64..148_000, 1_u64..20, proptest::option::of(0_usize..4)), 0..9),
        receivers in vec((140_000_u64..450_000, 1_u64..20, proptest::option::of(0_usize..4)), 0..9),
        turns in proptest::option::of((0_usize..4, 0_usize..4)),
    ) {
        let hertz = |list: Vec<(u64, u64, Option<usize>)>| -> Vec<Plain> {
            list.into_iter().map(|(at, width, owner)| (at * 1000, width * 1000, owner)).collect()
        };
        let (senders, receivers) = (hertz(senders), hertz(receivers));
        let apart = |a: usize, b: usize| turns == Some((a, b)) || turns == Some((b, a));
        let signals = |list: &[Plain]| list.iter().map(signal).collect::<Vec<_>>();
        let (here, there) = (signals(&senders), signals(&receivers));
        let keying = Keying { apart: &apart, deaf: &|_, _| false };
        let (mixed, alone) = (products(&here, &there, &keying), harmonics(&here, &there, &keying));
        let found: Vec<_> = mixed.kept.iter().chain(&alone.kept).collect();
        let found_set: BTreeSet<_> = found.iter().map(|hit| (hit.receiver, hit.shape, hit.senders)).collect();
        prop_assert_eq!(mixed.count() + alone.count(), found_set.len());
        prop_assert_eq!(found_set, naive(&senders, &receivers, &apart));
    }
}

/// A head with a file of neighbours, and a channel.
fn plan() -> String {
    let neighbours = r#"neighbours = { file = "birch.csv", columns = { name = "Channel", team = "Team", output = "Sends", input = "Hears", tone-in = "Tone" } }"#;
    head(&[("[edition]", &format!("{neighbours}\n[edition]"))]) + CHANNEL
}

const CHANNEL: &str = r#"[[channel]]
id = "tac"
row = 1
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }
[[document]]
id = "card"
kind = "channel-card"
audience = "team"
"#;

/// Neighbours come from a file, count, and are on no sheet.
#[test]
fn neighbours_of_a_file_are_checked_against_and_never_printed() {
    let file = "Channel,Team,Sends,Hears,Tone\nBirch tactical,Birch County,146.555 MHz,,\nBirch hill,Birch County,146.760 MHz,-600 kHz,100.0 Hz\n";
    let world = Shelf::new().with("plan.toml", plan()).with("birch.csv", file);
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let found: Vec<&str> = outcome.findings.iter().map(|finding| finding.rule.name).collect();
    assert_eq!(found, ["neighbour-on-frequency"]);
    assert!(outcome.findings.iter().next().unwrap().message.contains("Birch tactical of Birch County"));
    let world = Shelf::new().with("plan.toml", plan()).with("birch.csv", file.replace("146.555 MHz", "146.430 MHz"));
    let (outcome, kit) = fieldsheaf::build(&world, "plan.toml", &fieldsheaf::Wanted::default(), &|_, _| ()).unwrap();
    assert_eq!(outcome.findings.iter().count(), 0);
    let jobs = fieldsheaf::jobs(&world, "plan.toml").unwrap();
    assert!(kit.is_some() && !format!("{jobs:?}").contains("Birch"));
    // A wrong value points into the file.
    let world = Shelf::new().with("plan.toml", plan()).with("birch.csv", file.replace("146.760 MHz", "146.76"));
    let outcome = fieldsheaf::check(&world, "plan.toml").unwrap();
    let faulty = outcome.findings.iter().find(|finding| finding.is_error()).unwrap();
    assert_eq!(
        outcome.files.place(faulty.span).map(|(name, line, _)| (name.to_owned(), line)),
        Some(("birch.csv".to_owned(), 3))
    );
}
