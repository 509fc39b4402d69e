//! Who stands duty at the same time, stretch after stretch.

use super::{Stand, turns};
use crate::plan::{Instant, Period, Plan};

/// A stretch of time in which the same people stand, and nobody's authority to send begins or ends.
pub struct Watch<'b, 'a> {
    /// From when to when.
    pub period: Period,
    /// Who stands.
    pub standing: &'b [Stand<'a>],
    /// How often authority has changed since the first one: what is the same in two of one era holds in both.
    pub era: usize,
}

/// Goes through the stretches of time in which the same of `stands`, in order of time, stand with the same authority. Stops where
/// `visit` says false.
pub fn each_stretch<'a>(plan: &Plan, stands: &[Stand<'a>], mut visit: impl FnMut(Watch<'_, 'a>) -> bool) {
    let turns = turns(plan, stands);
    let mut edges: Vec<Instant> = stands.iter().flat_map(|stand| [stand.period.from, stand.period.to]).collect();
    edges.extend(turns.iter().copied());
    edges.sort_unstable();
    edges.dedup();
    let mut coming = stands.iter().peekable();
    let mut standing: Vec<Stand<'a>> = Vec::new();
    let mut era = 0;
    for pair in edges.windows(2) {
        let [from, to] = *pair else { continue };
        era += usize::from(turns.contains(&from));
        standing.retain(|stand| stand.period.to > from);
        while let Some(stand) = coming.next_if(|stand| stand.period.from <= from) {
            standing.push(*stand);
        }
        let watch = Watch { period: Period { from, to }, standing: &standing, era };
        if !standing.is_empty() && !visit(watch) {
            return;
        }
    }
}
