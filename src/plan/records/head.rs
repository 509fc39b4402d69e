//! What the plan is, which edition of it this is, and the incident that it is for.

use super::Member;
use crate::ground::{At, Day, Finding, Span, TimeZone, Words, nearest};
use crate::plan::notations::LocalTime;
use crate::plan::reference::Ref;
use crate::plan::rules::ZONE_UNKNOWN;
use crate::plan::terms::PositionFormat;
use crate::source::{Node, Reading, RecordTable, Schemas, Whole, Written, record};

record! {
    /// `[plan]`: what the plan is and where its parts are.
    #[derive(Clone, Debug)]
    pub struct Head = "plan" {
        /// Full title of the plan, as `Alder County Communications Plan`.
        title: At<Words>,
        /// Printed on every panel and said with the edition; at most 12 characters, as `ALDER`.
        short: At<Words>,
        /// The team's name, as `Alder County Radio Volunteers`.
        team: At<Words>,
        /// Country profile: law, band plan, words, dates, paper. A name, or a .toml file of the plan's folder, as `us`.
        profile: At<Words>,
        /// State or province of the team by ISO 3166-2, as `US-MT`, or its country, as `NO`; limits bound to a state are
        /// not judged, and bands that a country allots are those of the profile, when left out.
        region: Option<At<Words>>,
        /// Whether everything in the plan is invented, call signs too: a demonstration. Every foot then says so; false
        /// when left out.
        is_invented as "invented": bool,
        /// Time zone by name, as `America/Denver`.
        time_zone: At<TimeZone>,
        /// How positions are written on cards and lists, as `usng`; in decimal degrees when left out. Site sheets have the others too.
        positions: Option<At<PositionFormat>>,
        /// Further files of the plan's folder, patterns allowed, as `forms/*.toml`; none when left out.
        include: Vec<At<String>>,
        /// A file of members; none when left out.
        roster: Option<RecordTable>,
        /// A file of other teams' frequencies; none when left out.
        neighbours: Option<RecordTable>,
        /// The record.
        span: Span,
    }

    /// What must be known of `[plan]` before anything is understood.
    #[derive(Clone, Debug, Default)]
    pub struct Sources = "plan" {
        /// Country profile.
        profile: Option<At<Words>>,
        /// Country or state.
        region: Option<At<Words>>,
        /// The roster file.
        roster: Option<RecordTable>,
        /// The neighbours' file.
        neighbours: Option<RecordTable>,
    }

    /// `[edition]`: which edition this is.
    #[derive(Clone, Debug)]
    pub struct Edition = "edition" {
        /// Counts up with every issue, as `7`.
        number: At<Whole<u32, 1, 99_999_999, true>>,
        /// Day of issue: what is old or done is judged by it, as `2026-11-20`.
        issued: At<Day>,
        /// First day on which it counts, as `2026-12-01`.
        valid_from: At<Day>,
        /// Day by which it must be checked again: its last, as `2027-06-01`.
        review_by: At<Day>,
        /// The member who prepared it, as `qra`.
        prepared_by: At<Ref<Member>>,
        /// The member who approved it, as `qrb`.
        approved_by: At<Ref<Member>>,
        /// The record.
        span: Span,
    }

    /// `[incident]`: for the blocks of incident forms.
    #[derive(Clone, Debug)]
    pub struct Incident = "incident" {
        /// Name of the incident, for the blocks of incident forms, as `Spring flood`.
        name: At<Words>,
        /// Its number, as `F-1`; nothing is printed when left out.
        number: Option<At<Words>>,
        /// When the operational period begins, in local time, as `2026-12-05 06:00`.
        from: At<LocalTime>,
        /// When it ends, in local time, as `2026-12-06 06:00`.
        to: At<LocalTime>,
        /// Whether it is an exercise: every sheet then says so at head and foot; false when left out.
        is_exercise as "exercise": bool,
    }
}

impl Written for TimeZone {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let name = Words::read(node, of)?;
        let zone = Self::named(name.as_str());
        if zone.is_none() {
            let what = format!("no time zone is called \"{name}\"");
            let finding = Finding::new(&ZONE_UNKNOWN, node.span, what).label("not in the time zone database");
            of.found.push(match nearest(name.as_str(), Self::names()) {
                Some(near) => finding.did_you_mean(near),
                None => finding.help("write it as \"America/Denver\""),
            });
        }
        zone
    }
    fn schema(schemas: &mut Schemas) -> serde_json::Value {
        schemas.text("TimeZone", "a time zone by its name", "America/Denver")
    }
}
