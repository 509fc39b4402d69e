//! What a gathering bears beside its content: panels to write on, and the last one, which tells what the sheet is and how it is folded.

use super::filling::Body;
use super::flow::settled;
use super::format::Format;
use super::furniture::scale_bar;
use super::lines::paragraph;
use super::mark::{Mark, Point};
use super::memory::{Said, Settled};
use super::pen::{HAIRLINE, across};
use super::piece::Room;
use crate::compose::block::{Role, Text};
use crate::ground::{Findings, Length};

/// Panels of content, empty ones to write on, and the last of each gathering: rules, folding, scale. A folded sheet is a
/// gathering; a booklet is one as a whole.
pub(super) fn gathered(
    bodies: Vec<Settled>,
    (size, told): (usize, &[Text]),
    room: &Room<'_>,
    found: &mut Findings,
) -> Vec<Settled> {
    let sheets = bodies.len().div_ceil(size - 1).max(1);
    let mut bodies = bodies.into_iter();
    let mut gathered = Vec::new();
    for sheet in 1..=sheets {
        for _ in 1..size {
            match bodies.next() {
                Some(body) => gathered.push(body),
                None => gathered.extend(settled(Said::Notes, room, found)),
            }
        }
        gathered.extend(settled(Said::About(told.to_vec(), (sheet, sheets)), room, found));
    }
    gathered
}

/// Lines to write on.
pub(super) fn notes(room: &Room<'_>) -> Body {
    let line = room.layout.writing_line;
    let count = (room.height.as_grains() / line.as_grains()).max(0);
    let marks = (1..=count).map(|n| across(Length::ZERO, room.width, line * n, HAIRLINE)).collect();
    Body::new("Notes".to_owned(), marks)
}

/// How a sheet becomes what it is to be.
const fn folding(format: Format) -> &'static str {
    match format {
        Format::Fold8 => {
            "Print on one side at 100 %. Fold the sheet in half the long way, then in four across; open it, cut along the \
             dashed line; fold the long way again and push the ends together until it closes as a book."
        }
        Format::Fold4 => {
            "Print on one side at 100 %. Fold the upper half back behind the lower one, then the left half back behind the \
             right one: panel 1 is in front."
        }
        Format::Booklet => {
            "Print on both sides at 100 %, turned about the short edge. Lay the sheets on each other in order, fold them in the \
             middle and staple the fold. The inner pages stand out a little (creep); nothing is moved to make up for it."
        }
        _ => "",
    }
}

/// What is said once a sheet, how the sheet is folded, and the bar by which one sees that the printer did not scale.
pub(super) fn about(told: &[Text], (sheet, sheets): (usize, usize), room: &Room<'_>) -> Body {
    let Room { layout, pen, width, .. } = *room;
    let mut marks = Vec::new();
    let mut y = Length::mm(1);
    let mut block = 0;
    let folding = Text::own(folding(layout.format));
    for (text, role) in told.iter().map(|text| (text, Role::Body)).chain(std::iter::once((&folding, Role::Small))) {
        let Some(setting) = paragraph(pen, text, layout.style(role), width) else { continue };
        block += 1;
        marks.extend(setting.at(Point { x: Length::ZERO, y }).map(|mark| in_block(mark, block)));
        y += setting.height + Length::hundredths_mm(180);
    }
    let bar = scale_bar(pen, layout, Point { x: Length::ZERO, y: y + Length::mm(3) });
    marks.extend(bar.into_iter().map(|mark| in_block(mark, block + 1)));
    let title =
        if layout.format == Format::Booklet { "This booklet".to_owned() } else { format!("Sheet {sheet} of {sheets}") };
    Body::new(title, marks)
}

/// A mark as part of a block of what is read aloud.
fn in_block(mut mark: Mark, block: u32) -> Mark {
    if let Mark::Glyphs(glyphs) = &mut mark {
        glyphs.place.block = block;
    }
    mark
}
