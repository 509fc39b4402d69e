//! Signs to put up: who is here, where messages go, that it is an exercise, what charges. A page each, words as large as there is room.

use crate::audience::View;
use crate::compose::block::{Arrow, Block, Notice, Section, Text};
use crate::compose::kind::{Compose, Kind};
use crate::compose::power_words::places;
use crate::ground::{Audience, Span};
use crate::plan::{Each, Place};
use crate::reckon::{is_unstaffed, known};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "signs",
    title: "Signs",
    about: "signs to put up, a page each in type of 24 points and more: operator on duty, messages here, the way with drawn arrows, battery charging; exercise in progress, where the plan has an exercise",
    layout: "full",
    each: &[Each::Once, Each::Place],
    widest: Audience::Public,
    sections: &["sign"],
    tables: &[],
    compose: Compose::View(compose),
};

/// In the place of a room that the plan does not know.
const ROOM: &str = "Room ______________";

fn compose(view: &View<'_>) -> Vec<Section> {
    let place = match view.holder() {
        Some(_) => places(view).first().copied(),
        None => None,
    };
    if place.is_some_and(is_unstaffed) {
        return vec![charging(place)];
    }
    let here: Vec<Text> = at(place).into_iter().chain([room(place)]).collect();
    let mut signs = vec![
        sign("On duty", "Radio operator on duty", here.clone(), None),
        sign(
            "Messages",
            "Messages here",
            vec![Text::own("Radio messages are taken and given out here."), room(place)],
            None,
        ),
    ];
    for arrow in [Arrow::Left, Arrow::Right, Arrow::Ahead] {
        let way = Text::own(format!("Radio room: {}", arrow.word()));
        signs.push(sign("The way", "Messages", vec![way, room(place)], Some(arrow)));
    }
    let plan = view.plan();
    // Beside papers for what is real it would be put up by mistake.
    if plan.exercise.is_some() || plan.incident.as_ref().is_some_and(|incident| incident.is_exercise) {
        let not = Text::own("This is no emergency. In a real one tell the radio operator at once.");
        let practice = Text::own("Everything you hear by radio here is practice. Take this down when it is over.");
        signs.push(sign("Exercise", "Exercise in progress", vec![not, practice], None));
    }
    signs.push(charging(place));
    signs
}

/// The usual cautions (common practice, no source).
fn charging(place: Option<&Place>) -> Section {
    let mind = Text::own("No flame, no smoking. Keep the air moving. Do not cover, move or unplug.");
    let ask = Text::own("Hot, swollen or smelling: keep away, tell the site's staff.");
    sign("Battery", "Battery charging", [mind, ask].into_iter().chain(at(place)).collect(), None)
}

fn sign(title: &str, words: &str, lines: Vec<Text>, arrow: Option<Arrow>) -> Section {
    let notice = Notice { words: Text::strong(words, Span::NOWHERE), lines, arrow };
    Section { key: "sign", title: Text::own(format!("Sign: {title}")), blocks: vec![Block::Notice(notice)] }
}

/// The place by its name on the door, and as called on the air, so that a caller finds the right station.
fn at(place: Option<&Place>) -> Vec<Text> {
    let Some(place) = place else { return vec![Text::own("Station ______________")] };
    let name = Text::plain(place.name.as_str(), place.name.span);
    let tactical = Text::plain(format!("On the air: {}", place.tactical.value), place.tactical.span);
    let is_other = place.name.as_str() != place.tactical.as_str();
    std::iter::once(name).chain(is_other.then_some(tactical)).collect()
}

fn room(place: Option<&Place>) -> Text {
    let known = place.and_then(|place| known(place.room.as_ref()));
    known.map_or_else(|| Text::own(ROOM), |room| Text::plain(room.as_str(), room.span))
}
