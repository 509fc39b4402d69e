//! What a battery has to hold for what hangs on it.

use super::budget::{PowerBudget, usable_of};
use super::{is_short, minutes};
use crate::ground::{Charge, Day};

impl PowerBudget<'_> {
    /// The least whole ampere-hours that a battery of this kind, age and cold must be rated at, so that it lasts for so many minutes with a fifth
    /// of its time in reserve. None where nobody can say, or no battery that can be written holds as much.
    #[must_use]
    pub fn capacity_for(&self, needed: i64, on: Day) -> Option<Charge> {
        let of = |ampere_hours: i64| Charge::grains(ampere_hours * 1000);
        let is_enough = |capacity: Charge| {
            let usable = usable_of(self.battery, capacity, on);
            usable.is_some_and(|usable| !is_short(minutes(usable, self.average()), needed))
        };
        let (mut too_little, mut enough) = (0, MOST);
        if !is_enough(of(enough)) {
            return None;
        }
        while enough - too_little > 1 {
            let middle = i64::midpoint(too_little, enough);
            *(if is_enough(of(middle)) { &mut enough } else { &mut too_little }) = middle;
        }
        Some(of(enough))
    }
}

/// The most ampere-hours that a battery is written with.
const MOST: i64 = 10_000;
