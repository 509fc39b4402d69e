//! Who leaves a post and who comes stand there together for as long as the plan wants it.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Span};
use crate::plan::{Clock, Post, subject};
use crate::reckon::{Limit, MuchDuty, Relief, reliefs};

/// Who leaves a post and who comes stand there together for as long as the plan wants it.
pub(super) const RULE: Rule = Rule::warning("handover-too-short", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a post at which one member relieves another and both stand there for less than `handover` of `[duty-limits]` says. Nothing is found where the plan does not say it. Where nobody comes at all, `post-unstaffed` says so; where the same member goes on, nothing is handed over.
Costs: the open messages, the channel in use and the state of the battery leave with who knew them.

Wrong:
```toml
[duty-limits]
handover = "15 min"

[[post]]
id = "desk"
name = "Desk"

[[duty]]
post = "desk"
member = "qra"
from = "2026-12-05 06:00"
to = "2026-12-05 12:00"     # handover-too-short

[[member]]
id = "qsb"
name = "Abel Quist"
class = "none"
confirmed = 2026-10-01

[[duty]]
post = "desk"
member = "qsb"
from = "2026-12-05 12:00"
to = "2026-12-05 18:00"
```
Right: let who comes begin earlier, or who leaves end later: `to = "2026-12-05 12:15"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let Some(wanted) = MuchDuty::of(facts.plan).handover else { return };
    let staff = facts.staff();
    for post in facts.plan.posts.iter() {
        let stands: Vec<_> = staff.stands_at(&post.id.value).collect();
        let is_relief = |relief: &Relief<'_>| relief.by.is_some() && !relief.goes_on();
        let all: Vec<Relief<'_>> = reliefs(&stands).into_iter().filter(is_relief).collect();
        let short: Vec<&Relief<'_>> = all.iter().filter(|relief| relief.overlap() < wanted.most).collect();
        found.extend(finding(facts, post, (&short, all.len()), wanted));
    }
}

/// One finding for a post, at the first relief that is too short.
fn finding(facts: Facts<'_>, post: &Post, (short, all): (&[&Relief<'_>], usize), wanted: Limit) -> Option<Finding> {
    let first = short.first()?;
    let (clock, end) = (Clock::of(facts.plan), first.of.period.to);
    let others = match short.len() {
        1 if all == 1 => String::new(),
        1 => format!("; 1 relief of {all} is too short"),
        more => format!("; {more} reliefs of {all} are too short"),
    };
    let what = format!(
        "at {} the relief on {} has {} min together, less than {} min{others}",
        post.name.value,
        clock.local(end),
        first.overlap(),
        wanted.most
    );
    let finding = Finding::new(&RULE, first.of.duty.to.span, what).label("leaves then");
    let comes = first.by.map_or(Span::NOWHERE, |by| by.duty.from.span);
    let finding = finding.and(comes, "comes then");
    let finding = wanted.at.into_iter().fold(finding, |finding, at| finding.and(at, "wanted here"));
    let later = clock.local(end.after(wanted.most - first.overlap()));
    Some(
        finding
            .help(format!("let who leaves stay longer, `to = \"{later}\"`, or who comes begin earlier"))
            .on(subject(post)),
    )
}
