//! The plan as meant: ids resolved, repeater views derived, defaults applied, every value with its place.
//!
//! A record with a refused value is left out; its id stays known, so that nothing else is reported in its wake.

use super::register::{Record, Register};
use super::terms::{
    Control, Each, LocalTime, Mode, PlaceKind, Service, Side, StationKind, Transmit, WaiverSubject, WidthWord,
};
use crate::ground::{
    At, Audience, CallSign, Day, Distance, Frequency, Gain, Height, Id, Lapse, Position, Power, Private, Shift, Span,
    Speed, Stretch, Tolerance, Tone, Width, Words,
};

/// A whole plan. Registers are sorted by id, so that the order of files changes nothing.
#[derive(Clone, Default)]
pub struct Plan {
    /// `[plan]`; none when it is missing or faulty.
    pub head: Option<Head>,
    /// `[edition]`; none when it is missing or faulty.
    pub edition: Option<Edition>,
    /// `[incident]`, where there is one.
    pub incident: Option<Incident>,
    /// Repeaters.
    pub repeaters: Register<Repeater>,
    /// Channels.
    pub channels: Register<Channel>,
    /// Gateways.
    pub gateways: Register<Gateway>,
    /// Places.
    pub places: Register<Place>,
    /// Members.
    pub members: Register<Member>,
    /// Authority in other services.
    pub agreements: Register<Agreement>,
    /// Pools of frequencies.
    pub pools: Register<Pool>,
    /// Channels that want a frequency of a pool, in file order; they are not among the channels.
    pub wishes: Vec<Wish>,
    /// Other teams' frequencies, in file order.
    pub neighbours: Vec<Neighbour>,
    /// Radios.
    pub radios: Register<Radio>,
    /// Nets.
    pub nets: Register<Net>,
    /// Posts.
    pub posts: Register<Post>,
    /// Who stands which post, in order of time.
    pub duties: Vec<Duty>,
    /// Forms, built-in ones not included.
    pub forms: Register<Form>,
    /// What is to be printed.
    pub documents: Register<DocumentOrder>,
    /// Waivers, in file order.
    pub accepts: Vec<Accept>,
    /// Whether nothing was refused anywhere: rules about what is absent ask this first.
    pub is_whole: bool,
}

/// What the plan is.
#[derive(Clone, Debug)]
pub struct Head {
    /// Full title.
    pub title: At<Words>,
    /// Printed on every panel.
    pub short: At<Words>,
    /// The team.
    pub team: At<Words>,
    /// Profile name.
    pub profile: At<Words>,
    /// State or province by ISO 3166-2.
    pub region: Option<At<Words>>,
    /// Whether it is a demonstration.
    pub is_invented: bool,
    /// Time zone.
    pub time_zone: At<chrono_tz::Tz>,
    /// `[plan]`.
    pub span: Span,
}

/// Which edition it is.
#[derive(Clone, Debug)]
pub struct Edition {
    /// Counts up.
    pub number: At<u32>,
    /// Day of issue.
    pub issued: At<Day>,
    /// First day on which it counts.
    pub valid_from: At<Day>,
    /// Day by which it must be checked again.
    pub review_by: At<Day>,
    /// A member.
    pub prepared_by: At<Id>,
    /// A member.
    pub approved_by: At<Id>,
    /// `[edition]`.
    pub span: Span,
}

/// For incident forms.
#[derive(Clone, Debug)]
pub struct Incident {
    /// Its name.
    pub name: At<Words>,
    /// Its number.
    pub number: Option<At<Words>>,
    /// Operational period from.
    pub from: At<LocalTime>,
    /// Operational period to.
    pub to: At<LocalTime>,
}

/// Who found a fact to be so, and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Evidence {
    /// The day.
    pub on: At<Day>,
    /// A member.
    pub by: Option<At<Id>>,
}

/// How a signal is made, as far as the plan says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signal {
    /// The mode.
    pub mode: At<Mode>,
    /// wide, narrow or a width; wide by default.
    pub width: At<WidthWord>,
    /// Designator, where one is written; it then decides the width.
    pub emission: Option<At<Words>>,
    /// Audio frequency of a data signal above an HF dial.
    pub audio: Option<At<Frequency>>,
}

/// A repeater as its owner states it.
#[derive(Clone, Debug)]
pub struct Repeater {
    /// Its id.
    pub id: At<Id>,
    /// Call sign.
    pub call: Option<At<CallSign>>,
    /// Name as known, or the id's words.
    pub name: At<Words>,
    /// Where it stands.
    pub place: Option<At<Id>>,
    /// Radio service.
    pub service: At<Service>,
    /// What it transmits.
    pub output: At<Frequency>,
    /// What it receives.
    pub input: At<Frequency>,
    /// From output to input.
    pub shift: At<Shift>,
    /// What opens it.
    pub tone_in: At<Tone>,
    /// What it sends.
    pub tone_out: At<Tone>,
    /// Its signal.
    pub signal: Signal,
    /// Transmitter output.
    pub power: Option<At<Power>>,
    /// How far it may be off its frequency.
    pub tolerance: Option<At<Tolerance>>,
    /// How far it is heard; none: everywhere.
    pub range: Option<At<Distance>>,
    /// How long it lets one station talk.
    pub time_out: Option<At<Lapse>>,
    /// How long it runs without mains.
    pub backup_power: Option<At<Lapse>>,
    /// Tone and shift confirmed.
    pub verified: Option<Evidence>,
    /// Printed with its channels.
    pub note: Option<At<Words>>,
    /// The record.
    pub span: Span,
}

/// How a channel gets from one station to the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// Through a repeater.
    Repeater(At<Id>),
    /// To a gateway.
    Gateway(At<Id>),
    /// Directly, on one frequency.
    Simplex,
    /// Directly, on an HF dial frequency with a sideband.
    Dial(At<Side>),
    /// On two frequencies stated by hand.
    Split,
    /// Nothing is sent.
    ListenOnly,
}

/// One row of the card.
#[derive(Clone, Debug)]
pub struct Channel {
    /// Its id.
    pub id: At<Id>,
    /// Number of its row.
    pub slot: Option<At<u16>>,
    /// As printed.
    pub name: At<Words>,
    /// As said.
    pub spoken: At<Words>,
    /// What it is for.
    pub function: Option<At<Words>>,
    /// Who uses it.
    pub assignment: Option<At<Words>>,
    /// Radio service.
    pub service: At<Service>,
    /// How it gets through.
    pub route: Route,
    /// What the radio hears.
    pub hear: At<Frequency>,
    /// What the radio sends; none where one listens only.
    pub send: Option<At<Frequency>>,
    /// Tone to send.
    pub send_tone: At<Tone>,
    /// Tone to hear; off unless written.
    pub hear_tone: At<Tone>,
    /// Its signal.
    pub signal: Signal,
    /// The most a station may use.
    pub power: Option<At<Power>>,
    /// What sends here, where it is no person's station.
    pub station: Option<At<StationKind>>,
    /// Data speed.
    pub speed: Option<At<Speed>>,
    /// How far a station on it is heard; none: everywhere.
    pub range: Option<At<Distance>>,
    /// Time slot, in DMR.
    pub time_slot: Option<At<u8>>,
    /// Talkgroup.
    pub talkgroup: Option<At<u32>>,
    /// Where to go when it does not answer.
    pub next: Option<At<Id>>,
    /// After how long.
    pub after: Option<At<Lapse>>,
    /// Heard and confirmed, for a channel without repeater or gateway.
    pub verified: Option<Evidence>,
    /// Printed on the row.
    pub note: Option<At<Words>>,
    /// tx as written beside a repeater or rx.
    pub written_tx: Option<At<Transmit>>,
    /// shift as written beside a repeater or rx.
    pub written_shift: Option<At<Shift>>,
    /// tx-tone as written beside a repeater.
    pub written_tx_tone: Option<At<Tone>>,
    /// The record.
    pub span: Span,
}

impl Channel {
    /// The sideband, on an HF dial frequency.
    #[must_use]
    pub fn side(&self) -> Option<Side> {
        match &self.route {
            Route::Dial(side) => Some(side.value),
            _ => None,
        }
    }
}

/// A packet node, mailbox or other digital gateway.
#[derive(Clone, Debug)]
pub struct Gateway {
    /// Its id.
    pub id: At<Id>,
    /// Call sign with SSID.
    pub call: At<CallSign>,
    /// Name as known, or the id's words.
    pub name: At<Words>,
    /// Where it stands.
    pub place: Option<At<Id>>,
    /// Radio service.
    pub service: At<Service>,
    /// What it sends and receives.
    pub frequency: At<Frequency>,
    /// Data speed.
    pub speed: Option<At<Speed>>,
    /// Station to go through.
    pub via: Option<At<CallSign>>,
    /// Whether it is of use without the internet.
    pub needs_internet: Option<At<bool>>,
    /// attended or automatic.
    pub control: At<Control>,
    /// Its signal.
    pub signal: Signal,
    /// How far it may be off its frequency.
    pub tolerance: Option<At<Tolerance>>,
    /// How long it runs without mains.
    pub backup_power: Option<At<Lapse>>,
    /// Connected to and confirmed.
    pub verified: Option<Evidence>,
    /// The record.
    pub span: Span,
}

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

/// A function to call at a place.
#[derive(Clone)]
pub struct Contact {
    /// The function.
    pub role: At<Words>,
    /// Its number.
    pub phone: At<Private<Words>>,
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
    pub feed_loss: Option<At<Gain>>,
    /// Channels that use it.
    pub channels: Vec<At<Id>>,
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

/// The distance of two antennas at a place.
#[derive(Clone, Debug)]
pub struct Spacing {
    /// The two.
    pub of: Vec<At<Id>>,
    /// How far apart.
    pub distance: At<Height>,
    /// Whether one stands above the other on one line.
    pub is_stacked: bool,
}

/// A person of the team.
#[derive(Clone)]
pub struct Member {
    /// The id.
    pub id: At<Id>,
    /// Name.
    pub name: At<Words>,
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

/// Frequencies to choose from.
#[derive(Clone, Debug)]
pub struct Pool {
    /// Its id.
    pub id: At<Id>,
    /// The frequencies, each once, lowest first.
    pub frequencies: Vec<Frequency>,
}

/// A channel that wants a frequency.
#[derive(Clone, Debug)]
pub struct Wish {
    /// The channel; its frequencies only hold the place.
    pub channel: Channel,
    /// The pool.
    pub pool: At<Id>,
    /// The word that is to be replaced, with its quotes.
    pub word: Span,
}

/// Another team's frequency.
#[derive(Clone, Debug)]
pub struct Neighbour {
    /// What it is called.
    pub name: At<Words>,
    /// Whose it is.
    pub team: Option<At<Words>>,
    /// What it sends.
    pub output: At<Frequency>,
    /// What it receives, where it is a repeater.
    pub input: Option<At<Frequency>>,
    /// What opens it.
    pub tone_in: Option<At<Tone>>,
    /// Its signal.
    pub signal: Signal,
    /// Where it stands.
    pub position: Option<At<Position>>,
    /// How far it is heard; none: everywhere.
    pub range: Option<At<Distance>>,
}

/// A member's number.
#[derive(Clone)]
pub struct Phone {
    /// The number.
    pub number: At<Private<Words>>,
    /// When it was last tried; the member's own day when left out.
    pub confirmed: Option<At<Day>>,
}

/// A radio that members have.
#[derive(Clone, Debug)]
pub struct Radio {
    /// Its id.
    pub id: At<Id>,
    /// Name in the team.
    pub name: At<Words>,
    /// Stretches it transmits on.
    pub covers: Vec<At<Stretch>>,
    /// Modes it has.
    pub modes: Vec<At<Mode>>,
    /// Highest power.
    pub power: At<Power>,
    /// How far it may be off the frequency that it shows.
    pub tolerance: Option<At<Tolerance>>,
    /// The record.
    pub span: Span,
}

/// Stations on one channel following a procedure.
#[derive(Clone, Debug)]
pub struct Net {
    /// Its id.
    pub id: At<Id>,
    /// As printed.
    pub name: At<Words>,
    /// As said.
    pub spoken: At<Words>,
    /// What it is for.
    pub purpose: Option<At<Words>>,
    /// Channels in the order in which they are tried: primary, alternate, contingency, emergency; those written.
    pub legs: Vec<Leg>,
    /// When to move on.
    pub trigger: Option<At<Words>>,
    /// The post that controls it.
    pub control: Option<At<Id>>,
    /// The record.
    pub span: Span,
}

/// One of a net's channels.
#[derive(Clone, Debug)]
pub struct Leg {
    /// `primary`, `alternate`, `contingency` or `emergency`.
    pub name: &'static str,
    /// The channel.
    pub channel: At<Id>,
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

/// Something to write on.
#[derive(Clone, Debug)]
pub struct Form {
    /// Its id.
    pub id: At<Id>,
    /// Its title.
    pub title: At<Words>,
    /// Its own edition.
    pub edition: At<Words>,
    /// The form that it builds on.
    pub base: Option<At<Words>>,
    /// Who answers for it.
    pub owner: Option<At<Words>>,
    /// How it is read aloud or filled in.
    pub reading: Option<At<Words>>,
    /// Lines of fields.
    pub lines: Vec<Vec<FormField>>,
    /// The record.
    pub span: Span,
}

/// A field to fill in.
#[derive(Clone, Debug)]
pub struct FormField {
    /// Number in reading order.
    pub number: Option<At<u16>>,
    /// Printed in its corner.
    pub label: At<Words>,
    /// Printed after the label.
    pub help: Option<At<Words>>,
    /// Twelfths of the width.
    pub share: u8,
    /// What one writes into.
    pub kind: FormFieldKind,
}

/// What a field offers to write into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FormFieldKind {
    /// Writing lines.
    Lines(u8),
    /// Boxes to tick.
    Ticks(Vec<At<Words>>),
    /// Boxes for words: how many a line, how many lines.
    Words {
        /// Words a line.
        columns: u8,
        /// Lines.
        rows: u8,
    },
    /// A ruled table.
    Ruled {
        /// Headings and their twelfths.
        columns: Vec<(At<Words>, u8)>,
        /// Least number of rows.
        rows: u8,
        /// Whether rows fill the page.
        is_filling: bool,
    },
}

/// One thing to print.
#[derive(Clone, Debug)]
pub struct DocumentOrder {
    /// Its id, the name of the file.
    pub id: At<Id>,
    /// The document kind.
    pub kind: At<Words>,
    /// The layout; the kind's own when none is written.
    pub layout: Option<At<Words>>,
    /// Who may read it.
    pub audience: At<Audience>,
    /// For whom.
    pub each: At<Each>,
    /// The paper; the profile's when none is written.
    pub paper: Option<At<Words>>,
    /// A form, for the kind form.
    pub form: Option<At<Id>>,
    /// Copies.
    pub copies: Option<At<u16>>,
    /// The record.
    pub span: Span,
}

/// A waiver.
#[derive(Clone, Debug)]
pub struct Accept {
    /// The finding's name.
    pub finding: At<Words>,
    /// The exact subjects.
    pub on: Vec<At<WaiverSubject>>,
    /// Why.
    pub reason: At<Words>,
    /// A member.
    pub by: At<Id>,
    /// Compared with the day of issue.
    pub until: At<Day>,
    /// The record.
    pub span: Span,
}

/// Says of each register's records what they are called and by which id.
macro_rules! records {
    ($($type:ty = $kind:literal;)*) => {$(
        impl Record for $type {
            const KIND: &'static str = $kind;
            fn id(&self) -> &At<Id> {
                &self.id
            }
        }
    )*};
}

records! {
    Repeater = "repeater";
    Channel = "channel";
    Gateway = "gateway";
    Place = "place";
    Member = "member";
    Agreement = "agreement";
    Pool = "pool";
    Radio = "radio";
    Net = "net";
    Post = "post";
    Form = "form";
    DocumentOrder = "document";
}
