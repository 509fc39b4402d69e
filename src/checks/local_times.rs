//! Every time of a plan that is written with its day.

use crate::ground::At;
use crate::plan::{LocalTime, Plan};

/// Each with the key under which it stands.
pub(super) fn local_times(plan: &Plan) -> Vec<(&'static str, At<LocalTime>)> {
    let both = |from: At<LocalTime>, to: At<LocalTime>| [("from", from), ("to", to)];
    let duties = plan.duties.iter().flat_map(|duty| both(duty.from, duty.to));
    let begins = plan.posts.iter().filter_map(|post| post.from.map(|time| ("from", time)));
    let ends = plan.posts.iter().filter_map(|post| post.to.map(|time| ("to", time)));
    let incident = plan.incident.iter().flat_map(|incident| both(incident.from, incident.to));
    let exercise = plan.exercise.iter().flat_map(|exercise| both(exercise.from, exercise.to));
    let injects = plan.injects.iter().map(|inject| ("at", inject.at));
    let messages = plan.messages.iter().filter_map(|message| message.filed.map(|time| ("filed", time)));
    let all = duties.chain(begins).chain(ends).chain(incident).chain(exercise);
    all.chain(injects).chain(messages).collect()
}
