//! Repeaters, from their owners' side, and those of other teams.

use super::signal::{Evidence, Input, Signal};
use super::{Place, words_of};
use crate::ground::{At, CallSign, Distance, Frequency, Id, Lapse, Position, Power, Span, Tolerance, Tone, Words};
use crate::plan::reference::Ref;
use crate::plan::terms::{Mode, Service};
use crate::source::record;

record! {
    /// `[[repeater]]`, from its owner's side: what it transmits and receives. Both views are derived from it.
    #[derive(Clone, Debug)]
    pub struct Repeater = "repeater" {
        /// Unique among repeaters.
        id: At<Id>,
        /// Call sign it identifies with.
        call: Option<At<CallSign>>,
        /// Name as known; the id's words when left out.
        name: At<Words> = words_of(&id),
        /// A place's id.
        place: Option<At<Ref<Place>>>,
        /// Radio service.
        service: At<Service> = Service::Amateur,
        /// What it transmits.
        output: At<Frequency>,
        /// What it receives: a shift or a frequency.
        input: Input = output,
        /// What opens it.
        tone_in: At<Tone>,
        /// What it sends: a value, off or unknown.
        tone_out: At<Tone>,
        /// FM unless another is written.
        signal: Signal = Mode::Fm,
        /// Transmitter output.
        power: Option<At<Power>>,
        /// How far it may be off its frequency.
        tolerance: Option<At<Tolerance>>,
        /// How far it is heard; without it, everywhere.
        range: Option<At<Distance>>,
        /// How long it lets one station talk.
        time_out: Option<At<Lapse>>,
        /// How long it runs without mains.
        backup_power: Option<At<Lapse>>,
        /// Heard, tone and shift confirmed.
        verified: Option<Evidence>,
        /// Printed with its channels.
        note: Option<At<Words>>,
        /// The record.
        span: Span,
    }

    /// `[[neighbour]]`, or a row of the neighbours' file: another team's frequency. Checked against, never printed.
    #[derive(Clone, Debug)]
    pub struct Neighbour = "neighbour" {
        /// What it is called.
        name: At<Words>,
        /// Whose it is.
        team: Option<At<Words>>,
        /// What it sends.
        output: At<Frequency>,
        /// What it receives, where it is a repeater: a shift or a frequency.
        input: Option<Input> = output,
        /// What opens it.
        tone_in: Option<At<Tone>>,
        /// FM unless another is written.
        signal: Signal = Mode::Fm,
        /// Where it stands.
        position: Option<At<Position>>,
        /// How far it is heard; without it, everywhere.
        range: Option<At<Distance>>,
    }
}
