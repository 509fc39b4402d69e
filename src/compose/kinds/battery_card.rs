//! How long each battery runs what hangs on it, by how much is sent and with how much power.

use crate::audience::View;
use crate::compose::block::{Block, Column, Role, Row, Section, Text};

use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::power_words::{
    BATTERY_CAUTION, battery_words, body, change_lines, charged_cold, hours, small, stations, warning,
};
use crate::ground::{Audience, Share, Span, hours_words};
use crate::plan::{Chemistry, Each, Station, subject};
use crate::reckon::{LongestStands, PowerBudget, RESTED, Wiring, budgets, needed, place_of, shares, stands};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "battery-card",
    title: "Battery card",
    about: "how long each battery runs its station by share of sending and by power, when to change it, and what its resting voltage tells",
    layout: "fold-8",
    each: &[Each::Once, Each::Place, Each::Member],
    widest: Audience::Public,
    sections: &["battery", "no-battery"],
    tables: &[&HOURS, &VOLTAGES],
    compose: Compose::View(compose),
};

/// Hours by how much is sent.
const HOURS: TableKind = TableKind {
    key: "battery-hours",
    columns: &[
        Column::must("sent", "sends", Role::Body),
        Column::must("full", "full power", Role::Body),
        Column::may("low", "low power", Role::Body).where_used(),
    ],
    set: UsualSet::Rows { left: &["sent"], right: &["full", "low"], below: &[], above: (&[], &[]), like: None },
};

/// What is left by resting voltage.
const VOLTAGES: TableKind = TableKind {
    key: "rested",
    columns: &[Column::must("volts", "rested some hours", Role::Body), Column::must("charge", "is left", Role::Body)],
    set: UsualSet::Rows { left: &["volts"], right: &["charge"], below: &[], above: (&[], &[]), like: None },
};

/// What the two columns are.
const LOW: &str =
    "Hours until it is empty: with radios set to full power, and with those set to low power that have it.";

/// Shares of sending that are told, in thousandths: from one who listens to net control.
const SENT: [i64; 5] = [50, 100, 250, 500, 1000];

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
        sections.push(Section { key: "no-battery", title: Text::own("Batteries"), blocks });
    }
    if let Some(last) = sections.last_mut() {
        last.blocks.push(small(BATTERY_CAUTION));
    }
    sections
}

fn section(view: &View<'_>, station: &Station, budget: &PowerBudget<'_>, needed: Option<i64>) -> Section {
    let mut blocks = vec![body(stands_at(view, station)), body(battery_words(view, budget.battery))];
    let (own, heard) = shares(station);
    let has_low = budget.draws.iter().any(|draw| draw.low.is_some());
    let mut told: Vec<i64> = SENT.into_iter().chain([own.as_grains()]).collect();
    told.sort_unstable();
    told.dedup();
    let row = |sent: &i64| {
        let sent = Share::grains(*sent);
        // The more one sends the less is heard; where the plan does not say, as much is heard as sent.
        let shares = (sent, station.receiving.map_or(sent, |_| heard));
        let lasts = |is_low| budget.minutes_at(shares, is_low).map_or_else(|| "not known".to_owned(), hours);
        let planned = if sent == own { ", as planned" } else { "" };
        let mut cells = vec![
            HOURS.cell("sent", Text::strong(sent.to_string(), Span::NOWHERE).then(planned)),
            HOURS.cell("full", Text::own(if has_low { format!("{} full", lasts(false)) } else { lasts(false) })),
        ];
        if has_low {
            cells.push(HOURS.cell("low", Text::own(format!("{} low", lasts(true)))));
        }
        Row { label: String::new(), record: Some(subject(station)), span: station.span, cells }
    };
    blocks.push(HOURS.of(told.iter().map(row).collect(), ""));
    if has_low {
        blocks.push(small(LOW));
    }
    blocks.push(change(budget, needed));
    let lines = budget.minutes().map_or_else(Vec::new, |lasts| change_lines(view, station, lasts));
    blocks.extend(lines.into_iter().map(body));
    if !budget.unknown.is_empty() {
        let names: Vec<&str> = budget.unknown.iter().map(|part| part.name.as_str()).collect();
        blocks.push(warning(format!("Not counted, since no current is given: {}.", names.join(", "))));
    }
    blocks.extend(charged_cold(budget));
    blocks.push(voltage(budget));
    let title = format!("{} of {}", budget.battery.name.value, station.name.value);
    Section { key: "battery", title: Text::plain(title, budget.battery.name.span), blocks }
}

/// `At North High, for North High radio`: which of two cards is whose.
fn stands_at(view: &View<'_>, station: &Station) -> Text {
    let plan = view.plan();
    let place = place_of(plan, station).map(|place| Text::plain(place.tactical.as_str(), place.tactical.span));
    let at = match place {
        Some(place) => Text::own("At ").then_text(place),
        None => Text::strong("Where it stands is UNKNOWN", station.span),
    };
    let posts: Vec<&str> =
        station.posts.iter().filter_map(|id| plan.posts.get(id)).map(|post| post.name.as_str()).collect();
    match posts.is_empty() {
        true => at.then(", for no post of the plan."),
        false => at.then(format!(", for {}.", posts.join(", "))),
    }
}

/// When to change it: while a fifth is left (common practice, no source).
fn change(budget: &PowerBudget<'_>, needed: Option<i64>) -> Block {
    let Some(lasts) = budget.minutes() else {
        return warning("Too cold to say how long it lasts: keep it warm, and change it early.");
    };
    let text = Text::strong(format!("Change it after {}", hours(lasts / 5 * 4)), budget.battery.name.span)
        .then(", while a fifth is left.");
    body(match needed {
        None => text,
        Some(needed) => text.then(format!(" Needed at a time: {}.", hours_words(needed))),
    })
}

/// What its resting voltage tells, of lead-acid of six cells alone.
fn voltage(budget: &PowerBudget<'_>) -> Block {
    if budget.battery.made_of() == Chemistry::LithiumIronPhosphate {
        return body(Text::own(
            "Voltage does not tell what is left: it is nearly the same from full to empty. Count hours.",
        ));
    }
    if budget.battery.nominal().as_grains() != 12_000 {
        return body(Text::own("Voltage rested tells what is left as its maker says."));
    }
    let row = |(volts, charge): &(crate::ground::Voltage, u8)| Row {
        label: String::new(),
        record: None,
        span: budget.battery.span,
        cells: vec![
            VOLTAGES.cell("volts", Text::strong(volts.to_string(), Span::NOWHERE)),
            VOLTAGES.cell("charge", Text::own(format!("{charge} % left"))),
        ],
    };
    VOLTAGES.of(RESTED.iter().map(row).collect(), "")
}
