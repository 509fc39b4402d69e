//! Places.

use super::{Channel, Gateway, Member, Repeater};
use crate::ground::{
    At, Audience, Day, Decibels, Finding, Findings, Frequency, Gain, Height, Id, LineLoss, Position, Power, Private,
    Run, Span, Width, Words, nearest,
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
        /// Unique among places, as `mercy`; made of its name, or its tactical call, when left out.
        id: At<Id>,
        /// Short code, as on lists and labels, as `MRC`.
        code: At<Words>,
        /// Tactical call, as said on the air, as `Mercy`.
        tactical: At<Words>,
        /// Full name, as `Mercy General Hospital`; the tactical call when left out.
        name: At<Words> = tactical.clone(),
        /// What it is, as `hospital`.
        kind: At<PlaceKind>,
        /// The served agency's id, whose readers are agency/ID, as `county-health`; no agency's when left out.
        agency: Option<At<Id>>,
        /// Degrees, north and east positive, or a grid reference; distances and areas are not judged when left out.
        position: Option<At<Position>>,
        /// State or province by ISO 3166-2, as `US-MT`; the plan's when left out.
        region: Option<At<Words>>,
        /// Height above sea level, as `1210 m`; nothing is printed when left out.
        elevation: Option<At<Height>>,
        /// Which door, as `Dock door`; nothing is printed when left out.
        entrance: Option<At<Words>>,
        /// Which door after hours, and whom it takes to open it, as `Rear door, ring for security`; the site sheet says that it is
        /// unknown when left out.
        after_hours: Option<At<Words>>,
        /// Where the radio is, as `B-114`; nothing is printed when left out.
        room: Option<At<Words>>,
        /// Antenna jack, as `Panel R2`; nothing is printed when left out.
        jack: Option<At<Words>>,
        /// Connector at the jack, as `N female`; nothing is printed when left out.
        connector: Option<At<Words>>,
        /// What to bring for that connector, as `N male to BNC female`; the site sheet asks for what fits the connector when left
        /// out.
        adapter: Option<At<Words>>,
        /// Outlets on essential supply, as `two red outlets by the desk`; the site sheet says that they are unknown when left out.
        outlets: Option<At<Words>>,
        /// Day of the last visit, as `2026-09-14`; a finding asks for it when left out.
        visited_on: Option<At<Day>>,
        /// The member who was there, as `qra`; the site sheet does not say who when left out.
        visited_by: Option<At<Ref<Member>>>,
        /// What may be transmitted there; not agreed yet when left out.
        transmit: Option<TransmitLimit>,
        /// Whom to call; nobody when left out.
        contacts as "contact": Vec<Contact>,
        /// Channels worked there at the same time; those of the nets at its posts alone when left out.
        monitors: Vec<At<Ref<Channel>>>,
        /// Channels worked there that take turns, in groups: of each only one is keyed at a time, as `[["cmd", "log"]]`;
        /// none when left out.
        turns: Vec<At<Vec<At<Ref<Channel>>>>>,
        /// Transmitters and receivers of others there; none when left out.
        others as "other": Vec<Other>,
        /// Antennas there; not known when left out.
        antennas as "antenna": Vec<Antenna>,
        /// How far antennas stand from each other; not known when left out.
        spacings as "spacing": Vec<Spacing>,
        /// The record.
        span: Span,
    }

    /// What clinical engineering or the owner agreed to.
    #[derive(Clone, Debug)]
    pub struct TransmitLimit = "transmit-limit" {
        /// Where transmitting is allowed, in words; `nowhere` where it is not, as `roof only`.
        allowed: At<Words>,
        /// Who agreed, as `Clinical engineering`; a finding asks for it at a place of medical care when left out.
        agreed_by: Option<At<Words>>,
        /// On which day, as `2026-09-14`; a finding asks for it at a place of medical care when left out.
        on: Option<At<Day>>,
        /// The most power, at the transmitter; no limit when left out.
        max: Option<At<Power>>,
    }

    /// A function to call, never a person's private number.
    #[derive(Clone)]
    pub struct Contact = "contact" {
        /// The function, never a person's name, as `House supervisor`.
        role: At<Words>,
        /// Who may read the number; coordinator when left out.
        audience: At<Audience> = Audience::Coordinator,
        /// Its number, never a private one, as `+1 406 555 0141`.
        phone: At<Private<Words>> = audience.value.clone(),
        /// Who may read the function where the number is closed to them; those who read the number when left out.
        name_audience: At<Audience> = audience.clone(),
        /// When it was last tried, as `2026-09-14`; a finding asks for it when left out.
        confirmed: Option<At<Day>>,
        /// The record.
        span: Span,
    }

    /// Equipment of others at a place: paging, broadcast, hospital radio.
    #[derive(Clone, Debug)]
    pub struct Other = "other" {
        /// What it is, as `Paging`.
        name: At<Words>,
        /// What it sends, as `152.480 MHz`; nothing when left out.
        sends: Option<At<Frequency>>,
        /// What it hears, as `158.530 MHz`; nothing when left out.
        hears: Option<At<Frequency>>,
        /// How wide its signal is, as `20 kHz`; 16 kHz when left out.
        width: Option<At<Width>>,
    }

    /// An antenna at a place.
    #[derive(Clone, Debug)]
    pub struct Antenna = "antenna" {
        /// Unique at this place, as `high`.
        id: At<Id>,
        /// What it is, as `vertical`; nothing is said when left out.
        kind: Option<At<Words>>,
        /// Gain, in dBi or dBd; 0 dBd is taken when left out.
        gain: Option<At<Gain>>,
        /// Height above ground; not known when left out.
        height: Option<At<Height>>,
        /// Loss of the feed line, as `1.5 dB`; by its length and rate when left out.
        feed_loss: Option<At<Decibels>>,
        /// How long the feed line is, as `15 m`; not known when left out.
        feed_length: Option<At<Run>>,
        /// What 100 m of the feed line lose at a frequency, as its maker has it, as `8.9 dB at 150 MHz`; not known, so that it loses nothing, when left out.
        feed_rate: Option<At<LineLoss>>,
        /// Channels that use it; none when left out.
        channels: Vec<At<Ref<Channel>>>,
        /// Repeaters that use it; none when left out.
        repeaters: Vec<At<Ref<Repeater>>>,
        /// Gateways that use it; none when left out.
        gateways: Vec<At<Ref<Gateway>>>,
    }

    /// What keeps two antennas at a place apart: their distance, or what was measured.
    pub struct WrittenSpacing = "spacing" {
        /// Two antennas of the place; one twice where two radios share it, as `["low", "high"]`.
        of: At<Vec<At<Id>>>,
        /// How far apart, as `10 m`; not needed beside isolation, and not known when left out.
        distance: Option<At<Height>>,
        /// Whether one stands above the other on one line; false when left out.
        is_stacked as "stacked": bool,
        /// What was measured from one radio's jack to the other's, filters included; it counts before a distance; not
        /// measured when left out.
        isolation: Option<At<Decibels>>,
        /// Which filter is fitted, in words, as `a cavity on each`; nothing is said when left out.
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
            of.found.push(
                finding
                    .help("name two antennas of the place by their ids, one of them twice where two radios share it"),
            );
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
