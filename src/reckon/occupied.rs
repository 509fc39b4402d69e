//! From a dial frequency and an emission to the stretch that is occupied.

use super::Emission;
use crate::ground::{Frequency, Refusal, Shift, Stretch, Tolerance, Width};
use crate::plan::{Side, Signal, WidthWord};
use crate::tables::{Modes, Privilege, Profile};

/// The emission of a signal: the designator where one is written, else the mode's own, with the width that is written.
///
/// # Errors
/// When the designator cannot be read, or the mode table lacks the mode.
pub fn emission_of(signal: &Signal, modes: &Modes) -> Result<Emission, Refusal> {
    if let Some(written) = &signal.emission {
        return Emission::parse(written.as_str());
    }
    let is_narrow = signal.width.value == WidthWord::Narrow;
    let form = modes
        .form(signal.mode.word(), is_narrow)
        .ok_or_else(|| Refusal::new(format!("no table has the mode {}", signal.mode.value)))?;
    let emission = Emission::parse(&form.emission)?;
    Ok(match signal.width.value {
        WidthWord::Exact(width) => emission.with_width(width),
        WidthWord::Wide | WidthWord::Narrow => emission,
    })
}

/// Why nothing can be said of what a signal occupies: never that it is in order.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Unreckoned {
    /// Its emission cannot be read.
    Unreadable(Refusal),
    /// It would leave 1 Hz to 300 GHz; its edges in hertz, which may be below zero.
    LeavesRadio {
        /// The lower edge.
        low: i64,
        /// The upper edge.
        high: i64,
    },
}

/// The stretch between two edges in hertz.
fn between(low: i64, high: i64) -> Result<Stretch, Unreckoned> {
    let edge = |hertz: i64| u64::try_from(hertz).ok().and_then(Frequency::hertz);
    let stretch = Option::zip(edge(low), edge(high)).and_then(|(low, high)| Stretch::new(low, high));
    stretch.ok_or(Unreckoned::LeavesRadio { low, high })
}

fn signed(hertz: u64) -> i64 {
    i64::try_from(hertz).unwrap_or(i64::MAX)
}

/// What an emission occupies when a radio is dialled to `dial`.
///
/// Without a side: `dial` and half the width to each side, odd widths rounded outwards. Upper sideband: `dial` up to
/// `dial` plus the width; lower sideband: down from it. With an audio frequency: centred on that, on the sideband's side.
fn occupied(
    dial: Frequency,
    emission: &Emission,
    side: Option<Side>,
    audio: Option<Frequency>,
) -> Result<Stretch, Unreckoned> {
    let (dial, width) = (signed(dial.as_hertz()), signed(emission.width().as_hertz()));
    let half = width / 2 + width % 2;
    let audio = audio.map(|audio| signed(audio.as_hertz()));
    let (below, above) = match (side, audio) {
        (None, _) => (-half, half),
        (Some(Side::Usb), None) => (0, width),
        (Some(Side::Lsb), None) => (-width, 0),
        (Some(Side::Usb), Some(audio)) => (audio - half, audio + half),
        (Some(Side::Lsb), Some(audio)) => (-audio - half, -audio + half),
    };
    between(dial + below, dial + above)
}

/// What a signal of the plan occupies at `dial`, as the law counts it: on a channel that the law names by its centre (60 m),
/// around that centre. Checks, charts and cards all ask this.
///
/// # Errors
/// When its emission cannot be read, or it would leave 1 Hz to 300 GHz.
pub fn occupied_by(
    profile: &Profile,
    modes: &Modes,
    dial: Frequency,
    signal: &Signal,
    side: Option<Side>,
) -> Result<Stretch, Unreckoned> {
    let emission = emission_of(signal, modes).map_err(Unreckoned::Unreadable)?;
    // CW on an HF dial is sent on the dial frequency itself, whatever the receiver's sideband.
    let side = side.filter(|_| !emission.symbols().starts_with("A1"));
    let is_named = |row: &Privilege| {
        let [upper, none, lower] = row.dials();
        let to_centre = match side {
            Some(Side::Usb) => upper,
            Some(Side::Lsb) => lower,
            None => none,
        };
        row.centre.filter(|centre| dial.moved(Shift::hertz(to_centre)) == Some(*centre))
    };
    match profile.privileges.iter().find_map(is_named).filter(|_| signal.audio.is_none()) {
        Some(centre) => occupied(centre, &emission, None, None),
        None => occupied(dial, &emission, side, signal.audio.map(|audio| audio.value)),
    }
}

/// What is reached by a radio that may be off by `tolerance`.
///
/// # Errors
/// When that leaves 1 Hz to 300 GHz.
pub fn widened(stretch: &Stretch, tolerance: Tolerance) -> Result<Stretch, Unreckoned> {
    let off = tolerance.at(stretch.high());
    between(signed(stretch.low().as_hertz()) - off, signed(stretch.high().as_hertz()) + off)
}

/// What is reached by whoever may go from a frequency as far as `strays` says, below it and above.
///
/// # Errors
/// When that leaves 1 Hz to 300 GHz.
pub fn strayed(stretch: &Stretch, strays: [Width; 2]) -> Result<Stretch, Unreckoned> {
    let [below, above] = strays.map(|width| signed(width.as_hertz()));
    between(signed(stretch.low().as_hertz()) - below, signed(stretch.high().as_hertz()) + above)
}

#[cfg(test)]
mod tests {
    use super::{Unreckoned, occupied, occupied_by, widened};
    use crate::ground::{At, Frequency, Span, Stretch, Tolerance};
    use crate::plan::{Mode, Side, Signal, WidthWord};
    use crate::reckon::Emission;
    use crate::tables::Tables;

    fn edges(dial: &str, emission: &str, side: Option<Side>, audio: Option<&str>) -> Result<Stretch, Unreckoned> {
        let emission = Emission::parse(emission).unwrap();
        occupied(Frequency::parse(dial).unwrap(), &emission, side, audio.map(|audio| Frequency::parse(audio).unwrap()))
    }

    fn stretch(text: &str) -> Result<Stretch, Unreckoned> {
        Ok(Stretch::parse(text).unwrap())
    }

    #[test]
    fn edges_as_worked_by_hand() {
        assert_eq!(edges("146.520 MHz", "16K0F3E", None, None), stretch("146.512 MHz to 146.528 MHz"));
        assert_eq!(edges("7245.0 kHz", "2K80J3E", Some(Side::Lsb), None), stretch("7242.2 kHz to 7245.0 kHz"));
        assert_eq!(edges("14300.0 kHz", "2K80J3E", Some(Side::Usb), None), stretch("14300.0 kHz to 14302.8 kHz"));
        assert_eq!(
            edges("14100.0 kHz", "500HJ2D", Some(Side::Usb), Some("1500 Hz")),
            stretch("14101.25 kHz to 14101.75 kHz")
        );
        assert_eq!(edges("145.050 MHz", "15H1A1A", None, None), stretch("145049.992 kHz to 145050.008 kHz"));
    }

    /// 47 CFR 97.303(h), second-hand: centre 5332 kHz, dial 5330.5 kHz, channel 5330.6 to 5333.4 kHz. 100 Hz beside the
    /// channel's dial it is a dial like any other.
    #[test]
    fn a_60_m_channel_lies_about_its_centre_1500_hertz_above_the_dial() {
        let us = Tables::built_in().profile("us").unwrap();
        let here = Span::NOWHERE;
        let width = At::new(WidthWord::Wide, here);
        let voice = Signal { mode: At::new(Mode::Ssb, here), width, emission: None, audio: None };
        let at = |dial: &str, side| {
            occupied_by(us, &Tables::built_in().modes, Frequency::parse(dial).unwrap(), &voice, Some(side))
        };
        assert_eq!(at("5330.5 kHz", Side::Usb), stretch("5330.6 kHz to 5333.4 kHz"));
        assert_eq!(at("5330.6 kHz", Side::Usb), stretch("5330.6 kHz to 5333.4 kHz"));
        assert_eq!(at("5330.4 kHz", Side::Usb), stretch("5330.4 kHz to 5333.2 kHz"));
        assert_eq!(at("5333.5 kHz", Side::Lsb), stretch("5330.6 kHz to 5333.4 kHz"));
    }

    #[test]
    fn what_leaves_radio_is_an_error_with_its_edges() {
        let leaves = |low, high| Err(Unreckoned::LeavesRadio { low, high });
        assert_eq!(edges("1 kHz", "16K0F3E", None, None), leaves(-7_000, 9_000));
        assert_eq!(edges("8 kHz", "16K0F3E", None, None), leaves(0, 16_000));
        assert_eq!(edges("8001 Hz", "16K0F3E", None, None), stretch("1 Hz to 16001 Hz"));
        assert_eq!(edges("300 GHz", "16K0F3E", None, None), leaves(299_999_992_000, 300_000_008_000));
        let audio = Some("1850 kHz");
        assert_eq!(edges("1850 kHz", "500HJ2D", Some(Side::Lsb), audio), leaves(-250, 250));
        let near = Stretch::parse("10 Hz to 16010 Hz").unwrap();
        assert_eq!(widened(&near, Tolerance::parse("1000 ppm").unwrap()), leaves(-7, 16_027));
    }

    #[test]
    fn tolerance_is_added_outside_both_edges() {
        let near = Stretch::parse("439.992 MHz to 440 MHz").unwrap();
        assert_eq!(widened(&near, Tolerance::parse("5 ppm").unwrap()), stretch("439.9898 MHz to 440.0022 MHz"));
    }

    /// A mode without a form would be reckoned nowhere.
    #[test]
    fn every_mode_has_an_emission() {
        let modes = &Tables::built_in().modes;
        for mode in Mode::ALL {
            for word in [WidthWord::Wide, WidthWord::Narrow] {
                let (mode, width) = (At::new(*mode, Span::NOWHERE), At::new(word, Span::NOWHERE));
                let signal = Signal { mode, width, emission: None, audio: None };
                assert!(super::emission_of(&signal, modes).is_ok(), "{signal:?}");
            }
        }
    }
}
