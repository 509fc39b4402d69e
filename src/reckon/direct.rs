//! A repeater's own direct fallback: a channel on its output, for when it is silent.

use crate::ground::Frequency;
use crate::plan::{Channel, Plan, Repeater, Route};
use std::collections::BTreeMap;

/// Which channels stand in for a repeater.
pub struct Fallbacks<'a> {
    plan: &'a Plan,
    /// The channels through each repeater, by its output.
    through: BTreeMap<Frequency, Vec<(&'a Channel, &'a Repeater)>>,
}

impl<'a> Fallbacks<'a> {
    /// Those of a plan.
    #[must_use]
    pub fn of(plan: &'a Plan) -> Self {
        let mut through: BTreeMap<Frequency, Vec<(&Channel, &Repeater)>> = BTreeMap::new();
        for channel in plan.channels.iter() {
            let Some(repeater) = channel.repeater().and_then(|id| plan.repeaters.get(id)) else { continue };
            through.entry(repeater.output.value).or_default().push((channel, repeater));
        }
        Self { plan, through }
    }

    /// The repeater that a channel stands in for: it says that it is direct there, or it is worked directly on that one's output, and
    /// the `next` of a channel through the repeater leads to it, or its own there. The two are never worked at once. A net that has both
    /// says no such thing: there a mistyped frequency would be taken for a fallback.
    #[must_use]
    pub fn stands_in_for(&self, direct: &Channel) -> Option<&'a Repeater> {
        if let Some(repeater) = direct.direct() {
            return self.plan.repeaters.get(repeater);
        }
        let through = self.through.get(&direct.hear.value).filter(|_| direct.route == Route::Simplex)?;
        let leads = |from: &Channel, to: &Channel| from.next.as_ref().is_some_and(|next| next.value == to.id.value);
        through
            .iter()
            .find(|(channel, _)| leads(channel, direct) || leads(direct, channel))
            .map(|(_, repeater)| *repeater)
    }
}
