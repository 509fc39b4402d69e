//! How far two antennas reach by their heights alone.
//!
//! Radio horizon d = 4.12 km x sqrt(h / m), with the standard refraction of k = 4/3 (common practice, no source; the value
//! follows from an earth of 6371 km). It knows no hill, neither one in the way nor one under the mast, so that it never
//! keeps two stations apart here: it is said beside a collision, for somebody who knows the ground.

use crate::ground::{Distance, Height};
use crate::plan::Place;

/// The radio horizon of an antenna, in whole metres rounded down; nothing below the ground.
#[must_use]
pub fn radio_horizon(height: Height) -> Distance {
    #[expect(clippy::cast_precision_loss, reason = "centimetres of any mast are far below 2^53")]
    let centimetres = height.as_centimetres().max(0) as f64;
    #[expect(clippy::cast_possible_truncation, reason = "a few hundred kilometres")]
    Distance::metres((412.0 * libm::sqrt(centimetres)) as i64)
}

/// Two places that lie beyond the sum of their horizons, by the highest antenna of each: that sum, and how far apart they are.
/// None where they do not, or where a position or a height is missing.
#[must_use]
pub fn beyond_horizon(one: &Place, other: &Place) -> Option<(Distance, Distance)> {
    let top = |place: &Place| place.antennas.iter().filter_map(|antenna| antenna.height).map(|at| at.value).max();
    let reach = radio_horizon(top(one)?).as_metres() + radio_horizon(top(other)?).as_metres();
    let apart = one.position.as_ref()?.value.distance_to(&other.position.as_ref()?.value);
    (apart.as_metres() > reach).then_some((Distance::metres(reach), apart))
}

#[cfg(test)]
mod tests {
    use super::radio_horizon;
    use crate::ground::Height;

    /// The rule's values for masts, worked apart from this program (from memory, computed): kilometres, rounded.
    #[test]
    fn a_mast_sees_as_far_as_the_rule_says() {
        for (mast, metres) in [
            ("2 m", 5_827),
            ("10 m", 13_029),
            ("30 m", 22_566),
            ("100 m", 41_200),
            ("300 m", 71_361),
            ("1000 m", 130_286),
        ] {
            let is = radio_horizon(Height::parse(mast).expect("a height")).as_metres();
            assert!((is - metres).abs() <= 1, "{mast}: {is}");
        }
    }
}
