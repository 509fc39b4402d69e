//! What today's date adds to a plan, for the terminal alone.

use crate::checks;
use crate::ground::{Day, plural};
use crate::plan::Plan;
use crate::tables::Profile;

/// What has passed since the plan was written.
pub(crate) fn notes(plan: &Plan, profile: Option<&Profile>, today: Day) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(edition) = plan.edition.as_ref().filter(|edition| edition.review_by.value < today) {
        let (number, by) = (edition.number.value, edition.review_by.value);
        notes.push(format!("edition {number} was to be reviewed by {by}; today is {today}"));
    }
    if let Some(profile) = profile.filter(|_| plan.head.as_ref().is_some_and(|head| head.is_invented)) {
        let calls = checks::calls(plan);
        let open = calls.iter().filter(|(call, _)| !profile.closed_calls.iter().any(|row| row.holds(&call.value)));
        let all = plural(calls.len(), "call sign");
        notes.push(format!("the plan says that it is invented; of its {all}, {} might be somebody's", open.count()));
    }
    if let Some(profile) = profile.filter(|profile| profile.review_by < today) {
        let (id, by) = (&profile.id, profile.review_by);
        notes.push(format!("the profile {id} was to be compared with its source by {by}; today is {today}"));
    }
    notes
}
