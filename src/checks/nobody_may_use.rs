//! Somebody who works a net must be allowed to send on each of its channels.

use super::amateur::{is_in_band, may_member_send, on_channel};
use super::{Check, Facts};
use crate::ground::{Finding, Findings, Rule, Severity, Span, plural};
use crate::plan::{Channel, Duty, Member, Net, Post, Service, subject};
use crate::reckon::{crew, least_class};

/// The rule and its check.
pub(super) const CHECK: Check = Check { rule: &RULE, run: check };

/// Somebody who works a net must be allowed to send on each of its channels.
pub(super) const RULE: Rule = Rule {
    name: "nobody-may-use",
    severity: Severity::Error,
    waivable: false,
    source: "the rows of the profile; us: 47 CFR 97.301, 97.305; privileges follow the control operator (97.105)",
    since: "0.1.0",
    doc: DOC,
};

const DOC: &str = r#"
Finds: a channel of a net, or the `next` of one, on which none of the members with a duty in that net may send; and a post of the net at which, from the start of some duty, nobody may. Channels that are listened to alone count as well: a net needs to be answered.
Costs: the net moves to its fallback and falls silent there.

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
id = "cmd"
slot = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "hf"
slot = 2
name = "HF DAY"
spoken = "Forty"
dial = "7245.0 kHz"
side = "LSB"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "county"
name = "County Net"
spoken = "County Net"
primary = "cmd"
alternate = "hf"            # nobody-may-use
control = "desk"

[[post]]
id = "desk"
name = "Net control"
nets = ["county"]

[[duty]]
post = "desk"
member = "qsb"
from = "2026-12-05 06:00"
to = "2026-12-05 18:00"
```
Right: give a General a duty in the net, or choose a channel that a Technician may use.
"#;

fn check(facts: Facts<'_>, found: &mut Findings) {
    for net in facts.plan.nets.iter() {
        let Some(members) = crew(facts.plan, net) else { continue };
        let needs = needs(facts, net);
        let (silent, open): (Vec<_>, Vec<_>) =
            needs.into_iter().partition(|need| is_silent(facts, &members, need.channel));
        for need in silent {
            let what = format!(
                "none of the {} who work {} may send on {}, its {}",
                plural(members.len(), "member"),
                net.name.value,
                need.channel.name.value,
                need.what
            );
            let finding = finding(facts, need.channel, need.at, what).on(subject(net)).on(subject(need.channel));
            let duty = facts.plan.duties.iter().find(|duty| members.iter().any(|m| m.id.value == duty.member.value));
            found.push(match duty {
                Some(duty) => finding.and(duty.member.span, "works it"),
                None => finding,
            });
        }
        for post in facts.plan.posts.iter().filter(|post| post.nets.iter().any(|id| id.value == net.id.value)) {
            shifts(facts, net, post, &open, found);
        }
    }
}

/// A post falls silent alone, for one shift, where the net as a whole does not.
fn shifts(facts: Facts<'_>, net: &Net, post: &Post, open: &[Needed<'_>], found: &mut Findings) {
    let at_post = || facts.plan.duties.iter().filter(|duty| duty.post.value == post.id.value);
    for duty in at_post() {
        let is_there = |other: &&Duty| other.from.value <= duty.from.value && duty.from.value < other.to.value;
        let crew = at_post().filter(is_there).map(|other| facts.plan.members.get(&other.member));
        let Some(crew) = crew.collect::<Option<Vec<&Member>>>().filter(|crew| !crew.is_empty()) else { continue };
        let silent: Vec<&Needed<'_>> = open.iter().filter(|need| is_silent(facts, &crew, need.channel)).collect();
        let Some(first) = silent.first() else { continue };
        let names: Vec<&str> = silent.iter().map(|need| need.channel.name.as_str()).collect();
        let who: Vec<&str> = crew.iter().map(|member| member.name.as_str()).collect();
        let what = format!(
            "from {} nobody at {} ({}) may send on {} of {}",
            duty.from.value,
            post.name.value,
            who.join(", "),
            names.join(", "),
            net.name.value
        );
        found.push(finding(facts, first.channel, duty.member.span, what).on(subject(post)).on(subject(net)));
    }
}

/// A channel that a net needs.
struct Needed<'a> {
    channel: &'a Channel,
    /// `alternate channel`, `next channel after CMD 1`.
    what: String,
    /// Where the plan says so.
    at: Span,
}

/// A net's channels, and where each leads when it does not answer.
fn needs<'a>(facts: Facts<'a>, net: &'a Net) -> Vec<Needed<'a>> {
    let mut needs: Vec<Needed<'a>> = Vec::new();
    for leg in &net.legs {
        let Some(channel) = facts.plan.channels.get(&leg.channel) else { continue };
        needs.push(Needed { channel, what: format!("{} channel", leg.name), at: leg.channel.span });
    }
    let legs: Vec<&Channel> = needs.iter().map(|need| need.channel).collect();
    for leg in legs {
        let Some(next) = &leg.next else { continue };
        let Some(channel) = facts.plan.channels.get(next) else { continue };
        if needs.iter().all(|need| need.channel.id.value != channel.id.value) {
            needs.push(Needed { channel, what: format!("next channel after {}", leg.name.value), at: next.span });
        }
    }
    needs
}

/// Whether no one of `members` may send. An unknown class is a finding of its own, and that member may be the one who is
/// allowed; so is a channel that leaves its band.
fn is_silent(facts: Facts<'_>, members: &[&Member], channel: &Channel) -> bool {
    let is_amateur = channel.service.value == Service::Amateur;
    if is_amateur && channel.send.is_some() && !is_in_band(facts, channel) {
        return false;
    }
    let here = on_channel(facts, channel);
    members.iter().all(|member| may_member_send(facts, &here, member) == Some(false))
}

fn finding(facts: Facts<'_>, channel: &Channel, at: Span, what: String) -> Finding {
    let finding =
        Finding::new(&RULE, at, what).label("nobody there may send on it").and(channel.id.span, "this channel");
    if channel.service.value != Service::Amateur && channel.send.is_some() {
        let service = channel.service.value;
        return finding
            .note(format!("authority in the {service} service: a licence of it, or an agreement in force"))
            .help("write the member's licence, or the `[[agreement]]` that covers the channel");
    }
    match least_class(facts.tables, facts.profile, channel) {
        Some(class) => finding
            .note(format!("{} or higher may send there", class.name))
            .help(format!("give a duty there to a {} or higher, or choose another channel", class.name)),
        None => finding.help("choose a channel that is not listened to alone"),
    }
}
