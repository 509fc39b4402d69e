//! What every panel bears: the heavy rule and title above, and below the foot that two stations compare first.

use super::beside::{SHEET_HEAD, beside_width};

use super::foot_lines::{FootTexts, WIDE_NUMBER, foot_lines, row, says_number};
use super::frame;
use super::layout::{Layout, TEXT_FLOOR};
use super::pen::{Pen, RULE, Style};
use super::piece::{BesideColumn, RULES_APART, does_not_fit};
use super::setting::Setting;
use crate::compose::block::{Document, Foot, Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{Area, Duplex, Glyphs, HAIRLINE, Mark, Point, ReadPlace, Size, across};

/// The rule that opens a panel.
const HEAVY: Length = Length::twentieths_pt(36);
/// Between a rule and text.
pub(super) const AIR: Length = Length::hundredths_mm(90);
const PANEL_AIR: Length = Length::hundredths_mm(65);
/// Between what stands left and right.
pub(super) const GAP: Length = Length::mm(2);
/// A foot of larger print is not made smaller; others by steps of a tenth of a point.
const SHRUNK: Length = Length::pt(10);
const STEP: usize = 254;

/// Blocks of their own: the word in the head, and the first of the foot, which is read after all others.
const AT_HEAD: u32 = AT_FOOT - 2;
pub(super) const AT_FOOT: u32 = u32::MAX / 2;
/// After all of a panel, before its foot.
const AT_CONTENTS: u32 = AT_FOOT - 3;

/// Where things stand on the panels of a document.
pub(super) struct Furniture<'a> {
    pub(super) layout: &'a Layout,
    pub(super) pen: &'a Pen,
    /// Outer size of a panel.
    pub size: Size,
    /// Where marks may stand.
    pub outer: Area,
    /// Whether a border stands there.
    is_framed: bool,
    /// Where text may stand.
    pub safe: Area,
    /// Where blocks are set.
    pub inner: Area,
    /// The column at the right, where the layout has one: then the title stands over it.
    pub beside: Option<BesideColumn>,
    /// What is said once, below that column.
    once: Setting,
    /// What can be said.
    pub(super) told: Foot,
    foot: Vec<FootLine>,
    /// How the foot is set: smaller than the layout wants it where it has one line for all and that is longer than the panel.
    pub(super) small: Style,
}

/// One line of the foot: the first text at the left edge, the last at the right, the others at even distances between them.
struct FootLine {
    texts: Vec<Text>,
    /// Whether a single text stands left.
    is_left: bool,
}

/// How far the foot of a page stands above what is said once below it.
const OVER_BAND: Length = Length::hundredths_mm(250);
impl<'a> Furniture<'a> {
    /// Measures head and foot. None, with a finding, when the foot does not fit.
    pub fn new(
        (layout, pen): (&'a Layout, &'a Pen),
        (size, has_band): (Size, bool),
        (document, has_front): (&Document, bool),
        asked: Span,
        found: &mut Findings,
    ) -> Option<Self> {
        let (margin, binding) = (layout.margin, layout.binding);
        let right = if layout.duplex == Duplex::Simplex { margin } else { binding };
        let below = if has_band && layout.format.is_whole() { layout.air(OVER_BAND) } else { margin };
        let safe = Area { left: binding, top: margin, right: size.width - right, bottom: size.height - below };
        let foot = &document.foot;
        let is_framed = foot.exercise.as_ref().is_some_and(|mark| mark.real.is_some());
        let outer = safe;
        let safe = if is_framed { frame::inside(safe) } else { safe };
        let told = foot.clone();
        let (beside, once, small) = (None, Setting::default(), layout.style(Role::Foot));
        let mut furniture = Self {
            layout,
            pen,
            size,
            outer,
            is_framed,
            safe,
            inner: safe,
            beside,
            once,
            told,
            foot: Vec::new(),
            small,
        };
        furniture.small.size = furniture.foot_size(&foot_lines(layout, foot, has_front));
        for line in foot_lines(layout, foot, has_front) {
            furniture.foot.extend(furniture.fitted(line, asked, found)?);
        }
        let title = layout.style(Role::Title);
        let opened = safe.top + furniture.opening() + layout.air(AIR);
        // On a panel no rule parts the title from what it is about, and that of the foot closes a table.
        let (under, over) = if furniture.is_panel() { (Length::ZERO, Length::ZERO) } else { (AIR, AIR) };
        furniture.inner.top = opened + title.capital() + title.tail() + layout.air(under);
        furniture.inner.bottom = furniture.foot_top() - furniture.half_word() - layout.air(over);
        if let Some(width) = beside_width(layout, safe.width()) {
            furniture.inner.top = opened;
            furniture.once = furniture.once_told(&document.once, width, asked, found);
            let top = opened + layout.air(SHEET_HEAD);
            let bottom = furniture.inner.bottom - furniture.once.height;
            furniture.beside = Some(BesideColumn { left: safe.right - width, width, top, bottom });
        }
        Some(furniture)
    }

    fn is_panel(&self) -> bool {
        self.layout.format.has_panels()
    }

    /// How far above the text a front begins: below the rule that opens the panel.
    pub fn front(&self) -> Length {
        self.inner.top - self.safe.top - self.opening()
    }

    /// The largest size, down to the least that anybody reads, at which each line of the foot is one line.
    fn foot_size(&self, lines: &[FootTexts]) -> Length {
        let usual = self.small.size;
        if !says_number(self.layout) || usual > SHRUNK {
            return usual;
        }
        let width = |line: &FootTexts, size: Length| -> Length {
            let style = Style { size, ..self.small };
            let texts = line.texts.iter().filter(|text| !text.is_empty());
            texts.map(|text| self.text_width(text, style) + self.layout.air(GAP)).sum()
        };
        let room = self.safe.width() + self.layout.air(GAP);
        let steps = (TEXT_FLOOR.as_grains()..=usual.as_grains()).rev().step_by(STEP);
        let fits = |size: &Length| lines.iter().all(|line| width(line, *size) <= room);
        steps.map(Length::grains).find(fits).unwrap_or(usual)
    }

    /// The texts of a line, on as many lines as they take; the last in short where all of it does not fit beside the others.
    fn fitted(&self, line: FootTexts, asked: Span, found: &mut Findings) -> Option<Vec<FootLine>> {
        let (width, gap) = (self.safe.width(), self.layout.air(GAP));
        let FootTexts { mut texts, short } = line;
        let whole: Length = texts.iter().map(|text| self.foot_width(text) + gap).sum();
        if let (Some(last), Some(short)) = (texts.last_mut(), short.filter(|_| whole > width + gap)) {
            *last = short;
        }
        let mut lines: Vec<FootLine> = Vec::new();
        let mut taken = Length::ZERO;
        for (place, text) in texts.into_iter().enumerate().filter(|(_, text)| !text.is_empty()) {
            let wide = self.foot_width(&text);
            if wide > width {
                found.push(does_not_fit(&text.words(), Span::NOWHERE, asked, "wide", width));
                return None;
            }
            match lines.last_mut().filter(|_| taken + gap + wide <= width) {
                Some(line) => {
                    line.texts.push(text);
                    taken += gap + wide;
                }
                None => {
                    lines.push(FootLine { texts: vec![text], is_left: place == 0 });
                    taken = wide;
                }
            }
        }
        Some(lines)
    }

    /// Where each text of a line begins.
    fn foot_places(&self, line: &FootLine) -> Vec<Length> {
        let Area { left, right, .. } = self.safe;
        let widths: Vec<Length> = line.texts.iter().map(|text| self.foot_width(text)).collect();
        let spare = right - left - widths.iter().copied().sum();
        let gaps = i64::try_from(widths.len().saturating_sub(1)).unwrap_or(0);
        let (mut x, gap) = match gaps {
            0 if line.is_left => (left, Length::ZERO),
            0 => (left + spare, Length::ZERO),
            gaps => (left, spare / gaps),
        };
        let mut places = Vec::new();
        for width in widths {
            places.push(x);
            x += width + gap;
        }
        places
    }

    pub(super) fn foot_width(&self, text: &Text) -> Length {
        self.text_width(text, self.small)
    }

    fn text_width(&self, text: &Text, style: Style) -> Length {
        self.pen.line_width(text, style)
    }

    fn foot_leading(&self) -> Length {
        super::lines::leading(self.small.size)
    }

    /// Between the rule of the foot and its words.
    fn foot_air(&self) -> Length {
        self.layout.air(if self.is_panel() { PANEL_AIR } else { AIR })
    }

    fn foot_top(&self) -> Length {
        let lines = i64::try_from(self.foot.len()).unwrap_or(0);
        let style = self.small;
        // On a panel the last line needs room for its tails alone.
        let last = if self.is_panel() { style.capital() + style.tail() } else { self.foot_leading() };
        let height = self.foot_leading() * (lines - 1).max(0) + last;
        self.safe.bottom - height - self.foot_air() - self.half_word()
    }

    /// How high the opening of a panel is: its heavy rule, or the word that parts it.
    pub(super) fn opening(&self) -> Length {
        (self.half_word() * 2).max(HEAVY)
    }

    /// Half the height of the word that parts a rule; nothing in earnest.
    fn half_word(&self) -> Length {
        let capital = self.layout.style(Role::Title).capital();
        // Rounded up, so that both halves hold the whole.
        self.told.exercise.as_ref().map_or(Length::ZERO, |_| capital - capital / 2)
    }

    /// A rule from side to side; in an exercise its word stands in the middle of it, as large as a title.
    fn rule(&self, y: Length, thickness: Length, block: u32) -> Vec<Mark> {
        let Area { left, right, .. } = self.safe;
        let Some(word) = self.told.exercise.as_ref().map(|mark| mark.word) else {
            return vec![across(left, right, y, thickness)];
        };
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
        if let Some(column) = &self.beside {
            let heavy = self.rule(top + self.opening() / 2, HEAVY, AT_HEAD);
            let room = column.width - self.foot_width(&self.beside_column(number));
            if self.pen.width(title, self.layout.style(Role::Title)) + self.layout.air(GAP) > room {
                found.push(does_not_fit(title, Span::NOWHERE, asked, "wide", room));
            }
            let marks = self.sheet_head(column, title, number).into_iter().chain(heavy);
            return marks.map(|mark| self.layout.stroke(mark)).collect();
        }
        let style = self.layout.style(Role::Title);
        let small = self.small;
        let baseline = top + self.opening() + self.layout.air(AIR) + style.capital();
        let words = self.pen.write(title, style, Span::NOWHERE, Point { x: left, y: baseline });
        let beside = self.beside(number);
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
        let rule = (!self.is_panel()).then(|| across(left, right, self.inner.top, RULE));
        let beside = beside.into_iter().map(Mark::Glyphs);
        let marks = heavy.into_iter().chain([Mark::Glyphs(words)]).chain(word).chain(beside).chain(rule);
        marks.map(|mark| self.layout.stroke(mark)).collect()
    }

    /// What stands beside a title. That a plan is invented stands here where the foot is one line.
    fn beside(&self, number: &str) -> Text {
        let beside = row(&self.layout.head, &self.told, number);
        let invented = self.told.invented.filter(|_| says_number(self.layout));
        invented.map_or_else(|| beside.clone(), |words| Text::own(words).then(", ").then_text(beside.clone()))
    }

    /// Whether the foot says the number of its panel, so that each panel has its own.
    pub fn has_numbers(&self) -> bool {
        says_number(self.layout)
    }

    /// The head of a front, whose name stands in the place of the title: the heavy rule alone.
    pub fn head_of_front(&self) -> Vec<Mark> {
        let heavy = self.rule(self.safe.top + self.opening() / 2, HEAVY, AT_HEAD);
        heavy.into_iter().map(|mark| self.layout.stroke(mark)).collect()
    }

    /// The number of a front, above the edition; it is read after all that the front says.
    pub fn number_of_front(&self, number: &str) -> Vec<Mark> {
        let small = self.small;
        let baseline = self.safe.top + self.opening() + self.layout.air(AIR) + small.capital();
        let beside = self.beside(number);
        let at = Point { x: self.safe.right - self.foot_width(&beside), y: baseline };
        let place = ReadPlace { block: AT_CONTENTS, cell: None };
        self.pen.line(&beside, small, at).into_iter().map(|run| Mark::Glyphs(Glyphs { place, ..run })).collect()
    }

    /// What stands on which panel, above the foot of a front: in two columns; where `taken` leaves no room for them, as running text, or not at all.
    pub fn contents(&self, titles: &[(usize, String)], taken: Length) -> Vec<Mark> {
        let style = self.layout.style(Role::Small);
        let half = self.safe.width() / 2;
        let words: Vec<String> = titles.iter().map(|(panel, title)| format!("{panel}  {title}")).collect();
        let is_wide = words.iter().any(|words| self.pen.width(words, style) + self.layout.air(AIR) > half);
        let lines = words.len().div_ceil(2);
        let place = |(place, words): (usize, &String)| {
            let x = if place < lines { self.safe.left } else { self.safe.left + half };
            (x, place % lines.max(1), Text::own(words.clone()))
        };
        let columns: Vec<(Length, usize, Text)> = words.iter().enumerate().map(place).collect();
        let marks = if is_wide { None } else { self.contents_at(&columns, lines, taken) };
        marks.or_else(|| self.running_contents(titles, taken)).unwrap_or_default()
    }

    /// `panel 2 Streets 1-9, 3 ...`, no number parted from its title.
    fn running_contents(&self, titles: &[(usize, String)], taken: Length) -> Option<Vec<Mark>> {
        let tied: Vec<String> =
            titles.iter().map(|(panel, title)| format!("{panel} {title}").replace(' ', "\u{a0}")).collect();
        let text = Text::own(format!("panel\u{a0}{}", tied.join("; ")));
        let lines = super::lines::broken(self.pen, &text, self.layout.style(Role::Small), self.safe.width())?;
        let lines: Vec<(Length, usize, Text)> =
            lines.iter().enumerate().map(|(row, line)| (self.safe.left, row, Text::own(line.words()))).collect();
        self.contents_at(&lines, lines.len(), taken)
    }

    /// Words by where they begin and on which line, under a rule; none where there is no room for them.
    fn contents_at(&self, words: &[(Length, usize, Text)], lines: usize, taken: Length) -> Option<Vec<Mark>> {
        let style = self.layout.style(Role::Small);
        let leading = super::lines::leading(style.size);
        let down = |lines: usize| leading * i64::try_from(lines).unwrap_or(0);
        let top = self.inner.bottom - down(lines) - self.layout.air(AIR) * 2;
        if self.inner.top + taken + self.layout.air(AIR) > top || words.is_empty() {
            return None;
        }
        // The rule that closes a table above is near enough to part them.
        let is_parted = top - self.inner.top - taken >= RULES_APART;
        let rule = is_parted.then(|| self.layout.stroke(across(self.safe.left, self.safe.right, top, HAIRLINE)));
        let mut marks: Vec<Mark> = rule.into_iter().collect();
        for (x, line, words) in words {
            let at = Point { x: *x, y: top + self.layout.air(AIR) + style.capital() + down(*line) };
            let place = ReadPlace { block: AT_CONTENTS, cell: None };
            marks.extend(self.pen.line(words, style, at).into_iter().map(|run| Mark::Glyphs(Glyphs { place, ..run })));
        }
        Some(marks)
    }

    /// What two stations compare first.
    pub fn foot_marks(&self, number: &str) -> Vec<Mark> {
        let right = self.safe.right;
        let style = self.small;
        let opening = self.rule(self.foot_top(), RULE, AT_FOOT - 1);
        let border = if self.is_framed { frame::frame(self.safe) } else { Vec::new() };
        let mut marks: Vec<Mark> = border.into_iter().chain(opening).map(|mark| self.layout.stroke(mark)).collect();
        if let Some(column) = &self.beside {
            marks.extend(self.once.at(Point { x: column.left, y: column.bottom }));
        }
        let mut baseline = self.foot_top() + self.half_word() + self.foot_air() + style.capital();
        // Each text by itself.
        let mut place = ReadPlace { block: AT_FOOT, cell: None };
        for line in &self.foot {
            for (text, x) in line.texts.iter().zip(self.foot_places(line)) {
                let is_number = text.words() == WIDE_NUMBER;
                let own = Text::own(number);
                let (text, x) = match is_number {
                    true => (&own, right - self.foot_width(&own)),
                    false => (text, x),
                };
                let runs = self.pen.line(text, style, Point { x, y: baseline });
                marks.extend(runs.into_iter().map(|run| Mark::Glyphs(Glyphs { place, ..run })));
                place.block += 1;
            }
            baseline += self.foot_leading();
        }
        marks
    }
}
