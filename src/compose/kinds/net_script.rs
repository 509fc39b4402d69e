//! The words to run each net by, with the plan's names in them: opening, check-in, roll call, moving on, a silent net control, closing;
//! and when the nets meet.

use crate::audience::View;
use crate::compose::block::{Block, Column, Paragraph, Role, Row, Section, Text};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::net_calls::{called_there, calls_at, on_duty, roll};
use crate::compose::net_words::meetings;
use crate::compose::power_words::small;
use crate::compose::prowords::{MESSAGE_PROWORDS, MESSAGE_PROWORDS_SOURCE, PROWORDS};
use crate::compose::to_write::rows_called;
use crate::ground::{Audience, Lapse};
use crate::plan::{Channel, Each, Net, Plan, subject};
use crate::reckon::{PathTrials, Silence, following, onward, silence, unheard_words};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "net-script",
    title: "Net script",
    about: "for each net the words to run it by, with the plan's own names, the roll call with boxes for status, who takes over from a silent net control, and when the net meets, local and UTC",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["script"],
    tables: &[&SCRIPT],
    compose: Compose::View(compose),
};

const SCRIPT: TableKind = TableKind {
    key: "script",
    columns: &[Column::must("step", "", Role::Body), Column::must("words", "", Role::Body)],
    set: UsualSet::Grid,
};

/// The roll call: who is called, and what is written while they answer.
const ROLL: [(&str, u8); 5] =
    [("Called", 6), ("Call sign", 5), ("In at", 3), ("Traffic, precedence", 9), ("Out at", 3)];

/// Lines at least of the roll call for stations that the plan does not name; more where the page has room.
const OTHERS: usize = 3;

/// Where the words are from.
const SOURCE: &str = "Order and wording: common practice, no source. Precedence, identification: the rule set in the foot of the first page.";

fn compose(view: &View<'_>) -> Vec<Section> {
    let mut sections: Vec<Section> = view.plan().nets.iter().map(|net| script(net, view)).collect();
    if sections.is_empty() {
        let none = Block::Paragraph(Paragraph { text: Text::own("The plan has no net."), role: Role::Body });
        sections.push(Section { key: "script", title: Text::own("Net script"), blocks: vec![none] });
    }
    sections
}

/// A net on a page of its own, since another controls the next: the words, and a roll call that fills the page.
fn script(net: &Net, view: &View<'_>) -> Section {
    let rows = steps(net, view).into_iter().map(|(step, words)| {
        let cells =
            vec![SCRIPT.cell("step", Text::strong(step, net.span)), SCRIPT.cell("words", Text::plain(words, net.span))];
        Row { label: String::new(), record: Some(subject(net)), span: net.span, cells }
    });
    let title = Text::plain(format!("Net script: {}", net.name.value), net.name.span);
    Section { key: "script", title, blocks: vec![SCRIPT.of(rows.collect(), ""), small(SOURCE), roll_call(net, view)] }
}

/// The stations to call, with room for what they say. Whose call sign the plan does not know writes it in.
fn roll_call(net: &Net, view: &View<'_>) -> Block {
    let called = |post| {
        let words = Text::strong(called_there(post, view.plan()).words(), post.span);
        let signs = calls_at(post, view).map(|signs| Text::plain(signs, post.span));
        std::iter::once(words).chain(signs).collect()
    };
    let others = std::iter::repeat_with(Vec::new).take(OTHERS);
    rows_called("Roll call", &ROLL, roll(net, view.plan()).into_iter().map(called).chain(others).collect())
}

/// What is said, in order.
fn steps(net: &Net, view: &View<'_>) -> Vec<(&'static str, String)> {
    let plan = view.plan();
    let precedence = &view.profile().precedence;
    let name = net.spoken.as_str();
    let is_exercise = plan.incident.as_ref().is_some_and(|incident| incident.is_exercise);
    let kind = if is_exercise { "Exercise, exercise, exercise. " } else { "" };
    let own = own_sign(net, view);
    let mut steps = vec![("Opening", opening(net, plan, kind, &own))];
    steps.extend(controls(net, view).map(|who| ("On duty", who)));
    steps.extend(meetings(net, plan).map(|when| ("Meets", format!("{}.", when.words().trim_start_matches("meets ")))));
    if let Some(highest) = precedence.first() {
        steps.push(("Urgent first", format!("Any station with {highest} traffic, call now. (Listen.)")));
    }
    steps.push((
        "Check-in",
        "I call each station in turn. Answer with tactical call, your own call sign, and your traffic. (Call those below; write the time.) Any other station, call now.".to_owned(),
    ));
    if !precedence.is_empty() {
        steps.push(("Traffic", format!("List traffic by precedence, highest first: {}.", precedence.join(", "))));
    }
    steps.push(("Identify", view.profile().identification.clone()));
    steps.push(("Words", words()));
    steps.push(("Moving on", format!("{}{}", moving_on(net, plan), unheard(net, plan))));
    steps.push(("Control silent", silent(net, view)));
    let rejoin =
        net.rejoin.as_ref().map(|rejoin| format!(" If you lose the net: {}.", rejoin.value)).unwrap_or_default();
    steps.push((
        "Closing",
        format!("{kind}All stations: {name} closes at ________. Any last traffic, call now. (Listen.) This is {own}, {name} is closed.{rejoin}"),
    ));
    steps
}

/// `over: I have finished, answer me; ...`: those that end what is said, and those with which messages are passed.
fn words() -> String {
    let ends = PROWORDS.iter().filter(|(word, _)| ["over", "out"].contains(word));
    let all: Vec<String> = ends.chain(&MESSAGE_PROWORDS).map(|(word, meaning)| format!("{word}: {meaning}")).collect();
    format!("{}. ({MESSAGE_PROWORDS_SOURCE})", all.join("; "))
}

/// Who calls: net control by the name that is called, and on which channel.
fn opening(net: &Net, plan: &Plan, kind: &str, own: &str) -> String {
    let name = net.spoken.as_str();
    let first = net.legs.first().and_then(|leg| plan.channels.get(&leg.channel.value));
    let first = first.map_or("the first channel", |channel| channel.spoken.as_str());
    let purpose = net.purpose.as_ref().map(|purpose| format!(" This net is for: {}.", purpose.value));
    let control = net.control.as_ref().and_then(|id| plan.posts.get(&id.value));
    let control = control.map_or_else(
        || "________ (UNKNOWN: no post of the plan controls this net)".to_owned(),
        |post| called_there(post, plan).words(),
    );
    format!(
        "{kind}Calling all stations. This is {control}, net control of {name}, on {first}, {own}.{} This is a directed net: call only when asked, or with emergency traffic.",
        purpose.unwrap_or_default()
    )
}

/// The call sign of who controls the net, where only one does by all duties of this copy; room for it otherwise.
fn own_sign(net: &Net, view: &View<'_>) -> String {
    let control = net.control.as_ref().and_then(|id| view.plan().posts.get(&id.value));
    let signs = control.map(|post| on_duty(post, view)).unwrap_or_default();
    match signs.as_slice() {
        [(_, only)] => only.clone(),
        _ => "________ (your call sign)".to_owned(),
    }
}

/// Who controls the net when, where several do.
fn controls(net: &Net, view: &View<'_>) -> Option<String> {
    let post = view.plan().posts.get(&net.control.as_ref()?.value)?;
    let signs = on_duty(post, view);
    if signs.len() < 2 {
        return None;
    }
    let signs: Vec<String> = signs.into_iter().map(|(times, sign)| format!("{sign} {}", times.join(", "))).collect();
    Some(format!("{}: {}.", post.name.value, signs.join("; ")))
}

/// Where the net goes, and when: what a channel's row says counts before what the net says.
fn moving_on(net: &Net, plan: &Plan) -> String {
    let name = net.spoken.as_str();
    let legs: Vec<&Channel> = net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel.value)).collect();
    let Some((first, others)) = legs.split_first() else { return format!("{name} has no channel.") };
    if others.is_empty() {
        return format!("{name} has no other channel than {}.", first.spoken.value);
    }
    let ways: Vec<&str> = others.iter().map(|channel| channel.spoken.as_str()).collect();
    let order = format!("All stations of {name}: move from {} to {}.", first.spoken.value, ways.join(", then "));
    let times = net.trigger.as_ref().map(|trigger| Lapse::all_in(trigger.as_str())).unwrap_or_default();
    // A row's own time, where the net's words do not say it.
    let is_told = |channel: &&Channel| channel.next.is_some() && following(net, channel).is_some();
    let rows = legs.iter().copied().filter(is_told).filter_map(|channel| {
        let (after, next) = (channel.after?.value, onward(plan, net, channel)?);
        let is_other = !times.contains(&after);
        is_other
            .then(|| format!("from {} to {} after {after} without an answer", channel.spoken.value, next.spoken.value))
    });
    let rows: Vec<String> = rows.collect();
    match (&net.trigger, rows.is_empty()) {
        (Some(when), true) => format!("{order} Move by yourselves after: {}.", when.value),
        (Some(when), false) => format!("{order} Move by yourselves {}; else after: {}.", rows.join(", "), when.value),
        (None, false) => format!("{order} Move by yourselves {}.", rows.join(", ")),
        (None, true) => format!("{order} When to move by yourselves is UNKNOWN: agree on it at check-in."),
    }
}

/// ` (Know before you move: on Tactical Two from Saint Brenn nothing was heard at Blood Bank, tried 2027-08-14 with 25 W.)`
fn unheard(net: &Net, plan: &Plan) -> String {
    let mut all: Vec<String> = Vec::new();
    for pair in PathTrials::of(plan).unheard_of(net) {
        let words = format!("on {} {}", pair.channel.spoken.value, unheard_words(plan, pair.test));
        // Two posts at one place were tried at once.
        if !all.contains(&words) {
            all.push(words);
        }
    }
    if all.is_empty() { String::new() } else { format!(" (Know before you move: {}.)", all.join("; ")) }
}

/// Who takes over, after how long and on which channel: where the net has no time of its own for it, after that in which it moves on,
/// where it then is. Where nobody is named, what all do without.
fn silent(net: &Net, view: &View<'_>) -> String {
    let plan = view.plan();
    let Some(silence) = silence(plan, net) else { return format!("{} has no channel.", net.spoken.value) };
    let Some(post) = silence.next else { return nobody_named(&silence) };
    let after = match silence.after {
        Some(after) if silence.is_own_time => format!("After {after} without net control"),
        Some(after) => {
            format!("After {after} without net control (as the net moves on; the plan names no other time)")
        }
        None => "After ____ minutes without net control (UNKNOWN: agree on it at check-in)".to_owned(),
    };
    let moved = if silence.has_moved { ", where all are by then" } else { "" };
    let on = format!("on {}{moved}", silence.on.spoken.value);
    let signs = calls_at(post, view).map(|signs| format!(" ({signs})")).unwrap_or_default();
    let called = called_there(post, plan).words();
    let is_said = called.ends_with(post.name.as_str()) || post.name.as_str().starts_with(&called);
    let desk = if is_said { String::new() } else { format!(", {}", post.name.value) };
    let own = match on_duty(post, view).as_slice() {
        [(_, only)] => only.clone(),
        _ => "________ (your call sign)".to_owned(),
    };
    format!(
        "{after} {called}{desk}{signs} takes over {on}: \u{201c}Net control does not answer. This is {called}, {own}. I am net control of {} until relieved.\u{201d}",
        net.spoken.value
    )
}

/// One who is named at check-in speaks before all have left; else they move, as the line above says.
fn nobody_named(silence: &Silence<'_>) -> String {
    let on = &silence.first.spoken.value;
    let named = format!(
        "The plan names nobody who takes over (UNKNOWN): name a station at check-in. It is ____________, on {on}"
    );
    match silence.moves {
        Some((to, Some(after))) => {
            format!("{named}, sooner than {after} without net control. Nobody speaks: all move to {}.", to.spoken.value)
        }
        Some((to, None)) => {
            format!("{named}, after ____ minutes without net control. Nobody speaks: all move to {}.", to.spoken.value)
        }
        None => format!("{named}, after ____ minutes without net control."),
    }
}
