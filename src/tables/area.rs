//! Areas on the ground that a rule is bound to.

use super::profile::{LinePoint, Profile};
use super::rules::{TABLE_NAME_UNKNOWN, TABLE_ROWS_CONTRADICT};
use crate::ground::{At, Border, Course, Distance, Finding, Findings, Position, Span, nearest};
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

/// Draws the lines of a profile for the areas that name one, and reports those that cannot be drawn.
pub(super) fn draw_lines(profile: &mut Profile, head: Span, found: &mut Findings) {
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
