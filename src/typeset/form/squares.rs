//! Squares to sketch on.

use crate::ground::Length;
use crate::plan::FieldRoom;
use crate::sheet::{Area, HAIRLINE, across, down};
use crate::typeset::piece::Room;
use crate::typeset::setting::Setting;

/// As many whole squares as there is room for, in the middle.
pub(super) fn set(asked: &FieldRoom, area: Area, room: &Room<'_>, setting: &mut Setting) {
    let side = asked.least.unwrap_or(room.layout.writing_line);
    let fit = |length: Length| length.as_grains() / side.as_grains().max(1);
    let columns = fit(area.width());
    let left = area.left + (area.width() - side * columns) / 2;
    for column in 1..columns {
        setting.marks.push(down(left + side * column, area.top, area.bottom, HAIRLINE));
    }
    for row in 0..fit(area.bottom - area.top) {
        setting.marks.push(across(area.left, area.right, area.bottom - side * (row + 1), HAIRLINE));
    }
}
