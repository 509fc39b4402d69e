//! Nets.

use super::{Channel, Meeting, Post};
use crate::ground::{At, Id, Lapse, Span, Words};
use crate::plan::reference::Ref;
use crate::source::{Meant, Reading, record};

record! {
    /// `[[net]]`: stations on one channel following a procedure.
    #[derive(Clone, Debug)]
    pub struct Net = "net" {
        /// Unique among nets, as `command`; made of its name when left out.
        id: At<Id>,
        /// Name as printed, as `Command net`.
        name: At<Words>,
        /// Name as said on the air, as `Command Net`; as printed when left out.
        spoken: At<Words> = name.clone(),
        /// What it is for, as `All stations`; nothing is printed when left out.
        purpose: Option<At<Words>>,
        /// Channels in the order in which they are tried.
        legs: Legs,
        /// Further channels on which it meets at the same time, joined with the primary one by a network or a link, as `med`; none
        /// when left out.
        also: Vec<At<Ref<Channel>>>,
        /// When to move from one of its channels to the next, where the channel's row does not say it, as `no answer
        /// for 2 minutes`; nothing is printed when left out.
        trigger: Option<At<Words>>,
        /// Where to listen, and when, when nobody answers on the last channel either, as `5 minutes on CMD 1 at each
        /// full hour`; a finding asks for it when left out.
        rejoin: Option<At<Words>>,
        /// When it meets, and on which channel where one is for the day and another for the night; nothing is printed when left
        /// out.
        meetings as "schedule": Vec<Meeting>,
        /// The post that controls it, as `eoc`; no post when left out.
        control: Option<At<Ref<Post>>>,
        /// The post that takes over when net control is silent, as `gate`; the net script says that nobody is named when left out.
        alternate_control: Option<At<Ref<Post>>>,
        /// After how long a silence it takes over, as `5 min`; the net script says that the time is unknown when left out.
        control_after: Option<At<Lapse>>,
        /// The record.
        span: Span,
    }

    /// A net's channels, as written.
    pub struct WrittenLegs = "legs" {
        /// The channel on which it meets, as `cmd`.
        primary: At<Ref<Channel>>,
        /// The channel after the primary one, as `tac`; none when left out.
        alternate: Option<At<Ref<Channel>>>,
        /// The channel after the alternate one; none when left out.
        contingency: Option<At<Ref<Channel>>>,
        /// The channel of last resort; none when left out.
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
