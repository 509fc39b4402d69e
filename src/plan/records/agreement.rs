//! Authority in other services than amateur.

use super::{Channel, Member};
use crate::ground::{At, Day, Id, Power, Span, Words};
use crate::plan::reference::Ref;
use crate::plan::terms::Service;
use crate::source::record;

record! {
    /// `[[agreement]]`: authority to use a service or some of its channels, from who holds the licence.
    #[derive(Clone, Debug)]
    pub struct Agreement = "agreement" {
        /// Unique among agreements.
        id: At<Id>,
        /// Who gives it.
        with: At<Words>,
        /// Radio service.
        service: At<Service>,
        /// Channels' ids; all of the service when left out.
        channels: Vec<At<Ref<Channel>>>,
        /// Members' ids; everybody when left out.
        members: Vec<At<Ref<Member>>>,
        /// Day on which it was signed.
        signed: At<Day>,
        /// Day on which it ends.
        expires: At<Day>,
        /// The most power.
        max: Option<At<Power>>,
        /// The record.
        span: Span,
    }
}
