//! On which page each piece of a form stands: how much is left to a line that fills a page, and where a table goes on.

use crate::compose::block::{FieldLine, FormBlock};
use crate::ground::Length;
use crate::typeset::piece::{Piece, stacked};

/// How high pages are for a form: what the blocks before it leave of the first, and those behind that; and what comes after it.
#[derive(Clone, Copy)]
pub(super) struct Heights {
    pub first: Length,
    pub behind: Length,
    pub after: Length,
}

/// So much less than reckoned is filled on a further page: heads and the air between pieces are reckoned roughly.
const SLACK: Length = Length::mm(2);

/// For each line of a form what is left of its page, for the first of a page that wants it; nothing for all others.
pub(super) fn left(form: &FormBlock, set: &[Vec<Piece>], heights: Heights) -> Vec<Length> {
    let Pages { of, taken } = Pages::of(set, heights);
    let ends = of.iter().map(|pages| pages.last().copied().unwrap_or_default());
    let is_filling = |line: &FieldLine| line.fields.iter().any(|field| field.room.is_filling);
    let mut is_taken = vec![false; taken.len()];
    let mut left = Vec::new();
    for (line, page) in form.lines.iter().zip(ends) {
        let is_first = is_taken.get_mut(page).filter(|is_taken| is_filling(line) && !**is_taken);
        let is_first = is_first.map(|is_taken| *is_taken = true).is_some();
        let height = if page == 0 { heights.first } else { heights.behind - SLACK };
        let rest = height - taken.get(page).copied().unwrap_or_default();
        left.push(if is_first { rest.max(Length::ZERO) } else { Length::ZERO });
    }
    left
}

/// Moves rows of a table that goes on over pages from the page before the last to its last, where that one has less than half as many:
/// two rows alone are lost among papers.
pub(super) fn balance(set: &mut [Vec<Piece>], heights: Heights) {
    let Pages { of, taken } = Pages::of(set, heights);
    for (pieces, pages) in set.iter_mut().zip(of) {
        let Some(last) = pages.last().copied().filter(|last| *last > 0) else { continue };
        let on =
            |page: usize| pages.iter().zip(pieces.iter()).filter(|(at, piece)| **at == page && piece.is_row).count();
        let (before, few) = (on(last - 1), on(last));
        if few == 0 || few * 2 >= before {
            continue;
        }
        // No more than what is left there: what follows the table stays where it is.
        let highest = pieces.iter().map(|piece| piece.setting.height).fold(Length::ZERO, Length::max);
        let rest = heights.behind - taken.get(last).copied().unwrap_or_default();
        let fit = usize::try_from(rest.as_grains() / highest.as_grains().max(1)).unwrap_or(0);
        let moved = ((before - few) / 2).min(fit);
        let first = pages.iter().position(|page| *page == last).unwrap_or_default();
        if let Some(piece) = first.checked_sub(moved).and_then(|first| pieces.get_mut(first)).filter(|_| moved > 0) {
            piece.begins_panel = true;
        }
    }
}

/// Lets the pages of a form end about as low as each other: no field of its lines is alone on a last page. Where a line begins a page by
/// itself, or a table goes on, pages stay as they are.
pub(super) fn even(set: &mut [Vec<Piece>], heights: Heights) {
    let count = Pages::of(set, heights).taken.len();
    if count < 2 || set.iter().flatten().any(|piece| piece.begins_panel || piece.is_row) {
        return;
    }
    // The blocks before the form are among what the first page holds.
    let before = (heights.behind - heights.first).max(Length::ZERO);
    let high: Vec<Length> = set.iter().map(|pieces| stacked(pieces.iter())).collect();
    let mut left = before + high.iter().copied().sum::<Length>() + heights.after;
    let (mut y, mut pages, mut breaks) = (before, count, Vec::new());
    for (line, high) in high.into_iter().enumerate() {
        let share = left / i64::try_from(pages).unwrap_or(1).max(1);
        let is_over = y + high > heights.behind || (pages > 1 && y + high / 2 > share);
        if is_over && line > 0 && y > Length::ZERO {
            breaks.push(line);
            left -= y;
            (y, pages) = (Length::ZERO, pages.saturating_sub(1));
        }
        y += high;
    }
    begin(set, &breaks, true);
    if Pages::of(set, heights).taken.len() > count {
        begin(set, &breaks, false);
    }
}

/// Says of lines whether they begin a page.
fn begin(set: &mut [Vec<Piece>], lines: &[usize], is_first: bool) {
    for line in lines {
        if let Some(piece) = set.get_mut(*line).and_then(|pieces| pieces.first_mut()) {
            piece.begins_panel = is_first;
        }
    }
}

/// The page of each piece, line by line, and how much of each page is taken.
pub(super) struct Pages {
    pub of: Vec<Vec<usize>>,
    pub taken: Vec<Length>,
}

impl Pages {
    /// What comes after the form stands on its last page where there is room.
    pub fn of(set: &[Vec<Piece>], heights: Heights) -> Self {
        let (mut of, mut taken) = (Vec::new(), vec![Length::ZERO]);
        let mut last: Option<&Piece> = None;
        for pieces in set {
            let mut pages = Vec::new();
            for piece in pieces {
                let height = if taken.len() == 1 { heights.first } else { heights.behind };
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
                pages.push(taken.len() - 1);
            }
            of.push(pages);
        }
        let height = if taken.len() == 1 { heights.first } else { heights.behind };
        match taken.last_mut() {
            Some(y) if *y + heights.after <= height => *y += heights.after,
            _ => taken.push(heights.after),
        }
        Self { of, taken }
    }
}
