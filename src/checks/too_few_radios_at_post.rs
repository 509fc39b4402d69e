//! Who stands a post has as many radios as nets are worked there at once.

use super::Facts;
use super::post_watch::{Need, PostWatch};
use crate::ground::{At, Finding, Findings, Rule, listed};
use crate::plan::{Channel, Member, Plan, Radio, Ref, subject};
use crate::reckon::at_once;

/// Who stands a post has as many radios as nets are worked there at once.
pub(super) const RULE: Rule =
    Rule::warning("too-few-radios-at-post", "common practice, no source: one radio hears one net at a time", DOC);

const DOC: &str = r#"
Finds: a shift at a post whose people have fewer radios for the primary channels of its nets than there are nets. Channels that take `turns` at the place count once; a channel for which nobody has any radio is `no-radio-for-duty`; who has no radio in the plan is not judged.
Costs: the operator hears one net and misses the call of the other.

Wrong:
```toml
[[radio]]
id = "mobile"
name = "Two-meter mobile"
covers = ["144 MHz to 148 MHz"]
modes = ["FM"]
power = "50 W"

[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Tomas Lind"
class = "technician"
expires = 2030-04-01
confirmed = 2026-10-01
radio = ["mobile"]

[[channel]]
id = "cmd"
row = 2
name = "CMD 1"
spoken = "Command One"
simplex = "147.570 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[channel]]
id = "med"
row = 3
name = "MED 1"
spoken = "Medical One"
simplex = "146.430 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "cmd"

[[net]]
id = "medical"
name = "Medical net"
spoken = "Medical Net"
primary = "med"

[[post]]
id = "desk"
name = "Desk"
nets = ["command", "medical"]

[[duty]]
post = "desk"
member = "qsb"              # too-few-radios-at-post
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
```
Right: write the second radio that stands there among the member's, `radio = ["mobile", "mobile"]`, or send a second operator with one.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for watch in facts.watches() {
        let Some((needs, count)) = &watch.crowded else { continue };
        let Some(duty) = watch.duties.first() else { continue };
        let named = |need: &Need<'_>| format!("{} on {}", need.net.name.value, need.channel.name.value);
        let nets: Vec<String> = needs.iter().map(named).collect();
        let what = format!(
            "from {} {} nets are worked at once at {} ({}), {}, and the radios there are enough for {count}",
            watch.when,
            needs.len(),
            watch.post.name.value,
            watch.names(),
            listed(&nets)
        );
        let turns = match &watch.post.place {
            Some(_) => ", or let the channels take `turns` at the place",
            None => "",
        };
        let typed = enough(facts.plan, watch, needs)
            .map(|(who, radios)| format!(", as {who} with `radio = [{radios}]`"))
            .unwrap_or_default();
        let finding = Finding::new(&RULE, duty.member.span, what)
            .label("has too few radios for them")
            .help(format!(
                "send somebody with a further radio, or write the one that stands there among the member's{typed}{turns}"
            ))
            .on(subject(watch.post));
        let finding = watch.post.nets.iter().fold(finding, |finding, net| finding.and(net.span, "worked there"));
        let finding = watch.members.iter().fold(finding, |finding, (member, _)| finding.on(subject(*member)));
        found.push(needs.iter().fold(finding, |finding, need| finding.on(subject(need.net))));
    }
}

/// The radios of the first who stands there, and such as would be enough for all nets at once: one of theirs again, else another of the plan.
fn enough(plan: &Plan, watch: &PostWatch<'_>, needs: &[Need<'_>]) -> Option<(String, String)> {
    let channels: Vec<&Channel> = needs.iter().map(|need| need.channel).collect();
    let ((first, _), others) = watch.members.split_first()?;
    let mut with_more: Member = (*first).clone();
    let work = |member: &Member| {
        let people: Vec<&Member> = std::iter::once(member).chain(others.iter().map(|(other, _)| *other)).collect();
        at_once(plan, &people, &channels).unwrap_or(0)
    };
    while work(&with_more) < channels.len() {
        let now = work(&with_more);
        let own = with_more.radios.iter().map(|radio| radio.value.clone());
        let all: Vec<Ref<Radio>> = own.chain(plan.radios.iter().map(|radio| Ref::to(radio.id.value.clone()))).collect();
        with_more = all.into_iter().find_map(|radio| {
            let mut further = with_more.clone();
            further.radios.push(At::new(radio, first.span));
            (work(&further) > now).then_some(further)
        })?;
    }
    let radios: Vec<String> = with_more.radios.iter().map(|radio| format!("\"{}\"", radio.value)).collect();
    Some((first.name.to_string(), radios.join(", ")))
}
