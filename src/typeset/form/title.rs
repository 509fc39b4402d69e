//! The heavy rule and the words over a line of fields that somebody else fills in.

use crate::compose::block::{FieldLine, Role};
use crate::ground::{Findings, Length};
use crate::sheet::across;
use crate::typeset::blocks::heading;
use crate::typeset::piece::{Piece, Room};

/// As heavy as the rule that opens a panel.
const HEAVY: Length = Length::twentieths_pt(36);
/// Above the rule where it stands outside the frame above it; within a form it closes that frame. And between the rule and the words.
const OUTSIDE: Length = Length::mm(4);
const UNDER: Length = Length::hundredths_mm(80);

fn before(line: &FieldLine, room: &Room<'_>) -> Length {
    if line.is_added { room.layout.air(OUTSIDE) } else { Length::ZERO }
}

/// The piece over a line; none where it has no title.
pub(super) fn piece(line: &FieldLine, room: &Room<'_>, found: &mut Findings) -> Option<Piece> {
    let title = line.title.as_ref()?;
    let mut piece = heading(title, Role::Name, room, found);
    let words = std::mem::take(&mut piece.setting);
    let down = crate::sheet::Point { x: Length::ZERO, y: HEAVY + UNDER };
    piece.setting.marks = vec![across(Length::ZERO, room.width, HEAVY / 2, HEAVY)];
    piece.setting.marks.extend(words.at(down));
    piece.setting.height = words.height + HEAVY + UNDER * 2;
    piece.before = before(line, room);
    // It stands for no heading of the form's own.
    piece.is_heading = false;
    Some(piece)
}
