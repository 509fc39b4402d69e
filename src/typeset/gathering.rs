//! Panels as a sheet that is folded takes them.

use super::filling::Settled;
use super::flow;
use super::order::{About, Order, Said, SheetCount};
use super::piece::{Room, does_not_fit};
use crate::compose::block::{Section, Text};
use crate::ground::{Findings, Span};

/// Panels of content, empty ones to write on, and the last of each gathering: rules, folding, scale. A folded sheet is a
/// gathering; a booklet is one as a whole, of as many fours as it takes.
pub(super) fn gathered(
    order: &Order,
    bodies: Vec<Settled>,
    (back, told): (&[Section], &[Text]),
    room: &Room<'_>,
    found: &mut Findings,
) -> Vec<Settled> {
    let Some(gathering) = room.layout.format.gathering() else { return bodies };
    let mut said = |said| flow::bodies(order, &order.passage(said), room, found);
    let about = |count| Said::About(About { sections: back.to_vec(), told: told.to_vec(), count });
    let last = said(about(SheetCount { sheet: 1, of: 1 })).len();
    let size = match gathering.whole {
        Some(_) => (bodies.len() + last).next_multiple_of(gathering.panels),
        None => gathering.panels,
    };
    let Some(content) = size.checked_sub(last).filter(|content| *content > 0) else {
        let told: Vec<String> = told.iter().map(Text::words).collect();
        found.push(does_not_fit(&told.join(" "), Span::NOWHERE, room.asked, "high", room.height));
        return bodies;
    };
    let sheets = bodies.len().div_ceil(content).max(1);
    let mut bodies = bodies.into_iter();
    let mut gathered = Vec::new();
    for sheet in 1..=sheets {
        for _ in 0..content {
            match bodies.next() {
                Some(body) => gathered.push(body),
                None => gathered.extend(said(Said::Notes)),
            }
        }
        gathered.extend(said(about(SheetCount { sheet, of: sheets })));
    }
    gathered
}
