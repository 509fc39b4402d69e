//! Reads a profile: the built-in ones and a team's own file alike.

use super::EmissionType;
use super::area::{Area, NorthOf, draw_lines};
use super::call_form::{CallForm, CallRegion, ClosedCalls};
use super::profile::{
    Authority, Band, Calling, Class, Custom, EmissionRow, Exclusion, LinePoint, OtherService, PairSide, PowerLimit,
    PowerMeasure, Privilege, Profile, Raster, Segment, ServiceChannel, UsualWidth,
};
use super::profile_sound;
use super::row::{Cite, Field, list, need, rows};
use super::rules::{TABLE_KEY_UNUSED, TABLE_KIND_UNKNOWN, TABLE_ROW_SWAPPED};
use crate::ground::{
    Course, Day, Distance, Finding, Findings, Frequency, Position, Power, Shift, Span, Stretch, Width, nearest,
};
use crate::source::{Cell, Node, Value};
use serde::Deserialize;

#[derive(Default, Deserialize)]
#[serde(rename_all = "kebab-case", default)]
struct WrittenProfile {
    id: Field<String>,
    base: Field<String>,
    band_plan: Field<String>,
    width: Field<UsualWidth>,
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
    forbidden: Field<Vec<Cell<String>>>,
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
    status: Field<String>,
    sharing: Field<String>,
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
    without_voice: Field<bool>,
    service: Field<String>,
    frequency: Field<Frequency>,
    mode: Field<String>,
    authority: Field<Authority>,
    identification: Field<String>,
    standard_names: Field<bool>,
    calls: Field<Vec<Cell<String>>>,
    input: Field<Frequency>,
    pair_only: Field<bool>,
    modes: Field<Vec<Cell<String>>>,
    side: Field<PairSide>,
    step: Field<Width>,
    spacing: Field<Width>,
    area: Field<String>,
    around: Field<Position>,
    radius: Field<Distance>,
    corners: Field<Vec<Cell<Position>>>,
    regions: Field<Vec<Cell<String>>>,
    rough: Field<bool>,
    north_of: Field<String>,
    margin: Field<Distance>,
    clear_regions: Field<Vec<Cell<String>>>,
    line: Field<String>,
    at: Field<Position>,
    by: Field<Course>,
    prefixes: Field<Vec<Cell<String>>>,
    digits: Field<String>,
    suffixes: Field<Vec<Cell<String>>>,
    suffix_letters: Field<Vec<Cell<u8>>>,
    reason: Field<String>,
    source: Field<String>,
    confidence: Field<String>,
}

/// The kinds of rows and the keys that each may have, beside source and confidence.
const KINDS: &[(&str, &[&str])] = &[
    ("class", &["id", "name"]),
    ("band", &["id", "name", "low", "high", "status", "sharing"]),
    ("privilege", &["band", "classes", "low", "high", "centre"]),
    ("emission", &["band", "low", "high", "types", "not-for", "ssb-only-for", "width", "data-width", "angle-index-1"]),
    (
        "power-limit",
        &[
            "low",
            "high",
            "classes",
            "output",
            "erp",
            "area",
            "around",
            "radius",
            "corners",
            "regions",
            "rough",
            "north-of",
            "margin",
            "clear-regions",
        ],
    ),
    (
        "exclusion",
        &[
            "low",
            "high",
            "area",
            "around",
            "radius",
            "corners",
            "regions",
            "rough",
            "north-of",
            "margin",
            "clear-regions",
        ],
    ),
    ("line-point", &["line", "at", "by"]),
    ("service", &["id", "name", "authority", "identification", "calls", "standard-names"]),
    ("service-channel", &["service", "name", "frequency", "input", "pair-only", "modes", "width", "output", "erp"]),
    ("automatic-segment", &["low", "high"]),
    ("repeater-segment", &["low", "high"]),
    ("auxiliary-segment", &["low", "high"]),
    ("beacon-segment", &["low", "high", "output"]),
    ("custom", &["band", "low", "high", "use", "shift", "side", "width", "without-fm", "without-voice", "note"]),
    ("raster", &["low", "high", "step", "spacing"]),
    ("calling", &["frequency", "mode"]),
    ("emergency", &["frequency", "mode"]),
    ("call-form", &["name", "classes", "prefixes", "suffix-letters"]),
    ("closed-calls", &["prefixes", "digits", "suffixes", "reason"]),
    ("call-region", &["digits", "regions"]),
];

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
            self.found.push(Finding::new(&TABLE_ROW_SWAPPED, high.span, what).label("below its start"));
        }
        edges
    }

    fn cite(&mut self) -> Option<Cite> {
        Cite::read(self.w.source.take(), self.w.confidence.take(), self.span, self.found)
    }

    /// The most power where one is written: as ERP, or as output.
    fn may_most(&mut self) -> Option<(Power, PowerMeasure)> {
        let erp = self.w.erp.take().and_then(|cell| cell.value).map(|erp| (erp, PowerMeasure::Erp));
        let output = self.w.output.take().and_then(|cell| cell.value).map(|output| (output, PowerMeasure::Output));
        erp.or(output)
    }

    /// The most power, which must be there.
    fn most(&mut self) -> Option<(Power, PowerMeasure)> {
        if self.w.erp.is_some() || self.w.output.is_some() {
            return self.may_most();
        }
        need(self.w.output.take(), "output", self.span, self.found).map(|most| (most.value, PowerMeasure::Output))
    }

    fn text(&mut self, field: fn(&mut WrittenRow) -> &mut Field<String>, key: &str) -> Option<String> {
        need(field(&mut self.w).take(), key, self.span, self.found).map(|text| text.value)
    }

    fn north_of(&mut self) -> Option<NorthOf> {
        let name = self.w.north_of.take().and_then(Cell::at)?;
        let margin = need(self.w.margin.take(), "margin", self.span, self.found)?.value;
        Some(NorthOf { name, line: None, margin, clear_regions: list(self.w.clear_regions.take()) })
    }

    /// The area that binds the row; none where it names none.
    fn area(&mut self) -> Option<Area> {
        let name = self.w.area.take()?.value?;
        let circle = Option::zip(
            self.w.around.take().and_then(|cell| cell.value),
            self.w.radius.take().and_then(|cell| cell.value),
        );
        let corners: Vec<Position> = list(self.w.corners.take());
        let corners = <[Position; 2]>::try_from(corners).ok();
        let (regions, is_rough) = (list(self.w.regions.take()), is_set(self.w.rough.take()));
        let north_of = self.north_of();
        Some(Area { name, circle, corners, regions, north_of, is_rough })
    }
}

fn each<T: Clone>(
    root: &Node,
    base: Option<&[T]>,
    key: &str,
    found: &mut Findings,
    read: fn(&mut Row<'_>) -> Option<T>,
) -> Vec<T> {
    if root.get(key).is_none() {
        return base.unwrap_or_default().to_vec();
    }
    let written = rows::<WrittenRow>(root, key, found);
    written.into_iter().filter_map(|(w, span)| read(&mut Row { w, span, found: &mut *found })).collect()
}

/// Reports kinds of rows that there are not, and keys that a kind does not use: a limit under a wrong name would bind nothing.
fn look_for_strangers(root: &Node, found: &mut Findings) {
    for (key, node) in root.entries().unwrap_or_default() {
        if key.text == "profile" {
            continue;
        }
        let Some((_, keys)) = KINDS.iter().find(|(kind, _)| *kind == key.text) else {
            let finding = Finding::new(&TABLE_KIND_UNKNOWN, key.span, format!("a profile has no rows `{}`", key.text))
                .label("no kind of row");
            let kinds = || KINDS.iter().map(|(kind, _)| *kind);
            found.push(match nearest(&key.text, kinds()) {
                Some(name) => finding.help(format!("did you mean `{name}`?")).fix(key.span, name),
                None => finding.note(format!("kinds of rows: {}", kinds().collect::<Vec<_>>().join(", "))),
            });
            continue;
        };
        let rows = match &node.value {
            Value::List(items) => items.iter().collect(),
            _ => vec![node],
        };
        for (written, _) in rows.into_iter().flat_map(|row| row.entries().unwrap_or_default()) {
            let is_used =
                ["source", "confidence"].contains(&written.text.as_str()) || keys.contains(&written.text.as_str());
            if !is_used && KINDS.iter().any(|(_, others)| others.contains(&written.text.as_str())) {
                let what = format!("a row `{}` does not use `{}`", key.text, written.text);
                found.push(
                    Finding::new(&TABLE_KEY_UNUSED, written.span, what)
                        .label("changes nothing here")
                        .note(format!("its keys: {}", keys.join(", "))),
                );
            }
        }
    }
}

impl Profile {
    /// Reads a profile. None when its head is not whole; a row that is not whole is left out and reported.
    ///
    /// With `base`, the id of a profile in `known`, what the file does not write is the base's: its head, and each kind of
    /// rows that the file has none of. Name, rule set, source and confidence are the file's own in any case. With `band-plan`
    /// the rows of the band plan are that profile's, in the same way.
    pub fn read(root: &Node, known: &[std::sync::Arc<Self>], found: &mut Findings) -> Option<Self> {
        look_for_strangers(root, found);
        let (head, span) = rows::<WrittenProfile>(root, "profile", found).into_iter().next()?;
        let base = named(head.base, known, found)?;
        let plan = named(head.band_plan, known, found)?.or(base);
        let mut own = |field: Field<String>, key: &str| need(field, key, span, found).map(|text| text.value);
        let (id, name, rule_set) = (own(head.id, "id"), own(head.name, "name"), own(head.rule_set, "rule-set"));
        let cite = Cite::read(head.source, head.confidence, span, found);
        let mut text = |field: Field<String>, key: &str, base: Option<&String>| match base {
            Some(base) if field.is_none() => Some(base.clone()),
            _ => need(field, key, span, found).map(|text| text.value),
        };
        let language = text(head.language, "language", base.map(|base| &base.language));
        let paper = text(head.paper, "paper", base.map(|base| &base.paper));
        let identification = text(head.identification, "identification", base.map(|base| &base.identification));
        let identification_short =
            text(head.identification_short, "identification-short", base.map(|base| &base.identification_short));
        let control_operator = text(head.control_operator, "control-operator", base.map(|base| &base.control_operator));
        let mut day = |field: Field<Day>, key: &str, base: Option<Day>| match base {
            Some(base) if field.is_none() => Some(base),
            _ => need(field, key, span, found).map(|day| day.value),
        };
        let checked_on = day(head.checked_on, "checked-on", base.map(|base| base.checked_on));
        let review_by = day(head.review_by, "review-by", base.map(|base| base.review_by));
        let width = head.width.and_then(|cell| cell.value);
        let words = |field: Field<Vec<Cell<String>>>, base: Option<&Vec<String>>| match (&field, base) {
            (None, Some(base)) => base.clone(),
            _ => list(field),
        };
        let mut profile = Self {
            id: id?,
            name: name?,
            rule_set: rule_set?,
            checked_on: checked_on?,
            review_by: review_by?,
            cite: cite?,
            language: language?,
            paper: paper?,
            identification: identification?,
            identification_short: identification_short?,
            precedence: words(head.precedence, base.map(|base| &base.precedence)),
            forbidden: words(head.forbidden, base.map(|base| &base.forbidden)),
            control_operator: control_operator?,
            usual_width: width.or(base.map(|base| base.usual_width)).unwrap_or(UsualWidth::Wide),
            classes: each(root, base.map(|base| &*base.classes), "class", found, class),
            bands: each(root, base.map(|base| &*base.bands), "band", found, band),
            privileges: each(root, base.map(|base| &*base.privileges), "privilege", found, privilege),
            emissions: each(root, base.map(|base| &*base.emissions), "emission", found, emission),
            power_limits: each(root, base.map(|base| &*base.power_limits), "power-limit", found, power_limit),
            exclusions: each(root, base.map(|base| &*base.exclusions), "exclusion", found, exclusion),
            line_points: each(root, base.map(|base| &*base.line_points), "line-point", found, line_point),
            services: each(root, base.map(|base| &*base.services), "service", found, other_service),
            service_channels: each(
                root,
                base.map(|base| &*base.service_channels),
                "service-channel",
                found,
                service_channel,
            ),
            automatic_segments: each(
                root,
                base.map(|base| &*base.automatic_segments),
                "automatic-segment",
                found,
                segment,
            ),
            repeater_segments: each(
                root,
                base.map(|base| &*base.repeater_segments),
                "repeater-segment",
                found,
                segment,
            ),
            auxiliary_segments: each(
                root,
                base.map(|base| &*base.auxiliary_segments),
                "auxiliary-segment",
                found,
                segment,
            ),
            beacon_segments: each(root, base.map(|base| &*base.beacon_segments), "beacon-segment", found, segment),
            customs: each(root, plan.map(|plan| &*plan.customs), "custom", found, custom),
            rasters: each(root, plan.map(|plan| &*plan.rasters), "raster", found, raster),
            callings: each(root, plan.map(|plan| &*plan.callings), "calling", found, calling),
            emergencies: each(root, plan.map(|plan| &*plan.emergencies), "emergency", found, calling),
            call_forms: each(root, base.map(|base| &*base.call_forms), "call-form", found, call_form),
            closed_calls: each(root, base.map(|base| &*base.closed_calls), "closed-calls", found, closed_calls),
            call_regions: each(root, base.map(|base| &*base.call_regions), "call-region", found, call_region),
        };
        draw_lines(&mut profile, span, found);
        profile_sound::check(&profile, span, found);
        Some(profile)
    }
}

/// The known profile that a key of the head names. None when it names none that there is.
fn named<'a>(
    field: Field<String>,
    known: &'a [std::sync::Arc<Profile>],
    found: &mut Findings,
) -> Option<Option<&'a Profile>> {
    let Some(name) = field.and_then(Cell::at) else { return Some(None) };
    let profile = known.iter().find(|profile| profile.id == name.value);
    if profile.is_none() {
        profile_sound::unknown_base(&name, known, found);
    }
    profile.map(|profile| Some(&**profile))
}

fn class(row: &mut Row<'_>) -> Option<Class> {
    let cite = row.cite()?;
    Some(Class { id: row.text(|w| &mut w.id, "id")?, name: row.text(|w| &mut w.name, "name")?, cite })
}

fn band(row: &mut Row<'_>) -> Option<Band> {
    Some(Band {
        id: row.text(|w| &mut w.id, "id")?,
        name: row.text(|w| &mut w.name, "name")?,
        edges: row.edges()?,
        status: row.w.status.take().and_then(|cell| cell.value),
        sharing: row.w.sharing.take().and_then(|cell| cell.value),
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
        has_angle_index_1: is_set(row.w.angle_index_1.take()),
        edges: row.edges()?,
        cite: row.cite()?,
    })
}

fn is_set(field: Field<bool>) -> bool {
    field.and_then(|cell| cell.value).unwrap_or(false)
}

fn power_limit(row: &mut Row<'_>) -> Option<PowerLimit> {
    let (most, measure) = row.most()?;
    let area = row.area();
    Some(PowerLimit {
        classes: list(row.w.classes.take()),
        edges: row.edges()?,
        most,
        measure,
        area,
        cite: row.cite()?,
    })
}

fn exclusion(row: &mut Row<'_>) -> Option<Exclusion> {
    if row.w.area.is_none() {
        need(row.w.area.take(), "area", row.span, row.found);
    }
    Some(Exclusion { edges: row.edges()?, area: row.area()?, cite: row.cite()? })
}

fn line_point(row: &mut Row<'_>) -> Option<LinePoint> {
    let line = row.text(|w| &mut w.line, "line")?;
    let at = need(row.w.at.take(), "at", row.span, row.found)?.value;
    let by = need(row.w.by.take(), "by", row.span, row.found)?.value;
    Some(LinePoint { line, at, by, cite: row.cite()? })
}

fn segment(row: &mut Row<'_>) -> Option<Segment> {
    let most = row.w.output.take().and_then(|cell| cell.value);
    Some(Segment { edges: row.edges()?, most, cite: row.cite()? })
}

fn other_service(row: &mut Row<'_>) -> Option<OtherService> {
    let authority = need(row.w.authority.take(), "authority", row.span, row.found)?.value;
    Some(OtherService {
        id: row.text(|w| &mut w.id, "id")?,
        name: row.text(|w| &mut w.name, "name")?,
        authority,
        identification: row.w.identification.take().and_then(|cell| cell.value),
        calls: list(row.w.calls.take()),
        has_standard_names: is_set(row.w.standard_names.take()),
        cite: row.cite()?,
    })
}

fn service_channel(row: &mut Row<'_>) -> Option<ServiceChannel> {
    let frequency = need(row.w.frequency.take(), "frequency", row.span, row.found)?.value;
    let (service, name) = (row.text(|w| &mut w.service, "service")?, row.text(|w| &mut w.name, "name")?);
    Some(ServiceChannel {
        service,
        name,
        frequency,
        input: row.w.input.take().and_then(|cell| cell.value),
        is_pair_only: is_set(row.w.pair_only.take()),
        modes: list(row.w.modes.take()),
        width: row.w.width.take().and_then(|cell| cell.value),
        most: row.may_most(),
        cite: row.cite()?,
    })
}

fn custom(row: &mut Row<'_>) -> Option<Custom> {
    Some(Custom {
        use_: row.text(|w| &mut w.use_, "use")?,
        shift: row.w.shift.take().and_then(|cell| cell.value),
        side: row.w.side.take().and_then(|cell| cell.value),
        width: row.w.width.take().and_then(|cell| cell.value),
        is_without_fm: is_set(row.w.without_fm.take()),
        is_without_voice: is_set(row.w.without_voice.take()),
        note: row.w.note.take().and_then(|cell| cell.value),
        edges: row.edges()?,
        cite: row.cite()?,
    })
}

fn raster(row: &mut Row<'_>) -> Option<Raster> {
    let step = need(row.w.step.take(), "step", row.span, row.found)?.value;
    let spacing = row.w.spacing.take().and_then(|cell| cell.value);
    Some(Raster { edges: row.edges()?, step, spacing, cite: row.cite()? })
}

fn calling(row: &mut Row<'_>) -> Option<Calling> {
    let frequency = need(row.w.frequency.take(), "frequency", row.span, row.found)?.value;
    Some(Calling { frequency, mode: row.text(|w| &mut w.mode, "mode")?, cite: row.cite()? })
}

fn call_form(row: &mut Row<'_>) -> Option<CallForm> {
    Some(CallForm {
        name: row.text(|w| &mut w.name, "name")?,
        classes: list(row.w.classes.take()),
        prefixes: list(row.w.prefixes.take()),
        suffix_letters: list(row.w.suffix_letters.take()),
        cite: row.cite()?,
    })
}

fn closed_calls(row: &mut Row<'_>) -> Option<ClosedCalls> {
    Some(ClosedCalls {
        prefixes: list(row.w.prefixes.take()),
        digits: row.w.digits.take().and_then(|cell| cell.value),
        suffixes: list(row.w.suffixes.take()),
        reason: row.text(|w| &mut w.reason, "reason")?,
        cite: row.cite()?,
    })
}

fn call_region(row: &mut Row<'_>) -> Option<CallRegion> {
    let digits = row.text(|w| &mut w.digits, "digits")?;
    Some(CallRegion { digits, regions: list(row.w.regions.take()), cite: row.cite()? })
}
