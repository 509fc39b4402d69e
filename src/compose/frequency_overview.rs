//! All of the plan's frequencies on one strip, from the lowest to the highest: the axis is logarithmic.

use super::block::{Shade, Strip, StripArea, StripMark, Text, Tick};
use super::channel_words::heard_service;
use super::scale::axis;
use crate::audience::View;
use crate::ground::{Frequency, Stretch, plural};
use crate::plan::Channel;

/// Axis values a decade of frequency.
const DECADE: f64 = 1_000_000.0;
/// White left of the lowest and right of the highest, in axis values: about a quarter of the frequency there.
const BESIDE: i64 = 100_000;

/// The strip; none for a plan whose channels all lie in one band.
pub(super) fn overview(view: &View<'_>, channels: &[&Channel]) -> Option<Strip> {
    let marks = marks(view, channels);
    if marks.len() < 2 {
        return None;
    }
    let low = marks.iter().map(|mark| mark.from).min()? - BESIDE;
    let high = marks.iter().map(|mark| mark.to).max()? + BESIDE;
    Some(Strip {
        key: "overview".to_owned(),
        title: Text::own("All channels of this plan, in MHz"),
        subtitle: Text::own("logarithmic scale"),
        low,
        high,
        ticks: ticks(low, high),
        is_even: false,
        areas: bands(view, low, high),
        marks,
        joins: Vec::new(),
    })
}

/// A frequency on the axis.
fn place(hertz: i64) -> i64 {
    #[expect(clippy::cast_precision_loss, reason = "hertz of any radio are far below 2^53")]
    let decades = libm::log10(hertz.max(1) as f64);
    #[expect(clippy::cast_possible_truncation, reason = "below twelve million")]
    let place = libm::round(decades * DECADE) as i64;
    place
}

/// One mark a band in use, and one for each other service.
fn marks(view: &View<'_>, channels: &[&Channel]) -> Vec<StripMark> {
    let mut marks = Vec::new();
    let is_amateur = |channel: &&&Channel| channel.service.is_amateur();
    for band in &view.profile().bands {
        let count = channels.iter().filter(is_amateur).filter(|channel| band.edges.has(channel.hear.value)).count();
        if count > 0 {
            marks.push(mark(&band.edges, &band.name, count));
        }
    }
    let name_of = |channel: &Channel| {
        heard_service(channel, view).or_else(|| (!channel.service.is_amateur()).then(|| channel.service.name.clone()))
    };
    let mut services: Vec<(String, Vec<Frequency>)> = Vec::new();
    for (name, channel) in channels.iter().filter_map(|channel| Some((name_of(channel)?, channel))) {
        match services.iter_mut().find(|(known, _)| *known == name) {
            Some((_, heard)) => heard.push(channel.hear.value),
            None => services.push((name, vec![channel.hear.value])),
        }
    }
    for (name, mut heard) in services {
        heard.sort_unstable();
        // A service may have channels in bands far apart: each group of near ones is a mark.
        for group in heard.chunk_by(|a, b| axis(*b) * 10 < axis(*a) * 11) {
            if let Some(edges) = Option::zip(group.first(), group.last()).and_then(|(a, b)| Stretch::new(*a, *b)) {
                marks.push(mark(&edges, &name, group.len()));
            } else if let Some(only) = group.first() {
                let at = place(axis(*only));
                marks.push(named(at, at, &name, group.len()));
            }
        }
    }
    marks
}

fn mark(edges: &Stretch, name: &str, count: usize) -> StripMark {
    named(place(axis(edges.low())), place(axis(edges.high())), name, count)
}

fn named(from: i64, to: i64, name: &str, count: usize) -> StripMark {
    let at = from + (to - from) / 2;
    StripMark { at, from, to, name: Text::own(name), detail: Text::own(plural(count, "channel")) }
}

/// Where amateur bands lie, white; all else dark.
fn bands(view: &View<'_>, low: i64, high: i64) -> Vec<StripArea> {
    let one = |from: i64, to: i64, shade: Shade, label: &str| StripArea {
        from,
        to,
        lane: 0,
        lane_name: "amateur bands".to_owned(),
        shade,
        label: Text::own(label),
    };
    let mut edges: Vec<(i64, i64)> = view
        .profile()
        .bands
        .iter()
        .map(|band| (place(axis(band.edges.low())), place(axis(band.edges.high()))))
        .collect();
    edges.sort_unstable();
    let mut areas = Vec::new();
    let mut from = low;
    for (start, end) in edges.into_iter().filter(|(start, end)| *end > low && *start < high) {
        if start > from {
            let label = if areas.is_empty() { "other services" } else { "" };
            areas.push(one(from, start, Shade::Closed, label));
        }
        areas.push(one(start.max(low), end.min(high), Shade::Open, ""));
        from = end;
    }
    if from < high {
        areas.push(one(from, high, Shade::Closed, ""));
    }
    areas
}

/// Ticks at every whole digit of a decade, labelled at 1, 2, 3, 5 and 7.
fn ticks(low: i64, high: i64) -> Vec<Tick> {
    let megahertz = (-1..4_i32).flat_map(|power| (1..10_i64).map(move |digit| (digit, power)));
    let tick = |(digit, power): (i64, i32)| {
        let hertz = digit * 10_i64.pow(u32::try_from(power + 6).unwrap_or(0));
        let label = [1, 2, 3, 5, 7].contains(&digit).then(|| label(hertz));
        Tick { at: place(hertz), label }
    };
    megahertz.map(tick).filter(|tick| (low..=high).contains(&tick.at)).collect()
}

fn label(hertz: i64) -> String {
    if hertz % 1_000_000 == 0 { (hertz / 1_000_000).to_string() } else { format!("0.{}", hertz / 100_000) }
}
