//! Where a row leads when nobody answers, for somebody who follows the net by listening.

use super::hears;
use crate::ground::Lapse;
use crate::plan::{Channel, Member, Plan};

/// A channel to which the net moves.
#[derive(Clone, Copy)]
pub struct Step<'a> {
    /// The channel.
    pub channel: &'a Channel,
    /// How long after the first call the net is there; none where a row on the way says no time.
    pub after: Option<Lapse>,
    /// Whether an own radio hears it.
    pub is_heard: bool,
}

/// Each `next` from a row on, up to the first that an own radio hears: to that one people go, by listening if they may not send. What
/// they cannot hear stays named, since the net is there meanwhile, and its wait is added up.
#[must_use]
pub fn steps<'a>(plan: &'a Plan, row: &'a Channel, member: Option<&Member>) -> Vec<Step<'a>> {
    let (mut steps, mut tried): (Vec<Step<'a>>, _) = (Vec::new(), vec![&row.id.value]);
    let mut here = row;
    let mut so_far = Some(Lapse::seconds(0));
    // The wait of the row from which one goes, also past a channel that is not on the air.
    let mut wait = here.after;
    while let Some(channel) = here.next.as_ref().and_then(|next| plan.channels.get(&next.value)) {
        if tried.contains(&&channel.id.value) {
            break;
        }
        tried.push(&channel.id.value);
        if !channel.is_on_air() {
            here = channel;
            continue;
        }
        so_far = so_far.zip(wait).map(|(before, after)| before.plus(after.value));
        let is_heard = member.is_none_or(|member| hears(plan, member, channel));
        steps.push(Step { channel, after: so_far, is_heard });
        if is_heard {
            break;
        }
        here = channel;
        wait = here.after;
    }
    steps
}
