//! In a service licensed by rule its limits hold.

use super::Facts;
use crate::ground::{Finding, Findings, Power, Rule, Span, Width};
use crate::plan::{Agreement, Channel, subject};
use crate::reckon::{agreements, service_row};
use crate::tables::{MostPower, PowerMeasure, ServiceChannel, Tables};

/// In a service licensed by rule its limits hold.
pub(super) const RULE: Rule = Rule::error("service-limit-exceeded", "the rows of the profile; us: 47 CFR Part 95", DOC);

const DOC: &str = r#"
Finds: a channel of another service with a wider signal or more power than that channel allows, or with more power than the agreement under which it is used.
Costs: a service is shared because its radios stay within these limits, and an agreement ends when they do not.

Wrong:
```toml
[[channel]]
id = "block"
row = 2
name = "FRS 1"
spoken = "Family One"
service = "frs"
simplex = "462.5625 MHz"
width = "narrow"
power = "5 W"               # service-limit-exceeded
```
Right: write `power = "2 W"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter().filter(|channel| channel.send.is_some()) {
        agreed_power(facts, channel, found);
    }
    each(facts, (&RULE, false), found);
}

/// Finds what is over a row under a rule: rows from memory, or all others.
pub(super) fn each(facts: Facts<'_>, (rule, is_from_memory): (&'static Rule, bool), found: &mut Findings) {
    for channel in facts.plan.channels.iter() {
        let Some(row) = service_row(facts.profile, channel) else { continue };
        if let (Some(power), Some(MostPower { power: most, measure })) = (channel.power, row.most)
            && power.value > most
            && row.cite.is_from_memory("power") == is_from_memory
        {
            let what = format!("channel {} allows {}, where {} has {most}", channel.name.value, power.value, row.name);
            let finding = finding(rule, channel, row, (power.span, what)).fix(power.span, format!("\"{most}\""));
            found.push(match measure {
                PowerMeasure::Erp => finding.help(format!(
                    "write `power = \"{most}\"` or less: the limit is ERP, and a half-wave dipole (0 dBd) is assumed"
                )),
                PowerMeasure::Output => finding.help(format!("write `power = \"{most}\"` or less")),
            });
        }
        let Ok(emission) = facts.emission_of(&channel.signal) else { continue };
        let is_asked = row.cite.is_from_memory("width") == is_from_memory;
        let Some(width) = row.width.filter(|width| is_asked && emission.width() > *width) else { continue };
        let what =
            format!("channel {} is {} wide, where {} has {width}", channel.name.value, emission.width(), row.name);
        let written = channel.signal.emission.as_ref().map_or(channel.signal.width.span, |emission| emission.span);
        let finding = finding(rule, channel, row, (written, what));
        found.push(finding.help(format!("write `width = \"{}\"`", narrower(channel, width))));
    }
}

/// More power than every agreement that covers the channel allows.
fn agreed_power(facts: Facts<'_>, channel: &Channel, found: &mut Findings) {
    let Some(power) = channel.power else { return };
    let most = |agreement: &Agreement| agreement.max.map_or(Power::milliwatts(u64::MAX), |max| max.value);
    let Some(agreement) = agreements(facts.plan, channel, None).max_by_key(|agreement| most(agreement)) else { return };
    let Some(max) = agreement.max.filter(|max| power.value > max.value) else { return };
    let what = format!(
        "channel {} allows {}, where the agreement with {} has {}",
        channel.name.value, power.value, agreement.with.value, max.value
    );
    found.push(
        Finding::new(&RULE, power.span, what)
            .label("more than was agreed")
            .and(max.span, "the agreement")
            .help(format!("write `power = \"{}\"` or less", max.value))
            .fix(power.span, format!("\"{}\"", max.value))
            .on(subject(channel)),
    );
}

/// The width to write: the profile's word where there is one, else the figure.
fn narrower(channel: &Channel, most: Width) -> String {
    let form = Tables::built_in().modes.widest_within(channel.signal.mode.value.word(), most);
    form.map_or_else(|| most.to_string(), |form| form.width.clone())
}

fn finding(rule: &'static Rule, channel: &Channel, row: &ServiceChannel, (at, what): (Span, String)) -> Finding {
    Finding::new(rule, at, what)
        .label("too much for this service")
        .and(channel.hear.span, row.name.clone())
        .note(row.cite.said())
        .on(subject(channel))
}
