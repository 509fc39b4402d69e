//! Things that hang on each other: boxes on steps, with lines from each to what hangs on it.
//!
//! A box stands on a row of its own, so that nothing can lie over anything; a line runs down beside the boxes and through the rows of others.

use super::lines::{TextLine, broken, leading};
use super::pen::{Style, frame};
use super::piece::{Piece, Room};
use super::setting::Setting;
use crate::compose::block::{Role, Text, TreeBlock, TreeGuard, TreeNode};
use crate::ground::Length;
use crate::sheet::{Area, Glyphs, Mark, Point, ReadPlace, across, down};

/// Where a room is at least so wide, words of a line stand on it and beside the box; else in the box.
const WIDE: Length = Length::mm(120);
/// A step to the right, at least and at most, and how much of the width all steps may take.
const STEP: (Length, Length) = (Length::mm(17), Length::mm(26));
const NARROW_STEP: Length = Length::mm(6);
const STEPS: (i64, i64) = (42, 100);
/// From a box's left edge to the line that hangs below it.
const HANGS: Length = Length::mm(4);
const NARROW_HANGS: Length = Length::mm(2);
/// A box on a wide sheet, as a part of the width.
const BOX: (i64, i64) = (30, 100);
/// Between a frame and its words, and between a box and what stands beside it.
const PAD: Length = Length::hundredths_mm(160);
const BESIDE: Length = Length::mm(3);
/// Between boxes: no two lines are nearer to each other.
const APART: Length = Length::mm(4);
/// What sits on a line: width and height.
const GUARD: (Length, Length) = (Length::mm(6), Length::mm(2));
const LINE: Length = Length::twentieths_pt(15);

/// A row for each node.
pub(super) fn tree_pieces(tree: &TreeBlock, room: &Room<'_>, found: &mut crate::ground::Findings) -> Vec<Piece> {
    let form = TreeForm::of(tree, room);
    let mut pieces = Vec::new();
    for (at, node) in tree.nodes.iter().enumerate() {
        let setting = form.row(tree, (at, node), room);
        if setting.is_none() {
            room.too_wide(&node.name, form.width, found);
        }
        let (span, words) = (node.span, node.name.words());
        pieces.push(Piece { setting: setting.unwrap_or_default(), span, words, ..Piece::default() });
    }
    pieces
}

/// How a tree is laid out at a width.
struct TreeForm {
    step: Length,
    hangs: Length,
    /// Width of a box.
    width: Length,
    /// Width of all.
    all: Length,
    is_wide: bool,
}

/// Words with the style that they are set in.
type Words<'a> = (&'a Text, Style);

/// What sits on the line is read first, then the name in the box.
const FIRST: u32 = 1;

impl TreeForm {
    fn of(tree: &TreeBlock, room: &Room<'_>) -> Self {
        let deepest = tree.nodes.iter().map(|node| node.level).max().unwrap_or(0);
        let deepest = i64::from(deepest).max(1);
        let air = |length| room.layout.air(length);
        let is_wide = room.width >= air(WIDE);
        if is_wide {
            let step = (room.width.fraction(STEPS.0, STEPS.1) / deepest).min(air(STEP.1)).max(air(STEP.0));
            let width = room.width.fraction(BOX.0, BOX.1);
            Self { step, hangs: air(HANGS), width, all: room.width, is_wide }
        } else {
            let step = (room.width / 2 / deepest).min(air(NARROW_STEP));
            Self { step, hangs: air(NARROW_HANGS).min(step / 2), width: room.width, all: room.width, is_wide }
        }
    }

    fn left(&self, level: u16) -> Length {
        self.step * i64::from(level)
    }

    /// A node with its line and the lines that pass it. None where a word is wider than its place.
    fn row(&self, tree: &TreeBlock, (at, node): (usize, &TreeNode), room: &Room<'_>) -> Option<Setting> {
        let layout = room.layout;
        let (name, body) = (layout.style(Role::Name), layout.style(Role::Body));
        let left = self.left(node.level);
        let right = if self.is_wide { left + self.width } else { self.all };
        let guard = node.on_line.as_ref();
        // Without a level there is no line.
        let on_line = guard.filter(|_| node.level > 0).and_then(|guard| self.on_line(guard, room));
        let told = guard.filter(|_| on_line.is_none()).map(|guard| &guard.words);
        let beside: Vec<Words<'_>> = told.into_iter().chain(&node.beside).map(|text| (text, body)).collect();
        let mut inside: Vec<Words<'_>> = vec![(&node.name, name)];
        inside.extend(node.lines.iter().map(|text| (text, body)));
        if !self.is_wide {
            inside.extend(&beside);
        }
        let pad = layout.air(PAD);
        let (mut words, within) =
            self.words(&inside, (Point { x: left + pad, y: pad }, right - left - pad * 2), FIRST, room)?;
        let mut height = within + pad * 2;
        if self.is_wide {
            let x = right + layout.air(BESIDE);
            let after = FIRST + u32::try_from(inside.len()).unwrap_or(0);
            let (aside, beside) = self.words(&beside, (Point { x, y: pad }, self.all - x), after, room)?;
            height = height.max(beside + pad * 2);
            words.extend(aside);
        }
        let area = Area { left, top: Length::ZERO, right, bottom: height };
        let middle = self.middle(name, pad);
        let whole = height + layout.air(APART);
        let mut marks: Vec<Mark> = frame(area, LINE).into();
        marks.extend(self.lines(tree, (at, node), (middle, height, whole)));
        if let Some(line) = on_line {
            marks.extend(self.guard(node.level, &line, middle, room));
        }
        marks.extend(words);
        Some(Setting { marks, height: whole })
    }

    /// Where the line meets a box: beside its name.
    fn middle(&self, name: Style, pad: Length) -> Length {
        pad + name.capital() / 2
    }

    /// The words of what sits on a line, where there is room for them.
    fn on_line(&self, guard: &TreeGuard, room: &Room<'_>) -> Option<TextLine> {
        let style = room.layout.style(Role::Small);
        let lines = broken(room.pen, &guard.short, style, self.step)?;
        let [line] = <[TextLine; 1]>::try_from(lines).ok()?;
        (self.is_wide && line.width <= self.step - self.hangs - Length::mm(2)).then_some(line)
    }

    /// What sits on a line that ends at a box, below it the words.
    fn guard(&self, level: u16, line: &TextLine, middle: Length, room: &Room<'_>) -> Vec<Mark> {
        let (width, height) = (room.layout.air(GUARD.0), room.layout.air(GUARD.1));
        let (from, to) = (self.left(level.saturating_sub(1)) + self.hangs, self.left(level));
        let centre = (from + to) / 2;
        let area = Area {
            left: centre - width / 2,
            top: middle - height / 2,
            right: centre + width / 2,
            bottom: middle + height / 2,
        };
        let style = room.layout.style(Role::Small);
        let at = Point { x: centre - line.width / 2, y: area.bottom + Length::mm(1) + style.capital() };
        let place = ReadPlace::default();
        let words = line.place(room.pen, at).into_iter().map(|run| Mark::Glyphs(Glyphs { place, ..run }));
        frame(area, LINE).into_iter().chain(words).collect()
    }

    /// The line that leads to a box, those that pass it on the left, and the one that goes on below it.
    fn lines(
        &self,
        tree: &TreeBlock,
        (at, node): (usize, &TreeNode),
        (middle, height, whole): (Length, Length, Length),
    ) -> Vec<Mark> {
        let x = |level: u16| self.left(level) + self.hangs;
        let mut marks = Vec::new();
        for level in 0..node.level {
            let leads_here = level + 1 == node.level;
            let bottom = match (tree.passes(at, level), leads_here) {
                (true, _) => whole,
                (false, true) => middle,
                (false, false) => continue,
            };
            marks.push(down(x(level), Length::ZERO, bottom, LINE));
            if leads_here {
                marks.push(across(x(level), self.left(node.level), middle, LINE));
            }
        }
        if tree.passes(at, node.level) {
            marks.push(down(x(node.level), height, whole, LINE));
        }
        marks
    }

    /// Texts one below the other from a point on, each read as a block of its own from the first on, and how high they are. None where a
    /// word is wider than their place.
    fn words(
        &self,
        texts: &[Words<'_>],
        (at, width): (Point, Length),
        first: u32,
        room: &Room<'_>,
    ) -> Option<(Vec<Mark>, Length)> {
        let (mut marks, mut y) = (Vec::new(), at.y);
        let mut last = Length::ZERO;
        for (block, (text, style)) in (first..).zip(texts) {
            let place = ReadPlace { block, cell: None };
            for line in broken(room.pen, text, *style, width)? {
                y += if marks.is_empty() { style.capital() } else { leading(style.size).fraction(112, 100) };
                let runs = line.place(room.pen, Point { x: at.x, y }).into_iter();
                marks.extend(runs.map(|run| Mark::Glyphs(Glyphs { place, ..run })));
                last = style.tail();
            }
        }
        Some((marks, y + last - at.y))
    }
}
