//! Whoever has duty still has the licence, or the agreement, with which the plan lets them send.

use super::Facts;
use super::licence_expired::licences;
use crate::ground::{At, Day, Finding, Findings, Id, Rule, counted};
use crate::plan::{Channel, Clock, Member, Plan, subject};
use crate::reckon::{Barred, Stand, agreements, authority, is_in_force, reached};
use std::collections::BTreeMap;

/// Whoever has duty still has the licence, or the agreement, with which the plan lets them send.
pub(super) const RULE: Rule = Rule::warning("authority-ends-before-duty", "the plan's own dates", DOC);

const DOC: &str = r#"
Finds: a duty that lasts beyond the last day of the holder's licence, or of the agreement under which the holder sends on a channel worked at the post, where that day lies in the edition and no renewal was filed in time. Said once for each licence and agreement, at its first such duty. Where nobody at the post may send then, `nobody-may-use` says that as well.
Costs: an operator is sent out who may only listen.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2026-12-03        # licence-ends-in-edition
confirmed = 2026-10-01

[[post]]
id = "desk"
name = "Desk"

[[duty]]
post = "desk"
member = "qsb"              # authority-ends-before-duty
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
```
Right: renew, then write the new day; or give the duty to somebody else.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let Some(edition) = &plan.edition else { return };
    let start = edition.valid_from.value;
    let worked = worked(facts);
    let mut duties: BTreeMap<&Id, Vec<Stand<'_>>> = BTreeMap::new();
    for stand in facts.stands() {
        duties.entry(&stand.duty.member.value).or_default().push(*stand);
    }
    let clock = Clock::of(plan);
    for (member, licence) in licences(facts).into_iter().filter(|(_, licence)| !licence.term.has_ended(start)) {
        let Some(last) = licence.term.last_day() else { continue };
        let is_needed = |channel: &&Channel, day: Day| {
            let now = || authority(plan, channel, member, Some(day));
            channel.service.value == *licence.service
                && (licence.service.is_amateur() || now() == Err(Barred::LicenceEnded))
        };
        let is_after = |stand: &&Stand<'_>| {
            let day = clock.last_day(stand.period);
            let channels = worked.get(&*stand.duty.post.value).map(Vec::as_slice).unwrap_or_default();
            let is_bare = channels.is_empty() && licence.service.is_amateur();
            day > last && (is_bare || channels.iter().any(|channel| is_needed(channel, day)))
        };
        let after: Vec<&Stand<'_>> = duties.get(&member.id.value).into_iter().flatten().filter(is_after).collect();
        let what = format!("the {}licence of {} ends on {last}", licence.words, member.name.value);
        found.extend(finding(plan, (what, licence.expires), &after));
    }
    for agreement in plan.agreements.iter().filter(|agreement| is_in_force(agreement, Some(start))) {
        let last = agreement.expires.value;
        let is_lacking = |channel: &&Channel, member: &Member, day: Day| {
            let mut given = agreements(plan, channel, Some(last));
            let is_given = given.any(|known| known.id.value == agreement.id.value);
            let may = |day| authority(plan, channel, member, Some(day)).is_ok();
            is_given && may(last) && !may(day)
        };
        let is_after = |stand: &&Stand<'_>| {
            let day = clock.last_day(stand.period);
            let channels = worked.get(&*stand.duty.post.value).map(Vec::as_slice).unwrap_or_default();
            let Some(member) = plan.members.get(&stand.duty.member).filter(|_| day > last) else { return false };
            channels.iter().any(|channel| is_lacking(channel, member, day))
        };
        let mut after: Vec<&Stand<'_>> = duties.values().flatten().filter(is_after).collect();
        after.sort_by_key(|stand| stand.period);
        let what = format!("the agreement with {} ends on {last}", agreement.with.value);
        let finding = finding(plan, (what, agreement.expires), &after);
        found.extend(finding.map(|finding| finding.on(subject(agreement))));
    }
}

/// By post: the channels of the nets that it works, and where their rows lead further.
fn worked(facts: Facts<'_>) -> BTreeMap<&Id, Vec<&Channel>> {
    let (plan, staff) = (facts.plan, facts.staff());
    let of_net: BTreeMap<&Id, Vec<&Channel>> = plan
        .nets
        .iter()
        .map(|net| (&net.id.value, reached(plan, net).into_iter().map(|reached| reached.channel).collect()))
        .collect();
    let of_post = |post| {
        let nets = staff.nets_of(post).into_iter();
        nets.filter_map(|net| of_net.get(&net.id.value)).flatten().copied().collect()
    };
    plan.posts.iter().map(|post| (&post.id.value, of_post(post))).collect()
}

/// The finding at the first of the duties that come after the end; none where none does.
fn finding(plan: &Plan, (what, expires): (String, At<Day>), after: &[&Stand<'_>]) -> Option<Finding> {
    let (first, others) = after.split_first()?;
    let duty = first.duty;
    let (member, post) = (plan.members.get(&duty.member)?, plan.posts.get(&duty.post)?);
    let when = Clock::of(plan).words(first.period);
    let more = if others.is_empty() {
        String::new()
    } else {
        format!("; {} after it", counted(others.len(), "further duty", "further duties"))
    };
    let what = format!("{what}, and {} has duty at {} from {when}{more}", member.name.value, post.name.value);
    Some(
        Finding::new(&RULE, duty.member.span, what)
            .label("may only listen by then")
            .and(expires.span, "ends here")
            .help("give the duty to somebody else, or renew and write the new day")
            .on(subject(member))
            .on(subject(post)),
    )
}
