//! What a station draws of its battery, for how long it runs, and what the sun brings back.

use super::battery::{average_of, left_by_age, left_by_cold, minutes, usable, usual_share};
use super::radiation::{day_of_sun, panel_gives};
use super::{Stand, WiredPart, Wiring};
use crate::ground::{Charge, Current, Day, Lapse, Position, Power, Share};
use crate::plan::{Battery, Clock, Instant, PartKind, Period, Place, Plan, Station, StationPart};
use std::collections::{BTreeMap, BTreeSet};

/// For how much of the time radios send where nothing is said: a quarter, as in a busy net (common practice, no source).
pub const USUAL_SENDING: Share = Share::grains(250);

/// What a part draws of its source.
#[derive(Clone, Copy, Debug)]
pub struct Draw<'a> {
    /// The part.
    pub part: &'a StationPart,
    /// While it waits.
    pub idle: Current,
    /// While somebody is heard.
    pub receiving: Current,
    /// While it sends.
    pub sending: Current,
    /// While it sends with low power.
    pub low: Option<Current>,
    /// On the average.
    pub average: Current,
}

/// What hangs on one battery.
pub struct PowerBudget<'a> {
    /// The battery.
    pub battery: &'a Battery,
    /// The part that it is.
    pub part: &'a StationPart,
    /// What can be drawn of it; none where it is too cold to say.
    pub usable: Option<Charge>,
    /// What is drawn, the most first.
    pub draws: Vec<Draw<'a>>,
    /// Loads of which no current is known, so that they are not counted.
    pub unknown: Vec<&'a StationPart>,
    /// The power of the panels that charge it: of one that charges several batteries an equal part.
    pub panels: Option<Power>,
}

impl PowerBudget<'_> {
    /// What is drawn on the average.
    #[must_use]
    pub fn average(&self) -> Current {
        sum(self.draws.iter().map(|draw| draw.average))
    }

    /// The same with another share of sending, with full or with low power. Radios that have no low power send with all of it.
    #[must_use]
    pub fn average_at(&self, shares: (Share, Share), is_low: bool) -> Current {
        let of = |draw: &Draw<'_>| {
            let sending = if is_low { draw.low.unwrap_or(draw.sending) } else { draw.sending };
            used(draw.part, average_of([draw.idle, draw.receiving, sending], shares))
        };
        sum(self.draws.iter().map(of))
    }

    /// For how many minutes it lasts; none where it is too cold to say.
    #[must_use]
    pub fn minutes(&self) -> Option<i64> {
        self.usable.map(|charge| minutes(charge, self.average()))
    }

    /// The same with another share of sending.
    #[must_use]
    pub fn minutes_at(&self, shares: (Share, Share), is_low: bool) -> Option<i64> {
        self.usable.map(|charge| minutes(charge, self.average_at(shares, is_low)))
    }

    /// How many minutes more it lasts without one of its draws, of what is drawn in all.
    #[must_use]
    pub fn gain_without(&self, draw: &Draw<'_>, all: Current) -> Option<i64> {
        let rest = Current::grains(all.as_grains().saturating_sub(draw.average.as_grains()));
        let usable = self.usable?;
        Some(minutes(usable, rest) - minutes(usable, all))
    }

    /// Watt-hours that are drawn in a day.
    #[must_use]
    pub fn daily(&self) -> i64 {
        watt_hours(self.average().as_grains().saturating_mul(24), self.battery)
    }

    /// Watt-hours that can be drawn of the battery.
    #[must_use]
    pub fn held(&self) -> Option<i64> {
        self.usable.map(|charge| watt_hours(charge.as_grains(), self.battery))
    }
}

/// Thousandths of ampere-hours at a battery's voltage, in watt-hours.
fn watt_hours(charge: i64, battery: &Battery) -> i64 {
    let micro = i128::from(charge) * i128::from(battery.nominal().as_grains());
    i64::try_from(micro / 1_000_000).unwrap_or(i64::MAX)
}

fn sum(currents: impl Iterator<Item = Current>) -> Current {
    Current::grains(currents.fold(0, |sum, current| sum.saturating_add(current.as_grains())))
}

fn used(part: &StationPart, current: Current) -> Current {
    let share = part.used.map_or(1000, |share| share.value.as_grains());
    Current::grains(current.as_grains().saturating_mul(share).saturating_add(999) / 1000)
}

/// For how much of the time a station's radios send and hear somebody speak.
#[must_use]
pub fn shares(station: &Station) -> (Share, Share) {
    let sending = station.sending.map_or(USUAL_SENDING, |share| share.value);
    // Nobody hears while sending: what is not sent is heard at most.
    let rest = Share::grains(1000 - sending.as_grains().clamp(0, 1000));
    (sending, station.receiving.map_or(sending, |share| share.value).min(rest))
}

/// How many full years a battery is old on a day.
#[must_use]
pub fn years(battery: &Battery, on: Day) -> u8 {
    let days = battery.since.map_or(0, |since| on.days_since(since.value)).max(0);
    u8::try_from(days / 365).unwrap_or(u8::MAX)
}

/// What is left of a battery's rated capacity by cold and by age, in thousandths.
#[must_use]
pub fn left(battery: &Battery, on: Day) -> (Option<i64>, i64) {
    (left_by_cold(coldest(battery)), left_by_age(battery.made_of(), years(battery, on)))
}

fn coldest(battery: &Battery) -> crate::ground::Celsius {
    battery.coldest.map_or(crate::ground::Celsius::grains(250), |at| at.value)
}

/// What can be drawn of a battery on a day; none where it is too cold to say.
#[must_use]
pub fn usable_on(battery: &Battery, on: Day) -> Option<Charge> {
    usable_of(battery, battery.capacity.value, on)
}

/// The same, were it rated at another capacity.
pub(super) fn usable_of(battery: &Battery, capacity: Charge, on: Day) -> Option<Charge> {
    let chemistry = battery.made_of();
    let share = battery.usable.map_or(usual_share(chemistry), |share| share.value);
    usable(capacity, share, chemistry, (coldest(battery), years(battery, on)))
}

/// What hangs on each battery of a station, in the order of its batteries.
#[must_use]
pub fn budgets<'a>(plan: &'a Plan, station: &'a Station, wiring: &Wiring<'a>) -> Vec<PowerBudget<'a>> {
    let Some(on) = plan.edition.as_ref().map(|edition| edition.issued.value) else { return Vec::new() };
    let mut budgets: BTreeMap<usize, PowerBudget<'a>> = BTreeMap::new();
    let mut panels_of: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    for (at, node) in wiring.nodes.iter().enumerate() {
        let battery = node.part.battery.as_ref().and_then(|id| plan.batteries.get(&id.value));
        if let Some(battery) = battery.filter(|_| node.part.kind.value == PartKind::Battery) {
            panels_of.insert(at, panels(wiring, node));
            let (draws, unknown) = (Vec::new(), Vec::new());
            let own =
                PowerBudget { battery, part: node.part, usable: usable_on(battery, on), draws, unknown, panels: None };
            budgets.insert(at, own);
        }
    }
    for node in &wiring.nodes {
        let Some(budget) = node.source.and_then(|source| budgets.get_mut(&source)) else { continue };
        if node.part.kind.value.is_source() {
            continue;
        }
        let at = |current: Current| wiring.at_source(node, current);
        let waits = node.part.idle.map(|current| current.value);
        let hears = node.part.receiving.map(|current| current.value).or(waits);
        let sends = node.part.sending.map(|current| current.value).or(waits);
        let [idle, receiving, sending] = [waits, hears, sends].map(|current| at(current.unwrap_or(Current::grains(0))));
        if waits.or(hears).or(sends).is_none() {
            if node.part.kind.value.is_load() {
                budget.unknown.push(node.part);
            }
            continue;
        }
        let low = node.part.sending_low.map(|current| at(current.value));
        let average = used(node.part, average_of([idle, receiving, sending], shares(station)));
        budget.draws.push(Draw { part: node.part, idle, receiving, sending, low, average });
    }
    let mut powers = shared(wiring, &panels_of);
    for (at, budget) in &mut budgets {
        budget.panels = powers.remove(at);
        budget.draws.sort_by_key(|draw| std::cmp::Reverse(draw.average));
    }
    budgets.into_values().collect()
}

/// All panels that lead to what charges a battery, each once.
fn panels(wiring: &Wiring<'_>, battery: &WiredPart<'_>) -> BTreeSet<usize> {
    let (mut seen, mut panels) = (BTreeSet::new(), BTreeSet::new());
    for charger in battery.feeders() {
        let mut at = charger;
        // Nothing is followed twice, so a circle has an end.
        while seen.insert(at) {
            // What another battery holds is not counted as the sun's.
            let node = wiring.nodes.get(at).filter(|node| node.part.kind.value != PartKind::Battery);
            let Some(node) = node else { break };
            if node.part.kind.value == PartKind::Panel {
                panels.insert(at);
            }
            let Some(next) = node.feeder else { break };
            at = next;
        }
    }
    panels
}

/// The power of the panels of each battery: one that charges several gives each an equal part.
fn shared(wiring: &Wiring<'_>, panels: &BTreeMap<usize, BTreeSet<usize>>) -> BTreeMap<usize, Power> {
    let mut batteries: BTreeMap<usize, u64> = BTreeMap::new();
    panels.values().flatten().for_each(|panel| *batteries.entry(*panel).or_default() += 1);
    let gives = |panel: &usize| {
        let power = wiring.nodes.get(*panel).and_then(|node| node.part.power);
        let all = power.map_or(0, |power| power.value.as_milliwatts());
        all / batteries.get(panel).copied().unwrap_or(1).max(1)
    };
    let sums = panels.iter().map(|(at, own)| (*at, own.iter().map(gives).fold(0, u64::saturating_add)));
    sums.filter(|(_, sum)| *sum > 0).map(|(at, sum)| (at, Power::milliwatts(sum))).collect()
}

/// More changes in a duty than these are a battery that is too small for it.
const MOST_CHANGES: i64 = 24;

/// When a battery is changed in a period of a run: full when the run begins, changed each time a fifth of what lasts for so many minutes is
/// left. None where it lasts longer.
#[must_use]
pub fn changes(run: Period, period: Period, lasts: i64) -> Vec<Instant> {
    let each = lasts / 5 * 4;
    if each <= 0 {
        return Vec::new();
    }
    let (before, end) = (run.from.minutes_to(period.from).max(0), run.from.minutes_to(period.to));
    let first = ((before + each - 1) / each).max(1);
    let times = (first..first + MOST_CHANGES).map(|n| each.saturating_mul(n)).take_while(|after| *after < end);
    times.map(|after| run.from.after(after)).collect()
}

/// Where a station stands: where it says, else where its first post is.
#[must_use]
pub fn place_of<'a>(plan: &'a Plan, station: &Station) -> Option<&'a Place> {
    let of_post = || station.posts.iter().find_map(|post| plan.posts.get(&post.value)?.place.as_ref());
    plan.places.get(&station.place.as_ref().or_else(of_post)?.value)
}

/// What the sun brings back in a day at a station's place: under cloud and in a clear sky, in watt-hours.
#[must_use]
pub fn returned(panels: Power, at: &Position, day: Day) -> Option<(i64, i64)> {
    let sun = day_of_sun(at, day)?;
    Some((panel_gives(panels, sun.overcast), panel_gives(panels, sun.clear)))
}

/// The day that the sun is reckoned for: on which the incident begins, else from which the edition holds.
#[must_use]
pub fn day_of_plan(plan: &Plan) -> Option<Day> {
    let clock = Clock::of(plan);
    let incident = plan.incident.as_ref().map(|incident| clock.day(clock.instant(incident.from.value)));
    incident.or_else(|| plan.edition.as_ref().map(|edition| edition.valid_from.value))
}

/// The longest duty at each post.
pub struct LongestStands<'a>(BTreeMap<&'a str, Stand<'a>>);

impl<'a> LongestStands<'a> {
    /// Of all duties of a plan; of several that are as long the last.
    #[must_use]
    pub fn of(stands: &[Stand<'a>]) -> Self {
        let mut longest: BTreeMap<&str, Stand<'a>> = BTreeMap::new();
        for stand in stands {
            let known = longest.entry(stand.duty.post.as_str()).or_insert(*stand);
            if length(known) <= length(stand) {
                *known = *stand;
            }
        }
        Self(longest)
    }
}

fn length(stand: &Stand<'_>) -> i64 {
    stand.period.from.minutes_to(stand.period.to)
}

/// How long a station must run: what it says, else its longest duty, with that duty.
#[must_use]
pub fn needed<'a>(station: &Station, longest: &LongestStands<'a>) -> Option<(i64, Option<Stand<'a>>)> {
    if let Some(hours) = station.hours {
        return Some((minutes_of(hours.value), None));
    }
    let own = station.posts.iter().filter_map(|post| longest.0.get(post.as_str()));
    let longest = own.max_by_key(|stand| (length(stand), stand.period))?;
    Some((length(longest), Some(*longest)))
}

fn minutes_of(lapse: Lapse) -> i64 {
    i64::try_from(lapse.as_seconds().div_ceil(60)).unwrap_or(i64::MAX)
}
