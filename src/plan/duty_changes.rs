//! Duties that are others than before, told in words: they have no ids, so that two are one duty where all but one of who, where and
//! when is the same.

use super::change::{Change, Danger, plainly};
use super::clock::Clock;
use super::notations::LocalTime;
use super::records::Plan;
use super::told::ToldRecord;
use crate::ground::Id;
use std::collections::{BTreeMap, BTreeSet};

/// What a duty says beside its hours, and its hours.
const WHO: &str = "member";
const WHERE: &str = "post";
const WHEN: [&str; 2] = ["from", "to"];

/// Ways in which a duty that went and one that came are one: what both say alike, the surest first.
const ALIKE: [&[&str]; 5] = [
    &["post", "from", "to"],
    &["member", "post", "from"],
    &["member", "post", "to"],
    &["member", "from", "to"],
    &["member", "post"],
];

/// The changes from duties that are no more to those that are new.
pub(super) fn duty_changes(
    mut went: Vec<ToldRecord>,
    mut came: Vec<ToldRecord>,
    [old, new]: [&Plan; 2],
    changes: &mut Vec<Change>,
) {
    for alike in ALIKE {
        let key = |duty: &ToldRecord| -> Vec<Option<String>> {
            alike.iter().map(|key| duty.get(key).map(str::to_owned)).collect()
        };
        let mut there: BTreeMap<Vec<Option<String>>, Vec<ToldRecord>> = BTreeMap::new();
        for duty in came.into_iter().rev() {
            there.entry(key(&duty)).or_default().push(duty);
        }
        went.retain(|duty| match there.get_mut(&key(duty)).and_then(Vec::pop) {
            Some(now) => {
                changed((duty, &now), [old, new], changes);
                false
            }
            None => true,
        });
        came = there.into_values().flatten().collect();
        came.sort();
    }
    for (duties, plan, is_new) in [(&went, old, false), (&came, new, true)] {
        for duty in duties {
            let words = Some(format!("{}, {}", called(duty, plan), value(duty, WHO, plan).unwrap_or_default()));
            let sides = if is_new { [None, words] } else { [words, None] };
            changes.push(change(called(duty, plan), None, sides));
        }
    }
}

fn changed((was, is): (&ToldRecord, &ToldRecord), [old, new]: [&Plan; 2], changes: &mut Vec<Change>) {
    let keys = was.entries.iter().chain(&is.entries).map(|(key, _)| key.as_str());
    for key in keys.collect::<BTreeSet<&str>>() {
        let sides = [value(was, key, old), value(is, key, new)];
        if was.get(key) != is.get(key) {
            changes.push(change(called(was, old), Some(key), sides));
        }
    }
}

fn change(called: String, key: Option<&str>, [old, new]: [Option<String>; 2]) -> Change {
    let (kind, key) = ("duty".to_owned(), key.map(str::to_owned));
    Change { danger: Danger::MaySend, kind, id: None, called, key, old, new }
}

/// `Net control, 2026-12-05 06:00 to 18:00`.
fn called(duty: &ToldRecord, plan: &Plan) -> String {
    let words = |key| value(duty, key, plan).unwrap_or_default();
    let [from, to] = WHEN.map(words);
    // An end on the same day is told by its hour.
    let hour = to.split_once(' ').filter(|(day, _)| from.starts_with(day)).map(|(_, hour)| hour.to_owned());
    format!("{}, {from} to {}", words(WHERE), hour.unwrap_or(to))
}

/// What stands under a key: a member by call sign, else by id; a post by its name.
fn value(duty: &ToldRecord, key: &str, plan: &Plan) -> Option<String> {
    let words = plainly(duty.get(key)?);
    let id = Id::parse(&words).ok();
    let named = match key {
        _ if WHEN.contains(&key) => LocalTime::parse(&words).ok().map(|time| {
            let clock = Clock::of(plan);
            clock.moment(clock.instant(time))
        }),
        WHO => id.and_then(|id| plan.members.named(&id)?.call.as_ref().map(|call| call.value.to_string())),
        WHERE => id.and_then(|id| plan.posts.named(&id).map(|post| post.name.to_string())),
        _ => None,
    };
    Some(named.unwrap_or(words))
}
