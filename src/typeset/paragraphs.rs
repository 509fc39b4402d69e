//! Paragraphs: in parts where they are long, side by side where they are small.

use super::lines::{least_column, paragraph, parted};
use super::piece::{Piece, Room, stacked};
use crate::compose::block::{Block, Role, Text};
use crate::ground::{Findings, Length};

/// Before a block, and before one on a panel, where all is near.
pub(super) const BEFORE: Length = Length::hundredths_mm(120);
const BEFORE_ON_PANEL: Length = Length::hundredths_mm(60);
/// Between two small paragraphs side by side.
const GUTTER: Length = Length::mm(7);

/// So many small paragraphs stand side by side.
const MOST_BESIDE: i64 = 3;

/// Air before a block.
pub(super) fn before(room: &Room<'_>) -> Length {
    room.layout.air(if room.layout.format.has_panels() { BEFORE_ON_PANEL } else { BEFORE })
}

/// The text of a small paragraph.
pub(super) fn note(block: &Block) -> Option<&Text> {
    match block {
        Block::Paragraph(paragraph) if paragraph.role == Role::Small => Some(&paragraph.text),
        _ => None,
    }
}

/// Small paragraphs that follow each other on a page: side by side, two or three of them, where they are lower so.
pub(super) fn note_pieces(texts: &[&Text], room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let of = |room: &Room<'_>, found: &mut Findings| -> Vec<Piece> {
        texts.iter().flat_map(|text| paragraph_pieces(text, Role::Small, room, found)).collect()
    };
    let usual = of(room, found);
    let count = i64::try_from(texts.len()).unwrap_or(i64::MAX);
    let width = (room.width - GUTTER * (count - 1)) / count;
    if count > MOST_BESIDE || width < least_column(room.layout.style(Role::Small)) {
        return usual;
    }
    let mut unheard = Findings::default();
    let parts = of(&Room { width, ..*room }, &mut unheard);
    // What is so long that it is parted stays one below the other.
    let is_whole = parts.len() == texts.len() && unheard.errors() == 0;
    let mut parts = parts.into_iter().filter(|_| is_whole);
    let Some(mut beside) = parts.next() else { return usual };
    for (part, place) in parts.zip(1..) {
        beside.stand_beside(&part, (width + GUTTER) * place);
    }
    if beside.setting.height < stacked(usual.iter()) - beside.before { vec![beside] } else { usual }
}

pub(super) fn text_piece(text: &Text, role: Role, before: Length, room: &Room<'_>, found: &mut Findings) -> Piece {
    let setting = paragraph(room.pen, text, room.layout.style(role), room.width);
    if setting.is_none() {
        room.too_wide(text, room.width, found);
    }
    Piece { setting: setting.unwrap_or_default(), span: text.span, words: text.words(), before, ..Piece::default() }
}

/// A paragraph, in parts where it takes more than half of a panel.
pub(super) fn paragraph_pieces(text: &Text, role: Role, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let whole = text_piece(text, role, before(room), room, found);
    if whole.setting.height <= room.height / 2 {
        return vec![whole];
    }
    let parts = parted(room.pen, text, room.layout.style(role), (room.width, room.height / 3)).unwrap_or_default();
    let mut before = whole.before;
    let mut pieces = Vec::new();
    for setting in parts {
        pieces.push(Piece { setting, before, ..whole.clone() });
        before = Length::ZERO;
    }
    pieces
}
