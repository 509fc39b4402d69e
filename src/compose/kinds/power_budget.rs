//! What each part of a station takes of its battery, what to switch off first, and what the sun brings back.

use crate::audience::View;
use crate::compose::block::{Block, Column, Role, Row, Section, Text};

use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::power_words::{
    BATTERY_CAUTION, battery_words, body, change_lines, charged_cold, hours, shares_words, small, stations, warning,
};
use crate::compose::sun_words::sun_at;
use crate::compose::to_write::rows_to_write;
use crate::ground::{Audience, Current, Decimal, Share, hours_words};
use crate::plan::{Clock, Each, Period, Station, subject};
use crate::reckon::{
    LongestStands, PowerBudget, Wiring, budgets, day_of_plan, left, needed, place_of, returned, shares, stands,
    usual_share,
};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "power-budget",
    title: "Power budget",
    about: "what each load takes of its battery by duty cycle, hours on the battery, what to switch off first and what that gains, and what a panel brings back",
    layout: "full",
    each: &[Each::Once, Each::Place],
    widest: Audience::Public,
    sections: &["budget", "no-budget"],
    tables: &[&BUDGET],
    compose: Compose::View(compose),
};

/// What hangs on a battery.
const BUDGET: TableKind = TableKind {
    key: "budget",
    columns: &[
        Column::must("load", "load", Role::Name),
        Column::must("idle", "idle, A", Role::Body),
        Column::must("hears", "hears, A", Role::Body),
        Column::must("sends", "sends, A", Role::Body),
        Column::must("average", "average, A", Role::Body),
        Column::must("part", "of all", Role::Body),
        Column::must("gain", "switched off gains", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// What is read at the battery while the station runs: so one sees in time that it is drawn on faster than the plan says.
const READ: [(&str, u8); 6] =
    [("day, time", 12), ("volts, waits", 9), ("volts, sends", 9), ("amperes", 8), ("what is on", 14), ("by", 8)];

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let longest = LongestStands::of(&stands(plan));
    let mut sections = Vec::new();
    for station in stations(view) {
        let need = needed(station, &longest).map(|(minutes, _)| minutes);
        for budget in budgets(plan, station, &Wiring::of(plan, station)) {
            sections.push(section(view, station, &budget, need));
        }
    }
    if sections.is_empty() {
        let blocks = vec![body(Text::own("No station here runs on a battery, by what the plan says."))];
        sections.push(Section { key: "no-budget", title: Text::own("Power budget"), blocks });
    }
    sections
}

fn section(view: &View<'_>, station: &Station, budget: &PowerBudget<'_>, needed: Option<i64>) -> Section {
    let all = budget.average();
    let drawn = format!(
        "{} on the average at {}: {}. Currents are those at the battery; what an inverter or a converter loses is in them, 15 % where its efficiency is not given.",
        all,
        budget.battery.nominal(),
        shares_words(station)
    );
    let lasts = budget.minutes();
    let runs = match (lasts, needed) {
        (None, _) => Text::strong("Too cold to say how long it runs.", station.span),
        (Some(lasts), None) => {
            Text::strong(format!("Runs {}", hours(lasts)), station.span).then(" without being charged.")
        }
        (Some(lasts), Some(needed)) => Text::strong(format!("Runs {}", hours(lasts)), station.span)
            .then(format!(" without being charged; {} are needed at a time.", hours_words(needed))),
    };
    let mut blocks = vec![body(runs)];
    let lines = lasts.map_or_else(Vec::new, |lasts| change_lines(view, station, lasts));
    blocks.extend(lines.into_iter().map(body));
    blocks.extend([body(Text::own(drawn)), body(battery_words(view, budget.battery))]);
    blocks.push(table(station, budget, all));
    blocks.extend(worked(view, station, budget));
    blocks.extend(first_off(budget));
    if !budget.unknown.is_empty() {
        let names: Vec<&str> = budget.unknown.iter().map(|part| part.name.as_str()).collect();
        blocks.push(warning(format!("Not counted, since no current is given: {}.", names.join(", "))));
    }
    blocks.extend(sun(view, station, budget));
    blocks.extend(charged_cold(budget));
    blocks.push(small(BATTERY_CAUTION));
    blocks.push(rows_to_write("Read while it runs", &READ, 4));
    let title = format!("{} on {}", station.name.value, budget.battery.name.value);
    Section { key: "budget", title: Text::plain(title, station.name.span), blocks }
}

/// How the hours were found, with the figures put in.
fn worked(view: &View<'_>, station: &Station, budget: &PowerBudget<'_>) -> Vec<Block> {
    let (Some(first), Some(on)) =
        (budget.draws.first(), view.plan().edition.as_ref().map(|edition| edition.issued.value))
    else {
        return Vec::new();
    };
    let (sends, hears) = shares(station);
    let waits = Share::grains(1000 - sends.as_grains() - hears.as_grains());
    let used = first.part.used.map_or_else(String::new, |used| format!(", x {} switched on", used.value));
    let average = format!(
        "{}: {} x {waits} waits + {} x {hears} hears + {} x {sends} sends{used} = {}, rounded up. ",
        first.part.name.value, first.idle, first.receiving, first.sending, first.average
    );
    let text = Text::strong("Average = current x share of the time. ", station.span).then(average);
    let (Some(usable), Some(lasts)) = (budget.usable, budget.minutes()) else { return vec![body(text)] };
    let battery = budget.battery;
    let share = battery.usable.map_or(usual_share(battery.made_of()), |share| share.value);
    let (cold, age) = left(battery, on);
    let factors: Vec<String> = [share, Share::grains(cold.unwrap_or_default()), Share::grains(age)]
        .into_iter()
        .filter(|factor| *factor != Share::grains(1000))
        .map(|factor| format!(" x {factor}"))
        .collect();
    let text = text.then_strong("Hours = what can be used / the average: ").then(format!(
        "{}{} = {usable}; {usable} / {} = {}, rounded down.",
        battery.capacity.value,
        factors.concat(),
        budget.average(),
        hours(lasts)
    ));
    vec![
        body(text),
        small(
            "Shares that can be used, cold (1 % less for each degree under 25) and age (lead-acid 4 %, lithium iron phosphate 2 % less a year): common practice, no source. \
             A battery of your own that was measured counts before them.",
        ),
    ]
}

fn table(station: &Station, budget: &PowerBudget<'_>, all: Current) -> Block {
    let amperes = |current: Current| Decimal::print(current.as_grains(), 1000, 3);
    let rows = budget.draws.iter().map(|draw| {
        let thousandths = draw.average.as_grains().saturating_mul(1000) / all.as_grains().max(1);
        let gain = match budget.gain_without(draw, all) {
            _ if draw.part.kind.value.is_on_the_air() => "stays on".to_owned(),
            None => "not known".to_owned(),
            Some(gain) => format!("{} more", hours(gain)),
        };
        let used = draw.part.used.map_or_else(String::new, |used| format!(", on {} of the time", used.value));
        let cell = |key, words: String| BUDGET.cell(key, Text::own(words));
        let cells = vec![
            BUDGET.cell("load", Text::plain(format!("{}{used}", draw.part.name.value), draw.part.name.span)),
            cell("idle", amperes(draw.idle)),
            cell("hears", amperes(draw.receiving)),
            cell("sends", amperes(draw.sending)),
            cell("average", amperes(draw.average)),
            cell("part", format!("{} %", (thousandths + 5) / 10)),
            cell("gain", gain),
        ];
        Row { label: String::new(), record: Some(subject(station)), span: draw.part.name.span, cells }
    });
    BUDGET.of(rows.collect(), "Nothing that draws a known current hangs on it.")
}

/// What to switch off first: what takes the most and is not on the air.
fn first_off(budget: &PowerBudget<'_>) -> Option<Block> {
    let can =
        budget.draws.iter().filter(|draw| !draw.part.kind.value.is_on_the_air() && draw.average > Current::grains(0));
    let names: Vec<&str> = can.map(|draw| draw.part.name.as_str()).collect();
    (!names.is_empty()).then(|| {
        let text = Text::strong("Switch off first: ", budget.battery.span).then(format!("{}.", names.join(", then ")));
        body(text)
    })
}

/// What the sun brings back while the station runs.
fn sun(view: &View<'_>, station: &Station, budget: &PowerBudget<'_>) -> Vec<Block> {
    let Some(panels) = budget.panels else { return Vec::new() };
    let (plan, needs) = (view.plan(), budget.daily());
    let at = place_of(plan, station).and_then(|place| place.position.as_ref());
    let day = day_of_plan(plan);
    let Some((day, (cloudy, clear))) = at.zip(day).and_then(|(at, day)| Some((day, returned(panels, &at.value, day)?)))
    else {
        let words =
            "What the panel brings back is not reckoned: the place has no position, or lies beyond a polar circle.";
        return vec![body(Text::own(words))];
    };
    let lasts = |gives: i64| match budget.held() {
        Some(held) if gives < needs => {
            let minutes = held.saturating_mul(1440) / (needs - gives).max(1);
            format!("goes on for {}", hours(minutes))
        }
        Some(_) => "goes on".to_owned(),
        None => "too cold to say how long it goes on".to_owned(),
    };
    let text = Text::strong(format!("Panel, {panels} for this battery, around {day}: "), station.span).then(format!(
        "{needs} Wh a day are used. Under cloud {cloudy} Wh a day come back: {}. In a clear sky {clear} Wh: {}.",
        lasts(cloudy),
        lasts(clear)
    ));
    let how = "Sun by FAO Irrigation and Drainage Paper 56, equations 21 to 25 and 35, on a level panel; 70 % of it through panel, cables and controller (common \
               practice, no source). Snow, shade of hills and trees, and a panel turned to the sun are not in it.";
    let mut blocks = vec![body(text)];
    let place = place_of(plan, station);
    let begins = Clock::of(plan).begins(day);
    let lines = place.map_or_else(Vec::new, |place| sun_at(view, place, Period { from: begins, to: begins.after(60) }));
    blocks.extend(lines.into_iter().map(body));
    blocks.push(small(how));
    blocks
}
