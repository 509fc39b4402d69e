//! Whether a station stands in an area that a rule is bound to.

use crate::ground::{Distance, Id, Position};
use crate::plan::{Channel, Place, PlaceKind, Plan, Post};
use crate::tables::{LawArea, NorthOf};
use std::collections::BTreeSet;

/// Where a station may stand.
#[derive(Clone, Copy, Debug)]
pub struct Spot<'a> {
    /// The point, where the plan says it.
    pub position: Option<&'a Position>,
    /// The state or province by ISO 3166-2, where the plan says it.
    pub region: Option<&'a str>,
    /// The place, for messages.
    pub name: Option<&'a str>,
}

/// Whether a spot lies in an area.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Within {
    /// It does not.
    No,
    /// The plan does not say enough.
    Unknown,
    /// It stands so near to the area's edge that the rule itself is read in two ways.
    Near,
    /// It does.
    Yes,
}

/// Whether `spot` lies in `area`: all of what the area says must hold, its edges included. Of a rough area nothing inside is certain.
#[must_use]
pub fn within(area: &LawArea, spot: &Spot<'_>) -> Within {
    let region = match spot.region {
        _ if area.regions.is_empty() => Within::Yes,
        Some(region) if area.regions.iter().any(|known| known == region) => Within::Yes,
        Some(_) => Within::No,
        None => Within::Unknown,
    };
    let asks_position = area.circle.is_some() || area.corners.is_some();
    let position = match spot.position {
        _ if !asks_position => Within::Yes,
        None if is_elsewhere(&area.lies_in, spot.region) => Within::No,
        None => Within::Unknown,
        Some(at) => {
            let is_near = area.circle.as_ref().is_none_or(|(centre, radius)| at.distance_to(centre) <= *radius);
            let is_boxed = area.corners.as_ref().is_none_or(|[low, high]| {
                (low.latitude()..=high.latitude()).contains(&at.latitude())
                    && (low.longitude()..=high.longitude()).contains(&at.longitude())
            });
            if is_near && is_boxed { Within::Yes } else { Within::No }
        }
    };
    let beyond = match (&area.north_of, spot.position) {
        (None, _) => Within::Yes,
        (Some(north_of), Some(at)) => side(north_of, at),
        (Some(north_of), None) => match spot.region {
            Some(region) if north_of.clear_regions.iter().any(|clear| clear == region) => Within::No,
            _ => Within::Unknown,
        },
    };
    let most = if area.is_rough { Within::Unknown } else { Within::Yes };
    region.min(position).min(beyond).min(most)
}

/// Whether a known region is none of those that an area lies in.
fn is_elsewhere(lies_in: &[String], region: Option<&str>) -> bool {
    !lies_in.is_empty() && region.is_some_and(|region| lies_in.iter().all(|known| known != region))
}

/// On which side of a line a position lies.
fn side(north_of: &NorthOf, at: &Position) -> Within {
    let Some(line) = &north_of.line else { return Within::Unknown };
    match line.is_north(at) {
        _ if line.distance_to(at) <= north_of.margin => Within::Near,
        Some(true) => Within::Yes,
        Some(false) => Within::No,
        None => Within::Unknown,
    }
}

/// How far a spot lies from the line that bounds an area, where both are known.
#[must_use]
pub fn from_line(area: &LawArea, spot: &Spot<'_>) -> Option<Distance> {
    Some(area.north_of.as_ref()?.line.as_ref()?.distance_to(spot.position?))
}

/// The spot of a place; the plan's own region where there is no place or it names none.
#[must_use]
pub fn spot<'a>(plan: &'a Plan, place: Option<&Id>) -> Spot<'a> {
    of_place(plan, place.and_then(|id| plan.places.named(id)))
}

fn of_place<'a>(plan: &'a Plan, place: Option<&'a Place>) -> Spot<'a> {
    let own = plan.head.as_ref().and_then(|head| head.region.as_ref());
    Spot {
        position: place.and_then(|place| place.position.as_ref()).map(|position| &position.value),
        region: place.and_then(|place| place.region.as_ref()).or(own).map(|region| region.as_str()),
        name: place.map(|place| place.tactical.as_str()),
    }
}

/// Where something may send on a channel: every place that monitors it or has a post that works a net of it, and every place of a
/// link to it. Where nobody is said to work it, every place of the plan but repeater sites counts, and the plan's own region where
/// it has no such place.
#[must_use]
pub fn spots<'a>(plan: &'a Plan, channel: &Channel) -> Vec<Spot<'a>> {
    let worked = worked_from(plan, channel);
    let joining = plan.links.iter().filter(|link| link.joins.iter().any(|id| id.value == channel.id.value));
    let linked: BTreeSet<&Id> = joining.filter_map(|link| Some(&*link.place.as_ref()?.value)).collect();
    let has_people = |place: &Place| match worked.is_empty() {
        true => place.kind.value != PlaceKind::RepeaterSite,
        false => worked.contains(&place.id.value),
    };
    let places = plan.places.iter().filter(|place| has_people(place) || linked.contains(&place.id.value));
    let spots: Vec<Spot<'a>> = places.map(|place| of_place(plan, Some(place))).collect();
    if spots.is_empty() { vec![of_place(plan, None)] } else { spots }
}

/// The places that monitor a channel, and those of the posts that work or control a net of it.
fn worked_from<'a>(plan: &'a Plan, channel: &Channel) -> BTreeSet<&'a Id> {
    let own = &channel.id.value;
    let of_channel = plan.nets.iter().filter(|net| net.legs.iter().any(|leg| leg.channel.value == *own));
    let (nets, controls): (BTreeSet<&Id>, Vec<Option<&Id>>) =
        of_channel.map(|net| (&net.id.value, net.control.as_ref().map(|post| &*post.value))).unzip();
    let controls: BTreeSet<&Id> = controls.into_iter().flatten().collect();
    let works =
        |post: &&Post| controls.contains(&post.id.value) || post.nets.iter().any(|net| nets.contains(&*net.value));
    let posts = plan.posts.iter().filter(works).filter_map(|post| Some(&*post.place.as_ref()?.value));
    let monitors = plan.places.iter().filter(|place| place.monitors.iter().any(|id| id.value == *own));
    monitors.map(|place| &place.id.value).chain(posts).collect()
}
