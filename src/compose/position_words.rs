//! Where a place is, in the one way in which the plan says positions on cards and lists, and in all others.

use super::block::Text;
use crate::ground::{At, Position};
use crate::plan::{Plan, PositionFormat};

/// In the order in which they are told.
const ALL: [PositionFormat; 4] =
    [PositionFormat::Decimal, PositionFormat::DegreesMinutes, PositionFormat::Usng, PositionFormat::Maidenhead];

/// The plan's own format: decimal degrees where it does not say.
fn own(plan: &Plan) -> PositionFormat {
    let written = plan.head.as_ref().and_then(|head| head.positions);
    written.map_or(PositionFormat::Decimal, |format| format.value)
}

/// A position in the plan's own format; in degrees where that has no words for it, as a grid near a pole.
pub(super) fn position(plan: &Plan, at: &At<Position>) -> Text {
    let own = said(&at.value, own(plan)).unwrap_or_else(|| at.value.to_degrees_words());
    Text::plain(format!("{own}{}", roughly(&at.value)), at.span)
}

/// A position in the plan's own format, then in all others, with what the digits of a grid reference mean.
pub(super) fn position_formats(plan: &Plan, at: &At<Position>) -> Text {
    let own = own(plan);
    let is_other = |format: &PositionFormat| match own {
        PositionFormat::Mgrs => *format != PositionFormat::Usng,
        own => *format != own,
    };
    let all = [own].into_iter().chain(ALL.into_iter().filter(is_other));
    let told = |format| {
        let words = said(&at.value, format)?;
        Some(match format {
            PositionFormat::Usng | PositionFormat::Mgrs => format!("{words} (8 digits: 10 m; right, then up)"),
            _ => words,
        })
    };
    let words: Vec<String> = all.filter_map(told).collect();
    Text::plain(format!("{}{}", words.join("; "), roughly(&at.value)), at.span)
}

/// None where a format has no words for it.
fn said(at: &Position, format: PositionFormat) -> Option<String> {
    Some(match format {
        PositionFormat::Decimal => at.to_degrees_words(),
        PositionFormat::DegreesMinutes => at.to_minutes_words(),
        PositionFormat::Usng => format!("USNG {}", at.to_mgrs(8)?),
        PositionFormat::Mgrs => format!("MGRS {}", at.to_mgrs(8)?),
        PositionFormat::Maidenhead => format!("locator {}", at.to_maidenhead(6)?),
    })
}

/// Of what was written as a square only its center is known: `, center of DN47gd`.
fn roughly(at: &Position) -> String {
    let written = at.to_string();
    if written.contains(',') { String::new() } else { format!(", center of {written}") }
}
