//! What is written, as it is read out on the air: figures one by one in groups, letters by their words.

use crate::tables::Spelling;

/// Capitals in a row that are still read as letters: `CMD`, `VTAC`. Longer ones are words that somebody writes large. By ear, no source.
const MOST_LETTERS: usize = 4;

/// Figures that are said in one breath, as frequencies are (by ear, no source).
const GROUP: usize = 3;

/// What units are called.
const UNITS: [(&str, &str); 10] = [
    ("GHz", "gigahertz"),
    ("MHz", "megahertz"),
    ("kHz", "kilohertz"),
    ("Hz", "hertz"),
    ("kW", "kilowatts"),
    ("W", "watts"),
    ("mW", "milliwatts"),
    ("km", "kilometers"),
    ("m", "meters"),
    ("no.", "number"),
];

/// A text as it is read out: words as they are, figures and letters that are no word one by one.
pub(super) fn spoken(text: &str, spelling: &Spelling) -> String {
    text.split_whitespace().map(|word| word_spoken(word, spelling)).collect::<Vec<_>>().join(" ")
}

/// A name letter by letter: `Charlie Mike Delta, One`.
pub(super) fn spelled(name: &str, spelling: &Spelling) -> String {
    let word =
        |word: &str| word.chars().filter(|c| !is_mark(*c)).map(|c| letter(c, spelling)).collect::<Vec<_>>().join(" ");
    let words = name.split(|c: char| c.is_whitespace() || c == '-').filter(|word| !word.is_empty());
    words.map(word).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(", ")
}

/// Whether a name says how it is written: words of letters with at most a capital at their beginning.
pub(super) fn is_plain(name: &str) -> bool {
    name.split_whitespace().all(|word| {
        let mut letters = word.chars();
        letters.next().is_some_and(|first| first.is_ascii_alphabetic()) && letters.all(|c| c.is_ascii_lowercase())
    })
}

fn word_spoken(word: &str, spelling: &Spelling) -> String {
    if let Some((_, unit)) = UNITS.iter().find(|(short, _)| *short == word.trim_end_matches([',', ';', ':'])) {
        return format!("{unit}{}", tail(word));
    }
    let (bare, tail) = (word.trim_end_matches(is_mark), tail(word));
    let said = match () {
        () if bare.is_empty() => String::new(),
        () if is_number(bare) => figures(bare, spelling),
        () if is_said_by_letters(bare) => spelled(bare, spelling),
        () => bare.to_owned(),
    };
    format!("{said}{tail}")
}

fn is_mark(c: char) -> bool {
    matches!(c, ',' | ';' | ':' | '.' | '(' | ')' | '"' | '[' | ']')
}

/// Marks behind a word that are heard as a rest.
fn tail(word: &str) -> &str {
    match word.chars().next_back() {
        Some(',') => ",",
        Some(';' | ':' | '.') if word.len() > 1 && word != "no." => ".",
        _ => "",
    }
}

fn is_number(word: &str) -> bool {
    let bare = word.trim_start_matches(['+', '-']);
    bare.chars().all(|c| c.is_ascii_digit() || c == '.') && bare.chars().any(|c| c.is_ascii_digit())
}

/// Letters and figures in one word, and a few capitals alone.
fn is_said_by_letters(word: &str) -> bool {
    let letters = word.chars().filter(|c| c.is_alphabetic()).count();
    let is_capitals = word.chars().filter(|c| c.is_alphabetic()).all(char::is_uppercase);
    let has_figures = word.chars().any(|c| c.is_ascii_digit());
    (has_figures && letters > 0) || (letters > 0 && is_capitals && letters <= MOST_LETTERS)
}

/// `146.3550` -> `One Fower Six, decimal, Tree Fife Fife, Zero`; a day's hyphens part its groups.
fn figures(number: &str, spelling: &Spelling) -> String {
    let (sign, bare) = match number.split_at_checked(1) {
        Some(("+", bare)) => (Some("plus"), bare),
        Some(("-", bare)) => (Some("minus"), bare),
        _ => (None, number),
    };
    let grouped = |part: &str| {
        let digits: Vec<char> = part.chars().collect();
        let group = |group: &[char]| group.iter().map(|digit| spelling.word(*digit)).collect::<Vec<_>>().join(" ");
        digits.chunks(GROUP).map(group).collect::<Vec<_>>().join(", ")
    };
    let parts = bare.split('.').map(grouped).collect::<Vec<_>>().join(", decimal, ");
    sign.map_or(parts.clone(), |sign| format!("{sign} {parts}"))
}

fn letter(c: char, spelling: &Spelling) -> String {
    match c {
        '-' => "dash".to_owned(),
        '/' => "slash".to_owned(),
        c => spelling.word(c.to_uppercase().next().unwrap_or(c)),
    }
}

#[cfg(test)]
mod tests {
    use super::{is_plain, spelled, spoken};
    use crate::tables::Tables;

    /// Figures by ICAO Annex 10, letters by Appendix 14 of the Radio Regulations, grouped by hand.
    #[test]
    fn figures_and_letters_are_read_out_one_by_one_and_words_as_they_are() {
        let spelling = &Tables::built_in().spelling;
        for (written, said) in [
            ("146.3550 MHz", "One Fower Six, decimal, Tree Fife Fife, Zero megahertz"),
            ("103.5 Hz", "One Zero Tree, decimal, Fife hertz"),
            ("no. 12 CMD 1, send:", "number One Two Charlie Mike Delta One, send."),
            ("Cold Ridge, off", "Cold Ridge, off"),
            ("D023", "Delta Zero Two Tree"),
            ("WZ7QSB", "Whiskey Zulu Seven Quebec Sierra Bravo"),
            ("RIDGE 2", "RIDGE Two"),
            ("-600 kHz", "minus Six Zero Zero kilohertz"),
            ("7.2740 MHz", "Seven, decimal, Two Seven Fower, Zero megahertz"),
        ] {
            assert_eq!(spoken(written, spelling), said);
        }
        assert_eq!(spelled("Cold Ridge", spelling), "Charlie Oscar Lima Delta, Romeo India Delta Golf Echo");
        assert_eq!(spelled("TCLR", spelling), "Tango Charlie Lima Romeo");
        assert!(is_plain("Cold Ridge") && !is_plain("CMD 1") && !is_plain("TAC"));
    }
}
