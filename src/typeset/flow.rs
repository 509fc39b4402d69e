//! A document's sections -> filled panels, in order; nothing is parted that belongs together, nothing is left out.

use super::blocks::{heading, pieces};
use super::columns::{Columns, Titled, filled};
use super::filling::{Body, Filling};
use super::format::Format;
use super::furniture::Furniture;
use super::layout::Layout;
use super::mark::{Panel, Point};
use super::pen::Pen;
use super::piece::{Piece, Room};
use super::setting::Setting;
use crate::compose::block::{Document, Role, Section};
use crate::ground::{Findings, Length, Span};
use std::rc::Rc;

/// All bodies of a document.
pub(super) fn bodies(document: &Document, room: &Room<'_>, found: &mut Findings) -> Vec<Body> {
    let layout = room.layout;
    let columns = Columns::of(layout, room.width);
    let room = Room { width: columns.width, ..*room };
    let mut runs: Vec<Vec<Titled>> = Vec::new();
    for section in in_order(&document.sections, layout) {
        let mut pieces = pieces(section, &room, found);
        let follows = !layout.format.has_panels() && !runs.is_empty();
        if follows {
            let title = heading(&section.title, Role::Title, &room, found);
            pieces.insert(0, Piece { is_title: true, ..title });
        }
        let title: Rc<str> = section.title.words().into();
        let pieces = pieces.into_iter().map(|piece| Titled { title: Rc::clone(&title), piece });
        match runs.last_mut().filter(|_| follows) {
            Some(run) => run.extend(pieces),
            None => runs.push(pieces.collect()),
        }
    }
    let mut bodies = Vec::new();
    for (section, run) in in_order(&document.sections, layout).into_iter().zip(&runs) {
        let filled = filled(run, &room, room.height, found);
        let filled = if filled.is_empty() { vec![Filling::new(section.title.words(), room.layout)] } else { filled };
        bodies.extend(columns.joined(filled, run, &room));
    }
    bodies
}

/// Sections as the layout wants them: those that it names first, then the others as composed.
fn in_order<'a>(sections: &'a [Section], layout: &Layout) -> Vec<&'a Section> {
    let mut ordered: Vec<&Section> = sections.iter().collect();
    let place = |section: &&Section| layout.order.iter().position(|key| key == section.key);
    ordered.sort_by_key(|section| place(section).unwrap_or(layout.order.len()));
    ordered
}

/// Bodies with their furniture, numbered in order.
pub(super) fn finished(
    bodies: Vec<Body>,
    furniture: &Furniture<'_>,
    format: Format,
    asked: Span,
    found: &mut Findings,
) -> Vec<Panel> {
    let count = bodies.len();
    let mut panels = Vec::new();
    for (index, body) in bodies.into_iter().enumerate() {
        let number = format!("{} {} of {count}", format.unit(), index + 1);
        let mut marks = furniture.marks(&body.title, &number, asked, found);
        // Reading order: head, content, foot.
        let foot = marks.split_off(4.min(marks.len()));
        let origin = Point { x: furniture.inner.left, y: furniture.inner.top };
        let content = Setting { marks: body.marks, height: Length::ZERO };
        marks.extend(content.at(origin));
        marks.extend(foot);
        panels.push(Panel { size: furniture.size, safe: furniture.safe, title: body.title, fill: body.fill, marks });
    }
    panels
}

/// A room for the text of a document.
pub(super) fn room<'a>(layout: &'a Layout, pen: &'a Pen, furniture: &Furniture<'_>, asked: Span) -> Room<'a> {
    Room { layout, pen, width: furniture.inner.width(), height: furniture.inner.height(), asked }
}
