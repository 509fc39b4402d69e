//! The front of a card: its name in the place of a title, the code in letters to be read from a step away, and whose it is.

use super::layout::Layout;
use super::lines::{leading, paragraph};
use super::pen::{RULE, Style};
use super::piece::{Piece, Room};
use super::setting::Setting;
use crate::compose::block::{Front, ReadBack, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{HAIRLINE, Mark, Point, across};

/// Over the name, over the line below it, and over and under a rule.
const OVER: Length = Length::hundredths_mm(200);
const NEXT: Length = Length::hundredths_mm(210);
const AIR: Length = Length::hundredths_mm(110);
/// Below another section.
const BEFORE: Length = Length::mm(4);
/// Between what stands left and right.
const GAP: Length = Length::mm(3);

/// A style as large as so many parts of a title.
fn of_title(layout: &Layout, parts: (i64, i64), role: Role) -> Style {
    let title = layout.style(Role::Title);
    Style { size: title.size.fraction(parts.0, parts.1), role, ..title }
}

/// The pieces of a front. The first begins where a title would stand.
pub(super) fn front_pieces(front: &Front, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let mut pieces = vec![opening(front, room, found)];
    pieces.extend(code(front, room, found));
    pieces.push(holder(front, room, found));
    for text in &front.lines {
        pieces.push(text_of(text, Role::Body, room, found));
    }
    pieces
}

fn text_of(text: &Text, role: Role, room: &Room<'_>, found: &mut Findings) -> Piece {
    let setting = paragraph(room.pen, text, room.layout.style(role), room.width);
    if setting.is_none() {
        room.too_wide(text, room.width, found);
    }
    Piece {
        setting: setting.unwrap_or_default(),
        span: text.span,
        words: text.words(),
        before: room.layout.air(Length::hundredths_mm(20)),
        ..Piece::default()
    }
}

/// Name and edition, dates, and the whole title.
fn opening(front: &Front, room: &Room<'_>, found: &mut Findings) -> Piece {
    let Room { layout, pen, width, .. } = *room;
    let edition = of_title(layout, (7, 6), Role::FootStrong);
    let beside = pen.width(&front.edition.words(), edition);
    let left = width - beside - layout.air(GAP);
    // As large as there is room, and no smaller than a title.
    let sizes = (12..=24).rev().map(|twelfths| of_title(layout, (twelfths, 12), Role::Title));
    let fits = |style: &Style| pen.width(&front.name.words(), *style) <= left;
    let name = sizes.into_iter().find(fits).unwrap_or_else(|| layout.style(Role::Title));
    if !fits(&name) {
        room.too_wide(&front.name, left, found);
    }
    let baseline = layout.air(OVER) + of_title(layout, (2, 1), Role::Title).capital();
    let mut setting = Setting::default();
    let mut say = |text: &Text, style: Style, x: Length, y: Length| {
        let words = pen.write(&text.words(), style, text.span, Point { x, y });
        setting.marks.push(Mark::Glyphs(words));
    };
    say(&front.name, name, Length::ZERO, baseline);
    say(&front.edition, edition, width - beside, baseline);
    let body = layout.style(Role::Body);
    let second = baseline + layout.air(NEXT) + body.capital();
    say(&front.dates, body, Length::ZERO, second);
    setting.height = second + body.tail();
    match paragraph(pen, &front.title, body, width) {
        Some(title) => {
            setting.marks.extend(title.at(Point { x: Length::ZERO, y: setting.height }));
            setting.height += title.height;
        }
        None => room.too_wide(&front.title, width, found),
    }
    close(&mut setting, room, HAIRLINE);
    Piece {
        setting,
        span: front.name.span,
        words: front.name.words(),
        rise: room.head,
        before: room.layout.air(BEFORE),
        ..Piece::default()
    }
}

/// A rule below all, with air on both sides.
fn close(setting: &mut Setting, room: &Room<'_>, thickness: Length) {
    let y = setting.height + room.layout.air(AIR) / 2;
    setting.marks.push(across(Length::ZERO, room.width, y, thickness));
    setting.height = y;
}

/// What to do with the code, and its letters with their words.
fn code(front: &Front, room: &Room<'_>, found: &mut Findings) -> Option<Piece> {
    let ReadBack { letters, words } = front.code.as_ref()?;
    let Room { layout, pen, width, .. } = *room;
    let mut setting = Setting { marks: Vec::new(), height: layout.air(AIR) / 2 };
    match paragraph(pen, &front.read_first, layout.style(Role::Body), width) {
        Some(text) => {
            setting.marks.extend(text.at(Point { x: Length::ZERO, y: setting.height }));
            setting.height += text.height;
        }
        None => room.too_wide(&front.read_first, width, found),
    }
    let large = of_title(layout, (7, 3), Role::FootStrong);
    let word = Style { role: Role::Body, face: layout.style(Role::Body).face, ..layout.style(Role::Name) };
    let count = i64::try_from(letters.chars().count()).unwrap_or(1).max(1);
    let step = width / count;
    let is_wide = words.split(' ').any(|spoken| pen.width(spoken, word) + layout.air(AIR) > step);
    let word = if is_wide { layout.style(Role::Body) } else { word };
    let baseline = setting.height + layout.air(AIR) + large.capital();
    let below = baseline + layout.air(NEXT) + word.capital();
    for ((place, letter), spoken) in (0..).zip(letters.chars()).zip(words.split(' ')) {
        let x = step * place;
        for (said, style, y) in [(letter.to_string().as_str(), large, baseline), (spoken, word, below)] {
            setting.marks.push(Mark::Glyphs(pen.write(said, style, Span::NOWHERE, Point { x, y })));
        }
    }
    setting.height = below + word.tail();
    close(&mut setting, room, RULE);
    Some(Piece { setting, words: letters.clone(), ..Piece::default() })
}

/// Whose it is, with what stands beside.
fn holder(front: &Front, room: &Room<'_>, found: &mut Findings) -> Piece {
    let Room { layout, pen, width, .. } = *room;
    let (style, body) = (of_title(layout, (11, 12), Role::Body), layout.style(Role::Body));
    let style = Style { face: body.face, ..style };
    let beside = pen.width(&front.beside.words(), body);
    let left = if front.beside.is_empty() { width } else { width - beside - layout.air(GAP) };
    // A long name keeps its place in smaller letters, or over what stands beside it.
    let holder = front.holder.words();
    let style = if pen.width(&holder, style) <= left { style } else { body };
    let is_apart = pen.width(&holder, style) > left;
    if pen.width(&holder, style) > width {
        room.too_wide(&front.holder, width, found);
    }
    let baseline = layout.air(AIR) + style.capital();
    let second = if is_apart { baseline + leading(body.size) } else { baseline };
    let mut setting = Setting::default();
    setting.marks.push(Mark::Glyphs(pen.write(
        &holder,
        style,
        front.holder.span,
        Point { x: Length::ZERO, y: baseline },
    )));
    if !front.beside.is_empty() {
        let at = Point { x: width - beside, y: second };
        setting.marks.push(Mark::Glyphs(pen.write(&front.beside.words(), body, front.beside.span, at)));
    }
    setting.height = second + style.tail();
    Piece { setting, span: front.holder.span, words: holder, ..Piece::default() }
}
