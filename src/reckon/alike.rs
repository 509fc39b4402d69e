//! Whether two spoken names can be taken for each other on a poor signal.
//!
//! Word by word: Double Metaphone (L. Philips, The double metaphone search algorithm, C/C++ Users Journal 2000), as a published
//! library implements it, or one letter of difference. Both are measures of English; a name in another language is judged by it all the same.

use rphonetic::DoubleMetaphone;
use unicode_normalization::UnicodeNormalization;

/// Letters of a word at least before one letter of difference counts: `One` and `Two` are short and quite unlike.
const LONG: usize = 4;

/// A spoken name, taken apart once for many comparisons.
#[derive(Clone, Debug)]
pub struct Spoken {
    words: Vec<Word>,
}

/// A word and how it sounds; digits have no sound of their own here.
#[derive(Clone, PartialEq, Eq, Debug)]
struct Word {
    text: String,
    sounds: Option<[String; 2]>,
}

impl Spoken {
    /// Takes a name apart.
    #[must_use]
    pub fn new(name: &str) -> Self {
        let encoder = DoubleMetaphone::default();
        let word = |text: &str| {
            let letters = plain(text);
            let sounds = (!letters.is_empty()).then(|| encoder.double_metaphone(&letters));
            Word { text: text.to_lowercase(), sounds: sounds.map(|code| [code.primary(), code.alternate()]) }
        };
        Self { words: name.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(word).collect() }
    }

    /// Why two names can be confused, in words; none where they cannot, or are the same name.
    #[must_use]
    pub fn alike(&self, other: &Self) -> Option<&'static str> {
        if self.words.len() != other.words.len() {
            return None;
        }
        let mut is_heard_alike = true;
        let mut is_another_name = false;
        for (a, b) in self.words.iter().zip(&other.words).filter(|(a, b)| a.text != b.text) {
            is_another_name = true;
            if sounds(a, b) {
                continue;
            }
            is_heard_alike = false;
            if !is_near(a, b) {
                return None;
            }
        }
        let how = if is_heard_alike { "sound alike" } else { "differ by one letter" };
        is_another_name.then_some(how)
    }
}

/// The letters of a word without their marks: the encoder knows A to Z alone, and fails on others. Nothing for another script.
fn plain(text: &str) -> String {
    text.nfd().filter(char::is_ascii_alphabetic).collect()
}

fn sounds(a: &Word, b: &Word) -> bool {
    let (Some(a), Some(b)) = (&a.sounds, &b.sounds) else { return false };
    a.iter().any(|code| !code.is_empty() && b.contains(code))
}

/// Whether one letter more, less or another one makes one word of the other, by what both begin and end with.
fn is_near(a: &Word, b: &Word) -> bool {
    let (short, long) = (a.text.len().min(b.text.len()), a.text.len().max(b.text.len()));
    if short < LONG || long - short > 1 {
        return false;
    }
    let same = |(x, y): &(u8, u8)| x == y;
    let begin = a.text.bytes().zip(b.text.bytes()).take_while(same).count();
    let end = a.text.bytes().rev().zip(b.text.bytes().rev()).take_while(same).count();
    begin + end + 1 >= long
}

#[cfg(test)]
mod tests {
    use super::Spoken;

    /// Main and Maine, Aid 2 and Aid 3: the trade's own examples.
    #[test]
    fn names_of_the_trade_are_told_apart_or_not() {
        for (one, other, alike) in [
            ("Main", "Maine", true),
            ("Aid Two", "Aid Three", false),
            ("Alder", "Elder", true),
            ("Mercy", "Mersey", true),
            ("Knight", "Night", true),
            ("Tactical One", "Tactical Two", false),
            ("Medical Four", "Medical Five", false),
            ("Shelter One", "Shelter One", false),
            ("Command", "Medical", false),
            ("Cold Ridge", "Gold Ridge", true),
            ("Été", "Ete", true),
            ("Été", "Hiver", false),
            ("Ωμέγα", "Άλφα", false),
        ] {
            assert_eq!(Spoken::new(one).alike(&Spoken::new(other)).is_some(), alike, "{one} / {other}");
        }
    }
}
