//! Pools of frequencies.

use crate::ground::{At, Finding, Frequency, Id, Stretch, Width};
use crate::source::{BAD_VALUE, Meant, Reading, Tried, record};

record! {
    /// `[[pool]]`: frequencies to choose from.
    pub struct WrittenPool = "pool" {
        /// Unique among pools, as `simplex`.
        id: At<Id>,
        /// Frequencies one by one, as `146.430 MHz`; those of the stretch alone when left out.
        frequencies: Vec<At<Frequency>>,
        /// A stretch, cut into steps, as `147.420 MHz to 147.480 MHz`; the frequencies alone when left out.
        stretch: Option<At<Stretch>>,
        /// From one frequency of the stretch to the next, from its lower end on; must stand beside a stretch, and is
        /// none when left out.
        step: Option<Tried<Width>>,
    }
}

/// Frequencies to choose from.
#[derive(Clone, Debug)]
pub struct Pool {
    /// Its id.
    pub id: At<Id>,
    /// The frequencies, each once, lowest first.
    pub frequencies: Vec<Frequency>,
}

/// Most frequencies of one stretch: more is a step with a wrong unit.
const MOST: u64 = 2000;

impl Meant for Pool {
    type Written = WrittenPool;

    fn mean(written: WrittenPool, of: &mut Reading<'_>) -> Option<Self> {
        let mut frequencies: Vec<Frequency> = written.frequencies.iter().map(|at| at.value).collect();
        match written.stretch {
            Some(stretch) => frequencies.extend(steps(&stretch, written.step, of)?),
            None if frequencies.is_empty() => of.missing("frequencies"),
            None => {}
        }
        frequencies.sort_unstable();
        frequencies.dedup();
        Some(Self { id: written.id, frequencies })
    }
}

fn steps(
    stretch: &At<Stretch>,
    step: Option<Tried<Width>>,
    of: &mut Reading<'_>,
) -> Option<impl Iterator<Item = Frequency> + use<>> {
    if step.is_none() {
        of.missing("step");
    }
    let step = step?.at()?;
    let (low, high) = (stretch.value.low().as_hertz(), stretch.value.high().as_hertz());
    let hertz = step.value.as_hertz().max(1);
    let count = (high - low) / hertz + 1;
    if count > MOST {
        let what = format!("a stretch of {count} steps; {MOST} are the most that a pool may have");
        let finding = Finding::new(&BAD_VALUE, step.span, what).label("too small for this stretch");
        of.found.push(finding.and(stretch.span, "this stretch").help("shorten the stretch, or write a longer step"));
        return None;
    }
    Some((low..=high).step_by(usize::try_from(hertz).unwrap_or(usize::MAX)).filter_map(Frequency::hertz))
}
