//! A bulletin to be passed by voice: numbered lines, names spelled, figures one by one, and what is expected to be read back.

use crate::compose::{Bulletin, Statement};
use crate::tables::Spelling;
use std::fmt::Write;

/// Words a minute at which somebody else can write down what is read (common practice, no source).
pub const WORDS_A_MINUTE: usize = 20;

/// Most lines that are passed by voice: this program's own limit, no source.
pub const MOST_SPOKEN: usize = 20;

/// The bulletin to be read out.
///
/// # Errors
/// How many lines it would have, where that is more than [`MOST_SPOKEN`].
pub fn bulletin_voice(bulletin: &Bulletin, spelling: &Spelling) -> Result<String, usize> {
    let lines = spoken_lines(bulletin, spelling);
    if lines.len() > MOST_SPOKEN {
        return Err(lines.len());
    }
    let words: usize = lines.iter().map(|line| line.split_whitespace().count()).sum();
    let seconds = (words * 60).div_ceil(WORDS_A_MINUTE);
    let mut text = format!(
        "{} bulletin {}: to be read out as it stands, a line at a time; go on when the line was read back\n",
        bulletin.plan, bulletin.to
    );
    // Writing to a string cannot fail.
    let _ = writeln!(
        text,
        "{}, {words} words: {} min {:02} s at {WORDS_A_MINUTE} words a minute, as long again for the read-back\n",
        crate::ground::plural(lines.len(), "line"),
        seconds / 60,
        seconds % 60
    );
    for (number, line) in (1..).zip(lines) {
        let _ = writeln!(text, "{number:>2}  {line}");
    }
    text.push_str("\nExpect each line read back word for word, and the new code of the card at the end.\n");
    Ok(text)
}

fn spoken_lines(bulletin: &Bulletin, spelling: &Spelling) -> Vec<String> {
    let plan = spelled(&bulletin.plan, spelling);
    let from = bulletin.from.map_or_else(String::new, |from| format!(" from edition {}", figures(&from.to_string())));
    let mut lines = vec![format!(
        "Bulletin {} of {plan},{from} to edition {}.",
        figures(&bulletin.to.to_string()),
        figures(&bulletin.to.to_string())
    )];
    lines.extend(bulletin.lines.iter().map(|line| statement(line, spelling)));
    for (paper, old, new) in &bulletin.codes {
        lines.push(format!("Code of {paper}: strike {}, write {}.", letters(old, spelling), letters(new, spelling)));
    }
    if bulletin.beside > 0 {
        lines.push(format!(
            "{} more are not passed on the air: ask the coordinator.",
            figures(&bulletin.beside.to_string())
        ));
    }
    lines.push(format!(
        "End of bulletin {}. Write edition {} on your card.",
        figures(&bulletin.to.to_string()),
        figures(&bulletin.to.to_string())
    ));
    lines
}

fn statement(line: &Statement, spelling: &Spelling) -> String {
    let subject = match line.subject.strip_prefix("no. ").and_then(|rest| rest.split_once(' ')) {
        Some((row, name)) => format!("Number {}, {}", figures(row), spelled(name, spelling)),
        None => spelled(&line.subject, spelling),
    };
    match (&line.old, line.new.as_str()) {
        (Some(_), "no more") => format!("{subject}: strike all of it."),
        (Some(old), new) if old == "not there" => format!("{subject}: new: {}.", said(new)),
        (Some(old), new) if old == "not said" => format!("{subject}: {}: write {}.", line.fact, said(new)),
        (Some(old), new) => format!("{subject}: {}: strike {}, write {}.", line.fact, said(old), said(new)),
        (None, new) => format!("{subject}: {}.", said(new)),
    }
}

/// A name and how it is spelled: `CMD 1, I spell Charlie Mike Delta figure 1`.
fn spelled(name: &str, spelling: &Spelling) -> String {
    let mut words = Vec::new();
    for c in name.chars().filter(|c| c.is_alphanumeric()) {
        if c.is_ascii_digit() {
            words.push(format!("figure {c}"));
        } else {
            words.extend(c.to_uppercase().map(|letter| spelling.word(letter)));
        }
    }
    format!("{name}, I spell {}", words.join(" "))
}

fn letters(code: &str, spelling: &Spelling) -> String {
    code.chars().map(|letter| spelling.word(letter)).collect::<Vec<_>>().join(" ")
}

/// Units as they are said.
const UNITS: [(&str, &str); 4] = [("MHz", "megahertz"), ("kHz", "kilohertz"), ("Hz", "hertz"), ("W", "watts")];

/// A value as it is said: figures one by one, a point by its word, units in full.
fn said(value: &str) -> String {
    let words = value.split(' ').map(|word| {
        let (word, comma) = word.strip_suffix(',').map_or((word, ""), |word| (word, ","));
        let unit = UNITS.iter().find(|(short, _)| *short == word).map(|(_, whole)| (*whole).to_owned());
        let has_figures = word.chars().any(|c| c.is_ascii_digit());
        let said = unit.unwrap_or_else(|| if has_figures { figures(word) } else { word.to_owned() });
        format!("{said}{comma}")
    });
    words.collect::<Vec<_>>().join(" ")
}

/// `146.3550` -> `1 4 6 decimal 3 5 5 0`.
fn figures(number: &str) -> String {
    let mut words: Vec<String> = Vec::new();
    for c in number.chars() {
        match c {
            '.' => words.push("decimal".to_owned()),
            '-' => words.push("dash".to_owned()),
            '+' => words.push("plus".to_owned()),
            c if c.is_ascii_digit() => words.push(c.to_string()),
            c => match words.last_mut().filter(|last| !last.chars().all(|c| c.is_ascii_digit())) {
                Some(last) if last != "decimal" => last.push(c),
                _ => words.push(c.to_string()),
            },
        }
    }
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::{figures, said};

    #[test]
    fn figures_are_said_one_by_one_and_units_in_full() {
        for (value, words) in [
            ("146.3550 MHz", "1 4 6 decimal 3 5 5 0 megahertz"),
            ("103.5 Hz", "1 0 3 decimal 5 hertz"),
            ("off", "off"),
            ("DCS 023", "DCS 0 2 3"),
            ("send 146.520 MHz, mode FM", "send 1 4 6 decimal 5 2 0 MHz, mode FM"),
        ] {
            assert_eq!(said(value), words.replace("MHz,", "megahertz,"), "{value}");
        }
        assert_eq!(figures("12"), "1 2");
    }
}
