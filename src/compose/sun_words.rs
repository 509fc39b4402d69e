//! When it is light, in words: for duties that are walked to, and for panels.

use super::block::Text;
use crate::audience::View;
use crate::ground::Span;
use crate::plan::{Clock, Instant, Period, Place};
use crate::reckon::Sun;

/// More days than these are looked up by nobody on one sheet.
const MOST_DAYS: usize = 8;

/// The sun over the first post that has a position, a line for each day of a period.
pub(super) fn sun_of_posts(view: &View<'_>, period: Period) -> Vec<Text> {
    let plan = view.plan();
    let place_of = |post: &crate::plan::Post| plan.places.get(&post.place.as_ref()?.value);
    let place = plan.posts.iter().filter_map(place_of).find(|place| place.position.is_some());
    place.map_or_else(Vec::new, |place| sun_at(view, place, period))
}

/// The sun over a place, a line for each day of a period.
pub(super) fn sun_at(view: &View<'_>, place: &Place, period: Period) -> Vec<Text> {
    let clock = Clock::of(view.plan());
    let (mut day, last) = (clock.day(period.from), clock.last_day(period));
    let mut lines = Vec::new();
    while day <= last && lines.len() < MOST_DAYS {
        let Some(of_day) = place.position.as_ref().and_then(|at| view.sun(day, &at.value)) else { break };
        let text = Text::strong(format!("Sun at {}, {day}: ", place.tactical.value), place.tactical.span);
        lines.push(text.then(format!("{}.", said(clock, of_day))));
        let Some(next) = day.as_date().succ_opt() else { break };
        day = crate::ground::Day::from_date(next);
    }
    if let Some(first) = lines.first_mut() {
        first.runs.extend(Text::plain(" By a flat horizon; hills hide it longer.", Span::NOWHERE).runs);
    }
    lines
}

/// `light from 07:31, up 08:03 to 16:50, dark from 17:22`; what does not come on that day is said.
fn said(clock: Clock, of_day: Sun) -> String {
    let time = |at: Option<Instant>| at.map(|at| clock.time(at));
    match of_day.is_up {
        Some(true) => return "it does not set".to_owned(),
        Some(false) => {
            return match (time(of_day.dawn), time(of_day.dusk)) {
                (Some(dawn), Some(dusk)) => format!("it does not rise; light from {dawn} to {dusk}"),
                _ => "it does not rise, and no twilight helps".to_owned(),
            };
        }
        None => {}
    }
    let from = |word: &str, at: Option<Instant>| {
        time(at).map_or_else(|| format!("not {word}"), |at| format!("{word} from {at}"))
    };
    let up = match (time(of_day.rise), time(of_day.set)) {
        (Some(rise), Some(set)) => format!("up {rise} to {set}"),
        (Some(rise), None) => format!("up from {rise} on"),
        (None, Some(set)) => format!("up until {set}"),
        (None, None) => "up at no time known".to_owned(),
    };
    format!("{}, {up}, {}", from("light", of_day.dawn), from("dark", of_day.dusk))
}
