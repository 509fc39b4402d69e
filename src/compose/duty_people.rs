//! Each member's own load: duties, time that passes on duty, the least time off between two, nights one after the other.

use super::block::{Column, Role, Row, Section, Text};
use super::duty_words::stood_by;
use super::kind::{TableKind, UsualSet};
use crate::audience::View;
use crate::ground::{Id, hours_words};
use crate::plan::{Clock, Period, subject};
use crate::reckon::{Stand, nights_in_a_row, runs, stands};
use std::collections::BTreeMap;

/// A row for each member with a duty.
pub(super) const PEOPLE: TableKind = TableKind {
    key: "duty-people",
    columns: &[
        Column::must("who", "who", Role::Body),
        Column::must("duties", "duties", Role::Body),
        Column::must("time", "time on duty", Role::Body),
        Column::must("off", "least time off", Role::Body),
        Column::must("nights", "nights in a row", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// The section.
pub(super) fn people(view: &View<'_>) -> Section {
    let (plan, clock) = (view.plan(), Clock::of(view.plan()));
    let all = stands(plan);
    let mut own: BTreeMap<&Id, Vec<Stand<'_>>> = BTreeMap::new();
    for stand in &all {
        own.entry(&stand.duty.member.value).or_default().push(*stand);
    }
    let row = |stands: &Vec<Stand<'_>>| {
        let first = stands.first()?;
        let periods: Vec<Period> = stands.iter().map(|stand| stand.period).collect();
        let nights = clock.nights(&periods);
        // Two duties at once are no more time.
        let minutes: i64 = runs(&periods).iter().map(|run| run.from.minutes_to(run.to)).sum();
        let cell = |key, words: String| PEOPLE.cell(key, Text::plain(words, first.duty.span));
        let cells = vec![
            cell("who", stood_by(first.duty, view)),
            cell("duties", stands.len().to_string()),
            cell("time", hours_words(minutes)),
            cell("off", least_off(&periods)),
            cell("nights", nights_in_a_row(&nights).to_string()),
        ];
        let record = plan.members.get(&first.duty.member.value).map(subject);
        Some(Row { label: String::new(), record, span: first.duty.span, cells })
    };
    let table = PEOPLE.of(own.values().filter_map(row).collect(), "Nobody has a duty.");
    Section { key: "people", title: Text::own("Member by member"), blocks: vec![table] }
}

/// The shortest time between the end of all before and the next beginning.
fn least_off(periods: &[Period]) -> String {
    let mut least: Option<i64> = None;
    let mut latest = periods.first().map(|first| first.to);
    for period in periods.iter().skip(1) {
        let off = latest.map_or(0, |latest| latest.minutes_to(period.from)).max(0);
        least = Some(least.map_or(off, |least| least.min(off)));
        latest = latest.max(Some(period.to));
    }
    match least {
        None => "one duty".to_owned(),
        Some(0) => "none".to_owned(),
        Some(minutes) => hours_words(minutes),
    }
}
