//! Lanes under a strip: stretches of its axis with a meaning.

use super::flags::{self, WantedFlag};
use super::lines::broken;
use super::strip_sheet::{AIR, APART, Axis, ELBOW, GAP, MEANING, StripSheet, cut, rows};
use crate::compose::block::{Shade, Strip, StripArea, Text};
use crate::ground::Length;
use crate::sheet::{Area, Fill, HAIRLINE, Mark, Point, across, down};

/// A row of meanings under a lane.
const MEANING_ROW: Length = Length::hundredths_mm(360);
/// The bar of a lane.
const LANE: Length = Length::hundredths_mm(260);
/// Lane names break into lines rather than take more than this from the axis.
pub(super) const GUTTER: Length = Length::mm(30);

/// Stretches that share a name, in order.
pub(super) struct Lane<'a> {
    pub name: String,
    stretches: Vec<&'a StripArea>,
}

/// The lanes of a strip, in order.
pub(super) fn lanes(block: &Strip) -> Vec<Lane<'_>> {
    let mut numbers: Vec<u8> = block.areas.iter().map(|area| area.lane).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let lane = |number| {
        let mut stretches: Vec<&StripArea> = block.areas.iter().filter(|area| area.lane == number).collect();
        stretches.sort_by_key(|area| (area.from, area.to));
        Lane { name: stretches.first().map(|area| area.lane_name.clone()).unwrap_or_default(), stretches }
    };
    numbers.into_iter().map(lane).collect()
}

impl StripSheet<'_> {
    /// A lane with its name and its meanings.
    pub(super) fn lane(&mut self, lane: &Lane<'_>) -> Option<()> {
        let Axis { left, right, .. } = self.axis;
        self.block += 1;
        let (top, bottom) = (self.y, self.y + LANE);
        for stretch in &lane.stretches {
            let area = Area { left: self.axis.at(stretch.from), top, right: self.axis.at(stretch.to), bottom };
            if let Some(black) = black(stretch.shade) {
                self.marks.push(Mark::Fill(Fill { area, black }));
            }
            self.marks.push(down(area.left, top, bottom, HAIRLINE));
            self.marks.push(down(area.right, top, bottom, HAIRLINE));
        }
        self.marks.push(across(left, right, top, HAIRLINE));
        self.marks.push(across(left, right, bottom, HAIRLINE));
        let names = self.lane_name(&lane.name)?;
        let meanings = self.meanings(lane, bottom)?;
        self.y = names.max(meanings) + AIR;
        Some(())
    }

    /// The name at the left, its first line level with the bar; gives where it ends, or none when a word is wider than the gutter.
    fn lane_name(&mut self, name: &str) -> Option<Length> {
        let mut baseline = self.y + (LANE + MEANING.capital()) / 2;
        let mut bottom = self.y;
        for line in broken(self.pen, &Text::own(name), cut(MEANING, self.is_heavy), GUTTER)? {
            let placed = line.place(self.pen, Point { x: Length::ZERO, y: baseline });
            self.say(placed);
            bottom = baseline + MEANING.tail();
            baseline += Length::hundredths_mm(320);
        }
        Some(bottom)
    }

    /// What each stretch means, hanging from its left edge; gives where the last row ends.
    fn meanings(&mut self, lane: &Lane<'_>, top: Length) -> Option<Length> {
        let said: Vec<&&StripArea> = lane.stretches.iter().filter(|stretch| !stretch.label.is_empty()).collect();
        let wanted: Vec<WantedFlag> = said
            .iter()
            .map(|s| WantedFlag { at: self.axis.at(s.from), width: GAP + self.width(&s.label, MEANING) })
            .collect();
        let flags = flags::place(&wanted, self.axis.left, self.axis.right, APART)?;
        // Straight down where nobody had to move; else a lean that keeps the order.
        let is_moved = flags.iter().zip(&wanted).any(|(flag, want)| flag.riser != want.at);
        let elbow = top + if is_moved { ELBOW } else { Length::ZERO };
        let mut bottom = top;
        for ((stretch, flag), want) in said.iter().zip(&flags).zip(&wanted) {
            let end = elbow + MEANING_ROW * rows(flag.row + 1);
            let baseline = end - MEANING.tail();
            let at = Point { x: flag.riser + GAP, y: baseline };
            let label = self.line(&stretch.label, MEANING, at);
            self.say(label);
            self.marks.push(down(flag.riser, elbow, baseline, HAIRLINE));
            if is_moved {
                self.lean(flag, elbow, want.at, top);
            }
            bottom = bottom.max(end);
        }
        Some(bottom)
    }
}

/// The greys of every chart, per cent of black: light enough for a copier to keep, far enough apart to tell.
const fn black(shade: Shade) -> Option<u8> {
    match shade {
        Shade::Open => None,
        Shade::Limited => Some(10),
        Shade::Closed => Some(25),
    }
}
