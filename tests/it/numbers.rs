//! The numbers of stations and paths over many random ones, against sums and formulas that are worked out here in another way, and how long
//! those of a whole state take.

#![allow(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::disallowed_methods,
    reason = "sums of a test are small and worked out in another way than the program's; one is timed"
)]

use crate::support::shelf::{HEAD, Shelf};
use fieldsheaf::ground::{Current, Day, Findings, Frequency, Gain, Gauge, Position, Power, Run, Share};
use fieldsheaf::plan::{Clock, Mode, Plan};
use fieldsheaf::reckon::{
    GeodesicWay, Radiated, Wiring, budgets, declination, drop, free_space_loss, returned, shares, sun,
};
use fieldsheaf::tables::Tables;
use serde::Deserialize;
use std::fmt::Write;

/// Numbers that look random and are the same on every run: Knuth's MMIX generator.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % limit
    }

    fn position(&mut self) -> Position {
        let degrees = |n: u64| i64::try_from(n).unwrap() - 89_000_000;
        let (lat, lon) = (degrees(self.below(178_000_000)), degrees(self.below(178_000_000)) * 2);
        let text = |micro: i64| {
            format!("{}{}.{:06}", if micro < 0 { "-" } else { "" }, micro.abs() / 1_000_000, micro.abs() % 1_000_000)
        };
        Position::parse(&format!("{}, {}", text(lat), text(lon))).unwrap()
    }
}

/// A part as it is written, in thousandths of amperes and volts.
struct Part {
    feeder: Option<usize>,
    kind: &'static str,
    currents: Option<[u64; 3]>,
    used: Option<u64>,
    voltage: Option<u64>,
    efficiency: Option<u64>,
}

/// A battery and up to twenty parts, each on one before it.
fn parts(dice: &mut Dice) -> Vec<Part> {
    let mut parts =
        vec![Part { feeder: None, kind: "battery", currents: None, used: None, voltage: None, efficiency: None }];
    for at in 1..=1 + dice.below(20) {
        let kinds = ["radio", "light", "computer", "distribution", "converter", "data-controller", "inverter"];
        let kind = kinds[usize::try_from(dice.below(7)).unwrap()];
        let feeders: Vec<usize> = (0..usize::try_from(at).unwrap())
            .filter(|of| ["battery", "distribution", "converter", "inverter"].contains(&parts[*of].kind))
            .collect();
        let feeder = feeders[usize::try_from(dice.below(feeders.len() as u64)).unwrap()];
        let makes = ["converter", "inverter"].contains(&kind);
        let idle = dice.below(900);
        let hears = idle + dice.below(900);
        let sends = hears + dice.below(9000);
        parts.push(Part {
            feeder: Some(feeder),
            kind,
            currents: (!makes && kind != "distribution").then_some([idle, hears, sends]),
            used: (dice.below(3) == 0).then(|| dice.below(1001)),
            voltage: makes.then(|| 5000 + dice.below(115_000)),
            efficiency: (makes && dice.below(2) == 0).then(|| 300 + dice.below(700)),
        });
    }
    parts
}

fn station(id: usize, parts: &[Part], (sends, hears): (u64, u64)) -> String {
    let mut text = format!(
        "[[battery]]\nid = \"b{id}\"\nname = \"Battery {id}\"\ncapacity = \"40 Ah\"\nchemistry = \"lead-acid\"\n\
         [[station]]\nid = \"s{id}\"\nname = \"Set {id}\"\nsending = \"{} %\"\nreceiving = \"{} %\"\n",
        sends as f64 / 10.0,
        hears as f64 / 10.0
    );
    for (at, part) in parts.iter().enumerate() {
        write!(text, "[[station.part]]\nid = \"p{at}\"\nkind = \"{}\"\n", part.kind).unwrap();
        if part.kind == "battery" {
            writeln!(text, "battery = \"b{id}\"").unwrap();
        }
        part.feeder.iter().for_each(|of| writeln!(text, "from = \"p{of}\"").unwrap());
        for (key, current) in ["idle", "receiving", "sending"].iter().zip(part.currents.into_iter().flatten()) {
            writeln!(text, "{key} = \"{current} mA\"").unwrap();
        }
        part.used.iter().for_each(|used| writeln!(text, "used = \"{} %\"", *used as f64 / 10.0).unwrap());
        part.voltage.iter().for_each(|volts| writeln!(text, "voltage = \"{volts} mV\"").unwrap());
        part.efficiency.iter().for_each(|of| writeln!(text, "efficiency = \"{} %\"", *of as f64 / 10.0).unwrap());
    }
    text
}

fn plan(text: &str) -> Plan {
    let world = Shelf::new().with("plan.toml", format!("{HEAD}\n{text}"));
    let mut found = Findings::default();
    let mut records = fieldsheaf::source::read(&world, "plan.toml", &mut found).unwrap();
    let plan = fieldsheaf::plan::build(&world, &mut records, &mut found);
    let errors: Vec<&str> = found.iter().map(|finding| finding.message.as_str()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    plan
}

/// What a part draws of the battery, worked out part by part up to it.
fn drawn(parts: &[Part], at: usize, current: f64) -> f64 {
    let mut current = current;
    let mut feeder = parts[at].feeder;
    let gives = |mut at: usize| loop {
        match (parts[at].voltage, parts[at].feeder) {
            (Some(volts), _) => return volts as f64 / 1000.0,
            (None, Some(next)) => at = next,
            (None, None) => return 12.0,
        }
    };
    while let Some(of) = feeder {
        if parts[of].kind == "converter" || parts[of].kind == "inverter" {
            let above = gives(parts[of].feeder.unwrap());
            current *= gives(of) / above / (parts[of].efficiency.unwrap_or(850) as f64 / 1000.0);
        }
        feeder = parts[of].feeder;
    }
    current
}

/// A budget is the sum of what each load draws of the battery: nothing is lost of a part, none is counted twice.
#[test]
fn a_budget_is_the_sum_of_its_parts() {
    let mut dice = Dice(20);
    let mut text = String::new();
    let mut sets = Vec::new();
    for id in 0..300 {
        let (parts, sends) = (parts(&mut dice), dice.below(600));
        let hears = dice.below(400);
        text.push_str(&station(id, &parts, (sends, hears)));
        sets.push((parts, sends as f64 / 1000.0, hears as f64 / 1000.0));
    }
    let plan = plan(&text);
    let mut loads = 0;
    for (id, (parts, sends, hears)) in sets.iter().enumerate() {
        let station = plan.stations.iter().find(|station| station.id.as_str() == format!("s{id}")).unwrap();
        let wiring = Wiring::of(&plan, station);
        let budgets = budgets(&plan, station, &wiring);
        let [budget] = &*budgets else { panic!("{id}: {} budgets", budgets.len()) };
        let mut sum = 0.0;
        let mut own = 0;
        for (at, part) in parts.iter().enumerate() {
            let Some([idle, receiving, sending]) = part.currents else { continue };
            let average = idle as f64 * (1.0 - sends - hears) + receiving as f64 * hears + sending as f64 * sends;
            sum += drawn(parts, at, average) * part.used.unwrap_or(1000) as f64 / 1000.0;
            own += 1;
        }
        let is = budget.average().as_grains() as f64;
        // Each load is rounded up three times at most: as its battery gives it, by shares, by use.
        assert!(is >= sum - 1e-6 && is <= sum + 3.0 * f64::from(own) + 1e-6, "{id}: {is} for {sum} of {own}");
        assert_eq!(budget.draws.len(), usize::try_from(own).unwrap());
        loads += own;
    }
    assert!(loads > 1000);
}

/// Who sends more, or draws more, runs for less time, never for more; a part that is switched off never costs any.
#[test]
fn more_load_never_lasts_longer() {
    let mut dice = Dice(21);
    let mut text = String::new();
    (0..120).for_each(|id| text.push_str(&station(id, &parts(&mut dice), (200, 300))));
    let plan = plan(&text);
    for station in plan.stations.iter() {
        for budget in budgets(&plan, station, &Wiring::of(&plan, station)) {
            let (_, hears) = shares(station);
            let at = |sends| budget.minutes_at((Share::grains(sends), hears), false).unwrap();
            assert!((0..10).all(|n| at(n * 100) >= at(n * 100 + 100)), "{}", station.name.value);
            assert_eq!(at(200), budget.minutes().unwrap());
            assert!(budget.draws.iter().all(|draw| budget.gain_without(draw, budget.average()).unwrap() >= 0));
            assert!(budget.draws.windows(2).all(|two| two[0].average >= two[1].average));
        }
    }
}

/// The way back is as long as the way there, and never longer over a third place.
#[test]
fn a_way_is_as_long_there_as_back() {
    let mut dice = Dice(22);
    let mut told = 0;
    for _ in 0..3000 {
        let (one, other, third) = (dice.position(), dice.position(), dice.position());
        let way = |a: &Position, b: &Position| GeodesicWay::between(a, b).map(|way| way.millimeters);
        let (there, back) = (way(&one, &other), way(&other, &one));
        assert_eq!(there.is_some(), back.is_some());
        let (Some(there), Some(back)) = (there, back) else { continue };
        assert!((there - back).abs() <= 1, "{one} {other}: {there} {back}");
        if let (Some(first), Some(second)) = (way(&one, &third), way(&third, &other)) {
            assert!(there <= first + second + 2, "{one} {other} {third}");
        }
        // A sphere of the mean radius, 6371.0088 km, is right to six thousandths.
        let sphere = haversine(&one, &other);
        assert!((there as f64 / 1000.0 - sphere).abs() <= sphere * 0.006 + 0.01, "{one} {other}: {there} {sphere}");
        told += 1;
    }
    assert!(told > 2900, "{told}");
}

fn haversine(one: &Position, other: &Position) -> f64 {
    let radians = |grains: i32| (f64::from(grains) / 1e7).to_radians();
    let (lat1, lat2) = (radians(one.latitude()), radians(other.latitude()));
    let (high, wide) = ((lat2 - lat1) / 2.0, (radians(other.longitude()) - radians(one.longitude())) / 2.0);
    let h = high.sin().powi(2) + lat1.cos() * lat2.cos() * wide.sin().powi(2);
    2.0 * 6_371_008.8 * h.sqrt().min(1.0).asin()
}

/// A state: 400 places with a station each, 5,000 members. All distances and bearings, declinations, sun, budgets and panels of it.
#[test]
fn the_numbers_of_a_state_take_less_than_two_seconds() {
    let mut dice = Dice(23);
    let mut text = String::new();
    for n in 0..5000 {
        let letters: String =
            [n / 676, n / 26 % 26, n % 26].iter().map(|at| char::from(b'A' + u8::try_from(at % 26).unwrap())).collect();
        write!(
            text,
            "[[member]]\nid = \"m{n}\"\ncall = \"W{}{letters}\"\nname = \"Member {n}\"\nclass = \"general\"\n",
            n % 10
        )
        .unwrap();
    }
    for n in 0..400_u64 {
        let (lat, lon) = (44_500_000 + dice.below(4_000_000), 104_500_000 + dice.below(11_000_000));
        let at = format!("{}.{:06}, -{}.{:06}", lat / 1_000_000, lat % 1_000_000, lon / 1_000_000, lon % 1_000_000);
        let code: String =
            [n / 26, n % 26].iter().map(|at| char::from(b'A' + u8::try_from(at % 26).unwrap())).collect();
        write!(
            text,
            "[[place]]\nid = \"place{n}\"\ncode = \"X{code}\"\ntactical = \"Place {n}\"\nkind = \"shelter\"\nvisited-on = 2026-10-04\nposition = \"{at}\"\n\
             antenna = [{{ id = \"roof\", height = \"{} m\" }}]\n",
            2 + dice.below(40)
        )
        .unwrap();
        let id = usize::try_from(n).unwrap();
        text.push_str(
            &station(id, &parts(&mut dice), (200, 300))
                .replace("[[station]]\n", &format!("[[station]]\nplace = \"place{n}\"\n")),
        );
    }
    let plan = plan(&text);
    assert_eq!((plan.places.iter().count(), plan.stations.iter().count()), (400, 400));
    let begun = std::time::Instant::now();
    let day = Day::parse("2026-12-05").unwrap();
    let positions: Vec<&Position> =
        plan.places.iter().filter_map(|place| Some(&place.position.as_ref()?.value)).collect();
    let ways =
        positions.iter().flat_map(|one| positions.iter().filter_map(|other| GeodesicWay::between(one, other))).count();
    let turns = positions.iter().filter_map(|at| declination(at, day)).count();
    let days =
        positions.iter().filter_map(|at| sun(Clock::of(&plan), day, at)).filter(|sun| sun.rise.is_some()).count();
    let back = positions.iter().filter_map(|at| returned(Power::milliwatts(60_000), at, day)).count();
    let runs = plan
        .stations
        .iter()
        .flat_map(|station| budgets(&plan, station, &Wiring::of(&plan, station)))
        .filter(|of| of.minutes().is_some())
        .count();
    let took = begun.elapsed();
    assert_eq!((ways, turns, days, back, runs), (160_000, 400, 400, 400, 400));
    // The least favorable of all builds: nothing is optimized here.
    assert!(took.as_millis() < 2000, "{took:?}");
}

#[derive(Deserialize)]
struct Packages {
    way: Vec<[f64; 6]>,
    free_space: Vec<[f64; 3]>,
    keep_off: Vec<[f64; 4]>,
    drop: Vec<[f64; 4]>,
    energy: Vec<[f64; 3]>,
}

/// Values that pint 0.25.3, scipy 1.17.1 and pyproj 3.7.2 made.
#[test]
fn numbers_are_those_of_other_packages() {
    let of: Packages = toml::from_str(include_str!("../refs/python_packages.toml")).unwrap();
    assert!(of.way.len() > 30 && of.free_space.len() == 36 && of.drop.len() == 21);
    for [lat1, lon1, lat2, lon2, bearing, meters] in of.way {
        let at = |lat: f64, lon: f64| Position::parse(&format!("{lat:.6}, {lon:.6}")).unwrap();
        let way = GeodesicWay::between(&at(lat1, lon1), &at(lat2, lon2)).unwrap();
        assert!((way.millimeters as f64 - meters * 1000.0).abs() <= 1.0, "{way:?} {meters}");
        let turned = (f64::from(way.bearing) / 100.0 - bearing).abs();
        assert!(turned.min(360.0 - turned) <= 0.0051, "{way:?} {bearing}");
    }
    for [mhz, meters, decibels] in of.free_space {
        let on = Frequency::parse(&format!("{mhz} MHz")).unwrap();
        let lost = free_space_loss(on, (meters * 1000.0) as i64).unwrap();
        assert!((lost as f64 / 100.0 - decibels).abs() <= 0.0051, "{mhz} {meters}: {lost} {decibels}");
    }
    for [watts, gain, limit, meters] in of.keep_off {
        let profile = Tables::built_in().profile("us").unwrap();
        let (power, gain) =
            (Power::parse(&format!("{watts} W")).unwrap(), Gain::parse(&format!("{gain} dBi")).unwrap());
        let always = (Mode::Fm, Share::grains(1000));
        let keep = Radiated::of(power, always, Some(gain), None, Frequency::parse("146.52 MHz").unwrap());
        let keep = keep.keep_off(&profile.exposure_limits).unwrap();
        let is = if limit > 0.5 { keep.controlled } else { keep.public };
        // Rounded up to decimeters, and never nearer than 0.33 m.
        let least = 299.792_458 / 146.52 / std::f64::consts::TAU;
        assert_eq!(
            i64::from(is.as_decimeters()),
            (meters.max(least) * 10.0 - 1e-6).ceil() as i64,
            "{watts} {gain:?} {limit}"
        );
    }
    for [gauge, meters, amperes, volts] in of.drop {
        let (wire, run) = (Gauge::parse(&format!("{gauge} AWG")).unwrap(), Run::parse(&format!("{meters} m")).unwrap());
        let lost = drop(wire, run, Current::parse(&format!("{amperes} A")).unwrap()).as_grains() as f64 / 1000.0;
        assert!(lost >= volts - 1e-9 && lost <= volts + 0.0011, "{gauge} {meters} {amperes}: {lost} {volts}");
    }
    for [hours, volts, energy] in of.energy {
        let text = format!(
            "[[battery]]\nid = \"b\"\nname = \"B\"\ncapacity = \"{hours} Ah\"\nvoltage = \"{volts} V\"\nusable = \"100 %\"\n\
             [[station]]\nid = \"s\"\nname = \"S\"\npart = [{{ id = \"p\", kind = \"battery\", battery = \"b\" }}]\n"
        );
        let plan = plan(&text);
        let station = plan.stations.iter().next().unwrap();
        let held = budgets(&plan, station, &Wiring::of(&plan, station))[0].held().unwrap();
        assert_eq!(held, energy.floor() as i64, "{hours} {volts}");
    }
}

/// By hand, of copper of 8, 12 and 14 AWG with 2.0609, 5.2107 and 8.2853 milliohms a meter: the strip carries 10 + 6 + 2 x 20 / 12 / 0.8 =
/// 20.167 A over twice 2 m, 0.166 V; voice 10 A over twice 3 m more, 0.313 V; the converter 4.167 A over twice 1 m more, 0.069 V, and makes 20 V anew.
#[test]
fn what_is_left_at_the_end_has_lost_on_all_cables_before_it() {
    let plan = plan(
        "[[battery]]\nid = \"cell\"\nname = \"Cell\"\ncapacity = \"50 Ah\"\n\
         [[station]]\nid = \"set\"\nname = \"Set\"\npart = [\n\
         { id = \"sun\", kind = \"panel\", power = \"60 W\", voltage = \"18 V\" },\n\
         { id = \"regulator\", kind = \"charge-controller\", from = \"sun\" },\n\
         { id = \"pack\", kind = \"battery\", battery = \"cell\", from = \"regulator\" },\n\
         { id = \"strip\", kind = \"distribution\", from = \"pack\", wire = \"8 AWG\", length = \"2 m\", fuse = \"30 A\" },\n\
         { id = \"voice\", kind = \"radio\", from = \"strip\", sending = \"10 A\", wire = \"12 AWG\", length = \"3 m\" },\n\
         { id = \"data\", kind = \"radio\", from = \"strip\", sending = \"6 A\" },\n\
         { id = \"up\", kind = \"converter\", from = \"strip\", voltage = \"20 V\", efficiency = \"80 %\", wire = \"14 AWG\", length = \"1 m\" },\n\
         { id = \"desk\", kind = \"computer\", from = \"up\", idle = \"2 A\" },\n\
         { id = \"direct\", kind = \"light\", from = \"regulator\", idle = \"1 A\" },\n]\n",
    );
    let station = plan.stations.iter().next().unwrap();
    let wiring = Wiring::of(&plan, station);
    let at = |id: &str| wiring.nodes.iter().position(|node| node.part.id.as_str() == id).unwrap();
    let left = |id: &str| wiring.left(at(id)).map(|left| left.as_grains());
    let flow = |id: &str| wiring.flow(at(id)).as_grains();
    assert_eq!([flow("strip"), flow("up"), flow("voice"), flow("desk")], [20_167, 4167, 10_000, 2000]);
    let near =
        |is: Option<i64>, volts: i64| assert!(is.is_some_and(|is| (is - volts).abs() <= 2), "{is:?} for {volts}");
    near(left("strip"), 12_000 - 166);
    near(left("voice"), 12_000 - 166 - 313);
    near(left("data"), 12_000 - 166);
    near(left("up"), 12_000 - 166 - 69);
    near(left("desk"), 20_000);
    // A controller gives what it charges its battery with, not what the panel gives it.
    near(left("direct"), 12_000);
    assert_eq!((left("sun"), left("regulator")), (None, Some(18_000)));
}
