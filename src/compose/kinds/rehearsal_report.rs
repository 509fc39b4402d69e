//! What is left of each net when one thing fails: the rehearsal of the plan's own words, for those who lead.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::channel_words::tied;
use crate::compose::foot::named_to;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{Audience, Id, Span, listed, plural};
use crate::plan::{Each, Member, Net, Plan};
use crate::reckon::{Clock, Eligibility, Loss, Met, NetOutcome, Period, Staff, gaps, losses, rehearse};
use std::collections::{BTreeMap, BTreeSet};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "rehearsal-report",
    title: "Failure rehearsal",
    about: "for every single loss (a repeater, a place and the people there, mains power, the internet), shift by shift: where each net meets by its own cards, who is not there, and how long each station runs without mains",
    layout: "full-wide",
    each: &[Each::Once],
    widest: Audience::Team,
    sections: &["rehearsal"],
    tables: &[&REHEARSAL],
    compose: Compose::View(compose),
};

/// Each loss, net and stretch of time.
const REHEARSAL: TableKind = TableKind {
    key: "rehearsal",
    columns: &[
        Column::must("lost", "without", Role::Body),
        Column::must("net", "net", Role::Body),
        Column::must("when", "when", Role::Body),
        Column::must("meets", "meets on", Role::Body),
        Column::must("present", "send there", Role::Body),
        Column::must("listening", "only listen", Role::Body),
        Column::must("apart", "not there", Role::Body),
        Column::must("gone", "lost with it", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// What was rehearsed, and what no paper rehearsal can show.
const NOTE: &str = "Each line takes one thing away and lets everybody follow their own card alone: a row's next channel first, then the net's order. Members \
                    count while they have duty in the net; who is posted at a lost place is lost with it. A net meets where two posts or more hear each \
                    other and somebody may send on the day of the duty; radios at one post are shared. Of two posts the one that is left has nobody to meet: no card helps it. Radios as the plan lists them. Whether a signal gets through is not known here.";

/// Stretches of time that are told apart for one net and one loss. The check looks at all of them.
const MOST_STRETCHES: usize = 24;

/// What becomes of a net after one loss.
struct After<'a> {
    net: &'a Net,
    /// Whether its primary channel is dead; else only people are lost.
    is_dead: bool,
    /// Stretches of time in order.
    met: Vec<Met<'a>>,
    /// How many more there are.
    more: usize,
    /// When nobody stands duty, though posts are meant to be stood.
    empty: Vec<Period>,
}

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let mut rows = Vec::new();
    let (staff, losses) = (Staff::of(plan), losses(plan));
    for (loss, nets) in losses.iter().zip(staff.touched(&losses)) {
        let affected: Vec<After<'_>> = nets.into_iter().filter_map(|net| after(view, &staff, net, loss)).collect();
        let moved = Moved::of(&affected);
        for own in &affected {
            rows.extend(rows_of((view, &staff), loss, own, &moved));
        }
    }
    let table = REHEARSAL.of(rows, "No loss of one thing takes a net's primary channel or its people.");
    let small = |text: Text| Block::Paragraph(Paragraph { text, role: Role::Small });
    let blocks = vec![small(Text::own(NOTE)), small(hours(plan)), table];
    vec![Section { key: "rehearsal", title: Text::own("Failure rehearsal"), blocks }]
}

/// How long what the nets rest on runs without mains: a line that takes mains away leaves it standing, however short that is.
fn hours(plan: &Plan) -> Text {
    let repeaters = plan.repeaters.iter().map(|one| (one.name.as_str(), one.backup_power));
    let gateways = plan.gateways.iter().map(|one| (one.name.as_str(), one.backup_power));
    let (with, without): (Vec<_>, Vec<_>) = repeaters.chain(gateways).partition(|(_, hours)| hours.is_some());
    let with = with.into_iter().filter_map(|(name, hours)| Some(format!("{} {}", tied(name), hours?.value)));
    let said = |names: Vec<String>| if names.is_empty() { "none".to_owned() } else { names.join(", ") };
    let without = without.into_iter().map(|(name, _)| tied(name));
    let words =
        format!("Run without mains: {}. No hours are written for: {}.", said(with.collect()), said(without.collect()));
    Text::own(words)
}

fn after<'a>(view: &View<'a>, staff: &Staff<'a>, net: &'a Net, loss: &Loss) -> Option<After<'a>> {
    let (tables, profile, plan) = (view.tables(), view.profile(), view.plan());
    let day = plan.edition.as_ref().map(|edition| edition.valid_from.value);
    let rehearsal = rehearse(Eligibility { tables, profile, plan, day }, staff, net, loss)?;
    let (mut met, mut more) = (Vec::new(), 0);
    // Where only people are lost, what goes on as before is no news.
    rehearsal.each_changed(|here| {
        if met.len() < MOST_STRETCHES {
            met.push(here)
        } else {
            more += 1
        }
        true
    });
    let is_staffed = rehearsal.is_dead && !rehearsal.stands().is_empty();
    let whole = staff.occasions.iter().copied().filter(|_| is_staffed);
    let empty = whole.flat_map(|occasion| gaps(rehearsal.stands(), occasion)).map(|gap| gap.period).collect();
    Some(After { net, is_dead: rehearsal.is_dead, met, more, empty })
}

/// Stretches of time in which all cells say the same stand in one row.
fn rows_of<'a>(
    (view, staff): (&View<'a>, &Staff<'a>),
    loss: &Loss,
    own: &After<'a>,
    moved: &Moved<'_, 'a>,
) -> Vec<Row> {
    let clock = Clock::of(view.plan());
    let mut alike: Vec<(Vec<Period>, Told)> = Vec::new();
    for met in &own.met {
        let told = told(met, &crowd(staff, own.net, met, moved), view);
        let when = met.when.into_iter();
        match alike.iter_mut().find(|(_, other)| *other == told) {
            Some((periods, _)) => when.for_each(|when| joined(periods, when)),
            None => alike.push((when.collect(), told)),
        }
    }
    if !own.empty.is_empty() {
        alike.push((own.empty.clone(), Told::nobody("nobody on duty")));
    }
    let mut rows: Vec<Row> = Vec::new();
    for (periods, told) in alike {
        let when: Vec<String> = periods.into_iter().map(|period| tied_times(&clock.words(period))).collect();
        rows.push(row(loss, own.net, &listed(&when), told));
    }
    if own.more > 0 {
        rows.push(row(loss, own.net, &plural(own.more, "further shift"), Told::nobody("not printed")));
    }
    rows
}

/// Days and times that are not parted at the end of a line.
fn tied_times(words: &str) -> String {
    words.split(" to ").map(tied).collect::<Vec<_>>().join(" to ")
}

/// Adds a period to those before it; one that begins where the last ends makes it longer.
fn joined(periods: &mut Vec<Period>, next: Period) {
    match periods.last_mut() {
        Some(last) if last.to == next.from => last.to = next.to,
        _ => periods.push(next),
    }
}

/// The nets whose primary channel is dead, and where they are.
struct Moved<'b, 'a> {
    nets: BTreeSet<&'a Id>,
    on_channel: BTreeMap<&'a Id, Vec<(&'a Net, &'b Met<'a>)>>,
}

impl<'b, 'a> Moved<'b, 'a> {
    fn of(affected: &'b [After<'a>]) -> Self {
        let mut moved = Self { nets: BTreeSet::new(), on_channel: BTreeMap::new() };
        for after in affected.iter().filter(|after| after.is_dead) {
            moved.nets.insert(&after.net.id.value);
            for met in &after.met {
                if let Some(on) = met.on {
                    moved.on_channel.entry(&on.id.value).or_default().push((after.net, met));
                }
            }
        }
        moved
    }
}

/// Who else is on the channel at that time, and how many posts that makes; nothing where the net is alone.
fn crowd<'a>(staff: &Staff<'a>, net: &'a Net, met: &Met<'a>, moved: &Moved<'_, 'a>) -> String {
    let Some(on) = met.on else { return String::new() };
    let is_then = |theirs: &Met<'_>| met.when.zip(theirs.when).is_none_or(|(own, theirs)| own.meets(theirs));
    let come = moved.on_channel.get(&on.id.value).into_iter().flatten();
    let come = come.filter(|(_, theirs)| is_then(theirs)).map(|(other, _)| *other);
    let stay = staff.begun_on(&on.id.value).iter().copied().filter(|other| !moved.nets.contains(&other.id.value));
    let mut there: BTreeMap<&Id, &Net> = come.chain(stay).map(|other| (&other.id.value, other)).collect();
    there.remove(&net.id.value);
    if there.is_empty() {
        return String::new();
    }
    let names: Vec<&str> = there.values().map(|other| other.name.as_str()).collect();
    let all: Vec<&Net> = there.values().copied().chain([net]).collect();
    format!(", with {}: {} in all", listed(&names), plural(staff.posts_on(&all), "post"))
}

/// What a row says of a net in a stretch of time.
#[derive(PartialEq)]
struct Told {
    /// Said first, in strong words; empty where the net meets.
    fault: &'static str,
    meets: String,
    present: String,
    listening: String,
    apart: String,
    gone: String,
}

impl Told {
    fn nobody(words: &'static str) -> Self {
        let none = || "nobody named".to_owned();
        Self { fault: words, meets: String::new(), present: none(), listening: none(), apart: none(), gone: none() }
    }
}

fn told(met: &Met<'_>, crowd: &str, view: &View<'_>) -> Told {
    let (fault, meets) = match met.outcome() {
        NetOutcome::Meets(on) => ("", format!("{}{crowd}", on.name.value)),
        NetOutcome::Silent(on) => ("does not meet", format!(": nobody may send on {}{crowd}", on.name.value)),
        NetOutcome::Alone(on) if met.is_fallen_apart() || !met.apart.is_empty() => {
            ("does not meet", format!(": one post alone on {}{crowd}", on.name.value))
        }
        NetOutcome::Alone(on) => ("", format!("one post alone on {}{crowd}", on.name.value)),
        NetOutcome::Nowhere => ("nowhere", String::new()),
        NetOutcome::Gone if met.is_fallen_apart() => ("nobody is left", String::new()),
        NetOutcome::Gone => ("", "nobody is left".to_owned()),
        NetOutcome::Unnamed(None) => return Told::nobody("nowhere"),
        NetOutcome::Unnamed(Some(on)) => {
            let meets = format!("not known; cards lead to {}{crowd}", on.name.value);
            return Told { meets, ..Told::nobody("") };
        }
    };
    let named = |members: &[&Member]| {
        let names: Vec<String> = members.iter().map(|member| named_to(member, view)).collect();
        if names.is_empty() { "nobody".to_owned() } else { listed(&names) }
    };
    let apart: Vec<String> =
        met.apart.iter().map(|(member, apart)| format!("{} {}", named_to(member, view), apart.words())).collect();
    let gone = match met.lost.len() {
        0 => "nobody".to_owned(),
        count => format!("{count}: {}", named(&met.lost)),
    };
    Told {
        fault,
        meets,
        present: named(&met.present),
        listening: named(&met.listening),
        apart: if apart.is_empty() { "nobody".to_owned() } else { listed(&apart) },
        gone,
    }
}

fn row(loss: &Loss, net: &Net, when: &str, told: Told) -> Row {
    let cell = |key, words: String| REHEARSAL.cell(key, Text::plain(words, net.span));
    let meets = match told.fault {
        "" => Text::plain(told.meets, net.span),
        fault => Text::strong(fault, net.span).then(told.meets),
    };
    let cells = vec![
        cell("lost", loss.words.clone()),
        cell("net", net.name.to_string()),
        cell("when", if when.is_empty() { "nobody named".to_owned() } else { when.to_owned() }),
        REHEARSAL.cell("meets", meets),
        cell("present", told.present),
        cell("listening", told.listening),
        cell("apart", told.apart),
        cell("gone", told.gone),
    ];
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}
