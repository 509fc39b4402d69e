//! Channels: drafts as written, and channels as built once the repeaters and gateways are known.

use super::signal::{Evidence, Input, Signal, moved};
use super::{Gateway, Place, Plan, Pool, Repeater};
use crate::ground::{
    At, CallSign, Distance, File, Files, Finding, Frequency, Id, Lapse, Power, Shift, Span, Speed, Tone, Words,
};
use crate::plan::reference::Record;
use crate::plan::reference::Ref;
use crate::plan::rules::{CHANNEL_WITH_TWO_ROUTES, CHANNEL_WITHOUT_FREQUENCY};
use crate::plan::terms::{Mode, RepeaterInput, Side, Simplex, StationKind, Transmit};
use crate::source::{self, Key, Meant, Node, Reading, Tried, Value, Whole, record};
use crate::tables::{OfAmateur, Service};
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
        /// As printed and as set on the radio, as `CMD 1`.
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
        /// Tone to send; its repeater's, or off without one, when left out. Beside a repeater it must be that
        /// repeater's.
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
        /// The channel to go to when nobody answers, as `tac`; the net's next one when left out.
        next: Option<At<Ref<Channel>>>,
        /// How long to wait before going there; the net's trigger when left out.
        after: Option<At<Lapse>>,
        /// Who heard it and when, where no repeater or gateway says so; a finding asks for it, on an amateur channel,
        /// when left out.
        verified: Option<Evidence>,
        /// Printed on the row, as `busy at noon`; nothing when left out.
        note: Option<At<Words>>,
        /// The record.
        span: Span,
    }

    /// Where a channel's frequencies come from, as written.
    pub struct WrittenLine = "line" {
        /// The repeater that it goes through; one of repeater, output, gateway, simplex, dial and rx must be there; another of the
        /// six ways when left out.
        repeater: Option<Tried<Ref<Repeater>>>,
        /// The gateway that it leads to; another of the six ways when left out.
        gateway: Option<Tried<Ref<Gateway>>>,
        /// One frequency both ways; `allot` where it is still to be chosen from a pool; another of the six ways when
        /// left out.
        simplex: Option<Tried<Simplex>>,
        /// The pool to choose from, with `simplex = "allot"`; none when left out.
        pool: Option<Tried<Ref<Pool>>>,
        /// What the radio hears, with tx or shift beside it; another of the six ways when left out.
        rx: Option<Tried<Frequency>>,
        /// What the radio sends, or none to listen only; what repeater, gateway, simplex, dial or shift say when left
        /// out.
        tx: Option<Tried<Transmit>>,
        /// From what the radio hears to what it sends, beside rx or a repeater; none when left out.
        shift: Option<Tried<Shift>>,
        /// The frequency on an HF radio's dial, with its side, as `3990.0 kHz`; another of the six ways when left out.
        dial: Option<Tried<Frequency>>,
        /// The sideband, with dial; none when left out.
        side: Option<Tried<Side>>,
        /// What the repeater sends that it goes through, where that has no record of its own; another of the six ways when
        /// left out.
        output: Option<Tried<Frequency>>,
        /// What that repeater hears: a shift, a frequency, or `usual` for the band plan's shift; none when left out.
        input: Option<Tried<RepeaterInput>>,
        /// What opens that repeater; none when left out.
        tone_in: Option<Tried<Tone>>,
        /// What that repeater sends with its signal; unknown when left out.
        tone_out: Option<Tried<Tone>>,
        /// The call sign that repeater identifies with; none when left out.
        call: Option<Tried<CallSign>>,
        /// The place of that repeater; none when left out.
        place: Option<Tried<Ref<Place>>>,
    }
}

/// Where a channel's frequencies come from.
#[derive(Clone, Debug)]
pub struct ChannelLine {
    way: Way,
    /// tx as written beside a repeater or rx.
    tx: Option<At<Transmit>>,
    /// shift as written beside a repeater or rx.
    shift: Option<At<Shift>>,
}

/// One of the ways in which a channel names its frequencies.
#[derive(Clone, Debug)]
enum Way {
    Repeater(At<Ref<Repeater>>),
    Own(Box<Own>),
    Gateway(At<Ref<Gateway>>),
    Simplex(At<Frequency>),
    Allot { word: Span, pool: At<Ref<Pool>> },
    Dial { hear: At<Frequency>, side: At<Side>, is_silent: bool },
    Split { hear: At<Frequency>, send: At<Frequency> },
    ListenOnly(At<Frequency>),
}

/// A repeater that one channel alone uses.
#[derive(Clone, Debug)]
struct Own {
    output: At<Frequency>,
    input: Input,
    tone_in: At<Tone>,
    tone_out: At<Tone>,
    call: Option<At<CallSign>>,
    place: Option<At<Ref<Place>>>,
}

impl Own {
    fn of(written: WrittenLine, output: Tried<Frequency>, of: &mut Reading<'_>) -> Option<Self> {
        let input = of.must(written.input, "input");
        let tone_in = of.must(written.tone_in, "tone-in");
        let output = output.at()?;
        let tone_out = written.tone_out.map_or(Some(output.with(Tone::Unknown)), Tried::at)?;
        let (call, place) = (written.call.map(Tried::at), written.place.map(Tried::at));
        let input = Input::of(output, input?, of)?;
        Some(Self { output, input, tone_in: tone_in?, tone_out, call: call.flatten(), place: place.flatten() })
    }

    /// Refuses a repeater's keys where no repeater is written.
    fn refuse(written: &WrittenLine, of: &mut Reading<'_>) {
        let keys = [
            ("input", written.input.as_ref().map(|cell| cell.span)),
            ("tone-in", written.tone_in.as_ref().map(|cell| cell.span)),
            ("tone-out", written.tone_out.as_ref().map(|cell| cell.span)),
            ("call", written.call.as_ref().map(|cell| cell.span)),
            ("place", written.place.as_ref().map(|cell| cell.span)),
        ];
        let instead = |key: &str| match key {
            "input" => "write `shift`, or `output` with the frequency that the repeater sends",
            "tone-in" => "write `tx-tone`, or `output` with the frequency that the repeater sends",
            "tone-out" => "write `rx-tone`, or `output` with the frequency that the repeater sends",
            _ => "leave it out, or write `output` with the frequency that the repeater sends",
        };
        for (key, span) in keys.into_iter().filter_map(|(key, span)| Some((key, span?))) {
            let what = format!("`{key}` is said of a repeater, and this channel has no `output`");
            let finding = Finding::new(&CHANNEL_WITH_TWO_ROUTES, span, what).label("of no repeater of its own");
            of.found.push(finding.help(instead(key)));
        }
    }
}

impl Meant for ChannelLine {
    type Written = WrittenLine;

    fn mean(written: WrittenLine, of: &mut Reading<'_>) -> Option<Self> {
        let ways = [
            ("repeater", written.repeater.as_ref().map(|cell| cell.span)),
            ("gateway", written.gateway.as_ref().map(|cell| cell.span)),
            ("simplex", written.simplex.as_ref().map(|cell| cell.span)),
            ("dial", written.dial.as_ref().map(|cell| cell.span)),
            ("rx", written.rx.as_ref().map(|cell| cell.span)),
            ("output", written.output.as_ref().map(|cell| cell.span)),
        ];
        if written.output.is_none() {
            Own::refuse(&written, of);
        }
        let mut ways = ways.into_iter().filter_map(|(name, span)| Some((name, span?)));
        match (ways.next(), ways.next()) {
            (None, _) => {
                let finding = Finding::new(&CHANNEL_WITHOUT_FREQUENCY, of.span, "a channel names no frequency");
                of.found.push(
                    finding.label("this channel").help("add repeater, output, gateway, simplex, dial, or rx and tx"),
                );
                None
            }
            (Some(_), None) => {
                let tx = written.tx.as_ref().and_then(|cell| Some(At::new(cell.value?, cell.span)));
                let shift = written.shift.as_ref().and_then(|cell| Some(At::new(cell.value?, cell.span)));
                Some(Self { way: Way::of(written, of)?, tx, shift })
            }
            (Some((first, first_span)), Some((second, second_span))) => {
                let what = format!("a channel names `{first}` and `{second}`, which both give its frequency");
                let finding = Finding::new(&CHANNEL_WITH_TWO_ROUTES, second_span, what).label("names it again");
                of.found.push(finding.and(first_span, "named here first").help("keep one of them"));
                None
            }
        }
    }
}

impl Way {
    fn of(mut written: WrittenLine, of: &mut Reading<'_>) -> Option<Self> {
        if let Some(output) = written.output.take() {
            return Own::of(written, output, of).map(|own| Self::Own(Box::new(own)));
        }
        if let Some(repeater) = written.repeater {
            return Some(Self::Repeater(repeater.at()?));
        }
        if let Some(gateway) = written.gateway {
            return Some(Self::Gateway(gateway.at()?));
        }
        if let Some(simplex) = written.simplex {
            let simplex = simplex.at()?;
            return match simplex.value {
                Simplex::On(frequency) => Some(Self::Simplex(simplex.with(frequency))),
                Simplex::Allot => Some(Self::Allot { word: simplex.span, pool: of.must(written.pool, "pool")? }),
            };
        }
        let is_silent = written.tx.as_ref().is_some_and(|tx| tx.value == Some(Transmit::Off));
        if let Some(dial) = written.dial {
            let (hear, side) = (dial.at()?, of.must(written.side, "side")?);
            return Some(Self::Dial { hear, side, is_silent });
        }
        let hear = written.rx?.at()?;
        if let Some(tx) = written.tx {
            let tx = tx.at()?;
            return Some(match tx.value {
                Transmit::Off => Self::ListenOnly(hear),
                Transmit::On(frequency) => Self::Split { hear, send: tx.with(frequency) },
            });
        }
        let Some(shift) = written.shift else {
            let what = format!("a channel that hears {} does not say what it sends", hear.value);
            let finding = Finding::new(&CHANNEL_WITHOUT_FREQUENCY, hear.span, what).label("has no tx beside it");
            of.found.push(finding.help("add `tx = \"none\"` to listen only, or the frequency to send"));
            return None;
        };
        let shift = shift.at()?;
        Some(Self::Split { hear, send: shift.with(moved(&hear, &shift, of)?) })
    }
}

impl ChannelLine {
    /// The mode of a channel that does not say its own.
    const fn usual_mode(&self) -> Mode {
        match self.way {
            Way::Dial { .. } => Mode::Ssb,
            Way::Gateway(_) => Mode::Data,
            _ => Mode::Fm,
        }
    }
}

/// How a channel gets from one station to the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// Through a repeater.
    Repeater(At<Ref<Repeater>>),
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
    /// Where to go when it does not answer.
    pub next: Option<At<Ref<Self>>>,
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

/// What a channel takes over from what it leads to, or says itself.
struct Given {
    route: Route,
    hear: At<Frequency>,
    send: Option<At<Frequency>>,
    tone: At<Tone>,
    signal: Signal,
    service: At<Arc<Service>>,
    speed: Option<At<Speed>>,
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
        let Way::Own(own) = &self.line.way else { return None };
        Some(Repeater {
            id: self.id.clone(),
            call: own.call.clone(),
            name: self.name.clone(),
            place: own.place.clone(),
            service: self.service.clone(),
            output: own.output,
            input: own.input,
            tone_in: own.tone_in,
            tone_out: own.tone_out,
            signal: self.signal.clone(),
            power: None,
            tolerance: None,
            range: self.range,
            time_out: None,
            backup_power: None,
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
            Way::Own(_) => {
                let id = self.id.with(Ref::to(self.id.value.clone()));
                self.through(&id, plan.repeaters.get(&id)?)
            }
            Way::Gateway(id) => {
                let gateway = plan.gateways.get(id)?;
                let hear = id.with(gateway.frequency.value);
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
        let is_silent = self.line.tx.is_some_and(|tx| tx.value == Transmit::Off);
        let send = (!is_silent).then(|| id.with(repeater.input.value));
        let opens = if repeater.tone_in.value == Tone::Carrier { Tone::Off } else { repeater.tone_in.value };
        Given {
            tone: self.tx_tone.unwrap_or(id.with(opens)),
            signal: repeater.signal.clone(),
            service: repeater.service.clone(),
            ..self.direct(Route::Repeater(id.clone()), id.with(repeater.output.value), send)
        }
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
        }
    }

    fn with(self, given: impl FnOnce(&Self) -> Given) -> Channel {
        let Given { route, hear, send, tone, signal, service, speed } = given(&self);
        Channel {
            id: self.id,
            row: self.row,
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
            next: self.next,
            after: self.after,
            verified: self.verified,
            note: self.note,
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

    /// Whether its frequencies are its own, and no repeater's or gateway's.
    #[must_use]
    pub const fn is_direct(&self) -> bool {
        self.repeater().is_none() && self.gateway().is_none()
    }

    /// Whether one key of its own says what it hears and sends.
    #[must_use]
    pub const fn has_one_frequency(&self) -> bool {
        matches!(self.route, Route::Simplex | Route::Dial(_))
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
