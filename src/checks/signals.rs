//! Every signal of the plan, and the errors about those of which nothing can be reckoned: they come before all rules.

use super::{emission_unreadable, signal_leaves_radio};
use crate::ground::{Findings, Rule, Stretch};
use crate::plan::{Channel, Plan};
use crate::reckon::{Transmission, Unreckoned, own_transmissions};
use crate::tables::{Profile, Tables};

/// The rules that are broken by a signal of which nothing can be reckoned.
pub(super) const RULES: &[&Rule] = &[&emission_unreadable::RULE, &signal_leaves_radio::RULE];

/// That nothing can be reckoned of a signal, and that an error says so: only `report` makes one, and it reports them all.
#[derive(Clone, Copy, Debug)]
pub struct Reported(());

/// Reports every signal of the plan of which nothing can be reckoned: sent or heard, of any service, neighbours' too.
pub(super) fn report(plan: &Plan, profile: &Profile, tables: &Tables, found: &mut Findings) -> Reported {
    for sent in own_transmissions(plan) {
        let reckoned = sent.reaches(profile, &tables.modes);
        found_of(profile, &sent, reckoned, found);
    }
    let neighbours = plan.neighbours.iter().flat_map(|neighbour| Transmission::of_neighbour(plan, neighbour));
    for heard in heard_alone(plan).chain(neighbours) {
        let reckoned = heard.occupies(profile, &tables.modes);
        found_of(profile, &heard, reckoned, found);
    }
    Reported(())
}

fn found_of(profile: &Profile, sent: &Transmission<'_>, reckoned: Result<Stretch, Unreckoned>, found: &mut Findings) {
    let finding = match reckoned {
        Ok(_) => return,
        Err(Unreckoned::Unreadable(refusal)) => emission_unreadable::finding(sent, refusal),
        Err(Unreckoned::LeavesRadio { low, high }) => signal_leaves_radio::finding(profile, sent, low, high),
    };
    found.push(finding.on_all(sent.from.subject()));
}

/// What channels hear beside what they send. What one hears through a repeater or gateway is sent by it.
fn heard_alone(plan: &Plan) -> impl Iterator<Item = Transmission<'_>> {
    let is_more = |channel: &&Channel| channel.send.is_none_or(|send| send.value != channel.hear.value);
    let own = plan.channels.iter().filter(|channel| channel.has_own_frequencies());
    own.filter(is_more).map(|channel| Transmission::heard_on(plan, channel))
}
