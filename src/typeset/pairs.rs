//! Letters of ASCII, the signs and the joined letters of everyday print by table: how wide each is beside each other. The shaper is asked
//! for each pair once.
//!
//! No rule of our cuts looks at more than two of these letters at once, nor at what script stands around them: the test below has
//! the shaper set all threes. Where a pair becomes anything but its two letters, the text is left to the shaper.

use super::shaping::shape;
use crate::sheet::{Face, Glyph};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicI16, Ordering};

const FIRST: u8 = b' ';
const ASCII: usize = (b'~' - FIRST) as usize + 1;
/// What our cuts set as one letter.
const JOINED: [&str; 2] = ["fi", "fl"];
/// With which both begin, and what follows.
const JOINING: u8 = b'f';
const JOINED_TO: [u8; 2] = *b"il";
/// Signs of figures and of print.
const SIGNS: [&str; 8] = ["\u{2013}", "\u{b0}", "\u{b1}", "\u{2212}", "\u{201c}", "\u{201d}", "\u{d7}", "\u{b7}"];
const COUNT: usize = ASCII + JOINED.len() + SIGNS.len();

/// How far the pen moves over the first of two letters that are each what they are by themselves; else one of these, thirty times as far
/// as over any letter. Sixteen bits: the table of a cut is looked into for every letter, and so stays near the processor.
const UNASKED: i16 = i16::MIN;
const OTHER: i16 = i16::MAX;

/// The letters of one cut.
struct Pairs {
    face: Face,
    alone: Vec<Option<Glyph>>,
    /// Whoever asks first writes what the shaper says, which is the same for all.
    beside: Vec<AtomicI16>,
}

impl Pairs {
    /// Those of a cut, for all threads.
    fn of(face: Face) -> Option<&'static Self> {
        static ALL: [OnceLock<Pairs>; Face::ALL.len()] = [const { OnceLock::new() }; Face::ALL.len()];
        let place = Face::ALL.iter().position(|known| *known == face)?;
        ALL.get(place).map(|pairs| pairs.get_or_init(|| Self::new(face)))
    }

    fn new(face: Face) -> Self {
        let one = |letter: &str| match shape(letter, face).as_slice() {
            [glyph] if is_plain(glyph, letter) && glyph.face == face => Some(*glyph),
            _ => None,
        };
        let beside = (0..COUNT * COUNT).map(|_| AtomicI16::new(UNASKED)).collect();
        Self { face, alone: letters().map(|letter| one(&letter)).collect(), beside }
    }

    fn width(&self, text: &str) -> Option<i64> {
        let mut letters = Letters::of(text, false);
        let Some(first) = letters.next() else { return Some(0) };
        let (mut place, mut width) = (first.place?, 0);
        // A pair of the table is one of letters that the table has.
        for next in letters {
            let next = next.place?;
            width += i64::from(self.before(place, next)?);
            place = next;
        }
        let last = (*self.alone.get(place)?)?;
        Some(width + i64::from(last.advance))
    }

    fn glyphs(&self, text: &str) -> Option<Vec<Glyph>> {
        let mut glyphs = Vec::with_capacity(text.len());
        self.each(text, |at, alone, advance| {
            glyphs.push(Glyph { at: u32::try_from(at).unwrap_or(u32::MAX), advance, ..alone });
        })?;
        Some(glyphs)
    }

    fn advances(&self, text: &str) -> Advances {
        let mut advances = Vec::with_capacity(text.len());
        let (mut moved, mut unknown) = (0, 0);
        let mut letters = Letters::of(text, true);
        let mut letter = letters.next();
        while let Some(PairLetter { place, length }) = letter {
            let following = letters.next();
            let alone = place.and_then(|place| *self.alone.get(place)?).map(|alone| i64::from(alone.advance));
            unknown += u32::from(alone.is_none());
            let here = Advance { moved, alone: alone.unwrap_or_default(), unknown, joined: unknown };
            let next = following.as_ref().map(|next| self.before(place?, next.place?));
            match next.flatten() {
                Some(advance) => moved += i64::from(advance),
                None => unknown += u32::from(next.is_some()),
            }
            // What begins or ends between letters that are joined is left to the shaper.
            let inside = Advance { unknown: here.unknown + 1, joined: u32::MAX, ..here };
            advances.extend(std::iter::repeat_n(inside, length - 1));
            advances.push(Advance { joined: unknown, ..here });
            letter = following;
        }
        Advances(advances)
    }

    fn each(&self, text: &str, mut take: impl FnMut(usize, Glyph, i16)) -> Option<()> {
        let mut letters = Letters::of(text, false);
        let (mut at, mut letter) = (0, letters.next());
        while let Some(PairLetter { place, length }) = letter {
            let (place, next) = (place?, letters.next());
            let alone = (*self.alone.get(place)?)?;
            let advance = match &next {
                Some(next) => self.before(place, next.place?)?,
                None => alone.advance,
            };
            take(at, alone, advance);
            (at, letter) = (at + length, next);
        }
        Some(())
    }

    /// How far the pen moves over a letter before another.
    #[inline]
    fn before(&self, letter: usize, next: usize) -> Option<i16> {
        let known = self.beside.get(letter * COUNT + next)?;
        let advance = match known.load(Ordering::Relaxed) {
            UNASKED => self.ask(letter, next, known),
            advance => advance,
        };
        (advance != OTHER).then_some(advance)
    }

    #[cold]
    fn ask(&self, letter: usize, next: usize, known: &AtomicI16) -> i16 {
        let advance = self.shaped(letter, next);
        known.store(advance, Ordering::Relaxed);
        advance
    }

    /// What the shaper makes of two letters.
    fn shaped(&self, letter: usize, next: usize) -> i16 {
        let alone = |place: usize| self.alone.get(place).copied().flatten();
        let text: String = [letter, next].into_iter().filter_map(letter_at).collect();
        let shaped = shape(&text, self.face);
        let (Some(one), Some(two), [first, second]) = (alone(letter), alone(next), shaped.as_slice()) else {
            return OTHER;
        };
        let is_one = *first == Glyph { advance: first.advance, ..one };
        let is_two = *second == Glyph { at: u32::from(one.length), ..two };
        if is_one && is_two { first.advance } else { OTHER }
    }
}

/// All letters of the table, each in its place.
fn letters() -> impl Iterator<Item = String> {
    (0..COUNT).filter_map(letter_at)
}

/// The letter in a place of the table.
fn letter_at(place: usize) -> Option<String> {
    match place.checked_sub(ASCII) {
        None => u8::try_from(place).ok().map(|ascii| char::from(FIRST + ascii).to_string()),
        Some(other) => JOINED.iter().chain(&SIGNS).nth(other).map(|letter| (*letter).to_owned()),
    }
}

/// A text by the letters of the table.
struct Letters<'a> {
    text: &'a str,
    /// Of the next letter, in bytes.
    at: usize,
    /// Whether a space that holds two words together is one that does not.
    is_held: bool,
}

/// A letter of a text.
struct PairLetter {
    /// In the table; none for one that is not there.
    place: Option<usize>,
    /// In bytes.
    length: usize,
}

impl<'a> Letters<'a> {
    const fn of(text: &'a str, is_held: bool) -> Self {
        Self { text, at: 0, is_held }
    }

    /// What is no letter of ASCII by itself.
    fn other(&self, first: u8) -> Option<PairLetter> {
        let rest = self.text.get(self.at..)?;
        if self.is_held && rest.starts_with('\u{a0}') {
            return Some(PairLetter { place: Some(0), length: '\u{a0}'.len_utf8() });
        }
        let (joined, signs) = ((ASCII..).zip(JOINED), (ASCII + JOINED.len()..).zip(SIGNS));
        let known = joined.chain(signs).find(|(_, other)| rest.starts_with(*other));
        let known = known.map(|(place, other)| PairLetter { place: Some(place), length: other.len() });
        known.or_else(|| Some(PairLetter { place: place(first), length: rest.chars().next()?.len_utf8() }))
    }
}

impl Iterator for Letters<'_> {
    type Item = PairLetter;

    #[inline]
    fn next(&mut self) -> Option<PairLetter> {
        let bytes = self.text.as_bytes();
        let first = *bytes.get(self.at)?;
        let may_join = || bytes.get(self.at + 1).is_some_and(|next| JOINED_TO.contains(next));
        let letter = match place(first) {
            place @ Some(_) if first != JOINING || !may_join() => PairLetter { place, length: 1 },
            _ => self.other(first)?,
        };
        self.at += letter.length;
        Some(letter)
    }
}

/// Where a letter of ASCII stands in the table.
fn place(letter: u8) -> Option<usize> {
    (FIRST..=b'~').contains(&letter).then(|| usize::from(letter - FIRST))
}

/// How wide a text is, in font units. None where the shaper has to say it.
pub(super) fn width(text: &str, face: Face) -> Option<i64> {
    Pairs::of(face)?.width(text)
}

/// The glyphs of a text. None where the shaper has to say them.
pub(super) fn glyphs(text: &str, face: Face) -> Option<Vec<Glyph>> {
    Pairs::of(face)?.glyphs(text)
}

/// How wide any part of a text is. A space that holds two words together is set as one that does not.
pub(super) fn advances(text: &str, face: Face) -> Advances {
    Pairs::of(face).map(|pairs| pairs.advances(text)).unwrap_or_default()
}

/// How far the pen has moved at each byte of a text.
#[derive(Default)]
pub(super) struct Advances(Vec<Advance>);

#[derive(Clone, Copy)]
struct Advance {
    /// Over all letters before this one.
    moved: i64,
    /// Over this one, where nothing follows it.
    alone: i64,
    /// Letters up to this one, and pairs before it, that the shaper has to set.
    unknown: u32,
    /// The same with the pair that begins here.
    joined: u32,
}

impl Advances {
    /// How wide the letters from one byte to before another are, in font units. None where the shaper has to say it.
    pub fn width(&self, from: usize, to: usize) -> Option<i64> {
        let Some(last) = to.checked_sub(1).filter(|last| *last >= from) else { return Some(0) };
        let (first, last) = (self.0.get(from)?, self.0.get(last)?);
        let before = from.checked_sub(1).and_then(|before| self.0.get(before)).map_or(0, |before| before.joined);
        (last.unknown == before).then_some(last.moved - first.moved + last.alone)
    }
}

/// Whether a glyph stands for a whole letter, and nowhere but on the line.
fn is_plain(glyph: &Glyph, letter: &str) -> bool {
    glyph.id != 0 && (glyph.dx, glyph.dy, glyph.at) == (0, 0, 0) && usize::from(glyph.length) == letter.len()
}

#[cfg(test)]
mod tests {
    use super::{JOINED, JOINED_TO, JOINING, Letters, Pairs, letters};
    use crate::sheet::Face;
    use crate::typeset::shaping::shape;

    const FACES: [Face; 4] = [Face::Regular, Face::Medium, Face::SemiBold, Face::Bold];

    /// For each two letters a text of every three that begins with them and that the table sets; how many threes that makes.
    fn agree(letters: &[String]) -> usize {
        let mut threes = 0;
        for face in FACES {
            let pairs = Pairs::of(face).unwrap();
            for (a, b) in letters.iter().flat_map(|a| letters.iter().map(move |b| (a, b))) {
                let of = |c: &String| [a.as_str(), b, c].concat();
                let set: Vec<String> = letters.iter().map(of).filter(|three| pairs.width(three).is_some()).collect();
                threes += set.len();
                // Parted by a sign that joins no letter, so that the table sets all of them at once.
                let text = set.join(" ");
                assert_eq!(pairs.glyphs(&text), Some(shape(&text, face)), "{face:?} {text}");
            }
        }
        threes
    }

    #[test]
    fn the_table_and_the_shaper_agree_on_all_threes() {
        let letters: Vec<String> = letters().collect();
        // Figures and signs by themselves are of no script.
        let is_letter = |letter: &String| letter.starts_with(|c: char| c.is_alphabetic());
        let signs: Vec<String> = letters.iter().filter(|letter| !is_letter(letter)).cloned().collect();
        for letters in [letters, signs] {
            let threes = agree(&letters);
            let all = FACES.len() * letters.len().pow(3);
            // The others have a pair that is joined otherwise.
            assert!(threes * 10 > all * 9, "{threes} of {all} threes by the table");
        }
    }

    /// Else the table would hold letters for nothing, and their words were still left to the shaper.
    #[test]
    fn every_letter_of_the_table_is_one_in_every_cut() {
        for (face, letter) in FACES.into_iter().flat_map(|face| letters().map(move |letter| (face, letter))) {
            assert!(Pairs::of(face).unwrap().width(&letter).is_some(), "{face:?} {letter}");
            assert_eq!(Letters::of(&letter, false).count(), 1, "{letter}");
            let joins = |letters: &[u8]| letters[0] == JOINING && JOINED_TO.contains(&letters[1]);
            assert!(
                letter.len() == 1 || joins(letter.as_bytes()) || !letter.is_ascii(),
                "{letter} is never looked for"
            );
        }
    }

    /// Every part of a text, with letters that only the shaper sets, pairs that it joins, and spaces that hold words together.
    #[test]
    fn parts_are_as_wide_as_they_are_by_themselves() {
        let text = "WZ7QSB 146.9400\u{a0}MHz, \u{b1}5 kHz: official fi\u{a0}ffl \u{2013} AVATAR To. r\u{e9}seau";
        let pairs = Pairs::of(Face::Regular).unwrap();
        let advances = pairs.advances(text);
        // The places inside the joined letters.
        let of =
            |letters: &str| text.match_indices(letters).map(|(at, all)| at + 1..at + all.len()).collect::<Vec<_>>();
        let joined = JOINED.map(of).concat();
        let edges: Vec<usize> = (0..=text.len()).filter(|at| text.is_char_boundary(*at)).collect();
        let mut by_table = 0;
        for (n, from) in edges.iter().enumerate() {
            for to in &edges[n..] {
                let part = text[*from..*to].replace('\u{a0}', " ");
                let known = advances.width(*from, *to);
                let is_parting = [from, to].into_iter().any(|at| joined.iter().any(|letters| letters.contains(at)));
                assert_eq!(known, pairs.width(&part).filter(|_| !is_parting || from == to), "{part}");
                by_table += usize::from(known.is_some());
            }
        }
        assert!(by_table > 400, "{by_table} parts");
    }

    #[test]
    fn what_is_not_in_the_table_is_left_to_the_shaper() {
        let pairs = Pairs::of(Face::Regular).unwrap();
        assert_eq!(pairs.width("5 \u{3a9}"), None);
        assert_eq!(pairs.width(""), Some(0));
        let shaped = shape("WZ7QSB 146.9400", Face::Regular);
        assert_eq!(pairs.width("WZ7QSB 146.9400"), Some(shaped.iter().map(|glyph| i64::from(glyph.advance)).sum()));
    }
}
