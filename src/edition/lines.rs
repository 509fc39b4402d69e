//! A bulletin as lines of 7-bit text, each with two letters by which damage shows: for packet, slow data modes, and typing from paper.
//!
//! A line is a number that counts up, what it says, and two letters. The letters are the [`check_value`] of all before them, so that
//! one character that is another, left out or doubled is always noticed, and so are two that are exchanged. The number is among what is
//! checked and must be the next, so that lines exchanged, left out or doubled are noticed too. The last line has the number of lines
//! and a code of all of them, which notices most of what is wrong in more ways.

use crate::ground::check_value;
use crate::tables::{Spelling, Tables};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use unicode_normalization::UnicodeNormalization;

/// Most characters of a line: what terminals of packet stations show, and 80 less a quoting mark at each end (common practice, no source).
pub const LINE: usize = 72;

/// What a line has beside its words: two spaces and two letters; the number comes on top.
const BESIDE_WORDS: usize = 4;

/// What begins the last line.
const END: &str = "END, ";

/// What begins a line that goes on where the one before it stopped.
const GOES_ON: &str = "+ ";

/// Sentences as numbered lines with their letters and a last one that closes them.
#[must_use]
pub fn to_lines(sentences: &[String]) -> String {
    let spelling = &Tables::built_in().spelling;
    let mut bodies: Vec<String> = sentences.iter().flat_map(|sentence| wrapped(&plain(sentence))).collect();
    let code = code_of(bodies.iter().map(String::as_str), spelling);
    bodies.push(format!("{END}{} LINES, CODE {code}", bodies.len() + 1));
    let line = |(number, body): (usize, &String)| {
        let line = format!("{number:02} {body}");
        format!("{line} {}\n", letters(&line, spelling))
    };
    (1..).zip(&bodies).map(line).collect()
}

/// In capitals of 7-bit text: letters without their accents, a question mark for what has no such letter.
#[must_use]
pub fn plain(sentence: &str) -> String {
    let bare = sentence.nfkd().filter(|c| !unicode_normalization::char::is_combining_mark(*c));
    let plain = bare.collect::<String>().to_uppercase();
    let words =
        plain.split_whitespace().map(|word| word.chars().map(|c| if c.is_ascii_graphic() { c } else { '?' }).collect());
    words.collect::<Vec<String>>().join(" ")
}

/// Parts of a sentence that fit on a line, parted between words where that can be.
fn wrapped(sentence: &str) -> Vec<String> {
    // Numbers of four digits: no bulletin has more lines.
    let most = LINE - BESIDE_WORDS - 4 - GOES_ON.len();
    let mut parts: Vec<String> = vec![String::new()];
    for word in sentence.split(' ') {
        for piece in pieces(word, most) {
            match parts.last_mut() {
                Some(last) if last.is_empty() => last.push_str(piece),
                Some(last) if last.len() + 1 + piece.len() <= most => {
                    last.push(' ');
                    last.push_str(piece);
                }
                _ => parts.push(format!("{GOES_ON}{piece}")),
            }
        }
    }
    parts
}

/// A word, or where it is longer than a line its parts: plain text has one byte a letter.
fn pieces(word: &str, most: usize) -> impl Iterator<Item = &str> {
    let count = word.len().div_ceil(most).max(1);
    (0..count).map(move |at| word.get(at * most..word.len().min((at + 1) * most)).unwrap_or_default())
}

/// The two letters of a line.
fn letters(line: &str, spelling: &Spelling) -> String {
    let value = usize::from(check_value(line));
    let all = spelling.read_back_letters();
    [value / all.len().max(1), value % all.len().max(1)].iter().filter_map(|at| all.get(*at)).collect()
}

/// The code of what all lines say: four letters of SHA-256, as a sheet's.
fn code_of<'a>(bodies: impl Iterator<Item = &'a str>, spelling: &Spelling) -> String {
    let mut hash = Sha256::new();
    for body in bodies {
        hash.update(body.as_bytes());
        hash.update(b"\n");
    }
    let hash: [u8; 32] = hash.finalize().into();
    super::read_back::code(&hash, spelling).letters
}

/// Lines that were read back.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct ReadLines {
    /// The sentences by the number of their first line, those alone of which every line is as it was sent; the last line is none.
    pub sentences: BTreeMap<usize, String>,
    /// What the first line says, whether or not its sentence goes on.
    pub first: Option<String>,
    /// What is wrong, in the order of the lines; nothing where all is as it was sent.
    pub faults: Vec<LineFault>,
}

/// What is wrong with lines that were read back.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum LineFault {
    /// The letters do not fit what stands before them.
    Damaged {
        /// Which line of the file, from 1.
        at: usize,
        /// The number that it seems to bear.
        number: Option<usize>,
        /// Whether spaces or tabs are all that is wrong.
        is_spacing: bool,
    },
    /// A line of this number stands where another should.
    OutOfOrder {
        /// Which line of the file.
        at: usize,
        /// Its number.
        number: usize,
    },
    /// No line of this number is there.
    Missing(usize),
    /// The last line is not there, so that nobody knows how many there were.
    NoEnd,
    /// The last line counts another number of lines.
    Count {
        /// What it says.
        said: usize,
        /// How many there are.
        found: usize,
    },
    /// Each line is sound, and all together are not what was sent: one is of another bulletin.
    Foreign,
}

/// Reads lines back. Line ends of any system, spaces at the ends of lines and empty lines say nothing; nor does what stands before the
/// first line and behind the last, as mail has it. Lines all in small letters are read as capitals.
#[must_use]
pub fn read_lines(text: &str) -> ReadLines {
    let spelling = &Tables::built_in().spelling;
    let given: Vec<(usize, String)> =
        (1..).zip(text.lines()).map(|(at, line)| (at, given(line))).filter(|(_, line)| !line.is_empty()).collect();
    let is_line = |(_, line): &(usize, String)| matches!(sound(line, spelling), Some(Ok(_)));
    let first = given.iter().position(is_line).unwrap_or(given.len());
    let last = given.iter().rposition(is_line).map_or(0, |last| last + 1);
    let mut read = LineReader::default();
    for (at, line) in given.get(first..last).unwrap_or_default() {
        match sound(line, spelling) {
            Some(Ok((number, body))) => read.sound(*at, number, body),
            Some(Err(number)) => read.damaged(*at, Some(number), line, spelling),
            None => read.damaged(*at, None, line, spelling),
        }
    }
    // A damaged line at either end is told as such where one is wanted there; all else around the lines is no part of them.
    let head = given.get(..first).filter(|_| !read.bodies.contains_key(&1));
    let is_ended = read.bodies.values().any(|body| ended(body).is_some());
    let tail = given.get(last..).filter(|_| !is_ended);
    for (at, line) in head.into_iter().chain(tail).flatten() {
        if let Some(Err(number)) = sound(line, spelling) {
            read.damaged(*at, Some(number), line, spelling);
        }
    }
    read.end(spelling)
}

fn given(line: &str) -> String {
    let line = line.trim_matches(|c: char| c.is_ascii_whitespace());
    if line.contains(|c: char| c.is_ascii_uppercase()) { line.to_owned() } else { line.to_ascii_uppercase() }
}

/// Number and words of a line whose letters fit; the number alone where they do not; none of what has not the shape of a line.
fn sound<'a>(line: &'a str, spelling: &Spelling) -> Option<Result<(usize, &'a str), usize>> {
    let (own, end) = line.rsplit_once(' ')?;
    let (number, body) = own.split_once(' ')?;
    if number.len() < 2 || number.len() > 4 || !number.bytes().all(|digit| digit.is_ascii_digit()) {
        return None;
    }
    let number = number.parse().ok()?;
    let is_printable = own.bytes().all(|byte| (b' '..=b'~').contains(&byte)) && line.len() <= LINE;
    Some(if is_printable && letters(own, spelling) == end { Ok((number, body)) } else { Err(number) })
}

#[derive(Default)]
struct LineReader<'a> {
    bodies: BTreeMap<usize, &'a str>,
    /// Numbers of lines that stand there damaged.
    damaged: Vec<usize>,
    faults: Vec<LineFault>,
    highest: usize,
}

impl<'a> LineReader<'a> {
    fn sound(&mut self, at: usize, number: usize, body: &'a str) {
        if number <= self.highest || self.bodies.contains_key(&number) {
            self.faults.push(LineFault::OutOfOrder { at, number });
        }
        self.highest = self.highest.max(number);
        self.bodies.entry(number).or_insert(body);
    }

    fn damaged(&mut self, at: usize, number: Option<usize>, line: &str, spelling: &Spelling) {
        let one_space = line.split_whitespace().collect::<Vec<_>>().join(" ");
        let is_spacing = one_space != line && matches!(sound(&one_space, spelling), Some(Ok(_)));
        self.faults.push(LineFault::Damaged { at, number, is_spacing });
        self.damaged.extend(number);
    }

    fn end(mut self, spelling: &Spelling) -> ReadLines {
        let is_whole = self.faults.is_empty();
        let last = self.bodies.last_key_value().and_then(|(number, body)| Some((*number, ended(body)?)));
        // Where the last line is not there, what stands last is the highest that is known.
        let highest = last.as_ref().map_or(self.highest, |(number, _)| *number);
        let is_missing = |number: &usize| !self.bodies.contains_key(number) && !self.damaged.contains(number);
        let missing: Vec<usize> = (1..highest).filter(is_missing).take(MOST_TOLD).collect();
        let is_whole = is_whole && missing.is_empty();
        self.faults.extend(missing.into_iter().map(LineFault::Missing));
        match last {
            None => self.faults.push(LineFault::NoEnd),
            Some((number, (said, _))) if said != number => {
                self.faults.push(LineFault::Count { said, found: number });
            }
            Some((number, (_, code))) if is_whole => {
                let own = code_of(self.bodies.range(..number).map(|(_, body)| *body), spelling);
                self.faults.extend((own != code).then_some(LineFault::Foreign));
            }
            Some(_) => {}
        }
        let first = self.bodies.get(&1).map(|body| (*body).to_owned());
        ReadLines { sentences: sentences(&self.bodies), first, faults: self.faults }
    }
}

/// How many missing lines are told: a number that was mistyped may be any.
const MOST_TOLD: usize = 20;

/// The count and the code of a last line.
fn ended(body: &str) -> Option<(usize, &str)> {
    let (count, code) = body.strip_prefix(END)?.split_once(" LINES, CODE ")?;
    Some((count.parse().ok()?, code))
}

/// Sentences of which all lines are there.
fn sentences(bodies: &BTreeMap<usize, &str>) -> BTreeMap<usize, String> {
    let mut sentences: BTreeMap<usize, String> = BTreeMap::new();
    for (number, body) in bodies.iter().filter(|(_, body)| ended(body).is_none()) {
        let Some(more) = body.strip_prefix(GOES_ON) else {
            sentences.insert(*number, (*body).to_owned());
            continue;
        };
        let before = number.checked_sub(1).filter(|before| bodies.contains_key(before));
        if let (Some(_), Some((_, sentence))) = (before, sentences.range_mut(..number).next_back()) {
            sentence.push(' ');
            sentence.push_str(more);
        }
    }
    // One that goes on in a line that is not there is not whole.
    let is_cut = |first: &usize| {
        let next = (first + 1..).find(|next| bodies.get(next).is_none_or(|body| !body.starts_with(GOES_ON)));
        next.is_some_and(|next| !bodies.contains_key(&next) && next <= bodies.keys().next_back().copied().unwrap_or(0))
    };
    sentences.retain(|first, _| !is_cut(first));
    sentences
}
