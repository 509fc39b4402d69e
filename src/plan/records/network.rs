//! Networks of repeaters.

use super::{Repeater, words_of};
use crate::ground::{At, Id, Span, Words};
use crate::plan::reference::Ref;
use crate::plan::terms::Linking;
use crate::source::record;

record! {
    /// `[[network]]`: repeaters that are linked, so that each sends what any of them hears.
    #[derive(Clone, Debug)]
    pub struct Network = "network" {
        /// Unique among networks, as `ring`; made of its name when left out.
        id: At<Id>,
        /// Name as known, as `Valley Ring`; the id's words when left out.
        name: At<Words> = words_of(&id),
        /// The repeaters that are linked, two at least, as `cold-ridge`.
        members: At<Vec<At<Ref<Repeater>>>>,
        /// How they are linked, as `radio`.
        linked: At<Linking>,
        /// Whether it falls apart without the internet, as `true`; as `linked` says when left out.
        needs_internet: At<bool> = linked.value == Linking::Internet,
        /// The record.
        span: Span,
    }
}

impl Network {
    /// Whether a repeater is one of it.
    #[must_use]
    pub fn has(&self, repeater: &Ref<Repeater>) -> bool {
        self.members.value.iter().any(|member| member.value == *repeater)
    }
}
