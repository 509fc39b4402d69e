//! People and places as meant.

use super::terms::{LocalTime, PlaceKind, Service};
use crate::ground::{
    At, Audience, CallSign, Day, Decibels, Frequency, Gain, Height, Id, Position, Power, Private, Span, Width, Words,
};

/// A place where the team works or something stands.
#[derive(Clone)]
pub struct Place {
    /// Its id.
    pub id: At<Id>,
    /// Three letters.
    pub code: At<Words>,
    /// Tactical call.
    pub tactical: At<Words>,
    /// Full name, or the tactical call.
    pub name: At<Words>,
    /// What it is.
    pub kind: At<PlaceKind>,
    /// The served agency.
    pub agency: Option<At<Id>>,
    /// Where it is.
    pub position: Option<At<Position>>,
    /// State or province by ISO 3166-2, where it is not the plan's.
    pub region: Option<At<Words>>,
    /// Above sea level.
    pub elevation: Option<At<Height>>,
    /// Which door.
    pub entrance: Option<At<Words>>,
    /// Where the radio is.
    pub room: Option<At<Words>>,
    /// Antenna jack.
    pub jack: Option<At<Words>>,
    /// Connector at the jack.
    pub connector: Option<At<Words>>,
    /// Last visit.
    pub visited_on: Option<At<Day>>,
    /// What may be transmitted.
    pub transmit: Option<TransmitLimit>,
    /// Whom to call.
    pub contacts: Vec<Contact>,
    /// Channels worked at the same time.
    pub monitors: Vec<At<Id>>,
    /// Groups of channels that take turns.
    pub turns: Vec<Vec<At<Id>>>,
    /// Transmitters and receivers of others.
    pub others: Vec<Other>,
    /// Antennas.
    pub antennas: Vec<Antenna>,
    /// How far antennas stand from each other.
    pub spacings: Vec<Spacing>,
    /// The record.
    pub span: Span,
}

/// What the owner of a place agreed to.
#[derive(Clone, Debug)]
pub struct TransmitLimit {
    /// Where transmitting is allowed.
    pub allowed: At<Words>,
    /// Who agreed.
    pub agreed_by: Option<At<Words>>,
    /// On which day.
    pub on: Option<At<Day>>,
    /// The most.
    pub max: Option<At<Power>>,
}

impl TransmitLimit {
    /// Whether nothing may be sent there at all: the one word of `allowed` that has a meaning of its own.
    #[must_use]
    pub fn is_nowhere(&self) -> bool {
        self.allowed.as_str().trim().eq_ignore_ascii_case("nowhere")
    }
}

/// A function to call at a place.
#[derive(Clone)]
pub struct Contact {
    /// The function.
    pub role: At<Words>,
    /// Its number.
    pub phone: At<Private<Words>>,
    /// Who may read the function where the number is closed to them.
    pub name_audience: Audience,
    /// When it was last tried.
    pub confirmed: Option<At<Day>>,
    /// The record.
    pub span: Span,
}

/// An antenna at a place.
#[derive(Clone, Debug)]
pub struct Antenna {
    /// Name at this place.
    pub id: At<Id>,
    /// vertical, dipole ...
    pub kind: Option<At<Words>>,
    /// Gain.
    pub gain: Option<At<Gain>>,
    /// Above ground.
    pub height: Option<At<Height>>,
    /// Feed-line loss.
    pub feed_loss: Option<At<Decibels>>,
    /// Channels that use it.
    pub channels: Vec<At<Id>>,
    /// Repeaters that use it.
    pub repeaters: Vec<At<Id>>,
    /// Gateways that use it.
    pub gateways: Vec<At<Id>>,
}

/// Equipment of others at a place.
#[derive(Clone, Debug)]
pub struct Other {
    /// What it is.
    pub name: At<Words>,
    /// What it sends.
    pub sends: Option<At<Frequency>>,
    /// What it hears.
    pub hears: Option<At<Frequency>>,
    /// How wide.
    pub width: Option<At<Width>>,
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

/// A person of the team.
#[derive(Clone)]
pub struct Member {
    /// The id.
    pub id: At<Id>,
    /// Name.
    pub name: At<Words>,
    /// Who may read the name where all numbers are closed to them.
    pub name_audience: Audience,
    /// Call sign; none for an unlicensed helper.
    pub call: Option<At<CallSign>>,
    /// Amateur licence class in the profile's words; none for an unlicensed helper.
    pub class: Option<At<Words>>,
    /// Day on which the licence ends.
    pub expires: Option<At<Day>>,
    /// Renewal was applied for on this day.
    pub renewal_filed: Option<At<Day>>,
    /// Licences of other services than amateur.
    pub licences: Vec<Licence>,
    /// Functions in the team.
    pub roles: Vec<At<Words>>,
    /// Numbers.
    pub phones: Vec<Phone>,
    /// Electronic mail.
    pub email: Option<At<Private<Words>>>,
    /// When the member last confirmed the record.
    pub confirmed: Option<At<Day>>,
    /// Radios.
    pub radios: Vec<At<Id>>,
    /// The record.
    pub span: Span,
}

/// A licence of another service than amateur.
#[derive(Clone, Debug)]
pub struct Licence {
    /// Radio service.
    pub service: At<Service>,
    /// Call sign of that service.
    pub call: Option<At<Words>>,
    /// Day on which it ends.
    pub expires: Option<At<Day>>,
    /// Renewal was applied for on this day.
    pub renewal_filed: Option<At<Day>>,
}

/// Authority to use a service or some of its channels, from who holds the licence.
#[derive(Clone, Debug)]
pub struct Agreement {
    /// Its id.
    pub id: At<Id>,
    /// Who gives it.
    pub with: At<Words>,
    /// Radio service.
    pub service: At<Service>,
    /// Its channels; empty for all of the service.
    pub channels: Vec<At<Id>>,
    /// For whom; empty for everybody.
    pub members: Vec<At<Id>>,
    /// Day on which it was signed.
    pub signed: At<Day>,
    /// Day on which it ends.
    pub expires: At<Day>,
    /// The most power.
    pub max: Option<At<Power>>,
    /// The record.
    pub span: Span,
}

/// A member's number.
#[derive(Clone)]
pub struct Phone {
    /// The number.
    pub number: At<Private<Words>>,
    /// When it was last tried; the member's own day when left out.
    pub confirmed: Option<At<Day>>,
}

/// Somewhere to stand duty.
#[derive(Clone, Debug)]
pub struct Post {
    /// Its id.
    pub id: At<Id>,
    /// What it is called.
    pub name: At<Words>,
    /// Where.
    pub place: Option<At<Id>>,
    /// Nets worked from here.
    pub nets: Vec<At<Id>>,
    /// Stood from then on; from the beginning when left out.
    pub from: Option<At<LocalTime>>,
    /// Stood until then; to the end when left out.
    pub to: Option<At<LocalTime>>,
    /// The record.
    pub span: Span,
}

/// Who stands a post.
#[derive(Clone, Debug)]
pub struct Duty {
    /// The post.
    pub post: At<Id>,
    /// The member.
    pub member: At<Id>,
    /// From, local time.
    pub from: At<LocalTime>,
    /// To, local time.
    pub to: At<LocalTime>,
    /// The record.
    pub span: Span,
}
