//! Something drawn to scale: values on an axis, with ready-made labels.

use super::{Role, Text};

/// One band to scale: an integer axis with ready-made labels. Above its line stands what is heard, below it what is sent, then advice and law.
#[derive(Clone, PartialEq, Eq, Hash, Debug, Default)]
pub struct Strip {
    /// Stable key of the band: `2m`.
    pub key: String,
    /// What one looks for: "2 m".
    pub title: Text,
    /// What is said beside it: "144 to 148 MHz", "open to T G A E".
    pub notes: Vec<Text>,
    /// Said as well where not every flag has room for all that it says: where that stands.
    pub crowded: Text,
    /// Unit of the labels of the ticks: "MHz".
    pub unit: String,
    /// Axis value at the left edge.
    pub low: i64,
    /// Axis value at the right edge.
    pub high: i64,
    /// Stretches that are left out: the line is broken there.
    pub gaps: Vec<StripGap>,
    /// The scale that it has in common with others; the whole line is its own where there is none.
    pub scale: Option<StripScale>,
    /// Ticks along the axis.
    pub ticks: Vec<Tick>,
    /// Whether its values are hertz at even distances: such a strip may be parted into several.
    pub is_even: bool,
    /// What this plan hears there, and where others call.
    pub flags: Vec<StripFlag>,
    /// Said beside the brackets: "send, shift kHz".
    pub join_name: String,
    /// Pairs: what one hears and what one sends.
    pub joins: Vec<Join>,
    /// Words that stand on the line, each at the left of its stretch.
    pub sayings: Vec<Saying>,
    /// Rows of stretches under the line.
    pub lanes: Vec<StripLane>,
}

impl Strip {
    /// The strip as a block.
    #[must_use]
    pub fn block(self) -> super::Block {
        super::Block::Strip(Box::new(self))
    }
}

/// A stretch of the axis that is left out.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct StripGap {
    /// Its first value.
    pub from: i64,
    /// Its last value.
    pub to: i64,
}

/// The line that strips of one scale would fill: so many values, so many breaks.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct StripScale {
    /// Axis values.
    pub values: i64,
    /// Breaks of the line.
    pub breaks: u8,
}

/// A tick on the axis.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Tick {
    /// Axis value.
    pub at: i64,
    /// Printed at long ticks alone.
    pub label: Option<String>,
    /// Whether it stands midway between two long ones.
    pub is_middle: bool,
}

/// A frequency with a flag of words over it.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct StripFlag {
    /// Axis value of the frequency as dialled.
    pub at: i64,
    /// Left edge of what it occupies.
    pub from: i64,
    /// Right edge of what it occupies.
    pub to: i64,
    /// What stands on the line.
    pub sign: FlagSign,
    /// The number by which a list names it, where the plan gives one: what is left of a flag in a crowd.
    pub number: String,
    /// The name one looks up; empty where it is no channel of the plan.
    pub name: Text,
    /// The frequency: "146.9400".
    pub figure: Text,
    /// A word behind it: "LSB", "SSB calling".
    pub word: Text,
    /// The second line: "Cold Ridge, tone 103.5".
    pub detail: Text,
}

impl StripFlag {
    /// What the frequency of a flag is.
    pub const FIGURE: Role = Role::Hear;
}

/// What stands on the line where a flag points.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum FlagSign {
    /// A bar as wide as the signal.
    Bar,
    /// A filled diamond: stations call here.
    Filled,
    /// An open diamond: stations meet here in an emergency.
    Dotted,
}

impl FlagSign {
    /// The word for it in the canonical text.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bar => "bar",
            Self::Filled => "filled",
            Self::Dotted => "dotted",
        }
    }
}

/// Two values that belong together.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Join {
    /// Axis value of what one hears.
    pub down: i64,
    /// Axis value of what one sends: an arrow up into the line.
    pub up: i64,
    /// "CMD 1".
    pub name: Text,
    /// What one sends: "146.3400".
    pub figure: Text,
    /// How far that lies from what one hears: "−600".
    pub shift: Text,
}

impl Join {
    /// What the figure of a pair is.
    pub const FIGURE: Role = Role::Send;
}

/// Words on a stretch of the line.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Saying {
    /// Axis value at its left edge.
    pub from: i64,
    /// Axis value at its right edge.
    pub to: i64,
    /// "CW, phone, image".
    pub words: Text,
}

/// A row of stretches under the line.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct StripLane {
    /// Said at its left: "band plan, voluntary", "T".
    pub name: String,
    /// How high it is.
    pub form: LaneForm,
    /// From left to right.
    pub cells: Vec<StripCell>,
}

/// How high a row of stretches is.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum LaneForm {
    /// High enough for arrows; other rows keep clear of it.
    Ribbon,
    /// Thin; such rows touch each other.
    Bar,
}

/// A stretch of the axis with a meaning.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct StripCell {
    /// Axis value at its left edge.
    pub from: i64,
    /// Axis value at its right edge.
    pub to: i64,
    /// Which of two halves of the row it takes, where it lies over another: none when it takes the whole height.
    pub half: Option<CellHalf>,
    /// What it means.
    pub shade: Shade,
    /// What one does there.
    pub arrows: Arrows,
    /// Printed below it.
    pub label: Text,
}

/// A half of a row.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum CellHalf {
    /// The upper one.
    Upper,
    /// The lower one.
    Lower,
}

impl CellHalf {
    /// The word for it in the canonical text.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Upper => "upper",
            Self::Lower => "lower",
        }
    }
}

/// What one does on a stretch.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Arrows {
    /// Not said.
    None,
    /// One hears there: arrows down.
    Down,
    /// One sends there: arrows up.
    Up,
    /// One does both.
    Both,
}

impl Arrows {
    /// The word for it in the canonical text.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Down => "down",
            Self::Up => "up",
            Self::Both => "both",
        }
    }
}

/// The three fills of every chart, which no copier turns into each other.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Shade {
    /// Open: white.
    Open,
    /// Partly open: dots.
    Limited,
    /// Closed: hatch.
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

/// How to read what is drawn.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Legend {
    /// A sample each with its words.
    pub entries: Vec<LegendEntry>,
}

/// A sample with its words.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct LegendEntry {
    /// What is drawn.
    pub sample: Sample,
    /// What it means.
    pub words: Text,
}

/// What a legend shows a sample of.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Sample {
    /// A signal on the line.
    Bar,
    /// A pair.
    Join,
    /// A calling or emergency frequency.
    Sign(FlagSign),
    /// A fill.
    Shade(Shade),
    /// What one does on a stretch.
    Arrows(Arrows),
}

impl Sample {
    /// The word for it in the canonical text.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bar => "bar",
            Self::Join => "pair",
            Self::Sign(sign) => sign.word(),
            Self::Shade(shade) => shade.word(),
            Self::Arrows(arrows) => arrows.word(),
        }
    }
}
