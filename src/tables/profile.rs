//! A country profile: law by band and class, and the band plan above it.

use super::EmissionType;
use super::row::{Cite, Field, list, need, rows};
use crate::ground::{Day, Findings, Frequency, Power, Shift, Span, Stretch, Width};
use crate::source::{Cell, Node};
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
    /// Whose privileges count, in a sentence.
    pub control_operator: String,
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
    /// Channels of services that anybody may use with a radio certified for them.
    pub service_channels: Vec<ServiceChannel>,
    /// Where automatically controlled data stations may stand; empty when the profile says nothing of them.
    pub automatic_segments: Vec<RepeaterSegment>,
    /// Where repeaters may stand.
    pub repeater_segments: Vec<RepeaterSegment>,
    /// The band plan.
    pub customs: Vec<Custom>,
    /// Calling frequencies.
    pub callings: Vec<Calling>,
}

/// A licence class.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Class {
    /// As members write it.
    pub id: String,
    /// As printed.
    pub name: String,
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

/// Where a repeater, or a station under automatic control, may receive and transmit.
#[derive(Clone, Debug)]
pub struct RepeaterSegment {
    /// The stretch.
    pub edges: Stretch,
    /// Where from.
    pub cite: Cite,
}

/// A channel of a service that is licensed by rule.
#[derive(Clone, Debug)]
pub struct ServiceChannel {
    /// The service, as plans write it.
    pub service: String,
    /// As its users call it.
    pub name: String,
    /// The frequency, to hear and to send.
    pub frequency: Frequency,
    /// Widest signal.
    pub width: Width,
    /// Most power.
    pub most: Power,
    /// What is measured.
    pub measure: PowerMeasure,
    /// Where from.
    pub cite: Cite,
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
    /// Widest signal that it wants there.
    pub width: Option<Width>,
    /// Whether it is kept for weak signals, beacons or satellites, so that FM keeps out.
    pub is_without_fm: bool,
    /// More about it.
    pub note: Option<String>,
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

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenProfile {
    id: Field<String>,
    name: Field<String>,
    rule_set: Field<String>,
    #[serde(rename = "rule-set-date")]
    _rule_set_date: Field<Day>,
    checked_on: Field<Day>,
    review_by: Field<Day>,
    source: Field<String>,
    confidence: Field<String>,
    language: Field<String>,
    paper: Field<String>,
    identification: Field<String>,
    identification_short: Field<String>,
    precedence: Field<Vec<Cell<String>>>,
    control_operator: Field<String>,
}

/// Every kind of row of a profile in one: the reader of each kind asks for the keys that it needs.
#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenRow {
    id: Field<String>,
    name: Field<String>,
    #[serde(rename = "band")]
    _band: Field<String>,
    low: Field<Frequency>,
    high: Field<Frequency>,
    #[serde(rename = "status")]
    _status: Field<String>,
    #[serde(rename = "sharing")]
    _sharing: Field<String>,
    classes: Field<Vec<Cell<String>>>,
    centre: Field<Frequency>,
    types: Field<Vec<Cell<EmissionType>>>,
    not_for: Field<Vec<Cell<String>>>,
    ssb_only_for: Field<Vec<Cell<String>>>,
    width: Field<Width>,
    data_width: Field<Width>,
    #[serde(rename = "angle-index-1")]
    angle_index_1: Field<bool>,
    output: Field<Power>,
    erp: Field<Power>,
    #[serde(rename = "use")]
    use_: Field<String>,
    shift: Field<Shift>,
    note: Field<String>,
    without_fm: Field<bool>,
    service: Field<String>,
    frequency: Field<Frequency>,
    mode: Field<String>,
    source: Field<String>,
    confidence: Field<String>,
}

/// A row being read: its fields, its place, where to report.
struct Row<'a> {
    w: WrittenRow,
    span: Span,
    found: &'a mut Findings,
}

impl Row<'_> {
    fn edges(&mut self) -> Option<Stretch> {
        let low = need(self.w.low.take(), "low", self.span, self.found)?;
        let high = need(self.w.high.take(), "high", self.span, self.found)?;
        let edges = Stretch::new(low.value, high.value);
        if edges.is_none() {
            let what = format!("a row of a table runs from {} down to {}", low.value, high.value);
            let finding = crate::ground::Finding::new(&super::rules::TABLE_ROW_SWAPPED, high.span, what);
            self.found.push(finding.label("below its start"));
        }
        edges
    }

    fn cite(&mut self) -> Option<Cite> {
        Cite::read(self.w.source.take(), self.w.confidence.take(), self.span, self.found)
    }

    /// The most power: as ERP, or as output where no ERP is written.
    fn most(&mut self) -> Option<(Power, PowerMeasure)> {
        match self.w.erp.take().and_then(|cell| cell.value) {
            Some(erp) => Some((erp, PowerMeasure::Erp)),
            None => Some((need(self.w.output.take(), "output", self.span, self.found)?.value, PowerMeasure::Output)),
        }
    }

    fn text(&mut self, field: fn(&mut WrittenRow) -> &mut Field<String>, key: &str) -> Option<String> {
        need(field(&mut self.w).take(), key, self.span, self.found).map(|text| text.value)
    }
}

fn each<T>(root: &Node, key: &str, found: &mut Findings, read: fn(&mut Row<'_>) -> Option<T>) -> Vec<T> {
    let written = rows::<WrittenRow>(root, key, found);
    written.into_iter().filter_map(|(w, span)| read(&mut Row { w, span, found: &mut *found })).collect()
}

impl Profile {
    /// Reads a profile. None when its head is not whole; a row that is not whole is left out and reported.
    pub fn read(root: &Node, found: &mut Findings) -> Option<Self> {
        let (head, span) = rows::<WrittenProfile>(root, "profile", found).into_iter().next()?;
        let mut text = |field: Field<String>, key: &str| need(field, key, span, found).map(|text| text.value);
        let (id, name, rule_set) = (text(head.id, "id"), text(head.name, "name"), text(head.rule_set, "rule-set"));
        let (language, paper) = (text(head.language, "language"), text(head.paper, "paper"));
        let identification = text(head.identification, "identification");
        let identification_short = text(head.identification_short, "identification-short");
        let control_operator = text(head.control_operator, "control-operator");
        let checked_on = need(head.checked_on, "checked-on", span, found);
        let review_by = need(head.review_by, "review-by", span, found);
        let cite = Cite::read(head.source, head.confidence, span, found);
        Some(Self {
            id: id?,
            name: name?,
            rule_set: rule_set?,
            checked_on: checked_on?.value,
            review_by: review_by?.value,
            cite: cite?,
            language: language?,
            paper: paper?,
            identification: identification?,
            identification_short: identification_short?,
            precedence: list(head.precedence),
            control_operator: control_operator?,
            classes: each(root, "class", found, class),
            bands: each(root, "band", found, band),
            privileges: each(root, "privilege", found, privilege),
            emissions: each(root, "emission", found, emission),
            power_limits: each(root, "power-limit", found, power_limit),
            service_channels: each(root, "service-channel", found, service_channel),
            automatic_segments: each(root, "automatic-segment", found, repeater_segment),
            repeater_segments: each(root, "repeater-segment", found, repeater_segment),
            customs: each(root, "custom", found, custom),
            callings: each(root, "calling", found, calling),
        })
    }

    /// The class of this id.
    #[must_use]
    pub fn class(&self, id: &str) -> Option<&Class> {
        self.classes.iter().find(|class| class.id == id)
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
}

fn class(row: &mut Row<'_>) -> Option<Class> {
    row.cite()?;
    Some(Class { id: row.text(|w| &mut w.id, "id")?, name: row.text(|w| &mut w.name, "name")? })
}

fn band(row: &mut Row<'_>) -> Option<Band> {
    Some(Band {
        id: row.text(|w| &mut w.id, "id")?,
        name: row.text(|w| &mut w.name, "name")?,
        edges: row.edges()?,
        cite: row.cite()?,
    })
}

fn privilege(row: &mut Row<'_>) -> Option<Privilege> {
    let centre = row.w.centre.take().and_then(|cell| cell.value);
    Some(Privilege { classes: list(row.w.classes.take()), edges: row.edges()?, centre, cite: row.cite()? })
}

fn emission(row: &mut Row<'_>) -> Option<EmissionRow> {
    Some(EmissionRow {
        types: list(row.w.types.take()),
        not_for: list(row.w.not_for.take()),
        ssb_only_for: list(row.w.ssb_only_for.take()),
        width: row.w.width.take().and_then(|cell| cell.value),
        data_width: row.w.data_width.take().and_then(|cell| cell.value),
        has_angle_index_1: row.w.angle_index_1.take().and_then(|cell| cell.value).unwrap_or(false),
        edges: row.edges()?,
        cite: row.cite()?,
    })
}

fn power_limit(row: &mut Row<'_>) -> Option<PowerLimit> {
    let (most, measure) = row.most()?;
    Some(PowerLimit { classes: list(row.w.classes.take()), edges: row.edges()?, most, measure, cite: row.cite()? })
}

fn repeater_segment(row: &mut Row<'_>) -> Option<RepeaterSegment> {
    Some(RepeaterSegment { edges: row.edges()?, cite: row.cite()? })
}

fn service_channel(row: &mut Row<'_>) -> Option<ServiceChannel> {
    let frequency = need(row.w.frequency.take(), "frequency", row.span, row.found)?.value;
    let width = need(row.w.width.take(), "width", row.span, row.found)?.value;
    let (most, measure) = row.most()?;
    let (service, name) = (row.text(|w| &mut w.service, "service")?, row.text(|w| &mut w.name, "name")?);
    Some(ServiceChannel { service, name, frequency, width, most, measure, cite: row.cite()? })
}

fn custom(row: &mut Row<'_>) -> Option<Custom> {
    Some(Custom {
        use_: row.text(|w| &mut w.use_, "use")?,
        shift: row.w.shift.take().and_then(|cell| cell.value),
        width: row.w.width.take().and_then(|cell| cell.value),
        is_without_fm: row.w.without_fm.take().and_then(|cell| cell.value).unwrap_or(false),
        note: row.w.note.take().and_then(|cell| cell.value),
        edges: row.edges()?,
        cite: row.cite()?,
    })
}

fn calling(row: &mut Row<'_>) -> Option<Calling> {
    let frequency = need(row.w.frequency.take(), "frequency", row.span, row.found)?.value;
    Some(Calling { frequency, mode: row.text(|w| &mut w.mode, "mode")?, cite: row.cite()? })
}
