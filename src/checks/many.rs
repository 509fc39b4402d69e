//! What is found of each two among many would be a square: of one that stands against more than a few others, one finding tells.

use crate::ground::{Finding, Stretch, Subject, plural};
use std::collections::BTreeMap;

/// Most others with each of which something has a finding of its own.
pub(super) const MOST_EACH: usize = 8;
/// Most others that one finding of many names; beyond them nothing is looked at.
pub(super) const MOST_NAMED: usize = 64;

/// The first few of those that stand against something, one more than are named where there are more.
pub(super) fn first_few<T>(against: impl Iterator<Item = T>) -> Vec<T> {
    against.take(MOST_NAMED + 1).collect()
}

/// What a message of many ends with: how many more there are than the one that it tells of.
pub(super) fn likewise<T>(all: &[T]) -> String {
    match all.len() {
        few if few <= MOST_EACH => String::new(),
        some if some <= MOST_NAMED => format!("; it does so with {}", plural(some - 1, "other")),
        _ => format!("; it does so with {MOST_NAMED} others and more"),
    }
}

/// Names those of many that a finding does not name yet but for the first, so that a waiver of it covers no other.
pub(super) fn naming(finding: Finding, others: impl Iterator<Item = Option<Subject>>) -> Finding {
    others.take(MOST_NAMED - 1).fold(finding, |finding, other| finding.on_all(other))
}

/// Hertz in one drawer of spectrum.
const DRAWER: u64 = 100_000;
/// Most drawers that one is put into; what is wider is compared with all.
const MOST_DRAWERS: u64 = 64;

/// What occupies spectrum, by where: what lies far apart is never compared.
#[derive(Default)]
pub(super) struct Spectrum {
    drawers: BTreeMap<u64, Vec<usize>>,
    wide: Vec<usize>,
    count: usize,
}

impl Spectrum {
    /// Puts in the next; each has the number of those that were put in before.
    pub fn put(&mut self, stretches: &[Stretch]) {
        match drawers(stretches) {
            Some(drawers) => {
                drawers.into_iter().for_each(|drawer| self.drawers.entry(drawer).or_default().push(self.count))
            }
            None => self.wide.push(self.count),
        }
        self.count += 1;
    }

    /// The numbers of those that may overlap something, each once and in order.
    pub fn near(&self, stretches: &[Stretch]) -> Box<dyn Iterator<Item = usize> + '_> {
        let Some(drawers) = drawers(stretches) else { return Box::new(0..self.count) };
        let lists = drawers.iter().filter_map(|drawer| self.drawers.get(drawer));
        let mut lists: Vec<&[usize]> = lists.chain([&self.wide]).map(Vec::as_slice).collect();
        Box::new(std::iter::from_fn(move || {
            let next = *lists.iter().filter_map(|list| list.first()).min()?;
            for list in lists.iter_mut().filter(|list| list.first() == Some(&next)) {
                *list = list.get(1..).unwrap_or_default();
            }
            Some(next)
        }))
    }
}

/// The drawers that stretches reach into, each once; none where these are too many.
fn drawers(stretches: &[Stretch]) -> Option<Vec<u64>> {
    let mut all = Vec::new();
    for stretch in stretches {
        let (low, high) = (stretch.low().as_hertz() / DRAWER, stretch.high().as_hertz() / DRAWER);
        if high - low >= MOST_DRAWERS {
            return None;
        }
        all.extend(low..=high);
    }
    all.sort_unstable();
    all.dedup();
    Some(all)
}

#[cfg(test)]
mod tests {
    use super::Spectrum;
    use crate::ground::{Frequency, Stretch};

    fn stretch(low: u64, high: u64) -> Stretch {
        let [low, high] = [low, high].map(|hertz| Frequency::hertz(hertz).unwrap());
        Stretch::new(low, high).unwrap()
    }

    /// Every pair that overlaps is near, whichever was put in first: at the edge of a drawer, wider than all drawers, or of two parts.
    #[test]
    fn whatever_overlaps_is_near() {
        let all = [
            vec![stretch(146_000_000, 146_016_000)],
            vec![stretch(146_092_000, 146_108_000)],
            vec![stretch(146_100_000, 146_116_000), stretch(440_000_000, 440_016_000)],
            vec![stretch(100_000_000, 500_000_000)],
            vec![stretch(440_010_000, 440_020_000)],
            vec![stretch(52_000_000, 52_016_000)],
        ];
        let mut spectrum = Spectrum::default();
        for (second, stretches) in all.iter().enumerate() {
            let near: Vec<usize> = spectrum.near(stretches).collect();
            let overlaps = |first: &usize| all[*first].iter().any(|a| stretches.iter().any(|b| a.overlaps(b)));
            let expected: Vec<usize> = (0..second).filter(overlaps).collect();
            assert!(near.is_sorted() && expected.iter().all(|first| near.contains(first)), "{second}: {near:?}");
            spectrum.put(stretches);
        }
        assert_eq!(spectrum.near(&all[5]).collect::<Vec<_>>(), [3, 5]);
        assert_eq!(spectrum.near(&all[4]).collect::<Vec<_>>(), [2, 3, 4]);
    }
}
