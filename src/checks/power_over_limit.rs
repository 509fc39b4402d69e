//! The power that a channel allows must be within what every station there may use.

use super::{Check, Facts};
use crate::ground::{At, Finding, Findings, Frequency, Power, Rule, Severity, Subject};
use crate::plan::{Place, Ref, Service, Side, Signal, subject};
use crate::reckon::{Spot, Within, spot, spots, within};
use crate::tables::{Area, PowerMeasure};

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// The power that a channel allows must be within what every station there may use.
pub(super) const RULE: Rule = Rule {
    name: "power-over-limit",
    severity: Severity::Error,
    waivable: false,
    source: "the rows of the profile; us: 47 CFR 97.313",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a channel, repeater, gateway or link with more transmitter power than the law allows there to any class, and one whose radiated power would exceed an ERP limit with a half-wave dipole (0 dBd).
Costs: the card would tell somebody to send with too much.

Wrong:
```toml
[[channel]]
id = "sixty"
row = 2
name = "HF 60"
spoken = "Sixty"
dial = "5357.0 kHz"
side = "USB"
power = "50 W"              # power-over-limit
verified = { on = 2026-10-01, by = "qra" }
```
Right: write `power = "9 W"`: the segment allows 9.15 W ERP.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    for channel in facts.plan.channels.iter().filter(|channel| channel.service.value == Service::Amateur) {
        if let (Some(send), Some(power)) = (channel.send, channel.power) {
            let words = format!("channel {}", channel.name.value);
            let (side, signal) = (channel.side(), &channel.signal);
            let (spots, on) = (spots(facts.plan, channel), subject(channel));
            compare(facts, &Sent { words, frequency: send, side, signal, power, on, spots }, found);
        }
    }
    for repeater in facts.plan.repeaters.iter().filter(|repeater| repeater.service.value == Service::Amateur) {
        if let Some(power) = repeater.power {
            let words = format!("repeater {}", repeater.name.value);
            let (frequency, signal) = (repeater.output, &repeater.signal);
            let spots = vec![spot(facts.plan, repeater.place.as_ref().map(|place| &*place.value))];
            compare(facts, &Sent { words, frequency, side: None, signal, power, on: subject(repeater), spots }, found);
        }
    }
    gateways_and_links(facts, found);
}

fn gateways_and_links(facts: Facts<'_>, found: &mut Findings) {
    let plan = facts.plan;
    let place = |at: &Option<At<Ref<Place>>>| vec![spot(plan, at.as_ref().map(|place| &*place.value))];
    for gateway in plan.gateways.iter().filter(|gateway| gateway.service.value == Service::Amateur) {
        let Some(power) = gateway.power else { continue };
        let words = format!("gateway {}", gateway.name.value);
        let (frequency, signal, spots) = (gateway.frequency, &gateway.signal, place(&gateway.place));
        compare(facts, &Sent { words, frequency, side: None, signal, power, on: subject(gateway), spots }, found);
    }
    for link in plan.links.iter() {
        for channel in link.joins.iter().filter_map(|id| plan.channels.get(&id.value)) {
            let (Some(power), Some(frequency)) = (link.power, channel.send) else { continue };
            if channel.service.value == Service::Amateur {
                let words = format!("link {} on {}", link.name.value, channel.name.value);
                let (side, signal, spots) = (channel.side(), &channel.signal, place(&link.place));
                compare(facts, &Sent { words, frequency, side, signal, power, on: subject(link), spots }, found);
            }
        }
    }
}

/// Something that transmits with a power that the plan states.
struct Sent<'a> {
    /// What it is in a sentence: `channel CMD 1`.
    words: String,
    frequency: At<Frequency>,
    side: Option<Side>,
    signal: &'a Signal,
    power: At<Power>,
    on: Subject,
    /// Where it may stand.
    spots: Vec<Spot<'a>>,
}

fn compare(facts: Facts<'_>, sent: &Sent<'_>, found: &mut Findings) {
    let Sent { words, frequency, side, signal, power, on, spots } = sent;
    let Ok(stretch) = facts.occupied_by(frequency.value, signal, *side) else { return };
    let is_there = |area: &Area| spots.iter().any(|spot| within(area, spot) == Within::Yes);
    let binding = facts.profile.power_limits.iter().filter(|limit| {
        limit.classes.is_empty() && limit.edges.overlaps(&stretch) && limit.area.as_ref().is_none_or(is_there)
    });
    let Some(limit) = binding.min_by_key(|limit| limit.most.power) else { return };
    if power.value <= limit.most.power {
        return;
    }
    let measure = match limit.most.measure {
        PowerMeasure::Output => "transmitter output",
        PowerMeasure::Erp => "ERP",
    };
    let place = limit.area.as_ref().map_or_else(String::new, |area| format!(" in {}", area.name));
    let what = format!(
        "{words} allows {} on {}, over the limit of {} {measure}{place}",
        power.value, frequency.value, limit.most.power
    );
    let finding = Finding::new(&RULE, power.span, what)
        .label("too much here")
        .and(frequency.span, "on this frequency")
        .on(on.clone());
    let note = match limit.most.measure {
        PowerMeasure::Output => limit.cite.source.clone(),
        PowerMeasure::Erp => {
            format!("{}; a half-wave dipole (0 dBd) is assumed, more gain leaves less power", limit.cite.source)
        }
    };
    let help = format!("write `power = \"{}\"` or less", limit.most.power);
    found.push(finding.note(note).help(help).fix(power.span, format!("\"{}\"", limit.most.power)));
}
