//! How to read a strip: a sample of each sign with its words, side by side in columns.

use super::layout::Layout;
use super::lines::broken;
use super::pen::{Pen, Style};
use super::setting::Setting;
use super::strip_brackets::arrow;
use super::strip_flags::diamond;
use super::strip_form::{BRACKET, LINE, THIN};
use super::strip_lanes::arrow_signs;
use crate::compose::block::{Arrows, Legend, LegendEntry, Role, Sample, Shade};
use crate::ground::Length;
use crate::sheet::{Area, Fill, Glyphs, Mark, Pattern, Patterned, Point, ReadPlace, across, down};

/// A sample is so wide and so high, its words stand beside it, and a column of both is at least so wide.
const WIDTH: Length = Length::mm(12);
const HEIGHT: Length = Length::hundredths_mm(300);
const BESIDE: Length = Length::mm(3);
const COLUMN: Length = Length::mm(43);
const GUTTER: Length = Length::mm(4);
/// Columns at most.
const MOST: i64 = 3;
/// From entry to entry, beside what their words take.
const APART: Length = Length::hundredths_mm(130);

/// A legend at a width. None where a word is wider than a column.
pub(super) fn legend_setting(pen: &Pen, legend: &Legend, layout: &Layout, width: Length) -> Option<Setting> {
    let style = layout.style(Role::Small);
    let (column, gutter) = (layout.air(COLUMN), layout.air(GUTTER));
    let count = ((width + gutter).as_grains() / (column + gutter).as_grains().max(1)).clamp(1, MOST);
    let each = (width - gutter * (count - 1)) / count;
    let per_column = legend.entries.len().div_ceil(usize::try_from(count).unwrap_or(1)).max(1);
    let mut setting = Setting::default();
    for (index, entries) in legend.entries.chunks(per_column).enumerate() {
        let x = (each + gutter) * i64::try_from(index).unwrap_or(0);
        let mut y = layout.air(APART) / 2;
        for (row, entry) in entries.iter().enumerate() {
            let block = u32::try_from(index * per_column + row).unwrap_or(u32::MAX);
            let sheet = EntrySheet { pen, layout, style, width: each, block };
            let one = sheet.entry(entry)?;
            setting.marks.extend(one.at(Point { x, y }));
            y += one.height + layout.air(APART);
        }
        setting.height = setting.height.max(y - layout.air(APART) / 2);
    }
    Some(setting)
}

/// What an entry is set with.
struct EntrySheet<'a> {
    pen: &'a Pen,
    layout: &'a Layout,
    style: Style,
    width: Length,
    block: u32,
}

impl EntrySheet<'_> {
    fn entry(&self, entry: &LegendEntry) -> Option<Setting> {
        let LegendEntry { sample, words } = entry;
        let sample = Setting { marks: drawn(*sample), height: HEIGHT };
        let (numerator, denominator) = self.layout.scale();
        let sample = sample.scaled(numerator, denominator);
        let x = self.layout.air(WIDTH + BESIDE);
        let lines = broken(self.pen, words, self.style, self.width - x)?;
        let leading = super::lines::leading(self.style.size);
        let more = leading * i64::try_from(lines.len().saturating_sub(1)).unwrap_or(0);
        let height = sample.height.max(self.style.capital() + more + self.style.tail());
        let mut setting = Setting { marks: sample.marks, height };
        let mut y = (sample.height + self.style.capital()) / 2;
        if more > Length::ZERO {
            y = self.style.capital();
        }
        for line in lines {
            let place = ReadPlace { block: self.block, cell: None };
            let words = line.place(self.pen, Point { x, y }).into_iter();
            setting.marks.extend(words.map(|run| Mark::Glyphs(Glyphs { place, ..run })));
            y += leading;
        }
        Some(setting)
    }
}

/// A sample between zero and its width and height.
fn drawn(sample: Sample) -> Vec<Mark> {
    let whole = Area { left: Length::ZERO, top: Length::ZERO, right: WIDTH, bottom: HEIGHT };
    let middle = Point { x: WIDTH / 2, y: HEIGHT / 2 };
    let bar = |x: Length, line: Length| {
        let half = Length::hundredths_mm(45);
        let area = Area { left: x - half, top: line - Length::hundredths_mm(200), right: x + half, bottom: line };
        Mark::Fill(Fill { area, black: 100 })
    };
    match sample {
        Sample::Bar => vec![
            across(Length::ZERO, WIDTH, HEIGHT - Length::hundredths_mm(50), LINE),
            bar(middle.x, HEIGHT - Length::hundredths_mm(50)),
        ],
        Sample::Join => {
            let (low, high) = (Length::mm(2), Length::mm(10));
            // The bracket hangs below the line by as much as the bar stands over it.
            let line = Length::hundredths_mm(90);
            let half_bar = Area {
                left: high - Length::hundredths_mm(45),
                top: line - Length::hundredths_mm(140),
                right: high + Length::hundredths_mm(45),
                bottom: line,
            };
            let foot = HEIGHT + Length::hundredths_mm(40);
            vec![
                across(Length::ZERO, WIDTH, line, LINE),
                Mark::Fill(Fill { area: half_bar, black: 100 }),
                down(high, line, foot, BRACKET),
                across(low - BRACKET / 2, high + BRACKET / 2, foot, BRACKET),
                down(low, line + LINE, foot, BRACKET),
                arrow(low, line + LINE / 2),
            ]
        }
        Sample::Sign(sign) => diamond(middle, Length::hundredths_mm(150), sign),
        Sample::Shade(shade) => {
            let pattern = match shade {
                Shade::Open => None,
                Shade::Limited => Some(Pattern::Dots),
                Shade::Closed => Some(Pattern::Hatch),
            };
            let pattern = pattern.map(|pattern| Mark::Patterned(Patterned { area: whole, pattern }));
            pattern.into_iter().chain(super::pen::frame(whole, THIN)).collect()
        }
        Sample::Arrows(arrows) => {
            let at = |x: i64| Point { x: Length::mm(x), y: middle.y };
            let places = if arrows == Arrows::Both { vec![at(6)] } else { vec![at(3), at(9)] };
            let signs = places.into_iter().flat_map(|at| arrow_signs(arrows, at));
            signs.chain(super::pen::frame(whole, THIN)).collect()
        }
    }
}
