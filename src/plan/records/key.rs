//! Keys by which the files of an edition are signed.

use super::Member;
use crate::ground::{At, PublicKey, Span};
use crate::plan::reference::Ref;
use crate::source::record;

record! {
    /// `[[key]]`: the public half of a key by which a member signs editions.
    #[derive(Clone, Debug)]
    pub struct SigningKey = "key" {
        /// The member who has the secret half, as `qra`.
        by: At<Ref<Member>>,
        /// The public half that `fieldsheaf key` wrote; never the secret one.
        public: At<PublicKey>,
        /// The record.
        span: Span,
    }
}
