//! How far another place is, in the units of the country.

use crate::ground::Decimal;
use crate::plan::Plan;

/// An international mile (1959) is 1609.344 m.
const MILE: i64 = 1_609_344;

/// `786 m`, `4.4 km`; where the country's profile has miles, `4.4 km, 2.7 mi`, rounded to a tenth.
pub(super) fn away(millimeters: i64, plan: &Plan) -> String {
    let meters = (millimeters + 500) / 1000;
    let metric = match meters {
        ..1000 => format!("{meters} m"),
        _ => format!("{} km", Decimal::print((meters + 50) / 100, 10, 1)),
    };
    let tenths = (millimeters * 10 + MILE / 2) / MILE;
    match plan.profile.as_ref().is_some_and(|profile| profile.has_miles) && tenths > 0 {
        true => format!("{metric}, {} mi", Decimal::print(tenths, 10, 1)),
        false => metric,
    }
}
