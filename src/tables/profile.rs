//! A country profile: law by band and class, and the band plan above it.

use super::EmissionType;
use super::area::Area;
use super::call_form::{CallForm, CallRegion, ClosedCalls};
use super::row::Cite;
use crate::ground::{Course, Day, Frequency, Position, Power, Shift, Stretch, Width};
use crate::source::Habits;
use serde::Deserialize;

/// What the law and the band plan of one country say.
#[derive(Clone, Debug)]
pub struct Profile {
    /// `us`.
    pub id: String,
    /// Name of the country.
    pub name: String,
    /// The rule set with its date, as printed: `47 CFR Part 97 as of 2026-02-13`.
    pub rule_set: String,
    /// Last day on which somebody looked for changes.
    pub checked_on: Day,
    /// Day by which somebody must look again.
    pub review_by: Day,
    /// Where the rule set is from.
    pub cite: Cite,
    /// Language of the words, as `en-US`.
    pub language: String,
    /// Usual paper.
    pub paper: String,
    /// The identification rule in a sentence.
    pub identification: String,
    /// The identification rule in a few words.
    pub identification_short: String,
    /// Precedence words, highest first.
    pub precedence: Vec<String>,
    /// Words that no name said on the air may have.
    pub forbidden: Vec<String>,
    /// Whose privileges count, in a sentence.
    pub control_operator: String,
    /// What a width is that a plan leaves out.
    pub usual_width: UsualWidth,
    /// Licence classes, lowest first.
    pub classes: Vec<Class>,
    /// Bands, in table order.
    pub bands: Vec<Band>,
    /// Who may transmit where.
    pub privileges: Vec<Privilege>,
    /// What may be transmitted where.
    pub emissions: Vec<EmissionRow>,
    /// How much.
    pub power_limits: Vec<PowerLimit>,
    /// Where nobody may transmit.
    pub exclusions: Vec<Exclusion>,
    /// Lines that bound areas, point by point.
    pub line_points: Vec<LinePoint>,
    /// Other services, and what authority to transmit in them takes.
    pub services: Vec<OtherService>,
    /// Their channels.
    pub service_channels: Vec<ServiceChannel>,
    /// Where automatically controlled data stations may stand; empty when the profile says nothing of them.
    pub automatic_segments: Vec<Segment>,
    /// Where repeaters may stand.
    pub repeater_segments: Vec<Segment>,
    /// Where auxiliary stations may stand.
    pub auxiliary_segments: Vec<Segment>,
    /// Where beacons under automatic control may stand.
    pub beacon_segments: Vec<Segment>,
    /// The band plan.
    pub customs: Vec<Custom>,
    /// Steps between channels.
    pub rasters: Vec<Raster>,
    /// Calling frequencies.
    pub callings: Vec<Calling>,
    /// Centres of activity for emergency traffic, open to all.
    pub emergencies: Vec<Calling>,
    /// Shapes of the country's amateur call signs; empty when the profile says nothing of them.
    pub call_forms: Vec<CallForm>,
    /// Call signs that nobody is given.
    pub closed_calls: Vec<ClosedCalls>,
    /// Which numeral was given where.
    pub call_regions: Vec<CallRegion>,
}

/// Which form of a mode has most users.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum UsualWidth {
    /// The wide one.
    Wide,
    /// The narrow one.
    Narrow,
}

/// A licence class.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Class {
    /// As members write it.
    pub id: String,
    /// As printed.
    pub name: String,
    /// Where from.
    pub cite: Cite,
}

/// A band.
#[derive(Clone, Debug)]
pub struct Band {
    /// `2m`.
    pub id: String,
    /// `2 m`.
    pub name: String,
    /// Its edges.
    pub edges: Stretch,
    /// primary, secondary or shared; none where the row does not say.
    pub status: Option<String>,
    /// The rule about sharing it.
    pub sharing: Option<String>,
    /// Where from.
    pub cite: Cite,
}

/// Classes that may transmit in a stretch.
#[derive(Clone, Debug)]
pub struct Privilege {
    /// Class ids.
    pub classes: Vec<String>,
    /// The stretch.
    pub edges: Stretch,
    /// Centre, for a channel that the law names.
    pub centre: Option<Frequency>,
    /// Where from.
    pub cite: Cite,
}

/// What may be sent in a stretch, beside CW.
#[derive(Clone, Debug)]
pub struct EmissionRow {
    /// The stretch.
    pub edges: Stretch,
    /// Types allowed.
    pub types: Vec<EmissionType>,
    /// Classes that may send CW alone here.
    pub not_for: Vec<String>,
    /// Classes that may send CW and single sideband alone here.
    pub ssb_only_for: Vec<String>,
    /// Widest emission of any type.
    pub width: Option<Width>,
    /// Widest data or RTTY emission.
    pub data_width: Option<Width>,
    /// Whether angle modulation must keep an index of 1.
    pub has_angle_index_1: bool,
    /// Where from.
    pub cite: Cite,
}

/// Most power in a stretch.
#[derive(Clone, Debug)]
pub struct PowerLimit {
    /// The stretch.
    pub edges: Stretch,
    /// Classes it binds; empty for all.
    pub classes: Vec<String>,
    /// The most.
    pub most: Power,
    /// What is measured.
    pub measure: PowerMeasure,
    /// Where on the ground it binds; everywhere when none is written.
    pub area: Option<Area>,
    /// Where from.
    pub cite: Cite,
}

/// A stretch on which nobody may transmit from an area.
#[derive(Clone, Debug)]
pub struct Exclusion {
    /// The stretch.
    pub edges: Stretch,
    /// The area.
    pub area: Area,
    /// Where from.
    pub cite: Cite,
}

/// A point of a line on the ground.
#[derive(Clone, Debug)]
pub struct LinePoint {
    /// The line, as areas name it.
    pub line: String,
    /// Where.
    pub at: Position,
    /// How the line runs to it from the point before.
    pub by: Course,
    /// Where from.
    pub cite: Cite,
}

/// What a power limit measures.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum PowerMeasure {
    /// Peak envelope power of the transmitter.
    Output,
    /// Effective radiated power.
    Erp,
}

/// Where a kind of station may stand: repeaters, automatic data stations, auxiliary stations, beacons.
#[derive(Clone, Debug)]
pub struct Segment {
    /// The stretch.
    pub edges: Stretch,
    /// Most output of such a station there; none where the row does not limit it.
    pub most: Option<Power>,
    /// Where from.
    pub cite: Cite,
}

/// A radio service beside the amateur service.
#[derive(Clone, Debug)]
pub struct OtherService {
    /// As plans write it.
    pub id: String,
    /// As its users call it.
    pub name: String,
    /// What authority to transmit takes.
    pub authority: Authority,
    /// Its identification rule in a sentence, where it has one of its own.
    pub identification: Option<String>,
    /// Shapes of its call signs, `A` for a letter and `0` for a digit; empty when the profile says nothing of them.
    pub calls: Vec<String>,
    /// Whether its channels have names that every agency uses.
    pub has_standard_names: bool,
    /// Where from.
    pub cite: Cite,
}

impl OtherService {
    /// Whether `call` has the shape of its call signs; whatever it is where the profile says nothing of them.
    #[must_use]
    pub fn has_call(&self, call: &str) -> bool {
        let fits = |shape: &String| {
            let is_like = |(wanted, given): (u8, u8)| match wanted {
                b'0' => given.is_ascii_digit(),
                _ => given.is_ascii_uppercase(),
            };
            shape.len() == call.len() && shape.bytes().zip(call.bytes()).all(is_like)
        };
        self.calls.is_empty() || self.calls.iter().any(fits)
    }
}

/// What authority to transmit in a service takes.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Authority {
    /// None: licensed by rule, with a certified radio.
    Anybody,
    /// A licence of that service, or an agreement with who holds one.
    Licence,
    /// An agreement with who holds the licence.
    Agreement,
    /// Nothing gives it: a service to listen to.
    Nobody,
}

/// A channel of another service.
#[derive(Clone, Debug)]
pub struct ServiceChannel {
    /// The service, as plans write it.
    pub service: String,
    /// As its users call it.
    pub name: String,
    /// The frequency to hear, and to send unless an input is used.
    pub frequency: Frequency,
    /// What a repeater on this channel receives, where it may have one.
    pub input: Option<Frequency>,
    /// Whether only the pair may be used, never the frequency alone.
    pub is_pair_only: bool,
    /// Modes that it is for; empty for all.
    pub modes: Vec<String>,
    /// Widest signal; none when the row does not say.
    pub width: Option<Width>,
    /// Most power and what is measured; none when the row does not say.
    pub most: Option<(Power, PowerMeasure)>,
    /// Where from.
    pub cite: Cite,
}

impl ServiceChannel {
    /// Whether a radio that hears `hear` and sends `send` uses this channel: the frequency alone, or the pair.
    #[must_use]
    pub fn is_used_by(&self, hear: Frequency, send: Frequency) -> bool {
        hear == self.frequency && (self.input == Some(send) || (send == hear && !self.is_pair_only))
    }
}

/// What the band plan says of a stretch.
#[derive(Clone, Debug)]
pub struct Custom {
    /// The stretch.
    pub edges: Stretch,
    /// What it is used for.
    pub use_: String,
    /// Usual shift of a repeater with its output here.
    pub shift: Option<Shift>,
    /// What a repeater pair has here, where the plan says so.
    pub side: Option<PairSide>,
    /// Widest signal that it wants there.
    pub width: Option<Width>,
    /// Whether it is kept for weak signals, beacons or satellites, so that FM keeps out.
    pub is_without_fm: bool,
    /// Whether it is kept for data, so that voice keeps out.
    pub is_without_voice: bool,
    /// More about it.
    pub note: Option<String>,
    /// Where from.
    pub cite: Cite,
}

/// What a stretch of the band plan is to a repeater.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum PairSide {
    /// It receives here.
    Input,
    /// It transmits here.
    Output,
    /// It keeps out: stations speak directly.
    Simplex,
}

/// The step from channel to channel in a stretch.
#[derive(Clone, Debug)]
pub struct Raster {
    /// The stretch.
    pub edges: Stretch,
    /// The step, counted from zero hertz.
    pub step: Width,
    /// How far the middles of neighbouring FM channels lie apart; none where the row does not say.
    pub spacing: Option<Width>,
    /// Where from.
    pub cite: Cite,
}

/// A calling frequency.
#[derive(Clone, Debug)]
pub struct Calling {
    /// The frequency.
    pub frequency: Frequency,
    /// The mode.
    pub mode: String,
    /// Where from.
    pub cite: Cite,
}

impl Profile {
    /// What it says of values that a plan leaves out or writes in several ways.
    #[must_use]
    pub fn habits(&self) -> Habits {
        let classes = self.classes.iter().map(|class| [class.id.clone(), class.name.clone()]).collect();
        Habits { is_narrow: self.usual_width == UsualWidth::Narrow, classes }
    }

    /// The class of this id.
    #[must_use]
    pub fn class(&self, id: &str) -> Option<&Class> {
        self.classes.iter().find(|class| class.id == id)
    }

    /// The class that somebody means who writes its id or its printed name in small or capital letters.
    #[must_use]
    pub fn class_meant(&self, written: &str) -> Option<&Class> {
        let is_meant = |word: &str| word.to_lowercase() == written.to_lowercase();
        self.classes.iter().find(|class| is_meant(&class.id) || is_meant(&class.name))
    }

    /// The band that holds all of `occupied`.
    #[must_use]
    pub fn band_of(&self, occupied: &Stretch) -> Option<&Band> {
        self.bands.iter().find(|band| band.edges.holds(occupied))
    }

    /// The band that `frequency` lies in, or else the one whose edge is nearest.
    #[must_use]
    pub fn nearest_band(&self, frequency: Frequency) -> Option<&Band> {
        let distance = |band: &&Band| {
            let below = (band.edges.low() - frequency).as_hertz();
            let above = (frequency - band.edges.high()).as_hertz();
            below.max(above).max(0)
        };
        self.bands.iter().min_by_key(distance)
    }

    /// What the band plan says of a repeater with its output here: the narrowest row with a shift.
    #[must_use]
    pub fn usual_shift(&self, output: Frequency) -> Option<(&Custom, Shift)> {
        let with_shift = self.customs.iter().filter(|custom| custom.edges.has(output));
        with_shift
            .filter_map(|custom| Some((custom, custom.shift?)))
            .min_by_key(|(custom, _)| (custom.edges.high() - custom.edges.low()).size())
    }

    /// The calling frequency equal to `frequency`.
    #[must_use]
    pub fn calling(&self, frequency: Frequency) -> Option<&Calling> {
        self.callings.iter().find(|calling| calling.frequency == frequency)
    }

    /// Whether a repeater may occupy all of `occupied`.
    #[must_use]
    pub fn repeater_may_stand(&self, occupied: &Stretch) -> bool {
        self.repeater_segments.is_empty()
            || Stretch::are_covering(self.repeater_segments.iter().map(|segment| segment.edges), occupied)
    }

    /// The service of this id.
    #[must_use]
    pub fn service(&self, id: &str) -> Option<&OtherService> {
        self.services.iter().find(|service| service.id == id)
    }

    /// The channels of a service.
    pub fn channels_of<'a>(&'a self, service: &'a str) -> impl Iterator<Item = &'a ServiceChannel> {
        self.service_channels.iter().filter(move |row| row.service == service)
    }
}
