//! From a dial frequency and an emission to the stretch that is occupied.

use super::Emission;
use crate::ground::{Frequency, Refusal, Shift, Stretch};
use crate::plan::{Side, Signal, WidthWord};
use crate::tables::Modes;

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

/// What a signal occupies when a radio is dialled to `dial`.
///
/// Without a side: `dial` and half the width to each side, odd widths rounded outwards. Upper sideband: `dial` up to
/// `dial` plus the width; lower sideband: down from it. With an audio frequency: centred on that, on the sideband's side.
/// None when the stretch leaves 1 Hz to 300 GHz.
#[must_use]
pub fn occupied(dial: Frequency, emission: &Emission, side: Option<Side>, audio: Option<Frequency>) -> Option<Stretch> {
    let width = i64::try_from(emission.width().as_hertz()).ok()?;
    let half = (width + 1) / 2;
    let audio = audio.map(|audio| i64::try_from(audio.as_hertz()).unwrap_or(i64::MAX));
    let (below, above) = match (side, audio) {
        (None, _) => (-half, half),
        (Some(Side::Usb), None) => (0, width),
        (Some(Side::Lsb), None) => (-width, 0),
        (Some(Side::Usb), Some(audio)) => (audio - half, audio + half),
        (Some(Side::Lsb), Some(audio)) => (-audio - half, -audio + half),
    };
    Stretch::new(dial.moved(Shift::hertz(below))?, dial.moved(Shift::hertz(above))?)
}

/// What a signal of the plan occupies at `dial`; none when its designator is not readable, which is a finding of its own.
#[must_use]
pub fn occupied_by(dial: Frequency, signal: &Signal, side: Option<Side>, modes: &Modes) -> Option<Stretch> {
    // CW on an HF dial is sent on the dial frequency itself, whatever the receiver's sideband.
    let emission = emission_of(signal, modes).ok()?;
    let is_carrier = emission.symbols().starts_with("A1");
    occupied(dial, &emission, side.filter(|_| !is_carrier), signal.audio.map(|audio| audio.value))
}

#[cfg(test)]
mod tests {
    use super::occupied;
    use crate::ground::{Frequency, Stretch};
    use crate::plan::Side;
    use crate::reckon::Emission;

    fn edges(dial: &str, emission: &str, side: Option<Side>, audio: Option<&str>) -> Option<Stretch> {
        let emission = Emission::parse(emission).unwrap();
        occupied(Frequency::parse(dial).unwrap(), &emission, side, audio.map(|audio| Frequency::parse(audio).unwrap()))
    }

    fn stretch(text: &str) -> Option<Stretch> {
        Some(Stretch::parse(text).unwrap())
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

    #[test]
    fn a_60_m_channel_is_its_centre_less_1500_hertz_on_the_dial() {
        // 47 CFR 97.303(h), second-hand: centre 5332 kHz, dial 5330.5 kHz. 2.8 kHz upwards from the dial ends at
        // 5333.3 kHz, inside the channel's 5330.6-5333.4 kHz but for the first 100 Hz, where no audio is.
        assert_eq!(edges("5330.5 kHz", "2K80J3E", Some(Side::Usb), None), stretch("5330.5 kHz to 5333.3 kHz"));
    }

    #[test]
    fn a_stretch_below_zero_is_none() {
        assert_eq!(edges("1 kHz", "16K0F3E", None, None), None);
    }
}
