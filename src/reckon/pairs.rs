//! Two radios near each other in frequency at one place: what must be kept between them, and what the plan shows.

use super::feed_loss;
use super::isolation::{DIPOLE, Standing, isolation, needed_isolation};
use super::site::Site;
use super::site_end::SiteEnd;
use crate::ground::{At, Frequency, Id, Power, Span, Subject, Words};
use crate::plan::{Antenna, Place, Spacing};
use crate::tables::Profile;
use std::collections::BTreeMap;

/// What a transmitter is taken to send with where the plan does not say: a mobile radio of the trade.
const USUAL: Power = Power::milliwatts(50_000);

/// A transmitter and a receiver near its frequency that work at once at one place.
#[derive(Clone, Copy)]
pub struct Pair<'a> {
    /// What sends.
    pub sender: &'a SiteEnd,
    /// What listens meanwhile.
    pub receiver: &'a SiteEnd,
    /// What it sends with.
    pub power: Power,
    /// Whether the plan says so; else it is taken.
    pub is_power_written: bool,
    /// What must be kept between them, in tenths of a decibel.
    pub needed: i32,
    /// What the plan shows.
    pub shown: Kept,
    /// Where the plan shows it.
    pub shown_at: Option<Span>,
    /// Which filter is fitted.
    pub filter: Option<&'a At<Words>>,
    /// The antennas of the sender and of the receiver, as far as the place names them.
    pub antennas: [Option<&'a Antenna>; 2],
}

/// The isolation that a plan shows, in tenths of a decibel.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Kept {
    /// None.
    Nothing,
    /// Reckoned from a distance and the loss of both feed lines.
    Reckoned(i32),
    /// Measured.
    Measured(i32),
}

impl Pair<'_> {
    /// What is missing, in tenths of a decibel: all of it where nothing is shown. None where enough is shown.
    #[must_use]
    pub fn missing(&self) -> Option<i32> {
        let shown = match self.shown {
            Kept::Nothing => 0,
            Kept::Reckoned(tenths) | Kept::Measured(tenths) => tenths,
        };
        (shown < self.needed).then_some(self.needed - shown)
    }
}

/// Every two radios near each other in frequency that work at once at a place, whatever their services, each pair once, the way round in which more is missing. A
/// repeater's output against its own input is its duplexer's business, and a signal's own frequency is no neighbour.
#[must_use]
pub fn pairs<'a>(site: &'a Site, place: &'a Place, profile: &Profile) -> Vec<Pair<'a>> {
    if site.is_crowded() {
        return Vec::new();
    }
    let band = |at: Frequency| profile.bands.iter().position(|band| band.edges.has(at));
    // A receiver lets in what lies near it, whose service it may be: less than a tenth of the frequency away, or in its band.
    let is_near = |one: Frequency, other: Frequency| {
        let (low, high) = if one < other { (one, other) } else { (other, one) };
        high.as_hertz() * 10 < low.as_hertz() * 11 || band(one).is_some_and(|band_of| band(other) == Some(band_of))
    };
    let receivers: Vec<&SiteEnd> =
        site.receivers.iter().filter(|end| end.subject.is_some() && !end.is_distant).collect();
    let antennas = Antennas::of(place);
    let mut worst: BTreeMap<[&Subject; 2], Pair<'a>> = BTreeMap::new();
    for (sender, subject) in site.senders.iter().filter_map(|end| Some((end, end.subject.as_ref()?))) {
        for receiver in receivers.iter().filter(|receiver| is_near(sender.signal.at, receiver.signal.at)) {
            let Some(other) = receiver.subject.as_ref().filter(|other| *other != subject) else { continue };
            if is_on_it(sender, receiver) || site.take_turns(sender, receiver) {
                continue;
            }
            let pair = antennas.pair(sender, receiver);
            let key = if subject < other { [subject, other] } else { [other, subject] };
            let known = worst.get(&key).map(Pair::missing);
            if known.is_none_or(|known| known < pair.missing()) {
                worst.insert(key, pair);
            }
        }
    }
    worst.into_values().collect()
}

/// Whether a signal lies on what the receiver hears: the one that it is meant for, or a collision with rules of its own.
fn is_on_it(sender: &SiteEnd, receiver: &SiteEnd) -> bool {
    let apart = (sender.signal.at - receiver.signal.at).size();
    2 * apart < sender.signal.width.as_hertz() + receiver.signal.width.as_hertz()
}

/// The antennas of a place, and what lies between them.
struct Antennas<'a> {
    place: &'a Place,
    spacings: BTreeMap<[&'a Id; 2], &'a Spacing>,
}

impl<'a> Antennas<'a> {
    fn of(place: &'a Place) -> Self {
        let mut spacings = BTreeMap::new();
        for spacing in &place.spacings {
            let [one, other] = &spacing.of;
            spacings.entry(in_order(&one.value, &other.value)).or_insert(spacing);
        }
        Self { place, spacings }
    }

    fn pair(&self, sender: &'a SiteEnd, receiver: &'a SiteEnd) -> Pair<'a> {
        let spacing = self.spacing(sender, receiver);
        let power = sender.power.unwrap_or(USUAL);
        Pair {
            sender,
            receiver,
            power,
            is_power_written: sender.power.is_some(),
            needed: needed_isolation(power),
            shown: spacing.map_or(Kept::Nothing, |(spacing, antennas)| shown(spacing, antennas, sender)),
            shown_at: spacing.and_then(|(spacing, _)| span_of(spacing)),
            filter: spacing.and_then(|(spacing, _)| spacing.filter.as_ref()),
            antennas: [self.antenna(sender), self.antenna(receiver)],
        }
    }

    /// The antenna that a radio uses.
    fn antenna(&self, end: &SiteEnd) -> Option<&'a Antenna> {
        let subject = end.subject.as_ref()?;
        let uses = |antenna: &&Antenna| match (subject.kind, &end.channel) {
            (_, Some(channel)) => antenna.channels.iter().any(|id| id.value == *channel),
            ("repeater", _) => antenna.repeaters.iter().any(|id| id.value == subject.id),
            ("gateway", _) => antenna.gateways.iter().any(|id| id.value == subject.id),
            _ => false,
        };
        self.place.antennas.iter().find(uses)
    }

    /// What lies between the antennas of two radios, and the antennas.
    fn spacing(&self, one: &SiteEnd, other: &SiteEnd) -> Option<(&'a Spacing, [&'a Antenna; 2])> {
        let antennas = [self.antenna(one)?, self.antenna(other)?];
        let [here, there] = antennas.map(|antenna| &antenna.id.value);
        self.spacings.get(&in_order(here, there)).map(|spacing| (*spacing, antennas))
    }
}

fn in_order<'a>(one: &'a Id, other: &'a Id) -> [&'a Id; 2] {
    if one <= other { [one, other] } else { [other, one] }
}

fn span_of(spacing: &Spacing) -> Option<Span> {
    spacing.isolation.map(|at| at.span).or(spacing.distance.map(|at| at.span))
}

fn shown(spacing: &Spacing, antennas: [&Antenna; 2], sender: &SiteEnd) -> Kept {
    if let Some(measured) = spacing.isolation {
        return Kept::Measured(measured.value.as_hundredths() / 10);
    }
    let [one, other] = antennas;
    // An antenna has no distance from itself: what two radios on one keep apart can only be measured.
    let Some(distance) = spacing.distance.filter(|_| one.id.value != other.id.value) else { return Kept::Nothing };
    let standing = if spacing.is_stacked { Standing::Stacked } else { Standing::SideBySide };
    let gain = |antenna: &Antenna| antenna.gain.map_or(DIPOLE, |gain| gain.value.over_isotropic() / 10);
    let loss = |antenna: &Antenna| feed_loss(antenna, sender.signal.at).map_or(0, |loss| loss.as_hundredths() / 10);
    let between = isolation(standing, distance.value.as_centimetres(), sender.signal.at, gain(one) + gain(other));
    Kept::Reckoned(between + loss(one) + loss(other))
}
