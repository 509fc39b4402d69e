//! The lines that bound areas, drawn through their points.

use super::profile_kinds::Rows;
use super::profile_rows::LinePoint;
use super::rules::{TABLE_NAME_UNKNOWN, TABLE_ROWS_CONTRADICT};
use crate::ground::{At, Border, Course, Finding, Findings, Position, Span, nearest};
use std::collections::BTreeMap;
use std::sync::Arc;

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
