//! The places of one plan lie in one part of the world.

use super::Facts;
use crate::ground::{At, Distance, Finding, Findings, Position, Rule};
use crate::plan::{Place, subject};

/// The places of one plan lie in one part of the world.
pub(super) const RULE: Rule =
    Rule::warning("position-far-away", "common practice, no source: the limit is this program's own", DOC);

const DOC: &str = r#"
Finds: a place whose position is more than 2000 km from that of every other place of the plan.
Costs: a sign that was left out puts a hospital on the other side of the earth: ranges, horizons and limits bound to an area are reckoned from there, and a map leads nobody to it.

Wrong:
```toml
[[place]]
id = "eoc"
code = "EOC"
tactical = "Operations"
kind = "operations-centre"
visited-on = 2026-10-01
position = "46.620, -112.040"

[[place]]
id = "north-high"
code = "NHS"
tactical = "North High"
kind = "shelter"
visited-on = 2026-10-01
position = "46.640, 112.100"    # position-far-away
```
Right: west of Greenwich a longitude has a minus: `position = "46.640, -112.100"`.
"#;

/// Farther apart than this no two places of one plan are meant to be.
const MOST: Distance = Distance::metres(2_000_000);

/// A place with its position.
type Located<'a> = (&'a Place, &'a At<Position>);

pub(super) fn check(facts: Facts<'_>, found: &mut Findings) {
    let all: Vec<Located<'_>> =
        facts.plan.places.iter().filter_map(|place| Some((place, place.position.as_ref()?))).collect();
    let mut lonely = lonely(&all);
    // Of two places alone each is far from the other: the later one in the plan is said.
    lonely.sort_by_key(|(_, position)| std::cmp::Reverse(position.span));
    lonely.truncate(if all.len() == 2 { 1 } else { all.len() });
    for away in lonely {
        let others = all.iter().filter(|other| other.0.id.value != away.0.id.value);
        let near = others.min_by_key(|other| away.1.value.distance_to(&other.1.value));
        found.extend(near.map(|near| finding(away, *near, &all)));
    }
}

/// The places that are far from every other one. Of places far from each other there are not many on earth, so that each is held
/// against few.
fn lonely<'a>(all: &[Located<'a>]) -> Vec<Located<'a>> {
    let is_near = |one: &Located<'_>, two: &Located<'_>| one.1.value.distance_to(&two.1.value) <= MOST;
    let mut apart: Vec<(Located<'a>, bool)> = Vec::new();
    for place in all {
        let mut is_alone = true;
        for (other, has_company) in &mut apart {
            if is_near(place, other) {
                (*has_company, is_alone) = (true, false);
            }
        }
        if is_alone {
            apart.push((*place, false));
        }
    }
    let alone = apart.into_iter().filter(|(_, has_company)| !has_company).map(|(place, _)| place);
    let is_other = |one: &Located<'_>, two: &Located<'_>| one.0.id.value != two.0.id.value;
    alone.filter(|place| all.iter().all(|other| !is_other(place, other) || !is_near(place, other))).collect()
}

fn finding(away: Located<'_>, near: Located<'_>, all: &[Located<'_>]) -> Finding {
    let (place, position) = away;
    let away_by = position.value.distance_to(&near.1.value);
    let what = format!(
        "{} at {} is {} km from {}, the nearest other place",
        place.tactical.value,
        position.value,
        away_by.as_metres() / 1000,
        near.0.tactical.value
    );
    let finding = Finding::new(&RULE, position.span, what)
        .label("far from all others")
        .and(near.1.span, "the nearest")
        .note(format!("the limit is {} km", MOST.as_metres() / 1000))
        .on(subject(place));
    match meant(away, all) {
        Some(meant) => finding.did_you_mean(meant),
        None => finding.help("write latitude, then longitude: south and west have a minus"),
    }
}

/// The position with another sign, or its two figures changed about, where that is near another place.
fn meant(away: Located<'_>, all: &[Located<'_>]) -> Option<String> {
    let written = away.1.value.to_string();
    let (latitude, longitude) = written.split_once(',').map(|(one, two)| (one.trim(), two.trim()))?;
    let turned = |degrees: &str| degrees.strip_prefix('-').map_or_else(|| format!("-{degrees}"), str::to_owned);
    let tried = [
        format!("{latitude}, {}", turned(longitude)),
        format!("{}, {longitude}", turned(latitude)),
        format!("{}, {}", turned(latitude), turned(longitude)),
        format!("{longitude}, {latitude}"),
    ];
    let is_near = |text: &String| {
        let Ok(position) = Position::parse(text) else { return false };
        let mut others = all.iter().filter(|other| other.0.id.value != away.0.id.value);
        others.any(|other| position.distance_to(&other.1.value) <= MOST)
    };
    tried.into_iter().find(is_near)
}
