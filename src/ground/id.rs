//! Names of records.

use super::Refusal;
use std::fmt;

/// The `id` of a record: small letters, digits and hyphens, unique in its kind.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Id(String);

impl Id {
    /// Longest id, in characters; longer ones do not fit a message.
    pub const LONGEST: usize = 40;

    /// Reads an id.
    ///
    /// # Errors
    /// When it is empty, over 40 characters, or holds anything but `a-z`, `0-9` and single hyphens inside.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let is_plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        let fits = !text.is_empty() && text.len() <= Self::LONGEST;
        if fits && text.chars().all(is_plain) && !text.starts_with('-') && !text.ends_with('-') && !text.contains("--")
        {
            return Ok(Self(text.to_owned()));
        }
        let refusal = Refusal::new(format!(
            "\"{text}\" is not an id: small letters, digits and hyphens, {} characters at most",
            Self::LONGEST
        ));
        Err(match Self::made_of(text) {
            Some(id) => refusal.write(id),
            None => refusal,
        })
    }

    /// The id nearest to a text, where it has the length of one: in small letters, with single hyphens for all that an id does not have.
    fn made_of(text: &str) -> Option<String> {
        let id = hyphened(text);
        (!id.is_empty() && id.len() <= Self::LONGEST).then_some(id)
    }

    /// The id of a record that is called so and has no other: as many of its words as an id may have. None where no letter of it may
    /// stand in an id.
    #[must_use]
    pub fn of_name(name: &str) -> Option<Self> {
        let whole = hyphened(name);
        let short = whole.get(..Self::LONGEST).map_or(whole.as_str(), |most| {
            let is_cut = whole.as_bytes().get(Self::LONGEST).is_some_and(|next| *next != b'-');
            if is_cut { most.rsplit_once('-').map_or(most, |(words, _)| words) } else { most }
        });
        Self::parse(short).ok()
    }

    /// The id as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// A text in small letters, with single hyphens for all that an id does not have.
fn hyphened(text: &str) -> String {
    let small = text.to_lowercase();
    let parts = small.split(|c: char| !c.is_ascii_alphanumeric()).filter(|part| !part.is_empty());
    parts.collect::<Vec<_>>().join("-")
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A record as findings, waivers and comparison write it: `channel/cmd`.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Subject {
    /// The kind of the record: `channel`.
    pub kind: &'static str,
    /// Its id.
    pub id: Id,
}

impl Subject {
    /// Names a record.
    #[must_use]
    pub fn new(kind: &'static str, id: &Id) -> Self {
        Self { kind, id: id.clone() }
    }
}

impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.kind, self.id)
    }
}

#[cfg(test)]
mod tests {
    use super::Id;

    #[test]
    fn an_id_is_made_of_as_many_words_of_a_name_as_it_may_have() {
        let of = |name: &str| Id::of_name(name).map(|id| id.to_string());
        assert_eq!(of("CMD 1 (Command)").as_deref(), Some("cmd-1-command"));
        assert_eq!(of("WZ7QRA/P").as_deref(), Some("wz7qra-p"));
        let long = "Sorrel River County Operations Centre Annex";
        assert_eq!(of(long).as_deref(), Some("sorrel-river-county-operations-centre"));
        assert_eq!(of(&"a".repeat(50)).as_deref(), Some("a".repeat(40).as_str()));
        let exact = format!("{} b", "a".repeat(40));
        assert_eq!(of(&exact).as_deref(), Some("a".repeat(40).as_str()));
        assert_eq!((of("---"), of("\u{41a}\u{430}")), (None, None));
    }
}
