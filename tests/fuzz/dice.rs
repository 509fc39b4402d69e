//! Numbers that look random and are the same on every run, and what they do to a text.

/// `SplitMix64`, so that neighbouring seeds have nothing in common.
pub struct Dice(u64);

impl Dice {
    /// The dice of one input.
    pub const fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15))
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number below `limit`; 0 where that is 0.
    pub fn below(&mut self, limit: usize) -> usize {
        usize::try_from(self.next() >> 33).unwrap() % limit.max(1)
    }

    /// True once in `of` times.
    pub fn once_in(&mut self, of: usize) -> bool {
        self.below(of) == 0
    }

    /// One of a list that is not empty.
    pub fn pick<'a, T: ?Sized + AsRef<str>>(&mut self, list: &'a [Box<T>]) -> &'a str {
        list[self.below(list.len())].as_ref().as_ref()
    }

    /// One word of a list that is not empty.
    pub fn word<'a>(&mut self, list: &[&'a str]) -> &'a str {
        list[self.below(list.len())]
    }
}

/// Values at the edge of some reader's range, as TOML.
pub const EDGES: &[&str] = &[
    "0",
    "1",
    "-1",
    "255",
    "256",
    "65535",
    "65536",
    "4294967295",
    "4294967296",
    "9223372036854775807",
    "-9223372036854775808",
    "1.5",
    "-0.0",
    "1e308",
    "nan",
    "inf",
    "true",
    "false",
    "\"\"",
    "\" \"",
    "\"x\"",
    "\"off\"",
    "[]",
    "[[]]",
    "{}",
    "[{}]",
    "[\"\"]",
    "1970-01-01",
    "9999-12-31",
    "0000-01-01",
    "2026-02-28T24:00:00",
    "2026-12-01T00:00:00",
    "2026-12-01T23:59:59.999999999",
    "2026-03-08T02:30:00",
    "2026-12-01T00:00:00Z",
    "\"0 MHz\"",
    "\"300 GHz\"",
    "\"1 Hz\"",
    "\"146.940000 MHz\"",
    "\"1.6 kHz\"",
    "\"-99999 MHz\"",
    "\"+0 Hz\"",
    "\"0.001 W\"",
    "\"1500 W\"",
    "\"99999999999 W\"",
    "\"D023N\"",
    "\"D777I\"",
    "\"50.0 Hz\"",
    "\"CC 15\"",
    "\"NAC FFF\"",
    "\"1750 Hz\"",
    "\"90.0 N 180.0 E\"",
    "\"-90, -180\"",
    "\"DN45\"",
    "\"AA00aa00\"",
    "\"RR99XX99\"",
    "\"12T XR 00000 99999\"",
    "\"999999999999 pt\"",
    "\"0 mm\"",
    "\"0.01 mm\"",
    "\"-1 in\"",
    "\"5000 mm\"",
    "\"1 second\"",
    "\"10 years\"",
    "\"agency/x\"",
    "\"coordinator\"",
    "\"each\"",
    "\"member\"",
    "\"../x\"",
    "\"/dev/zero\"",
    "\"*\"",
    "\"plan.toml\"",
    "\"r.toml\"",
    "\"\u{202e}abc\"",
    "\"e\u{301}\u{300}\u{300}\"",
    "\"\u{fb01}\u{1f1e6}\u{1f1e9}\"",
    "\"\u{a0}\u{2028}\"",
    "\"\\u0000\"",
    "'''\n\n'''",
    "\"05:00-04:59\"",
    "\"mon-sun 00:00-24:00\"",
    "\"2026-12-01 00:00\"",
    "\"11K2F3E\"",
    "\"16K0F3EJN\"",
    "\"2K80J3E\"",
];

/// Bytes that some reader takes for something else.
const BYTES: &[&str] = &[
    "\u{0}",
    "\n",
    "\r\n",
    "\r",
    "\t",
    "\"",
    "'",
    "\"\"\"",
    "'''",
    "[",
    "]",
    "[[",
    "]]",
    "{",
    "}",
    "=",
    ".",
    ",",
    ";",
    "#",
    "\\",
    "\\u",
    "\\U0010FFFF",
    "\u{feff}",
    "\u{202e}",
    "\u{7f}",
    "\u{85}",
    "\u{2029}",
    "é",
    "\u{1f4fb}",
    "\u{301}",
    "-",
    "_",
    " ",
    "a.b.c.d = 1\n",
];

/// A text with one to six changes, as bytes: it need not be text any more. `words` are the language's own.
pub fn mutated(text: &str, words: &[Box<str>], other: &str, dice: &mut Dice) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    for _ in 0..=dice.below(6) {
        change(&mut bytes, words, other, dice);
    }
    bytes
}

fn change(bytes: &mut Vec<u8>, words: &[Box<str>], other: &str, dice: &mut Dice) {
    let at = dice.below(bytes.len() + 1);
    let token = token(bytes, at);
    let line = line(bytes, at);
    match dice.below(13) {
        0 => bytes.truncate(if dice.once_in(4) { at } else { bytes.len() }),
        1 => put(bytes, at..at, dice.word(BYTES).as_bytes()),
        2 => put(bytes, at..at, dice.pick(words).as_bytes()),
        3 | 4 => put(bytes, token, dice.pick(words).as_bytes()),
        5 | 6 => put(bytes, token, dice.word(EDGES).as_bytes()),
        7 => put(bytes, line, b""),
        8 => {
            let copy = bytes[line.clone()].to_vec();
            let times = if dice.once_in(50) { 400 } else { 1 };
            put(bytes, line.start..line.start, &copy.repeat(times));
        }
        9 => {
            let line = self::line(other.as_bytes(), dice.below(other.len() + 1));
            put(bytes, at..at, &other.as_bytes()[line]);
        }
        10 => {
            let end = (at + dice.below(12)).min(bytes.len());
            put(bytes, at..end, b"");
        }
        11 if dice.once_in(20) => {
            let times = 1 << dice.below(13);
            put(bytes, at..at, &dice.word(BYTES).as_bytes().repeat(times));
        }
        _ => {
            let byte = u8::try_from(dice.below(256)).unwrap();
            if let Some(old) = bytes.get_mut(at) {
                *old = byte;
            }
        }
    }
}

fn put(bytes: &mut Vec<u8>, range: std::ops::Range<usize>, new: &[u8]) {
    bytes.splice(range, new.iter().copied());
}

/// The value or word around a place: between quotes, or a run of letters and digits.
fn token(bytes: &[u8], at: usize) -> std::ops::Range<usize> {
    let is_part = |byte: &u8| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'"' | b'.' | b'\'');
    around(bytes, at, is_part)
}

fn line(bytes: &[u8], at: usize) -> std::ops::Range<usize> {
    let range = around(bytes, at, |byte| *byte != b'\n');
    range.start..(range.end + 1).min(bytes.len())
}

fn around(bytes: &[u8], at: usize, is_part: impl Fn(&u8) -> bool) -> std::ops::Range<usize> {
    let start = bytes[..at].iter().rposition(|byte| !is_part(byte)).map_or(0, |last| last + 1);
    let end = bytes[at..].iter().position(|byte| !is_part(byte)).map_or(bytes.len(), |next| at + next);
    start..end
}
