//! Rows of a country profile: law by band and class, and the band plan above it.

use super::EmissionType;
use super::area::LawArea;
use super::row::Cite;
use super::rules::TABLE_ROW_SWAPPED;
use crate::ground::{At, Course, FieldLimit, Finding, Frequency, Lapse, Position, Power, Shift, Stretch, Tone, Width};
use crate::source::{Meant, Partly, Reading, SettledBy, Tried, record, words_of};

record! {
    /// A licence class.
    #[derive(Clone, PartialEq, Eq, Debug)]
    pub struct Class = "row of a table" {
        /// As members write it.
        id: String,
        /// As printed.
        name: String,
        /// Where from.
        cite: Cite,
    }

    /// A band.
    #[derive(Clone, Debug)]
    pub struct Band = "row of a table" {
        /// `2m`.
        id: String,
        /// `2 m`.
        name: String,
        /// Its edges.
        edges: Stretch,
        /// primary, secondary or shared; none where the row does not say.
        status: Option<String>,
        /// The rule about sharing it.
        sharing: Option<String>,
        /// Where from.
        cite: Cite,
    }

    /// Classes that may transmit in a stretch.
    #[derive(Clone, Debug)]
    pub struct Privilege = "row of a table" {
        /// The band that it is a part of.
        band: Option<String>,
        /// Class ids.
        classes: Vec<String>,
        /// The stretch.
        edges: Stretch,
        /// Centre, for a channel that the law names.
        centre: Option<Frequency>,
        /// From the dial to that centre on the upper sideband, against it on the lower; none where the dial shows the centre.
        dial_to_centre: Option<Shift>,
        /// Where from.
        cite: Cite,
    }

    /// What may be sent in a stretch, beside CW.
    #[derive(Clone, Debug)]
    pub struct EmissionRow = "row of a table" {
        /// The band that it is a part of.
        band: Option<String>,
        /// The stretch.
        edges: Stretch,
        /// Types allowed.
        types: Vec<EmissionType>,
        /// Classes that may send CW alone here.
        not_for: Vec<String>,
        /// Classes that may send CW and single sideband alone here.
        ssb_only_for: Vec<String>,
        /// Widest emission of any type.
        width: Option<Width>,
        /// Widest data or RTTY emission.
        data_width: Option<Width>,
        /// Whether angle modulation must keep an index of 1.
        has_angle_index_1 as "angle-index-1": bool,
        /// Where from.
        cite: Cite,
    }

    /// Most power in a stretch.
    #[derive(Clone, Debug)]
    pub struct PowerLimit = "row of a table" {
        /// The stretch.
        edges: Stretch,
        /// Classes it binds; empty for all.
        classes: Vec<String>,
        /// The most, and what is measured.
        most: MostPower,
        /// Where on the ground it binds; everywhere when none is written.
        area: Option<LawArea> = (),
        /// Where from.
        cite: Cite,
    }

    /// What a country allots of a band: in plans of that country it stands in the place of the band's rows.
    #[derive(Clone, Debug)]
    pub struct Allowance = "row of a table" {
        /// The country by ISO 3166, as `NO`.
        country: String,
        /// The band, as `4m`.
        band: String,
        /// The stretch.
        edges: Stretch,
        /// Most power and what is measured; none when the row does not say.
        most: Option<MostPower> = (),
        /// More about it.
        note: Option<String>,
        /// Where from.
        cite: Cite,
    }

    /// How strong a field may be where people are, as power density of a plane wave.
    #[derive(Clone, Debug)]
    pub struct ExposureLimit = "row of a table" {
        /// The stretch; the upper row holds where two meet.
        edges: Stretch,
        /// For everybody.
        public: FieldLimit,
        /// For those who know of it and can go away; as for everybody when left out.
        controlled: Option<FieldLimit>,
        /// Over what time it is averaged, for everybody.
        public_over: Lapse,
        /// The same for those who know of it.
        controlled_over: Option<Lapse>,
        /// Radiated power, over a dipole, that needs no evaluation where nobody comes nearer than 1 m; with the square of the distance at
        /// others. None where the rule has no such test.
        exempt: Option<FieldLimit>,
        /// Where from.
        cite: Cite,
    }

    /// A stretch on which nobody may transmit from an area.
    #[derive(Clone, Debug)]
    pub struct Exclusion = "row of a table" {
        /// The stretch.
        edges: Stretch,
        /// The area.
        area: LawArea = (),
        /// Where from.
        cite: Cite,
    }

    /// A point of a line on the ground.
    #[derive(Clone, Debug)]
    pub struct LinePoint = "row of a table" {
        /// The line, as areas name it.
        line: String,
        /// Where.
        at: Position,
        /// How the line runs to it from the point before.
        by: Course,
        /// Where from.
        cite: Cite,
    }

    /// Where a kind of station may stand: repeaters, automatic data stations.
    #[derive(Clone, Debug)]
    pub struct Segment = "row of a table" {
        /// The stretch.
        edges: Stretch,
        /// Where from.
        cite: Cite,
    }

    /// Where a kind of station may stand with so much power: auxiliary stations, beacons.
    #[derive(Clone, Debug)]
    pub struct LimitedSegment = "row of a table" {
        /// The stretch.
        edges: Stretch,
        /// Most output of such a station there; none where the row does not limit it.
        most as "output": Option<Power>,
        /// Where from.
        cite: Cite,
    }

    /// A channel of another service.
    #[derive(Clone, Debug)]
    pub struct ServiceChannel = "row of a table" {
        /// The service, as plans write it.
        service: String,
        /// As its users call it.
        name: String,
        /// What it is called besides, as by another numbering.
        also: Vec<String>,
        /// Whose stations the row is for, where a channel has rows of its own for them: `coast`.
        station: Option<String>,
        /// The frequency to hear, and to send unless an input is used.
        frequency: Frequency,
        /// What a repeater on this channel receives, where it may have one.
        input: Option<Frequency>,
        /// Whether only the pair may be used, never the frequency alone.
        is_pair_only as "pair-only": bool,
        /// Whether nobody of a team sends on it.
        is_listen_only as "listen-only": bool,
        /// Modes that it is for; empty for all.
        modes: Vec<String>,
        /// Widest signal; none when the row does not say.
        width: Option<Width>,
        /// Most power and what is measured; none when the row does not say.
        most: Option<MostPower> = (),
        /// Power to use unless more is needed; none when the row does not say.
        usual as "usual-power": Option<Power>,
        /// The tone or code that is sent; none when the row does not say.
        tone: Option<Tone>,
        /// More about it.
        note: Option<String>,
        /// Where from.
        cite: Cite,
    }

    /// What the band plan says of a stretch.
    #[derive(Clone, Debug)]
    pub struct Custom = "row of a table" {
        /// The country whose own plan it is, by ISO 3166; all countries of the profile when none is written.
        country: Option<String>,
        /// The band that it is a part of.
        band: Option<String>,
        /// The stretch.
        edges: Stretch,
        /// What it is used for.
        use_ as "use": String,
        /// The same in a word or two, for a chart; all of it where none is written.
        word: Option<String>,
        /// Usual shift of a repeater with its output here.
        shift: Option<Shift>,
        /// Further shifts that are usual in parts of the country.
        other_shifts: Vec<Shift>,
        /// What a repeater pair has here, where the plan says so.
        side: Option<PairSide>,
        /// Widest signal that it wants there.
        width: Option<Width>,
        /// Widest FM signal, where the plan's figure is not what FM occupies.
        fm_width: Option<Width>,
        /// Whether it is kept for weak signals, beacons or satellites, so that FM keeps out.
        is_without_fm as "without-fm": bool,
        /// Whether it is kept for data, so that voice keeps out.
        is_without_voice as "without-voice": bool,
        /// Whether it is kept for short reports that everybody hears, so that mailboxes and nodes keep out.
        is_without_mailboxes as "without-mailboxes": bool,
        /// More about it.
        note: Option<String>,
        /// Where from.
        cite: Cite,
    }

    /// The step from channel to channel in a stretch.
    #[derive(Clone, Debug)]
    pub struct Raster = "row of a table" {
        /// The stretch.
        edges: Stretch,
        /// The step, counted from zero hertz.
        step: Width,
        /// How far the middles of neighbouring FM channels lie apart; none where the row does not say.
        spacing: Option<Width>,
        /// Where from.
        cite: Cite,
    }

    /// A calling frequency.
    #[derive(Clone, Debug)]
    pub struct Calling = "row of a table" {
        /// The frequency.
        frequency: Frequency,
        /// The mode.
        mode: String,
        /// Where from.
        cite: Cite,
    }

    /// The edges of a stretch, as written.
    pub struct WrittenEdges = "row of a table" {
        /// Its lower edge.
        low: Frequency,
        /// Its upper edge.
        high: At<Frequency>,
    }

    /// The most power, as written.
    pub struct WrittenMost = "row of a table" {
        /// Peak envelope power of the transmitter.
        output: Option<Tried<Power>>,
        /// Effective radiated power; it counts before the output.
        erp: Option<Tried<Power>>,
    }
}

words_of! {
    /// Which form of a mode has most users.
    pub enum UsualWidth {
        /// The wide one.
        Wide = "wide",
        /// The narrow one.
        Narrow = "narrow",
    }
    /// What a stretch of the band plan is to a repeater.
    pub enum PairSide {
        /// It receives here.
        Input = "input",
        /// It transmits here.
        Output = "output",
        /// It keeps out: stations speak directly.
        Simplex = "simplex",
    }
}

/// What a power limit measures.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PowerMeasure {
    /// Peak envelope power of the transmitter.
    Output,
    /// Effective radiated power.
    Erp,
}

/// The most power, and what is measured.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct MostPower {
    /// The most.
    pub power: Power,
    /// What is measured.
    pub measure: PowerMeasure,
}

impl Meant for Stretch {
    type Written = WrittenEdges;

    fn mean(written: WrittenEdges, of: &mut Reading<'_>) -> Option<Self> {
        let edges = Self::new(written.low, written.high.value);
        if edges.is_none() {
            let what = format!("a row of a table runs from {} down to {}", written.low, written.high.value);
            of.found.push(Finding::new(&TABLE_ROW_SWAPPED, written.high.span, what).label("below its start"));
        }
        edges
    }
}

/// One of the two must be there.
impl Meant for MostPower {
    type Written = WrittenMost;

    fn mean(written: WrittenMost, of: &mut Reading<'_>) -> Option<Self> {
        if written.output.is_none() && written.erp.is_none() {
            of.missing("output");
        }
        Option::settle(written, (), of)?
    }
}

impl Partly for Option<MostPower> {
    type Written = WrittenMost;
}

impl SettledBy<()> for Option<MostPower> {
    fn settle(written: WrittenMost, (): (), _: &mut Reading<'_>) -> Option<Self> {
        let of = |cell: Option<Tried<Power>>, measure| Some(MostPower { power: cell?.value?, measure });
        Some(of(written.erp, PowerMeasure::Erp).or(of(written.output, PowerMeasure::Output)))
    }
}

impl Privilege {
    /// Where the dial stands for a signal about the centre that the law names, in hertz below it: on the upper sideband, in CW and
    /// without a sideband, and on the lower one.
    #[must_use]
    pub fn dials(&self) -> [i64; 3] {
        let to_centre = self.dial_to_centre.map_or(0, Shift::as_hertz);
        [to_centre, 0, -to_centre]
    }
}

impl ServiceChannel {
    /// Whether a radio that hears `hear` and sends `send` uses this channel: the frequency alone, or the pair.
    #[must_use]
    pub fn is_used_by(&self, hear: Frequency, send: Frequency) -> bool {
        let is_it = hear == self.frequency && (self.input == Some(send) || (send == hear && !self.is_pair_only));
        is_it && !self.is_listen_only
    }
}
