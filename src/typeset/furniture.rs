//! What every panel bears: the heavy rule and title above, and below the foot that two stations compare first.

use super::imprint::Imprint;
use super::layout::Layout;
use super::pen::{Pen, RULE, Style};
use super::piece::does_not_fit;
use crate::compose::block::{Foot, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{Area, Glyphs, HAIRLINE, Mark, Point, ReadPlace, Size, across, down};

/// The rule that opens a panel.
const HEAVY: Length = Length::twentieths_pt(36);
/// Between a rule and text.
const AIR: Length = Length::hundredths_mm(90);
/// Between what stands left and right.
const GAP: Length = Length::mm(3);
/// The bar by which one sees that the printer did not scale.
const BAR: Length = Length::mm(50);

/// Blocks of their own: the word in the head, and the first of the foot, which is read after all others.
const AT_HEAD: u32 = AT_FOOT - 2;
const AT_FOOT: u32 = u32::MAX / 2;

/// Where things stand on the panels of a document.
pub(super) struct Furniture<'a> {
    layout: &'a Layout,
    pen: &'a Pen,
    /// Outer size of a panel.
    pub size: Size,
    /// Where text may stand.
    pub safe: Area,
    /// Where blocks are set.
    pub inner: Area,
    /// What can be said.
    told: Foot,
    foot: Vec<FootLine>,
}

/// One line of the foot: what stands left, what stands right.
struct FootLine {
    left: Text,
    right: Text,
}

impl<'a> Furniture<'a> {
    /// Measures head and foot. None, with a finding, when the foot does not fit.
    pub fn new(
        (layout, pen): (&'a Layout, &'a Pen),
        size: Size,
        foot: &Foot,
        asked: Span,
        found: &mut Findings,
    ) -> Option<Self> {
        let margin = layout.margin;
        let safe = Area { left: margin, top: margin, right: size.width - margin, bottom: size.height - margin };
        let told = foot.clone();
        let mut furniture = Self { layout, pen, size, safe, inner: safe, told, foot: Vec::new() };
        for line in foot_lines(layout, foot) {
            furniture.foot.extend(furniture.fitted(line, asked, found)?);
        }
        let title = layout.style(Role::Title);
        let opened = safe.top + furniture.opening() + layout.air(AIR);
        furniture.inner.top = opened + title.capital() + title.tail() + layout.air(AIR);
        furniture.inner.bottom = furniture.foot_top() - furniture.half_word() - layout.air(AIR);
        Some(furniture)
    }

    /// A line, or its two halves on lines of their own where they do not fit beside each other.
    fn fitted(&self, line: FootLine, asked: Span, found: &mut Findings) -> Option<Vec<FootLine>> {
        let width = self.safe.width();
        let (left, right) = (self.foot_width(&line.left), self.foot_width(&line.right));
        for (text, wide) in [(&line.left, left), (&line.right, right)] {
            if wide > width {
                found.push(does_not_fit(&text.words(), Span::NOWHERE, asked, "wide", width));
                return None;
            }
        }
        let is_one = line.right.is_empty() || left + self.layout.air(GAP) + right <= width;
        if is_one {
            return Some(vec![line]);
        }
        let none = || Text::own("");
        Some(vec![FootLine { left: line.left, right: none() }, FootLine { left: none(), right: line.right }])
    }

    fn foot_width(&self, text: &Text) -> Length {
        self.pen.line(text, self.layout.style(Role::Foot), Point::default()).iter().map(|run| run.width).sum()
    }

    fn foot_leading(&self) -> Length {
        super::lines::leading(self.layout.style(Role::Foot).size)
    }

    fn foot_top(&self) -> Length {
        let lines = i64::try_from(self.foot.len()).unwrap_or(0);
        self.safe.bottom - self.foot_leading() * lines - self.layout.air(AIR) - self.half_word()
    }

    /// How high the opening of a panel is: its heavy rule, or the word that parts it.
    fn opening(&self) -> Length {
        (self.half_word() * 2).max(HEAVY)
    }

    /// Half the height of the word that parts a rule; nothing in earnest.
    fn half_word(&self) -> Length {
        let capital = self.layout.style(Role::Title).capital();
        // Rounded up, so that both halves hold the whole.
        self.told.exercise.map_or(Length::ZERO, |_| capital - capital / 2)
    }

    /// A rule from side to side; in an exercise its word stands in the middle of it, as large as a title.
    fn rule(&self, y: Length, thickness: Length, block: u32) -> Vec<Mark> {
        let Area { left, right, .. } = self.safe;
        let Some(word) = self.told.exercise else { return vec![across(left, right, y, thickness)] };
        let style = Style { role: Role::Foot, ..self.layout.style(Role::Title) };
        let baseline = y + self.half_word();
        let word = self.pen.write(word, style, Span::NOWHERE, Point { x: left, y: baseline });
        let x = left + (self.safe.width() - word.width) / 2;
        let (from, to) = (x - self.layout.air(AIR), x + word.width + self.layout.air(AIR));
        let word = Glyphs { at: Point { x, y: baseline }, place: ReadPlace { block, cell: None }, ..word };
        vec![across(left, from, y, thickness), Mark::Glyphs(word), across(to, right, y, thickness)]
    }

    /// The heavy rule, a title and a number.
    pub fn head(&self, title: &str, number: &str, asked: Span, found: &mut Findings) -> Vec<Mark> {
        let Area { left, right, top, .. } = self.safe;
        let style = self.layout.style(Role::Title);
        let small = self.layout.style(Role::Foot);
        let baseline = top + self.opening() + self.layout.air(AIR) + style.capital();
        let words = self.pen.write(title, style, Span::NOWHERE, Point { x: left, y: baseline });
        let beside = row(&self.layout.head, &self.told, number);
        let width = self.foot_width(&beside);
        let beside = self.pen.line(&beside, small, Point { x: right - width, y: baseline });
        if words.width + self.layout.air(GAP) + width > self.safe.width() {
            found.push(does_not_fit(
                title,
                Span::NOWHERE,
                asked,
                "wide",
                self.safe.width() - self.layout.air(GAP) - width,
            ));
        }
        let heavy = self.rule(top + self.opening() / 2, HEAVY, AT_HEAD);
        // The title is told first.
        let (word, heavy): (Vec<Mark>, Vec<Mark>) = heavy.into_iter().partition(|mark| matches!(mark, Mark::Glyphs(_)));
        let rule = across(left, right, self.inner.top, RULE);
        let beside = beside.into_iter().map(Mark::Glyphs);
        let marks = heavy.into_iter().chain([Mark::Glyphs(words)]).chain(word).chain(beside).chain([rule]);
        marks.map(|mark| self.layout.stroke(mark)).collect()
    }

    /// What two stations compare first.
    pub fn foot_marks(&self) -> Vec<Mark> {
        let Area { left, right, .. } = self.safe;
        let style = self.layout.style(Role::Foot);
        let opening = self.rule(self.foot_top(), RULE, AT_FOOT - 1);
        let mut marks: Vec<Mark> = opening.into_iter().map(|mark| self.layout.stroke(mark)).collect();
        let mut baseline = self.foot_top() + self.half_word() + self.layout.air(AIR) + style.capital();
        // Each text by itself.
        let mut place = ReadPlace { block: AT_FOOT, cell: None };
        for line in &self.foot {
            for (text, x) in [(&line.left, left), (&line.right, right - self.foot_width(&line.right))] {
                let runs = self.pen.line(text, style, Point { x, y: baseline });
                marks.extend(runs.into_iter().map(|run| Mark::Glyphs(Glyphs { place, ..run })));
                place.block += 1;
            }
            baseline += self.foot_leading();
        }
        marks
    }
}

/// The lines that the layout arranges; a copy's own code, and that a plan is invented, stand beside the last of them where nothing else
/// does, else below it.
fn foot_lines(layout: &Layout, foot: &Foot) -> Vec<FootLine> {
    let line = |(left, right): &(Vec<Imprint>, Vec<Imprint>)| FootLine {
        left: row(left, foot, ""),
        right: row(right, foot, ""),
    };
    let mut lines: Vec<FootLine> = layout.foot.iter().map(line).collect();
    let own = foot.own.as_ref().map(|letters| Text::own("own ").then_strong(letters.clone()));
    for words in own.into_iter().chain(foot.invented.map(Text::own)) {
        match lines.last_mut().filter(|line| line.right.is_empty()) {
            Some(line) => line.right = words,
            None => lines.push(FootLine { left: Text::own(""), right: words }),
        }
    }
    lines
}

/// Several in a row, with commas between.
fn row(said: &[Imprint], foot: &Foot, number: &str) -> Text {
    let mut row: Option<Text> = None;
    for text in said.iter().map(|said| said.text(foot, number)).filter(|text| !text.is_empty()) {
        row = Some(match row {
            None => text,
            Some(row) => text.runs.into_iter().fold(row.then(", "), Text::and),
        });
    }
    row.unwrap_or_else(|| Text::own(""))
}

/// The 50 mm bar with its words, its left end at `at`.
pub(crate) fn scale_bar(pen: &Pen, layout: &Layout, at: Point) -> Vec<Mark> {
    let style = layout.style(Role::Small);
    let tick = Length::hundredths_mm(150);
    let mut marks = vec![across(at.x, at.x + BAR, at.y, RULE)];
    for end in [at.x, at.x + BAR / 2, at.x + BAR] {
        marks.push(down(end, at.y - tick, at.y, HAIRLINE));
    }
    let baseline = at.y + bar_words(layout);
    let words = "50 mm: print at 100 %";
    marks.push(Mark::Glyphs(pen.write(words, style, Span::NOWHERE, Point { x: at.x, y: baseline })));
    marks
}

/// How far below the bar the baseline of its words is.
pub(crate) fn bar_words(layout: &Layout) -> Length {
    layout.air(AIR) + layout.style(Role::Small).capital()
}

/// How wide the bar is.
pub(crate) const fn bar_width() -> Length {
    BAR
}
