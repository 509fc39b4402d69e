//! Letters of ASCII by table: how wide each is beside each other. The shaper is asked for each pair once.
//!
//! No rule of our cuts looks at more than two of these letters at once, nor at what script stands around them: the test below has
//! the shaper set all threes. Where a pair becomes anything but its two letters, the text is left to the shaper.

use super::shaping::shape;
use crate::sheet::{Face, Glyph};
use std::sync::OnceLock;
use std::sync::atomic::{AtomicI32, Ordering};

const FIRST: u8 = b' ';
const COUNT: usize = (b'~' - FIRST) as usize + 1;

/// How far the pen moves over the first of two letters that are each what they are by themselves; else one of these.
const UNASKED: i32 = i32::MIN;
const OTHER: i32 = i32::MAX;

/// The letters of one cut.
struct Pairs {
    face: Face,
    alone: Vec<Option<Glyph>>,
    /// Whoever asks first writes what the shaper says, which is the same for all.
    beside: Vec<AtomicI32>,
}

impl Pairs {
    /// Those of a cut, for all threads.
    fn of(face: Face) -> Option<&'static Self> {
        static ALL: [OnceLock<Pairs>; Face::ALL.len()] = [const { OnceLock::new() }; Face::ALL.len()];
        let place = Face::ALL.iter().position(|known| *known == face)?;
        ALL.get(place).map(|pairs| pairs.get_or_init(|| Self::new(face)))
    }

    fn new(face: Face) -> Self {
        let one = |place: usize| {
            let letter = char::from(FIRST + u8::try_from(place).unwrap_or_default());
            match shape(letter.encode_utf8(&mut [0; 4]), face).as_slice() {
                [glyph] if is_plain(glyph) && glyph.face == face => Some(*glyph),
                _ => None,
            }
        };
        let beside = (0..COUNT * COUNT).map(|_| AtomicI32::new(UNASKED)).collect();
        Self { face, alone: (0..COUNT).map(one).collect(), beside }
    }

    fn width(&self, text: &str) -> Option<i64> {
        let mut width = 0;
        self.each(text, |_, _, advance| width += i64::from(advance))?;
        Some(width)
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
        let letter = |c: char| if c == '\u{a0}' { Some(b' ') } else { u8::try_from(c).ok() };
        let mut letters = text.chars().peekable();
        while let Some(c) = letters.next() {
            let own = letter(c);
            let alone = own.and_then(|own| *self.alone.get(place(own)?)?).map(|alone| i64::from(alone.advance));
            unknown += u32::from(alone.is_none());
            let here = Advance { moved, alone: alone.unwrap_or_default(), unknown, joined: unknown };
            let next = letters.peek().map(|next| self.before(own?, letter(*next)?));
            match next.flatten() {
                Some(advance) => moved += i64::from(advance),
                None => unknown += u32::from(next.is_some()),
            }
            let here = Advance { joined: unknown, ..here };
            advances.extend(std::iter::repeat_n(here, c.len_utf8()));
        }
        Advances(advances)
    }

    fn each(&self, text: &str, mut take: impl FnMut(usize, Glyph, i16)) -> Option<()> {
        let mut letters = text.bytes().enumerate().peekable();
        while let Some((at, letter)) = letters.next() {
            let alone = (*self.alone.get(place(letter)?)?)?;
            let advance = match letters.peek() {
                Some((_, next)) => self.before(letter, *next)?,
                None => alone.advance,
            };
            take(at, alone, advance);
        }
        Some(())
    }

    /// How far the pen moves over a letter before another.
    fn before(&self, letter: u8, next: u8) -> Option<i16> {
        let known = self.beside.get(place(letter)? * COUNT + place(next)?)?;
        let mut advance = known.load(Ordering::Relaxed);
        if advance == UNASKED {
            advance = self.ask(letter, next);
            known.store(advance, Ordering::Relaxed);
        }
        // Neither of the two words is a number of 16 bits.
        i16::try_from(advance).ok()
    }

    fn ask(&self, letter: u8, next: u8) -> i32 {
        let alone = |letter: u8| self.alone.get(place(letter)?).copied().flatten();
        let text = String::from_iter([char::from(letter), char::from(next)]);
        let shaped = shape(&text, self.face);
        let (Some(one), Some(two), [first, second]) = (alone(letter), alone(next), shaped.as_slice()) else {
            return OTHER;
        };
        let is_one = *first == Glyph { advance: first.advance, ..one };
        let is_two = *second == Glyph { at: 1, ..two };
        if is_one && is_two { i32::from(first.advance) } else { OTHER }
    }
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

fn place(letter: u8) -> Option<usize> {
    (FIRST..=b'~').contains(&letter).then(|| usize::from(letter - FIRST))
}

fn is_plain(glyph: &Glyph) -> bool {
    glyph.id != 0 && (glyph.dx, glyph.dy, glyph.at, glyph.length) == (0, 0, 0, 1)
}

#[cfg(test)]
mod tests {
    use super::{COUNT, FIRST, Pairs};
    use crate::sheet::Face;
    use crate::typeset::shaping::shape;

    const FACES: [Face; 4] = [Face::Regular, Face::Medium, Face::SemiBold, Face::Bold];

    /// For each two letters a text of every three that begins with them and that the table sets; how many threes that makes.
    fn agree(letters: &[u8]) -> usize {
        let mut threes = 0;
        for face in FACES {
            let pairs = Pairs::of(face).unwrap();
            for (a, b) in letters.iter().flat_map(|a| letters.iter().map(move |b| (*a, *b))) {
                let of = |c: &u8| String::from_utf8(vec![a, b, *c]).unwrap();
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
        let letters: Vec<u8> = (FIRST..).take(COUNT).collect();
        // Figures and signs by themselves are of no script.
        let signs: Vec<u8> = letters.iter().copied().filter(|letter| !letter.is_ascii_alphabetic()).collect();
        for letters in [letters, signs] {
            let threes = agree(&letters);
            let all = FACES.len() * letters.len().pow(3);
            // The others have a pair that is joined.
            assert!(threes * 10 > all * 9, "{threes} of {all} threes by the table");
        }
    }

    /// Every part of a text, with letters that only the shaper sets, pairs that it joins, and spaces that hold words together.
    #[test]
    fn parts_are_as_wide_as_they_are_by_themselves() {
        let text = "WZ7QSB 146.9400\u{a0}MHz, \u{b1}5 kHz: official fi\u{a0}ffl \u{2013} AVATAR To. r\u{e9}seau";
        let pairs = Pairs::of(Face::Regular).unwrap();
        let advances = pairs.advances(text);
        let edges: Vec<usize> = (0..=text.len()).filter(|at| text.is_char_boundary(*at)).collect();
        let mut by_table = 0;
        for (n, from) in edges.iter().enumerate() {
            for to in &edges[n..] {
                let part = text[*from..*to].replace('\u{a0}', " ");
                let width = pairs.width(&part);
                assert_eq!(advances.width(*from, *to), width, "{part}");
                by_table += usize::from(width.is_some());
            }
        }
        assert!(by_table > 400, "{by_table} parts");
    }

    #[test]
    fn what_is_not_in_the_table_is_left_to_the_shaper() {
        let pairs = Pairs::of(Face::Regular).unwrap();
        assert_eq!(pairs.width("5 \u{b1}"), None);
        assert_eq!(pairs.width(""), Some(0));
        let shaped = shape("WZ7QSB 146.9400", Face::Regular);
        assert_eq!(pairs.width("WZ7QSB 146.9400"), Some(shaped.iter().map(|glyph| i64::from(glyph.advance)).sum()));
    }
}
