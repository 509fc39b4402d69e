//! An axis to scale: marks above it on flags, stretches below it in lanes, pairs as brackets at the bottom.
//!
//! Rule of thumb: words stand on white and beside lines, never under or across them; greys mean the same on every chart.

use super::flags::{self, Flag, WantedFlag};
use super::layout::Layout;
use super::lines::broken;
use super::pen::{Pen, RULE, Style, frame};
use super::setting::Setting;
use crate::compose::block::{Join, Role, Shade, Strip, StripArea, StripMark, Text};
use crate::ground::{Length, Span};
use crate::sheet::{Area, Fill, Glyphs, HAIRLINE, Line, Mark, Outline, Point, ReadPlace, Size, across, down};

const TITLE: Style = Style::bold(220, Role::Title);
const SUBTITLE: Style = Style::regular(160, Role::Small);
const NAME: Style = Style::bold(170, Role::Name);
// 8 pt figures are 1.94 mm high: the floor for what is dialled from a dense sheet.
const DETAIL: Style = Style::regular(160, StripMark::DETAIL);
const SCALE: Style = Style::regular(160, Role::Small);
const MEANING: Style = Style::regular(160, Role::Small);

/// Height of the strip's bar, of a mark hanging in it from above, and of the long and short ticks standing in it: chosen by eye so that marks and ticks stay apart.
const BAR: Length = Length::hundredths_mm(650);
const MARK: Length = Length::hundredths_mm(340);
/// The least width of a mark: twice the thinnest line.
const LEAST_MARK: Length = Length::hundredths_mm(25);
const LONG_TICK: Length = Length::hundredths_mm(230);
const SHORT_TICK: Length = Length::hundredths_mm(120);
/// Between a line and the words beside it.
const GAP: Length = Length::hundredths_mm(80);
/// Where leaders lean to their risers.
const ELBOW: Length = Length::hundredths_mm(400);
/// Between two risers, and between the words of neighbours.
const APART: Length = Length::hundredths_mm(150);
/// A row of flags: two lines of words.
const FLAG_ROW: Length = Length::hundredths_mm(720);
/// A row of meanings under a lane.
const MEANING_ROW: Length = Length::hundredths_mm(360);
/// The bar of a lane.
const LANE: Length = Length::hundredths_mm(260);
/// A row of brackets.
const BRACKET_ROW: Length = Length::hundredths_mm(480);
/// Between two parts of the strip.
const AIR: Length = Length::hundredths_mm(250);
/// Lane names break into lines rather than take more than this from the axis.
const GUTTER: Length = Length::mm(30);

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
    let mut sheet = Sheet { pen, is_heavy, axis, marks: Vec::new(), y: Length::ZERO, block: 0 };
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

/// The axis on paper.
#[derive(Clone, Copy)]
struct Axis {
    low: i64,
    high: i64,
    left: Length,
    right: Length,
}

impl Axis {
    fn holds(&self, value: i64) -> bool {
        (self.low..=self.high).contains(&value)
    }

    /// Where a value stands; values past the ends stand at the ends.
    fn at(&self, value: i64) -> Length {
        let part = value.clamp(self.low, self.high) - self.low;
        self.left + (self.right - self.left).fraction(part, self.high - self.low)
    }
}

/// Stretches that share a name, in order.
struct Lane<'a> {
    name: String,
    stretches: Vec<&'a StripArea>,
}

fn lanes(block: &Strip) -> Vec<Lane<'_>> {
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

/// A style with no thin strokes, where that is asked for.
fn cut(style: Style, is_heavy: bool) -> Style {
    Style { face: if is_heavy { style.face.heavier() } else { style.face }, ..style }
}

struct Sheet<'p> {
    pen: &'p Pen,
    is_heavy: bool,
    axis: Axis,
    marks: Vec<Mark>,
    /// The next free height.
    y: Length,
    /// What is read aloud together: the title, each flag, the scale, each lane.
    block: u32,
}

impl Sheet<'_> {
    fn say(&mut self, glyphs: Vec<Glyphs>) {
        let place = ReadPlace { block: self.block, cell: None };
        self.marks.extend(glyphs.into_iter().map(|glyphs| Mark::Glyphs(Glyphs { place, ..glyphs })));
    }

    fn line(&self, text: &Text, style: Style, at: Point) -> Vec<Glyphs> {
        self.pen.line(text, cut(style, self.is_heavy), at)
    }

    fn width(&self, text: &Text, style: Style) -> Length {
        self.line(text, style, Point::default()).iter().map(|run| run.width).sum()
    }

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

    fn lean(&mut self, flag: &Flag, from: Length, at: Length, to: Length) {
        let (from, to) = (Point { x: flag.riser, y: from }, Point { x: at, y: to });
        self.marks.push(Mark::Line(Line { from, to, thickness: HAIRLINE, dash: None }));
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

    fn lane(&mut self, lane: &Lane<'_>) -> Option<()> {
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

    fn brackets(&mut self, joins: &[Join]) -> Option<()> {
        let mut brackets = joins.iter().map(|join| self.bracket(join)).collect::<Option<Vec<_>>>()?;
        brackets.sort_by_key(|bracket| (bracket.from, bracket.to));
        // Interval colouring: first fit from the left needs as few rows as any other way.
        let mut ends: Vec<Length> = Vec::new();
        for bracket in &brackets {
            let row = ends.iter().position(|end| *end + AIR <= bracket.from).unwrap_or(ends.len());
            match ends.get_mut(row) {
                Some(end) => *end = bracket.to,
                None => ends.push(bracket.to),
            }
            let top = self.y + BRACKET_ROW * rows(row);
            self.draw_bracket(bracket, top);
        }
        self.y += BRACKET_ROW * rows(ends.len());
        Some(())
    }

    /// Words inside where they fit, else right of it, else left.
    fn bracket<'a>(&self, join: &'a Join) -> Option<Bracket<'a>> {
        let (down, up) = (self.axis.at(join.down), self.axis.at(join.up));
        let (from, to) = (down.min(up), down.max(up));
        let words = self.width(&join.label, DETAIL);
        let beside = Length::hundredths_mm(150);
        let (words_at, from, to) = if words + beside * 2 <= to - from {
            (from + (to - from - words) / 2, from, to)
        } else if to + beside + words <= self.axis.right {
            (to + beside, from, to + beside + words)
        } else if from - beside - words >= Length::ZERO {
            (from - beside - words, from - beside - words, to)
        } else {
            return None;
        };
        Some(Bracket { join, down, up, words_at, from, to })
    }

    /// An arrow up into the strip, an arrow down out of it.
    fn draw_bracket(&mut self, bracket: &Bracket<'_>, top: Length) {
        let Bracket { down: out, up: into, .. } = *bracket;
        let bottom = top + Length::hundredths_mm(340);
        self.marks.push(across(out.min(into) - RULE / 2, out.max(into) + RULE / 2, bottom, RULE));
        let (length, half) = (Length::hundredths_mm(150), Length::hundredths_mm(60));
        let join = bracket.join;
        let arrow = |x: Length, point: Length, base: Length| {
            let corners = vec![Point { x, y: point }, Point { x: x - half, y: base }, Point { x: x + half, y: base }];
            Mark::Outline(Outline { corners, black: 100 })
        };
        // Where one of the two lies beyond this part of the axis, the bracket runs into its edge.
        if self.axis.holds(join.up) {
            self.marks.push(down(into, top + length, bottom, RULE));
            self.marks.push(arrow(into, top, top + length));
        }
        if self.axis.holds(join.down) {
            self.marks.push(down(out, top, bottom - length, RULE));
            self.marks.push(arrow(out, bottom - RULE / 2, bottom - length));
        }
        let at = Point { x: bracket.words_at, y: bottom - GAP };
        let words = self.line(&bracket.join.label, DETAIL, at);
        self.block += 1;
        self.say(words);
    }
}

/// A pair with its words placed.
struct Bracket<'a> {
    join: &'a Join,
    down: Length,
    up: Length,
    words_at: Length,
    /// Left end of bracket and words.
    from: Length,
    /// Right end of bracket and words.
    to: Length,
}

/// The greys of every chart, per cent of black: light enough for a copier to keep, far enough apart to tell.
const fn black(shade: Shade) -> Option<u8> {
    match shade {
        Shade::Open => None,
        Shade::Limited => Some(10),
        Shade::Closed => Some(25),
    }
}

fn rows(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}
