//! The number or letter of a block, by which it is called on the air, and stretches of blocks that are read one after the other.

use crate::ground::Refusal;
use crate::source::{plain_field, text_values};
use std::fmt;

/// A capital letter that stands for a block.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Letter(char);

impl Letter {
    /// Reads `A`.
    ///
    /// # Errors
    /// When it is not one letter from A to Z.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let mut letters = text.trim().chars();
        match (letters.next(), letters.next()) {
            (Some(letter), None) if letter.is_ascii_uppercase() => Ok(Self(letter)),
            (Some(letter), None) if letter.is_ascii_lowercase() => {
                Err(Refusal::new(format!("\"{text}\" is a small letter"))
                    .write(letter.to_ascii_uppercase().to_string()))
            }
            _ => Err(Refusal::new(format!("\"{text}\" is not one letter from A to Z")).help("write it as \"A\"")),
        }
    }
}

impl fmt::Display for Letter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

/// What a block is called by: its number, or its letter.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum BlockMark {
    /// A number.
    Number(u16),
    /// A letter.
    Letter(Letter),
}

impl BlockMark {
    fn parse(text: &str) -> Option<Self> {
        let number = text.parse::<u16>().ok().filter(|number| (1..=999).contains(number));
        number.map(Self::Number).or_else(|| Letter::parse(text).ok().map(Self::Letter))
    }

    /// Whether two stand in one order: numbers among numbers, letters among letters.
    #[must_use]
    pub const fn is_like(self, other: Self) -> bool {
        matches!((self, other), (Self::Number(_), Self::Number(_)) | (Self::Letter(_), Self::Letter(_)))
    }
}

impl fmt::Display for BlockMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(number) => number.fmt(f),
            Self::Letter(letter) => letter.fmt(f),
        }
    }
}

/// Blocks that are read one after the other: `A to D`, `1 to 8`, or one alone.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct ReadStretch {
    /// The first.
    pub first: BlockMark,
    /// The last.
    pub last: BlockMark,
}

impl ReadStretch {
    /// Reads `A to D`.
    ///
    /// # Errors
    /// When it is neither a block nor two of one kind, the lower first.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let (first, last) = text.split_once(" to ").unwrap_or((text, text));
        let marks = BlockMark::parse(first.trim()).zip(BlockMark::parse(last.trim()));
        let stretch = marks.filter(|(first, last)| first.is_like(*last) && first <= last);
        stretch.map(|(first, last)| Self { first, last }).ok_or_else(|| {
            Refusal::new(format!("\"{text}\" is not a stretch of blocks"))
                .help("write it as \"A to D\", \"1 to 8\" or \"7\"")
        })
    }
}

impl fmt::Display for ReadStretch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.first == self.last {
            true => self.first.fmt(f),
            false => write!(f, "{} to {}", self.first, self.last),
        }
    }
}

fn no_number(example: &str) -> impl Fn(&str) -> Refusal + use<'_> {
    move |written| {
        Refusal::new(format!("the number {written} stands where a text is wanted"))
            .help(format!("write it as \"{example}\""))
    }
}

text_values! {
    Letter, "BlockLetter", "a capital letter", "A", |written| no_number("A")(written);
    ReadStretch, "ReadStretch", "blocks that are read one after the other", "1 to 8", |written| no_number("1 to 8")(written);
}

plain_field!(Letter);
