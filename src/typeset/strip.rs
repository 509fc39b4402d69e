//! An axis to scale: above its line what one looks for on flags, below it pairs as brackets, then rows of stretches.
//!
//! Rule of thumb: words stand on white and beside lines, never under or across them; a pattern means the same on every chart.

use super::layout::Layout;
use super::lines::broken;
use super::pen::Pen;
use super::setting::Setting;
use super::strip_flags::{FlagTold, RISE};
use super::strip_form::{BESIDE, END, GAP, LINE, MEANING, StripForm, THIN, TITLE, cut, row_width, scale};
use super::strip_sheet::{Axis, StripSheet, rows};
use crate::compose::block::{Join, Strip, Text};
use crate::ground::{Length, Span};
use crate::sheet::{Glyphs, Mark, Point, Size, across, down};
use std::collections::BTreeMap;

/// How far a numeral may leave its tick to stay clear of a leg, by steps.
const SLIDE: i64 = 5;
const STEP: Length = Length::hundredths_mm(50);

/// A strip that was drawn, and whether all its flags have at least their number.
pub(super) struct DrawnStrip {
    pub setting: Setting,
    pub is_told: bool,
}

/// Sets a strip on a layout. `None` when it does not fit into `room`.
#[must_use]
pub(super) fn strip_setting(pen: &Pen, block: &Strip, layout: &Layout, room: Size) -> Option<DrawnStrip> {
    let (numerator, denominator) = scale(layout.scale());
    let shrunk = |length: Length| length.fraction(denominator, numerator);
    let room = Size { width: shrunk(room.width), height: shrunk(room.height) };
    let drawn = drawn(pen, layout, block, room)?;
    // In large print there may be no room beside a pole.
    let is_inside = |mark: &Mark| match mark {
        Mark::Glyphs(run) => run.at.x >= Length::ZERO && run.at.x + run.width <= room.width,
        _ => true,
    };
    if !drawn.setting.marks.iter().all(is_inside) {
        return None;
    }
    let is_usual = numerator == denominator;
    let setting = if is_usual { drawn.setting } else { drawn.setting.scaled(numerator, denominator) };
    Some(DrawnStrip { setting, ..drawn })
}

fn drawn(pen: &Pen, layout: &Layout, block: &Strip, room: Size) -> Option<DrawnStrip> {
    let form = layout.strip_form();
    let summed = summed(&block.joins);
    let right = room.width.min(form.gutter + form.line);
    let axis = Axis::of(block, form.gutter, right)?;
    let (y, edge) = (Length::ZERO, room.width);
    let mut sheet = StripSheet { pen, form, is_heavy: layout.is_heavy, axis, edge, marks: Vec::new(), y, block: 0 };
    let flown = sheet.flown(block);
    let (notes, title) = sheet.head(block, flown.told)?;
    if sheet.y > RISE && sheet.is_clear_of(&flown, title) {
        sheet.y -= RISE;
    }
    let line = sheet.line_below(&flown, block);
    // What stands left of the line keeps clear of what is said at its numerals.
    let line = line.max(notes - form.numeral_foot + form.numeral.capital() + Length::hundredths_mm(60));
    sheet.y += line - sheet.line_below(&flown, block);
    sheet.line(block, line);
    let brackets = sheet.bracketed(&block.joins, &summed)?;
    let foot = line + form.numeral_foot;
    sheet.fly(&flown, block, line);
    let left_over = sheet.sayings(&flown, block, line);
    sheet.brackets(&brackets, line, foot);
    sheet.numerals(block, foot, &StripSheet::legs(&brackets));
    sheet.y = foot
        + form.bracket * rows(brackets.levels)
        + if brackets.levels == 0 { Length::hundredths_mm(20) } else { Length::ZERO };
    if brackets.levels > 0 {
        sheet.join_name(&block.join_name, foot)?;
    }
    sheet.lanes(&block.lanes, &left_over)?;
    let is_told = flown.told < FlagTold::Nothing;
    (sheet.y <= room.height).then_some(DrawnStrip { setting: Setting { marks: sheet.marks, height: sheet.y }, is_told })
}

/// The pairs of each shift as one: "8 pairs -600".
fn summed(joins: &[Join]) -> Vec<Join> {
    let mut shifts: BTreeMap<String, Vec<&Join>> = BTreeMap::new();
    joins.iter().for_each(|join| shifts.entry(join.shift.words()).or_default().push(join));
    let one = |joins: &[&Join]| match joins {
        [only] => Some((*only).clone()),
        [first, ..] => {
            let name = Text::plain(format!("{} pairs", joins.len()), first.name.span);
            Some(Join { name, figure: Text::default(), ..(*first).clone() })
        }
        [] => None,
    };
    shifts.values().filter_map(|joins| one(joins)).collect()
}

impl StripSheet<'_> {
    /// The title with what is said beside it: above the strip, or left of it. Gives how far down that reaches at the left, and how far right above.
    fn head(&mut self, block: &Strip, told: FlagTold) -> Option<(Length, Length)> {
        let crowded = Some(&block.crowded).filter(|crowded| told > FlagTold::Own && !crowded.is_empty());
        let notes: Vec<&Text> = block.notes.iter().chain(crowded).collect();
        let baseline = TITLE.capital();
        let title = self.pen.line(&block.title, TITLE, Point { x: Length::ZERO, y: baseline });
        let width = title.iter().map(|run| run.width).sum::<Length>();
        self.say(title);
        let note = cut(self.form.note, self.is_heavy);
        let mut x = width + Length::mm(3);
        let mut y = baseline;
        if let Some(head) = self.form.head {
            if block.title.is_empty() && notes.is_empty() {
                return Some((Length::ZERO, Length::ZERO));
            }
            let mut lines = 0;
            for (index, text) in notes.iter().enumerate() {
                let words = if index + 1 == notes.len() { (*text).clone() } else { (*text).clone().then(",") };
                let width = row_width(self.pen, &[(&words, note)], Length::ZERO);
                if x + width > self.edge {
                    (x, y, lines) = (Length::ZERO, y + note.size.fraction(12, 10), lines + 1);
                }
                let words = self.pen.line(&words, note, Point { x, y });
                self.say(words);
                x += width + Length::mm(1);
            }
            self.y = head + note.size.fraction(12, 10) * lines;
            return (x <= self.edge + Length::mm(1)).then_some((Length::ZERO, if lines == 0 { x } else { self.edge }));
        }
        if width > self.form.gutter - BESIDE {
            return None;
        }
        let mut bottom = if block.title.is_empty() { Length::ZERO } else { baseline };
        y = bottom + Length::hundredths_mm(120) + note.capital();
        for line in notes.iter().map(|text| broken(self.pen, text, note, self.form.gutter - BESIDE)) {
            for line in line? {
                let words = line.place(self.pen, Point { x: Length::ZERO, y });
                self.say(words);
                bottom = y + note.tail();
                y += note.size.fraction(115, 100);
            }
        }
        Some((bottom, Length::ZERO))
    }

    /// The line with its ends, breaks and ticks.
    fn line(&mut self, block: &Strip, line: Length) {
        let StripForm { ticks: [short, middle, long], .. } = *self.form;
        let stretches = self.axis.stretches();
        for (from, to) in &stretches {
            self.marks.push(across(*from, *to, line, LINE));
        }
        for ends in stretches.windows(2) {
            let (Some((_, from)), Some((to, _))) = (ends.first(), ends.last()) else { continue };
            let x = *from + (*to - *from) / 2;
            for dx in [-Length::hundredths_mm(70), Length::hundredths_mm(70)] {
                let (lean, half) = (Length::hundredths_mm(60), Length::hundredths_mm(150));
                self.stroke(
                    Point { x: x + dx - lean, y: line + half },
                    Point { x: x + dx + lean, y: line - half },
                    END,
                );
            }
        }
        for x in [self.axis.left, self.axis.right] {
            self.marks.push(down(x, line - Length::hundredths_mm(100), line + long, END));
        }
        for tick in block.ticks.iter().filter(|tick| self.axis.holds(tick.at)) {
            let (length, thickness) = match (&tick.label, tick.is_middle) {
                (Some(_), _) => (long, END),
                (None, true) => (middle, THIN),
                (None, false) => (short, THIN),
            };
            self.marks.push(down(self.axis.at(tick.at), line, line + length, thickness));
        }
    }

    /// Labels of the ticks, ends first; each slides to keep clear of legs, or is left to its tick.
    fn numerals(&mut self, block: &Strip, baseline: Length, legs: &[Length]) {
        let style = cut(self.form.numeral, self.is_heavy);
        let mut labels: Vec<(i64, &str)> = block
            .ticks
            .iter()
            .filter(|tick| self.axis.holds(tick.at))
            .filter_map(|tick| Some((tick.at, tick.label.as_deref()?)))
            .collect();
        labels.sort_by_key(|(at, _)| (*at != block.low && *at != block.high, *at));
        let mut taken: Vec<(Length, Length)> = Vec::new();
        let mut placed = Vec::new();
        for (at, label) in labels {
            let width = self.pen.width(label, style);
            let middle = (self.axis.at(at) - width / 2).min(self.edge - width).max(self.axis.left);
            let steps = (0..=SLIDE).flat_map(|n| [STEP * n, -STEP * n]);
            let is_clear = |x: &Length| {
                *x >= self.axis.left
                    && *x + width <= self.edge
                    && taken.iter().all(|(from, to)| *x > *to + GAP || *x + width + GAP < *from)
                    && !legs.iter().any(|leg| {
                        *x - Length::hundredths_mm(50) < *leg && *leg < *x + width + Length::hundredths_mm(50)
                    })
            };
            if let Some(x) = steps.map(|step| middle + step).find(is_clear) {
                taken.push((x, x + width));
                placed.push(self.pen.write(label, style, Span::NOWHERE, Point { x, y: baseline }));
            }
        }
        placed.sort_by_key(|glyphs| glyphs.at.x);
        self.block += 1;
        if block.unit.is_empty() {
            self.say(placed);
            return;
        }
        let unit = self.pen.write(&block.unit, cut(MEANING, self.is_heavy), Span::NOWHERE, Point::default());
        let x = self.axis.left - BESIDE - unit.width;
        self.say(vec![Glyphs { at: Point { x, y: baseline }, ..unit }]);
        self.say(placed);
    }

    /// What brackets are, beside the first.
    fn join_name(&mut self, name: &str, foot: Length) -> Option<()> {
        let style = cut(MEANING, self.is_heavy);
        let mut y = foot + self.form.bracket - Length::hundredths_mm(60);
        self.block += 1;
        for line in broken(self.pen, &Text::own(name), style, self.form.gutter - BESIDE)? {
            let x = self.axis.left - BESIDE - line.width;
            let words = line.place(self.pen, Point { x, y });
            self.say(words);
            y += Length::hundredths_mm(270);
        }
        Some(())
    }
}
