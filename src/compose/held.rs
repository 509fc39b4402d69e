//! Words that are read as one, and so stand on one line.

/// Units that stay on the line of their number.
const UNITS: [&str; 21] = [
    "Hz", "kHz", "MHz", "W", "kW", "mW", "V", "A", "Ah", "dB", "dBi", "dBd", "m", "km", "mi", "mm", "ft", "h", "min",
    "s", "baud",
];

/// Whether a place lies between a number and its unit.
fn parts_a_unit(before: &str, after: &str) -> bool {
    if !before.ends_with(' ') {
        return false;
    }
    let before = before.trim_end();
    // A number that closes a sentence or a list has no unit; nor has a word of letters and figures, as TAC 1.
    if !before.ends_with(|c: char| c.is_ascii_digit()) {
        return false;
    }
    let number = before.rsplit(char::is_whitespace).next().unwrap_or_default();
    let unit = after.split(|c: char| !c.is_alphabetic()).next().unwrap_or_default();
    number.starts_with(|c: char| c.is_ascii_digit() || c == '±') && UNITS.contains(&unit)
}

/// Whether a place lies inside the number of a rule: `47 CFR 97.119`, `Part 97`.
fn parts_a_citation(before: &str, after: &str) -> bool {
    let is_number = after.starts_with(|c: char| c.is_ascii_digit());
    (is_number && ["CFR ", "Part "].iter().any(|word| before.ends_with(word))) || after.starts_with("CFR ")
}

/// Letters and figures of a channel's short name, at most.
const NAME: (std::ops::RangeInclusive<usize>, usize) = (2..=6, 3);

/// Whether a place lies inside a short name as channels bear it: `TAC 1`, `CALL 70`.
fn parts_a_name(before: &str, after: &str) -> bool {
    let Some(letters) = before.strip_suffix(' ').filter(|_| after.starts_with(|c: char| c.is_ascii_digit())) else {
        return false;
    };
    let letters = letters.rsplit(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
    let figures = after.split(|c: char| !c.is_alphanumeric() && c != '.').next().unwrap_or_default();
    let figures = figures.trim_end_matches('.');
    let is_number = figures.bytes().all(|byte| byte.is_ascii_digit()) && (1..=NAME.1).contains(&figures.len());
    is_number && NAME.0.contains(&letters.len()) && letters.bytes().all(|byte| byte.is_ascii_uppercase())
}

/// Whether a place lies inside a range of numbers: `19\u{2013}21`.
fn parts_a_range(before: &str, after: &str) -> bool {
    let is_figure = |c: char| c.is_ascii_digit();
    before.strip_suffix('\u{2013}').is_some_and(|from| from.ends_with(is_figure)) && after.starts_with(is_figure)
}

/// Whether a line is not to end at a place: between a number and its unit, inside a range, the number of a rule or the short name of a
/// channel.
#[must_use]
pub fn is_held(text: &str, at: usize) -> bool {
    let Some((before, after)) = text.split_at_checked(at) else { return false };
    parts_a_unit(before, after)
        || parts_a_citation(before, after)
        || parts_a_name(before, after)
        || parts_a_range(before, after)
}
