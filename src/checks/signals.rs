//! Every signal of the plan, and the errors about those of which nothing can be reckoned: they come before all rules.

use super::amateur::every_sender;
use super::{emission_unreadable, signal_leaves_radio};
use crate::ground::{At, Finding, Findings, Frequency, Rule, Stretch, Subject};
use crate::plan::{Neighbour, Plan, Route, Side, Signal, subject};
use crate::reckon::{Unreckoned, occupied_by};
use crate::tables::{Modes, Profile, Tables};

/// The rules that are broken by a signal of which nothing can be reckoned.
pub(super) const RULES: &[&Rule] = &[&emission_unreadable::RULE, &signal_leaves_radio::RULE];

/// That nothing can be reckoned of a signal, and that an error says so: only `report` makes one, and it reports them all.
#[derive(Clone, Copy, Debug)]
pub struct Reported(());

/// A signal where it is sent or heard.
pub(super) struct End<'a> {
    /// What it is in a sentence: `channel CMD 1`.
    pub words: String,
    /// As dialled.
    pub at: At<Frequency>,
    /// How it is made.
    pub signal: &'a Signal,
    /// Where the frequency was decided, when that is another record.
    pub decided_by: Option<At<Frequency>>,
    /// The record; none for a neighbour's.
    pub on: Option<Subject>,
}

/// Reports every signal of the plan of which nothing can be reckoned: sent or heard, of any service, neighbours' too.
pub(super) fn report(plan: &Plan, profile: &Profile, tables: &Tables, found: &mut Findings) -> Reported {
    for sender in every_sender(plan) {
        let reckoned = sender.reckoned(profile, &tables.modes);
        let (at, signal, decided_by) = (sender.frequency, sender.signal, sender.decided_by);
        let end = End { words: sender.words, at, signal, decided_by, on: Some(sender.subject) };
        found_of(profile, &end, reckoned, found);
    }
    for (end, side) in heard_alone(plan).chain(plan.neighbours.iter().flat_map(of_neighbour)) {
        let reckoned = occupied(profile, &tables.modes, &end, side);
        found_of(profile, &end, reckoned, found);
    }
    Reported(())
}

fn occupied(profile: &Profile, modes: &Modes, end: &End<'_>, side: Option<Side>) -> Result<Stretch, Unreckoned> {
    occupied_by(profile, modes, end.at.value, end.signal, side)
}

fn found_of(profile: &Profile, end: &End<'_>, reckoned: Result<Stretch, Unreckoned>, found: &mut Findings) {
    let finding: Finding = match reckoned {
        Ok(_) => return,
        Err(Unreckoned::Unreadable(refusal)) => emission_unreadable::finding(end, refusal),
        Err(Unreckoned::LeavesRadio { low, high }) => signal_leaves_radio::finding(profile, end, low, high),
    };
    found.push(match &end.on {
        Some(on) => finding.on(on.clone()),
        None => finding,
    });
}

/// What channels hear beside what they send. What one hears through a repeater or gateway is sent by it.
fn heard_alone(plan: &Plan) -> impl Iterator<Item = (End<'_>, Option<Side>)> {
    let is_own = |channel: &&crate::plan::Channel| !matches!(channel.route, Route::Repeater(_) | Route::Gateway(_));
    let is_more = |channel: &&crate::plan::Channel| channel.send.is_none_or(|send| send.value != channel.hear.value);
    plan.channels.iter().filter(is_own).filter(is_more).map(|channel| {
        let words = format!("channel {}", channel.name.value);
        let (at, signal, on) = (channel.hear, &channel.signal, Some(subject(channel)));
        (End { words, at, signal, decided_by: None, on }, channel.side())
    })
}

fn of_neighbour(neighbour: &Neighbour) -> impl Iterator<Item = (End<'_>, Option<Side>)> {
    let ends = [("output", Some(neighbour.output)), ("input", neighbour.input.map(|input| *input))];
    ends.into_iter().filter_map(move |(which, at)| {
        let words = format!("the {which} of the neighbour {}", neighbour.name.value);
        Some((End { words, at: at?, signal: &neighbour.signal, decided_by: None, on: None }, None))
    })
}
