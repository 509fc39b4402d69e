//! Somebody who works a net must be allowed to send on each of its channels.

use super::Facts;
use super::amateur::on_channel;
use super::at_post::{crew_by_day, is_silent};
use super::post_watch::{Present, named, nets_of};
use crate::ground::{Finding, Findings, Id, MOST_LISTED, Rule, Span, article, listed, plural};
use crate::plan::{Channel, subject};
use crate::reckon::{OnChannel, Term, Verdict, agreements, reached};
use std::collections::BTreeSet;

/// Somebody who works a net must be allowed to send on each of its channels.
pub(super) const RULE: Rule = Rule::error(
    "nobody-may-use",
    "the rows of the profile; us: 47 CFR 97.301, 97.305; privileges follow the control operator (97.105)",
    DOC,
);

const DOC: &str = r#"
Finds: a channel of a net, or one to which the `next` of its rows lead, on which none of the members with a duty in that net may send; and a post of the net at which, during some shift, nobody may: said once a post and shift. Asked for the day of the duty: a licence or an agreement that has ended by then gives nothing. Channels that are listened to alone count as well: a net needs to be answered.
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
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"

[[channel]]
id = "hf"
row = 2
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
rejoin = "listen on CMD 1 for 5 minutes at each full hour"

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

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let staff = facts.staff();
    for net in facts.plan.nets.iter() {
        let Some(crew) = crew_by_day(staff, net) else { continue };
        let members: BTreeSet<&Id> = crew.iter().map(|(member, _)| &member.id.value).collect();
        for need in reached(facts.plan, net).iter().filter(|need| is_silent(facts, &crew, need.channel)) {
            let what = format!(
                "none of the {} who work {} may send on {}, its {}",
                plural(members.len(), "member"),
                net.name.value,
                need.channel.name.value,
                need.what
            );
            let finding = finding(facts, &[need.channel], (need.at, what), &crew);
            let finding = finding.on(subject(net)).on(subject(need.channel));
            let duty = facts.plan.duties.iter().find(|duty| members.contains(&*duty.member.value));
            found.push(match duty {
                Some(duty) => finding.and(duty.member.span, "works it"),
                None => finding,
            });
        }
    }
    // A post falls silent alone, for one shift, where the net as a whole does not.
    for watch in facts.watches() {
        let Some(duty) = watch.duties.first().filter(|_| !watch.silent.is_empty()) else { continue };
        let what = format!(
            "from {} nobody at {} ({}) may send on {}",
            watch.when,
            watch.post.name.value,
            watch.names(),
            named(&watch.silent)
        );
        let channels: Vec<&Channel> = watch.silent.iter().map(|need| need.channel).collect();
        let finding = finding(facts, &channels, (duty.member.span, what), &watch.members).on(subject(watch.post));
        found.push(nets_of(&watch.silent).into_iter().fold(finding, |finding, net| finding.on(subject(net))));
    }
}

fn finding(facts: Facts<'_>, silent: &[&Channel], (at, what): (Span, String), present: &[Present<'_>]) -> Finding {
    let finding = Finding::new(&RULE, at, what).label("nobody there may send on it");
    let shown = silent.iter().take(MOST_LISTED);
    let mut finding = shown.fold(finding, |finding, channel| finding.and(channel.id.span, "this channel"));
    let (mut notes, mut helps): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    let sent = silent.iter().filter(|channel| channel.send.is_some());
    let (amateur, others): (Vec<&Channel>, Vec<&Channel>) = sent.partition(|channel| channel.service.is_amateur());
    let ended = ended(facts, silent, present);
    if !ended.is_empty() {
        helps.push("renew what has ended and write its new day".to_owned());
        finding = ended.into_iter().fold(finding, |finding, at| finding.and(at, "has ended by then"));
    }
    if !amateur.is_empty() {
        let (note, help) = classes(facts, &amateur);
        notes.push(note);
        helps.push(help);
    }
    if let Some(first) = others.first() {
        let service = &first.service.value;
        notes.push(format!("authority in the {service} service: a licence of it, or an agreement in force"));
        helps.push("write the member's licence, or the `[[agreement]]` that covers the channel".to_owned());
    }
    if silent.iter().any(|channel| channel.send.is_none()) {
        helps.push("choose a channel that is not listened to alone".to_owned());
    }
    let finding = if notes.is_empty() { finding } else { finding.note(notes.join("; ")) };
    finding.help(helps.join("; or "))
}

/// Who may send on amateur channels: what is so of each, and the class that suffices for all of them.
fn classes(facts: Facts<'_>, channels: &[&Channel]) -> (String, String) {
    let all: Vec<OnChannel<'_>> = channels.iter().map(|channel| on_channel(facts, channel)).collect();
    let mut least: Vec<String> = all
        .iter()
        .filter_map(|here| Some(format!("{} or higher may send on {}", here.least()?.name, here.channel().name.value)))
        .collect();
    if let ([one], [_]) = (all.as_slice(), least.as_slice()) {
        least = one.least().map(|class| format!("{} or higher may send there", class.name)).into_iter().collect();
    }
    let suffices = facts.profile.classes.iter().find(|class| all.iter().all(|here| here.is_open_to(class)));
    let help = suffices.map_or_else(
        || "give duties there to people who together may send on all of them".to_owned(),
        |class| {
            let article = article(&class.name);
            format!("give a duty there to {article} {} or higher, or choose another channel", class.name)
        },
    );
    (listed(&least), help)
}

/// Where the plan writes the end of what would let somebody send, had it not ended before the day of duty.
fn ended(facts: Facts<'_>, silent: &[&Channel], present: &[Present<'_>]) -> BTreeSet<Span> {
    let mut ended = BTreeSet::new();
    for channel in silent {
        let here = on_channel(facts, channel);
        for (member, day) in present {
            let term = Term::in_service(member, &channel.service);
            let would = matches!(here.verdict_on(member, None), Verdict::Sends | Verdict::NoRadio);
            let term = term.filter(|term| would && term.has_ended(*day));
            ended.extend(term.and_then(|term| term.expires).map(|expires| expires.span));
            let agreements =
                agreements(facts.plan, channel, None).filter(|agreement| would && agreement.expires.value < *day);
            ended.extend(agreements.map(|agreement| agreement.expires.span));
        }
    }
    ended.into_iter().take(MOST_LISTED).collect()
}
