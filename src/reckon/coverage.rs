//! Whether two stations can meet on the air at all, by how far each is heard.
//!
//! Only a range that somebody wrote keeps two apart: the radio horizon of an antenna's height says nothing of the hill under it.

use crate::ground::{Distance, Id, Position};
use crate::plan::{Channel, Neighbour, Place, Plan, Repeater};
use std::collections::{BTreeMap, BTreeSet};

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

/// All spots around which a channel is heard, for many comparisons. None: everywhere.
pub type Spots<'a> = Option<Vec<(&'a Position, Distance)>>;

/// Where every channel of a plan is heard: what monitors which is found once.
pub struct Coverage<'a> {
    plan: &'a Plan,
    /// The places that monitor a channel, by channel.
    monitored: BTreeMap<&'a Id, Vec<&'a Place>>,
}

impl<'a> Coverage<'a> {
    /// Of a plan.
    #[must_use]
    pub fn of(plan: &'a Plan) -> Self {
        let mut monitored: BTreeMap<&Id, Vec<&Place>> = BTreeMap::new();
        for place in plan.places.iter() {
            let ids: BTreeSet<&Id> = place.monitors.iter().map(|id| &*id.value).collect();
            ids.into_iter().for_each(|id| monitored.entry(id).or_default().push(place));
        }
        Self { plan, monitored }
    }

    /// Where a channel is heard: around its repeater, or around the places that monitor it.
    #[must_use]
    pub fn spots_of(&self, channel: &Channel) -> Spots<'a> {
        match channel.repeater() {
            Some(id) => Some(vec![heard(self.plan, self.plan.repeaters.get(id)?)?]),
            None => self.around(channel),
        }
    }

    /// Where the stations of a channel without repeater are heard: around each place that monitors it. None: everywhere.
    fn around(&self, channel: &Channel) -> Spots<'a> {
        let range = channel.range?.value;
        let worked = self.monitored.get(&channel.id.value).into_iter().flatten();
        let spots: Option<Vec<_>> =
            worked.map(|place| place.position.as_ref().map(|position| (&position.value, range))).collect();
        spots.filter(|spots| !spots.is_empty())
    }
}

/// Whether two channels can meet: unless all spots of both are known and lie apart.
#[must_use]
pub fn spots_can_meet(one: &Spots<'_>, other: &Spots<'_>) -> bool {
    let (Some(here), Some(there)) = (one, other) else { return true };
    here.iter().any(|one| there.iter().any(|other| can_meet(Some(*one), Some(*other))))
}

/// Goes through each two of many, none of them heard everywhere, that may meet, some of them twice: sought from south to north, so
/// that what lies far apart is never compared.
pub fn each_near(all: &[Spots<'_>], mut visit: impl FnMut(usize, usize)) {
    let of_one = |(index, spots): (usize, &Spots<'_>)| {
        let spots = spots.iter().flatten().map(move |(at, range)| (at.latitude(), *range, index));
        spots.collect::<Vec<_>>()
    };
    let mut sorted: Vec<(i32, Distance, usize)> = all.iter().enumerate().flat_map(of_one).collect();
    sorted.sort_unstable();
    let widest = sorted.iter().map(|(_, range, _)| range.as_metres()).max().unwrap_or(0);
    for (at, (south, range, one)) in sorted.iter().enumerate() {
        let reach = range.as_metres().saturating_add(widest).saturating_mul(Position::PER_DEGREE) / DEGREE + 1;
        let rest = sorted.iter().skip(at + 1);
        let near = rest.take_while(|(north, ..)| i64::from(*north) - i64::from(*south) <= reach);
        near.filter(|(.., other)| other != one).for_each(|(.., other)| visit(*one, *other));
    }
}

/// Meters in a degree of latitude, rounded down well below what any reckoning of the earth has.
const DEGREE: i64 = 110_000;

/// Whether the areas of two can overlap: unless both are known and lie apart.
#[must_use]
pub fn can_meet(one: Heard<'_>, other: Heard<'_>) -> bool {
    let (Some((here, near)), Some((there, far))) = (one, other) else { return true };
    here.distance_to(there).as_metres() <= near.as_metres() + far.as_metres()
}
