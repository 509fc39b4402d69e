//! What countries allot of 630 m, 60 m, 6 m and 4 m, against the published table: by the plan's region, and warning alone.

use crate::support::shelf::Shelf;
use fieldsheaf::ground::Severity;

const TABLE: &str = include_str!("../refs/europe_amateur_national.csv");

/// A row of the table.
struct Row {
    country: String,
    band: String,
    low: u64,
    high: u64,
    /// The most, in milliwatts, and what is measured.
    most: Option<(f64, String)>,
}

/// The rows of what is allotted.
fn rows() -> Vec<Row> {
    let cells =
        TABLE.lines().skip(1).filter(|line| !line.starts_with('#')).map(|line| line.split(',').collect::<Vec<_>>());
    let allotted = cells.filter(|row| row[4] == "yes");
    allotted
        .map(|row| Row {
            country: row[0].to_owned(),
            band: row[1].to_owned(),
            low: row[2].parse().unwrap(),
            high: row[3].parse().unwrap(),
            most: row[5].parse().ok().map(|watts: f64| (watts * 1000.0, row[6].to_owned())),
        })
        .collect()
}

/// What is found under Region 1 in a country of a channel in CW, 100 Hz wide about a frequency in hertz: errors, warnings and notes about
/// allotments.
fn found(country: &str, hertz: u64, more: &str) -> Vec<String> {
    let plan = format!(
        "[plan]\ntitle = \"Example plan\"\nshort = \"EXAMPLE\"\nteam = \"Example team\"\nprofile = \"region-1\"\nregion = \"{country}\"\n\
         invented = true\ntime-zone = \"Europe/London\"\n[edition]\nnumber = 1\nissued = 2026-11-20\nvalid-from = 2026-12-01\n\
         review-by = 2027-06-01\nprepared-by = \"qra\"\napproved-by = \"qra\"\n[[member]]\nid = \"qra\"\ncall = \"DA0QRA\"\n\
         name = \"Ines Varga\"\nclass = \"any\"\nconfirmed = 2026-10-01\n[[channel]]\nid = \"a\"\nrow = 1\nname = \"A\"\n\
         spoken = \"Alpha\"\nsimplex = \"{hertz} Hz\"\nemission = \"100HA1A\"\n{more}verified = {{ on = 2026-10-01, by = \"qra\" }}\n"
    );
    let outcome = fieldsheaf::check_plan(&Shelf::new().with("plan.toml", plan), "plan.toml").unwrap();
    let asks = outcome
        .findings
        .iter()
        .filter(|finding| finding.severity() == Severity::Error || finding.rule.name.starts_with("allotment-"));
    asks.map(|finding| format!("{}: {}", finding.rule.name, finding.message)).collect()
}

#[test]
fn every_published_allotment_holds_to_the_hertz_and_only_warns_beside_it() {
    let all = rows();
    assert!(all.len() > 50, "{} rows", all.len());
    for Row { country, band, low, high, .. } in &all {
        let inside = found(country, low + 50, "");
        assert_eq!(inside.len(), 1, "{country} {band} {low}: {inside:?}");
        assert!(inside[0].starts_with("allotment-unconfirmed: channel A uses the "), "{country} {band}: {inside:?}");
        assert_eq!(found(country, high - 50, "").len(), 1, "{country} {band} {high}");
        // Rows of one country may touch.
        let touches = |edge: u64| all.iter().any(|row| row.country == *country && (row.low..=row.high).contains(&edge));
        for (beside, is_free) in [(low + 49, !touches(low - 1)), (high - 49, !touches(high + 1))] {
            let outside = found(country, beside, "");
            let is_warned = outside.iter().any(|said| said.starts_with("allotment-exceeded: channel A sends on "));
            assert_eq!((is_warned, outside.len()), (is_free, 1), "{country} {band} {beside}: {outside:?}");
        }
    }
}

#[test]
fn every_published_power_holds_and_only_warns_above_it() {
    let mut judged = 0;
    for Row { country, band, low, high, most } in rows() {
        let Some((most, measure)) = most else { continue };
        // Radiated power is held against a half-wave dipole: 1.64 times less than over an isotropic one.
        let most = if measure == "EIRP" { most / 1.64 } else { most };
        let middle = u64::midpoint(low, high);
        let with = |milliwatts: f64| found(&country, middle, &format!("power = \"{milliwatts:.0} mW\"\n"));
        let step = if most >= 1000.0 { 10.0 } else { 1.0 };
        assert_eq!(with((most / step).floor() * step).len(), 1, "{country} {band}");
        let over = with(most.floor() + 1.0);
        assert!(
            over.iter().any(|said| said.starts_with("allotment-exceeded: channel A allows ")),
            "{country} {band} {most}: {over:?}"
        );
        assert!(over.iter().all(|said| said.starts_with("allotment-")), "{country} {band}: {over:?}");
        judged += 1;
    }
    assert!(judged > 35, "{judged} rows");
}

/// 5.390 MHz lies far outside what Region 1 has of 60 m; Norway allots it, Sweden does not, and without a region the common edges are law.
#[test]
fn sixty_meters_are_named_and_judged_by_the_country() {
    let at = 5_390_000;
    assert_eq!(found("NO", at, ""), ["allotment-unconfirmed: channel A uses the 60 m band as NO allots it"]);
    assert_eq!(
        found("SE", at, ""),
        [
            "allotment-exceeded: channel A sends on 5.390 MHz, which occupies 5.38995 MHz to 5.39005 MHz, outside what SE allots of the 60 m band"
        ]
    );
    assert_eq!(
        found("GR", at, ""),
        [
            "transmit-leaves-band: channel A sends on 5.390 MHz, which occupies 5.38995 MHz to 5.39005 MHz, outside the 60 m band"
        ]
    );
    // No country that allots no 4 m has the band of one that does.
    assert_eq!(found("SE", 70_200_000, "").len(), 1);
    assert!(found("SE", 70_200_000, "")[0].starts_with("transmit-leaves-band: "), "{:?}", found("SE", 70_200_000, ""));
}

/// The letters of the internet are not those of the standard; a plan that is taken for one of no country would be judged by the common rows.
#[test]
fn a_country_is_named_by_its_standard_letters() {
    let unknown = "region-unknown: the region of the plan is \"UK\", which no state or province is";
    assert_eq!(found("UK", 145_450_000, ""), [unknown]);
    assert_eq!(found("GB", 145_450_000, ""), Vec::<String>::new());
}

/// Pairs of 70 cm stand the other way round in Britain than in the rest of Region 1.
#[test]
fn a_country_s_own_band_plan_stands_in_the_place_of_the_common_one() {
    let sides = |country: &str, output: &str, input: &str| {
        let plan = format!(
            "[plan]\ntitle = \"Example plan\"\nshort = \"EXAMPLE\"\nteam = \"Example team\"\nprofile = \"region-1\"\nregion = \"{country}\"\n\
             invented = true\ntime-zone = \"Europe/London\"\n[[repeater]]\nid = \"r\"\noutput = \"{output} MHz\"\ninput = \"{input} MHz\"\n\
             tone-in = \"94.8 Hz\"\ntone-out = \"off\"\n"
        );
        let outcome = fieldsheaf::check_plan(&Shelf::new().with("plan.toml", plan), "plan.toml").unwrap();
        let asks = outcome.findings.iter().filter(|f| ["band-plan-side", "unusual-shift"].contains(&f.rule.name));
        asks.map(|finding| finding.message.clone()).collect::<Vec<_>>()
    };
    assert_eq!(sides("GB", "433.000", "434.600"), Vec::<String>::new());
    assert_eq!(
        sides("GR", "433.000", "434.600"),
        [
            "the output of repeater R is on 433.000 MHz, where the band plan has repeater inputs",
            "the input of repeater R is on 434.600 MHz, where the band plan has repeater outputs",
        ]
    );
    assert_eq!(
        sides("GB", "434.600", "433.000"),
        [
            "the output of repeater R is on 434.600 MHz, where the band plan has repeater inputs",
            "the input of repeater R is on 433.000 MHz, where the band plan has repeater outputs",
        ]
    );
    assert_eq!(
        sides("GB", "433.000", "434.500"),
        ["repeater R has its input +1.5 MHz from 433.000 MHz, where +1.6 MHz is usual"]
    );
}
