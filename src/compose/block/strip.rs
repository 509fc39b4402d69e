//! Something drawn to scale: values on an axis, with ready-made labels.

use super::{Role, Text};

/// One band to scale: an integer axis with ready-made labels.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Strip {
    /// Stable key of the band: `2m`.
    pub key: String,
    /// Left of the head line: "2 m band, 144 to 148 MHz".
    pub title: Text,
    /// Right of the head line.
    pub subtitle: Text,
    /// Axis value at the left edge.
    pub low: i64,
    /// Axis value at the right edge.
    pub high: i64,
    /// Ticks along the axis.
    pub ticks: Vec<Tick>,
    /// Whether its values are hertz at even distances: such a strip may be parted into several.
    pub is_even: bool,
    /// Stretches with a meaning; the same shade means the same on every chart.
    pub areas: Vec<StripArea>,
    /// What this plan puts there.
    pub marks: Vec<StripMark>,
    /// Pairs: what one hears and what one sends.
    pub joins: Vec<Join>,
}

/// A tick on the axis.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Tick {
    /// Axis value.
    pub at: i64,
    /// Printed at long ticks alone.
    pub label: Option<String>,
}

/// A stretch of the axis with a meaning.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct StripArea {
    /// Axis value at its left edge.
    pub from: i64,
    /// Axis value at its right edge.
    pub to: i64,
    /// Which of the stacked lanes under the strip it belongs to, from 0; lane names come from `StripArea::lane_name`.
    pub lane: u8,
    /// Name of the lane, as "Technician may send".
    pub lane_name: String,
    /// What it means.
    pub shade: Shade,
    /// Printed in or beside it.
    pub label: Text,
}

/// The three greys of every chart.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Shade {
    /// Allowed, or of no special meaning: white.
    Open,
    /// Allowed with a limit: light grey.
    Limited,
    /// Not allowed: darker grey.
    Closed,
}

impl Shade {
    /// The word for it in the canonical text.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Limited => "limited",
            Self::Closed => "closed",
        }
    }
}

/// A channel on the axis.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct StripMark {
    /// Axis value of the frequency as dialled.
    pub at: i64,
    /// Left edge of what it occupies.
    pub from: i64,
    /// Right edge of what it occupies.
    pub to: i64,
    /// The name one looks up.
    pub name: Text,
    /// The frequency with a word: "146.9400 hear".
    pub detail: Text,
}

impl StripMark {
    /// What the detail of a mark is, and the label of a pair.
    pub const DETAIL: Role = Role::Hear;
}

/// Two marks that belong together.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Join {
    /// Axis value of what one hears: an arrow down out of the strip.
    pub down: i64,
    /// Axis value of what one sends: an arrow up into the strip.
    pub up: i64,
    /// "CMD 1: send 146.3400, hear 146.9400".
    pub label: Text,
}
