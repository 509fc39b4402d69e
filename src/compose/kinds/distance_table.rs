//! How far places are from each other, in which direction, and what is lost on the way by distance and height alone.

use crate::audience::View;
use crate::compose::away_words::away;
use crate::compose::block::{Column, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::position_words::position;
use crate::compose::power_words::{body, places, small};
use crate::ground::Power;
use crate::ground::{Audience, Day, Height, plural};
use crate::plan::{Antenna, Channel, Each, Heard, PathTest, Place, Plan, subject};
use crate::reckon::{
    GeodesicWay, MODEL_YEARS, WANTED, declination, end_gain, feed_loss, free_space_loss, over_milliwatt, radio_horizon,
};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "distance-table",
    title: "Distances and bearings",
    about: "from each place to the others: distance, true and magnetic bearing, whether heights alone reach, what is left of a signal, and paths as tested",
    layout: "full",
    each: &[Each::Once, Each::Place],
    widest: Audience::Public,
    sections: &["distances", "no-position"],
    tables: &[&DISTANCES],
    compose: Compose::View(compose),
};

/// The other places.
const DISTANCES: TableKind = TableKind {
    key: "distances",
    columns: &[
        Column::must("place", "to", Role::Name),
        Column::must("away", "away", Role::Body),
        Column::must("true", "true", Role::Body),
        Column::must("magnetic", "by compass", Role::Body),
        Column::must("height", "by height", Role::Body),
        Column::must("margin", "margin", Role::Body),
        Column::must("tested", "as tested", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// The nearest others that are listed, on the sheet of one place and on the sheet of all.
const MOST: (usize, usize) = (40, 12);

/// What the power is where no place limits it: that of a handheld.
const HANDHELD: Power = Power::milliwatts(5000);

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let day = plan.edition.as_ref().map(|edition| edition.valid_from.value);
    let on = plan.channels.iter().filter(|channel| channel.repeater().is_none() && channel.send.is_some());
    let on = on.min_by_key(|channel| (channel.row.map(|row| row.value), channel.id.value.clone()));
    let most = if view.holder().is_some() { MOST.0 } else { MOST.1 };
    let all = places(view).into_iter().filter_map(|place| section(plan, place, (on, day), most));
    let mut sections: Vec<Section> = all.collect();
    if sections.is_empty() {
        let words = "No other place with a position is known: write `position` of the places to have distances.";
        sections.push(Section {
            key: "no-position",
            title: Text::own("Distances"),
            blocks: vec![body(Text::own(words))],
        });
    }
    if let Some(last) = sections.last_mut() {
        last.blocks.push(small(notes(on)));
    }
    sections
}

/// What the figures rest on.
fn notes(on: Option<&Channel>) -> String {
    let margin = on.map_or_else(String::new, |channel| {
        format!(
            " Margin: at {} ({}), {HANDHELD} or as much as the place allows, a half-wave dipole where no gain is given, less loss in free space (ITU-R P.525) and feed lines, \
             over a microvolt at the receiver (common practice): it knows no hill, house or tree, which take 10 to 40 dB (common practice, no source).",
            channel.hear.value.to_mhz(),
            channel.name.value
        )
    });
    format!(
        "Distance and true bearing on WGS 84 (Vincenty, 1975). By compass: the World Magnetic Model WMM2025, {} to {}, at the day from which the edition is valid; cars and iron turn a compass. \
         By height: radio horizon of the highest antennas, 4.12 km x the root of meters (common practice); no hill is known.{margin} A tested path counts before all of it.",
        MODEL_YEARS.0, MODEL_YEARS.1
    )
}

fn section(plan: &Plan, from: &Place, (on, day): (Option<&Channel>, Option<Day>), most: usize) -> Option<Section> {
    let at = from.position.as_ref()?;
    let own = &at.value;
    let others = plan.places.iter().filter(|other| other.id.value != from.id.value);
    let located = others.filter_map(|other| Some((&other.position.as_ref()?.value, other)));
    // On a sphere first, which is quicker: it is never off by a half, so the nearest are among twice as many.
    let mut rough: Vec<_> = located.map(|(at, other)| (own.distance_to(at), &other.id.value, at, other)).collect();
    let more = rough.len().saturating_sub(most);
    if more > 0 {
        rough.sort_by_key(|(far, id, ..)| (*far, *id));
        rough.truncate(2 * most);
    }
    let mut ways: Vec<(GeodesicWay, &Place)> =
        rough.into_iter().filter_map(|(.., at, other)| Some((GeodesicWay::between(own, at)?, other))).collect();
    ways.sort_by(|(one, a), (two, b)| (one.millimeters, &a.id.value).cmp(&(two.millimeters, &b.id.value)));
    ways.truncate(most);
    if ways.is_empty() {
        return None;
    }
    let turn = day.and_then(|day| declination(own, day));
    let rows = ways.iter().map(|(way, other)| row(plan, (from, other, *way), on, turn)).collect();
    let mut blocks = vec![body(position(plan, at).then(".")), DISTANCES.of(rows, "")];
    if more > 0 {
        blocks.push(small(format!("And {} farther away.", plural(more, "place"))));
    }
    let title = format!("Distances from {}", from.tactical.value);
    Some(Section { key: "distances", title: Text::plain(title, from.tactical.span), blocks })
}

fn row(plan: &Plan, (from, to, way): (&Place, &Place, GeodesicWay), on: Option<&Channel>, turn: Option<i32>) -> Row {
    let meters = (way.millimeters + 500) / 1000;
    // Nearer than some meters a bearing leads nowhere.
    let bearing = |hundredths: i32| format!("{:03}°", (hundredths + 50).rem_euclid(36_000) / 100);
    let true_bearing = if meters < 5 { "same place".to_owned() } else { bearing(way.bearing) };
    let magnetic = match turn {
        _ if meters < 5 => "same place".to_owned(),
        Some(turn) => bearing((way.bearing - turn * 10).rem_euclid(36_000)),
        None => "not known".to_owned(),
    };
    let cell = |key, words: String| DISTANCES.cell(key, Text::own(words));
    let cells = vec![
        DISTANCES.cell("place", Text::plain(to.tactical.as_str(), to.tactical.span)),
        cell("away", away(way.millimeters, plan)),
        cell("true", true_bearing),
        cell("magnetic", magnetic),
        cell("height", by_height((from, to), meters)),
        cell("margin", margin((from, to), on, way.millimeters)),
        cell("tested", tested(plan, (from, to))),
    ];
    Row { label: String::new(), record: Some(subject(to)), span: to.span, cells }
}

fn by_height((from, to): (&Place, &Place), meters: i64) -> String {
    let top = |place: &Place| place.antennas.iter().filter_map(|antenna| antenna.height).map(|at| at.value).max();
    let reach = |height: Height| radio_horizon(height).as_metres();
    match top(from).zip(top(to)) {
        None => "not known".to_owned(),
        Some((one, other)) if meters <= reach(one) + reach(other) => "reaches".to_owned(),
        Some(_) => "beyond".to_owned(),
    }
}

/// What is left of a signal over what a receiver wants, in whole decibels rounded down.
fn margin((from, to): (&Place, &Place), on: Option<&Channel>, millimeters: i64) -> String {
    let loss = on.and_then(|channel| free_space_loss(channel.hear.value, millimeters));
    let Some(loss) = loss else { return "not known".to_owned() };
    // Of several antennas the one with the least gain: the careful one.
    let gain = |of: &Antenna| {
        end_gain(of.gain.map(|gain| gain.value), on.and_then(|channel| feed_loss(of, channel.hear.value)))
    };
    let end = |place: &Place| place.antennas.iter().map(gain).min().unwrap_or_else(|| end_gain(None, None));
    let limit = from.transmit.as_ref().and_then(|limit| limit.max).map(|max| max.value);
    let power = limit.map_or(HANDHELD, |max| max.min(HANDHELD));
    let left = over_milliwatt(power) + end(from) + end(to) - loss - WANTED;
    format!("{} dB", left.div_euclid(100))
}

/// The last test of a path from one place to the other, with its day, channel and power.
fn tested(plan: &Plan, (from, to): (&Place, &Place)) -> String {
    let is_own = |test: &&PathTest| test.from.value == from.id.value && test.to.value == to.id.value;
    let last = plan.path_tests.iter().filter(is_own).max_by_key(|test| test.on.value);
    last.map_or_else(|| "not tested".to_owned(), |test| test_words(plan, test))
}

/// `clear on TAC 1, 5 W, 2026-10-04`.
fn test_words(plan: &Plan, test: &PathTest) -> String {
    let channel = plan
        .channels
        .get(&test.channel.value)
        .map_or_else(|| test.channel.to_string(), |channel| channel.name.to_string());
    let power = test.power.map_or_else(|| "power not given".to_owned(), |power| power.value.to_string());
    let note = test.note.as_ref().map_or_else(String::new, |note| format!("; {}", note.value));
    let heard = match test.result.value {
        Heard::Clear => "clear",
        Heard::Noisy => "noisy",
        Heard::Nothing => "nothing heard",
    };
    format!("{heard} on {channel}, {power}, {}{note}", test.on.value)
}
