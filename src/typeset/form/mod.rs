//! Boxes to write in: the label in the corner, room for a hand in a glove below it. Each kind of room is drawn by a file of its own.

mod entries;
mod grown;
mod label;
mod lines;
mod pages;
mod room;
mod row;
mod squares;
mod table;
mod ticks;
mod title;
mod words;

use super::pen::{RULE, Style, frame};
use super::piece::{Piece, PieceRows, RULES_APART, Room};
use super::setting::Setting;
use crate::compose::block::{FieldBlock, FieldLine, FormBlock, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{Area, Mark, Point};
use label::{beside, label, label_height, set_beside};
use pages::Heights;
use room::{FieldHeights, set_room};

/// Between a frame and the words in it.
const PAD: Length = Length::hundredths_mm(110);

/// The pieces of a form, one a line of fields, one a row of what goes on over pages. `spare` is what other blocks leave of a page, of which
/// those behind the form take `after`: what fills a page takes of it what the others do not need.
pub(super) fn form_pieces(
    form: &FormBlock,
    room: &Room<'_>,
    (spare, after): (Length, Length),
    found: &mut Findings,
) -> Vec<Piece> {
    let heights = Heights { first: spare + after, behind: room.height + room.more - RULES_APART, after };
    let grown = grown::layout(form, room, heights);
    let room = &Room { layout: grown.as_ref().unwrap_or(room.layout), ..*room };
    let again = grown::again(form, room);
    let again = again.as_ref();
    // Set once to see on which page each line ends. What fills a page is set once more with what is left there.
    let once = |line| {
        let mut told = Findings::default();
        (line_pieces(line, (Length::ZERO, again), room, &mut told), told)
    };
    let (mut set, told): (Vec<Vec<Piece>>, Vec<Findings>) = form.lines.iter().map(once).unzip();
    let left = pages::left(form, &set, heights);
    for (place, ((line, left), told)) in form.lines.iter().zip(left).zip(told).enumerate() {
        let set_again = (left > Length::ZERO).then(|| line_pieces(line, (left, again), room, found));
        match set_again.zip(set.get_mut(place)) {
            Some((again, pieces)) => *pieces = again,
            None => told.iter().for_each(|finding| found.push(finding.clone())),
        }
    }
    pages::balance(&mut set, heights);
    if grown.is_some() {
        pages::even(&mut set, heights);
    }
    set.into_iter().flatten().collect()
}

/// `more` is what a line that fills its page takes beside its own height; `again` stands on each page that a table goes on to.
fn line_pieces(
    line: &FieldLine,
    (more, again): (Length, Option<&Setting>),
    room: &Room<'_>,
    found: &mut Findings,
) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = title::piece(line, room, found).into_iter().collect();
    match line.fields.iter().find(|field| field.room.is_continued) {
        Some(field) => pieces.extend(table::over_pages(field, (more, again), room, found)),
        None => pieces.push(line_piece(line, more, room, found)),
    }
    if let Some(first) = pieces.first_mut() {
        first.begins_panel = line.begins_page;
    }
    pieces
}

/// A line of fields, as high as the highest; higher where one of them fills the page.
fn line_piece(line: &FieldLine, spare: Length, room: &Room<'_>, found: &mut Findings) -> Piece {
    let filling = line.fields.iter().find(|field| field.room.is_filling);
    let row = filling.map_or(Length::ZERO, |field| row::height(field, room));
    let more = spare.as_grains().checked_div(row.as_grains()).unwrap_or(0);
    let height = height(line, room) + row * more;
    let mut setting = Setting { marks: Vec::new(), height };
    let mut x = Length::ZERO;
    for field in &line.fields {
        let width = width(field, room);
        let area = Area { left: x, top: Length::ZERO, right: x + width, bottom: height };
        set_field(field, area, room, &mut setting, found);
        x += width;
    }
    let rows = rows(line, room);
    let first = rows.map(|(field, _)| field).or(line.fields.first());
    Piece {
        setting,
        span: first.map_or(Span::NOWHERE, |field| field.label.span),
        words: first.map(|field| field.label.words()).unwrap_or_default(),
        is_framed: true,
        rows: rows.map(|(_, rows)| rows),
        ..Piece::default()
    }
}

/// How wide a field is.
fn width(field: &FieldBlock, room: &Room<'_>) -> Length {
    room.width.fraction(i64::from(field.share), 12)
}

fn height(line: &FieldLine, room: &Room<'_>) -> Length {
    line.fields.iter().map(|field| field_height(field, room)).fold(Length::ZERO, Length::max)
}

fn field_height(field: &FieldBlock, room: &Room<'_>) -> Length {
    let inner = width(field, room) - PAD * 2;
    label_height(field, inner, room) + FieldHeights::of(field, width(field, room), room).whole()
}

/// The rows by which a line of fields is as high as it is, and the field that has them.
fn rows<'a>(line: &'a FieldLine, room: &Room<'_>) -> Option<(&'a FieldBlock, PieceRows)> {
    let mut heights: Vec<(Length, &FieldBlock)> =
        line.fields.iter().map(|field| (field_height(field, room), field)).collect();
    heights.sort_by_key(|(height, _)| std::cmp::Reverse(*height));
    let (highest, field) = heights.first().copied()?;
    let next = heights.get(1).map_or(Length::ZERO, |(height, _)| *height);
    let can_continue = !field.room.columns.is_empty();
    let key = field.room.rows_key;
    if key.is_none() && !can_continue {
        return None;
    }
    let height = FieldHeights::of(field, width(field, room), room).highest_row();
    Some((field, PieceRows { key, count: field.room.rows, height, spare: highest - next, can_continue }))
}

fn set_field(field: &FieldBlock, area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let inner = Area { left: area.left + PAD, right: area.right - PAD, ..area };
    let style = room.layout.style(Role::Label);
    let top = area.top + label_height(field, inner.width(), room);
    write((&label(field), style), Area { bottom: top, ..inner }, room, setting, found);
    if let Some(words) = beside(field, inner.width(), room) {
        set_beside(&words, inner, room, setting);
    }
    set_room(field, Area { top, ..area }, room, setting, found);
    setting.marks.extend(frame(area, RULE));
}

/// Words from the top left corner of a box, broken at its width.
fn write((text, style): (&Text, Style), area: Area, room: &Room<'_>, setting: &mut Setting, found: &mut Findings) {
    let Some(lines) = super::lines::broken(room.pen, text, style, area.width()) else {
        room.too_wide(text, area.width(), found);
        return;
    };
    let mut baseline = area.top + PAD + style.capital();
    for line in lines {
        setting.marks.extend(line.place(room.pen, Point { x: area.left, y: baseline }).into_iter().map(Mark::Glyphs));
        baseline += super::lines::leading(style.size);
    }
}

/// How high words are that are broken at a width; one line of them where they do not fit, which is reported when they are written.
fn written_height(text: &Text, style: Style, width: Length, room: &Room<'_>) -> Length {
    let lines = super::lines::broken(room.pen, text, style, width).map_or(1, |lines| lines.len());
    super::lines::leading(style.size) * i64::try_from(lines).unwrap_or(1)
}
