//! The plan as meant: ids resolved, repeater views derived, defaults applied, every value with its place.
//!
//! A record with a refused value is left out; its id stays known, so that nothing else is reported in its wake.

use super::model_people::{Agreement, Duty, Member, Place, Post};
use super::model_radio::{Channel, Gateway, Link, Neighbour, Pool, Radio, Repeater, Wish};
use super::register::{Record, Register};
use super::terms::{Each, LocalTime, Variant, WaiverSubject};
use crate::ground::{At, Audience, Day, Id, Span, Words};
use crate::tables::Profile;
use std::sync::Arc;

/// A whole plan. Registers are sorted by id, so that the order of files changes nothing.
#[derive(Clone, Default)]
pub struct Plan {
    /// `[plan]`; none when it is missing or faulty.
    pub head: Option<Head>,
    /// The profile that it names; none when there is no such profile, or it cannot be used.
    pub profile: Option<Arc<Profile>>,
    /// `[edition]`; none when it is missing or faulty.
    pub edition: Option<Edition>,
    /// `[incident]`, where there is one.
    pub incident: Option<Incident>,
    /// Repeaters.
    pub repeaters: Register<Repeater>,
    /// Channels.
    pub channels: Register<Channel>,
    /// Gateways.
    pub gateways: Register<Gateway>,
    /// Links between two channels.
    pub links: Register<Link>,
    /// Places.
    pub places: Register<Place>,
    /// Members.
    pub members: Register<Member>,
    /// Authority in other services.
    pub agreements: Register<Agreement>,
    /// Pools of frequencies.
    pub pools: Register<Pool>,
    /// Channels that want a frequency of a pool, in file order; they are not among the channels.
    pub wishes: Vec<Wish>,
    /// Other teams' frequencies, in file order.
    pub neighbours: Vec<Neighbour>,
    /// Radios.
    pub radios: Register<Radio>,
    /// Nets.
    pub nets: Register<Net>,
    /// Posts.
    pub posts: Register<Post>,
    /// Who stands which post, in order of time.
    pub duties: Vec<Duty>,
    /// Forms, built-in ones not included.
    pub forms: Register<Form>,
    /// What is to be printed.
    pub documents: Register<DocumentOrder>,
    /// Waivers, in file order.
    pub accepts: Vec<Accept>,
    /// Whether nothing was refused anywhere: rules about what is absent ask this first.
    pub is_whole: bool,
}

/// What the plan is.
#[derive(Clone, Debug)]
pub struct Head {
    /// Full title.
    pub title: At<Words>,
    /// Printed on every panel.
    pub short: At<Words>,
    /// The team.
    pub team: At<Words>,
    /// Profile name.
    pub profile: At<Words>,
    /// State or province by ISO 3166-2.
    pub region: Option<At<Words>>,
    /// Whether it is a demonstration.
    pub is_invented: bool,
    /// Time zone.
    pub time_zone: At<chrono_tz::Tz>,
    /// `[plan]`.
    pub span: Span,
}

/// Which edition it is.
#[derive(Clone, Debug)]
pub struct Edition {
    /// Counts up.
    pub number: At<u32>,
    /// Day of issue.
    pub issued: At<Day>,
    /// First day on which it counts.
    pub valid_from: At<Day>,
    /// Day by which it must be checked again.
    pub review_by: At<Day>,
    /// A member.
    pub prepared_by: At<Id>,
    /// A member.
    pub approved_by: At<Id>,
    /// `[edition]`.
    pub span: Span,
}

/// For incident forms.
#[derive(Clone, Debug)]
pub struct Incident {
    /// Its name.
    pub name: At<Words>,
    /// Its number.
    pub number: Option<At<Words>>,
    /// Operational period from.
    pub from: At<LocalTime>,
    /// Operational period to.
    pub to: At<LocalTime>,
    /// Whether it is an exercise.
    pub is_exercise: bool,
}

/// Stations on one channel following a procedure.
#[derive(Clone, Debug)]
pub struct Net {
    /// Its id.
    pub id: At<Id>,
    /// As printed.
    pub name: At<Words>,
    /// As said.
    pub spoken: At<Words>,
    /// What it is for.
    pub purpose: Option<At<Words>>,
    /// Channels in the order in which they are tried: primary, alternate, contingency, emergency; those written.
    pub legs: Vec<Leg>,
    /// When to move on, where the channel's row does not say it.
    pub trigger: Option<At<Words>>,
    /// When nobody answers on the last one: where to listen, and when.
    pub rejoin: Option<At<Words>>,
    /// The post that controls it.
    pub control: Option<At<Id>>,
    /// The record.
    pub span: Span,
}

/// One of a net's channels.
#[derive(Clone, Debug)]
pub struct Leg {
    /// `primary`, `alternate`, `contingency` or `emergency`.
    pub name: &'static str,
    /// The channel.
    pub channel: At<Id>,
}

/// Something to write on.
#[derive(Clone, Debug)]
pub struct Form {
    /// Its id.
    pub id: At<Id>,
    /// Its title.
    pub title: At<Words>,
    /// Its own edition.
    pub edition: At<Words>,
    /// The form that it builds on.
    pub base: Option<At<Words>>,
    /// Who answers for it.
    pub owner: Option<At<Words>>,
    /// How it is read aloud or filled in.
    pub reading: Option<At<Words>>,
    /// Lines of fields.
    pub lines: Vec<Vec<FormField>>,
    /// The record.
    pub span: Span,
}

/// A field to fill in.
#[derive(Clone, Debug)]
pub struct FormField {
    /// Number in reading order.
    pub number: Option<At<u16>>,
    /// Printed in its corner.
    pub label: At<Words>,
    /// Printed after the label.
    pub help: Option<At<Words>>,
    /// Twelfths of the width.
    pub share: u8,
    /// What one writes into.
    pub kind: FormFieldKind,
}

/// What a field offers to write into.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FormFieldKind {
    /// Writing lines.
    Lines(u8),
    /// Boxes to tick.
    Ticks(Vec<At<Words>>),
    /// Boxes for words: how many a line, how many lines.
    Words {
        /// Words a line.
        columns: u8,
        /// Lines.
        rows: u8,
    },
    /// A ruled table.
    Ruled {
        /// Headings and their twelfths.
        columns: Vec<(At<Words>, u8)>,
        /// Least number of rows.
        rows: u8,
        /// Whether rows fill the page.
        is_filling: bool,
    },
}

/// One thing to print.
#[derive(Clone, Debug)]
pub struct DocumentOrder {
    /// Its id, the name of the file.
    pub id: At<Id>,
    /// The document kind.
    pub kind: At<Words>,
    /// The layout; the kind's own when none is written.
    pub layout: Option<At<Words>>,
    /// For readers or light of a kind.
    pub variant: Option<At<Variant>>,
    /// Who may read it.
    pub audience: At<Audience>,
    /// For whom.
    pub each: At<Each>,
    /// Whether the copies of all holders stand in one file.
    pub together: Option<At<bool>>,
    /// The paper; the profile's when none is written.
    pub paper: Option<At<Words>>,
    /// A form, for the kind form.
    pub form: Option<At<Id>>,
    /// Copies.
    pub copies: Option<At<u16>>,
    /// The record.
    pub span: Span,
}

/// A waiver.
#[derive(Clone, Debug)]
pub struct Accept {
    /// The finding's name.
    pub finding: At<Words>,
    /// The exact subjects.
    pub on: Vec<At<WaiverSubject>>,
    /// Why.
    pub reason: At<Words>,
    /// A member.
    pub by: At<Id>,
    /// Compared with the day of issue.
    pub until: At<Day>,
    /// The record.
    pub span: Span,
}

/// Says of each register's records what they are called and by which id.
macro_rules! records {
    ($($type:ty = $kind:literal;)*) => {$(
        impl Record for $type {
            const KIND: &'static str = $kind;
            fn id(&self) -> &At<Id> {
                &self.id
            }
        }
    )*};
}

records! {
    Repeater = "repeater";
    Channel = "channel";
    Gateway = "gateway";
    Link = "link";
    Place = "place";
    Member = "member";
    Agreement = "agreement";
    Pool = "pool";
    Radio = "radio";
    Net = "net";
    Post = "post";
    Form = "form";
    DocumentOrder = "document";
}
