//! What is to be printed, and what somebody answers for.

use super::Member;
use crate::ground::caps::COPIES;
use crate::ground::{At, Audience, Day, Id, Span, Words};
use crate::plan::reference::Ref;
use crate::plan::terms::{Each, Variant, WaiverSubject};
use crate::source::{Whole, record};

record! {
    /// `[[document]]`: one thing to print.
    #[derive(Clone, Debug)]
    pub struct DocumentOrder = "document" {
        /// Unique among documents; the name of the file.
        id: At<Id>,
        /// The document kind.
        kind: At<Words>,
        /// A layout's name, or a layout file of the plan's folder; the kind's own when left out.
        layout: Option<At<Words>>,
        /// large-print, night or dense.
        variant: Option<At<Variant>>,
        /// Who may read it; coordinator when left out.
        audience: At<Audience> = Audience::Coordinator,
        /// member, place or once.
        each: At<Each> = Each::Once,
        /// Whether the copies for all members or places stand in one file, in the order in which a stack is cut.
        together: Option<At<bool>>,
        /// letter or a4; the profile's when left out.
        paper: Option<At<Words>>,
        /// A form's id, for the kind form.
        form: Option<At<Id>>,
        /// Copies, for forms.
        copies: Option<At<Copies>>,
        /// The record.
        span: Span,
    }

    /// `[[accept]]`: a finding that somebody answers for.
    #[derive(Clone, Debug)]
    pub struct Accept = "accept" {
        /// The finding's name.
        finding: At<Words>,
        /// The exact subjects, as channel/cmd.
        on: At<Vec<At<WaiverSubject>>>,
        /// What the finding says, word by word: one that says something else is not accepted.
        says: Option<At<String>>,
        /// Why.
        reason: At<Words>,
        /// A member's id.
        by: At<Ref<Member>>,
        /// Compared with edition.issued.
        until: At<Day>,
        /// The record.
        span: Span,
    }
}

/// How often a document is printed.
pub type Copies = Whole<u16, { COPIES.least }, { COPIES.most }>;
