//! Radio services: rows of the profile, named by plans and asked by the code for what they are, never for which one.

use super::row::Cite;
use crate::ground::{At, Stretch};
use crate::source::{Meant, Reading, record, words_of};
use std::fmt;
use std::sync::Arc;

record! {
    /// A radio service.
    #[derive(Clone, Debug)]
    pub struct Service = "row of a table" {
        /// As plans write it.
        id: String,
        /// As its users call it in a sentence.
        name: String,
        /// As a channel's line says it, where room is short; its name when left out.
        short: Option<String>,
        /// What people write in place of its id.
        also: Vec<String>,
        /// What authority to transmit takes; none where the profile does not say, so that an agreement answers for its own terms.
        authority: Option<Authority>,
        /// Its identification rule in a sentence, where it has one of its own.
        identification: Option<String>,
        /// Shapes of its call signs, `A` for a letter and `0` for a digit; empty when the profile says nothing of them.
        calls: Vec<String>,
        /// What is not settled about an agreement to use somebody's licence of it; none where nothing is in doubt.
        lending: Option<String>,
        /// Whether its channels have names that every agency uses.
        has_standard_names as "standard-names": bool,
        /// Whether it takes equipment that is approved for it.
        takes_approved as "approved-equipment": bool,
        /// Stretches in which the profile lists all of its channels, where it has others elsewhere; empty when it lists all of them.
        whole: Vec<At<Stretch>>,
        /// Where from.
        cite: Cite,
    }
}

words_of! {
    /// What authority to transmit in a service takes.
    pub enum Authority {
        /// A licence class of the profile: the amateur service, whose bands, privileges and band plan the profile has.
        Class = "class",
        /// None: licensed by rule, with a certified radio.
        Anybody = "anybody",
        /// A licence of that service, or an agreement with who holds one.
        Licence = "licence",
        /// An agreement with who holds the licence.
        Agreement = "agreement",
        /// Nothing gives it: a service to listen to.
        Nobody = "nobody",
    }
}

impl Service {
    /// Whether classes, bands and band plan of the profile are its own.
    #[must_use]
    pub fn is_amateur(&self) -> bool {
        self.authority == Some(Authority::Class)
    }

    /// Whether nobody of a team transmits in it, whatever they hold.
    #[must_use]
    pub fn is_listened_to_alone(&self) -> bool {
        self.authority == Some(Authority::Nobody)
    }

    /// What a channel's line calls it.
    #[must_use]
    pub fn short(&self) -> &str {
        self.short.as_deref().unwrap_or(&self.name)
    }

    /// Whether `call` has the shape of its call signs; whatever it is where the profile says nothing of them.
    #[must_use]
    pub fn has_call(&self, call: &str) -> bool {
        let fits = |shape: &String| {
            let is_like = |(wanted, given): (u8, u8)| match wanted {
                b'0' => given.is_ascii_digit(),
                _ => given.is_ascii_uppercase(),
            };
            shape.len() == call.len() && shape.bytes().zip(call.bytes()).all(is_like)
        };
        self.calls.is_empty() || self.calls.iter().any(fits)
    }
}

/// A profile has one row of an id.
impl PartialEq for Service {
    fn eq(&self, other: &Self) -> bool {
        self.id == other.id
    }
}

impl Eq for Service {}

/// As plans write it.
impl fmt::Display for Service {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.id)
    }
}

impl Meant for Arc<Service> {
    type Written = Service;

    fn mean(written: Service, _: &mut Reading<'_>) -> Option<Self> {
        Some(Self::new(written))
    }
}
