//! What is to be printed, and what somebody answers for.

use super::{Member, Net};
use crate::ground::caps::{COPIES, SERIAL};
use crate::ground::{At, Audience, Day, Id, Span, Words};
use crate::plan::notations::{WaiverReason, WaiverSubject};
use crate::plan::reference::Ref;
use crate::plan::terms::{Each, Variant};
use crate::source::{Whole, record};

record! {
    /// `[[document]]`: one thing to print.
    #[derive(Clone, Debug)]
    pub struct DocumentOrder = "document" {
        /// Unique among documents, and the name of its file, as `card`; made of its kind when left out.
        id: At<Id>,
        /// The kind of document, one of those listed below, as `channel-card`.
        kind: At<Words>,
        /// A layout's name, or a layout file of the plan's folder, as `fold-8`; the kind's own when left out.
        layout: Option<At<Words>>,
        /// For large print, for night, or dense; none of these when left out.
        variant: Option<At<Variant>>,
        /// Who may read it: what is closed to them is not on it; coordinator when left out.
        audience: At<Audience> = Audience::Coordinator,
        /// Whether each member or place gets a copy of its own, or each message a sheet of its form; once when left out.
        each: At<Each> = Each::Once,
        /// Whether the copies for all members or places stand in one file, in the order in which a stack is cut; false
        /// when left out.
        together: Option<At<bool>>,
        /// Paper, as `letter`; the profile's when left out.
        paper: Option<At<Words>>,
        /// The form to print, one of the plan's or of the program's, as `message`; only the kind form takes one, no
        /// other when left out.
        form: Option<At<Id>>,
        /// The net that a form is for, whose name and channels it then has, as `command`; a form without values of a net
        /// takes none, and no net when left out.
        net: Option<At<Ref<Net>>>,
        /// How many copies, of a form; as many as the form says, or 1, when left out.
        copies: Option<At<Copies>>,
        /// The number of the first copy of a form, from which the others count on, behind the code of the place or the
        /// call sign whose copies they are, as `1`; not numbered when left out.
        serial: Option<At<Serial>>,
        /// The record.
        span: Span,
    }

    /// `[[accept]]`: a finding that somebody answers for.
    #[derive(Clone, Debug)]
    pub struct Accept = "accept" {
        /// The finding's name, as `unusual-shift`.
        finding: At<Words>,
        /// Exactly the records that the finding is about, as `repeater/bay`.
        on: At<Vec<At<WaiverSubject>>>,
        /// What the finding says, word by word, as `repeater Bay has its input +600 kHz from 146.880 MHz`: one that says something
        /// else is not accepted; whatever it says, with a warning, when left out.
        says: Option<At<String>>,
        /// Why it may stay, as `coordinated so in 1994`.
        reason: At<WaiverReason>,
        /// The member who answers for it.
        by: At<Ref<Member>>,
        /// Last day of the waiver, compared with the edition's day of issue, as `2027-06-01`.
        until: At<Day>,
        /// The record.
        span: Span,
    }
}

/// The number of a numbered copy.
pub type Serial = Whole<u32, { SERIAL.least }, { SERIAL.most }, true>;

/// How often a document is printed.
pub type Copies = Whole<u16, { COPIES.least }, { COPIES.most }>;
