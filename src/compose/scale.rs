//! The scale of a strip of hertz: ticks, and how a value is written beside them.

use super::block::{Join, Strip, StripArea, StripMark, Text, Tick};
use crate::ground::Frequency;

/// Below it a radio's dial is read in kilohertz.
const HF_END: i64 = 30_000_000;

/// A frequency as an axis value.
pub(super) fn axis(frequency: Frequency) -> i64 {
    i64::try_from(frequency.as_hertz()).unwrap_or(i64::MAX)
}

/// As a dial says it: in kilohertz below 30 MHz.
pub(super) fn dialled(frequency: Frequency) -> String {
    if axis(frequency) < HF_END { frequency.to_khz() } else { frequency.to_mhz() }
}

/// Long ticks at round values, at most ten, and at both edges; short ones between.
pub(super) fn ticks(low: i64, high: i64) -> Vec<Tick> {
    let steps = (3..9).flat_map(|power| [1, 2, 5].map(|n| n * 10_i64.pow(power)));
    let long = steps.into_iter().find(|step| (high - low) / step <= 10).unwrap_or(high - low);
    let short = if long.to_string().starts_with('2') { long / 4 } else { long / 5 };
    let mut ticks: Vec<Tick> = (low / short..=high / short)
        .map(|n| n * short)
        .filter(|at| (low..=high).contains(at))
        .map(|at| Tick { at, label: (at % long == 0).then(|| to_places(at, places_of(long, low))) })
        .collect();
    for end in [low, high] {
        ticks.retain(|tick| tick.at != end);
        ticks.push(Tick { at: end, label: Some(to_places(end, places_of(long, low).max(places_of(end, low)))) });
    }
    ticks.sort_by_key(|tick| tick.at);
    ticks
}

/// Hertz in the unit of an axis, and how many places that has down to one hertz: kilohertz below 30 MHz.
const fn unit(hertz: i64) -> (i64, usize) {
    if hertz < HF_END { (1_000, 3) } else { (1_000_000, 6) }
}

/// How many places a value needs on an axis that begins at `low`.
fn places_of(hertz: i64, low: i64) -> usize {
    let (unit, places) = unit(low);
    let digits = format!("{:0places$}", hertz % unit);
    digits.trim_end_matches('0').len()
}

/// To so many places: the labels of one scale have the same number of them.
fn to_places(hertz: i64, wanted: usize) -> String {
    let (unit, places) = unit(hertz);
    let digits = format!("{}.{:0places$}", hertz / unit, hertz % unit);
    digits.get(..digits.len() - places + wanted).unwrap_or(&digits).trim_end_matches('.').to_owned()
}

/// `146`, `146.5`; in kilohertz below 30 MHz.
pub(super) fn edge(hertz: i64) -> String {
    to_places(hertz, places_of(hertz, hertz))
}

/// The same with its unit.
pub(super) fn edge_unit(hertz: i64) -> String {
    format!("{} {}", edge(hertz), if hertz < HF_END { "kHz" } else { "MHz" })
}

impl Strip {
    /// What of it lies from one value up to another, where it may be parted; what begins or ends beyond is cut off at the edge.
    #[must_use]
    pub fn part(&self, low: i64, high: i64) -> Self {
        let is_last = high == self.high;
        let holds = |at: i64| low <= at && (at < high || is_last && at == high);
        let area = |area: &StripArea| StripArea { from: area.from.max(low), to: area.to.min(high), ..area.clone() };
        // What reaches in from the next part is drawn, and named there.
        let mark = |mark: &StripMark| {
            let name = if holds(mark.at) { mark.name.clone() } else { Text::own("") };
            StripMark { name, ..mark.clone() }
        };
        let is_in = |join: &&Join| holds(join.down) || holds(join.up);
        let is_near = |mark: &&StripMark| mark.from < high && mark.to > low || holds(mark.at);
        Self {
            title: self.title.clone().then(format!(": {} to {}", edge(low), edge_unit(high))),
            low,
            high,
            ticks: ticks(low, high),
            areas: self.areas.iter().filter(|area| area.from < high && area.to > low).map(area).collect(),
            marks: self.marks.iter().filter(is_near).map(mark).collect(),
            joins: self.joins.iter().filter(is_in).cloned().collect(),
            ..self.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{edge, ticks};

    #[test]
    fn ticks_are_round_and_end_at_the_edges() {
        let labels = |low, high| ticks(low, high).into_iter().filter_map(|tick| tick.label).collect::<Vec<_>>();
        assert_eq!(labels(144_000_000, 145_000_000).first().map(String::as_str), Some("144.0"));
        assert_eq!(labels(420_000_000, 450_000_000).first().map(String::as_str), Some("420"));
        let close = labels(145_030_000, 145_110_000);
        assert!(close.iter().all(|label| label.len() == "145.03".len()), "{close:?}");
        assert_eq!(labels(5_330_500, 5_406_400).first().map(String::as_str), Some("5330.5"));
        assert_eq!(labels(5_330_500, 5_406_400).last().map(String::as_str), Some("5406.4"));
        assert!(labels(420_000_000, 450_000_000).len() <= 12);
        assert_eq!(edge(146_520_000), "146.52");
    }
}
