//! How a sheet is folded: in pictures and in words.

use super::lines::paragraph;
use super::piece::{Piece, Room};
use super::setting::Setting;
use crate::compose::block::{Folding, Role, Text};
use crate::formats::{FORMATS, FoldLine, Stroke};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{HAIRLINE, Line, Mark, Point};

/// How a sheet of another format than this one is folded.
pub(super) fn folding_pieces(folding: &Folding, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let format = FORMATS.iter().find(|format| format.word() == folding.format);
    let drawn = format.and_then(|format| format.gathering()).map_or(&[][..], |gathering| gathering.pictures);
    let words = said(&folding.words, Role::Body, PARAGRAPH, room, found);
    if drawn.is_empty() {
        return vec![words];
    }
    vec![
        Piece {
            before: room.layout.air(PARAGRAPH),
            keeps_next: true,
            ..pictures(drawn, room, room.layout.style(Role::Small).capital() + ABOVE)
        },
        words,
    ]
}

/// Air over each text.
pub(super) const PARAGRAPH: Length = Length::hundredths_mm(150);

/// A text by itself.
pub(super) fn said(text: &Text, role: Role, before: Length, room: &Room<'_>, found: &mut Findings) -> Piece {
    let setting = paragraph(room.pen, text, room.layout.style(role), room.width);
    if setting.is_none() {
        room.too_wide(text, room.width, found);
    }
    let before = room.layout.air(before);
    Piece { setting: setting.unwrap_or_default(), span: text.span, words: text.words(), before, ..Piece::default() }
}

/// From one picture to the next: what each is wide, and the air between.
const PICTURE: Length = Length::hundredths_mm(1540);
/// How thick the edges, folds and cuts of a picture are.
const EDGE: Length = Length::twentieths_pt(10);
const CUT: Length = Length::twentieths_pt(36);
/// The dashes of a fold.
const DASH: (Length, Length) = (Length::hundredths_mm(80), Length::hundredths_mm(60));

/// Numbers of this height have room in the corner of a picture: figures are less wide than high, and its lines begin 2 mm from the left.
const IN_CORNER: Length = Length::mm(2);

/// Under the numbers of pictures, where text is larger than on a card.
const ABOVE: Length = Length::hundredths_mm(60);

/// The pictures of the folds, each with its number in its corner, where they have room, or so far above it.
pub(super) fn pictures(pictures: &[&[FoldLine]], room: &Room<'_>, below: Length) -> Piece {
    let style = room.layout.style(Role::Small);
    // Larger numbers would stand in the pictures.
    let below = if style.capital() > IN_CORNER { below.max(style.capital() + ABOVE) } else { below };
    let mut setting = Setting::default();
    for (place, lines) in (0..).zip(pictures) {
        let left = PICTURE * place;
        let number = Point { x: left, y: style.capital() };
        setting.marks.push(Mark::Glyphs(room.pen.write(&(place + 1).to_string(), style, Span::NOWHERE, number)));
        for line in *lines {
            let point =
                |(x, y): (i64, i64)| Point { x: left + Length::hundredths_mm(x), y: below + Length::hundredths_mm(y) };
            let (thickness, dash) = match line.stroke {
                Stroke::Edge => (EDGE, None),
                Stroke::Fold => (HAIRLINE, Some(DASH)),
                Stroke::Cut => (CUT, None),
            };
            let drawn = Line { from: point(line.from), to: point(line.to), thickness, dash };
            setting.height = setting.height.max(drawn.from.y).max(drawn.to.y);
            setting.marks.push(Mark::Line(drawn));
        }
    }
    Piece { setting, words: "the pictures of the folds".to_owned(), ..Piece::default() }
}
