//! The records as written: the plan format, and by the same types its JSON Schema.
//!
//! Every field is optional here: what must be there is asked when the record is understood, so that a missing key never hides a wrong one.

use crate::ground::{Audience, Day, Id, Words};
use crate::source::Cell;
use schemars::JsonSchema;
use std::collections::BTreeMap;

use super::terms::{Each, LocalTime, Variant, WaiverSubject};

pub use super::written_people::*;
pub use super::written_radio::*;

/// A field: absent, refused, or a value with its place.
pub type Field<T> = Option<Cell<T>>;

/// Declares records as written: serde reads them, schemars describes them.
macro_rules! written_records {
    ($($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident: $type:ty,)* })*) => {$(
        $(#[$doc])*
        #[derive(Clone, Debug, Default, serde::Deserialize, schemars::JsonSchema)]
        #[serde(rename_all = "kebab-case", deny_unknown_fields, default)]
        pub struct $name { $($(#[$field_doc])* pub $field: Field<$type>,)* }
    )*};
}
pub(super) use written_records;

written_records! {
    /// `[plan]`: what the plan is and where its parts are.
    WrittenHead {
        /// Full title.
        title: Words,
        /// Printed on every panel and spoken with the edition; at most 12 characters.
        short: Words,
        /// The team's name.
        team: Words,
        /// Country profile: law, band plan, words, dates, paper. An id, or a .toml file of the plan's folder.
        profile: Words,
        /// State or province of the team by ISO 3166-2, as US-MT: some limits depend on it.
        region: Words,
        /// Whether everything in the plan is invented, call signs too: a demonstration. Every foot then says so.
        invented: bool,
        /// Time zone by name, as America/Denver.
        time_zone: Words,
        /// Further files; patterns allowed, never outside the plan's folder.
        include: Vec<Cell<String>>,
        /// The roster file and how its headings map to a member's keys.
        roster: WrittenRoster,
        /// A file of other teams' frequencies and how its headings map to a neighbour's keys.
        neighbours: WrittenRoster,
    }
    /// The roster file.
    WrittenRoster {
        /// File name.
        file: String,
        /// A member's key to the heading in the file.
        columns: BTreeMap<String, Cell<String>>,
    }
    /// `[edition]`: which edition this is.
    WrittenEdition {
        /// Counts up with every issue.
        number: u32,
        /// Day of issue.
        issued: Day,
        /// First day on which it counts.
        valid_from: Day,
        /// Day by which it must be checked again.
        review_by: Day,
        /// A member's id.
        prepared_by: Id,
        /// A member's id.
        approved_by: Id,
    }
    /// `[incident]`: for the blocks of incident forms.
    WrittenIncident {
        /// Name of the incident.
        name: Words,
        /// Its number.
        number: Words,
        /// Operational period from, local time.
        from: LocalTime,
        /// Operational period to, local time.
        to: LocalTime,
        /// Whether it is an exercise: every sheet then says so at head and foot.
        exercise: bool,
    }
    /// `[[form]]`: something to write on, in reading order.
    WrittenForm {
        /// Unique among forms.
        id: Id,
        /// Its title.
        title: Words,
        /// Its own edition.
        edition: Words,
        /// The form that it builds on.
        base: Words,
        /// Who answers for it.
        owner: Words,
        /// How it is to be read aloud or filled in, in one sentence.
        reading: Words,
        /// Lines of fields.
        line: Vec<Cell<WrittenFormLine>>,
    }
    /// Fields side by side.
    WrittenFormLine {
        /// Left to right.
        field: Vec<Cell<WrittenFormField>>,
    }
    /// A field to fill in.
    WrittenFormField {
        /// Number in reading order; left out for blocks outside it.
        number: u16,
        /// Printed small in its corner.
        label: Words,
        /// Printed after the label.
        help: Words,
        /// Twelfths of the width; 12 when left out.
        share: u8,
        /// Writing lines; 1 when no other kind is written.
        lines: u8,
        /// Boxes to tick.
        ticks: Vec<Cell<Words>>,
        /// Boxes for single words: how many a line.
        words: u8,
        /// Lines of word boxes.
        word_lines: u8,
        /// A ruled table's columns.
        columns: Vec<Cell<WrittenFormColumn>>,
        /// Its least number of rows.
        rows: u8,
        /// Whether rows fill the page.
        fill: bool,
    }
    /// A column of a ruled table.
    WrittenFormColumn {
        /// Its heading.
        heading: Words,
        /// Twelfths of the width.
        share: u8,
    }
    /// `[[document]]`: one thing to print.
    WrittenDocument {
        /// Unique among documents; the name of the file.
        id: Id,
        /// The document kind.
        kind: Words,
        /// A layout's name, or a layout file of the plan's folder; the kind's own when left out.
        layout: Words,
        /// large-print, night or dense.
        variant: Variant,
        /// Who may read it; coordinator when left out.
        audience: Audience,
        /// member, place or once.
        each: Each,
        /// Whether the copies for all members or places stand in one file, in the order in which a stack is cut.
        together: bool,
        /// letter or a4; the profile's when left out.
        paper: Words,
        /// A form's id, for the kind form.
        form: Id,
        /// Copies, for forms.
        copies: u16,
    }
    /// `[[accept]]`: a finding that somebody answers for.
    WrittenAccept {
        /// The finding's name.
        finding: Words,
        /// The exact subjects, as channel/cmd.
        on: Vec<Cell<WaiverSubject>>,
        /// Why.
        reason: Words,
        /// A member's id.
        by: Id,
        /// Compared with edition.issued.
        until: Day,
    }
}

/// A whole plan, for the JSON Schema alone: what may stand at the top of a file.
#[derive(JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
#[expect(dead_code, reason = "only its schema is used")]
pub struct WrittenPlan {
    plan: Option<WrittenHead>,
    edition: Option<WrittenEdition>,
    incident: Option<WrittenIncident>,
    include: Option<Vec<String>>,
    repeater: Option<Vec<WrittenRepeater>>,
    channel: Option<Vec<WrittenChannel>>,
    gateway: Option<Vec<WrittenGateway>>,
    link: Option<Vec<WrittenLink>>,
    place: Option<Vec<WrittenPlace>>,
    member: Option<Vec<WrittenMember>>,
    agreement: Option<Vec<WrittenAgreement>>,
    neighbour: Option<Vec<WrittenNeighbour>>,
    pool: Option<Vec<WrittenPool>>,
    radio: Option<Vec<WrittenRadio>>,
    net: Option<Vec<WrittenNet>>,
    post: Option<Vec<WrittenPost>>,
    duty: Option<Vec<WrittenDuty>>,
    form: Option<Vec<WrittenForm>>,
    document: Option<Vec<WrittenDocument>>,
    accept: Option<Vec<WrittenAccept>>,
}
