//! Where labels stand that hang on positions of a line: like flags, each on its own riser, words to the right of it.
//!
//! Order of risers is order of positions, so that leaders never cross. Where two flags would overlap, the left one moves one
//! row further out: its riser then passes left of all words nearer to the line.

use crate::ground::Length;

/// What is to be placed: a position, and the width of its words with the gap before them.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct WantedFlag {
    /// Where on the line it belongs.
    pub at: Length,
    /// From the riser to the end of the words.
    pub width: Length,
}

/// Where a flag stands.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Flag {
    /// Its riser, also the left edge of its box.
    pub riser: Length,
    /// Rows away from the line, from 0.
    pub row: usize,
}

/// Places flags between `left` and `right`, as near to their positions as order, spacing and the edges allow.
///
/// `wanted` is sorted by position. Risers keep `apart` from each other and boxes in one row too. `None` when they do not all fit.
/// A flag whose words reach over the next riser must stand a row further out, so a crowd becomes a staircase; staircases of at most so many steps
/// stand side by side, of as few steps as keeps each flag within [`FAR`] of its position, or as few as fit.
pub(super) fn place(wanted: &[WantedFlag], left: Length, right: Length, apart: Length) -> Option<Vec<Flag>> {
    let tries = (1..=wanted.len().max(1)).filter_map(|steps| risers(wanted, &gaps(wanted, steps, apart), left, right));
    let mut best: Option<Vec<Length>> = None;
    for risers in tries {
        let is_near = risers.iter().zip(wanted).all(|(riser, flag)| (*riser - flag.at).max(flag.at - *riser) <= FAR);
        if is_near {
            best = Some(risers);
            break;
        }
        best = best.or(Some(risers));
    }
    Some(on_rows(&best?, wanted, apart))
}

/// Chosen by eye: a leader that leans further is hard to follow.
const FAR: Length = Length::mm(18);

fn on_rows(risers: &[Length], wanted: &[WantedFlag], apart: Length) -> Vec<Flag> {
    let mut flags: Vec<Flag> = Vec::new();
    // From the right: what a flag reaches over is then known.
    for (riser, want) in risers.iter().zip(wanted).rev() {
        let covered = flags.iter().rev().take_while(|next| next.riser < *riser + want.width + apart);
        let row = covered.map(|next| next.row + 1).max().unwrap_or(0);
        flags.push(Flag { riser: *riser, row });
    }
    flags.reverse();
    flags
}

/// The least space before each riser: `apart` inside a staircase, the widest words of a staircase before the next one.
fn gaps(wanted: &[WantedFlag], steps: usize, apart: Length) -> Vec<Length> {
    let mut gaps = Vec::new();
    let (mut taken, mut widest, mut end) = (0, Length::ZERO, None);
    for flag in wanted {
        let is_clear = end.is_some_and(|end| flag.at >= end);
        if taken == steps || is_clear {
            gaps.push(widest + apart);
            (taken, widest, end) = (0, Length::ZERO, None);
        } else {
            gaps.push(apart);
        }
        taken += 1;
        widest = widest.max(flag.width);
        end = Some(end.unwrap_or(flag.at).max(flag.at + flag.width + apart));
    }
    gaps
}

/// Positions in order, `gaps` apart, inside the edges. Each pooled stretch takes the mean of what its flags wanted
/// (pool-adjacent-violators: least squares under order).
fn risers(wanted: &[WantedFlag], gaps: &[Length], left: Length, right: Length) -> Option<Vec<Length>> {
    // Taking the spacing out turns "at least so far apart" into "in order".
    let mut sum = Length::ZERO;
    let mut spaced = Vec::new();
    for (index, gap) in gaps.iter().enumerate() {
        sum += if index == 0 { Length::ZERO } else { *gap };
        spaced.push(sum);
    }
    let mut pools: Vec<(Length, i64)> = Vec::new();
    for (flag, space) in wanted.iter().zip(&spaced) {
        let mut pool = (flag.at - *space, 1);
        while let Some((sum, count)) = pools.pop_if(|(sum, count)| *sum * pool.1 > pool.0 * *count) {
            pool = (pool.0 + sum, pool.1 + count);
        }
        pools.push(pool);
    }
    let means = pools.iter().flat_map(|(sum, count)| (0..*count).map(|_| *sum / *count));
    let mut risers: Vec<Length> = means.zip(&spaced).map(|(mean, space)| (mean + *space).max(left)).collect();
    let mut limit = right;
    for ((riser, flag), gap) in risers.iter_mut().zip(wanted).zip(gaps).rev() {
        *riser = (*riser).min(right - flag.width).min(limit);
        limit = *riser - *gap;
    }
    let mut least = left;
    for (index, riser) in risers.iter_mut().enumerate() {
        *riser = (*riser).max(least);
        least = *riser + gaps.get(index + 1).copied().unwrap_or(Length::ZERO);
    }
    let fits = risers.iter().zip(wanted).all(|(riser, flag)| *riser + flag.width <= right);
    fits.then_some(risers)
}

#[cfg(test)]
mod tests {
    use super::{WantedFlag, place};
    use crate::ground::Length;
    use proptest::prelude::{Strategy, prop_assert, proptest};

    const RIGHT: Length = Length::mm(200);
    const APART: Length = Length::mm(1);

    fn wanted() -> impl Strategy<Value = Vec<WantedFlag>> {
        let one = (0..20_000_i64, 300..3500_i64)
            .prop_map(|(at, width)| WantedFlag { at: Length::hundredths_mm(at), width: Length::hundredths_mm(width) });
        proptest::collection::vec(one, 0..40).prop_map(|mut all| {
            all.sort_by_key(|one| one.at);
            all
        })
    }

    proptest! {
        #[test]
        fn flags_stand_inside_in_order_and_clear_of_each_other(wanted in wanted()) {
            let flags = place(&wanted, Length::ZERO, RIGHT, APART).unwrap();
            for (n, (flag, want)) in flags.iter().zip(&wanted).enumerate() {
                prop_assert!(flag.riser >= Length::ZERO && flag.riser + want.width <= RIGHT);
                for (other, other_want) in flags.iter().zip(&wanted).skip(n + 1) {
                    prop_assert!(other.riser >= flag.riser + APART, "risers keep their order");
                    let is_beside = other.riser >= flag.riser + want.width + APART;
                    prop_assert!(is_beside || flag.row > other.row, "words of a row never meet, no riser passes through words");
                    prop_assert!(other_want.width > Length::ZERO);
                }
            }
        }
    }

    #[test]
    fn lone_flags_stay_where_they_belong() {
        let at = |mm| WantedFlag { at: Length::mm(mm), width: Length::mm(20) };
        let flags = place(&[at(10), at(80), at(150)], Length::ZERO, RIGHT, APART).unwrap();
        assert_eq!(
            flags.iter().map(|f| (f.riser, f.row)).collect::<Vec<_>>(),
            [10, 80, 150].map(|mm| (Length::mm(mm), 0))
        );
    }

    #[test]
    fn more_than_the_line_holds_is_refused() {
        let many = vec![WantedFlag { at: Length::mm(5), width: Length::mm(5) }; 30];
        assert!(place(&many, Length::ZERO, Length::mm(20), APART).is_none());
    }
}
