//! Radio as written: repeaters, channels, gateways, links, radios, and what is chosen from or checked against.

use super::terms::{Control, Mode, RepeaterInput, Service, Side, Simplex, StationKind, Transmit, WidthWord};
use super::written::{Field, written_records};
use crate::ground::{
    CallSign, Day, Distance, Frequency, Id, Lapse, Position, Power, Shift, Speed, Stretch, Tolerance, Tone, Width,
    Words,
};
use crate::source::Cell;

written_records! {
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
        /// wide, narrow or a width; as the profile has it when left out.
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
        row: u16,
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
        /// What the radio sends, or "none": listen only.
        tx: Transmit,
        /// The difference, where it is written beside rx.
        shift: Shift,
        /// The frequency on an HF radio's dial.
        dial: Frequency,
        /// USB or LSB.
        side: Side,
        /// FM, or SSB under a dial frequency, unless another is written.
        mode: Mode,
        /// wide, narrow or a width; as the profile has it when left out.
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
        /// wide, narrow or a width; as the profile has it when left out.
        width: WidthWord,
        /// Emission designator.
        emission: Words,
        /// Transmitter output.
        power: Power,
        /// How far it may be off its frequency.
        tolerance: Tolerance,
        /// How long it runs without mains.
        backup_power: Lapse,
        /// Connected to and confirmed.
        verified: WrittenEvidence,
    }
    /// `[[link]]`: a radio that sends on each of two channels what it hears on the other.
    WrittenLink {
        /// Unique among links.
        id: Id,
        /// Call sign it identifies with.
        call: CallSign,
        /// Name as known; the id's words when left out.
        name: Words,
        /// A place's id.
        place: Id,
        /// Two channels' ids.
        joins: Vec<Cell<Id>>,
        /// Transmitter output.
        power: Power,
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
        /// wide, narrow or a width; as the profile has it when left out.
        width: WidthWord,
        /// Where it stands.
        position: Position,
        /// How far it is heard; without it, everywhere.
        range: Distance,
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
}
