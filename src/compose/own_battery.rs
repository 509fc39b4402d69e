//! What a member's own copy says of the battery that the member's station runs on.

use super::block::Text;
use super::duty_words::short_time;
use super::power_words::{hours, lasts_and_change};
use crate::audience::View;
use crate::plan::{Duty, Station};
use crate::reckon::{Clock, Period, PowerBudget, Wiring, budgets, changes};
use std::collections::BTreeSet;

/// What is said.
pub(super) enum OwnBattery {
    /// A line for each battery.
    Lines(Vec<Text>),
    /// A duty, and no battery in the plan: what is said of it.
    Unknown(&'static str),
    /// Nobody's copy, or no duty.
    None,
}

/// A line for each battery of the stations at the member's posts: `Your battery: Shelter pack, 100 Ah, lasts 15.7 h sending 10 %; change at Sat
/// 18:33`. Whoever has a duty and no battery in the plan is told so.
pub(super) fn own_battery(view: &View<'_>) -> OwnBattery {
    let plan = view.plan();
    let duties = view.own_duties();
    if duties.is_empty() {
        return OwnBattery::None;
    }
    let clock = Clock::of(plan);
    let own: BTreeSet<&str> = duties.iter().map(|duty| duty.post.as_str()).collect();
    let is_own = |station: &&Station| station.posts.iter().any(|post| own.contains(post.as_str()));
    let mut lines = Vec::new();
    for station in plan.stations.iter().filter(is_own) {
        let here = duties.iter().filter(|duty| station.posts.iter().any(|post| post.value == duty.post.value));
        let period = |duty: &&Duty| Period { from: clock.instant(duty.from.value), to: clock.instant(duty.to.value) };
        let mut periods: Vec<Period> = here.map(period).collect();
        periods.sort_by_key(|period| (period.from, period.to));
        for budget in budgets(plan, station, &Wiring::of(plan, station)) {
            lines.push(line(clock, station, &budget, &periods));
        }
    }
    if lines.is_empty() { OwnBattery::Unknown("not in the plan") } else { OwnBattery::Lines(lines) }
}

fn line(clock: Clock, station: &Station, budget: &PowerBudget<'_>, periods: &[Period]) -> Text {
    let (lasts, change) = lasts_and_change(station, budget);
    let name = &budget.battery.name;
    let text = Text::strong("Your battery: ", name.span).then(format!("{}, {lasts}", name.value));
    let Some(minutes) = budget.minutes() else { return text.then(": change it early") };
    // Each duty begins on a full one: that is what whoever hands over is asked for.
    let times: Vec<String> =
        periods.iter().flat_map(|period| changes(*period, minutes)).map(|at| short_time(clock, at)).collect();
    match (times.as_slice(), change) {
        ([], _) => text.then("; full at the start, no change in a duty"),
        (times, _) if times.len() <= MOST => text.then_strong(format!("; change at {}", times.join(", "))),
        (_, change) => text.then_strong(format!("; change every {}", hours(change.unwrap_or_default()))),
    }
}

/// More hours of change than these are told as how often.
const MOST: usize = 3;
