//! What a member's own copy says of the battery that the member's station runs on.

use super::block::Text;
use super::duty_words::short_time;
use super::power_words::{hours, lasts_and_change, stood};
use crate::audience::View;
use crate::plan::{Clock, Duty, Instant, Period, Station};
use crate::reckon::{PowerBudget, Wiring, budgets, changes, runs};
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
        // A run goes on over reliefs: the battery is that of whoever stood before.
        let runs = runs(&stood(view, station));
        let of_run = |period: &Period| {
            let run = runs.iter().find(|run| run.from <= period.from && period.to <= run.to);
            (run.copied().unwrap_or(*period), *period)
        };
        let stretches: Vec<(Period, Period)> = self::runs(&periods).iter().map(of_run).collect();
        for budget in budgets(plan, station, &Wiring::of(plan, station)) {
            lines.push(line(clock, station, &budget, &stretches));
        }
    }
    if lines.is_empty() { OwnBattery::Unknown("not in the plan") } else { OwnBattery::Lines(lines) }
}

/// What is said of a battery in the stretches of somebody's duties, each with the run that it is part of.
fn line(clock: Clock, station: &Station, budget: &PowerBudget<'_>, stretches: &[(Period, Period)]) -> Text {
    let (lasts, change) = lasts_and_change(station, budget);
    let name = &budget.battery.name;
    let text = Text::strong("Your battery: ", name.span).then(format!("{}, {lasts}", name.value));
    let Some(minutes) = budget.minutes() else { return text.then(": change it early") };
    let told = |times: &[Instant]| times.iter().map(|at| short_time(clock, *at)).collect::<Vec<_>>().join(", ");
    let times: Vec<Instant> = stretches.iter().flat_map(|(run, stretch)| changes(*run, *stretch, minutes)).collect();
    let begun: Vec<Instant> = stretches.iter().map(|(run, _)| run.from).collect::<BTreeSet<_>>().into_iter().collect();
    let is_first = stretches.iter().all(|(run, stretch)| run.from == stretch.from);
    match (times.as_slice(), change) {
        ([], _) if is_first || begun.len() > MOST => text.then("; full at the start, no change in a duty"),
        ([], _) => text.then(format!("; full at {}, no change in a duty", told(&begun))),
        (times, _) if times.len() <= MOST => text.then_strong(format!("; change at {}", told(times))),
        (_, change) => text.then_strong(format!("; change every {}", hours(change.unwrap_or_default()))),
    }
}

/// More hours of change than these are told as how often.
const MOST: usize = 3;
