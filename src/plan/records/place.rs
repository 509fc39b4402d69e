//! Places.

use super::{Channel, Gateway, Repeater};
use crate::ground::{
    At, Audience, Day, Decibels, Finding, Findings, Frequency, Gain, Height, Id, Position, Power, Private, Span, Width,
    Words, nearest,
};
use crate::plan::reference::Ref;
use crate::plan::register::subject;
use crate::plan::rules::{DANGLING_ID, SPACING_WITHOUT_PAIR};
use crate::plan::terms::PlaceKind;
use crate::source::{Meant, Partly, Reading, SettledBy, record};

record! {
    /// `[[place]]`: hospital, operations centre, shelter, blood centre, repeater site.
    #[derive(Clone)]
    pub struct Place = "place" {
        /// Unique among places.
        id: At<Id>,
        /// Short code, as on lists and labels.
        code: At<Words>,
        /// Tactical call.
        tactical: At<Words>,
        /// Full name; the tactical call when left out.
        name: At<Words> = tactical.clone(),
        /// What it is.
        kind: At<PlaceKind>,
        /// The served agency's id, for its audience.
        agency: Option<At<Id>>,
        /// Degrees or a grid reference.
        position: Option<At<Position>>,
        /// State or province by ISO 3166-2, where it is not the plan's.
        region: Option<At<Words>>,
        /// Above sea level.
        elevation: Option<At<Height>>,
        /// Which door.
        entrance: Option<At<Words>>,
        /// Where the radio is.
        room: Option<At<Words>>,
        /// Antenna jack.
        jack: Option<At<Words>>,
        /// Connector at the jack.
        connector: Option<At<Words>>,
        /// Last visit.
        visited_on: Option<At<Day>>,
        /// What may be transmitted there.
        transmit: Option<TransmitLimit>,
        /// Whom to call.
        contacts as "contact": Vec<Contact>,
        /// Channels worked there at the same time.
        monitors: Vec<At<Ref<Channel>>>,
        /// Channels worked there that take turns, in groups: within a group only one is keyed at a time.
        turns: Vec<At<Vec<At<Ref<Channel>>>>>,
        /// Transmitters and receivers of others there.
        others as "other": Vec<Other>,
        /// Antennas there.
        antennas as "antenna": Vec<Antenna>,
        /// How far antennas stand from each other.
        spacings as "spacing": Vec<Spacing>,
        /// The record.
        span: Span,
    }

    /// What clinical engineering or the owner agreed to.
    #[derive(Clone, Debug)]
    pub struct TransmitLimit = "transmit-limit" {
        /// Where transmitting is allowed, in words; "nowhere" where it is not.
        allowed: At<Words>,
        /// Who agreed.
        agreed_by: Option<At<Words>>,
        /// On which day.
        on: Option<At<Day>>,
        /// The most.
        max: Option<At<Power>>,
    }

    /// A function to call, never a person's private number.
    #[derive(Clone)]
    pub struct Contact = "contact" {
        /// The function.
        role: At<Words>,
        /// Who may read the number; coordinator when left out.
        audience: At<Audience> = Audience::Coordinator,
        /// Its number.
        phone: At<Private<Words>> = audience.value.clone(),
        /// Who may read the function where the number is closed to them; those who read the number when left out.
        name_audience: At<Audience> = audience.clone(),
        /// When it was last tried.
        confirmed: Option<At<Day>>,
        /// The record.
        span: Span,
    }

    /// Equipment of others at a place: paging, broadcast, hospital radio.
    #[derive(Clone, Debug)]
    pub struct Other = "other" {
        /// What it is.
        name: At<Words>,
        /// What it sends.
        sends: Option<At<Frequency>>,
        /// What it hears.
        hears: Option<At<Frequency>>,
        /// How wide; 16 kHz when left out.
        width: Option<At<Width>>,
    }

    /// An antenna at a place.
    #[derive(Clone, Debug)]
    pub struct Antenna = "antenna" {
        /// Name at this place.
        id: At<Id>,
        /// vertical, dipole, beam ...
        kind: Option<At<Words>>,
        /// Gain with its reference.
        gain: Option<At<Gain>>,
        /// Above ground.
        height: Option<At<Height>>,
        /// Loss of the feed line.
        feed_loss: Option<At<Decibels>>,
        /// Channels that use it.
        channels: Vec<At<Ref<Channel>>>,
        /// Repeaters that use it.
        repeaters: Vec<At<Ref<Repeater>>>,
        /// Gateways that use it.
        gateways: Vec<At<Ref<Gateway>>>,
    }

    /// What keeps two antennas at a place apart: their distance, or what was measured.
    pub struct WrittenSpacing = "spacing" {
        /// Two antennas' ids; one twice where two radios share it.
        of: At<Vec<At<Id>>>,
        /// How far apart.
        distance: Option<At<Height>>,
        /// Whether one stands above the other on one line.
        is_stacked as "stacked": bool,
        /// What was measured from one radio's jack to the other's, filters included; it counts before a distance.
        isolation: Option<At<Decibels>>,
        /// Which filter is fitted, in words.
        filter: Option<At<Words>>,
    }
}

/// What keeps two antennas at a place apart.
#[derive(Clone, Debug)]
pub struct Spacing {
    /// The two; one twice where two radios share it.
    pub of: [At<Id>; 2],
    /// How far apart.
    pub distance: Option<At<Height>>,
    /// Whether one stands above the other on one line.
    pub is_stacked: bool,
    /// What was measured; it counts before a distance.
    pub isolation: Option<At<Decibels>>,
    /// Which filter is fitted.
    pub filter: Option<At<Words>>,
}

impl Meant for Spacing {
    type Written = WrittenSpacing;

    fn mean(written: WrittenSpacing, of: &mut Reading<'_>) -> Option<Self> {
        let WrittenSpacing { of: pair, distance, is_stacked, isolation, filter } = written;
        if distance.is_none() && isolation.is_none() {
            of.missing("distance");
        }
        let Ok(of) = <[At<Id>; 2]>::try_from(pair.value) else {
            let what = "a spacing is of something else than two antennas";
            let finding = Finding::new(&SPACING_WITHOUT_PAIR, pair.span, what).label("not two");
            of.found.push(finding.help("name two antennas of the place: `of = [\"low\", \"high\"]`"));
            return None;
        };
        Some(Self { of, distance, is_stacked, isolation, filter })
    }
}

impl TransmitLimit {
    /// Whether nothing may be sent there at all: the one word of `allowed` that has a meaning of its own, whatever stands around it.
    #[must_use]
    pub fn is_nowhere(&self) -> bool {
        let letters: String = self.allowed.as_str().chars().filter(|c| c.is_alphabetic()).collect();
        letters.eq_ignore_ascii_case("nowhere")
    }
}

impl Place {
    /// Reports antennas that a spacing names and that this place does not have: an antenna is known at its place alone.
    pub(in crate::plan) fn look_up_antennas(&self, found: &mut Findings) {
        let ids = || self.antennas.iter().map(|antenna| antenna.id.as_str());
        for id in self.spacings.iter().flat_map(|spacing| &spacing.of) {
            if ids().any(|known| known == id.as_str()) {
                continue;
            }
            let what = format!("no antenna at {} has the id `{}`", self.tactical.value, id.value);
            let finding = Finding::new(&DANGLING_ID, id.span, what).label("no such antenna here").on(subject(self));
            found.push(match nearest(id.as_str(), ids()) {
                Some(name) => finding.help(format!("did you mean \"{name}\"?")),
                None => finding.help(format!("add `antenna = [{{ id = \"{}\" }}]` to the place", id.value)),
            });
        }
    }
}

impl Partly for At<Private<Words>> {
    type Written = At<Words>;
}

/// Closed for all but those who may read it.
impl SettledBy<Audience> for At<Private<Words>> {
    fn settle(written: At<Words>, by: Audience, _: &mut Reading<'_>) -> Option<Self> {
        Some(Self::new(Private::new(written.value, by), written.span))
    }
}
