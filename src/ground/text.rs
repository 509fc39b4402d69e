//! Small matters of wording.

use super::caps::COMPARED;

/// The known name that is closest to `given`, if one is close enough to be meant.
#[must_use]
pub fn nearest<'a>(given: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let length = |name: &str| name.chars().zip(0..=COMPARED.most).count();
    let is_compared = |name: &str| u64::try_from(length(name)).is_ok_and(|length| COMPARED.takes(length));
    if !is_compared(given) {
        return None;
    }
    let own = length(given);
    // Chosen by eye: one slip in a short word, about one in three letters in a long one.
    let limit = (own / 3).max(1);
    known
        .into_iter()
        .filter(|name| is_compared(name) && length(name).abs_diff(own) <= limit)
        .map(|name| (strsim::damerau_levenshtein(given, name), name))
        .filter(|(distance, _)| *distance <= limit)
        .min()
        .map(|(_, name)| name)
}

/// `1 channel`, `2 channels`.
#[must_use]
pub fn plural(count: usize, one: &str) -> String {
    counted(count, one, &format!("{one}s"))
}

/// `1 duty`, `2 duties`.
#[must_use]
pub fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// Letters whose sound is open.
const OPEN: [char; 5] = ['A', 'E', 'I', 'O', 'U'];

/// `a` or `an`, as the word after it is said.
#[must_use]
pub fn article(word: &str) -> &'static str {
    // Capitals without a vowel are said letter by letter: "ef", "ar", "ess".
    let is_spelled = word.chars().all(|c| c.is_ascii_uppercase() || c.is_ascii_digit()) && !word.contains(OPEN);
    let is_open = word.starts_with(OPEN)
        || word.starts_with(['a', 'e', 'i', 'o', 'u'])
        || (is_spelled && word.starts_with(['F', 'H', 'L', 'M', 'N', 'R', 'S', 'X']));
    if is_open { "an" } else { "a" }
}

/// Names that a sentence can bear; the rest is counted.
pub const MOST_LISTED: usize = 12;

/// `one, two, three`; of many the first and how many more.
#[must_use]
pub fn listed<T: AsRef<str>>(names: &[T]) -> String {
    let first: Vec<&str> = names.iter().take(MOST_LISTED).map(AsRef::as_ref).collect();
    match names.len().saturating_sub(MOST_LISTED) {
        0 => first.join(", "),
        more => format!("{} and {more} more", first.join(", ")),
    }
}

/// Characters that are not seen, or that turn what is seen: all of Unicode's format characters (Cf), default-ignorable code points
/// and fillers, in order (Unicode 15.1, DerivedCoreProperties and DerivedGeneralCategory; from memory, held by a test of both).
const UNSEEN: &[(u32, u32)] = &[
    (0x00ad, 0x00ad),
    (0x034f, 0x034f),
    (0x0600, 0x0605),
    (0x061c, 0x061c),
    (0x06dd, 0x06dd),
    (0x070f, 0x070f),
    (0x0890, 0x0891),
    (0x08e2, 0x08e2),
    (0x115f, 0x1160),
    (0x17b4, 0x17b5),
    (0x180b, 0x180f),
    (0x200b, 0x200f),
    (0x202a, 0x202e),
    (0x2060, 0x206f),
    (0x3164, 0x3164),
    (0xfe00, 0xfe0f),
    (0xfeff, 0xfeff),
    (0xffa0, 0xffa0),
    (0xfff0, 0xfffb),
    (0x1_10bd, 0x1_10bd),
    (0x1_10cd, 0x1_10cd),
    (0x1_3430, 0x1_343f),
    (0x1_bca0, 0x1_bca3),
    (0x1_d173, 0x1_d17a),
    (0xe_0000, 0xe_0fff),
];

/// Whether a character is not seen on paper or turns the letters around it.
#[must_use]
pub fn is_unseen(c: char) -> bool {
    let code = u32::from(c);
    !c.is_ascii() && UNSEEN.iter().any(|(low, high)| (*low..=*high).contains(&code))
}

/// Whether a character looks like the space that the space bar writes, and is another.
#[must_use]
pub fn is_odd_space(c: char) -> bool {
    (c.is_whitespace() && c != ' ' && !c.is_control()) || c == '\u{2800}'
}

/// The text without characters that are not seen, and with plain spaces for odd ones: what was meant.
#[must_use]
pub fn as_typed(text: &str) -> String {
    let seen = text.chars().filter(|c| !is_unseen(*c));
    let plain: String = seen.map(|c| if is_odd_space(c) { ' ' } else { c }).collect();
    plain.trim().to_owned()
}

/// The text with a mark in place of each control character and each that is not seen: for messages, since plan text is untrusted.
#[must_use]
pub fn without_controls(text: &str) -> String {
    let parts_lines = |c: char| matches!(c, '\u{2028}' | '\u{2029}');
    let is_unsafe = |c: char| c.is_control() || is_unseen(c) || parts_lines(c);
    text.chars().map(|c| if is_unsafe(c) { '\u{fffd}' } else { c }).collect()
}

#[cfg(test)]
mod tests {
    use super::{COMPARED, as_typed, is_odd_space, is_unseen, nearest, without_controls};

    /// Some of each kind, and letters of every script that names are written in.
    #[test]
    fn what_is_not_seen_is_known_and_letters_are_not_taken_for_it() {
        for c in "\u{ad}\u{34f}\u{61c}\u{180e}\u{200b}\u{200c}\u{200d}\u{200e}\u{202e}\u{2060}\u{2064}\u{2066}\u{2069}\u{206f}\u{3164}\u{fe0f}\u{feff}\u{ffa0}\u{fff9}\u{1d173}\u{e0001}\u{e0061}\u{e01ef}".chars() {
            assert!(is_unseen(c), "U+{:04X}", u32::from(c));
        }
        for c in "\u{a0}\u{1680}\u{2000}\u{2003}\u{200a}\u{202f}\u{205f}\u{3000}\u{2800}".chars() {
            assert!(is_odd_space(c) && !is_unseen(c), "U+{:04X}", u32::from(c));
        }
        for c in " aZ\u{e9}\u{df}\u{5d0}\u{627}\u{64b}\u{416}\u{3b1}\u{2212}\u{2013}\u{b1}\u{4e2d}\u{fffd}".chars() {
            assert!(!is_unseen(c) && !is_odd_space(c), "U+{:04X}", u32::from(c));
        }
        assert_eq!(as_typed("\u{feff}TAC\u{a0}1\u{200b}"), "TAC 1");
        assert_eq!(without_controls("a\u{200b}b\tc"), "a\u{fffd}b\u{fffd}c");
    }

    #[test]
    fn names_are_compared_as_long_as_names_are() {
        let of_length = |count: usize| "a".repeat(count);
        let most = usize::try_from(COMPARED.most).unwrap();
        let known = of_length(most);
        assert_eq!(nearest(&format!("{}b", of_length(most - 1)), [known.as_str()]), Some(known.as_str()));
        let long = of_length(30_000);
        assert_eq!(nearest(&long, [long.as_str()]), None);
        assert_eq!(nearest("a", [long.as_str(), "b"]), Some("b"));
        assert_eq!(nearest("chanel", ["channel", "gateway"]), Some("channel"));
    }

    #[test]
    fn what_turns_or_parts_a_line_is_replaced() {
        for mark in ['\u{1b}', '\n', '\u{61c}', '\u{200f}', '\u{2028}', '\u{2029}', '\u{202e}', '\u{2067}'] {
            assert_eq!(without_controls(&format!("a{mark}b")), "a\u{fffd}b", "{mark:?}");
        }
        assert_eq!(without_controls("\u{e4} \u{5d0}"), "\u{e4} \u{5d0}");
    }
}
