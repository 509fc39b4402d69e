//! A document's sections -> filled panels, in order; nothing is parted that belongs together, nothing is left out.

use super::beside::beside_bodies;
use super::blocks::{heading, pieces};
use super::columns::{Columns, Titled, filled};
use super::extra::{NOTES, about, notes};
use super::filling::{Body, Filling, Settled};
use super::furniture::Furniture;
use super::order::{Order, Passage, Said, SetPassage};
use super::pen::Pen;
use super::piece::{Piece, Room, stacked};
use super::rules::TEXT_DOES_NOT_FIT;
use crate::compose::block::{Block, Role, Section};
use crate::formats::Format;
use crate::ground::{Finding, Findings, Length, Span};
use crate::sheet::{Area, Mark, Panel, Point};
use std::rc::Rc;
use std::sync::Arc;

/// A passage of an order's copies, on as many bodies as it takes. What is wrong with it is told with each copy that has it.
pub(super) fn bodies(order: &Order, passage: &Passage, room: &Room<'_>, found: &mut Findings) -> Vec<Settled> {
    let room = &Room { is_alone: !passage.is_shared(), ..*room };
    let made = order.settled(
        passage,
        (room.at, room.width, room.height, room.layout.has_close_rows || room.layout.is_close),
        || {
            let mut found = Findings::default();
            let bodies = match &passage.said {
                Said::Sections(sections) => section_bodies(sections, room, &mut found),
                Said::About(about) => self::about(about, room, &mut found),
                Said::Notes => vec![notes(room)],
            };
            SetPassage { bodies: bodies.into_iter().map(|body| body.settled(room)).collect(), found }
        },
    );
    made.found.iter().for_each(|finding| found.push(finding.clone()));
    made.bodies.clone()
}

/// The bodies of sections that follow each other.
fn section_bodies(sections: &[Section], room: &Room<'_>, found: &mut Findings) -> Vec<Body> {
    if let Some(column) = room.beside {
        return beside_bodies(sections, column, room, found);
    }
    let columns = Columns::of(room.layout, room.width);
    let room = Room { width: columns.width, passage: sections, ..*room };
    let mut run: Vec<Titled> = Vec::new();
    let mut whole = Vec::new();
    for (index, section) in sections.iter().enumerate() {
        // A front has its name in the place of a title.
        let is_front = matches!(section.blocks.first(), Some(Block::Front(_)));
        let mut pieces = if is_front { front(section, &room, found) } else { pieces(section, &room, found) };
        if index > 0 && !is_front {
            let title = heading(&section.title, Role::Title, &room, found);
            pieces.insert(0, Piece { is_title: true, ..title });
        }
        keep_openings(&mut pieces);
        if columns.is_one() {
            keep_tails(&mut pieces);
        }
        // What follows another section stays together where one panel, or a part of a page, has the room.
        let height: Length = stacked(pieces.iter());
        if let Some((_, others)) =
            pieces.split_last_mut().filter(|_| index > 0 && !room.layout.format.is_whole() && height <= room.height)
        {
            others.iter_mut().for_each(|piece| piece.keeps_next = true);
        }
        // On a pad each stands by itself: the sheets go to different hands.
        if let Some(first) = pieces.first_mut().filter(|_| index > 0 && room.layout.format.is_pad()) {
            first.begins_panel = true;
        }
        // Rows that go on over pages begin on one of their own, and so does a sign: it is hung by itself.
        let goes_on = section.blocks.iter().any(goes_on);
        let is_asked = room.layout.whole.iter().any(|key| key == section.key);
        let is_sign = room.layout.format.is_whole() && section.blocks.first().is_some_and(is_sign);
        if let Some(first) = pieces.first_mut().filter(|_| (is_sign || is_asked && goes_on) && index > 0) {
            first.begins_panel = true;
        }
        let is_whole = is_asked && !goes_on;
        if let Some((_, others)) = pieces.split_last_mut().filter(|_| is_whole) {
            others.iter_mut().for_each(|piece| piece.keeps_next = true);
        }
        let title: Rc<str> = section.title.words().into();
        let from = run.len();
        if is_whole {
            whole.push((section, from..from + pieces.len()));
        }
        run.extend(pieces.into_iter().map(|piece| Titled { title: Rc::clone(&title), piece }));
    }
    let filled = filled(&mut run, &room, |column| columns.height(column, &room), found);
    for (section, pieces) in whole {
        let on = |piece: usize| filled.iter().rposition(|column| column.first <= piece).map(|at| columns.panel(at));
        if on(pieces.start) != on(pieces.end.saturating_sub(1)) {
            let pieces = run.get(pieces).unwrap_or_default().iter().map(|titled| &titled.piece);
            found.push(parted(section, pieces, &room));
        }
    }
    let first = sections.first().map(|section| section.title.words()).unwrap_or_default();
    let filled = if filled.is_empty() { vec![Filling::new(first, room.layout)] } else { filled };
    columns.joined(filled, &mut run, &room)
}

/// Whether a block is the words of a sign.
pub(super) fn is_sign(block: &Block) -> bool {
    match block {
        Block::Paragraph(paragraph) => paragraph.role == Role::Sign,
        Block::Notice(_) => true,
        _ => false,
    }
}

/// Whether a block has rows that go on over pages.
fn goes_on(block: &Block) -> bool {
    let Block::Form(form) = block else { return false };
    form.lines.iter().flat_map(|line| &line.fields).any(|field| field.room.is_continued)
}

/// Binds what is said between a heading and its table to the first row: without it a heading stands over nothing.
fn keep_openings(pieces: &mut [Piece]) {
    for at in 1..pieces.len().saturating_sub(1) {
        let [before, piece, next] = [at - 1, at, at + 1].map(|at| pieces.get(at));
        let is_headed = before.is_some_and(|piece| piece.is_title || piece.is_heading);
        let opens = piece.is_some_and(|piece| !piece.is_row) && next.is_some_and(|next| next.is_row);
        if let Some(piece) = pieces.get_mut(at).filter(|_| is_headed && opens) {
            piece.keeps_next = true;
        }
    }
}

/// So many rows at least of a table that goes on stand on its last panel.
const TAIL: usize = 3;

/// Binds the last rows of each longer table: one alone on a panel reads as forgotten.
fn keep_tails(pieces: &mut [Piece]) {
    let is_same = |one: &Piece, next: &Piece| one.is_row == next.is_row;
    for rows in pieces.chunk_by_mut(is_same).filter(|rows| rows.len() >= TAIL * 2 && rows.iter().all(|row| row.is_row))
    {
        let from = rows.len() - TAIL;
        rows.iter_mut().skip(from).take(TAIL - 1).for_each(|row| row.keeps_next = true);
    }
}

/// A front with its table below it: closer, where all of it then stands on one panel.
fn front(section: &Section, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let usual = pieces(section, room, found);
    let fits = |pieces: &[Piece]| stacked(pieces.iter()) <= room.height + room.head;
    if fits(&usual) {
        return usual;
    }
    let layout = room.layout.closer();
    let close = pieces(section, &Room { layout: &layout, ..*room }, &mut Findings::default());
    if fits(&close) { close } else { usual }
}

fn parted<'a>(section: &Section, pieces: impl Iterator<Item = &'a Piece> + Clone, room: &Room<'_>) -> Finding {
    let what = format!("\"{}\" does not fit on one panel, as the layout wants it", section.title.words());
    let finding = Finding::new(&TEXT_DOES_NOT_FIT, room.asked, what)
        .label("asks for this layout")
        .help(format!("take \"{}\" out of `whole`, or take a larger layout", section.key));
    let clear = pieces.clone().last().map_or(Length::ZERO, |last| room.clear_under(last));
    let needed = stacked(pieces.clone()) + clear;
    let rows = pieces.filter_map(|piece| Some((piece, piece.rows?, piece.rows?.left(needed - room.height)?)));
    match rows.max_by_key(|(_, rows, _)| rows.count) {
        Some((piece, rows, left)) => rows.tell(left, finding).and(piece.span, "has these rows"),
        None => finding,
    }
}

/// Bodies with their furniture, numbered in order; the pages behind the first may have another one.
pub(super) fn finished(
    bodies: Vec<Settled>,
    (first, behind): (&Furniture<'_>, Option<&Furniture<'_>>),
    format: &dyn Format,
    asked: Span,
    found: &mut Findings,
) -> Vec<Panel> {
    let count = bodies.len();
    let same: Arc<[Mark]> = first.foot_marks("").into();
    let mut panels = Vec::new();
    let others = bodies.iter().enumerate().filter(|(_, body)| !body.is_front && body.title != NOTES);
    let titles: Vec<(usize, String)> = others.map(|(index, body)| (index + 1, body.title.clone())).collect();
    for (index, Settled { title, marks, fill, is_front, shared }) in bodies.into_iter().enumerate() {
        let number = format!("{} {} of {count}", format.unit(), index + 1);
        let furniture = behind.filter(|_| index > 0).unwrap_or(first);
        let head = match is_front {
            true => furniture.head_of_front(),
            false => furniture.head(&title, &number, asked, found),
        };
        let is_listed = is_front && format.gathering().is_some();
        let contents = if is_listed { furniture.contents(&titles, fill.0) } else { Vec::new() };
        let beside = if is_front { furniture.number_of_front(&number) } else { Vec::new() };
        let of_front: Vec<Mark> = beside.into_iter().chain(contents).collect();
        let foot: Arc<[Mark]> =
            if first.has_numbers() { furniture.foot_marks(&number).into() } else { Arc::clone(&same) };
        let foot = match of_front.is_empty() {
            true => foot,
            false => of_front.into_iter().chain(foot.iter().cloned()).collect(),
        };
        let Furniture { size, outer: safe, .. } = *furniture;
        panels.push(Panel { size, safe, title, holder: None, fill, head, body: marks, shared, foot });
    }
    panels
}

/// A room for the text of a document.
pub(super) fn room<'a>(
    order: &'a Order,
    pen: &'a Pen,
    (furniture, behind): (&Furniture<'_>, Option<&Furniture<'_>>),
    asked: Span,
) -> Room<'a> {
    let Area { left, top, .. } = furniture.inner;
    let (width, height) = (furniture.inner.width(), furniture.inner.height());
    let Order { layout, symbols, .. } = order;
    let more = behind.map_or(Length::ZERO, |behind| behind.inner.height() - height);
    let head = if layout.format.has_panels() { furniture.front() } else { Length::ZERO };
    let (at, beside) = (Point { x: left, y: top }, furniture.beside);
    Room { layout, pen, symbols, at, width, height, more, head, passage: &[], asked, beside, is_alone: false }
}
