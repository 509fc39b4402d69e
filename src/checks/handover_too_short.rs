//! Who leaves a post and who comes stand there together for as long as the plan wants it.

use super::Facts;
use super::trial::first_clean_plan;
use super::trials::Proposing;
use crate::ground::{At, Finding, Findings, Rule, Span};
use crate::plan::{Clock, LocalTime, Post, subject};
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

pub(super) fn check(facts: Facts<'_>, proposing: &mut Proposing<'_>, found: &mut Findings) {
    let Some(wanted) = MuchDuty::of(facts.plan).handover else { return };
    let staff = facts.staff();
    for post in facts.plan.posts.iter() {
        let stands: Vec<_> = staff.stands_at(&post.id.value).collect();
        let is_relief = |relief: &Relief<'_>| relief.by.is_some() && !relief.goes_on();
        let all: Vec<Relief<'_>> = reliefs(&stands).into_iter().filter(is_relief).collect();
        let short: Vec<&Relief<'_>> = all.iter().filter(|relief| relief.overlap() < wanted.most).collect();
        found.extend(finding(facts, post, ((&short, all.len()), wanted), proposing));
    }
}

/// One finding for a post, at the first relief that is too short.
fn finding(
    facts: Facts<'_>,
    post: &Post,
    ((short, all), wanted): ((&[&Relief<'_>], usize), Limit),
    proposing: &mut Proposing<'_>,
) -> Option<Finding> {
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
    Some(proposed(facts, ((first, short.len() == 1), wanted), finding.on(subject(post)), proposing))
}

/// What brings the time together without another finding: who leaves stays longer, who comes begins earlier, or both share it.
fn proposed(
    facts: Facts<'_>,
    ((relief, is_all), wanted): ((&Relief<'_>, bool), Limit),
    finding: Finding,
    proposing: &mut Proposing<'_>,
) -> Finding {
    let general = "let who leaves stay longer, or who comes begin earlier";
    let Some(by) = relief.by else { return finding.help(general) };
    let (clock, lacks) = (Clock::of(facts.plan), wanted.most - relief.overlap());
    let (goes, comes) = (relief.of.duty.to, by.duty.from);
    let ways = [(lacks, 0), (0, lacks), (lacks - lacks / 2, lacks / 2)].map(|(later, earlier)| {
        let to = (later > 0).then(|| goes.with(clock.written(relief.of.period.to.after(later))));
        let from = (earlier > 0).then(|| comes.with(clock.written(by.period.from.after(-earlier))));
        (to, from)
    });
    let plans = ways.iter().map(|(to, from)| {
        let mut plan = facts.plan.clone();
        for duty in plan.duties.to_change() {
            duty.to = to.filter(|to| to.span == duty.to.span).unwrap_or(duty.to);
            duty.from = from.filter(|from| from.span == duty.from.span).unwrap_or(duty.from);
        }
        plan
    });
    let Some(clean) = first_clean_plan(facts, proposing, plans) else {
        return finding.help(format!(
            "{general}, as far as no duty becomes too long by it; or give one of the duties to somebody else"
        ));
    };
    // Where further reliefs are too short, one mend does not end the finding.
    let typed = |finding: Finding, time: At<LocalTime>| match is_all {
        true => finding.fix(time.span, format!("\"{}\"", time.value)),
        false => finding,
    };
    match ways.get(clean) {
        Some((Some(to), None)) => {
            typed(finding.help(format!("let who leaves stay longer, `to = \"{}\"`", to.value)), *to)
        }
        Some((None, Some(from))) => {
            typed(finding.help(format!("let who comes begin earlier, `from = \"{}\"`", from.value)), *from)
        }
        Some((Some(to), Some(from))) => finding.help(format!(
            "let who leaves stay longer, `to = \"{}\"`, and who comes begin earlier, `from = \"{}\"`",
            to.value, from.value
        )),
        _ => finding.help(general),
    }
}
