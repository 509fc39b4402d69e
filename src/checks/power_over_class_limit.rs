//! A channel's power is within what each member who may send there may use.

use super::Facts;
use super::amateur::{may_member_send, on_channel};
use crate::ground::{Finding, Findings, Rule};
use crate::plan::{Channel, subject};
use crate::reckon::class_limit;
use crate::tables::PowerMeasure;
use std::collections::BTreeSet;

/// A channel's power is within what each member who may send there may use.
pub(super) const RULE: Rule =
    Rule::warning("power-over-class-limit", "the rows of the profile; us: 47 CFR 97.313(c)(2), (d), (e)", DOC);

const DOC: &str = r#"
Finds: a channel that allows more power than the law leaves some member's class there. On that member's own card the lower figure is printed; on a shared card there is room for one.
Costs: a Technician reads 1500 W on a segment where the limit is 200 W.

Wrong:
```toml
[[member]]
id = "qsb"
call = "WZ7QSB"
name = "Abel Quist"
class = "technician"
expires = 2030-04-01
confirmed = 2026-10-01

[[channel]]
id = "code"
row = 2
name = "CODE 40"
spoken = "Code Forty"
dial = "7110.0 kHz"
side = "LSB"
mode = "CW"
power = "400 W"             # power-over-class-limit
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `power = "200 W"`, or accept it where only personal cards are handed out.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let held: BTreeSet<&str> =
        facts.plan.members.iter().filter_map(|member| Some(member.class.as_ref()?.as_str())).collect();
    for channel in facts.plan.channels.iter().filter(|channel| channel.service.is_amateur()) {
        held.iter().for_each(|class| look(facts, channel, class, found));
    }
}

fn look(facts: Facts<'_>, channel: &Channel, class: &str, found: &mut Findings) {
    let (Some(power), Some(class)) = (channel.power, facts.profile.class(class)) else { return };
    let Some(stretch) = facts.sent_on(channel) else { return };
    let limit = class_limit(facts.profile, class, &stretch);
    let Some(limit) = limit.filter(|limit| power.value > limit.most.power) else { return };
    let holder = facts.plan.members.iter().find(|m| m.class.as_ref().is_some_and(|held| held.as_str() == class.id));
    let here = on_channel(facts, channel);
    let Some(holder) = holder.filter(|member| may_member_send(facts, &here, member) == Some(true)) else { return };
    let (measure, note) = match limit.most.measure {
        PowerMeasure::Output => ("", limit.cite.source.clone()),
        PowerMeasure::Erp => (" ERP", format!("{}; a half-wave dipole (0 dBd) is assumed", limit.cite.source)),
    };
    let what = format!(
        "channel {} allows {}, where a {} may use {}{measure}",
        channel.name.value, power.value, class.name, limit.most.power
    );
    found.push(
        Finding::new(&RULE, power.span, what)
            .label("too much for some")
            .and(holder.id.span, "has this class, perhaps with others")
            .note(note)
            .help(format!(
                "write `power = \"{}\"` or less, or accept it where only personal cards are used",
                limit.most.power
            ))
            .fix(power.span, format!("\"{}\"", limit.most.power))
            .on(subject(channel)),
    );
}
