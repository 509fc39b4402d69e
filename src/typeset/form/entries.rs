//! Where one writes on a screen, in a form that can be filled in there.

use super::label::label;
use crate::compose::block::FieldBlock;
use crate::ground::Length;
use crate::sheet::{Area, EntryKind, FormEntry, Mark};
use crate::typeset::piece::Room;
use crate::typeset::setting::Setting;

/// Between a frame and what is written beside it.
const CLEAR: Length = Length::hundredths_mm(40);

/// Adds an entry of a field, where the form is to be filled in on a screen and it was not filled in beforehand. `which` tells it from others of the field.
pub(super) fn add(
    field: &FieldBlock,
    (which, kind): (&str, EntryKind),
    area: Area,
    room: &Room<'_>,
    setting: &mut Setting,
) {
    let is_said = !field.ticked.is_empty() || (field.room.columns.is_empty() && !field.cells.is_empty());
    if !room.layout.is_fillable || is_said {
        return;
    }
    let number = field.number.as_ref().map(|number| format!("{number} ")).unwrap_or_default();
    let which = if which.is_empty() { String::new() } else { format!(", {which}") };
    // A point in a name would make it the name of a group and of one in it.
    let name = format!("{number}{}{which}", field.label.words()).replace('.', "");
    let help = format!("{}{which}", label(field).words());
    let Area { left, right, top, bottom } = area;
    let area = match kind {
        EntryKind::Tick => area,
        _ => Area { left: left + CLEAR, right: right - CLEAR, top: top + CLEAR, bottom: bottom - CLEAR },
    };
    setting.marks.push(Mark::Entry(FormEntry { area, kind, name, help }));
}
