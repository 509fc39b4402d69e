//! Words with what they mean: side by side where there is room, the meaning of all at one left edge.

use super::lines::{leading, running};
use super::pen::Style;
use super::piece::{Piece, Room, stacked};
use super::setting::Setting;
use crate::compose::block::{Role, WordEntry, WordList};
use crate::ground::{Findings, Length};
use crate::sheet::{Face, Mark, Point};

/// Between a word and its meaning, and between two columns.
const AFTER_WORD: Length = Length::hundredths_mm(110);
/// The same where a meaning has the width to itself.
const AFTER_WORD_ALONE: Length = Length::hundredths_mm(160);
const GUTTER: Length = Length::hundredths_mm(200);

/// One column: how wide its words are, and all of it on single lines.
struct EntryColumn<'a> {
    entries: &'a [WordEntry],
    word: Length,
    natural: Length,
}

/// The pieces of a list, a line each.
pub(super) fn entry_pieces(block: &WordList, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let columns: Vec<EntryColumn<'_>> = block.columns.iter().map(|entries| measured(entries, room)).collect();
    let gutter = room.layout.air(GUTTER);
    let total = |columns: &[EntryColumn<'_>]| {
        let gaps = gutter * i64::try_from(columns.len().saturating_sub(1)).unwrap_or(0);
        columns.iter().map(|column| column.natural).sum::<Length>() + gaps
    };
    let sizes = [columns.len(), 2, 1].into_iter().filter(|size| *size > 0);
    let beside = sizes.into_iter().find(|size| columns.chunks(*size).all(|some| total(some) <= room.width));
    let mut pieces = Vec::new();
    for some in columns.chunks(beside.unwrap_or(1)) {
        let spare = (room.width - total(some)).max(Length::ZERO);
        let step = gutter + spare / i64::try_from(some.len()).unwrap_or(1).max(1);
        let lines = some.iter().map(|column| column.entries.len()).max().unwrap_or(0);
        for line in 0..lines {
            let piece = if some.len() == 1 {
                some.first()
                    .and_then(|column| Some((column, column.entries.get(line)?)))
                    .and_then(|(column, entry)| alone(column, entry, room, found))
            } else {
                Some(side_by_side(some, line, step, room))
            };
            pieces.extend(piece);
        }
    }
    // A line of several columns says nothing without the lines over it.
    let height: Length = stacked(pieces.iter());
    if let Some((_, others)) = pieces.split_last_mut().filter(|_| columns.len() > 1 && height <= room.height / 2) {
        others.iter_mut().for_each(|piece| piece.keeps_next = true);
    }
    pieces
}

fn styles(room: &Room<'_>) -> (Style, Style) {
    let body = room.layout.style(Role::Body);
    (Style { face: Face::Bold, ..body }, body)
}

fn measured<'a>(entries: &'a [WordEntry], room: &Room<'_>) -> EntryColumn<'a> {
    let (bold, body) = styles(room);
    let widest = |width: &dyn Fn(&WordEntry) -> Length| entries.iter().map(width).fold(Length::ZERO, Length::max);
    // A long word does not push all meanings away.
    let word = widest(&|entry| room.pen.width(&entry.word.words(), bold)).min(room.width.fraction(2, 5));
    let meaning = widest(&|entry| room.pen.width(&entry.meaning.words(), body));
    EntryColumn { entries, word, natural: word + room.layout.air(AFTER_WORD) + meaning }
}

/// The entries of one line in columns side by side.
fn side_by_side(columns: &[EntryColumn<'_>], line: usize, step: Length, room: &Room<'_>) -> Piece {
    let (bold, body) = styles(room);
    let baseline = body.capital() + (leading(body.size) - body.size.fraction(9, 10)) / 2;
    let mut setting = Setting { marks: Vec::new(), height: leading(body.size) };
    let mut x = Length::ZERO;
    let mut words = String::new();
    for column in columns {
        if let Some(entry) = column.entries.get(line) {
            let after = x + column.word + room.layout.air(AFTER_WORD);
            for (text, style, x) in [(&entry.word, bold, x), (&entry.meaning, body, after)] {
                let run = room.pen.write(&text.words(), style, text.span, Point { x, y: baseline });
                setting.marks.push(Mark::Glyphs(run));
            }
            words.push_str(&entry.word.words());
        }
        x += column.natural + step;
    }
    Piece { setting, words, ..Piece::default() }
}

/// One entry, its meaning broken into lines. None, with a finding, where a word is wider than its place.
fn alone(column: &EntryColumn<'_>, entry: &WordEntry, room: &Room<'_>, found: &mut Findings) -> Option<Piece> {
    let (bold, body) = styles(room);
    let gap = room.layout.air(AFTER_WORD_ALONE);
    let own = room.pen.width(&entry.word.words(), bold);
    let baseline = body.capital() + (leading(body.size) - body.size.fraction(9, 10)) / 2;
    // A word that is longer than the others have room for has a line of its own.
    let is_apart = own > column.word;
    let left = column.word + gap;
    let Some(lines) = running(room.pen, &entry.meaning, body, room.width - left).filter(|_| own <= room.width) else {
        room.too_wide(&entry.meaning, room.width - left, found);
        return None;
    };
    let run = room.pen.write(&entry.word.words(), bold, entry.word.span, Point { x: Length::ZERO, y: baseline });
    let mut setting = Setting { marks: vec![Mark::Glyphs(run)], height: Length::ZERO };
    let mut y = if is_apart { baseline + leading(body.size) } else { baseline };
    for line in &lines {
        setting.marks.extend(line.place(room.pen, Point { x: left, y }).into_iter().map(Mark::Glyphs));
        y += leading(body.size);
    }
    setting.height = y - baseline;
    setting.height = setting.height.max(leading(body.size));
    Some(Piece { setting, span: entry.meaning.span, words: entry.word.words(), ..Piece::default() })
}
