//! The words to run each net by, with the plan's names in them: opening, check-in, roll call, moving on, a silent net control, closing;
//! and when the nets meet.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{Audience, Span};
use crate::plan::{Each, Net, Place, Post, subject};
use crate::reckon::{nets_at, utc_words};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "net-script",
    title: "Net script",
    about: "for each net the words to run it by, with the plan's own names, the roll call with boxes for status, who takes over from a silent net control, and when the nets meet, local and UTC",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["script", "roll-call", "schedule"],
    tables: &[&SCRIPT, &ROLL, &SCHEDULE],
    compose: Compose::View(compose),
};

const SCRIPT: TableKind = TableKind {
    key: "script",
    columns: &[Column::must("step", "", Role::Body), Column::must("words", "", Role::Body)],
    set: UsualSet::Grid,
};

const ROLL: TableKind = TableKind {
    key: "roll-call",
    columns: &[
        Column::must("station", "call", Role::Name),
        Column::must("post", "post", Role::Body),
        Column::must("in", "in at", Role::Body),
        Column::must("traffic", "traffic, precedence", Role::Body),
        Column::must("out", "out at", Role::Body),
    ],
    set: UsualSet::Grid,
};

const SCHEDULE: TableKind = TableKind {
    key: "net-schedule",
    columns: &[
        Column::must("net", "net", Role::Name),
        Column::must("local", "local", Role::Body),
        Column::must("utc", "UTC", Role::Body),
        Column::must("on", "on", Role::Body),
    ],
    set: UsualSet::Grid,
};

const WRITE: &str = "__________";
/// Lines of the roll call for stations that the plan does not name.
const OTHERS: usize = 3;

/// Where the words are from.
const SOURCE: &str = "Order of steps and wording: common practice, no source. Precedence and identification: the profile's rule set, named above.";

fn compose(view: &View<'_>) -> Vec<Section> {
    let nets = view.plan().nets.iter().flat_map(|net| [script(net, view), roll(net, view)]);
    let mut sections: Vec<Section> = nets.collect();
    if sections.is_empty() {
        let none = Block::Paragraph(Paragraph { text: Text::own("The plan has no net."), role: Role::Body });
        sections.push(Section { key: "script", title: Text::own("Net script"), blocks: vec![none] });
    }
    sections.push(schedule(view));
    sections
}

fn script(net: &Net, view: &View<'_>) -> Section {
    let rows = steps(net, view).into_iter().map(|(step, words)| {
        let cells =
            vec![SCRIPT.cell("step", Text::strong(step, net.span)), SCRIPT.cell("words", Text::plain(words, net.span))];
        Row { label: String::new(), record: Some(subject(net)), span: net.span, cells }
    });
    let title = Text::plain(format!("Net script: {}", net.name.value), net.name.span);
    let source = Block::Paragraph(Paragraph { text: Text::own(SOURCE), role: Role::Small });
    Section { key: "script", title, blocks: vec![SCRIPT.of(rows.collect(), ""), source] }
}

/// The stations to call, with room for what they say.
fn roll(net: &Net, view: &View<'_>) -> Section {
    let roll = stations(net, view).into_iter().map(|(post, place)| {
        let call = place.map_or_else(|| post.name.as_str(), |place| place.tactical.as_str());
        let mut cells = vec![ROLL.cell("station", Text::plain(call, post.span))];
        cells.push(ROLL.cell("post", Text::plain(post.name.as_str(), post.name.span)));
        cells.extend(["in", "traffic", "out"].map(|key| ROLL.cell(key, Text::own(WRITE))));
        Row { label: String::new(), record: Some(subject(post)), span: post.span, cells }
    });
    let other = || {
        let cells = ROLL.columns.iter().map(|column| ROLL.cell(column.key, Text::own(WRITE)));
        Row { label: String::new(), record: None, span: Span::NOWHERE, cells: cells.collect() }
    };
    let roll = roll.chain(std::iter::repeat_with(other).take(OTHERS));
    let title = Text::plain(format!("Roll call: {}", net.name.value), net.name.span);
    Section { key: "roll-call", title, blocks: vec![ROLL.of(roll.collect(), "")] }
}

/// When each net meets, by the clocks in winter and in summer.
fn schedule(view: &View<'_>) -> Section {
    let plan = view.plan();
    let mut rows = Vec::new();
    for net in plan.nets.iter() {
        for meeting in &net.meetings {
            let first = net.legs.first().and_then(|leg| plan.channels.get(&leg.channel.value));
            let on = first.map_or_else(|| "UNKNOWN".to_owned(), |channel| channel.name.to_string());
            let cell = |key, words: String| SCHEDULE.cell(key, Text::plain(words, net.span));
            let cells = vec![
                SCHEDULE.cell("net", Text::plain(net.name.as_str(), net.name.span)),
                cell("local", format!("{} at {}", meeting.day.value, meeting.at.value)),
                cell("utc", utc_words(plan, meeting).join("; after the clocks change ")),
                cell("on", on),
            ];
            rows.push(Row { label: String::new(), record: Some(subject(net)), span: net.span, cells });
        }
    }
    let table = SCHEDULE.of(rows, "No net of the plan meets at a set time.");
    Section { key: "schedule", title: Text::own("When nets meet"), blocks: vec![table] }
}

/// The posts of a net that are not its control, in the plan's order, with their places.
fn stations<'a>(net: &Net, view: &View<'a>) -> Vec<(&'a Post, Option<&'a Place>)> {
    let plan = view.plan();
    let is_control = |post: &Post| net.control.as_ref().is_some_and(|control| *control.value == post.id.value);
    let works = |post: &&Post| nets_at(plan, post).iter().any(|(known, _)| known.id.value == net.id.value);
    let posts = plan.posts.iter().filter(works).filter(|post| !is_control(post));
    posts.map(|post| (post, post.place.as_ref().and_then(|place| plan.places.get(place)))).collect()
}

/// What is said, in order.
fn steps(net: &Net, view: &View<'_>) -> Vec<(&'static str, String)> {
    let plan = view.plan();
    let precedence = &view.profile().precedence;
    let name = net.spoken.as_str();
    let channels: Vec<(&str, &str)> = net
        .legs
        .iter()
        .filter_map(|leg| Some((leg.name, plan.channels.get(&leg.channel.value)?.spoken.as_str())))
        .collect();
    let first = channels.first().map_or("the first channel", |(_, name)| *name);
    let is_exercise = plan.incident.as_ref().is_some_and(|incident| incident.is_exercise);
    let kind = if is_exercise { "Exercise, exercise, exercise. " } else { "" };
    let purpose = net.purpose.as_ref().map(|purpose| format!(" This net is for: {}.", purpose.value));
    let control = net.control.as_ref().and_then(|id| plan.posts.get(&id.value));
    let control = control.map_or_else(|| "UNKNOWN: no post controls this net".to_owned(), |post| post.name.to_string());
    let mut steps = vec![(
        "Opening",
        format!(
            "{kind}Calling all stations. This is ________ (your call sign), net control of {name}, {control}, on {first}.{} This is a directed net: call only when asked, or with emergency traffic.",
            purpose.unwrap_or_default()
        ),
    )];
    if let Some(highest) = precedence.first() {
        steps.push(("Urgent first", format!("Any station with {highest} traffic, call now. (Listen.)")));
    }
    steps.push((
        "Check-in",
        "I call each station in turn. Answer with tactical call, your own call sign, and your traffic. (Read the roll call below; write the time.) Any other station, call now.".to_owned(),
    ));
    if !precedence.is_empty() {
        steps.push(("Traffic", format!("List traffic by precedence, highest first: {}.", precedence.join(", "))));
    }
    steps.push(("Identify", view.profile().identification.clone()));
    let ways: Vec<&str> = channels.iter().skip(1).map(|(_, name)| *name).collect();
    let when =
        net.trigger.as_ref().map_or_else(|| "UNKNOWN: agree on it at check-in".to_owned(), |when| when.to_string());
    steps.push((
        "Moving on",
        match ways.is_empty() {
            true => format!("{name} has no other channel than {first}."),
            false => format!(
                "All stations of {name}: move from {first} to {}. Move by yourselves after: {when}.",
                ways.join(", then ")
            ),
        },
    ));
    steps.push(("Control silent", silent(net, view)));
    let rejoin =
        net.rejoin.as_ref().map(|rejoin| format!(" If you lose the net: {}.", rejoin.value)).unwrap_or_default();
    steps.push((
        "Closing",
        format!("{kind}All stations: {name} closes at ________. Any last traffic, call now. (Listen.) This is ________ (your call sign), {name} is closed.{rejoin}"),
    ));
    steps
}

/// Who takes over, and after how long.
fn silent(net: &Net, view: &View<'_>) -> String {
    let after = net
        .control_after
        .map_or_else(|| "UNKNOWN minutes (ask net control at check-in)".to_owned(), |after| after.value.to_string());
    let post = net.alternate_control.as_ref().and_then(|id| view.plan().posts.get(&id.value));
    let Some(post) = post else {
        return format!(
            "UNKNOWN: the plan names nobody who takes over after {after} without net control. Name a station at check-in: ____________."
        );
    };
    let place = post.place.as_ref().and_then(|place| view.plan().places.get(place));
    let place = place.map(|place| format!(" at {}", place.tactical.value)).unwrap_or_default();
    format!(
        "After {after} without net control {}{place} takes over: \u{201c}Net control does not answer. This is ________ (your call sign), I am net control of {} until relieved.\u{201d}",
        post.name.value, net.spoken.value
    )
}
