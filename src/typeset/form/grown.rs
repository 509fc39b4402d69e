//! How far apart lines to write on are in a form that fills no page by itself: a sheet that is mostly air is a failure of the first, and a
//! few rows alone on a last page are lost.

use super::label::label_height;
use super::pages::{Heights, Pages};
use super::{PAD, height, table, title};
use crate::compose::block::{FieldBlock, FieldLine, FormBlock};
use crate::ground::{Findings, Length};
use crate::typeset::layout::Layout;
use crate::typeset::piece::{Piece, Room};
use crate::typeset::setting::Setting;
use std::rc::Rc;

/// No line is lower: common practice for writing in a vehicle or by headlamp, no source.
const LEAST: Length = Length::mm(7);
/// Lines are no farther apart than this: two lines of small writing, by eye.
const MOST: Length = Length::mm(12);
/// In what steps the distance is sought.
const STEP: Length = Length::hundredths_mm(25);

/// The layout with its lines as far apart as lets the form use its pages, and where that spares one a little closer. None where they stay
/// as they are: where something fills the page by itself, and where the form takes less than half of one.
pub(super) fn layout(form: &FormBlock, room: &Room<'_>, heights: Heights) -> Option<Layout> {
    let is_filling = |line: &FieldLine| line.fields.iter().any(|field| field.room.is_filling);
    if heights.first <= Length::ZERO || form.lines.iter().any(is_filling) {
        return None;
    }
    let usual = room.layout.writing_line;
    let with = |writing_line| Layout { writing_line, ..room.layout.clone() };
    let pages = |writing_line| pages(form, &Room { layout: &with(writing_line), ..*room }, heights);
    let (now, taken) = pages(usual)?;
    // What must stay on one panel is told how much of it fits there.
    if now > 1 && room.layout.whole.iter().any(|key| key == "form") {
        return None;
    }
    let closest = usual.min(LEAST);
    let goes_on = form.lines.iter().flat_map(|line| &line.fields).any(|field| field.room.is_continued);
    let wanted = if now > 1 && goes_on { pages(closest).map_or(now, |(closest, _)| closest.min(now)) } else { now };
    if (now == 1 && taken * 2 < heights.first) || MOST <= usual {
        return None;
    }
    let fits = |steps: i64| pages(closest + STEP * steps).is_some_and(|(count, _)| count <= wanted);
    let (mut low, mut high) = (0, (MOST - closest).as_grains() / STEP.as_grains() + 1);
    while high - low > 1 {
        let middle = i64::midpoint(low, high);
        if fits(middle) { low = middle } else { high = middle }
    }
    let found = closest + STEP * low;
    // Closer only where that spares a page.
    let found = if wanted < now { found } else { found.max(usual) };
    (found != usual && fits(low)).then(|| with(found))
}

/// How many pages a form takes, and how much of the last. None where a piece is higher than a page.
fn pages(form: &FormBlock, room: &Room<'_>, heights: Heights) -> Option<(usize, Length)> {
    let again = again(form, room).map_or(Length::ZERO, |again| again.height);
    let set: Vec<Vec<Piece>> = form.lines.iter().map(|line| measured(line, again, room)).collect();
    let is_higher = |piece: &Piece| piece.whole(None) > heights.first.max(heights.behind);
    if set.iter().flatten().any(is_higher) {
        return None;
    }
    let Pages { taken, .. } = Pages::of(&set, heights);
    Some((taken.len(), taken.last().copied().unwrap_or_default()))
}

/// The pieces of a line, as high as they are and with nothing drawn.
fn measured(line: &FieldLine, again: Length, room: &Room<'_>) -> Vec<Piece> {
    let of = |height| Piece { setting: Setting { marks: Vec::new(), height }, ..Piece::default() };
    let title = title::piece(line, room, &mut Findings::default());
    let mut pieces: Vec<Piece> = title.into_iter().collect();
    match line.fields.iter().find(|field| field.room.is_continued) {
        Some(field) => {
            let head = |height| Some(Rc::new(Setting { marks: Vec::new(), height }));
            let first = head_height(field, room);
            let (first, behind) = (head(first), head(first + again));
            let rows = table::row_heights(field, room.width, room).into_iter().enumerate();
            pieces.extend(rows.map(|(row, height)| match row {
                0 => Piece { head: first.clone(), also: behind.clone(), ..of(height) },
                _ => Piece { head: behind.clone(), also: first.clone(), ..of(height) },
            }));
        }
        None => pieces.push(of(height(line, room))),
    }
    if let Some(first) = pieces.first_mut() {
        first.begins_panel = line.begins_page;
    }
    pieces
}

fn head_height(field: &FieldBlock, room: &Room<'_>) -> Length {
    label_height(field, room.width - PAD * 2, room) + table::headings_height(field, room.width, room)
}

/// What tells a sheet, to stand again on each page that a table goes on to: the first line of the form, where it is one to write on.
pub(super) fn again(form: &FormBlock, room: &Room<'_>) -> Option<Setting> {
    let (first, others) = form.lines.split_first()?;
    let goes_on = others.iter().flat_map(|line| &line.fields).any(|field| field.room.is_continued);
    let is_plain = |field: &FieldBlock| {
        field.room.rows <= 1 && field.room.columns.is_empty() && field.room.words == 0 && field.room.boxes.is_empty()
    };
    if !goes_on || !first.fields.iter().all(is_plain) || height(first, room) > LARGEST {
        return None;
    }
    // On a screen it is filled in once: an entry has one place.
    let layout = Layout { is_fillable: false, ..room.layout.clone() };
    let room = Room { layout: &layout, ..*room };
    Some(super::line_piece(first, Length::ZERO, &room, &mut Findings::default()).setting)
}

/// What is higher is more than tells a sheet.
const LARGEST: Length = Length::mm(22);
