//! What a gathering bears beside its content: panels to write on, and the last one, which tells what the sheet is and how it is folded.

use super::filling::Body;
use super::furniture::{bar_words, scale_bar};
use super::lines::paragraph;
use super::order::SheetCount;
use super::piece::{Room, does_not_fit};
use crate::compose::block::{Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{HAIRLINE, Mark, Point, across};

/// Lines to write on.
pub(super) fn notes(room: &Room<'_>) -> Body {
    let line = room.layout.writing_line;
    let count = (room.height.as_grains() / line.as_grains()).max(0);
    let marks = (1..=count).map(|n| across(Length::ZERO, room.width, line * n, HAIRLINE)).collect();
    Body::new("Notes".to_owned(), marks)
}

/// What is said once a sheet, how the sheet is folded, and the bar by which one sees that the printer did not scale; on more than one
/// panel where the type is large.
pub(super) fn about(told: &[Text], count: SheetCount, room: &Room<'_>, found: &mut Findings) -> Vec<Body> {
    let Room { layout, pen, width, height, .. } = *room;
    let SheetCount { sheet, of: sheets } = count;
    let gathering = layout.format.gathering();
    let whole = gathering.and_then(|gathering| gathering.whole);
    let title = whole.map_or_else(|| format!("Sheet {sheet} of {sheets}"), str::to_owned);
    let (mut bodies, mut marks) = (Vec::new(), Vec::new());
    let (mut y, mut block) = (TOP, 0);
    let folding = Text::own(gathering.map_or("", |gathering| gathering.folding));
    for (text, role) in told.iter().map(|text| (text, Role::Body)).chain(std::iter::once((&folding, Role::Small))) {
        let Some(setting) = paragraph(pen, text, layout.style(role), width) else { continue };
        if TOP + setting.height > height {
            found.push(does_not_fit(&text.words(), Span::NOWHERE, room.asked, "high", height));
        }
        if y + setting.height > height && block > 0 {
            bodies.push(Body::new(title.clone(), std::mem::take(&mut marks)));
            (y, block) = (TOP, 0);
        }
        block += 1;
        marks.extend(setting.at(Point { x: Length::ZERO, y }).map(|mark| in_block(mark, block)));
        y += setting.height + PARAGRAPH;
    }
    let words = layout.style(Role::Small);
    if y + BEFORE_BAR + bar_words(layout) + words.tail() > height && block > 0 {
        bodies.push(Body::new(title.clone(), std::mem::take(&mut marks)));
        (y, block) = (TOP, 0);
    }
    let bar = scale_bar(pen, layout, Point { x: Length::ZERO, y: y + BEFORE_BAR });
    marks.extend(bar.into_iter().map(|mark| in_block(mark, block + 1)));
    bodies.push(Body::new(title, marks));
    bodies
}

/// Air above the first text, below each, and above the bar.
const TOP: Length = Length::mm(1);
const PARAGRAPH: Length = Length::hundredths_mm(180);
const BEFORE_BAR: Length = Length::mm(3);

/// A mark as part of a block of what is read aloud.
fn in_block(mut mark: Mark, block: u32) -> Mark {
    if let Some(place) = mark.place_mut() {
        place.block = block;
    }
    mark
}
