//! Whether two stations can meet on the air at all, by how far each is heard.
//!
//! Only a range that somebody wrote keeps two apart: the radio horizon of an antenna's height says nothing of the hill under it.

use crate::ground::{Distance, Position};
use crate::plan::{Neighbour, Plan, Repeater};

/// Where something is heard; none: everywhere.
pub type Heard<'a> = Option<(&'a Position, Distance)>;

/// Where a repeater is heard.
#[must_use]
pub fn heard<'a>(plan: &'a Plan, repeater: &'a Repeater) -> Heard<'a> {
    let place = repeater.place.as_ref().and_then(|place| plan.places.get(place))?;
    Some((&place.position.as_ref()?.value, repeater.range?.value))
}

/// Where a neighbour is heard.
#[must_use]
pub fn neighbour_heard(neighbour: &Neighbour) -> Heard<'_> {
    Some((&neighbour.position.as_ref()?.value, neighbour.range?.value))
}

/// Whether the areas of two can overlap: unless both are known and lie apart.
#[must_use]
pub fn can_meet(one: Heard<'_>, other: Heard<'_>) -> bool {
    let (Some((here, near)), Some((there, far))) = (one, other) else { return true };
    here.distance_to(there).as_metres() <= near.as_metres() + far.as_metres()
}
