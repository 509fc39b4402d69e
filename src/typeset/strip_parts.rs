//! More labels than one strip has room for: several strips of a part each, every part drawn larger.

use super::setting::Setting;
use super::strip::DrawnStrip;
use crate::compose::block::Strip;

/// A strip, or as many as it takes, in order: a part where not each flag has at least its number, as far as a strip can be parted. None when not
/// even a part with few labels fits.
pub(super) fn parts(block: &Strip, set: &dyn Fn(&Strip) -> Option<DrawnStrip>) -> Option<Vec<Setting>> {
    within(block, (block.low, block.high), set)
}

fn within(block: &Strip, (low, high): (i64, i64), set: &dyn Fn(&Strip) -> Option<DrawnStrip>) -> Option<Vec<Setting>> {
    let part = if (low, high) == (block.low, block.high) { block.clone() } else { block.part(low, high) };
    let drawn = set(&part);
    let at = middle(&part).filter(|_| block.is_even);
    match (drawn, at) {
        (Some(drawn), None) => Some(vec![drawn.setting]),
        (Some(drawn), Some(_)) if drawn.is_told => Some(vec![drawn.setting]),
        (_, Some(at)) => {
            let mut settings = within(block, (low, at), set)?;
            settings.extend(within(block, (at, high), set)?);
            Some(settings)
        }
        (None, None) => None,
    }
}

/// The roundest value that parts the flags of a strip into two halves. None where all have one value.
fn middle(part: &Strip) -> Option<i64> {
    let mut flags: Vec<i64> = part.flags.iter().map(|flag| flag.at).collect();
    flags.sort_unstable();
    let half = flags.len() / 2;
    let pairs = flags.iter().zip(flags.iter().skip(1)).enumerate().filter(|(_, (below, above))| below < above);
    let (_, (below, above)) = pairs.min_by_key(|(index, _)| half.abs_diff(index + 1))?;
    let steps = (0..9).rev().flat_map(|power| [5, 2, 1].map(|n| n * 10_i64.pow(power)));
    steps.map(|step| above / step * step).find(|at| *at > *below && *at > part.low && *at < part.high)
}

#[cfg(test)]
mod tests {
    use super::{middle, parts};
    use crate::compose::block::{FlagSign, Strip, StripFlag, Text};
    use crate::typeset::setting::Setting;
    use crate::typeset::strip::DrawnStrip;
    use std::cell::RefCell;

    fn strip(at: &[i64]) -> Strip {
        let flag = |at: &i64| StripFlag {
            at: *at,
            from: *at - 8_000,
            to: *at + 8_000,
            sign: FlagSign::Bar,
            number: String::new(),
            name: Text::own(format!("CH {at}")),
            figure: Text::default(),
            word: Text::default(),
            detail: Text::default(),
        };
        Strip {
            title: Text::own("2 m"),
            notes: vec![Text::own("144 to 148 MHz")],
            low: 144_000_000,
            high: 148_000_000,
            is_even: true,
            flags: at.iter().map(flag).collect(),
            ..Strip::default()
        }
    }

    #[test]
    fn halves_meet_at_the_roundest_value_between_their_marks() {
        assert_eq!(middle(&strip(&[144_300_000, 145_200_000, 145_230_000, 147_000_000])), Some(145_220_000));
        assert_eq!(middle(&strip(&[144_300_000, 144_400_000, 146_900_000, 147_000_000])), Some(145_000_000));
        assert_eq!(middle(&strip(&[146_520_000, 146_520_000])), None, "what stands on one frequency is not parted");
        assert_eq!(middle(&strip(&[146_520_000])), None);
    }

    /// Parts follow each other without a gap, and every label stands in exactly one of them.
    #[test]
    fn every_label_is_in_one_part() {
        let at: Vec<i64> = (0..200).map(|n| 144_100_000 + n * 19_000).collect();
        let seen: RefCell<Vec<Strip>> = RefCell::default();
        let labels = |strip: &Strip| strip.flags.iter().filter(|flag| !flag.name.is_empty()).count();
        let set = |strip: &Strip| {
            let is_told = labels(strip) <= 30;
            if is_told {
                seen.borrow_mut().push(strip.clone());
            }
            Some(DrawnStrip { setting: Setting::default(), is_told })
        };
        let count = parts(&strip(&at), &set).unwrap().len();
        let seen = seen.borrow().clone();
        assert!(count == seen.len() && count > 6, "{count}");
        assert!(seen.windows(2).all(|pair| pair[0].high == pair[1].low));
        assert_eq!((seen[0].low, seen[count - 1].high), (144_000_000, 148_000_000));
        assert_eq!(seen.iter().map(labels).sum::<usize>(), 200);
        assert!(seen.iter().all(|strip| strip.notes[0].words().starts_with("14")));
        let uneven = Strip { is_even: false, ..strip(&at) };
        assert_eq!(parts(&uneven, &set).unwrap().len(), 1, "what cannot be parted is drawn as it is");
    }
}
