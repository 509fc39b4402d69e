//! Our reader of the time zone database against another one.

use chrono::{DateTime, MappedLocalTime, Offset, TimeDelta, TimeZone as _};
use chrono_tz::{OffsetName, TZ_VARIANTS, Tz};
use fieldsheaf::ground::{ShownTime, TimeZone};
use std::collections::BTreeSet;

/// Noon of January 1 of a year, in seconds after 1970 began at UTC.
fn noon(year: i64) -> i64 {
    format!("{year}-01-01T12:00:00Z").parse::<DateTime<chrono::Utc>>().unwrap().timestamp()
}

fn ahead(zone: Tz, utc: i64) -> i64 {
    let utc = DateTime::from_timestamp(utc, 0).unwrap().naive_utc();
    i64::from(zone.offset_from_utc_datetime(&utc).fix().local_minus_utc())
}

fn shown(zone: Tz, local: i64) -> ShownTime {
    let local = DateTime::from_timestamp(local, 0).unwrap().naive_utc();
    let seconds = |offset: <Tz as chrono::TimeZone>::Offset| i64::from(offset.fix().local_minus_utc());
    match zone.offset_from_local_datetime(&local) {
        MappedLocalTime::Single(offset) => ShownTime::Once(seconds(offset)),
        MappedLocalTime::Ambiguous(first, _) => ShownTime::Twice(seconds(first)),
        MappedLocalTime::None => ShownTime::Never,
    }
}

/// Zones whose law has changed in 2026, after the other reader's edition of the database.
const CHANGED: [&str; 13] = [
    "Africa/Casablanca",
    "Africa/El_Aaiun",
    "America/Edmonton",
    "America/Havana",
    "America/Inuvik",
    "America/Rainy_River",
    "America/Vancouver",
    "America/Winnipeg",
    "America/Yellowknife",
    "Canada/Central",
    "Canada/Mountain",
    "Canada/Pacific",
    "Cuba",
];

/// Every zone, a time each third day of past years and of years to come.
#[test]
fn every_zone_is_as_another_reader_has_it() {
    let mut differ = BTreeSet::new();
    for zone in TZ_VARIANTS {
        let Some(own) = TimeZone::named(zone.name()) else {
            differ.insert(format!("{} is unknown", zone.name()));
            continue;
        };
        assert_eq!(own.name(), zone.name());
        let until = if CHANGED.contains(&zone.name()) { 2026 } else { 2060 };
        let mut times = (noon(1995)..noon(until)).step_by(86_400 * 3);
        let is_other = |utc: &i64| own.ahead_at(*utc) != ahead(zone, *utc);
        differ.extend(times.find(is_other).map(|utc| format!("{} at {utc}", zone.name())));
    }
    assert_eq!(differ, BTreeSet::new());
    assert!(TimeZone::named("america/denver").is_none() && TimeZone::named("Mars/Olympus").is_none());
    assert_eq!(TimeZone::UTC.ahead_at(0), 0);
}

/// What time is called there, a day of each month: letters, where it has any.
#[test]
fn the_letters_of_every_zone_are_as_another_reader_has_them() {
    let mut seen = BTreeSet::new();
    for zone in TZ_VARIANTS {
        let own = TimeZone::named(zone.name()).unwrap();
        let until = if CHANGED.contains(&zone.name()) { 2026 } else { 2040 };
        for utc in (noon(2018)..noon(until)).step_by(86_400 * 30) {
            let at = DateTime::from_timestamp(utc, 0).unwrap().naive_utc();
            let offset = zone.offset_from_utc_datetime(&at);
            let theirs = offset.abbreviation().filter(|name| name.starts_with(|c: char| c.is_ascii_alphabetic()));
            assert_eq!(own.letters_at(utc), theirs, "{} at {utc}", zone.name());
            seen.insert(theirs.map(str::to_owned));
        }
    }
    assert!(
        ["CST", "CDT", "BST", "CEST"].into_iter().all(|name| seen.contains(&Some(name.to_owned())))
            && seen.contains(&None)
    );
}

/// Around every change of some years, by half hours of the clocks of zones with whole, half and quarter hours, on both sides of the
/// equator, with changes at midnight and at an hour by UTC.
#[test]
fn hours_that_clocks_show_never_or_twice_are_as_another_reader_has_them() {
    let mut seen = [0; 3];
    for name in [
        "America/Denver",
        "America/St_Johns",
        "America/Sao_Paulo",
        "America/Santiago",
        "Australia/Lord_Howe",
        "Europe/Berlin",
        "Europe/Dublin",
        "Atlantic/Azores",
        "Asia/Kathmandu",
        "Africa/Casablanca",
        "Pacific/Apia",
        "Pacific/Chatham",
    ] {
        let (zone, own): (Tz, _) = (name.parse().unwrap(), TimeZone::named(name).unwrap());
        for day in (noon(2009)..noon(2026)).step_by(86_400) {
            if ahead(zone, day) == ahead(zone, day + 86_400) {
                continue;
            }
            for local in (day - 86_400..day + 3 * 86_400).step_by(900) {
                let (ours, theirs) = (own.shown(local), shown(zone, local));
                assert_eq!(ours, theirs, "{name} {:?}", DateTime::from_timestamp(local, 0));
                seen[match ours {
                    ShownTime::Once(_) => 0,
                    ShownTime::Twice(_) => 1,
                    ShownTime::Never => 2,
                }] += 1;
            }
        }
    }
    assert!(seen.iter().all(|count| *count > 500), "{seen:?}");
    let later = DateTime::from_timestamp(noon(2027), 0).unwrap() + TimeDelta::days(72);
    assert_eq!(TimeZone::named("America/Denver").unwrap().ahead_at(later.timestamp()), -6 * 3600);
}
