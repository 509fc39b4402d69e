//! Nets.

use super::{Channel, Post};
use crate::ground::{At, Id, Span, Words};
use crate::plan::reference::Ref;
use crate::source::{Meant, Reading, record};

record! {
    /// `[[net]]`: stations on one channel following a procedure.
    #[derive(Clone, Debug)]
    pub struct Net = "net" {
        /// Unique among nets.
        id: At<Id>,
        /// Name as printed.
        name: At<Words>,
        /// Name as said.
        spoken: At<Words>,
        /// What it is for.
        purpose: Option<At<Words>>,
        /// Channels in the order in which they are tried.
        legs: Legs,
        /// When to move from one to the next, where the channel's row does not say it.
        trigger: Option<At<Words>>,
        /// When nobody answers on the last one: where to listen, and when.
        rejoin: Option<At<Words>>,
        /// The post that controls it.
        control: Option<At<Ref<Post>>>,
        /// The record.
        span: Span,
    }

    /// A net's channels, as written.
    pub struct WrittenLegs = "legs" {
        /// A channel's id.
        primary: At<Ref<Channel>>,
        /// A channel's id.
        alternate: Option<At<Ref<Channel>>>,
        /// A channel's id.
        contingency: Option<At<Ref<Channel>>>,
        /// A channel's id.
        emergency: Option<At<Ref<Channel>>>,
    }
}

/// A net's channels in the order in which they are tried: those written.
#[derive(Clone, Debug)]
pub struct Legs(Vec<Leg>);

/// One of a net's channels.
#[derive(Clone, Debug)]
pub struct Leg {
    /// `primary`, `alternate`, `contingency` or `emergency`.
    pub name: &'static str,
    /// The channel.
    pub channel: At<Ref<Channel>>,
}

impl Meant for Legs {
    type Written = WrittenLegs;

    fn mean(written: WrittenLegs, _: &mut Reading<'_>) -> Option<Self> {
        let legs = [
            ("primary", Some(written.primary)),
            ("alternate", written.alternate),
            ("contingency", written.contingency),
            ("emergency", written.emergency),
        ];
        Some(Self(legs.into_iter().filter_map(|(name, channel)| Some(Leg { name, channel: channel? })).collect()))
    }
}

impl std::ops::Deref for Legs {
    type Target = [Leg];
    fn deref(&self) -> &[Leg] {
        &self.0
    }
}

impl<'a> IntoIterator for &'a Legs {
    type Item = &'a Leg;
    type IntoIter = std::slice::Iter<'a, Leg>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}
