//! What the feed line of an antenna loses at a frequency.
//!
//! By its maker's figure for one frequency: loss in the conductors goes by the square root of the frequency (skin effect; textbooks of radio
//! engineering, from memory), and by the length. Valid from a quarter to four times the maker's frequency; farther away, where insulation takes
//! its part or none, nothing is said. Age, water and connectors take more.

use crate::ground::{Decibels, Frequency};
use crate::plan::Antenna;

/// So far from the maker's frequency the figure holds.
const REACH: u64 = 4;

/// What an antenna's feed line loses: as written, else by length and the maker's figure, rounded down to hundredths of a decibel. None where it is
/// not known.
#[must_use]
pub fn feed_loss(antenna: &Antenna, on: Frequency) -> Option<Decibels> {
    if let Some(loss) = antenna.feed_loss {
        return Some(loss.value);
    }
    let (length, rate) = (antenna.feed_length?.value, antenna.feed_rate?.value);
    let (own, known) = (on.as_hertz(), rate.at().as_hertz());
    if own > known.saturating_mul(REACH) || own.saturating_mul(REACH) < known {
        return None;
    }
    #[expect(
        clippy::cast_precision_loss,
        reason = "millimeters of a cable, hertz of radios and decibels are far below 2^53"
    )]
    let (millimeters, hundredths, ratio) =
        (length.as_grains() as f64, rate.as_hundredths() as f64, own as f64 / known as f64);
    let lost = hundredths * millimeters / 100_000.0 * libm::sqrt(ratio);
    #[expect(clippy::cast_possible_truncation, reason = "within the range of what is written")]
    Some(Decibels::hundredths(libm::floor(lost + 1e-9).min(20_000.0) as i32))
}

#[cfg(test)]
mod tests {
    use super::feed_loss;
    use crate::ground::{At, Frequency, Id, LineLoss, Run, Span};
    use crate::plan::Antenna;

    fn antenna(length: Option<&str>, rate: Option<&str>) -> Antenna {
        let at = |text: &str| At::new(Run::parse(text).unwrap(), Span::NOWHERE);
        Antenna {
            id: At::new(Id::parse("roof").unwrap(), Span::NOWHERE),
            kind: None,
            gain: None,
            height: None,
            feed_loss: None,
            feed_length: length.map(at),
            feed_rate: rate.map(|text| At::new(LineLoss::parse(text).unwrap(), Span::NOWHERE)),
            channels: Vec::new(),
            repeaters: Vec::new(),
            gateways: Vec::new(),
        }
    }

    /// By hand: 8.9 dB in 100 m at 150 MHz; 30 m of it lose 2.67 dB there, 2.67 x sqrt(446 / 150) = 4.60 dB at 446 MHz, and
    /// 2.67 x sqrt(50 / 150) = 1.54 dB at 50 MHz.
    #[test]
    fn loss_goes_by_length_and_the_root_of_the_frequency() {
        let of = antenna(Some("30 m"), Some("8.9 dB at 150 MHz"));
        let lost = |on: &str| feed_loss(&of, Frequency::parse(on).unwrap()).map(|lost| lost.as_hundredths());
        assert_eq!([lost("150 MHz"), lost("446 MHz"), lost("50 MHz")], [Some(267), Some(460), Some(154)]);
        // Four times as high is twice as much; farther away nobody says.
        assert_eq!(
            [lost("600 MHz"), lost("601 MHz"), lost("37.5 MHz"), lost("14 MHz")],
            [Some(534), None, Some(133), None]
        );
    }

    #[test]
    fn what_is_not_whole_gives_nothing() {
        let on = Frequency::parse("146 MHz").unwrap();
        assert!(feed_loss(&antenna(None, Some("8.9 dB at 150 MHz")), on).is_none());
        assert!(feed_loss(&antenna(Some("30 m"), None), on).is_none());
        // A millimeter of it loses nothing that is said.
        assert_eq!(
            feed_loss(&antenna(Some("1 mm"), Some("8.9 dB at 150 MHz")), on).map(|lost| lost.as_hundredths()),
            Some(0)
        );
        assert_eq!(feed_loss(&antenna(Some("1000 m"), Some("500 dB at 150 MHz")), on).unwrap().as_hundredths(), 20_000);
    }
}
