//! Products of several transmitters at one site: where they may fall on a receiver.
//!
//! Third order 2A - B and A + B - C, fifth order 3A - 2B, harmonics nA for n = 2 to 5. A product is at most as wide as the
//! widths of its signals, each times its factor (common practice; the levels are the subject of ITU-R SM.1134). A product
//! named here is possible, never certain: what transmitters, filters and antennas do with it is not known.

use crate::ground::{Frequency, Width};
use std::fmt;

/// A signal at a site.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct SiteSignal {
    /// Its middle.
    pub at: Frequency,
    /// What it occupies.
    pub width: Width,
    /// Who can either send or hear, never both at once; none for what does both (a repeater).
    pub owner: Option<usize>,
}

/// How a product comes about.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Shape {
    /// 2A - B.
    TwoThird,
    /// A + B - C.
    ThreeThird,
    /// 3A - 2B.
    TwoFifth,
    /// nA.
    Harmonic(u8),
}

impl Shape {
    /// `third order`, `harmonic`.
    #[must_use]
    pub const fn order(self) -> &'static str {
        match self {
            Self::TwoThird | Self::ThreeThird => "third order",
            Self::TwoFifth => "fifth order",
            Self::Harmonic(_) => "harmonic",
        }
    }

    /// The product in letters for the signals: `2 x CMD 1 - MED 1`.
    #[must_use]
    pub fn formula(self, names: [&str; 3]) -> String {
        let [a, b, c] = names;
        match self {
            Self::TwoThird => format!("2 x {a} - {b}"),
            Self::ThreeThird => format!("{a} + {b} - {c}"),
            Self::TwoFifth => format!("3 x {a} - 2 x {b}"),
            Self::Harmonic(n) => format!("{n} x {a}"),
        }
    }
}

impl fmt::Display for Shape {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.order())
    }
}

/// A product on a receiver.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Hit {
    /// The receiver, by its place in the list.
    pub receiver: usize,
    /// How far the product's middle lies from the receiver's, in hertz.
    pub distance: u64,
    /// How it comes about.
    pub shape: Shape,
    /// The senders, by their places in the list; the last ones repeat where fewer take part.
    pub senders: [usize; 3],
    /// The product's middle, in hertz.
    pub at: u64,
    /// The widest it can be, in hertz.
    pub width: u64,
}

/// What is known of who keys when.
#[derive(Clone, Copy)]
pub struct Keying<'a> {
    /// Which senders cannot key together, asked for two places in the list.
    pub apart: &'a dyn Fn(usize, usize) -> bool,
    /// Which hits harm nobody, since the receiver does not listen then.
    pub silent: &'a dyn Fn(&Hit) -> bool,
}

/// Hits that are kept of each receiver, the closest: a crowded site has millions, and nobody reads more than the first.
pub const KEPT: usize = 100;

/// What may fall on receivers.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Hits {
    /// The closest of each receiver, sorted by receiver, then by distance.
    pub kept: Vec<Hit>,
    /// How many more there are, by the receivers' places in the list.
    pub more: Vec<usize>,
}

impl Hits {
    /// How many there are in all.
    #[must_use]
    pub fn count(&self) -> usize {
        self.kept.len() + self.more.iter().sum::<usize>()
    }
}

/// Every product of two or three that may fall on a receiver. A sender's own receiver is left out where it cannot hear while it sends; so is
/// what `keying` rules out.
#[must_use]
pub fn products(senders: &[SiteSignal], receivers: &[SiteSignal], keying: &Keying<'_>) -> Hits {
    let mut found = Found::new(senders, receivers, *keying);
    let apart = keying.apart;
    for (a, first) in senders.iter().enumerate() {
        for (b, second) in senders.iter().enumerate().filter(|(b, _)| *b != a && !apart(a, *b)) {
            let (fa, fb) = (hertz(first), hertz(second));
            found.meet(Shape::TwoThird, [a, b, b], 2 * fa - fb, 2 * width(first) + width(second));
            found.meet(Shape::TwoFifth, [a, b, b], 3 * fa - 2 * fb, 3 * width(first) + 2 * width(second));
            if b < a {
                continue;
            }
            let sum = fa + fb;
            for (c, third) in senders.iter().enumerate() {
                if c != a && c != b && !apart(a, c) && !apart(b, c) {
                    let wide = width(first) + width(second) + width(third);
                    found.meet(Shape::ThreeThird, [a, b, c], sum - hertz(third), wide);
                }
            }
        }
    }
    found.into_hits()
}

/// The harmonics alone.
#[must_use]
pub fn harmonics(senders: &[SiteSignal], receivers: &[SiteSignal], keying: &Keying<'_>) -> Hits {
    let mut found = Found::new(senders, receivers, *keying);
    for (a, sender) in senders.iter().enumerate() {
        for n in 2..=5_u8 {
            found.meet(Shape::Harmonic(n), [a, a, a], i64::from(n) * hertz(sender), u64::from(n) * width(sender));
        }
    }
    found.into_hits()
}

fn hertz(signal: &SiteSignal) -> i64 {
    i64::try_from(signal.at.as_hertz()).unwrap_or(i64::MAX / 8)
}

fn width(signal: &SiteSignal) -> u64 {
    signal.width.as_hertz()
}

/// The receivers by frequency, so that a product meets only those near it.
struct Found<'a> {
    senders: &'a [SiteSignal],
    receivers: &'a [SiteSignal],
    /// Middle of each receiver with its place in the list.
    sorted: Vec<(i64, usize)>,
    widest: u64,
    keying: Keying<'a>,
    /// Of each receiver.
    near: Vec<Near>,
}

/// The closest hits on one receiver.
#[derive(Clone, Default)]
struct Near {
    hits: Vec<Hit>,
    dropped: usize,
    /// The last of those kept, once there are so many.
    farthest: Option<Hit>,
}

impl Near {
    fn push(&mut self, hit: Hit) {
        // What is further away than all that is kept is counted alone: a crowded site has millions.
        if self.farthest.is_some_and(|farthest| hit > farthest) {
            self.dropped += 1;
            return;
        }
        self.hits.push(hit);
        if self.hits.len() >= 2 * KEPT {
            self.settle();
        }
    }

    fn settle(&mut self) {
        self.hits.sort_unstable();
        self.dropped += self.hits.len().saturating_sub(KEPT);
        self.hits.truncate(KEPT);
        self.farthest = self.hits.get(KEPT - 1).copied();
    }
}

impl<'a> Found<'a> {
    fn new(senders: &'a [SiteSignal], receivers: &'a [SiteSignal], keying: Keying<'a>) -> Self {
        let mut sorted: Vec<(i64, usize)> =
            receivers.iter().enumerate().map(|(index, receiver)| (hertz(receiver), index)).collect();
        sorted.sort_unstable();
        let widest = receivers.iter().map(width).max().unwrap_or(0);
        let near = vec![Near::default(); receivers.len()];
        Self { senders, receivers, sorted, widest, keying, near }
    }

    fn into_hits(self) -> Hits {
        let mut hits = Hits::default();
        for mut near in self.near {
            near.settle();
            hits.more.push(near.dropped);
            hits.kept.append(&mut near.hits);
        }
        hits
    }

    fn meet(&mut self, shape: Shape, senders: [usize; 3], at: i64, wide: u64) {
        let reach = i64::try_from((wide + self.widest) / 2).unwrap_or(i64::MAX / 8) + 1;
        let from = self.sorted.partition_point(|(middle, _)| *middle < at - reach);
        let near = self.sorted.iter().skip(from).take_while(|(middle, _)| *middle <= at + reach);
        for (middle, index) in near {
            let Some(receiver) = self.receivers.get(*index) else { continue };
            let distance = middle.abs_diff(at);
            let is_own = receiver.owner.is_some()
                && senders.iter().any(|sender| self.senders.get(*sender).is_some_and(|s| s.owner == receiver.owner));
            // Halves of odd widths round to no overlap.
            if !is_own && 2 * distance < wide + width(receiver) {
                let at = u64::try_from(at).unwrap_or(0);
                let hit = Hit { receiver: *index, distance, shape, senders, at, width: wide };
                if let Some(kept) = self.near.get_mut(*index).filter(|_| !(self.keying.silent)(&hit)) {
                    kept.push(hit);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Hit, Keying, Shape, SiteSignal, harmonics, products};
    use crate::ground::{Frequency, Width};

    fn signal(hertz: u64) -> SiteSignal {
        SiteSignal { at: Frequency::hertz(hertz).unwrap(), width: Width::hertz(16_000), owner: None }
    }

    const ALL_TALK: Keying<'_> = Keying { apart: &|_, _| false, silent: &|_| false };

    fn hits(senders: &[u64], receiver: u64) -> Vec<Hit> {
        let senders: Vec<SiteSignal> = senders.iter().copied().map(signal).collect();
        products(&senders, &[signal(receiver)], &ALL_TALK).kept
    }

    /// Worked by hand: 2 x 146.940 - 147.360 = 146.520; 3 x 144.390 = 433.170; 145.050 x 3 = 435.150; 147.540 x 3 = 442.620.
    #[test]
    fn worked_products_fall_where_they_were_worked_to_fall() {
        let on_simplex = hits(&[146_940_000, 147_360_000], 146_520_000);
        assert!(on_simplex.iter().any(|hit| hit.shape == Shape::TwoThird && hit.distance == 0 && hit.senders[0] == 0));
        let with_packet = hits(&[146_940_000, 147_360_000, 145_050_000], 145_470_000);
        assert!(with_packet.iter().any(|hit| hit.shape == Shape::ThreeThird && hit.distance == 0));
        for (sender, third) in [
            (144_390_000, 433_170_000),
            (145_050_000, 435_150_000),
            (146_520_000, 439_560_000),
            (147_540_000, 442_620_000),
        ] {
            let hit = harmonics(&[signal(sender)], &[signal(third)], &ALL_TALK).kept;
            assert_eq!((hit[0].shape, hit[0].distance, hit[0].width), (Shape::Harmonic(3), 0, 48_000));
        }
    }

    #[test]
    fn the_edge_of_the_widened_product_decides() {
        // Product 48 kHz wide, receiver 16 kHz: 32 kHz apart touch, one hertz less overlap.
        assert!(hits(&[146_940_000, 147_360_000], 146_520_000 - 32_000).is_empty());
        assert_eq!(hits(&[146_940_000, 147_360_000], 146_520_000 - 31_999).len(), 1);
    }

    #[test]
    fn a_radio_that_sends_does_not_hear_and_radios_that_take_turns_make_no_product() {
        let mut senders = [signal(146_940_000), signal(147_360_000)];
        let mut receiver = signal(146_520_000);
        senders[1].owner = Some(4);
        receiver.owner = Some(4);
        assert_eq!(products(&senders, &[receiver], &ALL_TALK).count(), 0);
        receiver.owner = Some(5);
        assert_eq!(products(&senders, &[receiver], &ALL_TALK).count(), 1);
        assert_eq!(products(&senders, &[receiver], &Keying { apart: &|_, _| true, ..ALL_TALK }).count(), 0);
        assert_eq!(products(&senders, &[receiver], &Keying { silent: &|_| true, ..ALL_TALK }).count(), 0);
    }

    /// 61 transmitters 10 kHz apart and a receiver in their midst: of its many products the hundred closest are kept, none lost
    /// in the count. 2A - B and A + B - C on the receiver's own frequency come first, whatever their place in the list.
    #[test]
    fn of_a_crowded_site_the_closest_are_kept_and_all_are_counted() {
        let senders: Vec<SiteSignal> = (0..61).map(|n| signal(146_000_000 + n * 10_000)).collect();
        let receiver = signal(146_305_000);
        let hits = products(&senders, &[receiver], &ALL_TALK);
        let all = |hit: fn(i64, i64, i64) -> i64, wide: i64| {
            let mut count = 0;
            for (a, b, c) in (0..61).flat_map(|a| (0..61).flat_map(move |b| (0..61).map(move |c| (a, b, c)))) {
                let distance = (hit(a, b, c) * 10_000 - 305_000).abs();
                count += usize::from(a < b && c != a && c != b && 2 * distance < wide + 16_000);
            }
            count
        };
        let two = |factors: (i64, i64), wide: i64| {
            (0..61_i64)
                .flat_map(|a| (0..61).map(move |b| (a, b)))
                .filter(|(a, b)| {
                    a != b && 2 * ((factors.0 * a - factors.1 * b) * 10_000 - 305_000).abs() < wide + 16_000
                })
                .count()
        };
        let expected = all(|a, b, c| a + b - c, 48_000) + two((2, 1), 48_000) + two((3, 2), 80_000);
        assert_eq!((hits.kept.len(), hits.count()), (100, expected));
        assert!(hits.kept.iter().all(|hit| hit.distance == 5_000), "{:?}", hits.kept.last());
    }
}
