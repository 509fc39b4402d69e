//! What is left of each net when one thing fails: the rehearsal of the plan's own words, for those who lead. Losses by nets, the channel
//! where they meet, and below a row what is lost.

use crate::audience::View;
use crate::compose::block::{Block, Matrix, MatrixCell, MatrixColumn, MatrixRow, Paragraph, Role, Section, Text};
use crate::compose::channel_words::tied;
use crate::compose::kind::{Compose, Kind};
use crate::compose::rehearsal_told::{Lost, NOBODY_LEFT, Told, ToldTimes, rehearsed};
use crate::ground::{Audience, Span, listed};
use crate::plan::{Clock, Each, Net, Period, Plan};
use crate::reckon::{Loss, losses};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "rehearsal-report",
    title: "Failure rehearsal",
    about: "for every single loss (a repeater, a place and the people there, utility power, the internet): where each net meets by its own cards, who is lost and when, and how long each station runs on its own power",
    layout: "full-wide",
    each: &[Each::Once],
    widest: Audience::Team,
    sections: &["rehearsal"],
    tables: &[],
    compose: Compose::View(compose),
};

/// What was rehearsed, and what no paper rehearsal can show.
const NOTE: &str = "Each row takes one thing away and lets everybody follow their own card alone: a row's next channel first, then the net's order. \
                    \"Stays\" means that the net stays on its first channel, and nobody of it is lost. Bold means that somebody is lost, cannot follow or was not heard when tried; the \
                    line below says who, and when where that makes a difference. Members count while they have duty in the net; who is posted at a lost place is lost with it. A net meets \
                    where two posts or more hear each other and somebody may send on the day of the duty; radios at one post are shared. Of two posts the one \
                    that is left has nobody to meet: no card helps it. Radios as the plan lists them. Whether a signal gets through is known only where it was tried: where nothing was heard then the row says so, with the day.";

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let losses = losses(plan);
    let (rows, idle) = rehearsed(view, &losses);
    let say = |text: Text, role| Block::Paragraph(Paragraph { text, role });
    let mut blocks = vec![say(finding(&rows), Role::Body)];
    if !rows.is_empty() {
        blocks.push(Block::Matrix(matrix(view, &rows)));
    }
    let idle = match idle.is_empty() {
        true => String::new(),
        false => format!("No net moves after the loss of {}. ", idle.join(", ")),
    };
    blocks.push(say(Text::own(format!("{idle}{} {NOTE}", hours(plan))), Role::Small));
    vec![Section { key: "rehearsal", title: Text::own("Failure rehearsal"), blocks }]
}

/// What matters first: after which losses somebody cannot follow, and of which nets nobody is left.
fn finding(rows: &[Lost<'_>]) -> Text {
    if rows.is_empty() {
        return Text::own("No loss of one thing takes a net's primary channel or its people.");
    }
    let failing = lost_nets(rows, |told| !told.failures.is_empty());
    let unheard = lost_nets(rows, |told| !told.unheard.is_empty());
    let gone = lost_nets(rows, |told| told.meets == NOBODY_LEFT);
    let text = match failing.is_empty() {
        true if gone.is_empty() => Text::strong("Everybody can follow", Span::NOWHERE)
            .then(": after each of these losses every net meets on a channel of its own cards."),
        true => Text::strong("Whoever is left can follow", Span::NOWHERE)
            .then(": after each of these losses every net with people left meets on a channel of its own cards."),
        false => Text::strong("Somebody cannot follow", Span::NOWHERE).then(format!(": {}.", failing.join("; "))),
    };
    let text = match unheard.is_empty() {
        true => text,
        false => text.then_strong(" Not heard when tried").then(format!(": {}.", unheard.join("; "))),
    };
    match gone.is_empty() {
        true => text,
        false => text.then(format!(" Nobody is left of {}.", gone.join("; "))),
    }
}

/// Losses, each with the nets of which something holds in some stretch of time.
fn lost_nets(rows: &[Lost<'_>], holds: impl Fn(&Told) -> bool) -> Vec<String> {
    let of = |lost: &Lost<'_>| {
        let nets = lost.nets.iter().filter(|(_, told)| told.iter().any(|(_, told)| holds(told)));
        let nets: Vec<&str> = nets.map(|(net, _)| net.name.as_str()).collect();
        (!nets.is_empty()).then(|| format!("{} after the loss of {}", listed(&nets), lost.loss.words))
    };
    rows.iter().filter_map(of).collect()
}

fn matrix(view: &View<'_>, rows: &[Lost<'_>]) -> Matrix {
    let plan = view.plan();
    let nets: Vec<&Net> = plan.nets.iter().filter(|net| !net.legs.is_empty()).collect();
    let column = |net: &&Net| MatrixColumn {
        number: String::new(),
        name: Text::plain(net.name.as_str(), net.name.span),
        lines: vec![Text::own(order(plan, net))],
    };
    let mut last = None;
    let row = |lost: &Lost<'_>| {
        let kind = kind_of(lost.loss);
        let begins = last.replace(kind).is_some_and(|last| last != kind);
        row((view, &nets), lost, begins)
    };
    Matrix {
        key: "rehearsal",
        heads: vec!["without"],
        columns: nets.iter().map(column).collect(),
        rows: rows.iter().map(row).collect(),
        counted: Vec::new(),
        counts: Text::default(),
        legend: Vec::new(),
    }
}

/// `CMD 1, then CMD 2, TAC 1`.
fn order(plan: &Plan, net: &Net) -> String {
    let names = net.legs.iter().filter_map(|leg| plan.channels.get(&leg.channel));
    let mut names = names.map(|channel| tied(channel.name.as_str()));
    let first = names.next().unwrap_or_default();
    let others: Vec<String> = names.collect();
    if others.is_empty() { first } else { format!("{first}, then {}", others.join(", ")) }
}

/// What is lost, for the rules between rows: stations, places, what everything hangs on.
fn kind_of(loss: &Loss) -> u8 {
    match (&loss.subject, loss.words.starts_with("all at ")) {
        (Some(_), false) => 0,
        (Some(_), true) => 1,
        (None, _) => 2,
    }
}

fn row((view, nets): (&View<'_>, &[&Net]), lost: &Lost<'_>, begins: bool) -> MatrixRow {
    let of = |net: &Net| lost.nets.iter().find(|(other, _)| other.id.value == net.id.value).map(|(_, told)| told);
    let cell = |net: &&Net| {
        MatrixCell::Words(of(net).map_or_else(|| Text::plain("stays", net.span), |told| met_on(net, told)))
    };
    let mut notes: Vec<(Vec<&Net>, ToldTimes)> = Vec::new();
    for (net, told) in nets.iter().filter_map(|net| Some((*net, without_times(of(net)?)))) {
        let is_same = |(_, other): &&mut (Vec<&Net>, ToldTimes)| says_the_same(&told, other);
        match notes.iter_mut().find(is_same) {
            Some((nets, _)) => nets.push(net),
            None => notes.push((vec![net], told)),
        }
    }
    MatrixRow {
        label: String::new(),
        head: vec![loss_words(lost.loss)],
        cells: nets.iter().map(cell).collect(),
        notes: notes.into_iter().filter_map(|(nets, told)| note(view, &nets, &told)).collect(),
        begins,
        record: lost.loss.subject.clone(),
        span: Span::NOWHERE,
    }
}

/// `repeater` and its name in strong words.
fn loss_words(loss: &Loss) -> Text {
    let kinds = ["repeater ", "gateway ", "all at "];
    let parted = kinds.iter().find_map(|kind| Some((*kind, loss.words.strip_prefix(kind)?)));
    match parted {
        Some((kind, name)) => Text::own(kind).then_strong(name),
        None => Text::own(loss.words.clone()),
    }
}

/// Where a net meets: each channel once, strong where somebody is lost.
fn met_on(net: &Net, told: &[(Vec<Period>, Told)]) -> Text {
    let mut names: Vec<(&str, bool)> = Vec::new();
    for (_, told) in told {
        match names.iter_mut().find(|(name, _)| *name == told.meets) {
            Some((_, is_lost)) => *is_lost |= told.is_lost(),
            None => names.push((&told.meets, told.is_lost())),
        }
    }
    let mut text = Text { runs: Vec::new(), span: net.span };
    for (index, (name, is_lost)) in names.into_iter().enumerate() {
        text = if index == 0 { text } else { text.then(", or ") };
        text = if is_lost { text.then_strong(tied(name)) } else { text.then(tied(name)) };
    }
    text
}

/// What is said below the row, without the times where they differ by no more than who is lost: the duty sheet says who stands when. Where
/// the cell says that nobody is left, all are lost.
fn without_times(told: &ToldTimes) -> ToldTimes {
    let said: Vec<&(Vec<Period>, Told)> = told.iter().filter(|(_, told)| !told.says().is_empty()).collect();
    let is_loss_alone = |(_, told): &&(Vec<Period>, Told)| !told.gone.is_empty() && !told.is_failure();
    let is_like = |one: &Told, other: &Told| one.others == other.others;
    let Some(((_, first), rest)) = said.split_first() else { return Vec::new() };
    if said.iter().all(|told| is_loss_alone(told) && told.1.meets == NOBODY_LEFT) {
        return Vec::new();
    }
    if !said.iter().all(is_loss_alone) || !rest.iter().all(|(_, told)| is_like(first, told)) {
        return said.into_iter().cloned().collect();
    }
    let mut one = first.clone();
    for name in rest.iter().flat_map(|(_, told)| &told.gone) {
        if !one.gone.contains(name) {
            one.gone.push(name.clone());
        }
    }
    vec![(Vec::new(), one)]
}

/// Whether the same is said below the row, at the same times.
fn says_the_same(one: &[(Vec<Period>, Told)], other: &[(Vec<Period>, Told)]) -> bool {
    let said = |told: &[(Vec<Period>, Told)]| -> Vec<(Vec<Period>, String)> {
        told.iter().map(|(periods, told)| (periods.clone(), told.says())).collect()
    };
    said(one) == said(other)
}

/// Who is lost, when, and why, of nets of which the same is said; nothing where nobody is.
fn note(view: &View<'_>, nets: &[&Net], told: &[(Vec<Period>, Told)]) -> Option<Text> {
    let clock = Clock::of(view.plan());
    let names: Vec<&str> = nets.iter().map(|net| net.name.as_str()).collect();
    let names = listed(&names);
    if let [(periods, told)] = told
        && periods.is_empty()
        && !told.gone.is_empty()
        && !told.is_failure()
    {
        let verb = if nets.len() == 1 { "loses" } else { "lose" };
        let others: String = told.others.iter().map(|words| format!("; {words}")).collect();
        return Some(Text::own(format!("{names} {verb} {}{others}.", listed(&told.gone))));
    }
    let mut text = Text { runs: Vec::new(), span: nets.first().map_or(Span::NOWHERE, |net| net.span) };
    for (index, (periods, told)) in told.iter().enumerate() {
        let when: Vec<String> = periods.iter().map(|period| tied_times(&clock.words(*period))).collect();
        text = match (index, when.is_empty()) {
            (0, true) => text.then(names.clone()),
            (0, false) => text.then(format!("{names}, {}", listed(&when))),
            (_, true) => text.then(" At other times"),
            (_, false) => text.then(format!(" {}", listed(&when))),
        };
        text = text.then(format!(": {}.", told.says()));
    }
    (!text.is_empty()).then_some(text)
}

/// How long what the nets rest on runs on its own power: a row that takes utility power away leaves it standing, however short that is.
fn hours(plan: &Plan) -> String {
    let repeaters = plan.repeaters.iter().map(|one| (one.name.as_str(), one.backup_power));
    let gateways = plan.gateways.iter().map(|one| (one.name.as_str(), one.backup_power));
    let (with, without): (Vec<_>, Vec<_>) = repeaters.chain(gateways).partition(|(_, hours)| hours.is_some());
    let with = with.into_iter().filter_map(|(name, hours)| Some(format!("{} {}", tied(name), hours?.value)));
    let said = |names: Vec<String>| if names.is_empty() { "none".to_owned() } else { names.join(", ") };
    let without = without.into_iter().map(|(name, _)| tied(name));
    format!(
        "Without utility power these run on: {}. No backup hours are listed for: {}.",
        said(with.collect()),
        said(without.collect())
    )
}

/// Days and times that are not parted at the end of a line.
fn tied_times(words: &str) -> String {
    words.split(" to ").map(tied).collect::<Vec<_>>().join(" to ")
}
