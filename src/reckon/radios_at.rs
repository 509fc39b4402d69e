//! How many channels the people of a shift can work at the same time, each on a radio of its own.

use super::can_work;
use crate::plan::{Channel, Member, Plan, Radio};

/// Most channels at once that are asked for: a post with more is no post of one shift's people.
const MOST: usize = 32;

/// Whether the plan says which radios all of `members` have.
#[must_use]
pub fn has_radios(plan: &Plan, members: &[&Member]) -> bool {
    let knows = |member: &Member| {
        !member.radios.is_empty() && member.radios.iter().all(|id| plan.radios.get(&id.value).is_some())
    };
    members.iter().all(|member| knows(member))
}

/// The radios that `members` have, each as often as somebody has it.
pub fn radios_of<'a>(plan: &'a Plan, members: &'a [&'a Member]) -> impl Iterator<Item = &'a Radio> {
    members.iter().flat_map(|member| &member.radios).filter_map(|id| plan.radios.get(&id.value))
}

/// On how many of `channels` the radios of `members` work at the same time. None where the plan does not say what they have.
#[must_use]
pub fn at_once(plan: &Plan, members: &[&Member], channels: &[&Channel]) -> Option<usize> {
    if !has_radios(plan, members) || channels.len() > MOST {
        return None;
    }
    // Radios of one kind are the same to every channel; more of a kind than channels are of no use.
    let mut kinds: Vec<(&Radio, usize)> = Vec::new();
    for radio in radios_of(plan, members) {
        match kinds.iter_mut().find(|(known, _)| known.id.value == radio.id.value) {
            Some((_, count)) => *count = (*count + 1).min(channels.len()),
            None => kinds.push((radio, 1)),
        }
    }
    let radios: Vec<&Radio> = kinds.into_iter().flat_map(|(radio, count)| std::iter::repeat_n(radio, count)).collect();
    let mut given: Vec<Option<usize>> = vec![None; radios.len()];
    Some(
        (0..channels.len())
            .filter(|at| give(*at, channels, &radios, &mut given, &mut vec![false; radios.len()]))
            .count(),
    )
}

/// Gives a channel a radio, moving others to another of theirs where that makes room.
fn give(at: usize, channels: &[&Channel], radios: &[&Radio], given: &mut [Option<usize>], tried: &mut [bool]) -> bool {
    let Some(channel) = channels.get(at) else { return false };
    for (number, radio) in radios.iter().enumerate() {
        if tried.get(number).is_none_or(|tried| *tried) || !can_work(radio, channel) {
            continue;
        }
        if let Some(tried) = tried.get_mut(number) {
            *tried = true;
        }
        let holder = given.get(number).copied().flatten();
        if holder.is_none_or(|holder| give(holder, channels, radios, given, tried)) {
            if let Some(place) = given.get_mut(number) {
                *place = Some(at);
            }
            return true;
        }
    }
    false
}
