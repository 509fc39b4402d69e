//! How much of each page is left to a line that fills it.

use crate::compose::block::{FieldLine, FormBlock};
use crate::ground::Length;
use crate::typeset::piece::Piece;

/// For each line of a form what is left of its page, for the first of a page that wants it; nothing for all others. The first page and
/// those behind it have their own heights.
pub(super) fn left(form: &FormBlock, set: &[Vec<Piece>], (first, behind): (Length, Length)) -> Vec<Length> {
    let mut ends: Vec<usize> = Vec::new();
    let mut taken = vec![Length::ZERO];
    let mut last: Option<&Piece> = None;
    for pieces in set {
        for piece in pieces {
            let height = if taken.len() == 1 { first } else { behind };
            let y = taken.last().copied().unwrap_or_default();
            let is_over = piece.begins_panel || y + piece.whole(last) > height;
            if is_over && y > Length::ZERO {
                taken.push(Length::ZERO);
                last = None;
            }
            if let Some(y) = taken.last_mut() {
                // Air before what opens a page is left out there.
                *y += piece.whole(last) - if last.is_none() { piece.before } else { Length::ZERO };
            }
            last = Some(piece);
        }
        ends.push(taken.len() - 1);
    }
    let is_filling = |line: &FieldLine| line.fields.iter().any(|field| field.room.is_filling);
    let mut is_taken = vec![false; taken.len()];
    let mut left = Vec::new();
    for (line, page) in form.lines.iter().zip(ends) {
        let is_first = is_taken.get_mut(page).filter(|is_taken| is_filling(line) && !**is_taken);
        let is_first = is_first.map(|is_taken| *is_taken = true).is_some();
        let height = if page == 0 { first } else { behind };
        let rest = height - taken.get(page).copied().unwrap_or_default();
        left.push(if is_first { rest.max(Length::ZERO) } else { Length::ZERO });
    }
    left
}
