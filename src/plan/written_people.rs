//! Places and people as written: where the stations are, who works them, and in which nets.

use super::terms::{LocalTime, PlaceKind, Service};
use super::written::{Field, written_records};
use crate::ground::{Audience, CallSign, Day, Decibels, Frequency, Gain, Height, Id, Position, Power, Width, Words};
use crate::source::Cell;

written_records! {
    /// `[[place]]`: hospital, operations centre, shelter, blood centre, repeater site.
    WrittenPlace {
        /// Unique among places.
        id: Id,
        /// Short code, as on lists and labels.
        code: Words,
        /// Tactical call.
        tactical: Words,
        /// Full name.
        name: Words,
        /// What it is.
        kind: PlaceKind,
        /// The served agency's id, for its audience.
        agency: Id,
        /// Degrees or a grid reference.
        position: Position,
        /// State or province by ISO 3166-2, where it is not the plan's.
        region: Words,
        /// Above sea level.
        elevation: Height,
        /// Which door.
        entrance: Words,
        /// Where the radio is.
        room: Words,
        /// Antenna jack.
        jack: Words,
        /// Connector at the jack.
        connector: Words,
        /// Last visit.
        visited_on: Day,
        /// What may be transmitted there.
        transmit: WrittenTransmitLimit,
        /// Whom to call.
        contact: Vec<Cell<WrittenContact>>,
        /// Channels worked there at the same time.
        monitors: Vec<Cell<Id>>,
        /// Channels worked there that take turns, in groups: within a group only one is keyed at a time.
        turns: Vec<Cell<Vec<Cell<Id>>>>,
        /// Transmitters and receivers of others there.
        other: Vec<Cell<WrittenOther>>,
        /// Antennas there.
        antenna: Vec<Cell<WrittenAntenna>>,
        /// How far antennas stand from each other.
        spacing: Vec<Cell<WrittenSpacing>>,
    }
    /// Equipment of others at a place: paging, broadcast, hospital radio.
    WrittenOther {
        /// What it is.
        name: Words,
        /// What it sends.
        sends: Frequency,
        /// What it hears.
        hears: Frequency,
        /// How wide; 16 kHz when left out.
        width: Width,
    }
    /// What keeps two antennas at a place apart: their distance, or what was measured.
    WrittenSpacing {
        /// Two antennas' ids; one twice where two radios share it.
        of: Vec<Cell<Id>>,
        /// How far apart.
        distance: Height,
        /// Whether one stands above the other on one line.
        stacked: bool,
        /// What was measured from one radio's jack to the other's, filters included; it counts before a distance.
        isolation: Decibels,
        /// Which filter is fitted, in words.
        filter: Words,
    }
    /// What clinical engineering or the owner agreed to.
    WrittenTransmitLimit {
        /// Where transmitting is allowed, in words; "nowhere" where it is not.
        allowed: Words,
        /// Who agreed.
        agreed_by: Words,
        /// On which day.
        on: Day,
        /// The most.
        max: Power,
    }
    /// A function to call, never a person's private number.
    WrittenContact {
        /// The function.
        role: Words,
        /// Its number.
        phone: Words,
        /// Who may read it; coordinator when left out.
        audience: Audience,
        /// Who may read the function where the number is closed to them; those who read the number when left out.
        name_audience: Audience,
        /// When it was last tried.
        confirmed: Day,
    }
    /// An antenna at a place.
    WrittenAntenna {
        /// Name at this place.
        id: Id,
        /// vertical, dipole, beam ...
        kind: Words,
        /// Gain with its reference.
        gain: Gain,
        /// Above ground.
        height: Height,
        /// Loss of the feed line.
        feed_loss: Decibels,
        /// Channels that use it.
        channels: Vec<Cell<Id>>,
        /// Repeaters that use it.
        repeaters: Vec<Cell<Id>>,
        /// Gateways that use it.
        gateways: Vec<Cell<Id>>,
    }
    /// `[[member]]`, or a row of the roster.
    WrittenMember {
        /// Unique among members.
        id: Id,
        /// Call sign; none for an unlicensed helper.
        call: CallSign,
        /// Name.
        name: Words,
        /// Who may read the name where all numbers are closed to them; team when left out.
        name_audience: Audience,
        /// Licence class in the profile's words; none for an unlicensed helper.
        class: Words,
        /// Day on which the licence ends.
        expires: Day,
        /// Renewal was applied for in time.
        renewal_filed: Day,
        /// Licences of any service; class, call and expires are short for the amateur one.
        licence: Vec<Cell<WrittenLicence>>,
        /// What the member does in the team.
        role: Vec<Cell<Words>>,
        /// Numbers.
        phone: Vec<Cell<WrittenPhone>>,
        /// Who may read the numbers that do not say it themselves.
        phone_audience: Audience,
        /// When the numbers were last tried that do not say it themselves.
        phone_confirmed: Day,
        /// Electronic mail address; coordinator alone unless email-audience says else.
        email: Words,
        /// Who may read it; coordinator when left out.
        email_audience: Audience,
        /// When all of this was last confirmed by the member.
        confirmed: Day,
        /// Radios' ids.
        radio: Vec<Cell<Id>>,
    }
    /// A licence that a member holds.
    WrittenLicence {
        /// Radio service.
        service: Service,
        /// Call sign of that service.
        call: Words,
        /// Class, in the amateur service.
        class: Words,
        /// Day on which it ends.
        expires: Day,
        /// Renewal was applied for in time.
        renewal_filed: Day,
    }
    /// `[[agreement]]`: authority to use a service or some of its channels, from who holds the licence.
    WrittenAgreement {
        /// Unique among agreements.
        id: Id,
        /// Who gives it.
        with: Words,
        /// Radio service.
        service: Service,
        /// Channels' ids; all of the service when left out.
        channels: Vec<Cell<Id>>,
        /// Members' ids; everybody when left out.
        members: Vec<Cell<Id>>,
        /// Day on which it was signed.
        signed: Day,
        /// Day on which it ends.
        expires: Day,
        /// The most power.
        max: Power,
    }
    /// A member's number.
    WrittenPhone {
        /// The number, as dialled from outside.
        number: Words,
        /// Who may read it; coordinator when left out.
        audience: Audience,
        /// When it was last tried.
        confirmed: Day,
    }
    /// `[[net]]`: stations on one channel following a procedure.
    WrittenNet {
        /// Unique among nets.
        id: Id,
        /// Name as printed.
        name: Words,
        /// Name as said.
        spoken: Words,
        /// What it is for.
        purpose: Words,
        /// A channel's id.
        primary: Id,
        /// A channel's id.
        alternate: Id,
        /// A channel's id.
        contingency: Id,
        /// A channel's id.
        emergency: Id,
        /// When to move from one to the next, where the channel's row does not say it.
        trigger: Words,
        /// When nobody answers on the last one: where to listen, and when.
        rejoin: Words,
        /// The post that controls it.
        control: Id,
    }
    /// `[[post]]`: somewhere to stand duty.
    WrittenPost {
        /// Unique among posts.
        id: Id,
        /// What it is called.
        name: Words,
        /// A place's id.
        place: Id,
        /// Nets worked from here.
        nets: Vec<Cell<Id>>,
        /// Stood from this local time on, where not during the whole incident.
        from: LocalTime,
        /// Stood until this local time, where not during the whole incident.
        to: LocalTime,
    }
    /// `[[duty]]`: who stands a post from when to when.
    WrittenDuty {
        /// A post's id.
        post: Id,
        /// A member's id.
        member: Id,
        /// Local time.
        from: LocalTime,
        /// Local time.
        to: LocalTime,
    }
}

impl WrittenLicence {
    /// Whether it is of `service`.
    #[must_use]
    pub fn is_of(&self, service: Service) -> bool {
        self.service.as_ref().is_some_and(|cell| cell.value == Some(service))
    }
}
