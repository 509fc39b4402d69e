//! Proposes frequencies for channels that want one of a pool: none with an error, the fewest and weakest warnings.
//!
//! Each candidate is judged by the rules themselves, in a plan that has this channel alone beside what is fixed. Two channels
//! that can meet on the air never share spectrum; what falls on receivers at a site counts by the number of products.

use super::adjacent_channel::{are_adjacent, is_spaced};
use super::asked::AskedOnce;
use super::check::{Check, ask};
use super::{CHECKS, Facts, calling_frequency_worked, signal_leaves_radio, transmit_leaves_band};
use crate::ground::{At, Files, Findings, Frequency, Id, Rule, Severity, Span, Stretch};
use crate::plan::{Channel, Place, Plan, Pool, Ref, Repeater, Sequence, Wish, subject};
use crate::reckon;
use crate::reckon::{Answer, Coverage, FoundOnce, Problem, Spots, Transmission, assign, each_near, spots_can_meet};
use crate::tables::{Profile, Tables};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// What a warning costs that says somebody else is there already.
const TAKEN: u64 = 1000;
/// What any other warning costs.
const WARNED: u64 = 10;
/// What a possible product at a site costs.
const PRODUCT: u64 = 1;

/// Most channels that a sentence names.
const MOST_NAMED: usize = 6;

/// A frequency for a channel.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Allotted {
    /// The channel's printed name.
    pub name: String,
    /// The word `"allot"` in the plan, to be replaced.
    pub word: Span,
    /// The frequency.
    pub frequency: Frequency,
    /// How many of the pool could have been taken.
    pub open: usize,
    /// Rules whose warnings stand with it.
    pub warned: BTreeSet<&'static str>,
    /// How many of the pool were ruled out, by the rule that did.
    pub ruled_out: BTreeMap<&'static str, usize>,
}

/// What came of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Allotment {
    /// A frequency for each channel that wants one.
    Found {
        /// In file order.
        channels: Vec<Allotted>,
        /// Whether no other choice has less against it: each channel by the rules, two of the choice side by side, and products
        /// at sites.
        is_best: bool,
    },
    /// No choice is without conflict.
    Nothing {
        /// What stands in the way, in a sentence.
        why: String,
        /// Whether all choices were tried.
        is_proved: bool,
    },
}

/// What a rule says of a candidate.
#[derive(Clone, Default)]
struct WishVerdict {
    error: Option<&'static str>,
    warned: BTreeSet<&'static str>,
}

impl WishVerdict {
    fn cost(&self) -> Option<u64> {
        let weight = |rule: &&'static str| {
            if ["channels-overlap", "neighbour-on-frequency"].contains(rule) { TAKEN } else { WARNED }
        };
        self.error.is_none().then(|| self.warned.iter().map(weight).sum())
    }
}

/// Chooses a frequency for every wish of a plan.
#[must_use]
pub fn allot(plan: &Plan, profile: &Profile) -> Allotment {
    let tables = Tables::built_in();
    let pools: Vec<Option<&Pool>> = plan.wishes.iter().map(|wish| plan.pools.get(&wish.pool)).collect();
    let base = without_papers(plan);
    let mut wrong = Findings::default();
    let base_sites = reckon::Sites::asked_for(&base, profile, &tables.modes);
    let (known, asked) = (FoundOnce::default(), AskedOnce::default());
    let facts = Facts::new(&base, profile, (tables, &base_sites), (&known, &asked), &mut wrong);
    if let Some(first) = wrong.iter().next() {
        return Allotment::Nothing { why: format!("first mend this: {}", first.message), is_proved: true };
    }
    let mut trial = base.clone();
    let verdicts: Vec<Vec<WishVerdict>> = plan
        .wishes
        .iter()
        .zip(&pools)
        .map(|(wish, pool)| {
            let of_pool = pool.map_or(&[][..], |pool| &pool.frequencies);
            of_pool.iter().map(|at| judged(&mut trial, facts, wish, *at)).collect()
        })
        .collect();
    let wishes: BTreeMap<&Id, usize> =
        plan.wishes.iter().enumerate().map(|(index, wish)| (&wish.id().value, index)).collect();
    let sites: Vec<WishSite<'_>> = plan.places.iter().filter_map(|place| WishSite::of(&base, &wishes, place)).collect();
    let at = |variable: usize, value: usize| {
        let (wish, pool) = (plan.wishes.get(variable)?, pools.get(variable).copied().flatten()?);
        Some(wish.on(*pool.frequencies.get(value)?))
    };
    let stretches: Vec<Vec<Option<Stretch>>> = (0..plan.wishes.len())
        .map(|variable| {
            let values = verdicts.get(variable).map_or(0, Vec::len);
            (0..values).map(|value| facts.sent_on(&at(variable, value)?)).collect()
        })
        .collect();
    // Where a channel is heard does not depend on its frequency.
    let coverage = Coverage::of(plan);
    let of_any = |(wish, pool): (&Wish, &Option<&Pool>)| coverage.spots_of(&wish.on(*(*pool)?.frequencies.first()?));
    let near = Nearness::of(plan.wishes.iter().zip(&pools).map(of_any).collect());
    let conflicts = |(one, a): (usize, usize), (other, b): (usize, usize)| {
        let of =
            |variable: usize, value: usize| stretches.get(variable).and_then(|row| row.get(value)).copied().flatten();
        let is_over = Option::zip(of(one, a), of(other, b)).is_some_and(|(one, other)| one.overlaps(&other));
        is_over && near.can_meet(one, other)
    };
    let candidates: Vec<Vec<Option<Channel>>> = (0..plan.wishes.len())
        .map(|variable| (0..verdicts.get(variable).map_or(0, Vec::len)).map(|value| at(variable, value)).collect())
        .collect();
    let direct: Vec<Vec<Option<Transmission<'_>>>> = candidates
        .iter()
        .map(|row| row.iter().map(|one| Transmission::on(plan, one.as_ref()?).filter(is_spaced)).collect())
        .collect();
    let pair_cost = |(one, a): (usize, usize), (other, b): (usize, usize)| {
        let of = |variable: usize, value: usize| direct.get(variable).and_then(|row| row.get(value)?.as_ref());
        let is_beside =
            Option::zip(of(one, a), of(other, b)).is_some_and(|(one, other)| are_adjacent(facts, one, other));
        if is_beside && near.can_meet(one, other) { WARNED } else { 0 }
    };
    let group_cost = |group: usize, values: &[usize]| {
        sites.get(group).map_or(0, |site| site.cost(facts, |variable| at(variable, *values.get(variable)?)))
    };
    let problem = Problem {
        domains: verdicts.iter().map(|row| row.iter().map(WishVerdict::cost).collect()).collect(),
        conflicts: &conflicts,
        pair_cost: &pair_cost,
        near: &|variable| near.of_one(variable),
        groups: sites.iter().map(|site| site.wishes.clone()).collect(),
        group_cost: &group_cost,
    };
    match assign(&problem) {
        Answer::Found { values, is_best, .. } => {
            let channels = plan.wishes.iter().zip(&values).enumerate();
            let channels = channels.filter_map(|(variable, (wish, value))| {
                allotted(wish, *value, pools.get(variable).copied().flatten()?, verdicts.get(variable)?)
            });
            Allotment::Found { channels: channels.collect(), is_best }
        }
        Answer::Nothing { stuck, by, is_proved } => {
            Allotment::Nothing { why: why(plan, &verdicts, stuck, &by), is_proved }
        }
    }
}

/// A plan with what decides about frequencies: who may send there and which nets meet do, papers and waivers do not.
fn without_papers(plan: &Plan) -> Plan {
    let mut base = plan.clone();
    base.documents = crate::plan::Register::default();
    base.forms = crate::plan::Register::default();
    base.accepts = Sequence::default();
    base.wishes.clear();
    base
}

/// What the rules say of a channel on a frequency, in a plan that has this wish alone beside what is fixed, and is given back as it
/// was: a copy of it for each would be a square.
fn judged(plan: &mut Plan, facts: Facts<'_>, wish: &Wish, at: Frequency) -> WishVerdict {
    let barred = |rule: &'static Rule| WishVerdict { error: Some(rule.name), warned: BTreeSet::new() };
    if facts.profile.calling(at).is_some() {
        return barred(&calling_frequency_worked::RULE);
    }
    let channel = wish.on(at);
    let on = subject(&channel);
    let Some(occupied) = facts.sent_on(&channel) else { return barred(&signal_leaves_radio::RULE) };
    if channel.service.is_amateur() && facts.profile.band_of(&occupied).is_none() {
        return barred(&transmit_leaves_band::RULE);
    }
    plan.channels.put(channel);
    let mut found = Findings::default();
    let sites = reckon::Sites::of(plan, facts.profile, &facts.tables.modes);
    let (known, asked) = (FoundOnce::default(), AskedOnce::default());
    let facts = Facts::new(plan, facts.profile, (facts.tables, &sites), (&known, &asked), &mut found);
    let checks: Vec<&Check> = CHECKS.iter().filter(|check| check.rule.name != "possible-product").collect();
    ask(&checks, facts).into_iter().for_each(|told| found.append(told));
    let mut verdict = WishVerdict::default();
    for finding in found.iter().filter(|finding| finding.on.contains(&on)) {
        match finding.severity() {
            Severity::Error => verdict.error = Some(finding.rule.name),
            Severity::Warning => drop(verdict.warned.insert(finding.rule.name)),
            Severity::Note => {}
        }
    }
    plan.channels.withdraw(&wish.id().value);
    verdict
}

/// Which wishes can meet on the air.
struct Nearness<'a> {
    spots: Vec<Spots<'a>>,
    /// Those that are heard everywhere, or can meet many.
    everywhere: Vec<usize>,
    /// Of each other, those that it can meet; none for one of `everywhere`.
    local: Vec<Option<Vec<usize>>>,
}

/// Most neighbours that a wish is remembered with: one that has more is asked about all.
const MOST_NEAR: usize = 256;

impl<'a> Nearness<'a> {
    fn of(spots: Vec<Spots<'a>>) -> Self {
        let local = spots.iter().map(|spots| spots.as_ref().map(|_| Vec::new())).collect();
        let everywhere =
            spots.iter().enumerate().filter(|(_, spots)| spots.is_none()).map(|(index, _)| index).collect();
        let mut nearness = Self { spots: Vec::new(), everywhere, local };
        each_near(&spots, |one, other| {
            let is_asked = [one, other].iter().any(|at| nearness.local.get(*at).is_some_and(Option::is_some));
            if is_asked && can_meet(&spots, one, other) {
                nearness.join(one, other);
                nearness.join(other, one);
            }
        });
        Self { spots, ..nearness }
    }

    fn join(&mut self, one: usize, other: usize) {
        let Some(slot) = self.local.get_mut(one) else { return };
        match slot {
            Some(near) if near.len() < MOST_NEAR => near.push(other),
            Some(_) => {
                *slot = None;
                self.everywhere.push(one);
            }
            None => {}
        }
    }

    /// Those that one may meet, in order.
    fn of_one(&self, one: usize) -> Vec<usize> {
        let mut near: Vec<usize> = match self.local.get(one) {
            Some(Some(near)) => near.iter().chain(&self.everywhere).copied().collect(),
            _ => (0..self.spots.len()).collect(),
        };
        near.retain(|other| *other != one);
        near.sort_unstable();
        near.dedup();
        near
    }

    fn can_meet(&self, one: usize, other: usize) -> bool {
        can_meet(&self.spots, one, other)
    }
}

fn can_meet(spots: &[Spots<'_>], one: usize, other: usize) -> bool {
    Option::zip(spots.get(one), spots.get(other)).is_none_or(|(one, other)| spots_can_meet(one, other))
}

/// A place with wishes among what it monitors, and all else that stands there.
struct WishSite<'a> {
    place: &'a Place,
    /// The wishes, by their place in the list.
    wishes: Vec<usize>,
    /// A plan with this place alone.
    plan: Plan,
}

impl<'a> WishSite<'a> {
    fn of(base: &Plan, wishes: &BTreeMap<&Id, usize>, place: &'a Place) -> Option<Self> {
        let is_here = |at: &Option<At<Ref<Place>>>| at.as_ref().is_some_and(|at| at.value == place.id.value);
        let linked = base.links.iter().filter(|link| is_here(&link.place));
        let worked: BTreeSet<&Id> =
            place.monitors.iter().chain(linked.flat_map(|link| &link.joins)).map(|id| &*id.value).collect();
        let mut own: Vec<usize> = worked.iter().filter_map(|id| wishes.get(*id)).copied().collect();
        own.sort_unstable();
        (!own.is_empty()).then(|| Self { place, wishes: own, plan: of_place(base, &worked, place) })
    }

    /// What the products at this place cost when each wish is a channel.
    fn cost(&self, facts: Facts<'_>, channel: impl Fn(usize) -> Option<Channel>) -> u64 {
        let mut plan = self.plan.clone();
        for channel in self.wishes.iter().filter_map(|variable| channel(*variable)) {
            plan.channels.put(channel);
        }
        let sites = reckon::Sites::asked_for(&plan, facts.profile, &facts.tables.modes);
        let count = |site: &reckon::Site| site.products().count() + site.harmonics().count();
        sites.at(self.place).map_or(TAKEN, |site| PRODUCT * u64::try_from(count(&site)).unwrap_or(u64::MAX))
    }
}

/// What of a plan decides about the products at a place where some channels are worked: with a whole plan for each place it would
/// be a square.
fn of_place(base: &Plan, worked: &BTreeSet<&Id>, place: &Place) -> Plan {
    let is_here = |at: &Option<At<Ref<Place>>>| at.as_ref().is_some_and(|at| at.value == place.id.value);
    let mut own = Plan::default();
    let mut through: BTreeSet<&Id> = BTreeSet::new();
    for channel in worked.iter().filter_map(|id| base.channels.named(id)) {
        through.extend(channel.repeater().map(|id| &*id.value));
        own.channels.put(channel.clone());
    }
    let is_needed = |repeater: &&Repeater| is_here(&repeater.place) || through.contains(&repeater.id.value);
    base.repeaters.iter().filter(is_needed).for_each(|repeater| own.repeaters.put(repeater.clone()));
    base.gateways.iter().filter(|one| is_here(&one.place)).for_each(|one| own.gateways.put(one.clone()));
    base.links.iter().filter(|one| is_here(&one.place)).for_each(|one| own.links.put(one.clone()));
    for post in base.posts.iter().filter(|post| is_here(&post.place)) {
        post.nets.iter().filter_map(|id| base.nets.get(id)).for_each(|net| own.nets.put(net.clone()));
        own.posts.put(post.clone());
    }
    let hears = |other: &&Place| other.monitors.iter().any(|id| worked.contains(&*id.value));
    let stands = |other: &&Place| {
        own.repeaters.iter().any(|one| one.place.as_ref().is_some_and(|at| at.value == other.id.value))
    };
    let places: Vec<Place> = base.places.iter().filter(|other| hears(other) || stands(other)).cloned().collect();
    places.into_iter().for_each(|other| own.places.put(other));
    own
}

fn allotted(wish: &Wish, value: usize, pool: &Pool, verdicts: &[WishVerdict]) -> Option<Allotted> {
    let mut ruled_out: BTreeMap<&'static str, usize> = BTreeMap::new();
    for rule in verdicts.iter().filter_map(|verdict| verdict.error) {
        *ruled_out.entry(rule).or_default() += 1;
    }
    Some(Allotted {
        name: wish.name().to_string(),
        word: wish.word,
        frequency: *pool.frequencies.get(value)?,
        open: verdicts.iter().filter(|verdict| verdict.error.is_none()).count(),
        warned: verdicts.get(value)?.warned.clone(),
        ruled_out,
    })
}

/// What stands in the way, in a sentence.
fn why(plan: &Plan, verdicts: &[Vec<WishVerdict>], stuck: usize, by: &[usize]) -> String {
    let name = |variable: usize| plan.wishes.get(variable).map_or_else(String::new, |w| w.name().to_string());
    let row = verdicts.get(stuck).map_or(&[][..], |row| row);
    if row.iter().all(|verdict| verdict.error.is_some()) {
        let mut rules: Vec<&str> = row.iter().filter_map(|verdict| verdict.error).collect();
        rules.sort_unstable();
        rules.dedup();
        let rules = if rules.is_empty() { "it has none".to_owned() } else { rules.join(", ") };
        return format!("no frequency of its pool is open to {}: {rules}", name(stuck));
    }
    let mut names: Vec<String> = by.iter().take(MOST_NAMED).map(|variable| name(*variable)).collect();
    if by.len() > MOST_NAMED {
        names.push(format!("{} more", by.len() - MOST_NAMED));
    }
    format!(
        "{} finds nothing left: it can meet {} on the air, and they take all that its pool has apart from each other",
        name(stuck),
        names.join(", ")
    )
}

/// The files of a plan with the proposed frequencies in the places of the words that asked for them; only files that change.
#[must_use]
pub fn allotted_texts(files: &Files, channels: &[Allotted]) -> Vec<(String, String)> {
    let mut changed: BTreeMap<String, String> = BTreeMap::new();
    let mut sorted: Vec<&Allotted> = channels.iter().collect();
    // From the end, so that earlier places stay where they are.
    sorted.sort_by_key(|channel| Reverse((channel.word.file, channel.word.start)));
    for channel in sorted {
        let Some(file) = files.get(channel.word.file) else { continue };
        let text = changed.entry(file.name.clone()).or_insert_with(|| file.text.to_string());
        let (start, end) = (channel.word.start as usize, channel.word.end as usize);
        if text.get(start..end).is_some() {
            text.replace_range(start..end, &format!("\"{}\"", channel.frequency));
        }
    }
    changed.into_iter().collect()
}
