//! What is said of each net after a loss: where it meets, who is lost, who cannot follow and why, stretch of time by stretch of time.

use super::channel_words::tied;
use super::foot::named_to;
use crate::audience::View;
use crate::ground::{Id, listed, plural};
use crate::plan::{Channel, Member, Net, Period, Plan, Post};
use crate::reckon::{Loss, Met, NetOutcome, PathTrials, Staff, Unheard, gaps, rehearse, taken_from};
use std::collections::{BTreeMap, BTreeSet};

/// Stretches of time that are told apart for one net and one loss. The check looks at all of them.
const MOST_STRETCHES: usize = 24;

/// In the cell of a net whose people are all lost.
pub(super) const NOBODY_LEFT: &str = "nobody left";

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
pub(super) struct Lost<'a> {
    pub loss: &'a Loss,
    pub nets: Vec<(&'a Net, ToldTimes)>,
}

/// Each loss by which a net moves, with what is said of each net; and the words of those by which none does.
pub(super) fn rehearsed<'a>(view: &View<'a>, losses: &'a [Loss]) -> (Vec<Lost<'a>>, Vec<&'a str>) {
    let (plan, tried) = (view.plan(), PathTrials::of(view.plan()));
    let staff = Staff::of(plan);
    let unheard: BTreeMap<&Id, Vec<Unheard<'_>>> =
        plan.nets.iter().map(|net| (&net.id.value, tried.unheard_of(net))).collect();
    let (mut rows, mut idle) = (Vec::new(), Vec::new());
    for (loss, nets) in losses.iter().zip(staff.touched(losses)) {
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
    (rows, idle)
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
pub(super) type ToldTimes = Vec<(Vec<Period>, Told)>;

/// What is said of a net in a stretch of time.
#[derive(Clone, PartialEq, Default)]
pub(super) struct Told {
    /// Where it meets, in the cell.
    pub meets: String,
    /// Why somebody cannot follow, though nobody took them away.
    pub failures: Vec<String>,
    /// Between whom nothing was heard there when it was tried.
    pub unheard: Vec<String>,
    /// Who is lost with what is lost.
    pub gone: Vec<String>,
    /// What else is to be known.
    pub others: Vec<String>,
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

    pub fn is_failure(&self) -> bool {
        !self.failures.is_empty() || !self.unheard.is_empty()
    }

    pub fn is_lost(&self) -> bool {
        self.is_failure() || !self.gone.is_empty()
    }

    /// Below the row; nothing where all is well.
    pub fn says(&self) -> String {
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
