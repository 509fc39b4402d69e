//! A sheet with a column at the right: sections that the layout puts beside the others stand there, under the title.

use super::blocks::{heading, pieces};
use super::columns::{Titled, filled, last_place, placed_after};
use super::filling::{Body, Filling};
use super::layout::Layout;
use super::piece::{BesideColumn, Piece, Room};
use super::setting::Setting;
use super::strip_form::WALL;
use crate::compose::block::{Role, Section};
use crate::ground::{Findings, Length};
use crate::sheet::{Mark, Point};

/// The head of a sheet with a column: plan, edition, code, title.
pub(super) const SHEET_HEAD: Length = Length::mm(24);

/// Between the two columns, and the least width of the right one.
const GUTTER: Length = Length::mm(10);
const LEAST: Length = Length::mm(76);

/// How wide the column beside is on paper so wide. None where a layout has none, or no room for one.
pub(super) fn beside_width(layout: &Layout, width: Length) -> Option<Length> {
    let left = layout.air(WALL.gutter + WALL.line + GUTTER);
    Some(width - left).filter(|width| !layout.beside.is_empty() && *width >= layout.air(LEAST))
}

/// The bodies of sections on sheets with such a column. What is higher than the column goes on below the others, where there is more room.
pub(super) fn beside_bodies(
    sections: &[Section],
    column: BesideColumn,
    room: &Room<'_>,
    found: &mut Findings,
) -> Vec<Body> {
    let place = |section: &&Section| room.layout.beside.iter().position(|key| key == section.key);
    let mut side: Vec<&Section> = sections.iter().filter(|section| place(section).is_some()).collect();
    side.sort_by_key(place);
    let mut main: Vec<&Section> = sections.iter().filter(|section| place(section).is_none()).collect();
    // Words of the last numeral may hang over the end of a line.
    let main_room = Room { width: column.left - room.layout.air(GUTTER) / 2 - room.at.x, beside: None, ..*room };
    let side_room = Room { width: column.width, height: column.bottom - column.top, beside: None, ..*room };
    let mut unheard = Findings::default();
    if set(&side, &side_room, true, &mut unheard).len() > 1 && !side.is_empty() {
        main.push(side.remove(0));
    }
    let left = set(&main, &main_room, false, found);
    let right = set(&side, &side_room, true, found);
    let title = main.first().or(side.first()).map(|section| section.title.words()).unwrap_or_default();
    let count = left.len().max(right.len()).max(1);
    let (mut left, mut right) = (left.into_iter(), right.into_iter());
    let mut bodies = Vec::new();
    for _ in 0..count {
        let mut body = match left.next() {
            Some(filling) => filling.finish(false, room, room.height),
            None => Body::new(title.clone(), Vec::new()),
        };
        body.title.clone_from(&title);
        if let Some(beside) = right.next() {
            let Body { marks, .. } = beside.finish(false, &side_room, side_room.height);
            let after = last_place(&body.marks);
            let moved = Setting { marks, height: Length::ZERO };
            let by = Point { x: column.left - room.at.x, y: column.top - room.at.y };
            let moved: Vec<Mark> = moved.at(by).collect();
            body.marks.extend(moved.into_iter().map(|mark| placed_after(mark, after)));
        }
        bodies.push(body);
    }
    bodies
}

/// Sections below each other; those beside the others have titles, but for the first, which stands under that of the sheet.
fn set(sections: &[&Section], room: &Room<'_>, is_titled: bool, found: &mut Findings) -> Vec<Filling> {
    let mut run: Vec<Titled> = Vec::new();
    for (index, section) in sections.iter().enumerate() {
        let title = section.title.words();
        let titled = |piece| Titled { title: title.clone().into(), piece };
        if is_titled && index > 0 {
            let heading = heading(&section.title, Role::Name, room, found);
            run.push(titled(Piece { keeps_next: true, ..heading }));
        }
        run.extend(pieces(section, room, found).into_iter().map(titled));
    }
    filled(&mut run, room, |_| room.height, found)
}
