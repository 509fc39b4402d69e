//! Areas on the ground that a rule is bound to.

use crate::ground::{At, Border, Distance, Position};
use crate::source::{Partly, Reading, SettledBy, Tried, record};
use std::sync::Arc;

/// An area: all of what is written of it must hold.
#[derive(Clone, Debug)]
pub struct LawArea {
    /// As the rule names it.
    pub name: String,
    /// Around a point.
    pub circle: Option<(Position, Distance)>,
    /// South-west and north-east corner; the box does not reach over the 180th meridian.
    pub corners: Option<[Position; 2]>,
    /// ISO 3166-2 codes of states or provinces, as `US-MT`; empty for any.
    pub regions: Vec<String>,
    /// States or provinces that a circle or box lies in, by ISO 3166-2: it is in none other; empty where no row says it.
    pub lies_in: Vec<String>,
    /// North of a line.
    pub north_of: Option<NorthOf>,
    /// Whether it is drawn wider than the law draws it, so that inside it nothing is certain.
    pub is_rough: bool,
}

/// What lies north of a line.
#[derive(Clone, Debug)]
pub struct NorthOf {
    /// The line, as its points name it.
    pub name: At<String>,
    /// The line itself; none where no rows draw it, which is a finding.
    pub line: Option<Arc<Border>>,
    /// Nearer to the line than this, nothing is certain.
    pub margin: Distance,
    /// States or provinces that lie wholly south of it, by ISO 3166-2.
    pub clear_regions: Vec<String>,
}

record! {
    /// The keys of an area, which stand in the row that it bounds.
    pub struct WrittenArea = "row of a table" {
        /// As the rule names it.
        area: Option<Tried<String>>,
        /// The middle of a circle.
        around: Option<Position>,
        /// Its radius.
        radius: Option<Distance>,
        /// South-west and north-east corner of a box.
        corners: Vec<Position>,
        /// ISO 3166-2 codes of states or provinces.
        regions: Vec<String>,
        /// ISO 3166-2 codes of the states or provinces that a circle or box lies in.
        lies_in: Vec<String>,
        /// Whether it is drawn wider than the law draws it.
        is_rough as "rough": bool,
        /// A line, as its points name it.
        north_of: Option<At<String>>,
        /// Nearer to the line than this, nothing is certain.
        margin: Option<Tried<Distance>>,
        /// States or provinces that lie wholly south of it.
        clear_regions: Vec<String>,
    }
}

impl Partly for Option<LawArea> {
    type Written = WrittenArea;
}

/// None where the row names none: it binds everywhere.
impl SettledBy<()> for Option<LawArea> {
    fn settle(written: WrittenArea, (): (), of: &mut Reading<'_>) -> Option<Self> {
        let Some(name) = written.area.and_then(|cell| cell.value) else { return Some(None) };
        let north_of = written.north_of.and_then(|name| {
            let margin = of.must(written.margin, "margin")?.value;
            Some(NorthOf { name, line: None, margin, clear_regions: written.clear_regions })
        });
        Some(Some(LawArea {
            name,
            circle: Option::zip(written.around, written.radius),
            corners: <[Position; 2]>::try_from(written.corners).ok(),
            regions: written.regions,
            lies_in: written.lies_in,
            north_of,
            is_rough: written.is_rough,
        }))
    }
}

impl Partly for LawArea {
    type Written = WrittenArea;
}

impl SettledBy<()> for LawArea {
    fn settle(written: WrittenArea, (): (), of: &mut Reading<'_>) -> Option<Self> {
        if written.area.is_none() {
            of.missing("area");
        }
        Option::settle(written, (), of)?
    }
}
