//! What the sheets about power, fields and paths have in common: hours in words, what was taken where the plan is silent, cautions.

use super::block::{Block, Paragraph, Role, Text};
use super::duty_words::short_time;
use crate::audience::{Holder, View};
use crate::ground::{Celsius, Current, Decimal, Share, Span, Voltage};
use crate::plan::{Battery, Chemistry, Clock, Duty, PartCable, Period, Place, Station};
use crate::reckon::{PowerBudget, changes, left, place_of, runs, usable_on, usual_share, years};

/// Beside whatever is said of batteries (common practice, no source).
pub(super) const BATTERY_CAUTION: &str = "Batteries: a fuse as near to the battery as it can be; tools and rings away from the poles; never two kinds or ages together; lead-acid \
     only where air moves; lithium iron phosphate is not charged below 0 °C. Generators stand outside, away from doors and windows. What makers, \
     the site's staff and local codes say comes first; mains wiring is for licensed electricians.";

/// Beside whatever is said of cables.
pub(super) const CABLE_CAUTION: &str = "A fuse protects the wire: no larger than the makers of the wire and of the equipment say. How much a wire carries depends on its \
     insulation, its heat and where it lies, and is not reckoned here. Losses are the least: copper at 20 °C by the gauge (ASTM B258, IEC 60028, from \
     memory). Crimps, heat and age take more: measure at the radio while it sends.";

/// A small paragraph.
pub(super) fn small(words: impl Into<String>) -> Block {
    Block::Paragraph(Paragraph { text: Text::own(words), role: Role::Small })
}

/// A paragraph.
pub(super) fn body(text: Text) -> Block {
    Block::Paragraph(Paragraph { text, role: Role::Body })
}

/// A warning in words.
pub(super) fn warning(words: impl Into<String>) -> Block {
    Block::Paragraph(Paragraph { text: Text::strong(words, Span::NOWHERE), role: Role::Warning })
}

/// `16.1 h`, rounded down; days from four of them on.
pub(super) fn hours(minutes: i64) -> String {
    match minutes {
        n if n >= 365 * 24 * 60 => "a year or more".to_owned(),
        n if n >= 4 * 24 * 60 => format!("{}.{} days", n / 1440, n % 1440 / 144),
        n => format!("{}.{} h", n / 60, n % 60 / 6),
    }
}

/// `12.61 V`, rounded down: what is left is never said to be more.
pub(super) fn volts(voltage: Voltage) -> String {
    let hundredths = voltage.as_grains().div_euclid(10);
    if hundredths < 0 { "nothing".to_owned() } else { format!("{}.{:02} V", hundredths / 100, hundredths % 100) }
}

/// `17.08 A`, rounded up: what is drawn is never said to be less.
pub(super) fn amperes(current: Current) -> String {
    let hundredths = current.as_grains().saturating_add(9) / 10;
    format!("{} A", Decimal::print(hundredths, 100, 0))
}

/// `lithium iron phosphate`.
const fn made_of(chemistry: Chemistry) -> &'static str {
    match chemistry {
        Chemistry::LeadAcid => "lead-acid",
        Chemistry::LithiumIronPhosphate => "lithium iron phosphate",
    }
}

/// How long a cable is, and of what wire.
pub(super) fn cable_words(cable: &PartCable) -> String {
    match (cable.wire, cable.length) {
        (Some(wire), Some(length)) => format!("{} of {}", length.value, wire.value),
        (Some(wire), None) => format!("{}, length not given", wire.value),
        (None, Some(length)) => format!("{}, wire not given", length.value),
        (None, None) => "wire not given".to_owned(),
    }
}

/// What a battery holds, what of it is used, and why: with what was taken where the plan is silent.
pub(super) fn battery_words(view: &View<'_>, battery: &Battery) -> Text {
    let chemistry = battery.made_of();
    let text = Text::plain(format!("{} rated, ", battery.capacity.value), battery.capacity.span);
    let text = match &battery.chemistry {
        Some(written) => text.then(made_of(written.value)),
        None => text.then_strong("chemistry not given: lead-acid"),
    };
    let text = text.then(format!(", {} nominal. ", battery.nominal()));
    let Some(on) = view.plan().edition.as_ref().map(|edition| edition.issued.value) else { return text };
    let share = battery.usable.map_or(usual_share(chemistry), |share| share.value);
    let (cold, age) = left(battery, on);
    let aged = match battery.since {
        Some(_) => format!("{} left after {} full years", Share::grains(age), years(battery, on)),
        None => "age not given: as new".to_owned(),
    };
    let chilled = match (battery.coldest, cold) {
        (Some(at), Some(cold)) => format!("{} left at {}", Share::grains(cold), at.value),
        (Some(at), None) => format!("not known at {}", at.value),
        (None, _) => "temperature not given: 25 °C".to_owned(),
    };
    let usable = match usable_on(battery, on) {
        Some(usable) => format!("{usable} can be used"),
        None => "nobody can say what can be used of it".to_owned(),
    };
    text.then(format!("{share} is used; {chilled}; {aged}. ")).then_strong(usable).then(".")
}

/// `20 Ah, lasts 10.1 h sending 25 %, change after 8.0 h`: what whoever stands there asks, with what was taken where the plan is silent.
pub(super) fn lasts_words(station: &Station, budget: &PowerBudget<'_>) -> String {
    let (lasts, change) = lasts_and_change(station, budget);
    match change {
        Some(change) => format!("{lasts}, change after {}", hours(change)),
        None => lasts,
    }
}

/// The same, and after how many minutes to change it apart: none where nobody knows.
pub(super) fn lasts_and_change(station: &Station, budget: &PowerBudget<'_>) -> (String, Option<i64>) {
    let (sends, _) = crate::reckon::shares(station);
    let share = if station.sending.is_none() { "a quarter (not given)".to_owned() } else { sends.to_string() };
    let made = if budget.battery.chemistry.is_none() { ", taken as lead-acid" } else { "" };
    let capacity = format!("{}{made}", budget.battery.capacity.value);
    let Some(lasts) = budget.minutes() else {
        return (format!("{capacity}, hours not known: too cold"), None);
    };
    let uncounted = match budget.unknown.as_slice() {
        [] => String::new(),
        [only] => format!(" without {}, whose current is not given", only.name.value),
        some => format!(" without {} parts whose current is not given", some.len()),
    };
    let most = if uncounted.is_empty() { "lasts" } else { "lasts at most" };
    (format!("{capacity}, {most} {} sending {share}{uncounted}", hours(lasts)), Some(lasts / 5 * 4))
}

/// Of a battery that is charged in a cold that spoils it (common practice, no source: cells that are charged frozen are lost, and may burn).
pub(super) fn charged_cold(budget: &PowerBudget<'_>) -> Option<Block> {
    let coldest = budget.battery.coldest?;
    let is_charged = budget.part.from.is_some() || !budget.part.charged_by.is_empty();
    let is_spoiled = budget.battery.made_of() == Chemistry::LithiumIronPhosphate && coldest.value < Celsius::grains(0);
    (is_charged && is_spoiled).then(|| {
        warning(format!(
            "Used down to {}: do not charge it while it is below 0 \u{b0}C, by a panel either. Unplug what charges it, or keep it warm.",
            coldest.value
        ))
    })
}

/// More duties than these are read on the duty sheet.
const MOST_DUTIES: usize = 6;

/// When people stand at the posts of a station, in order of time, as far as this copy may know.
pub(super) fn stood(view: &View<'_>, station: &Station) -> Vec<Period> {
    let clock = Clock::of(view.plan());
    let period = |duty: &Duty| Period { from: clock.instant(duty.from.value), to: clock.instant(duty.to.value) };
    let posts = station.posts.iter();
    let mut periods: Vec<Period> = posts
        .flat_map(|post| view.duties_at(&post.value))
        .map(period)
        .filter(|period| period.from < period.to)
        .collect();
    periods.sort_by_key(|period| (period.from, period.to));
    periods.dedup();
    periods
}

/// When a battery that lasts for so many minutes is changed, for each duty in which it is: `Sat 06:00 to Sat 18:00: change at Sat 14:04`.
pub(super) fn change_lines(view: &View<'_>, station: &Station, lasts: i64) -> Vec<Text> {
    let clock = Clock::of(view.plan());
    let periods = stood(view, station);
    let runs = runs(&periods);
    let line = |period: Period| {
        let run = runs.iter().find(|run| run.from <= period.from && period.to <= run.to)?;
        let times: Vec<String> = changes(*run, period, lasts).into_iter().map(|at| short_time(clock, at)).collect();
        let duty = format!("{} to {}: ", short_time(clock, period.from), short_time(clock, period.to));
        (!times.is_empty()).then(|| Text::own(duty).then_strong(format!("change at {}", times.join(", "))))
    };
    periods.into_iter().filter_map(line).take(MOST_DUTIES).collect()
}

/// The stations that a copy is about: all, or those of its place, or of its member's posts.
pub(super) fn stations<'a>(view: &View<'a>) -> Vec<&'a Station> {
    let plan = view.plan();
    let is_wanted = |station: &&Station| match view.holder() {
        Some(Holder::Message(_)) | None => true,
        Some(Holder::Place(own)) => place_of(plan, station).is_some_and(|place| place.id.value == own.id.value),
        Some(Holder::Member(_)) => {
            let mut duties = view.own_duties().into_iter();
            duties.any(|duty| station.posts.iter().any(|post| post.value == duty.post.value))
        }
    };
    plan.stations.iter().filter(is_wanted).collect()
}

/// The places that a copy is about: all, or its own.
pub(super) fn places<'a>(view: &View<'a>) -> Vec<&'a Place> {
    let is_wanted = |place: &&Place| match view.holder() {
        Some(Holder::Place(own)) => own.id.value == place.id.value,
        _ => true,
    };
    view.plan().places.iter().filter(is_wanted).collect()
}

/// The words for the shares of sending and of hearing that a station is reckoned with.
pub(super) fn shares_words(station: &Station) -> String {
    let (sending, receiving) = crate::reckon::shares(station);
    let why = if station.sending.is_none() { " (not given: a quarter)" } else { "" };
    format!("radios send {sending} of the time{why} and hear somebody {receiving} of it")
}

#[cfg(test)]
mod tests {
    use super::{amperes, hours, volts};
    use crate::ground::{Current, Voltage};

    #[test]
    fn what_is_left_is_rounded_down_and_never_less_than_nothing() {
        let said = [12_612, 12_999, 19_000, 5, -300].map(|grains| volts(Voltage::grains(grains)));
        let drawn = [17_074, 9000, 1, 0].map(|grains| amperes(Current::grains(grains)));
        assert_eq!(drawn, ["17.08 A", "9 A", "0.01 A", "0 A"]);
        assert_eq!(said, ["12.61 V", "12.99 V", "19.00 V", "0.00 V", "nothing"]);
    }

    #[test]
    fn hours_are_rounded_down() {
        assert_eq!([hours(606), hours(970), hours(59)], ["10.1 h", "16.1 h", "0.9 h"]);
        assert_eq!([hours(5760), hours(525_600)], ["4.0 days", "a year or more"]);
    }
}
