//! Who holds the papers can reach net control.

use super::Facts;
use crate::ground::{Audience, Finding, Findings, Rule};
use crate::plan::{Member, Plan, Post, subject};
use crate::reckon::Staff;

/// Who holds the papers can reach net control.
pub(super) const RULE: Rule = Rule::warning("net-control-unreachable", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a net whose control post has no place in the plan, while no sheet that is ordered shows a call sign or a phone of anybody with a duty there. Sheets that show people are those of the kind `contact-card`; of phone numbers they show what their audience may read. In a plan without such a sheet it counts what the plan writes.
Costs: nobody who reads the papers could reach net control when the net is silent.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "cmd"
control = "eoc"             # net-control-unreachable

[[post]]
id = "eoc"
name = "EOC"
nets = ["command"]```
Right: write the `place` of the post, or who stands there.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    if !plan.has_all(&["post", "duty", "member", "document"]) {
        return;
    }
    let staff = facts.staff();
    for net in plan.nets.iter() {
        let Some(control) = &net.control else { continue };
        let Some(post) = plan.posts.get(control).filter(|post| !is_reachable(staff, plan, post)) else { continue };
        let what = format!(
            "no sheet says how to reach {}, which controls {}: it has no place, and nobody with a call sign or phone on a sheet stands there",
            post.name.value, net.name.value
        );
        found.push(
            Finding::new(&RULE, control.span, what)
                .label("cannot be reached")
                .and(post.id.span, "this post")
                .help("write the `place` of the post, with its contacts in `[[place]]`")
                .on(subject(net))
                .on(subject(post)),
        );
    }
}

fn is_reachable(staff: &Staff<'_>, plan: &Plan, post: &Post) -> bool {
    let sheets = plan.documents.iter().filter(|order| order.kind.as_str() == "contact-card");
    let readers: Vec<&Audience> = sheets.map(|order| &order.audience.value).collect();
    let is_shown = |member: &Member| {
        let is_open = |mark: &Audience| readers.is_empty() || readers.iter().any(|reader| reader.may_read(mark));
        member.call.is_some() || member.phones.iter().any(|phone| is_open(phone.number.value.audience()))
    };
    let mut here = staff.duties_at(&post.id.value);
    post.place.is_some() || here.by_ref().filter_map(|duty| plan.members.get(&duty.member)).any(is_shown)
}
