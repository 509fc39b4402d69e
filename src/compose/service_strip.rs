//! Channels of other services on one strip, with a break where nothing is for long.

use super::band_lanes::halved;
use super::band_strip::flag;
use super::block::{Arrows, LaneForm, Shade, Strip, StripCell, StripFlag, StripGap, StripLane, Text, Tick};
use super::channel_words::{service_word, warning};
use super::scale::{axis, ticks};
use crate::audience::View;
use crate::plan::Channel;

/// What is further apart stands on two parts of the line, and what is left of it beside the outermost channels.
const FAR: i64 = 12_000_000;
const BESIDE: i64 = 1_000_000;
/// A channel's box is so many times as narrow as what is drawn.
const BOXES: i64 = 60;

/// The strip of all channels outside the amateur bands; none where there are none.
pub(super) fn service_strip(view: &View<'_>, channels: &[&Channel]) -> Option<Strip> {
    let is_elsewhere = |channel: &&&Channel| {
        !channel.service.is_amateur() || !view.profile().bands.iter().any(|band| band.edges.has(channel.hear.value))
    };
    let mut here: Vec<&Channel> = channels.iter().filter(is_elsewhere).copied().collect();
    here.sort_by_key(|channel| channel.hear.value);
    let parts = parts(&here);
    let (low, high) = (parts.first()?.0, parts.last()?.1);
    let gaps: Vec<StripGap> =
        parts.windows(2).filter_map(|pair| Some(StripGap { from: pair.first()?.1, to: pair.last()?.0 })).collect();
    let drawn: i64 = parts.iter().map(|(from, to)| to - from).sum();
    let half = (drawn / BOXES / 2).max(1);
    Some(Strip {
        key: "services".to_owned(),
        title: Text::own("Other"),
        notes: vec![Text::own("services")],
        crowded: Text::own("in full: By frequency"),
        unit: "MHz".to_owned(),
        low,
        high,
        ticks: service_ticks(&parts, drawn),
        gaps,
        flags: here.iter().map(|channel| service_flag(view, channel)).collect(),
        lanes: vec![StripLane { name: "may send".to_owned(), form: LaneForm::Bar, cells: boxes(view, &here, half) }],
        ..Strip::default()
    })
}

/// Whole megahertz around channels that are near each other.
fn parts(here: &[&Channel]) -> Vec<(i64, i64)> {
    let mut parts: Vec<(i64, i64)> = Vec::new();
    for channel in here {
        let at = axis(channel.hear.value);
        let (from, to) =
            ((at - BESIDE / 2).div_euclid(BESIDE) * BESIDE, -(-(at + BESIDE / 2)).div_euclid(BESIDE) * BESIDE);
        match parts.last_mut().filter(|(_, end)| from - *end < FAR) {
            Some((_, end)) => *end = to.max(*end),
            None => parts.push((from, to)),
        }
    }
    parts
}

/// Ticks of one step on all parts.
fn service_ticks(parts: &[(i64, i64)], drawn: i64) -> Vec<Tick> {
    let steps = [1, 2, 5, 10, 20, 50, 100].map(|n| n * BESIDE);
    let long = steps.into_iter().find(|step| drawn / step <= 14).unwrap_or(drawn);
    let within = |(from, to): &(i64, i64)| ticks(*from, *to).into_iter().filter(|tick| tick.at % (BESIDE / 2) == 0);
    let label = |at: i64| (at % long == 0).then(|| (at / BESIDE).to_string());
    let tick =
        |tick: Tick| Tick { label: label(tick.at), is_middle: tick.at % BESIDE == 0 && tick.at % long != 0, ..tick };
    parts.iter().flat_map(within).map(tick).collect()
}

fn service_flag(view: &View<'_>, channel: &Channel) -> StripFlag {
    let is_silent = channel.send.is_none();
    let words = if is_silent { ", listen only" } else { "" };
    let own = flag(view, channel, channel.hear.value, None);
    // Outside the amateur bands every frequency is dialled in megahertz but that of a sideband.
    StripFlag { detail: Text::plain(format!("{}{words}", service_word(channel, view)), channel.span), ..own }
}

/// A box for each channel, wide enough to see: closed where nobody sends, dots where not everybody of the team may.
fn boxes(view: &View<'_>, here: &[&Channel], half: i64) -> Vec<StripCell> {
    let mut boxes: Vec<StripCell> = Vec::new();
    for channel in here {
        let shade = match (channel.send, warning(channel, view)) {
            (None, _) => Shade::Closed,
            (Some(_), Some(_)) => Shade::Limited,
            (Some(_), None) => Shade::Open,
        };
        let at = axis(channel.hear.value);
        let (from, to) = (at - half, at + half);
        match boxes.last_mut().filter(|last| last.to >= from && last.shade == shade) {
            Some(last) => last.to = to,
            None => boxes.push(StripCell { from, to, half: None, shade, arrows: Arrows::None, label: Text::default() }),
        }
    }
    halved(boxes)
}
