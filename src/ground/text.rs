//! Small matters of wording.

/// The known name that is closest to `given`, if one is close enough to be meant.
#[must_use]
pub fn nearest<'a>(given: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    // Chosen by eye: one slip in a short word, about one in three letters in a long one.
    let limit = (given.chars().count() / 3).max(1);
    known
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(given, name), name))
        .filter(|(distance, _)| *distance <= limit)
        .min()
        .map(|(_, name)| name)
}

/// `1 channel`, `2 channels`.
#[must_use]
pub fn plural(count: usize, one: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") }
}

/// The text without control characters (and marks that reverse its direction), for the terminal: plan text is untrusted.
#[must_use]
pub fn without_controls(text: &str) -> String {
    let is_unsafe = |c: char| {
        c.is_control() || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{200e}' | '\u{200f}')
    };
    text.chars().map(|c| if is_unsafe(c) { '\u{fffd}' } else { c }).collect()
}
