//! Where a channel's frequencies come from: the ways in which it may say them, of which it takes one.

use super::signal::{KnownInput, moved};
use super::{Gateway, Place, Pool, Repeater};
use crate::ground::{At, CallSign, Finding, Frequency, Shift, Span, Width};
use crate::plan::notations::{RepeaterInput, Simplex, Transmit};
use crate::plan::reference::Ref;
use crate::plan::rules::{CHANNEL_WITH_TWO_ROUTES, CHANNEL_WITHOUT_FREQUENCY};
use crate::plan::terms::{Mode, Side};
use crate::source::{Meant, Reading, Tried, record};

record! {
    /// Where a channel's frequencies come from, as written.
    pub struct WrittenLine = "line" {
        /// The repeater that it goes through; one of repeater, output, gateway, simplex, dial and rx must be there; another of the
        /// six ways when left out.
        repeater: Option<Tried<Ref<Repeater>>>,
        /// Whether it is worked from radio to radio on its repeater's output, past the repeater, as `true`; false when left out.
        direct: Option<Tried<bool>>,
        /// The gateway that it leads to; another of the six ways when left out.
        gateway: Option<Tried<Ref<Gateway>>>,
        /// Which of the gateway's frequencies it uses, where that has several, as `144.930 MHz`; the first when left out.
        on: Option<Tried<Frequency>>,
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
        /// How far from its frequency, to either side, those who meet there may be found, as `20 kHz`; all must be open to whoever sends
        /// there; nowhere but on it when left out.
        around: Option<Tried<Width>>,
        /// What the repeater sends that it goes through, where that has no record of its own; another of the six ways when
        /// left out.
        output: Option<Tried<Frequency>>,
        /// What that repeater hears: a shift, a frequency, `usual` for the band plan's shift, or `unknown`, where one only
        /// listens to it; none when left out.
        input: Option<Tried<RepeaterInput>>,
        /// The call sign that repeater identifies with; none when left out.
        call: Option<Tried<CallSign>>,
        /// The place of that repeater; none when left out.
        place: Option<Tried<Ref<Place>>>,
    }
}

/// The keys of which a channel has one that says its frequencies.
pub(super) const WAYS: [&str; 6] = ["repeater", "gateway", "simplex", "dial", "rx", "output"];

/// Where a channel's frequencies come from.
#[derive(Clone, Debug)]
pub struct ChannelLine {
    pub(super) way: Way,
    /// tx as written beside a repeater or rx.
    pub(super) tx: Option<At<Transmit>>,
    /// shift as written beside a repeater or rx.
    pub(super) shift: Option<At<Shift>>,
    /// How far from its frequency people may be found.
    pub(super) around: Option<At<Width>>,
}

/// One of the ways in which a channel names its frequencies.
#[derive(Clone, Debug)]
pub(super) enum Way {
    Repeater(At<Ref<Repeater>>),
    /// On the repeater's output, past it.
    Direct(At<Ref<Repeater>>),
    Own(Box<Own>),
    /// To a gateway, on the frequency that is picked of its own.
    Gateway(At<Ref<Gateway>>, Option<At<Frequency>>),
    Simplex(At<Frequency>),
    Allot {
        word: Span,
        pool: At<Ref<Pool>>,
    },
    Dial {
        hear: At<Frequency>,
        side: At<Side>,
        is_silent: bool,
    },
    Split {
        hear: At<Frequency>,
        send: At<Frequency>,
    },
    ListenOnly(At<Frequency>),
}

/// A repeater that one channel alone uses.
#[derive(Clone, Debug)]
pub(super) struct Own {
    pub(super) output: At<Frequency>,
    pub(super) input: KnownInput,
    pub(super) call: Option<At<CallSign>>,
    pub(super) place: Option<At<Ref<Place>>>,
}

impl Own {
    fn of(written: WrittenLine, output: Tried<Frequency>, of: &mut Reading<'_>) -> Option<Self> {
        let input = of.must(written.input, "input");
        let output = output.at()?;
        let (call, place) = (written.call.map(Tried::at), written.place.map(Tried::at));
        let input = KnownInput::of(output, input?, of)?;
        Some(Self { output, input, call: call.flatten(), place: place.flatten() })
    }

    /// Refuses a repeater's keys where no repeater is written.
    fn refuse(written: &WrittenLine, of: &mut Reading<'_>) {
        let keys = [
            ("input", written.input.as_ref().map(|cell| cell.span)),
            ("call", written.call.as_ref().map(|cell| cell.span)),
            ("place", written.place.as_ref().map(|cell| cell.span)),
        ];
        let instead = |key: &str| match key {
            "input" => "write `shift`, or `output` with the frequency that the repeater sends",
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
        let spans = [
            written.repeater.as_ref().map(|cell| cell.span),
            written.gateway.as_ref().map(|cell| cell.span),
            written.simplex.as_ref().map(|cell| cell.span),
            written.dial.as_ref().map(|cell| cell.span),
            written.rx.as_ref().map(|cell| cell.span),
            written.output.as_ref().map(|cell| cell.span),
        ];
        if written.output.is_none() {
            Own::refuse(&written, of);
        }
        refuse_direct(&written, of);
        refuse_on(&written, of);
        refuse_around(&written, of);
        let mut ways = WAYS.into_iter().zip(spans).filter_map(|(name, span)| Some((name, span?)));
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
                let around = written.around.as_ref().and_then(|cell| Some(At::new(cell.value?, cell.span)));
                Some(Self { way: Way::of(written, of)?, tx, shift, around })
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

/// Refuses `direct` where no repeater is named past which it could lead.
fn refuse_direct(written: &WrittenLine, of: &mut Reading<'_>) {
    let Some(direct) = written.direct.as_ref().filter(|direct| direct.value == Some(true)) else { return };
    if written.repeater.is_none() {
        let what = "`direct` is said of a channel on a repeater's output, and this channel names no `repeater`";
        let finding = Finding::new(&CHANNEL_WITH_TWO_ROUTES, direct.span, what).label("past no repeater");
        of.found.push(finding.help("write the repeater's id as `repeater`, or leave `direct` out"));
    }
}

/// Refuses the choice of a gateway's frequency where no gateway is named.
fn refuse_on(written: &WrittenLine, of: &mut Reading<'_>) {
    let Some(on) = written.on.as_ref().filter(|_| written.gateway.is_none()) else { return };
    let what = "`on` picks one of a gateway's frequencies, and this channel names no `gateway`";
    let finding = Finding::new(&CHANNEL_WITH_TWO_ROUTES, on.span, what).label("of no gateway");
    of.found.push(finding.help("write `simplex` with the frequency, or the gateway's id as `gateway`"));
}

/// Refuses `around` where not one frequency is met on.
fn refuse_around(written: &WrittenLine, of: &mut Reading<'_>) {
    let Some(around) = &written.around else { return };
    let is_one = written.dial.is_some() || written.simplex.is_some() || written.rx.is_some();
    let sends_elsewhere =
        written.shift.is_some() || matches!(written.tx.as_ref().and_then(|tx| tx.value), Some(Transmit::On(_)));
    if !is_one || sends_elsewhere || written.pool.is_some() {
        let what = "`around` is said of a meeting place on one frequency, and this channel has none of its own";
        let finding = Finding::new(&CHANNEL_WITH_TWO_ROUTES, around.span, what).label("around no frequency");
        of.found.push(finding.help("leave `around` out, or write `dial` or `simplex` with the frequency"));
    }
}

impl Way {
    fn of(mut written: WrittenLine, of: &mut Reading<'_>) -> Option<Self> {
        if let Some(output) = written.output.take() {
            return Own::of(written, output, of).map(|own| Self::Own(Box::new(own)));
        }
        if let Some(repeater) = written.repeater {
            let is_direct = written.direct.is_some_and(|direct| direct.value == Some(true));
            let repeater = repeater.at()?;
            return Some(if is_direct { Self::Direct(repeater) } else { Self::Repeater(repeater) });
        }
        if let Some(gateway) = written.gateway {
            let on = match written.on {
                Some(on) => Some(on.at()?),
                None => None,
            };
            return Some(Self::Gateway(gateway.at()?, on));
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
    /// Output and input of the repeater that it has for its own.
    pub(super) const fn own_pair(&self) -> Option<(At<Frequency>, &KnownInput)> {
        match &self.way {
            Way::Own(own) => Some((own.output, &own.input)),
            _ => None,
        }
    }

    /// The mode of a channel that does not say its own.
    pub(super) const fn usual_mode(&self) -> Mode {
        match self.way {
            Way::Dial { .. } => Mode::Ssb,
            Way::Gateway(..) => Mode::Data,
            _ => Mode::Fm,
        }
    }
}
