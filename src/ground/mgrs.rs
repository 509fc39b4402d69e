//! Grid references of MGRS and USNG: `18SUJ 23479 06481` (NGA.STND.0037, FGDC-STD-011-2001; from memory).
//!
//! Zone and band, a square of 100 km, then digits that are cut and never rounded. The polar squares are not read.

use super::Position;
use super::transverse::{to_degrees, to_plane};

/// Latitude bands of 8 degrees from 80 S; the last reaches from 72 N to 84 N.
const BANDS: &str = "CDEFGHJKLMNPQRSTUVWX";
/// Columns of 100 km from easting 100 km, by zone; rows of 100 km from the equator, again every 2000 km.
const COLUMNS: [&str; 3] = ["STUVWXYZ", "ABCDEFGH", "JKLMNPQR"];
const ROWS: &str = "ABCDEFGHJKLMNPQRSTUV";
/// Metres: side of a square, easting of the central meridian, northing of the equator for the south, cycle of the rows.
const SQUARE: i64 = 100_000;
const FALSE_EAST: i64 = 500_000;
const FALSE_NORTH: i64 = 10_000_000;
const CYCLE: i64 = 2_000_000;

impl Position {
    /// Reads a reference of 2 to 10 digits, spaced or not, as the centre of its square.
    ///
    /// `None` when it is none, or its square lies outside the zone and band that it names.
    pub(super) fn parse_mgrs(text: &str) -> Option<Self> {
        let compact: String = text.chars().filter(|c| *c != ' ').collect::<String>().to_ascii_uppercase();
        let zone_end = compact.find(|c: char| !c.is_ascii_digit()).filter(|end| (1..=2).contains(end))?;
        let zone: i64 = compact.get(..zone_end)?.parse().ok()?;
        let mut letters = compact.get(zone_end..)?.chars();
        let band = letters.next().and_then(|letter| place(BANDS, letter))?;
        let (west, end) = zone_edges(zone, band)?;
        let (column, row) = (letters.next()?, letters.next()?);
        let (east, north, side) = parse_digits(letters.as_str())?;
        let east = (place(COLUMNS.get(usize::try_from(zone % 3).ok()?)?, column)? + 1) * SQUARE + east;
        let rows = (place(ROWS, row)? - row_offset(zone)).rem_euclid(20) * SQUARE + north;
        // The row letter comes again every 2000 km, some 18 degrees; the band of 8 or 12 degrees says which it is.
        let south = -80 + 8 * band;
        let (low, high) = (degrees(south), degrees(if band == 19 { 84 } else { south + 8 }));
        let margin = metres(side) / 110_000.0;
        let is_south = band < 10;
        (0..=4).find_map(|turn| {
            let from_equator = rows + turn * CYCLE - if is_south { FALSE_NORTH } else { 0 };
            let (latitude, longitude) =
                to_degrees(metres(2 * (east - FALSE_EAST) + side) / 2.0, metres(2 * from_equator + side) / 2.0);
            let longitude = longitude + degrees(central_meridian(zone));
            let across = margin / libm::cos(latitude.to_radians());
            let is_inside = (low - margin..=high + margin).contains(&latitude)
                && (degrees(west) - across..=degrees(end) + across).contains(&longitude);
            is_inside.then(|| Self::new(grains(latitude), grains(around(longitude)), text.trim()))?
        })
    }

    /// The reference of the square that holds this point, with an even number of digits from 2 to 10, as
    /// `18SUJ 23479 06481`. Digits are cut, never rounded. `None` for another count, and below 80 S or above 84 N.
    #[must_use]
    pub fn to_mgrs(&self, digits: usize) -> Option<String> {
        let is_covered = (-80 * Self::PER_DEGREE..=84 * Self::PER_DEGREE).contains(&i64::from(self.latitude()));
        if !matches!(digits, 2 | 4 | 6 | 8 | 10) || !is_covered {
            return None;
        }
        let band = (i64::from(self.latitude()).div_euclid(8 * Self::PER_DEGREE) + 10).min(19);
        let zone = zone_of(i64::from(self.longitude()), band)?;
        let per_degree = 10_000_000.0;
        let longitude = f64::from(self.longitude()) / per_degree - degrees(central_meridian(zone));
        // The 180th meridian belongs to zone 1, whose central meridian is at 177 W.
        let longitude = if longitude > 180.0 { longitude - 360.0 } else { longitude };
        let (east, north) = to_plane(f64::from(self.latitude()) / per_degree, longitude);
        let (east, north) = (whole_metres(east) + FALSE_EAST, whole_metres(north));
        let north = if self.latitude() < 0 { north + FALSE_NORTH } else { north };
        let column = letter(COLUMNS.get(usize::try_from(zone % 3).ok()?)?, east.div_euclid(SQUARE) - 1)?;
        let row = letter(ROWS, (north.div_euclid(SQUARE) + row_offset(zone)).rem_euclid(20))?;
        let cut = 10_i64.pow(u32::try_from(5 - digits / 2).ok()?);
        let (east, north) = (east.rem_euclid(SQUARE) / cut, north.rem_euclid(SQUARE) / cut);
        let (band, width) = (letter(BANDS, band)?, digits / 2);
        Some(format!("{zone:02}{band}{column}{row} {east:0width$} {north:0width$}"))
    }
}

/// East and north within the square and the side of what they name, in metres.
fn parse_digits(digits: &str) -> Option<(i64, i64, i64)> {
    let half = digits.len() / 2;
    if !matches!(digits.len(), 2 | 4 | 6 | 8 | 10) || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let side = 10_i64.pow(u32::try_from(5 - half).ok()?);
    let part = |text: Option<&str>| text?.parse::<i64>().ok().map(|n| n * side);
    Some((part(digits.get(..half))?, part(digits.get(half..))?, side))
}

/// Edges of a zone in a band, in degrees of longitude. South-west Norway and Svalbard have zones of their own widths.
/// `None` for a zone that does not exist.
const fn zone_edges(zone: i64, band: i64) -> Option<(i64, i64)> {
    match (zone, band) {
        (31, 17) => Some((0, 3)),
        (32, 17) => Some((3, 12)),
        (31, 19) => Some((0, 9)),
        (33, 19) => Some((9, 21)),
        (35, 19) => Some((21, 33)),
        (37, 19) => Some((33, 42)),
        (32 | 34 | 36, 19) => None,
        (1..=60, 0..=19) => Some((6 * zone - 186, 6 * zone - 180)),
        _ => None,
    }
}

/// The zone of a longitude in ten-millionths of a degree.
fn zone_of(longitude: i64, band: i64) -> Option<i64> {
    let within =
        (longitude + 180 * Position::PER_DEGREE).rem_euclid(360 * Position::PER_DEGREE) - 180 * Position::PER_DEGREE;
    (1..=60).find(|zone| {
        zone_edges(*zone, band)
            .is_some_and(|(west, east)| (west * Position::PER_DEGREE..east * Position::PER_DEGREE).contains(&within))
    })
}

const fn central_meridian(zone: i64) -> i64 {
    6 * zone - 183
}

/// Rows of even zones begin with F at the equator.
const fn row_offset(zone: i64) -> i64 {
    if zone % 2 == 0 { 5 } else { 0 }
}

fn place(letters: &str, wanted: char) -> Option<i64> {
    letters.find(wanted).and_then(|index| i64::try_from(index).ok())
}

fn letter(letters: &str, index: i64) -> Option<char> {
    letters.chars().nth(usize::try_from(index).ok()?)
}

fn around(longitude: f64) -> f64 {
    if longitude > 180.0 {
        longitude - 360.0
    } else if longitude < -180.0 {
        longitude + 360.0
    } else {
        longitude
    }
}

fn degrees(whole: i64) -> f64 {
    metres(whole)
}

#[expect(clippy::cast_precision_loss, reason = "metres and degrees on the earth stay far below 2^52")]
fn metres(whole: i64) -> f64 {
    whole as f64
}

#[expect(clippy::cast_possible_truncation, reason = "degrees on the earth, at most 180 times 10^7")]
fn grains(degrees: f64) -> i64 {
    (degrees * 10_000_000.0).round() as i64
}

#[expect(clippy::cast_possible_truncation, reason = "metres on the earth, at most 10^7")]
fn whole_metres(metres: f64) -> i64 {
    metres.floor() as i64
}
