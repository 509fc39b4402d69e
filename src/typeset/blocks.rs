//! Blocks -> pieces: what stands together, how much air it wants, and what cannot be set on this layout.

use super::entries::entry_pieces;
use super::filling::TOP;
use super::folding::folding_pieces;
use super::front::front_pieces;
use super::layout::{DIALLED_FLOOR, Layout, SMALL, TableLayout, TableSet};
use super::legend::legend_setting;
use super::notice::notice_piece;
use super::paragraphs::{BEFORE, before, note, note_pieces, paragraph_pieces, text_piece};
use super::pen::Style;
use super::piece::{Piece, RULES_APART, Room, stacked};
use super::rules::{LAYOUT_BELOW_FLOOR, LAYOUT_LACKS_COLUMN, TEXT_DOES_NOT_FIT};
use super::setting::Setting;
use super::symbol::{SymbolTools, symbol_setting};
use super::tree::tree_pieces;
use super::{form, grid, list, matrix, rows, strip, strip_form, strip_parts};
use crate::compose::KINDS;
use crate::compose::block::{Block, FormBlock, Role, Section, Strip, Table, Text};
use crate::ground::{Finding, Findings, Length, plural};
use crate::sheet::{Mark, Size};

/// Before a heading inside a panel, and on one where all is near.
const BEFORE_HEADING: Length = Length::hundredths_mm(220);
const HEADING_ON_PANEL: Length = Length::hundredths_mm(140);

fn before_heading(room: &Room<'_>) -> Length {
    room.layout.air(if room.layout.format.has_panels() { HEADING_ON_PANEL } else { BEFORE_HEADING })
}

/// The pieces of a section, in order.
pub(super) fn pieces(section: &Section, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let mut set: Vec<(usize, Vec<Piece>)> = Vec::new();
    let mut taken = Length::ZERO;
    let blocks: Vec<(usize, &Block)> = section.blocks.iter().enumerate().collect();
    // What is drawn, or written on, keeps its measures where rows stand closer on a page.
    let at_ease = (room.layout.is_close && room.layout.format.is_whole()).then(|| room.layout.at_ease());
    let drawn = &Room { layout: at_ease.as_ref().unwrap_or(room.layout), ..*room };
    let are_symbols = |a: &Block, b: &Block| matches!((a, b), (Block::Symbol(_), Block::Symbol(_)));
    let are_notes = |a: &Block, b: &Block| room.layout.format.is_whole() && note(a).is_some() && note(b).is_some();
    for group in blocks.chunk_by(|(_, a), (_, b)| are_symbols(a, b) || are_notes(a, b)) {
        let Some((index, first)) = group.first() else { continue };
        let all = || group.iter().map(|(_, block)| *block);
        let pieces = match first {
            Block::Form(_) | Block::Matrix(_) => continue,
            Block::Symbol(_) => symbol_pieces(all(), drawn, found),
            Block::Strip(_) | Block::Tree(_) | Block::Legend(_) | Block::Notice(_) | Block::Folding(_) => {
                block_pieces(first, drawn, found)
            }
            _ if group.len() > 1 => note_pieces(&all().filter_map(note).collect::<Vec<_>>(), room, found),
            other => block_pieces(other, room, found),
        };
        taken += stacked(pieces.iter());
        set.push((*index, pieces));
    }
    for (index, block) in section.blocks.iter().enumerate() {
        // What closes up or fills the page comes last: it goes by the room that the others leave.
        let left = room.height - taken - room.layout.air(BEFORE);
        // A frame keeps as clear of the rule of the foot as any rule.
        let framed = left - RULES_APART;
        let pieces = match block {
            Block::Form(block) => {
                let before = set.iter().filter(|(other, _)| *other < index).flat_map(|(_, pieces)| pieces);
                let left = if left < Length::ZERO { left_behind(before, block, room) - RULES_APART } else { framed };
                let after = set.iter().filter(|(other, _)| *other > index).flat_map(|(_, pieces)| pieces);
                let after = after.map(|piece| piece.before + piece.setting.height).sum();
                Some(form::form_pieces(block, drawn, (left, after), found))
            }
            Block::Matrix(block) => {
                let room = if block.is_of_signs() { drawn } else { room };
                Some(matrix::matrix_pieces(block, room, left, found))
            }
            _ => None,
        };
        if let Some(mut pieces) = pieces {
            if let Some(first) = pieces.first_mut() {
                first.before = room.layout.air(BEFORE);
            }
            taken += stacked(pieces.iter());
            set.push((index, pieces));
        }
    }
    set.sort_by_key(|(index, _)| *index);
    let mut pieces: Vec<Piece> = set.into_iter().flat_map(|(_, pieces)| pieces).collect();
    // On a panel what stands under one heading is read at one glance; on a page it is near in any case.
    let small = if room.layout.format.has_panels() { room.height } else { room.height / 3 };
    keep_together(&mut pieces, small);
    pieces
}

/// So much less than reckoned is filled on a further page: heads and the air between pieces are reckoned roughly.
const SLACK: Length = Length::mm(2);

/// What a form finds of its page where the blocks before it take more than one: the rest of theirs, or a whole one where that is too little.
fn left_behind<'a>(pieces: impl Iterator<Item = &'a Piece>, form: &FormBlock, room: &Room<'_>) -> Length {
    let (mut y, mut page) = (Length::ZERO, room.height);
    let mut last: Option<&Piece> = None;
    for piece in pieces {
        if y + piece.whole(last) > page && y > Length::ZERO {
            page = room.height + room.more;
            (y, last) = (Length::ZERO, None);
        }
        y += piece.whole(last);
        last = Some(piece);
    }
    let left = page - y - room.layout.air(BEFORE) - SLACK;
    let least = form::form_pieces(form, room, (Length::ZERO, Length::ZERO), &mut Findings::default());
    let least: Length = least.iter().map(|piece| piece.setting.height).sum();
    if least <= left { left } else { room.height + room.more - room.layout.air(TOP) - SLACK }
}

/// A heading and the few lines under it are not parted where they are small.
fn keep_together(pieces: &mut [Piece], small: Length) {
    for group in pieces.chunk_by_mut(|_, next| !next.is_heading) {
        let height: Length = stacked(group.iter());
        let is_small = group.first().is_some_and(|first| first.is_heading) && height <= small;
        if let Some((_, others)) = group.split_last_mut().filter(|_| is_small) {
            others.iter_mut().for_each(|piece| piece.keeps_next = true);
        }
    }
}

fn block_pieces(block: &Block, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    match block {
        Block::Heading(text) => vec![heading(text, Role::Name, room, found)],
        Block::Paragraph(block) => {
            let mut pieces = paragraph_pieces(&block.text, block.role, room, found);
            // A sign of which a half hangs elsewhere warns nobody.
            let is_sign = matches!(block.role, Role::Sign | Role::SignWords);
            pieces.iter_mut().filter(|_| is_sign).for_each(|piece| piece.keeps_next = true);
            pieces
        }
        Block::Table(table) => table_pieces(table, room, found),
        Block::Form(_) | Block::Matrix(_) | Block::Symbol(_) => Vec::new(),
        Block::Front(block) => front_pieces(block, room, found),
        Block::WordList(block) => {
            let mut pieces = entry_pieces(block, room, found);
            if let Some(first) = pieces.first_mut() {
                first.before = room.layout.air(BEFORE);
            }
            pieces
        }
        Block::Notice(block) => vec![notice_piece(block, room, found)],
        Block::Folding(block) => folding_pieces(block, room, found),
        Block::Strip(block) => strip_pieces(block, room, found),
        Block::Tree(block) => {
            let mut pieces = tree_pieces(block, room, found);
            if let Some(first) = pieces.first_mut() {
                first.before = room.layout.air(BEFORE);
            }
            pieces
        }
        Block::Legend(block) => {
            let setting = legend_setting(room.pen, block, room.layout, room.width);
            let words = block.entries.first().map(|entry| entry.words.clone()).unwrap_or_default();
            vec![drawn(setting, &words, room.layout.air(BEFORE), room, found)]
        }
    }
}

/// A strip, or its parts where it has more labels than one has room for.
fn strip_pieces(block: &Strip, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    let is_readable = strip_form::figures(strip_form::scale(room.layout.scale())) >= DIALLED_FLOOR;
    if !room.layout.is_dense && !is_readable {
        found.push(not_dense(block, room));
        return Vec::new();
    }
    let size = Size { width: room.width, height: room.height - room.layout.air(TOP) };
    let Some(parts) = strip_parts::parts(block, &|part| strip::strip_setting(room.pen, part, room.layout, size)) else {
        found.push(too_crowded(block, room));
        return Vec::new();
    };
    let before = room.layout.air(room.layout.strip_form().air);
    parts.into_iter().map(|setting| drawn(Some(setting), &block.title, before, room, found)).collect()
}

/// The least width of a symbol, with or without its caption beside it, and what parts several that stand side by side.
const SYMBOL: Length = Length::mm(39);
const GUTTER: Length = Length::mm(6);

/// Symbols in rows, as many side by side as take the least height; of two ways as low the one with fewer in a row. None becomes finer by it.
fn symbol_pieces<'a>(
    blocks: impl Iterator<Item = &'a Block> + Clone,
    room: &Room<'_>,
    found: &mut Findings,
) -> Vec<Piece> {
    let least = room.layout.air(SYMBOL);
    let most = ((room.width + GUTTER).as_grains() / (least + GUTTER).as_grains()).max(1);
    let roomy = symbols_side_by_side(blocks.clone(), 1, room, &mut Findings::default());
    let mut best: Option<(Length, i64)> = None;
    for count in (1..=most).take_while(|_| most > 1) {
        let mut unheard = Findings::default();
        let pieces = symbols_side_by_side(blocks.clone(), count, room, &mut unheard);
        let height = stacked(pieces.iter());
        let is_as_fine = modules(&pieces).eq(modules(&roomy));
        if unheard.is_empty() && is_as_fine && best.is_none_or(|(known, _)| height < known) {
            best = Some((height, count));
        }
    }
    symbols_side_by_side(blocks, best.map_or(1, |(_, count)| count), room, found)
}

/// How large the modules of symbols are.
fn modules(pieces: &[Piece]) -> impl Iterator<Item = Length> {
    pieces.iter().flat_map(|piece| &piece.setting.marks).filter_map(|mark| match mark {
        Mark::Modules(modules) => Some(modules.module),
        _ => None,
    })
}

fn symbols_side_by_side<'a>(
    blocks: impl Iterator<Item = &'a Block>,
    count: i64,
    room: &Room<'_>,
    found: &mut Findings,
) -> Vec<Piece> {
    let width = (room.width - GUTTER * (count - 1)) / count;
    let tools = SymbolTools { pen: room.pen, symbols: room.symbols, caption: caption_style(room.layout) };
    let mut pieces: Vec<Piece> = Vec::new();
    let mut places = (0..count).cycle();
    for block in blocks {
        let Block::Symbol(block) = block else { continue };
        let before = found.len();
        let size = Size { width, height: room.height - room.layout.air(TOP) };
        let setting = symbol_setting(&tools, block, size, found);
        if setting.is_none() && found.len() > before {
            continue;
        }
        let piece = drawn(setting, &block.caption, room.layout.air(BEFORE), room, found);
        let place = places.next().unwrap_or(0);
        match pieces.last_mut().filter(|_| place > 0) {
            Some(row) => row.stand_beside(&piece, (width + GUTTER) * place),
            None => pieces.push(piece),
        }
    }
    pieces
}

/// Captions of symbols are read beside them, from further away than other small text.
fn caption_style(layout: &Layout) -> Style {
    let style = layout.style(Role::Small);
    Style { size: style.size.max(SMALL), ..style }
}

/// Figures on a strip are below the usual floor: the layout must say that it wants that.
fn not_dense(strip: &Strip, room: &Room<'_>) -> Finding {
    let what = format!("{}: figures on a strip are 8 pt, and this layout is not dense", strip.title.words());
    Finding::new(&LAYOUT_BELOW_FLOOR, room.asked, what)
        .label("asks for this layout")
        .help("take the layout \"chart\", or write `is-dense = true` in your own")
}

/// A strip with more labels than a page holds.
fn too_crowded(strip: &Strip, room: &Room<'_>) -> Finding {
    let labels = strip.flags.iter().filter(|flag| !flag.name.is_empty()).count();
    let what =
        format!("{}, holds {}, too many for the pages of this layout", strip.title.words(), plural(labels, "label"));
    Finding::new(&TEXT_DOES_NOT_FIT, room.asked, what)
        .label("asks for this chart")
        .help("take a larger layout, or leave this document out")
}

fn drawn(setting: Option<Setting>, title: &Text, before: Length, room: &Room<'_>, found: &mut Findings) -> Piece {
    if setting.is_none() {
        room.too_wide(title, room.width, found);
    }
    Piece { setting: setting.unwrap_or_default(), span: title.span, words: title.words(), before, ..Piece::default() }
}

/// A heading, which keeps what follows it.
pub(super) fn heading(text: &Text, role: Role, room: &Room<'_>, found: &mut Findings) -> Piece {
    Piece { keeps_next: true, is_heading: true, ..text_piece(text, role, before_heading(room), room, found) }
}

fn table_pieces(table: &Table, room: &Room<'_>, found: &mut Findings) -> Vec<Piece> {
    if table.rows.is_empty() {
        return vec![text_piece(&table.when_empty, Role::Body, room.layout.air(BEFORE), room, found)];
    }
    let Some(set) = room.layout.table(table.key) else {
        found.push(lacks(&format!("the layout has no place for the table `{}`", table.key), room));
        return Vec::new();
    };
    let columns: Vec<&str> = set.set.columns().collect();
    let missing = |column: &&crate::compose::block::Column| column.is_must && !columns.contains(&column.key);
    if let Some(column) = table.columns.iter().find(missing) {
        let what = format!("the layout has no place for the column `{}` of the table `{}`", column.key, table.key);
        found.push(lacks(&what, room));
        return Vec::new();
    }
    // Columns that a panel has no room for are set as lines, where their kind says how.
    let usual = KINDS.iter().flat_map(|kind| kind.tables).find(|kind| kind.key == table.key);
    let usual = usual.and_then(|kind| TableLayout::usual(kind, room.layout.format));
    let is_too_wide = match &set.set {
        TableSet::Grid { columns, .. } => room.layout.format.has_panels() && !grid::fits(table, columns, room),
        TableSet::Rows(_) | TableSet::List { .. } => false,
    };
    let set = usual.as_ref().filter(|_| is_too_wide).unwrap_or(set);
    let mut pieces = match &set.set {
        TableSet::Grid { columns, first } => grid::grid_pieces(table, columns, first, room, found),
        TableSet::List { columns, below } => list::list_pieces(table, (columns, below), room, found),
        TableSet::Rows(set) => rows::row_pieces(table, set, room, found),
    };
    if let Some(first) = pieces.first_mut() {
        first.before = room.layout.air(BEFORE);
    }
    // Rows have it under their headings, on every panel.
    if !matches!(set.set, TableSet::Rows(_)) {
        let said = table.said.iter().map(|text| text_piece(text, Role::Body, before(room), room, found));
        let said: Vec<Piece> = said.map(|piece| Piece { keeps_next: true, ..piece }).collect();
        pieces.splice(..0, said);
    }
    pieces
}

fn lacks(what: &str, room: &Room<'_>) -> Finding {
    Finding::new(&LAYOUT_LACKS_COLUMN, room.asked, what)
        .label("asks for this layout")
        .help("name it in the layout's tables, or take another layout")
}
