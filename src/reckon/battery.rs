//! How long a battery runs a load that sends now and then.
//!
//! Hours = capacity x usable share / (idle current x (1 - d) + sending current x d), d the share of the time in which it sends.
//! The shares that are usable are common practice, no source: a half of what a lead-acid battery is rated at, so that it lives
//! long, and 0.8 of lithium iron phosphate. Rated capacity is for a discharge of 20 hours at 25 degrees; a faster one gives less
//! (Peukert's law), which is not reckoned, since no exponent is published for batteries in general.

use crate::ground::{Celsius, Charge, Current, Share, Voltage};
use crate::plan::Chemistry;

/// The share of its rated capacity that is used of a battery of that chemistry, where nothing else is said.
#[must_use]
pub const fn usual_share(chemistry: Chemistry) -> Share {
    match chemistry {
        Chemistry::LeadAcid => Share::grains(500),
        Chemistry::LithiumIronPhosphate => Share::grains(800),
    }
}

/// The coldest that is reckoned with; colder, nothing is said.
pub const COLDEST: Celsius = Celsius::grains(-200);

/// What is left of rated capacity at a temperature, in thousandths: a hundredth less for each degree under 25, and no more above it
/// (common practice, no source). None under 20 degrees of frost.
#[must_use]
pub fn left_by_cold(at: Celsius) -> Option<i64> {
    (at >= COLDEST).then(|| 1000 - (250 - at.as_grains()).max(0))
}

/// What is left after years, in thousandths: of lead-acid a twenty-fifth less each year, so that four fifths are left after five, when
/// most makers call it worn; of lithium iron phosphate a fiftieth. Never below a half: an older one is to be measured (common practice, no
/// source).
#[must_use]
pub fn left_by_age(chemistry: Chemistry, years: u8) -> i64 {
    let each = match chemistry {
        Chemistry::LeadAcid => 40,
        Chemistry::LithiumIronPhosphate => 20,
    };
    (1000 - each * i64::from(years)).max(500)
}

/// What can be drawn of a battery, rounded down. None where it is too cold to say.
#[must_use]
pub fn usable(capacity: Charge, share: Share, chemistry: Chemistry, (at, years): (Celsius, u8)) -> Option<Charge> {
    let thousandths = [share.as_grains(), left_by_cold(at)?, left_by_age(chemistry, years)];
    let left = thousandths.iter().fold(i128::from(capacity.as_grains()), |left, part| left * i128::from(*part));
    i64::try_from(left / 1_000_000_000).ok().map(Charge::grains)
}

/// The current that is drawn on the average of what is drawn idle, while somebody is heard and while it sends, by the shares of sending and of
/// hearing, rounded up. What is not sent is heard at most.
#[must_use]
pub fn average_of([idle, receiving, sending]: [Current; 3], (sends, hears): (Share, Share)) -> Current {
    let sent = sends.as_grains().clamp(0, 1000);
    let heard = hears.as_grains().clamp(0, 1000 - sent);
    let parts = [(idle, 1000 - sent - heard), (receiving, heard), (sending, sent)];
    let sum = parts
        .iter()
        .fold(0, |sum: i64, (current, share)| sum.saturating_add(current.as_grains().saturating_mul(*share)));
    Current::grains(sum.saturating_add(999) / 1000)
}

/// The most minutes that are told apart: a year.
const LONGEST: i64 = 365 * 24 * 60;

/// For how many minutes a charge lasts at a current, rounded down; at most a year, also where nothing is drawn.
#[must_use]
pub fn minutes(charge: Charge, current: Current) -> i64 {
    let drawn = current.as_grains();
    if drawn <= 0 { LONGEST } else { (charge.as_grains().saturating_mul(60) / drawn).clamp(0, LONGEST) }
}

/// Whether less than a fifth of a battery's time would be left after so many minutes (common practice, no source).
#[must_use]
pub const fn is_short(lasts: i64, needed: i64) -> bool {
    needed.saturating_mul(5) > lasts.saturating_mul(4)
}

/// State of charge of a lead-acid battery of six cells that has rested for some hours: volts and hundredths (common practice, no
/// source). Lithium iron phosphate has nearly one voltage from full to empty: it tells nothing.
pub const RESTED: [(Voltage, u8); 5] = [
    (Voltage::grains(12_700), 100),
    (Voltage::grains(12_450), 75),
    (Voltage::grains(12_200), 50),
    (Voltage::grains(12_000), 25),
    (Voltage::grains(11_800), 0),
];

#[cfg(test)]
mod tests {
    use super::{average_of, is_short, left_by_age, left_by_cold, minutes, usable, usual_share};
    use crate::ground::{Celsius, Charge, Current, Share};
    use crate::plan::Chemistry::{LeadAcid, LithiumIronPhosphate};

    /// A radio that draws as much while it hears somebody as while it waits.
    fn average(idle: Current, sending: Current, share: Share) -> Current {
        average_of([idle, idle, sending], (share, share))
    }

    /// 9 Ah, 0.06 A idle, 1.6 A sending, a quarter of the time: 0.06 x 0.75 + 1.6 x 0.25 = 0.445 A; 4.5 / 0.445 = 10.11 h, 7.2 / 0.445 =
    /// 16.18 h. Worked by hand.
    #[test]
    fn a_handheld_runs_ten_hours_on_lead_and_sixteen_on_iron() {
        let drawn = average(Current::grains(60), Current::grains(1600), Share::grains(250));
        assert_eq!(drawn, Current::grains(445));
        let lasts = |chemistry, state| {
            minutes(usable(Charge::grains(9000), usual_share(chemistry), chemistry, state).unwrap(), drawn)
        };
        let new = (Celsius::grains(250), 0);
        assert_eq!(lasts(LeadAcid, new), 606); // 10.11 h = 606.7 min
        assert_eq!(lasts(LithiumIronPhosphate, new), 970); // 16.18 h = 970.8 min
        assert!(is_short(606, 600) && !is_short(970, 600));
        // At freezing a quarter less, after five years a fifth (lead-acid) or a tenth less: 10.11 x 0.75 x 0.8 = 6.07 h, 16.18 x 0.75 x
        // 0.9 = 10.92 h.
        let old = (Celsius::grains(0), 5);
        assert_eq!(lasts(LeadAcid, old), 364);
        assert_eq!(lasts(LithiumIronPhosphate, old), 655);
    }

    /// 20 Ah, 0.7 A and 10 A, from a handbook's table of hours by duty: 8.6 and 13.7, 6.1 and 9.8, 3.3 and 5.3, 1.9 and 3.0. Worked by
    /// hand from the same formula: 10 / 1.165 = 8.58 and so on.
    #[test]
    fn hours_fall_with_the_share_of_sending() {
        for (share, lead, iron) in [(50, 86, 137), (100, 61, 98), (250, 33, 53), (500, 19, 30)] {
            let drawn = average(Current::grains(700), Current::grains(10_000), Share::grains(share));
            for (charge, tenths) in [(10_000, lead), (16_000, iron)] {
                let is = (minutes(Charge::grains(charge), drawn) + 3) / 6;
                assert_eq!(is, tenths, "{share}");
            }
        }
    }

    #[test]
    fn a_reserve_is_a_fifth_to_the_minute() {
        assert!(!is_short(750, 600) && is_short(749, 600));
    }

    #[test]
    fn what_is_absurd_stays_within_bounds() {
        assert_eq!(minutes(Charge::grains(i64::MAX), Current::grains(0)), 365 * 24 * 60);
        assert_eq!(minutes(Charge::grains(1), Current::grains(i64::MAX)), 0);
        assert_eq!(left_by_cold(Celsius::grains(-201)), None);
        assert_eq!(left_by_cold(Celsius::grains(800)), Some(1000));
        assert_eq!(left_by_age(LeadAcid, 255), 500);
        assert_eq!(
            average(Current::grains(i64::MAX), Current::grains(1), Share::grains(0)).as_grains(),
            i64::MAX / 1000
        );
    }
}
