//! After any single loss a net comes together again by what the cards say.

use super::Facts;
use crate::ground::{Finding, Findings, Id, MOST_LISTED, Rule, listed};
use crate::plan::{Clock, Net, Plan, subject};
use crate::reckon::{GoingOn, Loss, Met, NetOutcome, losses, rehearse};
use std::collections::BTreeSet;

/// After any single loss a net comes together again by what the cards say.
pub(super) const RULE: Rule = Rule::warning("net-does-not-rejoin", "a rehearsal of the plan's own words", DOC);

const DOC: &str = r#"
Finds: a loss (a repeater, a gateway, a place, utility power, the internet) after which a net whose people follow only their cards does not come together: in some stretch of time with the same people on duty they run out of channels, end on different ones, or one post of three or more is left alone. Who is posted at a lost place is lost with it; a net whose posts, two or more, are all at one place has nobody left without it. Of two posts the one that is left has nobody to meet, whatever its card says: that is no finding, and the rehearsal report says it. Two at one post share their radios and are one station.
Costs: the net falls apart at the moment for which it was planned.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[net]]
id = "county"
name = "County net"
spoken = "County Net"
primary = "cmd"             # net-does-not-rejoin
control = "desk"

[[post]]
id = "desk"
name = "Net control"
nets = ["county"]

[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
```
Right: add an `alternate` that everybody in the net can hear, best a simplex channel.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let day = plan.edition.as_ref().map(|edition| edition.valid_from.value);
    let (staff, losses) = (facts.staff(), losses(plan));
    let (mut said, mut going_on): (BTreeSet<&Id>, _) = (BTreeSet::new(), GoingOn::of(plan));
    for (loss, nets) in losses.iter().zip(staff.touched(&losses)) {
        for net in nets {
            // The first loss says it; others with the same end would only repeat it.
            if said.contains(&net.id.value) || going_on.is_sure(staff, net, loss) {
                continue;
            }
            let rests_on = facts.eligibility(day);
            let Some(rehearsal) = rehearse(rests_on, staff, net, loss) else { continue };
            let mut first = None;
            rehearsal.each_changed(|here| {
                first = here.is_fallen_apart().then(|| here.met());
                first.is_none()
            });
            if let Some(met) = first {
                said.insert(&net.id.value);
                found.push(finding(plan, net, loss, &met));
            }
        }
    }
}

fn finding(plan: &Plan, net: &Net, loss: &Loss, met: &Met<'_>) -> Finding {
    let apart: Vec<String> =
        met.apart.iter().map(|(member, apart)| format!("{} {}", member.name.value, apart.words())).collect();
    let when = met.when.map(|when| format!(" from {}", Clock::of(plan).words(when))).unwrap_or_default();
    let begins = format!("without {}, {}{when}", loss.words, net.name.value);
    let apart = listed(&apart);
    let mut what = match met.outcome() {
        NetOutcome::Meets(on) | NetOutcome::Silent(on) => format!("{begins} meets on {}, but {apart}", on.name.value),
        NetOutcome::Alone(on) => {
            let who = met.present.iter().chain(&met.listening).map(|member| member.name.to_string());
            let who = listed(&who.collect::<Vec<_>>());
            let others = if apart.is_empty() { String::new() } else { format!(", and {apart}") };
            format!("{begins} does not come together: only {who} is on {}{others}", on.name.value)
        }
        NetOutcome::Gone => format!("{begins} has nobody left"),
        NetOutcome::Nowhere | NetOutcome::Unnamed(_) => format!("{begins} does not come together: {apart}"),
    };
    let lost: Vec<String> = met.lost.iter().map(|member| member.name.to_string()).collect();
    if !lost.is_empty() {
        what.push_str(&format!("; lost with the place: {}", listed(&lost)));
    }
    let at = net.legs.first().map_or(net.span, |leg| leg.channel.span);
    let is_gone = matches!(met.outcome(), NetOutcome::Gone);
    let finding = Finding::new(&RULE, at, what);
    let finding = if is_gone {
        finding.label("nobody answers then").help("give somebody at another place a duty in the net")
    } else if met.apart.is_empty() {
        finding.label("one post is left").help("give somebody at another place a duty in the net")
    } else {
        finding.label("is dead then").help(
            "add a channel that everybody in the net can hear, best a simplex one; `rehearsal-report` shows every loss",
        )
    };
    let finding = loss.subject.iter().fold(finding.on(subject(net)), |finding, lost| finding.on(lost.clone()));
    let finding = met.apart.iter().fold(finding, |finding, (member, _)| finding.on(subject(*member)));
    let lost = met.lost.iter().map(|member| (*member, "lost with the place"));
    let shown = met.apart.iter().map(|(member, _)| (*member, "not with the net")).chain(lost).take(MOST_LISTED);
    shown.fold(finding, |finding, (member, label)| finding.and(member.id.span, label))
}
