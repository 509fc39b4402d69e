//! The scale of a strip of hertz: ticks, and how a value is written beside them.

use super::block::{Join, Saying, Strip, StripCell, StripFlag, StripLane, Text, Tick};
use super::minus::with_minus;
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
    let short = if long.to_string().starts_with('2') { long / 4 } else { long / 10 };
    let label = |at: i64| to_places(at, places_of(long, low));
    let mut ticks: Vec<Tick> = (low / short..=high / short)
        .map(|n| n * short)
        .filter(|at| (low..=high).contains(at))
        .map(|at| Tick {
            at,
            label: (at % long == 0).then(|| label(at)),
            is_middle: at % long != 0 && at % (long / 2) == 0,
        })
        .collect();
    for end in [low, high] {
        ticks.retain(|tick| tick.at != end);
        let label = Some(to_places(end, places_of(long, low).max(places_of(end, low))));
        ticks.push(Tick { at: end, label, is_middle: false });
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

/// Whether a dial shows kilohertz there.
pub(super) const fn is_low(hertz: i64) -> bool {
    hertz < HF_END
}

/// The unit of the labels of an axis that begins there.
pub(super) const fn unit_word(low: i64) -> &'static str {
    if is_low(low) { "kHz" } else { "MHz" }
}

/// `146`, `146.5`; in kilohertz below 30 MHz.
pub(super) fn edge(hertz: i64) -> String {
    to_places(hertz, places_of(hertz, hertz))
}

/// The same with its unit.
pub(super) fn edge_unit(hertz: i64) -> String {
    format!("{} {}", edge(hertz), unit_word(hertz))
}

/// `−600`, in kilohertz, or `+5 MHz`.
pub(super) fn shift_words(hertz: i64) -> String {
    let sign = if hertz < 0 { "-" } else { "+" };
    let size = hertz.abs();
    let words = if size % 1_000_000 == 0 {
        format!("{sign}{} MHz", size / 1_000_000)
    } else {
        let digits = format!("{}.{:03}", size / 1000, size % 1000);
        format!("{sign}{}", digits.trim_end_matches('0').trim_end_matches('.'))
    };
    with_minus(&words)
}

impl Strip {
    /// What of it lies from one value up to another, where it may be parted; what begins or ends beyond is cut off at the edge.
    #[must_use]
    pub fn part(&self, low: i64, high: i64) -> Self {
        let range = Text::own(format!("{} to {}", edge(low), edge_unit(high)));
        let is_last = high == self.high;
        let holds = |at: i64| low <= at && (at < high || is_last && at == high);
        // What reaches in from the next part is drawn, and named there.
        let flag = |flag: &StripFlag| {
            let none = || (Text::default(), Text::default());
            let (name, figure) = if holds(flag.at) { (flag.name.clone(), flag.figure.clone()) } else { none() };
            StripFlag { name, figure, ..flag.clone() }
        };
        let is_in = |join: &&Join| holds(join.down) || holds(join.up);
        let is_near = |flag: &&StripFlag| flag.from < high && flag.to > low || holds(flag.at);
        let cell = |cell: &StripCell| StripCell { from: cell.from.max(low), to: cell.to.min(high), ..cell.clone() };
        let lane = |lane: &StripLane| {
            let cells = lane.cells.iter().filter(|cell| cell.from < high && cell.to > low).map(cell).collect();
            StripLane { cells, ..lane.clone() }
        };
        let inside = self.sayings.iter().filter(|saying| saying.from < high && saying.to > low);
        Self {
            notes: std::iter::once(range).chain(self.notes.iter().skip(1).cloned()).collect(),
            low,
            high,
            gaps: self.gaps.iter().filter(|gap| gap.from > low && gap.to < high).copied().collect(),
            scale: None,
            ticks: ticks(low, high),
            flags: self.flags.iter().filter(is_near).map(flag).collect(),
            joins: self.joins.iter().filter(is_in).cloned().collect(),
            sayings: inside
                .map(|saying| Saying { from: saying.from.max(low), to: saying.to.min(high), ..saying.clone() })
                .collect(),
            lanes: self.lanes.iter().map(lane).filter(|lane| !lane.cells.is_empty()).collect(),
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
