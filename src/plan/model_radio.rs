//! Radio as meant: repeaters, channels, gateways, radios, and what is chosen from or checked against.

use super::terms::{Control, Mode, Service, Side, StationKind, Transmit, WidthWord};
use crate::ground::{
    At, CallSign, Day, Distance, Frequency, Id, Lapse, Position, Power, Shift, Span, Speed, Stretch, Tolerance, Tone,
    Words,
};

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

/// A radio that sends on each of two channels what it hears on the other.
#[derive(Clone, Debug)]
pub struct Link {
    /// Its id.
    pub id: At<Id>,
    /// Call sign.
    pub call: At<CallSign>,
    /// Name as known, or the id's words.
    pub name: At<Words>,
    /// Where it stands.
    pub place: Option<At<Id>>,
    /// The two channels.
    pub joins: [At<Id>; 2],
    /// Transmitter output.
    pub power: Option<At<Power>>,
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
    pub row: Option<At<u16>>,
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
    /// Transmitter output.
    pub power: Option<At<Power>>,
    /// How far it may be off its frequency.
    pub tolerance: Option<At<Tolerance>>,
    /// How long it runs without mains.
    pub backup_power: Option<At<Lapse>>,
    /// Connected to and confirmed.
    pub verified: Option<Evidence>,
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
