//! Repeaters, channels, gateways and radios as meant.

use super::model_radio::{Channel, Evidence, Gateway, Link, Neighbour, Pool, Radio, Repeater, Route, Signal, Wish};
use super::need::{Need, list, may, words_of};
use super::rules::{CHANNEL_WITH_TWO_ROUTES, CHANNEL_WITHOUT_FREQUENCY, LINK_WITHOUT_PAIR, SHIFT_LEAVES_RADIO};
use super::terms::{Control, Mode, RepeaterInput, Service, Simplex, Transmit, WidthWord};
use super::written::{
    Field, WrittenChannel, WrittenEvidence, WrittenGateway, WrittenLink, WrittenNeighbour, WrittenPool, WrittenRadio,
    WrittenRepeater,
};
use crate::ground::{At, Finding, Frequency, Id, Shift, Span, Tone, Words};
use crate::source::{BAD_VALUE, Cell};
use crate::tables::{Tables, UsualWidth};

/// The parts of a signal as written.
struct WrittenSignal {
    mode: Field<Mode>,
    width: Field<WidthWord>,
    emission: Field<Words>,
    audio: Field<Frequency>,
}

impl WrittenSignal {
    fn mean(self, default: Mode, need: &Need<'_>) -> Signal {
        let record = need.span;
        let width = match need.profile.map(|profile| profile.usual_width) {
            Some(UsualWidth::Narrow) => WidthWord::Narrow,
            Some(UsualWidth::Wide) | None => WidthWord::Wide,
        };
        let named =
            self.emission.as_ref().and_then(|cell| cell.value.as_ref()).and_then(|words| mode_of(words.as_str()));
        Signal {
            mode: may(self.mode).unwrap_or(At::new(named.unwrap_or(default), record)),
            width: may(self.width).unwrap_or(At::new(width, record)),
            emission: may(self.emission),
            audio: may(self.audio),
        }
    }
}

/// The mode that a designator is of, where it is of one alone: `16K0F3E` is FM, `8K10F1E` could be several.
fn mode_of(emission: &str) -> Option<Mode> {
    let symbols = emission.trim().get(4..)?;
    let fitting = Tables::built_in().modes.fitting(symbols);
    let [only] = fitting.as_slice() else { return None };
    Mode::ALL.iter().copied().find(|mode| mode.word() == *only)
}

pub(super) fn evidence(field: Field<WrittenEvidence>, need: &mut Need<'_>) -> Option<Evidence> {
    let written = field?.value?;
    let on = need.key(written.on, "verified.on")?;
    Some(Evidence { on, by: may(written.by) })
}

pub(super) fn repeater(written: WrittenRepeater, need: &mut Need<'_>) -> Option<Repeater> {
    let (id, output) = (need.key(written.id, "id"), need.key(written.output, "output"));
    let (input, tone_in) = (need.key(written.input, "input"), need.key(written.tone_in, "tone-in"));
    let tone_out = need.key(written.tone_out, "tone-out");
    let verified = evidence(written.verified, need);
    let (id, output, input) = (id?, output?, input?);
    let (input, shift) = match input.value {
        RepeaterInput::Frequency(frequency) => (input.with(frequency), input.with(frequency - output.value)),
        RepeaterInput::Shift(shift) => (input.with(moved(&output, &input.with(shift), need)?), input.with(shift)),
    };
    let signal = WrittenSignal { mode: written.mode, width: written.width, emission: written.emission, audio: None };
    Some(Repeater {
        call: may(written.call),
        name: may(written.name).unwrap_or_else(|| words_of(&id)),
        place: may(written.place),
        service: may(written.service).unwrap_or(At::new(Service::Amateur, need.span)),
        output,
        input,
        shift,
        tone_in: tone_in?,
        tone_out: tone_out?,
        signal: signal.mean(Mode::Fm, need),
        power: may(written.power),
        tolerance: may(written.tolerance),
        range: may(written.range),
        time_out: may(written.time_out),
        backup_power: may(written.backup_power),
        verified,
        note: may(written.note),
        span: need.span,
        id,
    })
}

pub(super) fn neighbour(written: WrittenNeighbour, need: &mut Need<'_>) -> Option<Neighbour> {
    let (name, output) = (need.key(written.name, "name"), need.key(written.output, "output"));
    let (name, output) = (name?, output?);
    let input = match may(written.input) {
        None => None,
        Some(input) => Some(match input.value {
            RepeaterInput::Frequency(frequency) => input.with(frequency),
            RepeaterInput::Shift(shift) => input.with(moved(&output, &input.with(shift), need)?),
        }),
    };
    let signal = WrittenSignal { mode: written.mode, width: written.width, emission: None, audio: None };
    Some(Neighbour {
        name,
        team: may(written.team),
        output,
        input,
        tone_in: may(written.tone_in),
        signal: signal.mean(Mode::Fm, need),
        position: may(written.position),
        range: may(written.range),
    })
}

fn moved(from: &At<Frequency>, shift: &At<Shift>, need: &mut Need<'_>) -> Option<Frequency> {
    let to = from.value.moved(shift.value);
    if to.is_none() {
        let what = format!("{} from {} leads to no frequency", shift.value, from.value);
        need.found.push(Finding::new(&SHIFT_LEAVES_RADIO, shift.span, what).label("moves it out of all radio"));
    }
    to
}

pub(super) fn gateway(written: WrittenGateway, need: &mut Need<'_>) -> Option<Gateway> {
    let (id, call) = (need.key(written.id, "id"), need.key(written.call, "call"));
    let (frequency, control) = (need.key(written.frequency, "frequency"), need.key(written.control, "control"));
    let verified = evidence(written.verified, need);
    let id = id?;
    let signal = WrittenSignal { mode: written.mode, width: written.width, emission: written.emission, audio: None };
    Some(Gateway {
        call: call?,
        name: may(written.name).unwrap_or_else(|| words_of(&id)),
        place: may(written.place),
        service: may(written.service).unwrap_or(At::new(Service::Amateur, need.span)),
        frequency: frequency?,
        speed: may(written.speed),
        via: may(written.via),
        needs_internet: may(written.needs_internet),
        control: control.unwrap_or(At::new(Control::Automatic, need.span)),
        signal: signal.mean(Mode::Data, need),
        power: may(written.power),
        tolerance: may(written.tolerance),
        backup_power: may(written.backup_power),
        verified,
        span: need.span,
        id,
    })
}

pub(super) fn link(written: WrittenLink, need: &mut Need<'_>) -> Option<Link> {
    let (id, call) = (need.key(written.id, "id"), need.key(written.call, "call"));
    let joins = need.key(written.joins, "joins");
    let (id, joins) = (id?, joins?);
    let span = joins.span;
    let ids: Vec<At<Id>> = joins.value.into_iter().filter_map(Cell::at).collect();
    let is_pair = matches!(ids.as_slice(), [one, other] if one.value != other.value);
    let Some(joins) = <[At<Id>; 2]>::try_from(ids).ok().filter(|_| is_pair) else {
        let what = format!("link {} joins something else than two channels", id.value);
        let finding = Finding::new(&LINK_WITHOUT_PAIR, span, what).label("not two channels");
        need.found.push(finding.help("name two channels: `joins = [\"local\", \"cmd\"]`"));
        return None;
    };
    Some(Link {
        call: call?,
        name: may(written.name).unwrap_or_else(|| words_of(&id)),
        place: may(written.place),
        joins,
        power: may(written.power),
        id,
    })
}

pub(super) fn radio(written: WrittenRadio, need: &mut Need<'_>) -> Option<Radio> {
    let (id, name) = (need.key(written.id, "id"), need.key(written.name, "name"));
    let has_covers = written.covers.is_some();
    if !has_covers {
        need.missing("covers");
    }
    let has_modes = written.modes.is_some();
    if !has_modes {
        need.missing("modes");
    }
    let power = need.key(written.power, "power");
    Some(Radio {
        id: id?,
        name: name?,
        covers: has_covers.then(|| list(written.covers))?,
        modes: has_modes.then(|| list(written.modes))?,
        power: power?,
        tolerance: may(written.tolerance),
        span: need.span,
    })
}

/// A channel before its repeater or gateway is looked up: what those give is filled in by [`super::links`].
pub(super) fn channel(written: WrittenChannel, need: &mut Need<'_>) -> Option<Channel> {
    let (id, name) = (need.key(written.id.clone(), "id"), need.key(written.name.clone(), "name"));
    let spoken = need.key(written.spoken.clone(), "spoken");
    let verified = evidence(written.verified.clone(), need);
    let line = line_of(&written, need);
    let (id, name, spoken, line) = (id?, name?, spoken?, line?);
    let is_dial = matches!(line.route, Route::Dial(_));
    let is_gateway = matches!(line.route, Route::Gateway(_));
    let mode = if is_dial {
        Mode::Ssb
    } else if is_gateway {
        Mode::Data
    } else {
        Mode::Fm
    };
    let signal =
        WrittenSignal { mode: written.mode, width: written.width, emission: written.emission, audio: written.audio };
    let off = At::new(Tone::Off, need.span);
    let written_tx_tone = may(written.tx_tone);
    Some(Channel {
        row: may(written.row),
        function: may(written.function),
        assignment: may(written.assignment),
        service: may(written.service).unwrap_or(At::new(Service::Amateur, need.span)),
        route: line.route,
        hear: line.hear,
        send: line.send,
        send_tone: written_tx_tone.unwrap_or(off),
        hear_tone: may(written.rx_tone).unwrap_or(off),
        signal: signal.mean(mode, need),
        power: may(written.power),
        station: may(written.station),
        speed: may(written.speed),
        range: may(written.range),
        time_slot: may(written.time_slot),
        talkgroup: may(written.talkgroup),
        next: may(written.next),
        after: may(written.after),
        verified,
        note: may(written.note),
        written_tx: may(written.tx),
        written_shift: may(written.shift),
        written_tx_tone,
        span: need.span,
        id,
        name,
        spoken,
    })
}

/// A channel, or one that wants a frequency of a pool.
pub(super) fn channel_or_wish(written: WrittenChannel, need: &mut Need<'_>) -> Option<Result<Channel, Box<Wish>>> {
    let asks = |cell: &Cell<Simplex>| cell.value == Some(Simplex::Allot);
    let word = written.simplex.as_ref().filter(|cell| asks(cell)).map(|cell| cell.span);
    let pool = word.map(|_| need.key(written.pool.clone(), "pool"));
    let channel = channel(written, need)?;
    match (word, pool) {
        (Some(word), Some(pool)) => Some(Err(Box::new(Wish { channel, pool: pool?, word }))),
        _ => Some(Ok(channel)),
    }
}

/// Frequencies of a pool: those written one by one, and those of a stretch in steps.
pub(super) fn pool(written: WrittenPool, need: &mut Need<'_>) -> Option<Pool> {
    let id = need.key(written.id, "id");
    let mut frequencies: Vec<Frequency> = list(written.frequencies).iter().map(|at| at.value).collect();
    if let Some(stretch) = may(written.stretch) {
        let step = need.key(written.step, "step")?;
        let (low, high) = (stretch.value.low().as_hertz(), stretch.value.high().as_hertz());
        let count = (high - low) / step.value.as_hertz().max(1) + 1;
        if count > MOST_OF_A_POOL {
            let what = format!("a stretch of {count} steps; {MOST_OF_A_POOL} are the most that a pool may have");
            let finding = Finding::new(&BAD_VALUE, step.span, what).label("too small for this stretch");
            need.found
                .push(finding.and(stretch.span, "this stretch").help("shorten the stretch, or write a longer step"));
            return None;
        }
        let step = usize::try_from(step.value.as_hertz().max(1)).unwrap_or(usize::MAX);
        frequencies.extend((low..=high).step_by(step).filter_map(Frequency::hertz));
    } else if frequencies.is_empty() {
        need.missing("frequencies");
    }
    frequencies.sort_unstable();
    frequencies.dedup();
    Some(Pool { id: id?, frequencies })
}

/// Most frequencies of one stretch: more is a step with a wrong unit.
const MOST_OF_A_POOL: u64 = 2000;

/// Where a channel's frequencies come from.
struct Line {
    route: Route,
    hear: At<Frequency>,
    send: Option<At<Frequency>>,
}

/// Stands for what a repeater or gateway will give.
const PENDING: Option<Frequency> = Frequency::hertz(1);

fn line_of(written: &WrittenChannel, need: &mut Need<'_>) -> Option<Line> {
    let w = written.clone();
    let span_of = |name| match name {
        "repeater" => w.repeater.as_ref().map(|c| c.span),
        "gateway" => w.gateway.as_ref().map(|c| c.span),
        "simplex" => w.simplex.as_ref().map(|c| c.span),
        "dial" => w.dial.as_ref().map(|c| c.span),
        _ => w.rx.as_ref().map(|c| c.span),
    };
    let ways: Vec<(&str, Span)> = ["repeater", "gateway", "simplex", "dial", "rx"]
        .into_iter()
        .filter_map(|name| Some((name, span_of(name)?)))
        .collect();
    match ways.as_slice() {
        [] => {
            let finding = Finding::new(&CHANNEL_WITHOUT_FREQUENCY, need.span, "a channel names no frequency");
            need.found.push(finding.label("this channel").help("add repeater, gateway, simplex, dial, or rx and tx"));
            None
        }
        [_] => one_line(w, need),
        [(first, first_span), (second, second_span), ..] => {
            let what = format!("a channel names `{first}` and `{second}`, which both give its frequency");
            let finding = Finding::new(&CHANNEL_WITH_TWO_ROUTES, *second_span, what).label("names it again");
            need.found.push(finding.and(*first_span, "named here first").help("keep one of them"));
            None
        }
    }
}

fn one_line(w: WrittenChannel, need: &mut Need<'_>) -> Option<Line> {
    if let Some(repeater) = w.repeater {
        let repeater = repeater.at()?;
        let pending = repeater.with(PENDING?);
        return Some(Line { route: Route::Repeater(repeater), hear: pending, send: Some(pending) });
    }
    if let Some(gateway) = w.gateway {
        let gateway = gateway.at()?;
        let pending = gateway.with(PENDING?);
        return Some(Line { route: Route::Gateway(gateway), hear: pending, send: Some(pending) });
    }
    if let Some(simplex) = w.simplex {
        let simplex = simplex.at()?;
        let hear = match simplex.value {
            Simplex::On(frequency) => simplex.with(frequency),
            Simplex::Allot => simplex.with(PENDING?),
        };
        return Some(Line { route: Route::Simplex, hear, send: Some(hear) });
    }
    let tx = w.tx.as_ref().and_then(|cell| cell.value.map(|value| At::new(value, cell.span)));
    let is_silent = tx.is_some_and(|tx| tx.value == Transmit::Off);
    if let Some(dial) = w.dial {
        let hear = dial.at()?;
        let side = need.key(w.side, "side")?;
        return Some(Line { route: Route::Dial(side), hear, send: (!is_silent).then_some(hear) });
    }
    let hear = w.rx?.at()?;
    match (tx, w.shift) {
        (Some(tx), _) => match tx.value {
            Transmit::Off => Some(Line { route: Route::ListenOnly, hear, send: None }),
            Transmit::On(frequency) => Some(Line { route: Route::Split, hear, send: Some(tx.with(frequency)) }),
        },
        (None, Some(shift)) => {
            let shift = shift.at()?;
            let send = moved(&hear, &shift, need)?;
            Some(Line { route: Route::Split, hear, send: Some(shift.with(send)) })
        }
        (None, None) if w.tx.is_some() => None,
        (None, None) => {
            let what = format!("a channel that hears {} does not say what it sends", hear.value);
            let finding = Finding::new(&CHANNEL_WITHOUT_FREQUENCY, hear.span, what).label("has no tx beside it");
            need.found.push(finding.help("add `tx = \"none\"` to listen only, or the frequency to send"));
            None
        }
    }
}
