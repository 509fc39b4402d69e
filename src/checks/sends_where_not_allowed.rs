//! Nothing is sent from a place that allows it nowhere.

use super::Facts;
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Leg, Place, Post, subject};
use crate::reckon::{SiteEnd, nets_at, posts_at};

/// Nothing is sent from a place that allows it nowhere.
pub(super) const RULE: Rule = Rule::error(
    "sends-where-not-allowed",
    "what the site's own staff allow, as the plan writes it in the place's `transmit`",
    DOC,
);

const DOC: &str = r#"
Finds: a place whose `transmit` says `allowed = "nowhere"`, where the plan has something sent all the same: a channel that the place monitors, one that a post there works, a repeater, gateway or link that stands there.
Costs: a transmitter beside medical or other equipment whose keepers said no.

Wrong:
```toml
[[place]]
id = "mercy"
code = "MRC"
tactical = "Mercy"
kind = "hospital"
visited-on = 2026-10-04
transmit = { allowed = "nowhere" }
monitors = ["cmd"]          # sends-where-not-allowed

[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
```
Right: work it from another place, or ask the site's staff where it may be sent and write what they say: `allowed = "roof only"` with `agreed-by` and `on`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for place in facts.plan.places.iter() {
        let Some(limit) = place.transmit.as_ref().filter(|limit| limit.is_nowhere()) else { continue };
        let Ok(site) = facts.site(place) else { continue };
        for sender in &site.senders {
            let Some(of) = &sender.subject else { continue };
            let what = format!(
                "at {} {} sends, and the site allows that {}",
                place.tactical.value, sender.name, limit.allowed.value
            );
            let finding = Finding::new(&RULE, sender.span, what)
                .label("sends there")
                .and(limit.allowed.span, "nowhere")
                .help("work it from another place; only the site's own staff can allow it there")
                .on(subject(place))
                .on(of.clone());
            found.push(with_duties(facts, place, sender, finding));
        }
    }
}

/// Who stands duty at the posts there that work the channel.
fn with_duties(facts: Facts<'_>, place: &Place, sender: &SiteEnd, finding: Finding) -> Finding {
    let is_on = |leg: &Leg| sender.channel.as_ref().is_some_and(|id| leg.channel.value == *id);
    let works = |post: &&Post| nets_at(facts.plan, post).iter().any(|(net, _)| net.legs.iter().any(is_on));
    let posts = posts_at(facts.plan, place).filter(works);
    let duties = posts.flat_map(|post| facts.plan.duties.iter().filter(|duty| duty.post.value == post.id.value));
    duties.fold(finding, |finding, duty| finding.and(duty.post.span, format!("{} stands there", duty.member.value)))
}
