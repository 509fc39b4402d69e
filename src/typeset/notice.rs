//! A sign to put up: its words as large as there is room, 24 points at least, and a drawn arrow below.

use super::lines::paragraph;
use super::pen::Style;
use super::piece::{Piece, Room};
use super::setting::Setting;
use crate::compose::block::{Arrow, Notice, Role, Text};
use crate::ground::{Findings, Length};
use crate::sheet::{Mark, Outline, Point};

/// Sizes of the words and of the lines below them, in points, from the largest to the least that is read from across a room.
const WORDS: (i64, i64) = (132, 24);
const LINES: (i64, i64) = (48, 24);
/// Between words, lines and arrow.
const AIR: Length = Length::mm(8);
/// How thick the arrow's shaft is, and half of that of its head, as parts of its length.
const SHAFT: i64 = 8;
const HEAD: i64 = 4;

/// The piece: high enough that it has a panel of its own.
pub(super) fn notice_piece(block: &Notice, room: &Room<'_>, found: &mut Findings) -> Piece {
    let mut setting = Setting { marks: Vec::new(), height: AIR };
    add(&mut setting, std::slice::from_ref(&block.words), (WORDS, Role::Title, room.height * 2 / 5), room, found);
    // An arrow has half of what the words leave.
    let left = room.height - setting.height;
    let left = if block.arrow.is_some() { left / 2 } else { left };
    add(&mut setting, &block.lines, (LINES, Role::Body, left), room, found);
    if let Some(arrow) = block.arrow {
        setting.height += AIR;
        let long = room.width.min(room.height - setting.height);
        let left = (room.width - long) / 2;
        setting.marks.push(drawn(arrow, long, Point { x: left, y: setting.height }));
        setting.height += match arrow {
            Arrow::Ahead => long,
            Arrow::Left | Arrow::Right => long * 2 / HEAD,
        };
    }
    setting.height = setting.height.max(room.height * 3 / 4);
    Piece { setting, span: block.words.span, words: block.words.words(), ..Piece::default() }
}

/// Texts in the largest size in which all of them take no more than some height; in the least one otherwise.
fn add(
    setting: &mut Setting,
    texts: &[Text],
    ((most, least), role, height): ((i64, i64), Role, Length),
    room: &Room<'_>,
    found: &mut Findings,
) {
    let set = |points: i64, text: &Text| {
        let style = Style { size: Length::pt(points), ..room.layout.style(role) };
        paragraph(room.pen, text, style, room.width)
    };
    let all = |points: i64| texts.iter().map(|text| set(points, text)).collect::<Option<Vec<Setting>>>();
    let fits = |all: &Vec<Setting>| all.iter().map(|set| set.height + AIR / 2).sum::<Length>() <= height;
    let largest = (least..=most).rev().step_by(4).filter_map(all).find(fits);
    let Some(all) = largest.or_else(|| all(least)) else {
        let wide = texts.iter().find(|text| set(least, text).is_none());
        wide.into_iter().for_each(|text| room.too_wide(text, room.width, found));
        return;
    };
    for (place, words) in all.into_iter().enumerate() {
        let above = if role == Role::Title && place == 0 { Length::ZERO } else { AIR / 2 };
        setting.marks.extend(words.at(Point { x: Length::ZERO, y: setting.height + above }));
        setting.height += above + words.height;
    }
}

/// An arrow whose box begins at a point: along one way as long as said, across it as high as its head.
fn drawn(arrow: Arrow, long: Length, at: Point) -> Mark {
    let (shaft, head) = (long / SHAFT / 2, long / HEAD);
    let neck = long - head;
    // Along the arrow, across it from its axis.
    let corners = [
        (Length::ZERO, Length::ZERO - shaft),
        (neck, Length::ZERO - shaft),
        (neck, Length::ZERO - head),
        (long, Length::ZERO),
        (neck, head),
        (neck, shaft),
        (Length::ZERO, shaft),
    ];
    let point = |(along, across): (Length, Length)| match arrow {
        Arrow::Right => Point { x: at.x + along, y: at.y + head + across },
        Arrow::Left => Point { x: at.x + long - along, y: at.y + head + across },
        Arrow::Ahead => Point { x: at.x + long / 2 + across, y: at.y + long - along },
    };
    Mark::Outline(Outline { corners: corners.map(point).to_vec(), black: 100 })
}
