//! Grid references: published squares are read and printed, and what is printed is read again.

use fieldsheaf::ground::Position;
use proptest::prelude::{prop_assert, prop_assert_eq, proptest};

const GRIDS: &str = include_str!("../refs/grids.toml");

#[derive(serde::Deserialize)]
struct Grids {
    maidenhead: Vec<Locator>,
    mgrs: Vec<Reference>,
}

#[derive(serde::Deserialize)]
struct Locator {
    place: String,
    at: String,
    six: String,
    eight: String,
}

#[derive(serde::Deserialize)]
struct Reference {
    place: String,
    at: String,
    metre: String,
    hundred: String,
    kilometre: String,
}

#[expect(clippy::unwrap_used, reason = "a row of a test that cannot be read is a failed test")]
fn at(text: &str) -> Position {
    Position::parse(text).unwrap()
}

/// How far apart in ten-millionths of a degree: latitude, longitude.
fn apart(a: &Position, b: &Position) -> (u32, u32) {
    (a.latitude().abs_diff(b.latitude()), a.longitude().abs_diff(b.longitude()))
}

#[test]
fn published_locators_are_printed_and_read() {
    let grids: Grids = toml::from_str(GRIDS).unwrap();
    assert_eq!(grids.maidenhead.len(), 8);
    for row in grids.maidenhead {
        let point = at(&row.at);
        assert_eq!(point.to_maidenhead(6).as_ref(), Some(&row.six), "{}", row.place);
        assert_eq!(point.to_maidenhead(8).as_ref(), Some(&row.eight), "{}", row.place);
        assert_eq!(point.to_maidenhead(4).as_deref(), row.six.get(..4), "{}", row.place);
        // A centre is at most half a square away: 1.25 by 2.5 minutes, then 7.5 by 15 seconds of arc.
        let (north, east) = apart(&point, &at(&row.six));
        assert!(north <= 208_334 && east <= 416_667, "{}", row.place);
        let (north, east) = apart(&point, &at(&row.eight.to_uppercase()));
        assert!(north <= 20_834 && east <= 41_667, "{}", row.place);
    }
}

#[test]
fn the_centre_of_a_locator_is_as_worked_by_hand() {
    // JJ00 is 0-2 E, 0-1 N; JJ00aa is 0-5' E, 0-2.5' N.
    let centre = |text: &str| (at(text).latitude(), at(text).longitude());
    assert_eq!(centre("JJ00"), (5_000_000, 10_000_000));
    assert_eq!(centre("JJ00aa"), (208_333, 416_666));
    assert_eq!(centre("AA00"), (-895_000_000, -1_790_000_000));
    assert_eq!(centre("RR99"), (895_000_000, 1_790_000_000));
}

#[test]
fn published_references_are_printed_and_read() {
    let grids: Grids = toml::from_str(GRIDS).unwrap();
    assert_eq!(grids.mgrs.len(), 7);
    for row in grids.mgrs {
        let point = at(&row.at);
        for (digits, expected) in [(10, &row.metre), (6, &row.hundred), (4, &row.kilometre)] {
            let printed = point.to_mgrs(digits).unwrap();
            assert_eq!(&printed.replace(' ', ""), expected, "{}", row.place);
            assert_eq!(at(&printed).to_mgrs(digits), Some(printed), "{}", row.place);
        }
        // Half a metre each way, and the grid may be turned: 0.8 m north is 72 grains.
        let centre = at(&row.metre);
        assert!(apart(&point, &centre).0 <= 72, "{}: {centre:?}", row.place);
    }
}

#[test]
fn zones_that_do_not_exist_and_squares_elsewhere_are_refused() {
    // 32X is taken up by 31X and 33X; a T square cannot be in band C; columns of zone 12 are S to Z.
    for text in ["32XNA 12345 12345", "12CXR 00 00", "12TAR 12345 67890", "61TXR 12", "00TXR 12", "12TXR 123", "12TXR"]
    {
        assert!(Position::parse(text).is_err(), "{text}");
    }
    for text in
        ["12IXR 12", "12TXR 1a", "12TXR 123456 123456", "JN5", "SA00", "JN58tz", "JN58tdAA", "", "ÄÄ00", "YZH 12 12"]
    {
        assert!(Position::parse(text).is_err(), "{text}");
    }
    assert!(Position::parse("12txr1234567890").is_ok() && Position::parse("4QFJ 18431 56872").is_ok());
}

#[test]
fn edges_of_the_earth_have_squares() {
    assert_eq!(at("90, 180").to_maidenhead(8).as_deref(), Some("RR99xx99"));
    assert_eq!(at("84.1, 10").to_mgrs(10), None);
    assert_eq!(at("-80.1, 10").to_mgrs(10), None);
    assert_eq!(at("0, 0").to_mgrs(5), None);
    assert_eq!(at("0, 0").to_maidenhead(5), None);
    // Both names of the 180th meridian are the western edge of zone 1.
    assert_eq!(at("10, 180").to_mgrs(4), at("10, -180").to_mgrs(4));
    assert!(at("10, 180").to_mgrs(4).unwrap().starts_with("01P"));
}

proptest! {
    #[test]
    fn a_point_lies_in_the_square_it_prints(north in -800_000_000_i64..=840_000_000, east in -1_800_000_000_i64..=1_800_000_000) {
        let point = Position::new(north, east, "here").unwrap();
        for digits in [2, 4, 6, 8, 10] {
            let printed = point.to_mgrs(digits).unwrap();
            let centre = Position::parse(&printed);
            prop_assert!(centre.is_ok(), "{} of {:?}", printed, point);
        }
        // The centre of a square of 1 m lies in it, unless a zone's edge cuts the square: then the centre may be across.
        let metre = point.to_mgrs(10).unwrap();
        let centre = Position::parse(&metre).unwrap();
        prop_assert!(point.latitude().abs_diff(centre.latitude()) <= 72, "{} of {:?} is {:?}", metre, point, centre);
        for characters in [4, 6, 8] {
            let printed = point.to_maidenhead(characters).unwrap();
            prop_assert_eq!(Position::parse(&printed).unwrap().to_maidenhead(characters), Some(printed));
        }
    }

    #[test]
    fn no_text_makes_a_position_panic(text in ".{0,24}", grid in "[0-9]{1,2}[A-Z]{3} ?[0-9]{0,12}") {
        let _ = (Position::parse(&text), Position::parse(&grid));
    }
}
