//! A fact that is another than it was issued, while the day on which somebody looked at it is the same.

use super::issued_plan::IssuedPlan;
use super::rules::CHANGED_FACT_UNCHECKED;
use crate::ground::{Finding, Findings, Id, Span, Subject};
use crate::plan::{PlainRecords, RECORD_KINDS};
use crate::source::{Node, Value, toml_of};

/// Facts by kind of record, and the key that says when somebody looked at them.
const FACTS: [(&str, &[&str], &str); 4] = [
    ("repeater", &["output", "input", "tone-in", "tone-out", "call"], "verified"),
    ("gateway", &["frequency", "call", "via", "speed"], "verified"),
    (
        "channel",
        &[
            "simplex", "rx", "tx", "shift", "dial", "side", "output", "input", "tone-in", "tone-out", "tx-tone",
            "rx-tone",
        ],
        "verified",
    ),
    ("place", &["entrance", "room", "jack", "connector", "position"], "visited-on"),
];

/// What is listed in a record: the list, what tells its items, the fact, the day of each, and the days of the record that count without it.
const LISTED: [(&str, &str, &str, &str, &[&str]); 2] =
    [("place", "contact", "role", "phone", &[]), ("member", "phone", "", "number", &["phone-confirmed", "confirmed"])];

/// Where a channel has its frequencies from, so that the evidence is not its own.
const OF_OTHERS: [&str; 3] = ["repeater", "gateway", "standard"];

/// Reports changed facts that nobody looked at since they were issued.
pub fn judge_facts(before: &IssuedPlan, now: &PlainRecords, found: &mut Findings) {
    for ((kind, id), new) in now {
        let Some(kind) = RECORD_KINDS.iter().copied().find(|known| known == kind) else { continue };
        let Some(old) = before.records.get(&(kind.to_owned(), id.clone())) else { continue };
        let subject = Id::parse(id).ok().map(|id| Subject::new(kind, &id));
        let mut push = |changed: Changed| {
            let finding = changed.finding((kind, id), before);
            found.push(match &subject {
                Some(subject) => finding.on(subject.clone()),
                None => finding,
            });
        };
        let is_of_others = kind == "channel" && OF_OTHERS.iter().any(|key| new.get(key).is_some());
        for (_, keys, day) in FACTS.iter().filter(|(own, _, _)| *own == kind && !is_of_others) {
            let days = [old, new].map(|node| node.get(day).map(day_of));
            if days[0] != days[1] {
                continue;
            }
            for key in *keys {
                let values = [old, new].map(|node| node.get(key));
                changed(values, key, (day, days[1].clone())).into_iter().for_each(&mut push);
            }
        }
        for (_, list, named, fact, of_record) in LISTED.iter().filter(|(own, ..)| *own == kind) {
            listed([old, new], (list, named, fact), of_record).into_iter().for_each(&mut push);
        }
    }
}

/// A fact that changed.
struct Changed {
    key: String,
    old: String,
    new: String,
    span: Span,
    day: (String, Option<String>),
}

impl Changed {
    fn finding(self, (kind, id): (&str, &str), before: &IssuedPlan) -> Finding {
        let Self { key, old, new, span, day: (day, seen) } = self;
        let number = &before.edition.number;
        let since =
            seen.map_or_else(|| "nobody checked it".to_owned(), |seen| format!("it was last checked on {seen}"));
        let what = format!("{key} of {kind} {id} was {old} in edition {} and is {new}, and {since}", number.value);
        let finding = Finding::new(&CHANGED_FACT_UNCHECKED, span, what).label("changed since then");
        let told = if day == "verified" { "verified = { on = ... }".to_owned() } else { format!("{day} = ...") };
        finding.and(number.span, "issued here").help(format!("look, ask or call, then write that day: {told}"))
    }
}

/// The day of a fact: that of `{ on = ... }`, or the value itself.
fn day_of(node: &Node) -> String {
    plainly(node.get("on").unwrap_or(node))
}

fn plainly(node: &Node) -> String {
    node.text().map_or_else(|| toml_of(node), str::to_owned)
}

/// One value that is another than before. What was not there before is new, and its evidence another rule's to ask for.
fn changed([old, new]: [Option<&Node>; 2], key: &str, (day, seen): (&str, Option<String>)) -> Option<Changed> {
    let (old, new) = (old?, new?);
    let (before, now) = (plainly(old), plainly(new));
    let day = (day.to_owned(), seen);
    (before != now).then(|| Changed { key: key.to_owned(), old: before, new: now, span: new.span, day })
}

/// Items of a list whose fact changed: told by a key of theirs, or by their place where they have none.
fn listed(sides: [&Node; 2], (list, named, fact): (&str, &str, &str), of_record: &[&str]) -> Vec<Changed> {
    let items = |node: &'_ Node| match node.get(list).map(|node| node.value.clone()) {
        Some(Value::List(items)) => items,
        _ => Vec::new(),
    };
    let [olds, news] = sides.map(items);
    let seen = |item: &Node, side: &Node| {
        let own = item.get("confirmed").or_else(|| of_record.iter().find_map(|key| side.get(key)));
        own.map(day_of)
    };
    let mut all = Vec::new();
    for (place, new) in news.iter().enumerate() {
        let value = new.get(fact).map(plainly);
        // A number that only moved is the same number.
        if olds.iter().any(|old| named.is_empty() && old.get(fact).map(plainly) == value) {
            continue;
        }
        let old = match named {
            "" => olds.get(place),
            named => olds.iter().find(|old| old.get(named).map(plainly) == new.get(named).map(plainly)),
        };
        let Some(old) = old else { continue };
        let days = [seen(old, sides[0]), seen(new, sides[1])];
        if days[0] == days[1] {
            let name = if named.is_empty() {
                list.to_owned()
            } else {
                format!("{fact} ({})", new.get(named).map(plainly).unwrap_or_default())
            };
            all.extend(changed([old.get(fact), new.get(fact)], &name, ("confirmed", days[1].clone())));
        }
    }
    all
}
