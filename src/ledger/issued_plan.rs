//! The plan of an edition as it was issued, for what is told of the changes since.

use super::editions::{IssuedEdition, as_written};
use super::issued_world::{IssuedWorld, changed_beside};
use super::rules::ISSUED_PLAN_CHANGED;
use super::sha256;
use crate::ground::{Finding, Findings, ReadFault, World, caps};
use crate::plan::{self, PlainRecords, Plan, ToldPlan, plain_records};
use crate::source;

/// A plan as it was issued. It is read and not judged: what held then need not hold by the rules of today.
pub struct IssuedPlan {
    /// What was entered of it.
    pub edition: IssuedEdition,
    /// The plan as meant.
    pub plan: Plan,
    /// Its records as they were told.
    pub told: ToldPlan,
    /// The same by kind and id.
    pub records: PlainRecords,
}

impl IssuedPlan {
    /// Reads the plan of an edition. None where it is not at hand, since only the coordinator keeps it, and none, with a finding, where
    /// it is another than was entered.
    pub fn read(world: &dyn World, edition: &IssuedEdition, found: &mut Findings) -> Option<Self> {
        let name = IssuedWorld::root(edition.number.value.get());
        let mut changed = |what: String| {
            let finding = Finding::new(&ISSUED_PLAN_CHANGED, edition.plan.span, what).label("what was issued");
            found.push(finding.help(format!("put {name} back as it was, from the coordinator's copies")));
        };
        let text = match world.read(&name, caps::PLAN_FILE.most).map(String::from_utf8) {
            Ok(Ok(text)) => as_written(text),
            Err(ReadFault::Missing) => return None,
            Ok(Err(_)) => {
                changed(format!("{name} is not text"));
                return None;
            }
            Err(fault) => {
                changed(format!("{name} cannot be read: {fault}"));
                return None;
            }
        };
        if sha256(text.as_bytes()) != edition.plan.value {
            changed(format!("{name} is not the plan that was issued as edition {}", edition.number.value));
            return None;
        }
        if let Some(file) = changed_beside(world, edition.number.value.get(), &text) {
            changed(format!("{file} is not the file that was issued with edition {}", edition.number.value));
            return None;
        }
        let mut unheard = Findings::default();
        let world = &IssuedWorld::new(world, edition.number.value.get());
        let mut records = source::read(world, &name, &mut unheard).ok()?;
        let told = |list: &[_]| (ToldPlan::of(list), plain_records(list));
        let (plan, (told, records)) = plan::build_told(world, &mut records, &mut unheard, told);
        Some(Self { edition: edition.clone(), plan, told, records })
    }
}
