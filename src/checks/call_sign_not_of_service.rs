//! A station identifies with a call sign of its own service.

use super::Facts;
use crate::ground::{Finding, Findings, Rule, Span, Subject};
use crate::plan::subject;
use crate::tables::Service;

/// A station identifies with a call sign of its own service.
pub(super) const RULE: Rule = Rule::error(
    "call-sign-not-of-service",
    "the rows of the profile; us: 47 CFR 97.119, 95.1751 (the assigned call sign of the service)",
    DOC,
);

const DOC: &str = r#"
Finds: a call sign that has not the shape of its service: an amateur one of a repeater in GMRS, a GMRS one where an amateur one is meant; in a member's `licence` as well.
Costs: the station identifies with a call sign that gives it no right to be there.

Wrong:
```toml
[[repeater]]
id = "ridge-gmrs"
service = "gmrs"
call = "WZ7QUC"             # call-sign-not-of-service
output = "462.675 MHz"
input = "+5 MHz"
tone-in = "141.3 Hz"
tone-out = "off"
verified = { on = 2026-10-04, by = "qra" }
```
Right: write the call sign of its own license, as `call = "WQAA000"`.
"#;

/// A call sign as the plan gives it to somebody or something.
struct GivenCall<'a> {
    text: String,
    span: Span,
    service: &'a Service,
    on: Subject,
}

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    for given in all(facts) {
        let finding = if given.service.is_amateur() { of_amateur(facts, &given) } else { of_other(&given) };
        finding.into_iter().for_each(|finding| found.push(finding));
    }
}

fn all<'a>(facts: Facts<'a>) -> Vec<GivenCall<'a>> {
    let (plan, amateur) = (facts.plan, &facts.profile.amateur);
    let mut all = Vec::new();
    let mut add = |text: String, span, service: &'a Service, on| all.push(GivenCall { text, span, service, on });
    for member in plan.members.iter() {
        if let Some(call) = &member.call {
            add(call.value.base().to_owned(), call.span, amateur, subject(member));
        }
        for licence in &member.licences {
            if let Some(call) = &licence.call {
                add(call.as_str().to_ascii_uppercase(), call.span, &licence.service.value, subject(member));
            }
        }
    }
    for repeater in plan.repeaters.iter() {
        if let Some(call) = &repeater.call {
            add(call.value.base().to_owned(), call.span, &repeater.service.value, subject(repeater));
        }
    }
    for gateway in plan.gateways.iter() {
        add(gateway.call.value.base().to_owned(), gateway.call.span, &gateway.service.value, subject(gateway));
    }
    for link in plan.links.iter() {
        let joined = link.joins.iter().find_map(|id| plan.channels.get(&id.value));
        let service = joined.map_or(amateur, |channel| &channel.service.value);
        add(link.call.value.base().to_owned(), link.call.span, service, subject(link));
    }
    all
}

fn of_amateur(facts: Facts<'_>, given: &GivenCall<'_>) -> Option<Finding> {
    let is_amateur = crate::ground::CallSign::parse(&given.text).is_ok_and(|call| call.is_amateur());
    if is_amateur {
        return None;
    }
    let theirs =
        facts.profile.services.iter().find(|service| !service.calls.is_empty() && service.has_call(&given.text));
    let what = match theirs {
        Some(service) => {
            format!("{} is no amateur call sign: it has the shape of those of {}", given.text, service.name)
        }
        None => format!("{} is no amateur call sign: that ends in a letter", given.text),
    };
    let finding = Finding::new(&RULE, given.span, what).label("not of the amateur service").on(given.on.clone());
    let id = theirs.map(|service| service.id.as_str());
    Some(match (id, given.on.kind) {
        (Some(id), "member") => finding.help(format!(
            "write the amateur call sign here, and this one as `licence = [{{ service = \"{id}\", call = \"{}\" }}]`",
            given.text
        )),
        (Some(id), _) => finding.help(format!("write `service = \"{id}\"` beside it, or the amateur call sign")),
        (None, _) => finding.help("write the amateur call sign"),
    })
}

fn of_other(given: &GivenCall<'_>) -> Option<Finding> {
    let service = Some(given.service).filter(|service| !service.has_call(&given.text))?;
    let what = format!("{} has not the shape of a call sign of {}", given.text, service.name);
    let shapes = service.calls.join(" or ");
    let finding = Finding::new(&RULE, given.span, what).label("not of this service").on(given.on.clone());
    let note =
        format!("{shapes}, A for a letter and 0 for a digit ({}, {})", service.cite.source, service.cite.confidence);
    Some(finding.note(note).help(format!("write the call sign of the {} license", service.name)))
}
