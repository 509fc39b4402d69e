//! Facts that somebody must look at again: what they are and when that was last done.

use super::Facts;
use crate::ground::{At, Day, Span, Subject};
use crate::plan::{Evidence, subject};

/// Something that was true when somebody looked: when was that?
pub(super) struct Fact {
    /// In a sentence: `output, input and tones of repeater Cold Ridge`.
    pub what: String,
    /// The key that would say it.
    pub key: &'static str,
    /// The last day on which somebody looked; none when nobody did.
    pub seen: Option<At<Day>>,
    /// Where it would be written.
    pub span: Span,
    /// Whose it is.
    pub on: Subject,
}

/// Every fact of the plan that can grow old. Private values are named by their owner alone.
pub(super) fn facts(facts: Facts<'_>) -> Vec<Fact> {
    let mut all = Vec::new();
    stations(facts, &mut all);
    channels(facts, &mut all);
    people(facts, &mut all);
    all
}

fn day(evidence: Option<&Evidence>) -> Option<At<Day>> {
    evidence.map(|evidence| evidence.on)
}

fn stations(facts: Facts<'_>, all: &mut Vec<Fact>) {
    for repeater in facts.plan.repeaters.iter() {
        let what = format!("frequency and tone of repeater {}", repeater.name.value);
        let seen = day(repeater.verified.as_ref());
        all.push(Fact { what, key: "verified", seen, span: repeater.id.span, on: subject(repeater) });
    }
    for gateway in facts.plan.gateways.iter() {
        let what = format!("frequency and call of gateway {}", gateway.name.value);
        let seen = day(gateway.verified.as_ref());
        all.push(Fact { what, key: "verified", seen, span: gateway.id.span, on: subject(gateway) });
    }
}

/// Channels that stand on no repeater or gateway, nor on a repeater's output, carry their own evidence. A frequency that another service's rules
/// fix, or that was published under a name, needs none.
fn channels(facts: Facts<'_>, all: &mut Vec<Fact>) {
    for channel in facts.plan.channels.iter().filter(|channel| channel.has_own_frequencies()) {
        if !channel.service.is_amateur() || channel.standard.is_some() {
            continue;
        }
        let what = format!("channel {}", channel.name.value);
        let seen = day(channel.verified.as_ref());
        all.push(Fact { what, key: "verified", seen, span: channel.id.span, on: subject(channel) });
    }
}

fn people(facts: Facts<'_>, all: &mut Vec<Fact>) {
    for place in facts.plan.places.iter() {
        let what = format!("entrance, room and antenna at {}", place.tactical.value);
        all.push(Fact { what, key: "visited-on", seen: place.visited_on, span: place.id.span, on: subject(place) });
        for contact in &place.contacts {
            let what = format!("phone of {} at {}", contact.role.value, place.tactical.value);
            all.push(Fact { what, key: "confirmed", seen: contact.confirmed, span: contact.span, on: subject(place) });
        }
    }
    for member in facts.plan.members.iter() {
        if member.phones.is_empty() {
            let what = format!("record of {}", member.name.value);
            all.push(Fact {
                what,
                key: "confirmed",
                seen: member.confirmed,
                span: member.id.span,
                on: subject(member),
            });
        }
        for phone in &member.phones {
            let what = format!("phone of {}", member.name.value);
            let seen = phone.confirmed.or(member.confirmed);
            all.push(Fact { what, key: "confirmed", seen, span: phone.number.span, on: subject(member) });
        }
    }
}
