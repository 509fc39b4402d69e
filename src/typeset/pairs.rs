//! Letters of ASCII by table: how wide each is beside each other. The shaper is asked for each pair once.
//!
//! No rule of our cuts looks at more than two of these letters at once, nor at what script stands around them: the test below has
//! the shaper set all threes. Where a pair becomes anything but its two letters, the text is left to the shaper.

use super::shaping::shape;
use crate::sheet::{Face, Glyph};

const FIRST: u8 = b' ';
const COUNT: usize = (b'~' - FIRST) as usize + 1;

/// What two letters beside each other are.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum PairSetting {
    Unasked,
    /// Each what it is by itself; how far the pen moves over the first.
    Advance(i32),
    /// Something else.
    Other,
}

/// The letters of one cut.
pub(super) struct Pairs {
    face: Face,
    alone: Vec<Option<Glyph>>,
    beside: Vec<PairSetting>,
}

impl Pairs {
    pub fn new(face: Face) -> Self {
        let one = |place: usize| {
            let letter = char::from(FIRST + u8::try_from(place).unwrap_or_default());
            match shape(letter.encode_utf8(&mut [0; 4]), face).as_slice() {
                [glyph] if is_plain(glyph) && glyph.face == face => Some(*glyph),
                _ => None,
            }
        };
        Self { face, alone: (0..COUNT).map(one).collect(), beside: vec![PairSetting::Unasked; COUNT * COUNT] }
    }

    /// How wide a text is, in font units. None where the shaper has to say it.
    pub fn width(&mut self, text: &str) -> Option<i64> {
        let mut width = 0;
        self.each(text, |_, _, advance| width += i64::from(advance))?;
        Some(width)
    }

    /// The glyphs of a text. None where the shaper has to say them.
    pub fn glyphs(&mut self, text: &str) -> Option<Vec<Glyph>> {
        let mut glyphs = Vec::with_capacity(text.len());
        self.each(text, |at, alone, advance| {
            glyphs.push(Glyph { at: u32::try_from(at).unwrap_or(u32::MAX), advance, ..alone });
        })?;
        Some(glyphs)
    }

    /// How wide any part of a text is. A space that holds two words together is set as one that does not.
    pub fn advances(&mut self, text: &str) -> Advances {
        let mut advances = Advances::default();
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
            advances.0.extend(std::iter::repeat_n(here, c.len_utf8()));
        }
        advances
    }

    fn each(&mut self, text: &str, mut take: impl FnMut(usize, Glyph, i32)) -> Option<()> {
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
    fn before(&mut self, letter: u8, next: u8) -> Option<i32> {
        let known = place(letter)? * COUNT + place(next)?;
        let beside = match *self.beside.get(known)? {
            PairSetting::Unasked => self.ask(letter, next),
            beside => beside,
        };
        *self.beside.get_mut(known)? = beside;
        match beside {
            PairSetting::Advance(advance) => Some(advance),
            PairSetting::Unasked | PairSetting::Other => None,
        }
    }

    fn ask(&self, letter: u8, next: u8) -> PairSetting {
        let alone = |letter: u8| self.alone.get(place(letter)?).copied().flatten();
        let text = String::from_iter([char::from(letter), char::from(next)]);
        let shaped = shape(&text, self.face);
        let (Some(one), Some(two), [first, second]) = (alone(letter), alone(next), shaped.as_slice()) else {
            return PairSetting::Other;
        };
        let is_one = *first == Glyph { advance: first.advance, ..one };
        let is_two = *second == Glyph { at: 1, ..two };
        if is_one && is_two { PairSetting::Advance(first.advance) } else { PairSetting::Other }
    }
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
            let mut pairs = Pairs::new(face);
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
        let mut pairs = Pairs::new(Face::Regular);
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
        let mut pairs = Pairs::new(Face::Regular);
        assert_eq!(pairs.width("5 \u{b1}"), None);
        assert_eq!(pairs.width(""), Some(0));
        let shaped = shape("WZ7QSB 146.9400", Face::Regular);
        assert_eq!(pairs.width("WZ7QSB 146.9400"), Some(shaped.iter().map(|glyph| i64::from(glyph.advance)).sum()));
    }
}
