//! A position as people say it to each other: decimal degrees, and degrees with minutes.

use super::Position;

impl Position {
    /// `47.12340 N, 109.43210 W`: five decimals, about a meter, rounded to the nearest.
    #[must_use]
    pub fn to_degrees_words(&self) -> String {
        let part = |grains: i32, [plus, minus]: [char; 2]| {
            let all = (i64::from(grains).abs() + 50) / 100;
            format!("{}.{:05} {}", all / 100_000, all % 100_000, if grains < 0 { minus } else { plus })
        };
        format!("{}, {}", part(self.latitude(), ['N', 'S']), part(self.longitude(), ['E', 'W']))
    }

    /// `47° 07.404' N, 109° 25.926' W`: thousandths of a minute, about two meters, rounded to the nearest.
    #[must_use]
    pub fn to_minutes_words(&self) -> String {
        let part = |grains: i32, [plus, minus]: [char; 2]| {
            // Thousandths of a minute: 60 000 in a degree of 10 000 000 grains.
            let all = (i64::from(grains).abs() * 60_000 + Self::PER_DEGREE / 2) / Self::PER_DEGREE;
            let (degrees, rest) = (all / 60_000, all % 60_000);
            format!("{degrees}° {:02}.{:03}' {}", rest / 1000, rest % 1000, if grains < 0 { minus } else { plus })
        };
        format!("{}, {}", part(self.latitude(), ['N', 'S']), part(self.longitude(), ['E', 'W']))
    }
}

#[cfg(test)]
mod tests {
    use crate::ground::Position;

    /// 0.1234 x 60 = 7.404, 0.4321 x 60 = 25.926; 0.9999999 x 60 rounds to a whole degree more. Worked by hand.
    #[test]
    fn positions_are_told_in_both_ways() {
        let of = |text| Position::parse(text).unwrap();
        assert_eq!(of("47.1234, -109.4321").to_degrees_words(), "47.12340 N, 109.43210 W");
        assert_eq!(of("47.1234, -109.4321").to_minutes_words(), "47° 07.404' N, 109° 25.926' W");
        assert_eq!(of("-0.9999999, 179.9999999").to_minutes_words(), "1° 00.000' S, 180° 00.000' E");
        assert_eq!(of("-0.9999999, 0").to_degrees_words(), "1.00000 S, 0.00000 E");
    }
}
