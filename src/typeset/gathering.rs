//! What a gathering bears beside its content: panels to write on, and the last one, which tells what the sheet is and how it is folded.

use super::filling::Body;
use super::flow::settled;
use super::furniture::scale_bar;
use super::lines::paragraph;
use super::memory::{Said, Settled};
use super::piece::Room;
use crate::compose::block::{Role, Text};
use crate::formats::Gathering;
use crate::ground::{Findings, Length};
use crate::sheet::{HAIRLINE, Mark, Point, across};

/// Panels of content, empty ones to write on, and the last of each gathering: rules, folding, scale. A folded sheet is a
/// gathering; a booklet is one as a whole, of as many fours as it takes.
pub(super) fn gathered(
    bodies: Vec<Settled>,
    (gathering, told): (Gathering, &[Text]),
    room: &Room<'_>,
    found: &mut Findings,
) -> Vec<Settled> {
    let size = match gathering.whole {
        Some(_) => (bodies.len() + 1).next_multiple_of(gathering.panels),
        None => gathering.panels,
    };
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

/// What is said once a sheet, how the sheet is folded, and the bar by which one sees that the printer did not scale.
pub(super) fn about(told: &[Text], (sheet, sheets): (usize, usize), room: &Room<'_>) -> Body {
    let Room { layout, pen, width, .. } = *room;
    let mut marks = Vec::new();
    let mut y = Length::mm(1);
    let mut block = 0;
    let gathering = layout.format.gathering();
    let folding = Text::own(gathering.map_or("", |gathering| gathering.folding));
    for (text, role) in told.iter().map(|text| (text, Role::Body)).chain(std::iter::once((&folding, Role::Small))) {
        let Some(setting) = paragraph(pen, text, layout.style(role), width) else { continue };
        block += 1;
        marks.extend(setting.at(Point { x: Length::ZERO, y }).map(|mark| in_block(mark, block)));
        y += setting.height + Length::hundredths_mm(180);
    }
    let bar = scale_bar(pen, layout, Point { x: Length::ZERO, y: y + Length::mm(3) });
    marks.extend(bar.into_iter().map(|mark| in_block(mark, block + 1)));
    let whole = gathering.and_then(|gathering| gathering.whole);
    let title = whole.map_or_else(|| format!("Sheet {sheet} of {sheets}"), str::to_owned);
    Body::new(title, marks)
}

/// A mark as part of a block of what is read aloud.
fn in_block(mut mark: Mark, block: u32) -> Mark {
    if let Mark::Glyphs(glyphs) = &mut mark {
        glyphs.place.block = block;
    }
    mark
}
