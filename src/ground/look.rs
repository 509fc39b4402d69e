//! Which names a reader of paper takes for one.

use unicode_normalization::UnicodeNormalization;
use unicode_security::skeleton;

/// A name without what a reader does not count: capitals, the width of letters, and how many spaces stand between words.
#[must_use]
pub fn folded(name: &str) -> String {
    let plain: String = name.nfkc().collect();
    plain.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What a name looks like on paper: two names with one look are taken for each other, whatever letters they are made of. 1, l and I
/// look alike, and so do 0 and O, or C in three scripts (UTS 39, confusables). Capitals stay as they are: a small l looks like a
/// large I, and a large L like neither.
#[must_use]
pub fn look(name: &str) -> String {
    let plain: String = name.nfkc().collect();
    skeleton(&plain.split_whitespace().collect::<Vec<_>>().join(" ")).collect()
}

/// The first letters in which two names of one look differ, as characters: `l is U+006C, 1 is U+0031`.
#[must_use]
pub fn difference(one: &str, other: &str) -> Option<String> {
    let (a, b) = one.chars().zip(other.chars()).find(|(a, b)| a.to_lowercase().ne(b.to_lowercase()))?;
    Some(format!("{a} is U+{:04X}, {b} is U+{:04X}", u32::from(a), u32::from(b)))
}

#[cfg(test)]
mod tests {
    use super::{difference, folded, look};

    /// Pairs by hand: what paper shows as one, and what it does not.
    #[test]
    fn names_that_look_alike_have_one_look() {
        for (one, other) in [
            ("CMD 1", "CMD l"),
            ("CMD 1", "CMD I"),
            ("CMD 1", "\u{421}MD 1"),
            ("CMD 1", "CMD \u{ff11}"),
            ("Command One", "Command 0ne"),
            ("TAC 10", "TAC IO"),
            ("CMD 1", "CMD   1"),
            ("Opal", "\u{41e}pal"),
        ] {
            assert_eq!(look(one), look(other), "{one} / {other}");
        }
        for (one, other) in [
            ("CALL", "CAIL"),
            ("CMD 1", "CMD 2"),
            ("TAC 1", "TAC 11"),
            ("MED 5", "MED S"),
            ("North", "Norths"),
            ("Été", "Ete"),
        ] {
            assert_ne!(look(one), look(other), "{one} / {other}");
        }
    }

    #[test]
    fn capitals_widths_and_spaces_are_folded() {
        for same in ["cmd 1", "CMD  1", "\u{ff23}\u{ff2d}\u{ff24} 1", "Cmd 1"] {
            assert_eq!(folded(same), "cmd 1", "{same}");
        }
        assert_ne!(folded("CMD l"), folded("CMD 1"));
    }

    #[test]
    fn a_difference_is_said_by_its_letters() {
        assert_eq!(difference("CMD l", "cmd 1").as_deref(), Some("l is U+006C, 1 is U+0031"));
        assert_eq!(difference("CMD", "cmd"), None);
    }
}
