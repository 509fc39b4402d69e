//! The words to run each net by, with the plan's names in them: opening, check-in, roll call, moving on, a silent net control, closing;
//! what to hand over, and a blank assignment.

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
    about: "for each net the words to run it by, with the plan's own names, the roll call with boxes for status, who takes over from a silent net control, what to hand over, and a blank assignment",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["script", "handover", "assignment"],
    tables: &[&SCRIPT, &ROLL, &HANDOVER, &ASSIGNMENT],
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

const HANDOVER: TableKind = TableKind {
    key: "handover",
    columns: &[
        Column::must("item", "say and show", Role::Body),
        Column::must("state", "state at handover", Role::Body),
    ],
    set: UsualSet::Grid,
};

const ASSIGNMENT: TableKind = TableKind {
    key: "assignment",
    columns: &[Column::must("item", "what", Role::Body), Column::must("said", "said", Role::Body)],
    set: UsualSet::Grid,
};

const WRITE: &str = "__________";
const WRITE_WIDE: &str = "______________________________";
/// Lines of the roll call for stations that the plan does not name.
const OTHERS: usize = 3;

/// Where the words are from.
const SOURCE: &str = "Order of steps and wording: common practice, no source. Precedence and identification: the profile's rule set, named above.";

fn compose(view: &View<'_>) -> Vec<Section> {
    let nets = view.plan().nets.iter().map(|net| script(net, view));
    let mut sections: Vec<Section> = nets.collect();
    if sections.is_empty() {
        let none = Block::Paragraph(Paragraph { text: Text::own("The plan has no net."), role: Role::Body });
        sections.push(Section { key: "script", title: Text::own("Net script"), blocks: vec![none] });
    }
    sections.extend([handover(view), assignment()]);
    sections
}

fn script(net: &Net, view: &View<'_>) -> Section {
    let rows = steps(net, view).into_iter().map(|(step, words)| {
        let cells =
            vec![SCRIPT.cell("step", Text::strong(step, net.span)), SCRIPT.cell("words", Text::plain(words, net.span))];
        Row { label: String::new(), record: Some(subject(net)), span: net.span, cells }
    });
    let rows = rows.collect();
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
    let blocks = vec![
        SCRIPT.of(rows, ""),
        ROLL.of(roll.collect(), ""),
        Block::Paragraph(Paragraph { text: Text::own(SOURCE), role: Role::Small }),
    ];
    let title = Text::plain(format!("Net script: {}", net.name.value), net.name.span);
    Section { key: "script", title, blocks }
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
    for meeting in &net.meetings {
        let utc = utc_words(plan, meeting).join(", or in summer ");
        let words = format!("{} at {} local, {utc} UTC.", meeting.day.value, meeting.at.value);
        steps.push(("Meets", words));
    }
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

/// What goes with a shift.
const ITEMS: [&str; 9] = [
    "channel now, and next",
    "who controls the net now",
    "messages open: to whom, since when",
    "who is where, who is off the air",
    "faults and work-arounds",
    "battery: state, when changed",
    "keys, badges, borrowed things",
    "log: page and last line",
    "heard and said back, both sign",
];

fn handover(view: &View<'_>) -> Section {
    let row = |item: &str| {
        let cells = vec![HANDOVER.cell("item", Text::own(item)), HANDOVER.cell("state", Text::own(WRITE_WIDE))];
        Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
    };
    let edition = view.plan().edition.as_ref().map(|edition| {
        let what = Text::of_edition(format!("edition {} in use by both", edition.number.value), edition.number.span);
        let cells = vec![HANDOVER.cell("item", what), HANDOVER.cell("state", Text::own(WRITE_WIDE))];
        Row { label: String::new(), record: None, span: edition.number.span, cells }
    });
    let rows = edition.into_iter().chain(ITEMS.into_iter().map(row)).collect();
    let source = "Post: ____________________ from: ____________ to: ____________ at: ________ local. The list: common practice, no source.";
    let blocks = vec![Block::Paragraph(Paragraph { text: Text::own(source), role: Role::Body }), HANDOVER.of(rows, "")];
    Section { key: "handover", title: Text::own("Shift handover"), blocks }
}

/// What is written down when somebody is sent; common practice, no source.
const ASSIGNED: [&str; 10] = [
    "name, call sign",
    "where to, which post",
    "report to (function)",
    "what for",
    "from, until (local)",
    "net, and channel on the way",
    "relieved by, when",
    "take along, wear",
    "dangers on the way",
    "sent by, at what time",
];

fn assignment() -> Section {
    let row = |item: &str| {
        let cells = vec![ASSIGNMENT.cell("item", Text::own(item)), ASSIGNMENT.cell("said", Text::own(WRITE_WIDE))];
        Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
    };
    let blocks = vec![ASSIGNMENT.of(ASSIGNED.into_iter().map(row).collect(), "")];
    Section { key: "assignment", title: Text::own("Assignment"), blocks }
}
