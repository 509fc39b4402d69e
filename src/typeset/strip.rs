//! An axis to scale: marks above it on flags, stretches below it in lanes, pairs as brackets at the bottom.
//!
//! Rule of thumb: words stand on white and beside lines, never under or across them; greys mean the same on every chart.

use super::flags::{self, WantedFlag};
use super::layout::Layout;
use super::lines::broken;
use super::pen::{Pen, RULE, Style, frame};
use super::setting::Setting;
use super::strip_lanes::{GUTTER, lanes};
use super::strip_sheet::{AIR, APART, Axis, DETAIL, ELBOW, GAP, MEANING, StripSheet, cut, rows};
use crate::compose::block::{Role, Strip, Text};
use crate::ground::{Length, Span};
use crate::sheet::{Area, Fill, HAIRLINE, Mark, Point, Size, down};

const TITLE: Style = Style::bold(220, Role::Title);
const SUBTITLE: Style = Style::regular(160, Role::Small);
const NAME: Style = Style::bold(170, Role::Name);
const SCALE: Style = Style::regular(160, Role::Small);

/// Height of the strip's bar, of a mark hanging in it from above, and of the long and short ticks standing in it: chosen by eye so that marks and ticks stay apart.
const BAR: Length = Length::hundredths_mm(650);
const MARK: Length = Length::hundredths_mm(340);
/// The least width of a mark: twice the thinnest line.
const LEAST_MARK: Length = Length::hundredths_mm(25);
const LONG_TICK: Length = Length::hundredths_mm(230);
const SHORT_TICK: Length = Length::hundredths_mm(120);
/// A row of flags: two lines of words.
const FLAG_ROW: Length = Length::hundredths_mm(720);

/// Size of the figures on a strip that is drawn `scale` as large as here.
pub(super) const fn figures((numerator, denominator): (i64, i64)) -> Length {
    DETAIL.size.fraction(numerator, denominator)
}

/// Sets a strip on a layout. `None` when it does not fit into `room`.
#[must_use]
pub(super) fn strip_setting(pen: &Pen, block: &Strip, layout: &Layout, room: Size) -> Option<Setting> {
    let (numerator, denominator) = layout.scale();
    let shrunk = |length: Length| length.fraction(denominator, numerator);
    let room = Size { width: shrunk(room.width), height: shrunk(room.height) };
    let setting = drawn(pen, layout.is_heavy, block, room)?;
    Some(if numerator == denominator { setting } else { setting.scaled(numerator, denominator) })
}

fn drawn(pen: &Pen, is_heavy: bool, block: &Strip, room: Size) -> Option<Setting> {
    let width = room.width;
    let lanes = lanes(block);
    let meaning = cut(MEANING, is_heavy);
    let names = lanes.iter().flat_map(|lane| broken(pen, &Text::own(&lane.name), meaning, GUTTER).unwrap_or_default());
    let gutter = names.map(|line| line.width + AIR).fold(Length::ZERO, Length::max);
    let axis = Axis { low: block.low, high: block.high, left: gutter, right: width };
    if axis.right <= axis.left || axis.high <= axis.low {
        return None;
    }
    let mut sheet = StripSheet { pen, is_heavy, axis, marks: Vec::new(), y: Length::ZERO, block: 0 };
    sheet.head(block, width)?;
    sheet.flags(block)?;
    sheet.bar(block);
    sheet.scale(block);
    for lane in &lanes {
        sheet.lane(lane)?;
    }
    sheet.brackets(&block.joins)?;
    (sheet.y <= room.height).then_some(Setting { marks: sheet.marks, height: sheet.y })
}

impl StripSheet<'_> {
    fn head(&mut self, block: &Strip, width: Length) -> Option<()> {
        let baseline = TITLE.capital();
        let left = self.width(&block.title, TITLE);
        let right = self.width(&block.subtitle, SUBTITLE);
        let title = self.line(&block.title, TITLE, Point { x: Length::ZERO, y: baseline });
        self.say(title);
        self.y = baseline + TITLE.tail();
        let is_beside = left + AIR + right <= width;
        if !is_beside {
            self.y += SUBTITLE.capital() + Length::mm(1);
        }
        let y = if is_beside { baseline } else { self.y };
        let x = if is_beside { width - right } else { Length::ZERO };
        let subtitle = self.line(&block.subtitle, SUBTITLE, Point { x, y });
        self.say(subtitle);
        self.y += AIR;
        (left.max(right) <= width).then_some(())
    }

    fn flags(&mut self, block: &Strip) -> Option<()> {
        // A mark without words is named elsewhere: by the bracket that ends at it.
        let mut marks: Vec<_> = block.marks.iter().filter(|mark| !mark.name.is_empty()).collect();
        marks.sort_by_key(|mark| (mark.at, mark.name.words()));
        let wanted = |name: &Text, detail: &Text| GAP + self.width(name, NAME).max(self.width(detail, DETAIL));
        let wanted: Vec<WantedFlag> = marks
            .iter()
            .map(|mark| WantedFlag { at: self.axis.at(mark.at), width: wanted(&mark.name, &mark.detail) })
            .collect();
        let flags = flags::place(&wanted, Length::ZERO, self.axis.right, APART)?;
        let Some(high) = flags.iter().map(|flag| rows(flag.row + 1)).max() else { return Some(()) };
        let elbow = self.y + FLAG_ROW * high;
        for ((mark, flag), want) in marks.iter().zip(&flags).zip(&wanted) {
            let top = elbow - FLAG_ROW * rows(flag.row + 1);
            let x = flag.riser + GAP;
            let name_at = Point { x, y: top + NAME.capital() };
            let detail_at = Point { x, y: name_at.y + Length::hundredths_mm(330) };
            let name = self.line(&mark.name, NAME, name_at);
            let detail = self.line(&mark.detail, DETAIL, detail_at);
            self.block += 1;
            self.say(name);
            self.say(detail);
            self.marks.push(down(flag.riser, top, elbow, HAIRLINE));
            self.lean(flag, elbow, want.at, elbow + ELBOW);
        }
        self.y = elbow + ELBOW;
        Some(())
    }

    fn bar(&mut self, block: &Strip) {
        let Axis { left, right, .. } = self.axis;
        let area = Area { left, top: self.y, right, bottom: self.y + BAR };
        for mark in &block.marks {
            let (from, to) = (self.axis.at(mark.from), self.axis.at(mark.to));
            // Too narrow to be seen in dim light is drawn wider, about its own middle.
            let wider = (LEAST_MARK - (to - from)).max(Length::ZERO) / 2;
            let (from, to) = ((from - wider).max(left), (to + wider).min(right));
            let area = Area { left: from, top: self.y, right: to, bottom: self.y + MARK };
            self.marks.push(Mark::Fill(Fill { area, black: 100 }));
        }
        for tick in block.ticks.iter().filter(|tick| (block.low..=block.high).contains(&tick.at)) {
            let height = if tick.label.is_some() { LONG_TICK } else { SHORT_TICK };
            self.marks.push(down(self.axis.at(tick.at), area.bottom - height, area.bottom, HAIRLINE));
        }
        self.marks.extend(frame(area, RULE));
        self.y = area.bottom;
    }

    /// Labels of the scale; those at the ends align inward. Where two would meet, the inner one is left to its tick.
    fn scale(&mut self, block: &Strip) {
        let mut labels: Vec<(i64, &str)> =
            block.ticks.iter().filter_map(|tick| Some((tick.at, tick.label.as_deref()?))).collect();
        // Ends first, so that they always stand.
        labels.sort_by_key(|(at, _)| (*at != block.low && *at != block.high, *at));
        let baseline = self.y + GAP + SCALE.capital();
        let mut taken: Vec<(Length, Length)> = Vec::new();
        let mut placed = Vec::new();
        for (at, label) in labels {
            let width = self.pen.width(label, cut(SCALE, self.is_heavy));
            let middle = self.axis.at(at) - width / 2;
            let x = middle.min(self.axis.right - width).max(self.axis.left);
            let is_free = taken.iter().all(|(from, to)| x > *to + GAP || x + width + GAP < *from);
            if is_free {
                taken.push((x, x + width));
                placed.push(self.pen.write(label, cut(SCALE, self.is_heavy), Span::NOWHERE, Point { x, y: baseline }));
            }
        }
        placed.sort_by_key(|glyphs| glyphs.at.x);
        let is_empty = placed.is_empty();
        self.block += 1;
        self.say(placed);
        self.y = if is_empty { self.y } else { baseline + SCALE.tail() };
        self.y += AIR;
    }
}
