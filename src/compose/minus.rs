//! A true minus in print, where typed text has a hyphen for one.

/// The words with a minus sign before a figure that begins a word, and between two spaces as in a formula. Dates, call signs and names keep their hyphens.
pub(super) fn with_minus(words: &str) -> String {
    let mut printed = String::with_capacity(words.len() + 4);
    let mut letters = words.chars().peekable();
    let mut before: Option<char> = None;
    while let Some(letter) = letters.next() {
        let after = letters.peek().copied();
        let begins = before.is_none_or(|c| c.is_whitespace() || c == '(');
        let is_sign = begins && after.is_some_and(|c| c.is_ascii_digit());
        let is_between = before == Some(' ') && after == Some(' ');
        printed.push(if letter == '-' && (is_sign || is_between) { '\u{2212}' } else { letter });
        before = Some(letter);
    }
    printed
}

#[cfg(test)]
mod tests {
    use super::with_minus;

    #[test]
    fn signs_and_formulas_get_a_minus_and_nothing_else_does() {
        assert_eq!(with_minus("shift -600 kHz, 2 x A - B"), "shift \u{2212}600 kHz, 2 x A \u{2212} B");
        for kept in ["2026-11-20", "WZ7QUM-1", "cross-band", "X-ray", "97.301(a)-(e)"] {
            assert_eq!(with_minus(kept), kept);
        }
    }
}
