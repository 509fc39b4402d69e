//! Authority in other services than amateur.

use super::{Channel, Member};
use crate::ground::{At, Day, Id, Power, Span, Words};
use crate::plan::reference::Ref;
use crate::source::record;
use crate::tables::Service;
use std::sync::Arc;

record! {
    /// `[[agreement]]`: authority to use a service or some of its channels, from who holds the licence.
    #[derive(Clone, Debug)]
    pub struct Agreement = "agreement" {
        /// Unique among agreements, as `sheriff`; made of the partner's name when left out.
        id: At<Id>,
        /// Who gives it, as `County Sheriff`.
        with: At<Words>,
        /// The radio service that it opens, as `interop`.
        service: At<Arc<Service>>,
        /// The channels that it opens; all of the service when left out.
        channels: Vec<At<Ref<Channel>>>,
        /// The members whom it covers; everybody when left out.
        members: Vec<At<Ref<Member>>>,
        /// Day on which it was signed: it gives nothing before, as `2026-02-10`.
        signed: At<Day>,
        /// Last day on which it counts, as `2027-02-10`.
        expires: At<Day>,
        /// The most power that it allows, at the transmitter; what the service allows when left out.
        max: Option<At<Power>>,
        /// The record.
        span: Span,
    }
}
