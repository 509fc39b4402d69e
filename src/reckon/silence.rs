//! When net control is silent: how long the others stay, who takes over, and on which channel the net is by then.

use super::{onward, way};
use crate::ground::{At, Lapse};
use crate::plan::{Channel, Net, Plan, Post};

/// What becomes of a net whose control is silent.
pub struct Silence<'a> {
    /// The post that takes over; none where the net names nobody, or its post was refused.
    pub next: Option<&'a Post>,
    /// After how long: the net's own time for it, else that in which it moves on. None where neither is said.
    pub after: Option<Lapse>,
    /// Whether that is the net's own time.
    pub is_own_time: bool,
    /// The channel on which the net begins.
    pub first: &'a Channel,
    /// The channel on which the net is by then.
    pub on: &'a Channel,
    /// Whether it has moved there by then.
    pub has_moved: bool,
    /// Where the others go from the first channel, and after how long a silence where that is said.
    pub moves: Option<(&'a Channel, Option<Lapse>)>,
}

/// How long the people of a net wait on one of its channels before they go on: what its row says where the row leads on, else the first
/// time that the net's words name. None where nothing is said, or nothing comes after it.
#[must_use]
pub fn wait_on(plan: &Plan, net: &Net, channel: &Channel) -> Option<At<Lapse>> {
    onward(plan, net, channel)?;
    let of_net = || {
        let trigger = net.trigger.as_ref()?;
        Some(At::new(*Lapse::all_in(trigger.as_str()).first()?, trigger.span))
    };
    channel.after.filter(|_| channel.next.is_some()).or_else(of_net)
}

/// None of a net without a channel.
#[must_use]
pub fn silence<'a>(plan: &'a Plan, net: &'a Net) -> Option<Silence<'a>> {
    let (way, _) = way(plan, net);
    let first = *way.first()?;
    let moves = onward(plan, net, first).map(|next| (next, wait_on(plan, net, first).map(|wait| wait.value)));
    let next = net.alternate_control.as_ref().and_then(|post| plan.posts.get(&post.value));
    let own = net.control_after.map(|after| after.value);
    let after = own.or_else(|| moves?.1);
    // Each wait begins where the one before ends. One who comes when the wait is over comes too late.
    let (mut on, mut left) = (first, Lapse::seconds(0));
    for (channel, next) in way.iter().zip(way.iter().skip(1)) {
        let Some((after, wait)) = after.zip(wait_on(plan, net, channel)) else { break };
        left = left.plus(wait.value);
        if after < left {
            break;
        }
        on = next;
    }
    let has_moved = on.id.value != first.id.value;
    Some(Silence { next, after, is_own_time: own.is_some(), first, on, has_moved, moves })
}
