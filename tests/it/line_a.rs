//! Line A by value: points on both sides of it, states that settle it, and the way across it.

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::ground::{Position, Severity};
use fieldsheaf::reckon::{Spot, Within, within};
use fieldsheaf::tables::{LawArea, Tables};

fn area() -> &'static LawArea {
    let us = Tables::built_in().profile("us").unwrap();
    &us.exclusions.iter().find(|row| row.area.north_of.is_some()).unwrap().area
}

fn at(text: &str) -> Within {
    let position = Position::parse(text).unwrap();
    within(area(), &Spot { position: Some(&position), region: Some("US-MT"), name: None })
}

/// Five points worked out with the published definition; the others are cities, their coordinates from memory.
#[test]
fn places_lie_on_the_side_on_which_they_are_known_to_lie() {
    let north = [
        "48.5, -100.0",
        "47.6, -122.3",
        "42.3, -83.0",
        "47.6062, -122.3321", // Seattle
        "42.3314, -83.0458",  // Detroit
        "41.4993, -81.6944",  // Cleveland
        "42.8864, -78.8784",  // Buffalo
        "44.4759, -73.2121",  // Burlington, Vermont
        "44.9060, -66.9900",  // Eastport, Maine: beyond the end of the line
    ];
    let south = [
        "47.5, -100.0",
        "40.9, -83.0",
        "47.2529, -122.4443", // Tacoma
        "41.8781, -87.6298",  // Chicago
        "40.4406, -79.9959",  // Pittsburgh
        "42.6526, -73.7562",  // Albany
        "43.6591, -70.2568",  // Portland, Maine
        "21.3069, -157.8583", // Honolulu
    ];
    assert_eq!(north.map(at), north.map(|_| Within::Yes));
    assert_eq!(south.map(at), south.map(|_| Within::No));
    assert_eq!(at("61.2181, -149.9003"), Within::Unknown, "Anchorage: the line does not reach there");
}

#[test]
fn a_state_that_lies_wholly_south_settles_it() {
    let by = |region| within(area(), &Spot { position: None, region, name: None });
    assert_eq!([by(Some("US-TX")), by(Some("US-OR")), by(Some("US-MA"))], [Within::No; 3]);
    assert_eq!([by(Some("US-MT")), by(Some("US-AK")), by(None)], [Within::Unknown; 3]);
}

/// Along meridians, from 6 km south of the line to 6 km north of it in steps of 100 m: south, near, north, and near no longer
/// than 4 km, unless the line runs askew to the way.
#[test]
fn crossing_the_line_flips_the_verdict_within_four_kilometres() {
    // On the parallels of 48 and 41 degrees the way is square to the line.
    for (latitude, longitudes) in [(48.0, -119..-96), (41.0, -84..-83)] {
        for longitude in longitudes {
            let step = 0.1 / 111.195;
            let walk: Vec<Within> =
                (-60..=60).map(|n| at(&format!("{:.6}, {longitude}", latitude + f64::from(n) * step))).collect();
            assert!(walk.is_sorted(), "{longitude}: {walk:?}");
            let near = walk.iter().filter(|side| **side == Within::Near).count();
            assert!((39..=41).contains(&near), "{longitude}: {near}");
            assert_eq!((walk[0], walk[120]), (Within::No, Within::Yes));
        }
    }
}

fn findings(place: &str) -> Vec<(String, Severity, String)> {
    let channel = "[[channel]]\nid = \"tac\"\nrow = 2\nname = \"TAC 1\"\nspoken = \"Tactical One\"\nsimplex = \"425.000 MHz\"\n\
                   verified = { on = 2026-10-01, by = \"qra\" }\n";
    let place = format!(
        "[[place]]\nid = \"hq\"\ncode = \"HQ\"\ntactical = \"Headquarters\"\nkind = \"other\"\nvisited-on = 2026-10-04\n\
         monitors = [\"tac\"]\n{place}\n"
    );
    let world = Shelf::new().with("plan.toml", format!("{HEAD}{channel}{place}"));
    let outcome = fieldsheaf::check_plan(&world, "plan.toml").unwrap();
    let of_area =
        outcome.findings.iter().filter(|finding| ["excluded-area", "area-unproved"].contains(&finding.rule.name));
    of_area.map(|f| (f.rule.name.to_owned(), f.severity(), f.message.clone())).collect()
}

#[test]
fn an_error_north_a_warning_near_nothing_south() {
    let of = |rule: &str, severity, message: &str| vec![(rule.to_owned(), severity, message.to_owned())];
    let north = "channel TAC 1 sends on 425.000 MHz, where nobody may transmit from the area north of Line A";
    let near = "channel TAC 1 sends on 425.000 MHz: in the area north of Line A nobody may transmit there, and the place \
                Headquarters stands 1.112 km from its line, too near to be sure of the side";
    let error = of("excluded-area", Severity::Error, north);
    assert_eq!(findings("position = \"48.02, -110\""), error, "2.2 km north");
    assert_eq!(findings("position = \"48.01, -110\""), of("area-unproved", Severity::Warning, near), "1.1 km north");
    assert_eq!(findings("position = \"47.98, -110\""), Vec::new(), "2.2 km south");
    assert_eq!(findings("region = \"US-KS\""), Vec::new());
    assert_eq!(findings("region = \"US-MT\"")[0].0, "area-unproved");
}

/// A plan with a shelter in the south that monitors 425 MHz, and a place of another kind at 48.5 degrees north.
fn two_places(kind: &str, monitors: &str, more: &str) -> Vec<(String, String)> {
    let place = |id: &str, at: &str, kind: &str, monitors: &str| {
        format!(
            "[[place]]\nid = \"{id}\"\ncode = \"{}\"\ntactical = \"{id} house\"\nkind = \"{kind}\"\nposition = \"{at}, -110\"\n\
             visited-on = 2026-10-04\n{monitors}\n",
            id[..3].to_uppercase()
        )
    };
    let places = place("south", "47.0", "shelter", monitors) + &place("north", "48.5", kind, "");
    let head = HEAD.replace("time-zone", "region = \"US-MT\"\ntime-zone");
    let world = Shelf::new().with("plan.toml", format!("{head}{places}{more}"));
    let outcome = fieldsheaf::check_plan(&world, "plan.toml").unwrap();
    let errors = outcome.findings.iter().filter(|finding| finding.is_error());
    errors
        .map(|f| (f.message.clone(), f.note.clone().unwrap_or_default().split(';').next().unwrap().to_owned()))
        .collect()
}

const TACTICAL: &str = "[[channel]]\nid = \"tac\"\nrow = 2\nname = \"TAC 1\"\nspoken = \"Tactical One\"\nsimplex = \"425.000 MHz\"\n\
                        verified = { on = 2026-10-01, by = \"qra\" }\n[[channel]]\nid = \"two\"\nrow = 3\nname = \"TWO\"\n\
                        spoken = \"Second\"\nsimplex = \"146.550 MHz\"\nverified = { on = 2026-10-01, by = \"qra\" }\n";
const NET: &str = "[[net]]\nid = \"n\"\nname = \"N\"\nspoken = \"November\"\nprimary = \"tac\"\nrejoin = \"TAC 1\"\n";

/// 48.5 degrees lie 55 km north of the line at 48 degrees; who monitors the channel in the south takes nothing away from that.
#[test]
fn a_channel_is_judged_wherever_it_is_worked_controlled_or_linked() {
    let monitors = "monitors = [\"tac\"]";
    let post = "[[post]]\nid = \"po\"\nname = \"Po\"\nplace = \"north\"\n";
    let link =
        "[[link]]\nid = \"l\"\ncall = \"WZ7QUX\"\nplace = \"north\"\njoins = [\"tac\", \"two\"]\npower = \"50 W\"\n";
    let what = "channel TAC 1 sends on 425.000 MHz, where nobody may transmit from the area north of Line A";
    let found = vec![(what.to_owned(), "the place north house lies in it, 55 km beyond the line".to_owned())];
    let works = format!("{TACTICAL}{NET}{post}nets = [\"n\"]\n");
    assert_eq!(two_places("shelter", monitors, &works), found, "a post works it");
    assert_eq!(two_places("repeater-site", monitors, &works), found, "a post at a repeater site works it");
    let controls = format!("{TACTICAL}{NET}control = \"po\"\n{post}");
    assert_eq!(two_places("shelter", monitors, &controls), found, "a post controls a net of it");
    assert_eq!(two_places("repeater-site", monitors, &format!("{TACTICAL}{link}")), found, "a link joins it");
    assert_eq!(
        two_places("repeater-site", "", &format!("{TACTICAL}{link}")),
        found,
        "a link joins it, nobody monitors it"
    );
    assert_eq!(two_places("shelter", monitors, TACTICAL), [], "worked in the south alone");
    assert_eq!(two_places("shelter", "", TACTICAL), found, "nobody says where it is worked");
}

/// People send on a gateway's frequency with radios of their own.
#[test]
fn a_gateway_is_judged_where_it_stands_and_where_it_is_called_from() {
    let gateway = "[[gateway]]\nid = \"box\"\ncall = \"WZ7QUM-1\"\nname = \"Box\"\nplace = \"south\"\nfrequency = \"425.000 MHz\"\n\
                   speed = \"1200 baud\"\nneeds-internet = false\ncontrol = \"attended\"\nverified = { on = 2026-10-01, by = \"qra\" }\n[[channel]]\nid = \"tac\"\nrow = 2\n\
                   name = \"PKT 1\"\nspoken = \"Packet One\"\ngateway = \"box\"\n";
    let post = "[[post]]\nid = \"po\"\nname = \"Po\"\nplace = \"north\"\nnets = [\"n\"]\n";
    let what = "gateway Box sends on 425.000 MHz, where nobody may transmit from the area north of Line A";
    let note = "the place north house lies in it, 55 km beyond the line";
    let called = format!("{gateway}{NET}{post}");
    assert_eq!(two_places("shelter", "monitors = [\"tac\"]", &called), [(what.to_owned(), note.to_owned())]);
    assert_eq!(two_places("shelter", "monitors = [\"tac\"]", gateway), []);
}

/// 50 W are the most in New Mexico between 420 and 450 MHz; the shelter that monitors the channel stands in Montana.
#[test]
fn a_limit_of_a_state_binds_the_posts_there() {
    let limit = |region: &str| {
        let place = |id: &str, more: &str| {
            let code = id.to_uppercase();
            format!(
                "[[place]]\nid = \"{id}\"\ncode = \"{code}\"\ntactical = \"{code}\"\nkind = \"shelter\"\nposition = \"33.0, -106.0\"\n{more}\n"
            )
        };
        let places =
            place("one", "region = \"US-MT\"\nmonitors = [\"tac\"]") + &place("two", &format!("region = \"{region}\""));
        let post = "[[post]]\nid = \"po\"\nname = \"Po\"\nplace = \"two\"\nnets = [\"n\"]\n";
        let tactical = TACTICAL.replace("\"425.000 MHz\"", "\"446.050 MHz\"\npower = \"100 W\"");
        let world = Shelf::new().with("plan.toml", format!("{HEAD}{places}{tactical}{NET}{post}"));
        let outcome = fieldsheaf::check_plan(&world, "plan.toml").unwrap();
        let errors = outcome.findings.iter().filter(|finding| finding.is_error());
        errors.map(|finding| finding.message.clone()).collect::<Vec<_>>()
    };
    let what = "channel TAC 1 allows 100 W on 446.050 MHz, over the limit of 50 W transmitter output in New Mexico";
    assert_eq!(limit("US-NM"), [what]);
    assert_eq!(limit("US-MT"), Vec::<String>::new());
}
