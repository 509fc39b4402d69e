//! Channels: drafts as written, and channels as built once the repeaters and gateways are known.

use super::channel_line::{ChannelLine, Way};
use super::signal::{Evidence, Signal};
use super::tones::RepeaterTones;
use super::{Gateway, Plan, Pool, Repeater};
use crate::ground::{At, Distance, File, Files, Frequency, Id, Lapse, Power, Shift, Span, Speed, Tone, Width, Words};
use crate::plan::notations::Transmit;
use crate::plan::reference::Record;
use crate::plan::reference::Ref;
use crate::plan::terms::{Side, StationKind, Status};
use crate::source::{self, Key, Node, Value, Whole, record};
use crate::tables::{OfAmateur, Service, Standard, StandardUse};
use std::collections::BTreeSet;
use std::sync::Arc;

record! {
    /// `[[channel]]`: one row of the card.
    #[derive(Clone, Debug)]
    pub struct Draft = "channel" {
        /// Unique among channels, as `cmd`; made of its name when left out.
        id: At<Id>,
        /// The number printed on its row, by which it is called; the order of the rows, where none has a number, when
        /// left out.
        row: Option<At<Whole<u16, 1, 999, true>>>,
        /// A channel that the profile publishes, by the name that its service uses, and with the service before a number, as
        /// `marine 16`: its frequencies, service, mode, width, tone, power and name are then those of the profile's row; what stands
        /// beside it must not contradict. Everything is written by hand when left out.
        standard: Option<At<Arc<Standard>>>,
        /// As printed and as set on the radio, as `CMD 1`; that of its `standard` where it has one.
        name: At<Words>,
        /// As said on the air, as `Command One`; its name when left out.
        spoken: At<Words> = name.clone(),
        /// What it is for, as `Command`; nothing is printed when left out.
        function: Option<At<Words>>,
        /// Who uses it, as `All stations`; nothing is printed when left out.
        assignment: Option<At<Words>>,
        /// Radio service; that of its repeater or gateway counts before it; amateur when left out.
        service: At<Arc<Service>> = OfAmateur,
        /// Where its frequencies come from.
        line: ChannelLine,
        /// How far a station on it is heard, over ground, as `10 km`; everywhere when left out.
        range: Option<At<Distance>>,
        /// FM, or SSB under a dial frequency, unless another is written.
        signal: Signal = line.usual_mode(),
        /// The tones of the repeater that it alone uses.
        tones: Option<RepeaterTones> = (&line, &signal),
        /// Tone to send; its repeater's first, or off without one, when left out. Beside a repeater it must be one that opens
        /// it.
        tx_tone: Option<At<Tone>>,
        /// Tone that opens the radio's own squelch; off when left out.
        rx_tone: At<Tone> = Tone::Off,
        /// The most that a station may use here, at the transmitter; no limit of the plan's own when left out.
        power: Option<At<Power>>,
        /// What sends here alone, where it is no person's station, as `auxiliary`; a person's when left out.
        station: Option<At<StationKind>>,
        /// Data speed in baud; its gateway's, or none, when left out.
        speed: Option<At<Speed>>,
        /// Audio frequency of a data signal above the dial, as `1500 Hz`; the signal is taken to fill its sideband when
        /// left out.
        audio: Option<At<Frequency>>,
        /// Time slot, in DMR; none when left out.
        time_slot: Option<At<Whole<u8, 1, 2, true>>>,
        /// Talkgroup, in DMR, P25 or NXDN, as `3100`; none when left out.
        talkgroup: Option<At<Whole<u32, 1, 16_777_215, true>>>,
        /// Whether it is on the air: printed on its row, and nobody is led there, as `planned`; what its repeater says, or on the
        /// air, when left out.
        status: Option<At<Status>>,
        /// The channel to go to when nobody answers, as `tac`; the net's next one when left out.
        next: Option<At<Ref<Channel>>>,
        /// How long to wait before going there; the net's trigger when left out.
        after: Option<At<Lapse>>,
        /// Who heard it and when, where no repeater or gateway says so; a finding asks for it, on an amateur channel
        /// without `standard`, when left out.
        verified: Option<Evidence>,
        /// Printed on the row, as `busy at noon`; nothing when left out.
        note: Option<At<Words>>,
        /// The record.
        span: Span,
    }
}

/// How a channel gets from one station to the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// Through a repeater.
    Repeater(At<Ref<Repeater>>),
    /// Directly, on the output of a repeater and past it.
    Direct(At<Ref<Repeater>>),
    /// To a gateway.
    Gateway(At<Ref<Gateway>>),
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
    pub row: Option<At<Whole<u16, 1, 999, true>>>,
    /// The published channel that it is, where it names one.
    pub standard: Option<At<Arc<Standard>>>,
    /// As printed.
    pub name: At<Words>,
    /// As said.
    pub spoken: At<Words>,
    /// What it is for.
    pub function: Option<At<Words>>,
    /// Who uses it.
    pub assignment: Option<At<Words>>,
    /// Radio service.
    pub service: At<Arc<Service>>,
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
    pub time_slot: Option<At<Whole<u8, 1, 2, true>>>,
    /// Talkgroup.
    pub talkgroup: Option<At<Whole<u32, 1, 16_777_215, true>>>,
    /// Why nobody answers there; none: it is on the air.
    pub status: Option<At<Status>>,
    /// Where to go when it does not answer.
    pub next: Option<At<Ref<Self>>>,
    /// After how long.
    pub after: Option<At<Lapse>>,
    /// Heard and confirmed, for a channel without repeater or gateway.
    pub verified: Option<Evidence>,
    /// Printed on the row.
    pub note: Option<At<Words>>,
    /// How far from its frequency people may be found; none: on it.
    pub around: Option<At<Width>>,
    /// tx as written beside a repeater or rx.
    pub written_tx: Option<At<Transmit>>,
    /// shift as written beside a repeater or rx.
    pub written_shift: Option<At<Shift>>,
    /// tx-tone as written beside a repeater.
    pub written_tx_tone: Option<At<Tone>>,
    /// The record.
    pub span: Span,
}

/// What a channel takes over from what it leads to, or says itself.
struct Given {
    route: Route,
    hear: At<Frequency>,
    send: Option<At<Frequency>>,
    tone: At<Tone>,
    signal: Signal,
    service: At<Arc<Service>>,
    speed: Option<At<Speed>>,
    status: Option<At<Status>>,
}

/// A channel that wants a frequency.
#[derive(Clone, Debug)]
pub struct Wish {
    /// All else of it.
    draft: Draft,
    /// The pool.
    pub pool: At<Ref<Pool>>,
    /// The word that is to be replaced, with its quotes.
    pub word: Span,
}

impl Wish {
    /// The id of the channel that it will be.
    #[must_use]
    pub const fn id(&self) -> &At<Id> {
        &self.draft.id
    }

    /// The name of the channel that it will be.
    #[must_use]
    pub const fn name(&self) -> &At<Words> {
        &self.draft.name
    }

    /// The channel that it is on a frequency.
    #[must_use]
    pub fn on(&self, frequency: Frequency) -> Channel {
        let hear = At::new(frequency, self.word);
        self.draft.clone().with(|draft| draft.direct(Route::Simplex, hear, Some(hear)))
    }
}

impl Draft {
    /// The wish that it is; none where it does not ask for a frequency.
    pub(in crate::plan) fn wish(&self) -> Option<Wish> {
        match &self.line.way {
            Way::Allot { word, pool } => Some(Wish { draft: self.clone(), pool: pool.clone(), word: *word }),
            _ => None,
        }
    }

    /// The repeater that it alone uses, which takes its id and its name from the channel; none where it uses another, or none.
    pub(in crate::plan) fn own_repeater(&self) -> Option<Repeater> {
        let (Way::Own(own), Some(tones)) = (&self.line.way, &self.tones) else { return None };
        Some(Repeater {
            id: self.id.clone(),
            call: own.call.clone(),
            name: self.name.clone(),
            place: own.place.clone(),
            service: self.service.clone(),
            output: own.output,
            input: own.input,
            tones: tones.clone(),
            signal: self.signal.clone(),
            power: None,
            tolerance: None,
            range: self.range,
            time_out: None,
            backup_power: None,
            status: self.status,
            verified: self.verified.clone(),
            note: None,
            span: self.span,
        })
    }

    /// The channel, as its repeater or gateway has it. None where there is none such, or it was refused.
    pub(in crate::plan) fn channel(self, plan: &Plan) -> Option<Channel> {
        let given = self.given(plan)?;
        Some(self.with(|_| given))
    }

    fn given(&self, plan: &Plan) -> Option<Given> {
        Some(match &self.line.way {
            Way::Repeater(id) => self.through(id, plan.repeaters.get(id)?),
            Way::Direct(id) => {
                let repeater = plan.repeaters.get(id)?;
                let hear = id.with(repeater.output.value);
                Given {
                    signal: repeater.signal.clone(),
                    service: repeater.service.clone(),
                    ..self.direct(Route::Direct(id.clone()), hear, (!self.is_silent()).then_some(hear))
                }
            }
            Way::Own(_) => {
                let id = self.id.with(Ref::to(self.id.value.clone()));
                self.through(&id, plan.repeaters.get(&id)?)
            }
            Way::Gateway(id, on) => {
                let gateway = plan.gateways.get(id)?;
                let hear = on.unwrap_or(id.with(gateway.frequency.value.value));
                Given {
                    signal: gateway.signal.clone(),
                    service: gateway.service.clone(),
                    speed: self.speed.or(gateway.speed),
                    ..self.direct(Route::Gateway(id.clone()), hear, Some(hear))
                }
            }
            Way::Simplex(frequency) => self.direct(Route::Simplex, *frequency, Some(*frequency)),
            Way::Dial { hear, side, is_silent } => {
                self.direct(Route::Dial(*side), *hear, (!is_silent).then_some(*hear))
            }
            // Lists of channels have both frequencies in every row.
            Way::Split { hear, send } if hear == send => self.direct(Route::Simplex, *hear, Some(*send)),
            Way::Split { hear, send } => self.direct(Route::Split, *hear, Some(*send)),
            Way::ListenOnly(hear) => self.direct(Route::ListenOnly, *hear, None),
            Way::Allot { .. } => return None,
        })
    }

    /// The repeater decides how it is modulated; a channel cannot choose.
    fn through(&self, id: &At<Ref<Repeater>>, repeater: &Repeater) -> Given {
        let input = repeater.input.filter(|_| !self.is_silent());
        let send = input.map(|input| id.with(input.value));
        let tone_in = repeater.tones.tone_in.value;
        let opens = if tone_in == Tone::Carrier { Tone::Off } else { tone_in };
        Given {
            tone: self.tx_tone.unwrap_or(id.with(opens)),
            signal: repeater.signal.clone(),
            service: repeater.service.clone(),
            status: self.status.or(repeater.status),
            ..self.direct(Route::Repeater(id.clone()), id.with(repeater.output.value), send)
        }
    }

    /// Whether nothing is sent on it, as it says itself.
    fn is_silent(&self) -> bool {
        self.line.tx.is_some_and(|tx| tx.value == Transmit::Off)
    }

    /// What the channel says itself.
    fn direct(&self, route: Route, hear: At<Frequency>, send: Option<At<Frequency>>) -> Given {
        Given {
            route,
            hear,
            send,
            tone: self.tx_tone.unwrap_or(At::new(Tone::Off, self.span)),
            signal: Signal { audio: self.audio, ..self.signal.clone() },
            service: self.service.clone(),
            speed: self.speed,
            status: self.status,
        }
    }

    fn with(self, given: impl FnOnce(&Self) -> Given) -> Channel {
        let Given { route, hear, send, tone, signal, service, speed, status } = given(&self);
        Channel {
            id: self.id,
            row: self.row,
            standard: self.standard,
            name: self.name,
            spoken: self.spoken,
            function: self.function,
            assignment: self.assignment,
            service,
            route,
            hear,
            send,
            send_tone: tone,
            hear_tone: self.rx_tone,
            signal,
            power: self.power,
            station: self.station,
            speed,
            range: self.range,
            time_slot: self.time_slot,
            talkgroup: self.talkgroup,
            status,
            next: self.next,
            after: self.after,
            verified: self.verified,
            note: self.note,
            around: self.line.around,
            written_tx: self.line.tx,
            written_shift: self.line.shift,
            written_tx_tone: self.tx_tone,
            span: self.span,
        }
    }
}

/// Numbers the rows of channels in their order where nobody wrote a number: in all files of TOML together, and in each table.
pub fn number_rows(list: &mut [source::WrittenRecord], files: &Files) {
    let is_channel = |record: &&mut source::WrittenRecord| record.kind.text == <Draft as Record>::KIND;
    let origin = |record: &source::WrittenRecord| {
        let file = record.kind.span.file;
        files.get(file).is_some_and(File::is_table).then_some(file)
    };
    let (mut numbered, mut taken) = (BTreeSet::new(), BTreeSet::new());
    for record in list.iter_mut().filter(is_channel) {
        let Some(row) = record.node.get("row") else { continue };
        numbered.insert(origin(record));
        taken.extend(match &row.value {
            Value::Integer(number) => Some(*number),
            Value::Field(text) => text.parse().ok(),
            _ => None,
        });
    }
    let mut free = (1..=LAST_ROW).filter(|row| !taken.contains(row));
    for record in list.iter_mut().filter(is_channel) {
        let (is_numbered, span) = (numbered.contains(&origin(record)), record.kind.span);
        if let (false, Value::Table(entries)) = (is_numbered, &mut record.node.value) {
            let key = Key { text: "row".to_owned(), span };
            entries.extend(free.next().map(|row| (key, Node { value: Value::Integer(row), span })));
        }
    }
}

/// The highest number of a row.
const LAST_ROW: i64 = 999;

impl Record for Channel {
    const KIND: &'static str = "channel";
    const ID_FROM: &'static [&'static str] = Draft::ID_FROM;
    fn id(&self) -> &At<Id> {
        &self.id
    }
}

impl Channel {
    /// The repeater that it goes through.
    #[must_use]
    pub const fn repeater(&self) -> Option<&At<Ref<Repeater>>> {
        match &self.route {
            Route::Repeater(id) => Some(id),
            _ => None,
        }
    }

    /// The gateway that it leads to.
    #[must_use]
    pub const fn gateway(&self) -> Option<&At<Ref<Gateway>>> {
        match &self.route {
            Route::Gateway(id) => Some(id),
            _ => None,
        }
    }

    /// The repeater past which it is worked, on that one's output.
    #[must_use]
    pub const fn direct(&self) -> Option<&At<Ref<Repeater>>> {
        match &self.route {
            Route::Direct(id) => Some(id),
            _ => None,
        }
    }

    /// Whether its frequencies are its own, and no repeater's or gateway's.
    #[must_use]
    pub const fn has_own_frequencies(&self) -> bool {
        self.repeater().is_none() && self.gateway().is_none() && self.direct().is_none()
    }

    /// Whether somebody may answer there.
    #[must_use]
    pub const fn is_on_air(&self) -> bool {
        self.status.is_none()
    }

    /// Whether one key of its own says what it hears and sends, and nothing else.
    #[must_use]
    pub fn has_one_frequency(&self) -> bool {
        let is_standard = self.standard.as_ref().is_some_and(|standard| standard.span == self.hear.span);
        matches!(self.route, Route::Simplex | Route::Dial(_)) && !is_standard
    }

    /// Whether its spoken name is that of the published channel that it is, which nobody of the team chose.
    #[must_use]
    pub fn has_published_name(&self) -> bool {
        self.standard.as_ref().is_some_and(|standard| standard.span == self.spoken.span)
    }

    /// What the row says of the published channel that it is.
    #[must_use]
    pub fn published(&self) -> Option<&StandardUse> {
        Some(self.standard.as_ref()?.in_mode(Some(self.signal.mode.value.word())))
    }

    /// The sideband as written, on an HF dial frequency.
    #[must_use]
    pub const fn written_side(&self) -> Option<At<Side>> {
        match self.route {
            Route::Dial(side) => Some(side),
            _ => None,
        }
    }

    /// The sideband, on an HF dial frequency.
    #[must_use]
    pub fn side(&self) -> Option<Side> {
        self.written_side().map(|side| side.value)
    }
}
