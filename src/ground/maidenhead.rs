//! Maidenhead locators: pairs of characters that divide the earth, longitude first (IARU Region 1 VHF Handbook, from memory).

use super::Position;

/// Parts into which each pair divides the one before: fields, squares, subsquares, extended squares.
const PARTS: [(u8, char); 4] = [(18, 'A'), (10, '0'), (24, 'a'), (10, '0')];
/// The earth counted from the south pole and from 180 degrees west, in ten-millionths of a degree.
const AROUND: i64 = 360 * Position::PER_DEGREE;
const POLE_TO_POLE: i64 = 180 * Position::PER_DEGREE;

impl Position {
    /// Reads a locator of 4, 6 or 8 characters in either case, as the centre of its square. `None` for anything else.
    pub(super) fn parse_maidenhead(text: &str) -> Option<Self> {
        if !matches!(text.len(), 4 | 6 | 8) {
            return None;
        }
        let mut characters = text.chars();
        let (mut east, mut north, mut count) = (0_i64, 0_i64, 1_i64);
        for (parts, first) in PARTS.into_iter().take(text.len() / 2) {
            east = east * i64::from(parts) + place(characters.next()?, parts, first)?;
            north = north * i64::from(parts) + place(characters.next()?, parts, first)?;
            count *= i64::from(parts);
        }
        let centre = |index: i64, whole: i64| (2 * index + 1) * whole / (2 * count) - whole / 2;
        Self::new(centre(north, POLE_TO_POLE), centre(east, AROUND), text)
    }

    /// The locator of the square that holds this point, in 2, 4, 6 or 8 characters; `None` for another count.
    ///
    /// The north pole and 180 degrees east lie in the last square, as no square begins there.
    #[must_use]
    pub fn to_maidenhead(&self, characters: usize) -> Option<String> {
        if !matches!(characters, 2 | 4 | 6 | 8) {
            return None;
        }
        let (mut east, mut north) =
            (i64::from(self.longitude()) + AROUND / 2, i64::from(self.latitude()) + POLE_TO_POLE / 2);
        let mut locator = String::new();
        // What is left within a square is multiplied, never the square divided: a subsquare is no whole number of grains.
        for (parts, first) in PARTS.into_iter().take(characters / 2) {
            for (left, whole) in [(&mut east, AROUND), (&mut north, POLE_TO_POLE)] {
                let index = (*left * i64::from(parts) / whole).min(i64::from(parts) - 1);
                *left = *left * i64::from(parts) - index * whole;
                locator.push(char::from(u8::try_from(u32::from(first) + u32::try_from(index).ok()?).ok()?));
            }
        }
        Some(locator)
    }
}

/// Which part a character names, from zero.
fn place(character: char, parts: u8, first: char) -> Option<i64> {
    let character = if first == 'a' { character.to_ascii_lowercase() } else { character.to_ascii_uppercase() };
    let index = u32::from(character).checked_sub(u32::from(first))?;
    (index < u32::from(parts)).then_some(i64::from(index))
}
