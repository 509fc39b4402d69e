//! What can hurt at a place: said on its sheet, behind the word of the site's own staff.

use super::block::{Section, Text};
use super::power_words::{body, small, warning};
use crate::ground::Span;
use crate::plan::Place;

/// Beside every place where the team puts up antennas (common practice, no source).
const ANTENNAS: &str = "Antennas: none where it could fall on a power line or a power line on it; nobody touches one that does. Roofs and masts are for \
     those who are trained and allowed to. In lightning away from antennas and cables.";

/// Where patients are (common practice, no source).
const PATIENTS: &str = "Medical equipment: send only where the site agreed, with no more power than it agreed to, never in a room with patients. If any \
     equipment behaves oddly, stop sending and tell the staff. Clinical engineering decides, not this sheet.";

/// Beside every place where the team brings its own power (common practice, no source).
const POWER: &str = "Batteries: a fuse at the battery, rings and tools off the poles, never two kinds together; lead-acid where air moves, lithium iron \
     phosphate never charged below 0 °C. Generators outside, away from doors and windows. Mains wiring is for licensed electricians.";

/// The section.
pub(super) fn cautions(place: &Place, title: Text) -> Section {
    let mut blocks = Vec::new();
    if place.kind.value.is_medical() {
        blocks.push(warning(PATIENTS));
    }
    blocks.push(small(ANTENNAS));
    blocks.push(small(POWER));
    let first = Text::strong("The site's own staff, local codes and licensed practice come first.", Span::NOWHERE);
    blocks.push(body(first.then(" Common practice.")));
    Section { key: "cautions", title, blocks }
}
