//! A row and its net say the same about when to move on.

use super::Facts;
use crate::ground::{At, Finding, Findings, Id, Lapse, Rule, Words};
use crate::plan::{Channel, Net, Plan, subject};
use crate::reckon::{following, onward};
use std::collections::{BTreeMap, BTreeSet};

/// A row and its net say the same about when to move on.
pub(super) const RULE: Rule = Rule::warning("trigger-contradicts-row", "common practice, no source", DOC);

const DOC: &str = r#"
Finds: a net whose `trigger` names another time than the `after` of a row of its channels, or no time where the row names one; and one that names a channel to which neither a row nor the order of the net leads. The row counts, since it stands beside the frequency: the net's panel then prints the rows' times in the trigger's place, and a rehearsal follows the rows. The last channel of a net is not asked: nothing comes after it in the net's order.
Costs: half the stations wait two minutes and half of them five, and each half thinks the other lost.

Wrong:
```toml
[[channel]]
id = "cmd"
row = 1
name = "CMD 1"
spoken = "Command One"
repeater = "cold-ridge"
next = "tac"
after = "2 min"

[[channel]]
id = "tac"
row = 2
name = "TAC 1"
spoken = "Tactical One"
simplex = "146.550 MHz"
verified = { on = 2026-10-01, by = "qra" }

[[net]]
id = "command"
name = "Command net"
spoken = "Command Net"
primary = "cmd"
alternate = "tac"
trigger = "no answer for 5 minutes" # trigger-contradicts-row
rejoin = "listen on CMD 1 at each full hour"
```
Right: write the same time in both places: `trigger = "no answer for 2 minutes"`.
"#;

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let known = known(facts.plan);
    for net in facts.plan.nets.iter() {
        let Some(trigger) = &net.trigger else { continue };
        let times = Lapse::all_in(trigger.as_str());
        let rows = net.legs.iter().filter_map(|leg| facts.plan.channels.get(&leg.channel));
        let rows = rows.filter(|channel| following(net, channel).is_some() && channel.next.is_some());
        let timed = rows.filter_map(|channel| Some((channel, channel.after?)));
        let timed: Vec<(&Channel, At<Lapse>)> = timed.collect();
        let others: Vec<_> = timed.iter().copied().filter(|(_, after)| !times.contains(&after.value)).collect();
        if let Some((channel, after)) = others.first() {
            let finding = finding(net, trigger, &times, (channel, after.value));
            let finding = match (others.len(), times.first()) {
                (_, None) => finding,
                (1, Some(time)) if !is_shared(facts, net, channel) => finding
                    .help(format!("write `after = \"{time}\"` in the row, or {} in the trigger", after.value))
                    .fix(after.span, format!("\"{time}\"")),
                // A row that another net follows too, or several rows: what each row says goes into the trigger.
                _ => in_the_trigger(finding, trigger, &timed),
            };
            let places = others.iter().fold(finding, |finding, (channel, after)| {
                finding.and(after.span, format!("the row of {} says", channel.name.value)).on(subject(*channel))
            });
            found.push(places.on(subject(net)));
        }
        found.extend(astray(facts.plan, net, trigger, &known));
    }
}

/// Channels by their printed and spoken names, in small letters; without those that may be any word of a sentence.
fn known(plan: &Plan) -> BTreeMap<String, &Channel> {
    let names = plan.channels.iter().flat_map(|channel| [&channel.name, &channel.spoken].map(|name| (name, channel)));
    let all = names.map(|(name, channel)| (words(name.as_str()).join(" "), channel));
    all.filter(|(name, _)| name.contains(' ') || name.chars().any(|letter| letter.is_ascii_digit())).collect()
}

/// The words of a text, without what stands around them.
fn words(text: &str) -> Vec<String> {
    let bare = |word: &str| word.trim_matches(|sign: char| !sign.is_alphanumeric()).to_lowercase();
    text.split_whitespace().map(bare).filter(|word| !word.is_empty()).collect()
}

/// Most words of a name that is looked for.
const MOST_WORDS: usize = 6;

/// A channel that the trigger names and to which nothing leads; of two names that begin alike the longer one is meant.
fn astray(plan: &Plan, net: &Net, trigger: &At<Words>, known: &BTreeMap<String, &Channel>) -> Option<Finding> {
    let legs = || net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel));
    let own: BTreeSet<&Id> =
        legs().chain(legs().filter_map(|leg| onward(plan, net, leg))).map(|channel| &channel.id.value).collect();
    let said = words(trigger.as_str());
    let mut at = 0;
    while at < said.len() {
        let longest = (1..=MOST_WORDS).rev().filter_map(|count| said.get(at..at.checked_add(count)?));
        let mut named = longest.filter_map(|words| Some((words.len(), *known.get(&words.join(" "))?)));
        let Some((count, channel)) = named.next() else {
            at += 1;
            continue;
        };
        at += count;
        if !own.contains(&channel.id.value) {
            let what = format!(
                "{} says \"{}\", and neither a row nor its order leads to {}",
                net.name.value, trigger.value, channel.name.value
            );
            let finding = Finding::new(&RULE, trigger.span, what)
                .label("leads somewhere else")
                .and(channel.id.span, "this channel")
                .help("write only when to move on: where to is said by the rows, and by the net's own channels in their order");
            return Some(finding.on(subject(net)).on(subject(channel)));
        }
    }
    None
}

fn finding(net: &Net, trigger: &At<Words>, times: &[Lapse], (channel, lapse): (&Channel, Lapse)) -> Finding {
    let name = &channel.name.value;
    let row = format!("the row of {name} moves on after {lapse}");
    let finding = |what: String| Finding::new(&RULE, trigger.span, what).label("is not printed: the row counts");
    let Some(time) = times.first() else {
        let finding = finding(format!("{row}, but {} at \"{}\", which names no time", net.name.value, trigger.value));
        let timed = format!("{}, or no answer for {lapse}", trigger.value);
        let help = finding.help(format!("write the time into it: `trigger = \"{timed}\"`"));
        let is_plain = !timed.contains(['"', '\\']);
        return if is_plain { help.fix(trigger.span, format!("\"{timed}\"")) } else { help };
    };
    finding(format!("{row}, but {} after {time}: \"{}\"", net.name.value, trigger.value))
}

/// Whether another net follows a row too, so that another time in it would contradict that one.
fn is_shared(facts: Facts<'_>, net: &Net, channel: &Channel) -> bool {
    let follows = |other: &Net| {
        let has = other.legs.iter().any(|leg| leg.channel.value == channel.id.value);
        has && other.trigger.is_some() && other.id.value != net.id.value
    };
    facts.plan.nets.iter().any(follows)
}

/// A trigger that says what its rows say.
fn in_the_trigger(finding: Finding, trigger: &At<Words>, rows: &[(&Channel, At<Lapse>)]) -> Finding {
    let parts: Vec<String> =
        rows.iter().map(|(channel, after)| format!("{} on {}", after.value, channel.name.value)).collect();
    let text = format!("no answer for {}", parts.join(", "));
    let help = finding.help(format!("write `trigger = \"{text}\"`"));
    let is_plain = !text.contains(['"', '\\']);
    if is_plain { help.fix(trigger.span, format!("\"{text}\"")) } else { help }
}
