//! Areas on the ground that a rule is bound to.

use super::profile::Rows;
use super::profile_rows::LinePoint;
use super::rules::{TABLE_NAME_UNKNOWN, TABLE_ROWS_CONTRADICT};
use crate::ground::{At, Border, Course, Distance, Finding, Findings, Position, Span, nearest};
use crate::source::{Cell, Partly, Reading, SettledBy, record};
use std::collections::BTreeMap;
use std::sync::Arc;

/// An area: all of what is written of it must hold.
#[derive(Clone, Debug)]
pub struct Area {
    /// As the rule names it.
    pub name: String,
    /// Around a point.
    pub circle: Option<(Position, Distance)>,
    /// South-west and north-east corner; the box does not reach over the 180th meridian.
    pub corners: Option<[Position; 2]>,
    /// ISO 3166-2 codes of states or provinces, as `US-MT`; empty for any.
    pub regions: Vec<String>,
    /// North of a line.
    pub north_of: Option<NorthOf>,
    /// Whether it is drawn wider than the law draws it, so that inside it nothing is certain.
    pub is_rough: bool,
}

/// What lies north of a line.
#[derive(Clone, Debug)]
pub struct NorthOf {
    /// The line, as its points name it.
    pub name: At<String>,
    /// The line itself; none where no rows draw it, which is a finding.
    pub line: Option<Arc<Border>>,
    /// Nearer to the line than this, nothing is certain.
    pub margin: Distance,
    /// States or provinces that lie wholly south of it, by ISO 3166-2.
    pub clear_regions: Vec<String>,
}

record! {
    /// The keys of an area, which stand in the row that it bounds.
    pub struct WrittenArea = "row of a table" {
        /// As the rule names it.
        area: Option<Cell<String>>,
        /// The middle of a circle.
        around: Option<Position>,
        /// Its radius.
        radius: Option<Distance>,
        /// South-west and north-east corner of a box.
        corners: Vec<Position>,
        /// ISO 3166-2 codes of states or provinces.
        regions: Vec<String>,
        /// Whether it is drawn wider than the law draws it.
        is_rough as "rough": bool,
        /// A line, as its points name it.
        north_of: Option<At<String>>,
        /// Nearer to the line than this, nothing is certain.
        margin: Option<Cell<Distance>>,
        /// States or provinces that lie wholly south of it.
        clear_regions: Vec<String>,
    }
}

impl Partly for Option<Area> {
    type Written = WrittenArea;
}

/// None where the row names none: it binds everywhere.
impl SettledBy<()> for Option<Area> {
    fn settle(written: WrittenArea, (): (), of: &mut Reading<'_>) -> Option<Self> {
        let Some(name) = written.area.and_then(|cell| cell.value) else { return Some(None) };
        let north_of = written.north_of.and_then(|name| {
            let margin = of.must(written.margin, "margin")?.value;
            Some(NorthOf { name, line: None, margin, clear_regions: written.clear_regions })
        });
        Some(Some(Area {
            name,
            circle: Option::zip(written.around, written.radius),
            corners: <[Position; 2]>::try_from(written.corners).ok(),
            regions: written.regions,
            north_of,
            is_rough: written.is_rough,
        }))
    }
}

impl Partly for Area {
    type Written = WrittenArea;
}

impl SettledBy<()> for Area {
    fn settle(written: WrittenArea, (): (), of: &mut Reading<'_>) -> Option<Self> {
        if written.area.is_none() {
            of.missing("area");
        }
        Option::settle(written, (), of)?
    }
}

/// Draws the lines of a profile for the areas that name one, and reports those that cannot be drawn.
pub(super) fn draw_lines(profile: &mut Rows, head: Span, found: &mut Findings) {
    let mut points: BTreeMap<&str, Vec<&LinePoint>> = BTreeMap::new();
    for point in &profile.line_points {
        points.entry(point.line.as_str()).or_default().push(point);
    }
    let mut lines: BTreeMap<String, Arc<Border>> = BTreeMap::new();
    for (name, points) in points {
        let course: Vec<(Position, Course)> = points.iter().map(|point| (point.at.clone(), point.by)).collect();
        let last = points.last().map(|point| point.cite.span).filter(|span| span.file == head.file);
        match (Border::through(&course), last) {
            (Some(line), _) => drop(lines.insert(name.to_owned(), Arc::new(line))),
            (None, Some(span)) => found.push(undrawable(name, points.len(), span)),
            (None, None) => {}
        }
    }
    let limits = profile.power_limits.iter_mut().filter_map(|row| row.area.as_mut());
    let areas = profile.exclusions.iter_mut().map(|row| &mut row.area).chain(limits);
    for north_of in areas.filter_map(|area| area.north_of.as_mut()).filter(|north_of| north_of.line.is_none()) {
        north_of.line = lines.get(&north_of.name.value).cloned();
        if north_of.line.is_none() {
            found.push(unknown(&north_of.name, lines.keys().map(String::as_str)));
        }
    }
}

fn undrawable(name: &str, count: usize, span: Span) -> Finding {
    let what = format!("the {count} points of the line {name} draw none");
    Finding::new(&TABLE_ROWS_CONTRADICT, span, what)
        .label("its last point")
        .note("a line takes two points; a parallel keeps its latitude, a meridian its longitude")
}

fn unknown<'a>(name: &At<String>, known: impl Iterator<Item = &'a str>) -> Finding {
    let what = format!("a row names the line \"{}\", which no points of the profile draw", name.value);
    let finding = Finding::new(&TABLE_NAME_UNKNOWN, name.span, what).label("names no line");
    match nearest(&name.value, known) {
        Some(near) => finding.help(format!("did you mean \"{near}\"?")),
        None => finding.help("add its [[line-point]] rows"),
    }
}
