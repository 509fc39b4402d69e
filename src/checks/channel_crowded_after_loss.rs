//! After any single loss no channel carries more stations than can speak on it.

use super::Facts;
use super::channel_crowded::MOST;
use crate::ground::{Finding, Findings, Id, Rule};
use crate::plan::{Channel, Net, subject};
use crate::reckon::{Eligibility, Loss, Staff, losses, settles};
use std::collections::{BTreeMap, BTreeSet};

/// After any single loss no channel carries more stations than can speak on it.
pub(super) const RULE: Rule = Rule::warning(
    "channel-crowded-after-loss",
    "a rehearsal of the plan's own words; common practice, no source: a directed net of more than 20 stations passes little traffic",
    DOC,
);

const DOC: &str = r"
Finds: a loss (a repeater, a gateway, a place, utility power, the internet) after which nets meet on one channel that are worked from more than 20 posts in all.
Costs: two nets become one at the moment when both have most to say, and everybody waits.

Right: give the nets fallbacks of their own, or a station on the shared one that parts them again.
";

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let day = plan.edition.as_ref().map(|edition| edition.valid_from.value);
    let mut said: BTreeSet<&Id> = BTreeSet::new();
    let (staff, losses) = (facts.staff(), losses(plan));
    let rests_on = facts.eligibility(day);
    for (loss, touched) in losses.iter().zip(staff.touched(&losses)) {
        for (on, nets) in meeting(rests_on, staff, loss, &touched) {
            let id = &on.id.value;
            let count = staff.posts_on(&nets);
            let has_moved = |net: &&Net| net.legs.first().is_some_and(|leg| leg.channel.value != *id);
            let Some(moved) = nets.iter().copied().find(has_moved) else { continue };
            // The first loss says it of a channel; others would only repeat it.
            if count <= MOST || !said.insert(id) {
                continue;
            }
            let names: Vec<&str> = nets.iter().map(|net| net.name.as_str()).collect();
            let what = format!(
                "without {}, {count} posts meet on {}: {}; {MOST} are the most that one channel serves",
                loss.words,
                on.name.value,
                names.join(", ")
            );
            let leg = moved.legs.iter().find(|leg| leg.channel.value == *id).or(moved.legs.first());
            let at = leg.map_or(moved.span, |leg| leg.channel.span);
            let finding = Finding::new(&RULE, at, what).label("leads there then");
            let finding = finding.and(on.id.span, "this channel").help("give one of the nets another fallback");
            found.push(nets.iter().fold(finding.on(subject(on)), |finding, net| finding.on(subject(*net))));
        }
    }
}

/// The channels to which a loss moves some net, each with all nets that are there then, by id.
fn meeting<'a>(
    rests_on: Eligibility<'a>,
    staff: &Staff<'a>,
    loss: &Loss,
    touched: &[&'a Net],
) -> Vec<(&'a Channel, Vec<&'a Net>)> {
    let primary = |net: &Net| net.legs.first().map(|leg| leg.channel.value.clone());
    let is_dead = |net: &&&Net| primary(net).is_some_and(|id| loss.dead.contains(&id));
    let (dead, others): (Vec<&&'a Net>, Vec<&&'a Net>) = touched.iter().partition(is_dead);
    let mut meets: BTreeMap<&Id, (&Channel, BTreeMap<&Id, &'a Net>)> = BTreeMap::new();
    for net in dead {
        for on in settles(rests_on, staff, net, loss) {
            meets.entry(&on.id.value).or_insert((on, BTreeMap::new())).1.insert(&net.id.value, net);
        }
    }
    let touched: BTreeSet<&Id> = touched.iter().map(|net| &net.id.value).collect();
    // Whose primary channel lives is there as long as some of its people are.
    for (id, (_, nets)) in &mut meets {
        let untouched = staff.begun_on(id).iter().filter(|net| !touched.contains(&net.id.value));
        let stay = others.iter().filter(|net| primary(net).is_some_and(|first| first == **id));
        let stay = stay.filter(|net| !settles(rests_on, staff, net, loss).is_empty()).copied();
        nets.extend(untouched.chain(stay).map(|net| (&net.id.value, *net)));
    }
    meets.into_values().map(|(on, nets)| (on, nets.into_values().collect())).collect()
}
