//! What of a plan is another than before, the most dangerous first.

use super::change::{Change, Danger, SETS_A_CHANNEL, plainly};
use super::duty_changes::duty_changes;
use super::notations::WidthWord;
use super::records::{Channel, Plan};
use super::told::{ToldPlan, ToldRecord};
use crate::ground::{Frequency, Tone};
use std::collections::{BTreeMap, BTreeSet};

/// Both sides of a comparison.
pub type Sides<'a> = [(&'a ToldPlan, &'a Plan); 2];

/// All changes from the first plan to the second, the most dangerous first; those of the edition's own number and days are none.
#[must_use]
pub fn changes([(old, old_plan), (new, new_plan)]: Sides<'_>) -> Vec<Change> {
    let [before, after] = [old, new].map(with_ids);
    let mut changes = Vec::new();
    let renamed = renamed(&before, &after);
    for (name, record) in &before {
        match after.get(name) {
            Some(now) => changed(record, now, [old_plan, new_plan], &mut changes),
            None => match renamed.get(name) {
                Some(now) => changes.push(whole(record, Danger::Renamed, [record.id.clone(), now.id.clone()])),
                None => changes.push(whole(record, Danger::Removed, [Some(record.called()), None])),
            },
        }
    }
    let came: BTreeSet<&ToldRecord> = renamed.values().copied().collect();
    for (_, record) in after.iter().filter(|(name, record)| !before.contains_key(*name) && !came.contains(*record)) {
        changes.push(whole(record, Danger::Added, [None, Some(record.called())]));
    }
    without_ids([(old, old_plan), (new, new_plan)], &mut changes);
    changes.sort();
    changes
}

/// Kind and id.
type Name<'a> = (&'a str, &'a str);

fn with_ids(plan: &ToldPlan) -> BTreeMap<Name<'_>, &ToldRecord> {
    let of = |record: &'_ ToldRecord| record.id.is_some() && record.kind != "edition";
    let named = plan.records.iter().filter(|record| of(record));
    named.map(|record| ((record.kind.as_str(), record.id.as_deref().unwrap_or_default()), record)).collect()
}

/// Records that are there under another id and have all else alike.
fn renamed<'a>(
    before: &BTreeMap<Name<'a>, &'a ToldRecord>,
    after: &BTreeMap<Name<'a>, &'a ToldRecord>,
) -> BTreeMap<Name<'a>, &'a ToldRecord> {
    let facts = |record: &'a ToldRecord| -> (&'a str, Vec<&'a (String, String)>) {
        (&record.kind, record.entries.iter().filter(|(key, _)| key != "id").collect())
    };
    let mut came: BTreeMap<_, &ToldRecord> = after
        .iter()
        .filter(|(name, _)| !before.contains_key(*name))
        .map(|(_, record)| (facts(record), *record))
        .collect();
    let went = before.iter().filter(|(name, _)| !after.contains_key(*name));
    went.filter_map(|(name, record)| Some((*name, came.remove(&facts(record))?))).collect()
}

fn whole(record: &ToldRecord, danger: Danger, [old, new]: [Option<String>; 2]) -> Change {
    let ToldRecord { kind, id, .. } = record;
    Change { danger, kind: kind.clone(), id: id.clone(), called: record.called(), key: None, old, new }
}

/// The changes inside a record that stands in both plans.
fn changed(old: &ToldRecord, new: &ToldRecord, [old_plan, new_plan]: [&Plan; 2], changes: &mut Vec<Change>) {
    let mut change = |danger, key: &str, [before, now]: [Option<String>; 2]| {
        if before != now {
            let ToldRecord { kind, id, .. } = old;
            let called = old.called();
            let (kind, id, key) = (kind.clone(), id.clone(), Some(key.to_owned()));
            changes.push(Change { danger, kind, id, called, key, old: before, new: now });
        }
    };
    let of = |plan: &Plan| {
        let id = old.id.as_deref().filter(|_| old.kind == "channel")?;
        let id = crate::ground::Id::parse(id).ok()?;
        plan.channels.named(&id).map(as_set)
    };
    let is_set = match (of(old_plan), of(new_plan)) {
        (Some(before), Some(now)) => {
            for ((key, danger, before), (_, _, now)) in before.into_iter().zip(now) {
                change(danger, key, [before, now]);
            }
            true
        }
        _ => false,
    };
    let keys = old.entries.iter().chain(&new.entries).map(|(key, _)| key.as_str());
    for key in keys.collect::<BTreeSet<&str>>().into_iter().filter(|key| !is_set || !SETS_A_CHANNEL.contains(key)) {
        change(danger_of(&old.kind, key), key, [old, new].map(|record| record.get(key).map(plainly)));
    }
}

/// What a radio is set to on a channel: what is set, what another value would mean, the value.
#[must_use]
pub fn as_set(channel: &Channel) -> [(&'static str, Danger, Option<String>); 7] {
    let Channel { hear, send, send_tone, hear_tone, signal, power, .. } = channel;
    let frequency = |frequency: Frequency| frequency.to_string();
    let tone = |tone: Tone| tone.to_string();
    let width = match signal.width.value {
        WidthWord::Narrow => "narrow".to_owned(),
        WidthWord::Wide => "wide".to_owned(),
        WidthWord::Exact(width) => width.to_string(),
    };
    let signal = signal.emission.as_ref().map_or_else(|| signal.mode.to_string(), |emission| emission.to_string());
    [
        ("send", Danger::Sent, Some(send.map_or_else(|| "nothing".to_owned(), |send| frequency(send.value)))),
        ("send tone", Danger::Sent, Some(tone(send_tone.value))),
        ("mode", Danger::Sent, Some(signal)),
        ("width", Danger::Sent, Some(width)),
        ("hear", Danger::Heard, Some(frequency(hear.value))),
        ("hear tone", Danger::Heard, Some(tone(hear_tone.value))),
        ("power", Danger::MaySend, power.map(|power| power.to_string())),
    ]
}

/// What another value under a key means, by kind; of a kind that is not named here, and of all other keys, it is a fact.
pub const DANGERS: &[(&[&str], &[&str], Danger)] = &[
    (&["channel"], &["side", "audio", "time-slot", "talkgroup", "speed"], Danger::Sent),
    (&["gateway"], &["via", "speed"], Danger::Sent),
    (
        &["net"],
        &["primary", "alternate", "contingency", "emergency", "also", "schedule", "trigger", "rejoin", "control"],
        Danger::Moves,
    ),
    (&["channel"], &["next", "after", "status"], Danger::Moves),
    (&["repeater"], &["status"], Danger::Moves),
    (&["channel", "net"], &["id", "name", "spoken"], Danger::Renamed),
    (&["channel"], &["row"], Danger::Renamed),
    (&["repeater", "gateway", "link", "member"], &["id", "name", "call"], Danger::Renamed),
    (&["place"], &["id", "name", "tactical", "code"], Danger::Renamed),
    (&["post", "radio", "network"], &["id", "name"], Danger::Renamed),
    (&["plan"], &["short"], Danger::Renamed),
    (&["member"], &["class", "expires", "licence", "radio"], Danger::MaySend),
    (&["place"], &["transmit"], Danger::MaySend),
    (&["radio"], &["power", "services", "covers", "modes", "approved-for"], Danger::MaySend),
    (&["agreement"], &["id", "with", "service", "channels", "members", "signed", "expires", "max"], Danger::MaySend),
    (&["member"], &["phone", "email", "role", "confirmed", "phone-confirmed"], Danger::Contact),
    (&["member"], &["phone-audience", "email-audience", "name-audience"], Danger::Contact),
    (&["place"], &["contact"], Danger::Contact),
];

fn danger_of(kind: &str, key: &str) -> Danger {
    let is_named = |(kinds, keys, _): &&(&[&str], &[&str], Danger)| kinds.contains(&kind) && keys.contains(&key);
    DANGERS.iter().find(is_named).map_or(Danger::Text, |(_, _, danger)| *danger)
}

/// Records without ids are told apart by all that they say.
fn without_ids([(old, old_plan), (new, new_plan)]: Sides<'_>, changes: &mut Vec<Change>) {
    let counted = |plan: &'_ ToldPlan| {
        let mut count: BTreeMap<ToldRecord, i64> = BTreeMap::new();
        for record in plan.records.iter().filter(|record| record.id.is_none()) {
            *count.entry(record.clone()).or_default() += 1;
        }
        count
    };
    let mut counts = counted(new);
    for (record, count) in counted(old) {
        *counts.entry(record).or_default() -= count;
    }
    let (mut went, mut came) = (Vec::new(), Vec::new());
    for (record, count) in counts {
        if record.kind == "duty" {
            let times = usize::try_from(count.unsigned_abs()).unwrap_or_default();
            let duties = if count < 0 { &mut went } else { &mut came };
            duties.extend(std::iter::repeat_n(record, times));
            continue;
        }
        let sides = if count < 0 { [Some(record.called()), None] } else { [None, Some(record.called())] };
        for _ in 0..count.abs() {
            changes.push(whole(&record, Danger::Text, sides.clone()));
        }
    }
    duty_changes(went, came, [old_plan, new_plan], changes);
}
