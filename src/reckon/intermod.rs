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
    /// Which receiver is not harmed by what a sender takes part in, since it does not listen then: asked for their places.
    pub deaf: &'a dyn Fn(usize, usize) -> bool,
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
    let mut found = Found::new(senders, receivers, keying);
    let apart = PairTable::of(senders.len(), senders.len(), keying.apart);
    // The higher the third, the lower the product: the receivers near one product are sought from those near the last on.
    let mut falling: Vec<(usize, &SiteSignal)> = senders.iter().enumerate().collect();
    falling.sort_by_key(|(_, signal)| std::cmp::Reverse(signal.at));
    for (a, first) in senders.iter().enumerate() {
        for (b, second) in senders.iter().enumerate().filter(|(b, _)| *b != a && !apart.holds(a, *b)) {
            let (fa, fb) = (hertz(first), hertz(second));
            let mut near = found.listening([a, b]);
            near.meet(&mut found, (Shape::TwoFifth, b), 3 * fa - 2 * fb, 3 * width(first) + 2 * width(second));
            near.from = 0;
            near.meet(&mut found, (Shape::TwoThird, b), 2 * fa - fb, 2 * width(first) + width(second));
            if b < a {
                continue;
            }
            near.from = 0;
            for (c, third) in &falling {
                if *c != a && *c != b && !apart.holds(a, *c) && !apart.holds(b, *c) {
                    let wide = width(first) + width(second) + width(third);
                    near.meet(&mut found, (Shape::ThreeThird, *c), fa + fb - hertz(third), wide);
                }
            }
        }
    }
    found.into_hits()
}

/// The harmonics alone.
#[must_use]
pub fn harmonics(senders: &[SiteSignal], receivers: &[SiteSignal], keying: &Keying<'_>) -> Hits {
    let mut found = Found::new(senders, receivers, keying);
    for (a, sender) in senders.iter().enumerate() {
        let mut near = found.listening([a, a]);
        for n in 2..=5_u8 {
            near.meet(&mut found, (Shape::Harmonic(n), a), i64::from(n) * hertz(sender), u64::from(n) * width(sender));
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

/// What holds of each of some with each of others, asked once: millions of products ask for it again.
struct PairTable {
    width: usize,
    holds: Vec<bool>,
}

impl PairTable {
    fn of(height: usize, width: usize, holds: &dyn Fn(usize, usize) -> bool) -> Self {
        let row = |row: usize| (0..width).map(move |column| holds(row, column));
        Self { width, holds: (0..height).flat_map(row).collect() }
    }

    fn holds(&self, row: usize, column: usize) -> bool {
        self.holds.get(row * self.width + column).copied().unwrap_or(true)
    }
}

/// The hits so far, and which receiver hears nothing of which sender's.
struct Found {
    /// Middle of each receiver with its width and its place in the list, by frequency, so that a product meets only those near it.
    sorted: Vec<(i64, u64, usize)>,
    /// Half of the widest receiver and the widest product.
    reach: i64,
    /// By receiver and sender.
    deaf: PairTable,
    /// Of each receiver.
    near: Vec<NearReceiver>,
}

/// The closest hits on one receiver.
#[derive(Clone, Default)]
struct NearReceiver {
    hits: Vec<Hit>,
    dropped: usize,
    /// The last of those kept, once there are so many.
    farthest: Option<Hit>,
}

impl NearReceiver {
    /// Whether a hit at a distance may be among those kept; else it is counted alone: a crowded site has millions.
    fn takes(&mut self, distance: u64) -> bool {
        let takes = self.farthest.is_none_or(|farthest| distance <= farthest.distance);
        self.dropped += usize::from(!takes);
        takes
    }

    fn push(&mut self, hit: Hit) {
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

impl Found {
    fn new(senders: &[SiteSignal], receivers: &[SiteSignal], keying: &Keying<'_>) -> Self {
        let place = |(index, receiver): (usize, &SiteSignal)| (hertz(receiver), width(receiver), index);
        let mut sorted: Vec<(i64, u64, usize)> = receivers.iter().enumerate().map(place).collect();
        sorted.sort_unstable();
        let widest = |signals: &[SiteSignal]| signals.iter().map(width).max().unwrap_or(0);
        let reach = i64::try_from(5 * widest(senders) + widest(receivers)).unwrap_or(i64::MAX / 8) / 2 + 1;
        let owner = |signals: &[SiteSignal], at: usize| signals.get(at).and_then(|signal| signal.owner);
        let is_own = |receiver, sender| {
            let own = owner(receivers, receiver);
            own.is_some() && own == owner(senders, sender)
        };
        let deaf = |receiver, sender| is_own(receiver, sender) || (keying.deaf)(receiver, sender);
        let deaf = PairTable::of(receivers.len(), senders.len(), &deaf);
        Self { sorted, reach, deaf, near: vec![NearReceiver::default(); receivers.len()] }
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

    /// The receivers that listen while two senders send.
    fn listening(&self, senders: [usize; 2]) -> Listening {
        let listens = |receiver: usize| senders.iter().all(|sender| !self.deaf.holds(receiver, *sender));
        let sorted = self.sorted.iter().copied().filter(|(.., receiver)| listens(*receiver)).collect();
        Listening { senders, sorted, from: 0 }
    }
}

/// The receivers that listen while two senders send, by frequency.
struct Listening {
    senders: [usize; 2],
    sorted: Vec<(i64, u64, usize)>,
    /// The first that is not too low for the products to come: they are met in rising order.
    from: usize,
}

impl Listening {
    fn meet(&mut self, found: &mut Found, (shape, third): (Shape, usize), at: i64, wide: u64) {
        let rest = self.sorted.get(self.from..).unwrap_or_default();
        self.from += rest.iter().take_while(|(middle, ..)| *middle < at - found.reach).count();
        let near = self.sorted.get(self.from..).unwrap_or_default();
        for (middle, width, receiver) in near.iter().take_while(|(middle, ..)| *middle <= at + found.reach) {
            let distance = middle.abs_diff(at);
            // Halves of odd widths round to no overlap.
            if 2 * distance >= wide + width || found.deaf.holds(*receiver, third) {
                continue;
            }
            let Some(near) = found.near.get_mut(*receiver) else { continue };
            if near.takes(distance) {
                let ([a, b], at) = (self.senders, u64::try_from(at).unwrap_or(0));
                near.push(Hit { receiver: *receiver, distance, shape, senders: [a, b, third], at, width: wide });
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

    const ALL_TALK: Keying<'_> = Keying { apart: &|_, _| false, deaf: &|_, _| false };

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
        assert_eq!(products(&senders, &[receiver], &Keying { deaf: &|_, _| true, ..ALL_TALK }).count(), 0);
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
