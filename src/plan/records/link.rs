//! Links between two channels.

use super::{Channel, Place, words_of};
use crate::ground::{At, CallSign, Finding, Id, Power, Words};
use crate::plan::reference::Ref;
use crate::plan::rules::LINK_WITHOUT_PAIR;
use crate::source::{Partly, Reading, SettledBy, record};

record! {
    /// `[[link]]`: a radio that sends on each of two channels what it hears on the other.
    #[derive(Clone, Debug)]
    pub struct Link = "link" {
        /// Unique among links, as `yard`; made of its name when left out.
        id: At<Id>,
        /// Call sign that it identifies with, as `WZ7QRA`.
        call: At<CallSign>,
        /// Name as known, as `Yard Link`; the id's words when left out.
        name: At<Words> = words_of(&id),
        /// Where it stands; nowhere known, so that no site counts it, when left out.
        place: Option<At<Ref<Place>>>,
        /// The two channels that it joins, as `local`.
        joins: [At<Ref<Channel>>; 2] = &id,
        /// Transmitter output; 50 W is taken where a site is reckoned when left out.
        power: Option<At<Power>>,
    }
}

impl Partly for [At<Ref<Channel>>; 2] {
    type Written = At<Vec<At<Ref<Channel>>>>;
}

/// Two different channels of the link of this id.
impl SettledBy<&At<Id>> for [At<Ref<Channel>>; 2] {
    fn settle(written: At<Vec<At<Ref<Channel>>>>, by: &At<Id>, of: &mut Reading<'_>) -> Option<Self> {
        let pair = Self::try_from(written.value).ok().filter(|[one, other]| one.value != other.value);
        if pair.is_none() {
            let what = format!("link {} joins something else than two channels", by.value);
            let finding = Finding::new(&LINK_WITHOUT_PAIR, written.span, what).label("not two channels");
            of.found.push(finding.help("name two channels of the plan by their ids, each with its own frequencies"));
        }
        pair
    }
}
