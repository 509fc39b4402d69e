//! The records as written: the plan format, and by the same types its JSON Schema.
//!
//! Every field is optional here: what must be there is asked when the record is understood, so that a missing key never hides a wrong one.

use crate::ground::{
    Audience, CallSign, Day, Distance, Frequency, Gain, Height, Id, Lapse, Position, Power, Shift, Speed, Stretch,
    Tolerance, Tone, Width, Words,
};
use crate::source::Cell;
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;

use super::terms::{
    Control, Each, LocalTime, Mode, PlaceKind, RepeaterInput, Service, Side, Simplex, StationKind, Transmit,
    WaiverSubject, WidthWord,
};

/// A field: absent, refused, or a value with its place.
pub type Field<T> = Option<Cell<T>>;

/// Declares records as written: serde reads them, schemars describes them.
macro_rules! written_records {
    ($($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident: $type:ty,)* })*) => {$(
        $(#[$doc])*
        #[derive(Clone, Debug, Default, Deserialize, JsonSchema)]
        #[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
        pub struct $name { $($(#[$field_doc])* pub $field: Field<$type>,)* }
    )*};
}

written_records! {
    /// `[plan]`: what the plan is and where its parts are.
    WrittenHead {
        /// Full title.
        title: Words,
        /// Printed on every panel and spoken with the edition; at most 12 characters.
        short: Words,
        /// The team's name.
        team: Words,
        /// Country profile: law, band plan, words, dates, paper. An id, or a .toml file of the plan's folder.
        profile: Words,
        /// State or province of the team by ISO 3166-2, as US-MT: some limits depend on it.
        region: Words,
        /// Whether everything in the plan is invented, call signs too: a demonstration.
        invented: bool,
        /// Time zone by name, as America/Denver.
        time_zone: Words,
        /// Further files; patterns allowed, never outside the plan's folder.
        include: Vec<Cell<String>>,
        /// The roster file and how its headings map to a member's keys.
        roster: WrittenRoster,
        /// A file of other teams' frequencies and how its headings map to a neighbour's keys.
        neighbours: WrittenRoster,
    }
    /// The roster file.
    WrittenRoster {
        /// File name.
        file: String,
        /// A member's key to the heading in the file.
        columns: BTreeMap<String, Cell<String>>,
    }
    /// `[edition]`: which edition this is.
    WrittenEdition {
        /// Counts up with every issue.
        number: u32,
        /// Day of issue.
        issued: Day,
        /// First day on which it counts.
        valid_from: Day,
        /// Day by which it must be checked again.
        review_by: Day,
        /// A member's id.
        prepared_by: Id,
        /// A member's id.
        approved_by: Id,
    }
    /// `[incident]`: for the blocks of incident forms.
    WrittenIncident {
        /// Name of the incident.
        name: Words,
        /// Its number.
        number: Words,
        /// Operational period from, local time.
        from: LocalTime,
        /// Operational period to, local time.
        to: LocalTime,
    }
    /// Who found a fact to be so, and when.
    WrittenEvidence {
        /// The day.
        on: Day,
        /// A member's id.
        by: Id,
    }
    /// `[[repeater]]`, from its owner's side: what it transmits and receives. Both views are derived from it.
    WrittenRepeater {
        /// Unique among repeaters.
        id: Id,
        /// Call sign it identifies with.
        call: CallSign,
        /// Name as known; the id's words when left out.
        name: Words,
        /// A place's id.
        place: Id,
        /// Radio service.
        service: Service,
        /// What it transmits.
        output: Frequency,
        /// What it receives: a shift or a frequency.
        input: RepeaterInput,
        /// What opens it.
        tone_in: Tone,
        /// What it sends: a value, off or unknown.
        tone_out: Tone,
        /// FM unless another is written.
        mode: Mode,
        /// wide, narrow or a width; wide when left out.
        width: WidthWord,
        /// Emission designator, instead of mode and width.
        emission: Words,
        /// Transmitter output.
        power: Power,
        /// How far it may be off its frequency.
        tolerance: Tolerance,
        /// How far it is heard; without it, everywhere.
        range: Distance,
        /// How long it lets one station talk.
        time_out: Lapse,
        /// How long it runs without mains.
        backup_power: Lapse,
        /// Heard, tone and shift confirmed.
        verified: WrittenEvidence,
        /// Printed with its channels.
        note: Words,
    }
    /// `[[channel]]`: one row of the card.
    WrittenChannel {
        /// Unique among channels.
        id: Id,
        /// The number printed on the row.
        slot: u16,
        /// As printed and as set on the radio.
        name: Words,
        /// As said on the air.
        spoken: Words,
        /// What it is for: Command, Tactical ...
        function: Words,
        /// Who uses it.
        assignment: Words,
        /// Radio service; amateur when left out.
        service: Service,
        /// A repeater's id.
        repeater: Id,
        /// A gateway's id.
        gateway: Id,
        /// One frequency both ways; "allot" where it is still to be chosen from a pool.
        simplex: Simplex,
        /// The pool to choose from.
        pool: Id,
        /// How far a station on it is heard; without it, everywhere.
        range: Distance,
        /// What the radio hears, where neither repeater, gateway nor simplex gives it.
        rx: Frequency,
        /// What the radio sends, or "off": listen only.
        tx: Transmit,
        /// The difference, where it is written beside rx.
        shift: Shift,
        /// The frequency on an HF radio's dial.
        dial: Frequency,
        /// USB or LSB.
        side: Side,
        /// FM, or SSB under a dial frequency, unless another is written.
        mode: Mode,
        /// wide, narrow or a width.
        width: WidthWord,
        /// Emission designator, instead of mode and width.
        emission: Words,
        /// Only where no repeater gives it.
        tx_tone: Tone,
        /// Off when left out.
        rx_tone: Tone,
        /// The most a station may use here (transmitter output).
        power: Power,
        /// What kind of station sends here, where it is no person's: auxiliary or beacon.
        station: StationKind,
        /// Data speed.
        speed: Speed,
        /// Audio frequency of a data signal above the dial.
        audio: Frequency,
        /// Time slot, in DMR.
        time_slot: u8,
        /// Talkgroup, in DMR, P25 or NXDN.
        talkgroup: u32,
        /// Where to go when it does not answer: a channel's id.
        next: Id,
        /// After how long.
        after: Lapse,
        /// Heard and confirmed, where no repeater or gateway says so.
        verified: WrittenEvidence,
        /// Printed on the row.
        note: Words,
    }
    /// `[[gateway]]`: packet node, mailbox or other digital gateway.
    WrittenGateway {
        /// Unique among gateways.
        id: Id,
        /// Call sign with SSID.
        call: CallSign,
        /// Name as known.
        name: Words,
        /// A place's id.
        place: Id,
        /// Radio service.
        service: Service,
        /// What it sends and receives.
        frequency: Frequency,
        /// Data speed.
        speed: Speed,
        /// Call signs to go through, in order.
        via: CallSign,
        /// Whether it is of use without the internet.
        needs_internet: bool,
        /// attended or automatic.
        control: Control,
        /// data unless another is written.
        mode: Mode,
        /// wide, narrow or a width.
        width: WidthWord,
        /// Emission designator.
        emission: Words,
        /// How far it may be off its frequency.
        tolerance: Tolerance,
        /// How long it runs without mains.
        backup_power: Lapse,
        /// Connected to and confirmed.
        verified: WrittenEvidence,
    }
    /// `[[place]]`: hospital, operations centre, shelter, blood centre, repeater site.
    WrittenPlace {
        /// Unique among places.
        id: Id,
        /// Three letters, used in message numbers.
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
    /// The distance of two antennas at a place.
    WrittenSpacing {
        /// Two antennas' ids.
        of: Vec<Cell<Id>>,
        /// How far apart.
        distance: Height,
        /// Whether one stands above the other on one line.
        stacked: bool,
    }
    /// What clinical engineering or the owner agreed to.
    WrittenTransmitLimit {
        /// Where transmitting is allowed.
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
        feed_loss: Gain,
        /// Channels that use it.
        channels: Vec<Cell<Id>>,
    }
    /// `[[member]]`, or a row of the roster.
    WrittenMember {
        /// Unique among members.
        id: Id,
        /// Call sign; none for an unlicensed helper.
        call: CallSign,
        /// Name.
        name: Words,
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
    /// `[[pool]]`: frequencies to choose from.
    WrittenPool {
        /// Unique among pools.
        id: Id,
        /// One by one.
        frequencies: Vec<Cell<Frequency>>,
        /// A stretch, cut into steps.
        stretch: Stretch,
        /// The step from one frequency to the next, from the lower end on.
        step: Width,
    }
    /// `[[neighbour]]`, or a row of the neighbours' file: another team's frequency. Checked against, never printed.
    WrittenNeighbour {
        /// What it is called.
        name: Words,
        /// Whose it is.
        team: Words,
        /// What it sends.
        output: Frequency,
        /// What it receives, where it is a repeater: a shift or a frequency.
        input: RepeaterInput,
        /// What opens it.
        tone_in: Tone,
        /// FM unless another is written.
        mode: Mode,
        /// wide, narrow or a width; wide when left out.
        width: WidthWord,
        /// Where it stands.
        position: Position,
        /// How far it is heard; without it, everywhere.
        range: Distance,
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
    /// `[[radio]]`: a model or a kind of radio that members have.
    WrittenRadio {
        /// Unique among radios.
        id: Id,
        /// Name in the team.
        name: Words,
        /// Stretches it transmits on, as "144 MHz to 148 MHz".
        covers: Vec<Cell<Stretch>>,
        /// Modes it has.
        modes: Vec<Cell<Mode>>,
        /// Its highest power.
        power: Power,
        /// How far it may be off the frequency that it shows.
        tolerance: Tolerance,
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
        /// When to move from one to the next.
        trigger: Words,
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
    /// `[[form]]`: something to write on, in reading order.
    WrittenForm {
        /// Unique among forms.
        id: Id,
        /// Its title.
        title: Words,
        /// Its own edition.
        edition: Words,
        /// The form that it builds on.
        base: Words,
        /// Who answers for it.
        owner: Words,
        /// How it is to be read aloud or filled in, in one sentence.
        reading: Words,
        /// Lines of fields.
        line: Vec<Cell<WrittenFormLine>>,
    }
    /// Fields side by side.
    WrittenFormLine {
        /// Left to right.
        field: Vec<Cell<WrittenFormField>>,
    }
    /// A field to fill in.
    WrittenFormField {
        /// Number in reading order; left out for blocks outside it.
        number: u16,
        /// Printed small in its corner.
        label: Words,
        /// Printed after the label.
        help: Words,
        /// Twelfths of the width; 12 when left out.
        share: u8,
        /// Writing lines; 1 when no other kind is written.
        lines: u8,
        /// Boxes to tick.
        ticks: Vec<Cell<Words>>,
        /// Boxes for single words: how many a line.
        words: u8,
        /// Lines of word boxes.
        word_lines: u8,
        /// A ruled table's columns.
        columns: Vec<Cell<WrittenFormColumn>>,
        /// Its least number of rows.
        rows: u8,
        /// Whether rows fill the page.
        fill: bool,
    }
    /// A column of a ruled table.
    WrittenFormColumn {
        /// Its heading.
        heading: Words,
        /// Twelfths of the width.
        share: u8,
    }
    /// `[[document]]`: one thing to print.
    WrittenDocument {
        /// Unique among documents; the name of the file.
        id: Id,
        /// The document kind.
        kind: Words,
        /// A layout's name, or a layout file of the plan's folder; the kind's own when left out.
        layout: Words,
        /// Who may read it; coordinator when left out.
        audience: Audience,
        /// member, place or once.
        each: Each,
        /// letter or a4; the profile's when left out.
        paper: Words,
        /// A form's id, for the kind form.
        form: Id,
        /// Copies, for forms.
        copies: u16,
    }
    /// `[[accept]]`: a finding that somebody answers for.
    WrittenAccept {
        /// The finding's name.
        finding: Words,
        /// The exact subjects, as channel/cmd.
        on: Vec<Cell<WaiverSubject>>,
        /// Why.
        reason: Words,
        /// A member's id.
        by: Id,
        /// Compared with edition.issued.
        until: Day,
    }
}

/// A whole plan, for the JSON Schema alone: what may stand at the top of a file.
#[derive(JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
#[expect(dead_code, reason = "only its schema is used")]
pub struct WrittenPlan {
    plan: Option<WrittenHead>,
    edition: Option<WrittenEdition>,
    incident: Option<WrittenIncident>,
    include: Option<Vec<String>>,
    repeater: Option<Vec<WrittenRepeater>>,
    channel: Option<Vec<WrittenChannel>>,
    gateway: Option<Vec<WrittenGateway>>,
    place: Option<Vec<WrittenPlace>>,
    member: Option<Vec<WrittenMember>>,
    agreement: Option<Vec<WrittenAgreement>>,
    neighbour: Option<Vec<WrittenNeighbour>>,
    pool: Option<Vec<WrittenPool>>,
    radio: Option<Vec<WrittenRadio>>,
    net: Option<Vec<WrittenNet>>,
    post: Option<Vec<WrittenPost>>,
    duty: Option<Vec<WrittenDuty>>,
    form: Option<Vec<WrittenForm>>,
    document: Option<Vec<WrittenDocument>>,
    accept: Option<Vec<WrittenAccept>>,
}

impl WrittenLicence {
    /// Whether it is of `service`.
    #[must_use]
    pub fn is_of(&self, service: Service) -> bool {
        self.service.as_ref().is_some_and(|cell| cell.value == Some(service))
    }
}
