//! A bulletin as plain lines for a slow data mode, each with its own check, and its reading back.
//!
//! `NN words CC`: the line's number, its words, two letters of check. The first line says plan and editions and how many lines there are,
//! the last one ends it. All is printable 7-bit text of at most 72 characters a line, so that any mode and any mailbox passes it.

use crate::compose::{Bulletin, Statement};
use std::fmt::Write;
use unicode_normalization::UnicodeNormalization;

/// Most characters of a line: what the oldest printers and mailboxes take (common practice, no source).
pub const LINE: usize = 72;

/// Most lines: their numbers have two figures. What takes more is given out as a sheet.
pub const MOST_LINES: usize = 99;

/// What the check counts in: the largest prime of which two letters tell every value (26 x 26 = 676).
///
/// A line is a number whose figures are its characters, in this base's powers. Over a prime, a character that is another than it was
/// changes the sum by (c - c') x power, which is never a multiple of it, since both are less; so does any two neighbors changing places.
const PRIME: u32 = 673;

/// The base of the powers: no root of 1 short of 672 steps, so that no two of the 72 places count alike.
const BASE: u32 = 5;

/// What is wrong with a line of a bulletin that was received.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Damage {
    /// Which line of the text, from 1.
    pub line: usize,
    /// In words.
    pub what: String,
}

/// A bulletin that was received whole.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Received {
    /// The plan's short name.
    pub plan: String,
    /// The edition that it changes; none where it is a whole list.
    pub from: Option<u32>,
    /// The edition that it makes.
    pub to: u32,
    /// What its lines say, those that went on over several put together.
    pub lines: Vec<String>,
}

/// The bulletin as lines to send. None where it takes more lines than there are numbers for: how many it would take.
///
/// # Errors
/// The number of its lines, when that is more than [`MOST_LINES`].
pub fn bulletin_text(bulletin: &Bulletin) -> Result<String, usize> {
    let mut lines: Vec<String> = bulletin.lines.iter().flat_map(|line| wrapped(&told(line))).collect();
    for (paper, old, new) in &bulletin.codes {
        lines.extend(wrapped(&format!("code of {paper}: {old} > {new}")));
    }
    if bulletin.beside > 0 {
        lines.extend(wrapped(&format!("not told on the air: {}; ask the coordinator", bulletin.beside)));
    }
    let count = lines.len() + 2;
    if count > MOST_LINES {
        return Err(count);
    }
    let from = bulletin.from.map_or_else(|| "list".to_owned(), |from| format!("from {from}"));
    let head = format!("{} {from} to {}, {count} lines", plain(&bulletin.plan), bulletin.to);
    let end = format!("end of {} {}", plain(&bulletin.plan), bulletin.to);
    let mut text = String::new();
    for (number, line) in (1..).zip(std::iter::once(head).chain(lines).chain([end])) {
        let line = format!("{number:02} {line}");
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{line} {}", check(&line));
    }
    Ok(text)
}

fn told(line: &Statement) -> String {
    match &line.old {
        Some(old) => format!("{}: {} {old} > {}", line.subject, line.fact, line.new),
        None => format!("{}: {}", line.subject, line.new),
    }
}

/// Printable 7-bit text: letters without their marks; what has no such letter is a question mark, and no space stands beside another.
fn plain(text: &str) -> String {
    let letters = text.nfd().filter(|c| !unicode_normalization::char::is_combining_mark(*c));
    let letters = letters.map(|c| match c {
        '\u{a0}' => ' ',
        '\u{2212}' | '\u{2013}' => '-',
        c if c == ' ' || c.is_ascii_graphic() => c,
        _ => '?',
    });
    letters.collect::<String>().split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Words on as many lines as they take; every further one begins with `+`. A longer word is parted.
fn wrapped(text: &str) -> Vec<String> {
    // The number, the check and their spaces.
    let room = LINE - 6;
    let mut lines: Vec<String> = Vec::new();
    for word in plain(text).split(' ') {
        let mut word = word;
        loop {
            match lines.last_mut().filter(|last| last.len() + 1 + word.len() <= room) {
                Some(last) => {
                    last.push(' ');
                    last.push_str(word);
                    break;
                }
                None => {
                    let start = if lines.is_empty() { "" } else { "+ " };
                    // All of it is 7-bit, so any place parts letters.
                    let (head, rest) = word.split_at(word.len().min(room - start.len()));
                    lines.push(format!("{start}{head}"));
                    word = rest;
                    if word.is_empty() {
                        break;
                    }
                }
            }
        }
    }
    lines
}

/// Two letters that a line with one other character does not have.
fn check(line: &str) -> String {
    let sum = line
        .bytes()
        .fold((0, 1), |(sum, power), byte| ((sum + (u32::from(byte) + 1) * power) % PRIME, power * BASE % PRIME));
    let letter = |place: u32| char::from(b'A' + u8::try_from(place).unwrap_or(0));
    [letter(sum.0 / 26), letter(sum.0 % 26)].iter().collect()
}

/// Reads what was received. Lines may end as on any system; nothing else may be another.
///
/// # Errors
/// Every line that is not as it was sent, or is not there.
pub fn read_bulletin(text: &str) -> Result<Received, Vec<Damage>> {
    let mut damage = Vec::new();
    let mut lines: Vec<&str> = Vec::new();
    for (place, line) in (1..).zip(text.lines()) {
        match sound(line) {
            Some((number, words)) if number == place => lines.push(words),
            Some((number, _)) => {
                damage.push(Damage {
                    line: place,
                    what: format!("this is line {number}; line {place} stands elsewhere, or is missing"),
                });
            }
            None => damage.push(Damage { line: place, what: "its two letters do not fit what it says".to_owned() }),
        }
    }
    if !damage.is_empty() {
        return Err(damage);
    }
    let count = lines.len();
    let fault = |what: &str| vec![Damage { line: count.max(1), what: what.to_owned() }];
    let (Some((first, rest)), Some(last)) = (lines.split_first(), lines.last()) else {
        return Err(fault("there is no line"));
    };
    let (plan, from, to, told) = head(first).ok_or_else(|| fault("the first line says no plan and no editions"))?;
    if told != count {
        return Err(fault(&format!("{told} lines were sent, and {count} are here")));
    }
    if *last != format!("end of {plan} {to}") {
        return Err(fault("this is not the end that the first line announces"));
    }
    let mut said: Vec<String> = Vec::new();
    for line in rest.iter().take(rest.len().saturating_sub(1)) {
        match (line.strip_prefix("+ "), said.last_mut()) {
            (Some(more), Some(last)) => {
                last.push(' ');
                last.push_str(more);
            }
            _ => said.push((*line).to_owned()),
        }
    }
    Ok(Received { plan, from, to, lines: said })
}

/// Number and words of a line whose check fits.
fn sound(line: &str) -> Option<(usize, &str)> {
    let (said, letters) = line.rsplit_once(' ')?;
    if line.len() > LINE || letters != check(said) || !said.bytes().all(|byte| byte == b' ' || byte.is_ascii_graphic())
    {
        return None;
    }
    let (number, words) = said.split_once(' ')?;
    Some((Some(number).filter(|number| number.len() == 2)?.parse().ok()?, words))
}

/// `SORREL from 7 to 8, 6 lines`, or `SORREL list to 8, 40 lines`.
fn head(line: &str) -> Option<(String, Option<u32>, u32, usize)> {
    let (editions, count) = line.rsplit_once(", ")?;
    let (before, to) = editions.rsplit_once(" to ")?;
    let count = count.strip_suffix(" lines")?.parse().ok()?;
    let (plan, from) = match before.strip_suffix(" list") {
        Some(plan) => (plan, None),
        None => {
            let (plan, from) = before.rsplit_once(" from ")?;
            (plan, Some(from.parse().ok()?))
        }
    };
    Some((plan.to_owned(), from, to.parse().ok()?, count))
}

#[cfg(test)]
mod tests {
    use super::{LINE, bulletin_text, check, read_bulletin};
    use crate::compose::{Bulletin, Statement};

    fn sample() -> Bulletin {
        let line = |subject: &str, new: &str| Statement {
            subject: subject.to_owned(),
            fact: "send tone".to_owned(),
            old: Some("103.5 Hz".to_owned()),
            new: new.to_owned(),
        };
        let long = "x".repeat(150);
        let lines = vec![
            line("no. 1 CMD 1", "100.0 Hz"),
            line("no. 2 Zo\u{eb} \u{2013} \u{416}", "88.5 Hz"),
            line("no. 3", &long),
        ];
        let codes = vec![("card".to_owned(), "KXHL".to_owned(), "HXDL".to_owned())];
        Bulletin { plan: "SORREL".to_owned(), from: Some(7), to: 8, lines, beside: 2, codes }
    }

    #[test]
    fn lines_are_short_and_plain_and_read_back_as_they_were_sent() {
        let text = bulletin_text(&sample()).unwrap();
        assert!(text.lines().all(|line| line.len() <= LINE && line.is_ascii()), "{text}");
        let read = read_bulletin(&text).unwrap();
        assert_eq!((read.plan.as_str(), read.from, read.to), ("SORREL", Some(7), 8));
        assert_eq!(read.lines[0], "no. 1 CMD 1: send tone 103.5 Hz > 100.0 Hz");
        assert_eq!(read.lines[1], "no. 2 Zoe - ?: send tone 103.5 Hz > 88.5 Hz");
        assert_eq!(read.lines[2].replace(' ', "").len(), "no.3:sendtone103.5Hz>".len() + 150);
        assert_eq!(read.lines[3..], ["code of card: KXHL > HXDL", "not told on the air: 2; ask the coordinator"]);
        assert_eq!(read_bulletin(&text.replace('\n', "\r\n")), Ok(read));
    }

    /// By hand: "A" is 65, so 66 x 1 = 66 = 2 x 26 + 14; "AB" adds 67 x 5 = 335, together 401 = 15 x 26 + 11.
    #[test]
    fn the_check_is_reckoned_as_it_is_written_down() {
        assert_eq!((check("A").as_str(), check("AB").as_str()), ("CO", "PL"));
    }

    #[test]
    fn more_lines_than_have_numbers_are_refused_with_their_count() {
        let mut bulletin = sample();
        bulletin.lines = vec![bulletin.lines[0].clone(); 120];
        assert_eq!(bulletin_text(&bulletin), Err(124));
    }
}
