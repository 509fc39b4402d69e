//! What stands over rows: the headings of their columns, and what holds for all of them.

use super::lines::running;
use super::piece::Room;
use super::row_columns::{Names, RowColumns, declared, heading};
use super::setting::Setting;
use crate::compose::block::{Align, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{HAIRLINE, Mark, Point, across};

/// Over the headings.
const OVER: Length = Length::hundredths_mm(88);
/// Under a line of text, from its tails to the rule.
const UNDER: Length = Length::hundredths_mm(45);

/// The headings, over figures at their left, and what is said once; none where there is nothing to say.
pub(super) fn head(columns: &RowColumns<'_>, all: &[Text], room: &Room<'_>, found: &mut Findings) -> Option<Setting> {
    let (table, set) = (columns.table, columns.set);
    let style = room.layout.style(Role::Heading);
    let baseline = room.layout.air(OVER) + style.capital();
    let mut setting = Setting { marks: Vec::new(), height: Length::ZERO };
    let mut say = |words: &str, x: Length| {
        let glyphs = room.pen.write(words, style, Span::NOWHERE, Point { x, y: baseline });
        setting.marks.push(Mark::Glyphs(glyphs));
    };
    let is_used = |key: &str| table.rows.iter().any(|row| row.cell(key).is_some());
    let is_beside = columns.names != Names::Above;
    if let Some(key) = set.left.last().filter(|key| is_beside && is_used(key) && !heading(table, key).is_empty()) {
        say(heading(table, key), columns.indent);
    }
    for (key, column) in set.right.iter().zip(&columns.figures).filter(|(key, _)| is_used(key)) {
        let words = heading(table, key);
        if !words.is_empty() {
            let is_end =
                declared(table, key).is_some_and(|column| column.align == Align::End) || column.right >= room.width;
            say(words, if is_end { column.right - room.pen.width(words, style) } else { column.left });
        }
    }
    if setting.marks.is_empty() && all.is_empty() {
        return None;
    }
    if !setting.marks.is_empty() {
        setting.height = baseline + style.tail() + room.layout.air(UNDER);
        setting.marks.push(across(Length::ZERO, room.width, setting.height, HAIRLINE));
    }
    said(all, room, &mut setting, found)?;
    Some(setting)
}

/// What is said once, closed by a rule.
fn said(all: &[Text], room: &Room<'_>, setting: &mut Setting, found: &mut Findings) -> Option<()> {
    let style = room.layout.style(Role::Body);
    let mut baseline = setting.height + room.layout.air(Length::hundredths_mm(40));
    for text in all {
        let Some(lines) = running(room.pen, text, style, room.width) else {
            room.too_wide(text, room.width, found);
            return None;
        };
        for line in lines {
            baseline += style.capital() + room.layout.air(Length::hundredths_mm(80));
            let at = Point { x: Length::ZERO, y: baseline };
            setting.marks.extend(line.place(room.pen, at).into_iter().map(Mark::Glyphs));
        }
    }
    if !all.is_empty() {
        setting.height = baseline + style.tail() + room.layout.air(UNDER + Length::hundredths_mm(15));
        setting.marks.push(across(Length::ZERO, room.width, setting.height, super::pen::RULE));
    }
    Some(())
}
