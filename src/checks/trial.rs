//! Another frequency for a channel, tried before it is proposed: by the rules themselves, all of them, in the whole plan.

use super::asked::AskedOnce;
use super::check::{Check, ask};
use super::trials::{Found, Proposing, Trials, wordless};
use super::{CHECKS, Facts};
use crate::ground::{Finding, Findings, Frequency, Rule, Severity, Stretch};
use crate::plan::{Channel, Mode, Plan, subject};
use crate::reckon::{FoundOnce, Sites, Transmission, transmissions};
use crate::tables::{Custom, PairSide};

/// Most frequencies that are tried by all rules.
const MOST_TRIALS: usize = 4;
/// Most frequencies that are looked at.
const MOST_STEPS: i64 = 4000;

/// The frequency nearest to a channel's own that no rule speaks against; none when none was found near.
pub(super) fn nearest_clean(
    facts: Facts<'_>,
    channel: &Channel,
    rule: &Rule,
    proposing: &mut Proposing<'_>,
) -> Option<Frequency> {
    let trials = proposing.search().filter(|_| is_movable(channel))?;
    let search = CleanSearch::new(facts, channel, rule, trials)?;
    let plausible = search.candidates().filter(|at| search.is_plausible(*at));
    search.first_clean(plausible, trials)
}

/// A finding about a transmission with what to type instead, where it is on a channel of its own; else with other help.
pub(super) fn mended(
    facts: Facts<'_>,
    sender: &Transmission<'_>,
    finding: Finding,
    proposing: &mut Proposing<'_>,
    otherwise: impl Into<String>,
) -> Finding {
    match sender.from.channel().and_then(|channel| nearest_clean(facts, channel, finding.rule, proposing)) {
        Some(nearest) => finding
            .help(format!("write \"{nearest}\", the nearest that no rule speaks against"))
            .fix(sender.frequency.span, format!("\"{nearest}\"")),
        None => finding.help(otherwise),
    }
}

/// The first of some frequencies for a channel that no rule speaks against; none when none of the first few is.
pub(super) fn first_clean(
    facts: Facts<'_>,
    channel: &Channel,
    rule: &Rule,
    proposing: &mut Proposing<'_>,
    among: impl Iterator<Item = Frequency>,
) -> Option<Frequency> {
    let trials = proposing.search().filter(|_| is_movable(channel))?;
    CleanSearch::new(facts, channel, rule, trials)?.first_clean(among, trials)
}

/// Whether a channel that is written otherwise is in order: `rule` finds nothing at it, and no rule anything new.
pub(super) fn is_clean_as(facts: Facts<'_>, changed: &Channel, rule: &Rule, proposing: &mut Proposing<'_>) -> bool {
    proposing.search().is_some_and(|trials| trials.may_read() && is_mended_as(facts, changed, rule, trials))
}

/// One frequency, heard and sent, that a key of the channel itself gives.
fn is_movable(channel: &Channel) -> bool {
    channel.has_one_frequency() && channel.service.is_amateur() && channel.send.is_some_and(|send| send == channel.hear)
}

struct CleanSearch<'a, 's> {
    facts: Facts<'a>,
    channel: &'s Channel,
    rule: &'s Rule,
    /// The band that it should lie in.
    band: Stretch,
    /// What others occupy.
    taken: Vec<Stretch>,
}

impl<'a, 's> CleanSearch<'a, 's> {
    fn new(facts: Facts<'a>, channel: &'s Channel, rule: &'s Rule, trials: &Trials) -> Option<Self> {
        let band = facts.profile.nearest_band(channel.hear.value)?.edges;
        let is_other =
            |sent: &Transmission<'_>| sent.from.on_channel().is_none_or(|one| one.id.value != channel.id.value);
        let others = transmissions(facts.plan).into_iter().filter(is_other);
        let others = others.filter_map(|sent| facts.occupies(&sent).ok());
        let proposed = trials.for_others(channel);
        let taken = others.chain(proposed.iter().filter_map(|other| facts.sent_on(other))).collect();
        Some(Self { facts, channel, rule, band, taken })
    }

    fn is_dialled(&self) -> bool {
        self.channel.side().is_some() || matches!(self.channel.signal.mode.value, Mode::Cw | Mode::Ssb)
    }

    /// Frequencies of the band on the step that radios have there, the nearest first.
    fn candidates(&self) -> impl Iterator<Item = Frequency> {
        let rasters = self.facts.profile.rasters.iter().filter(|row| row.edges.overlaps(&self.band));
        let finest = rasters.map(|row| row.step.as_hertz()).min();
        // Chosen by hand, where the profile has no step: half a kilohertz on a dial, 12.5 kHz between FM channels.
        let step = if self.is_dialled() { 500 } else { finest.unwrap_or(12_500) }.max(1);
        let step = i64::try_from(step).unwrap_or(i64::MAX);
        let at = i64::try_from(self.channel.hear.value.as_hertz()).unwrap_or(i64::MAX);
        let edge = |frequency: Frequency| i64::try_from(frequency.as_hertz()).unwrap_or(i64::MAX);
        let (low, high) = (edge(self.band.low()), edge(self.band.high()));
        let start = at.clamp(low, high) / step;
        let steps = (0..=MOST_STEPS).flat_map(move |away| [start - away, start + away]);
        let inside = steps.map(move |n| n.saturating_mul(step)).filter(move |hertz| (low..=high).contains(hertz));
        let mut nearest: Vec<i64> = inside.collect();
        nearest.sort_by_key(|hertz| (hertz - at).abs());
        nearest.dedup();
        nearest.into_iter().filter_map(|hertz| Frequency::hertz(u64::try_from(hertz).ok()?))
    }

    /// Whether nothing speaks against it that can be seen without asking every rule: edges, the band plan, other channels.
    fn is_plausible(&self, at: Frequency) -> bool {
        let profile = self.facts.profile;
        let Some(sent) = Transmission::on(self.facts.plan, self.channel).map(|sent| sent.moved(at)) else {
            return false;
        };
        let (Ok(occupied), Ok(reaches)) = (self.facts.occupies(&sent), self.facts.reaches(&sent)) else { return false };
        if !self.band.holds(&reaches) {
            return false;
        }
        let Ok(emission) = self.facts.emission_of(sent.signal) else { return false };
        let touches = |row: &&Custom| row.edges.overlaps(&occupied);
        let bars = |row: &Custom| {
            let is_set_aside = !self.is_dialled() && (row.is_without_fm || row.is_without_voice);
            is_set_aside || row.width.is_some_and(|most| emission.width() > most)
        };
        let is_paired = |side: Option<PairSide>| matches!(side, Some(PairSide::Input | PairSide::Output));
        let rows = || profile.customs.iter().filter(touches);
        let is_free = !self.taken.iter().any(|taken| taken.overlaps(&occupied));
        is_free && profile.calling(at).is_none() && !rows().any(|row| bars(row) || is_paired(row.side))
    }

    /// The first of the first few that no rule speaks against, as long as the rules may be asked.
    fn first_clean(&self, among: impl Iterator<Item = Frequency>, trials: &mut Trials) -> Option<Frequency> {
        for at in among.take(MOST_TRIALS) {
            if !trials.may_read() {
                return None;
            }
            if is_mended_as(self.facts, &placed(self.channel, at), self.rule, trials) {
                return Some(at);
            }
        }
        None
    }
}

/// The first of some plans, each this one written otherwise, in which no rule finds what it does not find now; by its place among them.
pub(super) fn first_clean_plan(
    facts: Facts<'_>,
    proposing: &mut Proposing<'_>,
    plans: impl Iterator<Item = Plan>,
) -> Option<usize> {
    let trials = proposing.search()?;
    for (place, plan) in plans.enumerate() {
        if !trials.may_read() {
            return None;
        }
        if found(facts, &plan).is_subset(trials.before.get_or_insert_with(|| found(facts, facts.plan))) {
            return Some(place);
        }
    }
    None
}

/// Whether the rules find nothing with a channel as `changed` that they do not find now, and `rule` no longer: alone, and beside
/// all that was proposed before. What is in order is proposed from now on.
fn is_mended_as(facts: Facts<'_>, changed: &Channel, rule: &Rule, trials: &mut Trials) -> bool {
    let own = subject(changed);
    let is_better = |plan: &Plan, before: &mut Option<Found>| {
        let after = found(facts, plan);
        let is_mended = !after.iter().any(|(name, on)| *name == rule.name && on.contains(&own));
        is_mended && after.is_subset(before.get_or_insert_with(|| found(facts, facts.plan)))
    };
    let mut plan = facts.plan.clone();
    plan.channels.put(changed.clone());
    if !is_better(&plan, &mut trials.before) {
        return false;
    }
    let others = trials.for_others(changed);
    if !others.is_empty() {
        others.into_iter().for_each(|other| plan.channels.put(other));
        if !trials.may_read() || !is_better(&plan, &mut trials.before) {
            return false;
        }
    }
    trials.proposed.push(changed.clone());
    true
}

/// A channel on another frequency.
pub(super) fn placed(channel: &Channel, at: Frequency) -> Channel {
    let mut channel = channel.clone();
    channel.hear.value = at;
    channel.send = channel.send.map(|send| send.with(at));
    channel
}

/// What the rules find in a plan, notes aside.
fn found(facts: Facts<'_>, plan: &Plan) -> Found {
    let mut all = Findings::default();
    let sites = Sites::of(plan, facts.profile, &facts.tables.modes);
    let (known, asked) = (FoundOnce::default(), AskedOnce::default());
    let trial = Facts::new(plan, facts.profile, (facts.tables, &sites), (&known, &asked), &mut all);
    let checks: Vec<&Check> = CHECKS.iter().filter(|check| check.rule.severity != Severity::Note).collect();
    ask(&checks, trial).into_iter().for_each(|told| all.append(told));
    all.iter().map(wordless).collect()
}
