//! What the plan is, which edition of it this is, and the incident that it is for.

use super::Member;
use crate::ground::{At, Day, Finding, Span, Words, nearest};
use crate::plan::reference::Ref;
use crate::plan::rules::ZONE_UNKNOWN;
use crate::plan::terms::LocalTime;
use crate::source::{Node, Reading, Schemas, Whole, Written, record};
use chrono_tz::Tz;
use std::collections::BTreeMap;

record! {
    /// `[plan]`: what the plan is and where its parts are.
    #[derive(Clone, Debug)]
    pub struct Head = "plan" {
        /// Full title.
        title: At<Words>,
        /// Printed on every panel and spoken with the edition; at most 12 characters.
        short: At<Words>,
        /// The team's name.
        team: At<Words>,
        /// Country profile: law, band plan, words, dates, paper. An id, or a .toml file of the plan's folder.
        profile: At<Words>,
        /// State or province of the team by ISO 3166-2, as US-MT: some limits depend on it.
        region: Option<At<Words>>,
        /// Whether everything in the plan is invented, call signs too: a demonstration. Every foot then says so.
        is_invented as "invented": bool,
        /// Time zone by name, as America/Denver.
        time_zone: At<Tz>,
        /// Further files; patterns allowed, never outside the plan's folder.
        include: Vec<At<String>>,
        /// The roster file and how its headings map to a member's keys.
        roster: Option<Roster>,
        /// A file of other teams' frequencies and how its headings map to a neighbour's keys.
        neighbours: Option<Roster>,
        /// The record.
        span: Span,
    }

    /// What must be known of `[plan]` before anything is understood.
    #[derive(Clone, Debug, Default)]
    pub struct Sources = "plan" {
        /// Country profile.
        profile: Option<At<Words>>,
        /// The roster file.
        roster: Option<Roster>,
        /// The neighbours' file.
        neighbours: Option<Roster>,
    }

    /// The roster file.
    #[derive(Clone, Debug)]
    pub struct Roster = "roster" {
        /// File name.
        file: Option<At<String>>,
        /// A member's key to the heading in the file.
        columns: Option<At<BTreeMap<String, At<String>>>>,
    }

    /// `[edition]`: which edition this is.
    #[derive(Clone, Debug)]
    pub struct Edition = "edition" {
        /// Counts up with every issue.
        number: At<Whole<u32, 1, 99_999_999, true>>,
        /// Day of issue.
        issued: At<Day>,
        /// First day on which it counts.
        valid_from: At<Day>,
        /// Day by which it must be checked again.
        review_by: At<Day>,
        /// A member's id.
        prepared_by: At<Ref<Member>>,
        /// A member's id.
        approved_by: At<Ref<Member>>,
        /// The record.
        span: Span,
    }

    /// `[incident]`: for the blocks of incident forms.
    #[derive(Clone, Debug)]
    pub struct Incident = "incident" {
        /// Name of the incident.
        name: At<Words>,
        /// Its number.
        number: Option<At<Words>>,
        /// Operational period from, local time.
        from: At<LocalTime>,
        /// Operational period to, local time.
        to: At<LocalTime>,
        /// Whether it is an exercise: every sheet then says so at head and foot.
        is_exercise as "exercise": bool,
    }
}

impl Written for Tz {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let name = Words::read(node, of)?;
        let zone = name.as_str().parse().ok();
        if zone.is_none() {
            let what = format!("no time zone is called \"{name}\"");
            let finding = Finding::new(&ZONE_UNKNOWN, node.span, what).label("not in the time zone database");
            of.found.push(match nearest(name.as_str(), chrono_tz::TZ_VARIANTS.iter().map(|zone| zone.name())) {
                Some(near) => finding.did_you_mean(near),
                None => finding.help("write it as \"America/Denver\""),
            });
        }
        zone
    }
    fn schema(schemas: &mut Schemas) -> serde_json::Value {
        Words::schema(schemas)
    }
}
