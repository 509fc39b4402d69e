//! Repeaters, from their owners' side, and those of other teams.

use super::signal::{Evidence, Input, KnownInput, Signal};
use super::tones::RepeaterTones;
use super::{Place, words_of};
use crate::ground::{At, CallSign, Distance, Frequency, Id, Lapse, Position, Power, Span, Tolerance, Tone, Words};
use crate::plan::reference::Ref;
use crate::plan::terms::{Mode, Status};
use crate::source::record;
use crate::tables::{OfAmateur, Service};
use std::sync::Arc;

record! {
    /// `[[repeater]]`, from its owner's side: what it transmits and receives. Both views are derived from it.
    #[derive(Clone, Debug)]
    pub struct Repeater = "repeater" {
        /// Unique among repeaters, as `cold-ridge`; made of its name, or its call sign, when left out.
        id: At<Id>,
        /// Call sign that it identifies with, as `WZ7QUR`; none is printed when left out.
        call: Option<At<CallSign>>,
        /// Name as known, as `Cold Ridge`; the id's words when left out.
        name: At<Words> = words_of(&id),
        /// Where it stands; nowhere known, so that no site counts it, when left out.
        place: Option<At<Ref<Place>>>,
        /// Radio service; amateur when left out.
        service: At<Arc<Service>> = OfAmateur,
        /// What it transmits: what a radio hears.
        output: At<Frequency>,
        /// What it receives: a shift from its output, a frequency, or `unknown`: then one only listens to it.
        input: KnownInput = output,
        /// FM unless another is written.
        signal: Signal = Mode::Fm,
        /// What opens it, and what it sends.
        tones: RepeaterTones = (&signal, &input),
        /// Transmitter output; 50 W is taken where a site is reckoned when left out.
        power: Option<At<Power>>,
        /// How far it may be off its frequency; 0 when left out.
        tolerance: Option<At<Tolerance>>,
        /// How far it is heard, over ground, as `40 km`; everywhere when left out.
        range: Option<At<Distance>>,
        /// How long it lets one station talk, as `180 s`; nothing is printed when left out.
        time_out: Option<At<Lapse>>,
        /// How long it runs without utility power, as `24 h`; not at all when left out.
        backup_power: Option<At<Lapse>>,
        /// Whether it is on the air: printed on its rows, and nobody is led there, as `off the air`; on the air when left out.
        status: Option<At<Status>>,
        /// Who heard it and found its tones and shift so, and when; a finding asks for it when left out.
        verified: Option<Evidence>,
        /// Printed with its channels, as `wide coverage`; nothing when left out.
        note: Option<At<Words>>,
        /// The record.
        span: Span,
    }

    /// `[[neighbour]]`, or a row of the neighbours' file: another team's frequency. Checked against, never printed.
    #[derive(Clone, Debug)]
    pub struct Neighbour = "neighbour" {
        /// What it is called, as `Birch One`.
        name: At<Words>,
        /// Whose it is, as `Birch County`; nobody is named when left out.
        team: Option<At<Words>>,
        /// What it sends.
        output: At<Frequency>,
        /// What it receives, where it is a repeater: a shift from its output, a frequency, or `unknown`; its output when left
        /// out.
        input: Option<Input> = output,
        /// What opens it; not known when left out.
        tone_in: Option<At<Tone>>,
        /// FM unless another is written.
        signal: Signal = Mode::Fm,
        /// Where it stands; nowhere known when left out.
        position: Option<At<Position>>,
        /// How far it is heard, over ground, as `30 km`; everywhere when left out.
        range: Option<At<Distance>>,
    }
}
