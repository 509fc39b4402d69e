//! What is left of each net when one thing fails: the rehearsal of the plan's own words, for those who lead. Losses by nets, the channel
//! where they meet, and below a row what is lost.

use crate::audience::View;
use crate::compose::block::{Block, Matrix, MatrixCell, MatrixColumn, MatrixRow, Paragraph, Role, Section, Text};
use crate::compose::channel_words::tied;
use crate::compose::foot::named_to;
use crate::compose::kind::{Compose, Kind};
use crate::ground::{Audience, Id, Span, listed, plural};
use crate::plan::{Channel, Clock, Each, Member, Net, Period, Plan, Post};
use crate::reckon::{Loss, Met, NetOutcome, PathTrials, Staff, Unheard, gaps, losses, rehearse, taken_from};
use std::collections::{BTreeMap, BTreeSet};

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

/// Stretches of time that are told apart for one net and one loss. The check looks at all of them.
const MOST_STRETCHES: usize = 24;

/// In the cell of a net whose people are all lost.
const NOBODY_LEFT: &str = "nobody left";

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

/// A row before it is set: the loss, and what is said of each net.
struct Lost<'a> {
    loss: &'a Loss,
    nets: Vec<(&'a Net, ToldTimes)>,
}

fn compose(view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let (staff, losses, tried) = (Staff::of(plan), losses(plan), PathTrials::of(plan));
    let unheard: BTreeMap<&Id, Vec<Unheard<'_>>> =
        plan.nets.iter().map(|net| (&net.id.value, tried.unheard_of(net))).collect();
    let (mut rows, mut idle) = (Vec::new(), Vec::new());
    for (loss, nets) in losses.iter().zip(staff.touched(&losses)) {
        let affected: Vec<After<'_>> = nets.into_iter().filter_map(|net| after(view, &staff, net, loss)).collect();
        let moved = Moved::of(&affected);
        let unheard = |net: &Net| unheard.get(&net.id.value).map_or(&[][..], Vec::as_slice);
        let nets = affected.iter().map(|own| {
            let unheard: Vec<&Unheard<'_>> = unheard(own.net).iter().filter(|pair| !is_lost(pair, loss)).collect();
            (own.net, told_of((view, &staff), own, (&moved, &unheard)))
        });
        let mut nets: Vec<_> = nets.filter(|(_, told)| !told.is_empty()).collect();
        for (net, taken) in plan.nets.iter().filter_map(|net| Some((net, taken(plan, net, loss)?))) {
            match nets.iter_mut().find(|(other, _)| other.id.value == net.id.value) {
                Some((_, told)) => told.iter_mut().for_each(|(_, told)| told.add(&taken)),
                None => nets.push((net, vec![(Vec::new(), taken)])),
            }
        }
        for (net, told) in &mut nets {
            if let Some(words) = control_passes(plan, net, loss) {
                told.iter_mut()
                    .filter(|(_, told)| told.meets != NOBODY_LEFT)
                    .for_each(|(_, told)| told.others.push(words.clone()));
            }
        }
        match nets.is_empty() {
            true => idle.push(loss.words.as_str()),
            false => rows.push(Lost { loss, nets }),
        }
    }
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

/// What a loss takes from a net that meets on several channels at once, where it leaves the primary one.
fn taken(plan: &Plan, net: &Net, loss: &Loss) -> Option<Told> {
    let (primary, taken) = taken_from(plan, net, loss)?;
    let (dead, apart): (Vec<&Channel>, Vec<&Channel>) =
        taken.into_iter().partition(|channel| loss.dead.contains(&channel.id.value));
    let names =
        |channels: &[&Channel]| listed(&channels.iter().map(|channel| tied(channel.name.as_str())).collect::<Vec<_>>());
    let on = tied(primary.name.as_str());
    let failures = (!apart.is_empty()).then(|| format!("{on} and {} no longer hear each other", names(&apart)));
    let others = (!dead.is_empty()).then(|| format!("no more on {}", names(&dead)));
    let (failures, others) = (failures.into_iter().collect(), others.into_iter().collect());
    Some(Told { meets: primary.name.to_string(), failures, others, ..Told::default() })
}

/// Who takes a net over where the post that controls it is lost, as far as the net names somebody.
fn control_passes(plan: &Plan, net: &Net, loss: &Loss) -> Option<String> {
    let lost = loss.place.as_ref()?;
    let stands_there = |post: &Post| post.place.as_ref().is_some_and(|place| *place.value == *lost);
    if !stands_there(plan.posts.get(&net.control.as_ref()?.value)?) {
        return None;
    }
    let next = plan.posts.get(&net.alternate_control.as_ref()?.value)?;
    if stands_there(next) {
        return Some(format!("{}, which would take control, is lost as well", next.name.value));
    }
    let after = net.control_after.map(|after| format!(" after {}", after.value)).unwrap_or_default();
    Some(format!("{} takes control{after}", next.name.value))
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

fn after<'a>(view: &View<'a>, staff: &Staff<'a>, net: &'a Net, loss: &Loss) -> Option<After<'a>> {
    let day = view.plan().edition.as_ref().map(|edition| edition.valid_from.value);
    let rehearsal = rehearse(view.eligibility(day), staff, net, loss)?;
    let (mut met, mut more) = (Vec::new(), 0);
    // Where only people are lost, what goes on as before is no news.
    rehearsal.each_changed(|here| {
        if met.len() < MOST_STRETCHES {
            met.push(here.met())
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

/// What is said of a net: stretches of time of which the same is said are told together.
fn told_of<'a>(
    (view, staff): (&View<'a>, &Staff<'a>),
    own: &After<'a>,
    (moved, unheard): (&Moved<'_, 'a>, &[&Unheard<'_>]),
) -> ToldTimes {
    let mut alike: ToldTimes = Vec::new();
    for met in &own.met {
        let mut told = told(met, crowd(staff, own.net, met, moved), view);
        told.unheard = failed_there(unheard, met, staff);
        let when = met.when.into_iter();
        match alike.iter_mut().find(|(_, other)| *other == told) {
            Some((periods, _)) => when.for_each(|when| joined(periods, when)),
            None => alike.push((when.collect(), told)),
        }
    }
    if !own.empty.is_empty() {
        alike.push((own.empty.clone(), Told::failed("nowhere", "nobody is on duty")));
    }
    if own.more > 0 {
        let more = format!("{} not printed", plural(own.more, "further stretch"));
        alike.push((Vec::new(), Told { meets: "more".to_owned(), others: vec![more], ..Told::default() }));
    }
    alike
}

/// Whether one of the two is lost with the place.
fn is_lost(pair: &Unheard<'_>, loss: &Loss) -> bool {
    let is_there =
        |post: &Post| post.place.as_ref().zip(loss.place.as_ref()).is_some_and(|(place, lost)| *place.value == *lost);
    is_there(pair.control) || is_there(pair.post)
}

/// `Saint Brenn radio and Blood center radio failed on TAC 2 as tried 2027-08-14`, of those who are both there at that time.
fn failed_there(unheard: &[&Unheard<'_>], met: &Met<'_>, staff: &Staff<'_>) -> Vec<String> {
    let is_stood = |post: &Post| {
        let mut stands = staff.stands_at(&post.id.value);
        met.when.is_none_or(|when| stands.any(|stand| stand.period.meets(when)))
    };
    let is_there = |pair: &&&Unheard<'_>| {
        let is_on = met.on.is_some_and(|on| on.id.value == pair.channel.id.value);
        is_on && is_stood(pair.control) && is_stood(pair.post)
    };
    let words = |pair: &&Unheard<'_>| {
        let names = [pair.control, pair.post].map(|post| tied(post.name.as_str()));
        let (on, day) = (tied(pair.channel.name.as_str()), pair.test.on.value);
        format!("{} and {} failed on {on} as tried {day}", names[0], names[1])
    };
    unheard.iter().filter(is_there).map(words).collect()
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

/// Who else is on the channel at that time, and how many posts that makes; none where the net is alone.
fn crowd<'a>(staff: &Staff<'a>, net: &'a Net, met: &Met<'a>, moved: &Moved<'_, 'a>) -> Option<String> {
    let on = met.on?;
    let is_then = |theirs: &Met<'_>| met.when.zip(theirs.when).is_none_or(|(own, theirs)| own.meets(theirs));
    let come = moved.on_channel.get(&on.id.value).into_iter().flatten();
    let come = come.filter(|(_, theirs)| is_then(theirs)).map(|(other, _)| *other);
    let stay = staff.begun_on(&on.id.value).iter().copied().filter(|other| !moved.nets.contains(&other.id.value));
    let mut there: BTreeMap<&Id, &Net> = come.chain(stay).map(|other| (&other.id.value, other)).collect();
    there.remove(&net.id.value);
    if there.is_empty() {
        return None;
    }
    let names: Vec<&str> = there.values().map(|other| other.name.as_str()).collect();
    let all: Vec<&Net> = there.values().copied().chain([net]).collect();
    let posts = plural(staff.posts_on(&all), "post");
    Some(format!("on {} together with {}, {posts} in all", tied(on.name.as_str()), listed(&names)))
}

/// What is said of a net, each with the stretches of time of which it is said.
type ToldTimes = Vec<(Vec<Period>, Told)>;

/// What is said of a net in a stretch of time.
#[derive(Clone, PartialEq, Default)]
struct Told {
    /// Where it meets, in the cell.
    meets: String,
    /// Why somebody cannot follow, though nobody took them away.
    failures: Vec<String>,
    /// Between whom nothing was heard there when it was tried.
    unheard: Vec<String>,
    /// Who is lost with what is lost.
    gone: Vec<String>,
    /// What else is to be known.
    others: Vec<String>,
}

impl Told {
    fn failed(meets: &str, why: &str) -> Self {
        Self { meets: meets.to_owned(), failures: vec![why.to_owned()], ..Self::default() }
    }

    /// Says what another says too, beside where the net meets.
    fn add(&mut self, other: &Self) {
        self.failures.extend_from_slice(&other.failures);
        self.others.extend_from_slice(&other.others);
    }

    fn is_failure(&self) -> bool {
        !self.failures.is_empty() || !self.unheard.is_empty()
    }

    fn is_lost(&self) -> bool {
        self.is_failure() || !self.gone.is_empty()
    }

    /// Below the row; nothing where all is well.
    fn says(&self) -> String {
        let gone = (!self.gone.is_empty()).then(|| format!("lost with it: {}", listed(&self.gone)));
        let all: Vec<&str> =
            self.failures.iter().chain(&self.unheard).chain(&gone).chain(&self.others).map(String::as_str).collect();
        all.join("; ")
    }
}

fn told(met: &Met<'_>, crowd: Option<String>, view: &View<'_>) -> Told {
    let mut told = Told { others: crowd.into_iter().collect(), ..Told::default() };
    let on = met.on.map_or_else(|| "nowhere".to_owned(), |on| on.name.to_string());
    told.meets = on.clone();
    match met.outcome() {
        NetOutcome::Meets(_) => {}
        NetOutcome::Silent(on) => told.failures.push(format!("nobody may send on {}", tied(on.name.as_str()))),
        NetOutcome::Alone(on) if met.is_fallen_apart() || !met.apart.is_empty() => {
            told.failures.push(format!("does not meet: one post alone on {}", tied(on.name.as_str())));
        }
        // Of two posts the one that is left; one that stands alone at all times has nobody to lose.
        NetOutcome::Alone(_) if !met.lost.is_empty() => told.others.push("one post is left".to_owned()),
        NetOutcome::Alone(_) => {}
        NetOutcome::Nowhere => told.failures.push("its people run out of channels".to_owned()),
        NetOutcome::Gone => {
            told.meets = NOBODY_LEFT.to_owned();
            told.failures.extend(met.is_fallen_apart().then(|| "nobody is left".to_owned()));
        }
        NetOutcome::Unnamed(None) => return Told::failed("nowhere", "its cards run out of channels"),
        NetOutcome::Unnamed(Some(on)) => {
            told.meets = on.name.to_string();
            told.others.insert(0, "its people are not named".to_owned());
            return told;
        }
    }
    let named =
        |members: &[&Member]| -> Vec<String> { members.iter().map(|member| tied(&named_to(member, view))).collect() };
    let apart = met.apart.iter().map(|(member, apart)| format!("{} {}", tied(&named_to(member, view)), apart.words()));
    told.failures.extend(apart);
    if !met.listening.is_empty() {
        told.failures.push(format!("only listening: {}", listed(&named(&met.listening))));
    }
    told.gone = named(&met.lost);
    told
}
