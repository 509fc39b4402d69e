//! All records of a plan: each is declared in one file, and stands once in the list below.

mod agreement;
mod battery;
mod channel;
mod channel_line;
mod document;
mod duty_limits;
mod exercise;
mod form;
mod gateway;
mod head;
mod key;
mod kit;
mod link;
mod meeting;
mod member;
mod message;
mod net;
mod network;
mod one_or_more;
mod path_test;
mod place;
mod pool;
mod post;
mod radio;
mod repeater;
mod signal;
mod standard;
mod station;
mod tones;

pub use agreement::Agreement;
pub use battery::Battery;
pub(super) use channel::number_rows;
pub use channel::{Channel, Draft, Route, Wish};
pub use document::{Accept, Copies, DocumentOrder, Serial};
pub use duty_limits::DutyLimits;
pub use exercise::{Exercise, HeldForm, Inject, Objective, WORDS_A_MINUTE};
pub(super) use form::take_bases;
pub use form::{Form, FormField, FormLine};
pub use gateway::Gateway;
pub(super) use head::Sources;
pub use head::{Edition, Head, Incident};
pub use key::SigningKey;
pub use kit::KitOrder;
pub use link::Link;
pub use meeting::Meeting;
pub use member::{Licence, Member, Phone};
pub use message::Message;
pub use net::{Leg, Net};
pub use network::Network;
pub use one_or_more::OneOrMore;
pub use path_test::PathTest;
pub use place::{Antenna, Contact, Other, Place, Spacing, TransmitLimit};
pub use pool::Pool;
pub use post::{Duty, Post};
pub use radio::Radio;
pub use repeater::{Neighbour, Repeater};
pub use signal::{Evidence, Input, KnownInput, Signal};
pub(super) use standard::fill_standards;
pub use station::{Charging, PartCable, Station, StationPart};
pub use tones::RepeaterTones;

use super::gather::{Gather, RecordShelf};
use super::reference::Record;
use super::register::Register;
use super::sequence::Sequence;
use crate::ground::{At, Audience, Id, Words};
use crate::source::{self, Declared, KeySchemas, Meant, Schemas};
use crate::tables::Profile;
use std::collections::BTreeSet;
use std::sync::Arc;

/// The list of records, each with the keys of which its id is made where none is written, and with the readers for whom its records are. A kind stands in an `Option` where a plan has one of it, in a
/// `Register` where its records have ids, and in a `Sequence`, in the order of the files, where they have none.
macro_rules! records {
    ($($(#[doc = $doc:literal])* $field:ident: $shelf:ident<$type:ident> $(by $($from:literal)+)? => $readers:ident,)*) => {
        /// A whole plan. Registers are sorted by id, so that the order of files changes nothing.
        #[derive(Clone, Default)]
        pub struct Plan {
            $($(#[doc = $doc])* pub $field: $shelf<$type>,)*
            /// Channels, each as its repeater or gateway has it.
            pub channels: Register<Channel>,
            /// Channels that want a frequency of a pool, in file order; they are not among the channels.
            pub wishes: Vec<Wish>,
            /// The profile that `[plan]` names; none when there is no such profile, or it cannot be used.
            pub profile: Option<Arc<Profile>>,
            /// Whether nothing was refused anywhere: rules about what is absent ask this first.
            pub is_whole: bool,
            /// Kinds of which a record was refused.
            pub refused: BTreeSet<String>,
            /// Whether a syntax fault, or what is over a limit, may have swallowed records.
            pub is_cut: bool,
        }

        /// The kinds of records a plan may hold, as written at the top of a file.
        pub const RECORD_KINDS: &[&str] = &[$(<$shelf<$type> as RecordShelf>::KIND,)*];

        /// A record as it would be typed in a TOML file; as it stands where there is no such kind.
        pub(super) fn plain(record: &source::WrittenRecord) -> source::Node {
            $(if record.kind.text == <$shelf<$type> as RecordShelf>::KIND {
                return <$shelf<$type> as RecordShelf>::plain(&record.node);
            })*
            record.node.clone()
        }

        /// Whether a plan may have many records of a kind.
        pub(super) fn is_many(kind: &str) -> bool {
            kinds_of_tables().any(|many| many == kind)
        }

        /// Those of them of which a plan may have many, and so tables.
        pub(super) fn kinds_of_tables() -> impl Iterator<Item = &'static str> {
            [$((<$shelf<$type> as RecordShelf>::KIND, <$shelf<$type> as RecordShelf>::IS_MANY),)*]
                .into_iter()
                .filter_map(|(kind, is_many)| is_many.then_some(kind))
        }

        impl Plan {
            /// Whether every record of these kinds that was written is here: what rules about what is absent ask where other faults
            /// are no concern of theirs. A record of no known kind may be any.
            #[must_use]
            pub fn has_all(&self, kinds: &[&str]) -> bool {
                let is_one = |kind: &String| kinds.contains(&kind.as_str()) || !RECORD_KINDS.contains(&kind.as_str());
                !self.is_cut && !self.refused.iter().any(is_one)
            }

            /// The plan as a reader may reach it: records above them are left out, and their kinds count as not whole.
            #[must_use]
            pub fn open_to(&self, reader: &Audience) -> Self {
                // Who signs the edition is named on every copy; by the call sign alone where the name is closed.
                let signs = |member: &Member| {
                    let edition = self.edition.iter();
                    let mut signers = edition.flat_map(|edition| [&edition.prepared_by, &edition.approved_by]);
                    signers.any(|id| id.value == member.id.value)
                };
                let mut open = Self {
                    $($field: self.$field.of_those(|record| $readers(record, reader)),)*
                    channels: self.channels.clone(),
                    wishes: Vec::new(),
                    profile: self.profile.clone(),
                    refused: self.refused.clone(),
                    ..*self
                };
                open.members = self.members.of_those(|member| those_it_names(member, reader) || signs(member));
                $(if open.$field.count() < self.$field.count() {
                    open.refused.insert(<$shelf<$type> as RecordShelf>::KIND.to_owned());
                })*
                open
            }

            /// Takes a record to the others of its kind. False when there is no such kind.
            pub(super) fn take(&mut self, record: &source::WrittenRecord, gather: &mut Gather<'_>) -> bool {
                $(if record.kind.text == <$shelf<$type> as RecordShelf>::KIND {
                    RecordShelf::take(&mut self.$field, record, gather);
                    return true;
                })*
                false
            }

            /// Looks an id up among the records of a kind: none when one was written that has it, else which ids there are.
            pub(super) fn others(&self, kind: &str, id: &Id) -> Option<Vec<&Id>> {
                $(if kind == <$shelf<$type> as RecordShelf>::KIND {
                    return (!RecordShelf::knows(&self.$field, id)).then(|| RecordShelf::ids(&self.$field));
                })*
                Some(Vec::new())
            }
        }

        $($(with_id!($shelf $type $($from)+);)?)*

        /// The keys of which a record's id is made where none is written.
        pub(super) fn id_from(kind: &str) -> &'static [&'static str] {
            $($(if kind == <$shelf<$type> as RecordShelf>::KIND {
                return &[$($from),+];
            })?)*
            &[]
        }

        /// Describes what may stand at the top of a file.
        pub(super) fn describe(keys: &mut KeySchemas, schemas: &mut Schemas) {
            $(<$shelf<$type> as RecordShelf>::describe(keys, schemas);)*
        }
    };
}

/// Records of a register have an id.
macro_rules! with_id {
    ($shelf:ident $type:ident $($from:literal)+) => {
        impl Record for $type {
            const KIND: &'static str = <<Self as Meant>::Written as Declared>::KIND;
            const ID_FROM: &'static [&'static str] = &[$($from),+];
            fn id(&self) -> &At<Id> {
                &self.id
            }
        }
    };
}

records! {
    /// `[plan]`; none when it is missing or faulty.
    head: Option<Head> => anybody,
    /// `[edition]`; none when it is missing or faulty.
    edition: Option<Edition> => anybody,
    /// `[incident]`, where there is one.
    incident: Option<Incident> => anybody,
    /// Repeaters.
    repeaters: Register<Repeater> by "name" "call" => anybody,
    /// Channels as written, until they are built.
    drafts: Register<Draft> by "name" => nobody,
    /// Gateways.
    gateways: Register<Gateway> by "name" "call" => anybody,
    /// Links between two channels.
    links: Register<Link> by "name" => anybody,
    /// Repeaters that are linked.
    networks: Register<Network> by "name" => anybody,
    /// Places.
    places: Register<Place> by "name" "tactical" => anybody,
    /// Members.
    members: Register<Member> by "call" "name" => those_it_names,
    /// Authority in other services.
    agreements: Register<Agreement> by "with" => the_team,
    /// Other teams' frequencies, in file order.
    neighbours: Sequence<Neighbour> => nobody,
    /// Pools of frequencies.
    pools: Register<Pool> by "id" => nobody,
    /// Radios.
    radios: Register<Radio> by "name" => anybody,
    /// Nets.
    nets: Register<Net> by "name" => anybody,
    /// Posts.
    posts: Register<Post> by "name" => anybody,
    /// Batteries.
    batteries: Register<Battery> by "name" => anybody,
    /// What plugs into what.
    stations: Register<Station> by "name" => anybody,
    /// Paths that were tried, in file order.
    path_tests: Sequence<PathTest> => anybody,
    /// How much duty is too much.
    duty_limits: Option<DutyLimits> => the_team,
    /// Who stands which post, in order of time.
    duties: Sequence<Duty> => the_team,
    /// Keys by which editions are signed, in file order.
    keys: Sequence<SigningKey> => anybody,
    /// Forms, built-in ones not included.
    forms: Register<Form> by "title" => anybody,
    /// `[[exercise]]`, where there is one.
    exercise: Option<Exercise> => anybody,
    /// What the exercise is to show.
    objectives: Register<Objective> by "name" => the_team,
    /// What is brought into the exercise, in file order: with what is expected of players.
    injects: Sequence<Inject> => those_who_lead,
    /// Formal messages.
    messages: Register<Message> by "id" => those_who_lead,
    /// Which editions of forms lie where.
    held_forms: Sequence<HeldForm> => the_team,
    /// What is to be printed.
    documents: Register<DocumentOrder> by "kind" => anybody,
    /// Sets of documents that somebody is handed.
    kits: Register<KitOrder> by "title" => anybody,
    /// Waivers, in file order.
    accepts: Sequence<Accept> => the_coordinator,
}

/// On any copy.
const fn anybody<T>(_: &T, _: &Audience) -> bool {
    true
}

/// On copies for the team and those who lead it.
fn the_team<T>(_: &T, reader: &Audience) -> bool {
    reader.may_read(&Audience::Team)
}

/// On copies for those who lead: in an exercise, those who run it.
fn those_who_lead<T>(_: &T, reader: &Audience) -> bool {
    reader.may_read(&Audience::Leads)
}

/// On the coordinator's copies alone.
fn the_coordinator<T>(_: &T, reader: &Audience) -> bool {
    *reader == Audience::Coordinator
}

/// On no copy: only rules look at it.
const fn nobody<T>(_: &T, _: &Audience) -> bool {
    false
}

/// On copies for the team, and on those of readers to whom a number, an address or the name is open.
fn those_it_names(member: &Member, reader: &Audience) -> bool {
    the_team(member, reader) || member.is_open_to(reader)
}

/// What an id says when no name is written: `cold-ridge` -> `Cold Ridge`.
fn words_of(id: &At<Id>) -> At<Words> {
    let capital = |word: &str| {
        let mut letters = word.chars();
        letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
    };
    let text = id.as_str().split('-').map(capital).collect::<Vec<_>>().join(" ");
    // An id is never empty and has no control characters, so its words can always be taken.
    id.with(Words::parse(&text).unwrap_or_else(|_| Words::dash()))
}
