//! What stands above the line of a strip: flags, and the signs that they point to.

use super::flags::{Flag, FlagRoom, WantedFlag, anywhere, near};
use super::pen::Style;
use super::strip_form::{GAP, LINE, MEANING, THIN, cut, row, row_width};
use super::strip_sheet::{StripSheet, rows};
use crate::compose::block::{FlagSign, Saying, Strip, StripFlag, Text};
use crate::ground::Length;
use crate::sheet::{Area, Fill, Mark, Outline, Point, down};

/// Words over the line: what keeps them clear of it and of what stands on it.
const OVER: Length = Length::hundredths_mm(95);
/// The least width of a bar on the line.
const LEAST_BAR: Length = Length::hundredths_mm(60);
/// How far flags may rise beside the title, and what parts them from it.
pub(super) const RISE: Length = Length::hundredths_mm(520);
const FROM_TITLE: Length = Length::mm(3);
/// A shift that nobody sees is none.
const UNSEEN: Length = Length::hundredths_mm(5);

/// What of its flags a strip has room for, from all to nothing: each leaves out more than the one before.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum FlagTold {
    Everything,
    /// Flags of the plan alone; where others call, the sign stays.
    Own,
    FirstLine,
    Name,
    Number,
    /// Bars alone.
    Nothing,
}

impl FlagTold {
    const ALL: [Self; 5] = [Self::Everything, Self::Own, Self::FirstLine, Self::Name, Self::Number];
}

/// The flags of a strip with their places.
pub(super) struct Flown<'a> {
    pub told: FlagTold,
    flags: Vec<(FlagWords<'a>, Flag)>,
}

/// What one flag says.
struct FlagWords<'a> {
    flag: &'a StripFlag,
    first: Vec<(&'a Text, Style)>,
    detail: Option<&'a Text>,
    /// Its number, where that is all that is left.
    number: Option<Text>,
}

impl<'a> StripSheet<'a> {
    /// The flags that fit, with as much on them as fits. What stands on one place without a room for two is left to its signs.
    pub(super) fn flown(&self, strip: &'a Strip) -> Flown<'a> {
        let mut sorted: Vec<&StripFlag> = strip.flags.iter().collect();
        sorted.sort_by_key(|flag| (flag.at, flag.name.words()));
        for told in FlagTold::ALL {
            let said: Vec<FlagWords<'_>> = sorted.iter().filter_map(|flag| self.said(flag, told)).collect();
            let wanted: Vec<WantedFlag> = said
                .iter()
                .map(|said| WantedFlag { at: self.axis.at(said.flag.at), width: self.flag_width(said) })
                .collect();
            let room = FlagRoom { left: self.axis.left, right: self.edge, levels: self.form.levels };
            let placed = near(&wanted, room);
            let placed = if told == FlagTold::Number { placed.or_else(|| anywhere(&wanted, room)) } else { placed };
            if let Some(flags) = placed {
                return Flown { told, flags: said.into_iter().zip(flags).collect() };
            }
        }
        Flown { told: FlagTold::Nothing, flags: Vec::new() }
    }

    /// None for a flag that is left out, and for what is named elsewhere.
    fn said(&self, flag: &'a StripFlag, told: FlagTold) -> Option<FlagWords<'a>> {
        let form = self.form;
        let is_own = !flag.name.is_empty();
        if (!is_own && (told > FlagTold::Everything || flag.figure.is_empty())) || told == FlagTold::Nothing {
            return None;
        }
        let style = |style| cut(style, self.is_heavy);
        let (name, figure, word) = (style(form.name), style(form.figure), style(form.word));
        let figure = if is_own { figure } else { style(form.other) };
        let number = (told == FlagTold::Number && !flag.number.is_empty())
            .then(|| Text::plain(flag.number.clone(), flag.name.span));
        let first = match told {
            FlagTold::Number => vec![(&flag.name, name)],
            FlagTold::Name => vec![(&flag.name, name)],
            _ => vec![(&flag.name, name), (&flag.figure, figure), (&flag.word, word)],
        };
        let detail = Some(&flag.detail).filter(|detail| told < FlagTold::FirstLine && !detail.is_empty());
        Some(FlagWords { flag, first, detail, number })
    }

    fn first<'w>(&self, said: &'w FlagWords<'a>) -> Vec<(&'w Text, Style)> {
        match &said.number {
            Some(number) => vec![(number, cut(MEANING, self.is_heavy))],
            None => said.first.clone(),
        }
    }

    fn flag_width(&self, said: &FlagWords<'a>) -> Length {
        let first = row_width(self.pen, &self.first(said), self.form.apart);
        let detail = said.detail.map_or(Length::ZERO, |text| self.detail_width(text));
        GAP + first.max(detail)
    }

    fn detail_width(&self, text: &Text) -> Length {
        row_width(self.pen, &[(text, cut(self.form.detail, self.is_heavy))], Length::ZERO)
    }

    /// Whether the highest flags stand clear of a title that ends there, so that they may rise beside it.
    pub(super) fn is_clear_of(&self, flown: &Flown<'_>, title: Length) -> bool {
        let highest = flown.flags.iter().map(|(_, flag)| flag.level).max();
        let starts = flown.flags.iter().filter(|(_, flag)| Some(flag.level) == highest).map(|(said, flag)| {
            let pole = self.pole(said, flag);
            if flag.is_left { pole - self.flag_width(said) } else { pole }
        });
        highest.is_some() && starts.min().is_some_and(|start| start > title + FROM_TITLE)
    }

    /// Where the line stands below the flags.
    pub(super) fn line_below(&self, flown: &Flown<'_>, strip: &Strip) -> Length {
        let form = self.form;
        let signs = if strip.flags.is_empty() { Length::ZERO } else { form.bar.max(form.diamond * 2) };
        let words = if strip.sayings.is_empty() { Length::ZERO } else { OVER + cut(MEANING, false).capital() };
        let levels = rows(flown.flags.iter().map(|(_, flag)| flag.level + 1).max().unwrap_or(0));
        if levels == 0 {
            return self.y + signs.max(words) + LINE;
        }
        self.y + self.level(flown) * levels + self.knee(flown) + signs.max(words)
    }

    fn level(&self, flown: &Flown<'_>) -> Length {
        let has_detail = flown.flags.iter().any(|(said, _)| said.detail.is_some());
        if has_detail { self.form.level } else { self.form.low_level }
    }

    fn knee(&self, flown: &Flown<'_>) -> Length {
        let leans = flown.flags.iter().any(|(said, flag)| self.pole(said, flag) != self.axis.at(said.flag.at));
        if leans { self.form.knee } else { self.form.straight }
    }

    fn pole(&self, said: &FlagWords<'_>, flag: &Flag) -> Length {
        let at = self.axis.at(said.flag.at);
        let shift = (flag.pole - at).max(at - flag.pole);
        if shift < UNSEEN { at } else { flag.pole }
    }

    /// Signs on the line at `line`, poles, leaders and words.
    pub(super) fn fly(&mut self, flown: &Flown<'_>, strip: &Strip, line: Length) {
        for flag in &strip.flags {
            self.sign(flag, line);
        }
        let levels = rows(flown.flags.iter().map(|(_, flag)| flag.level + 1).max().unwrap_or(0));
        let (level, foot) = (self.level(flown), self.y + self.level(flown) * levels);
        for (said, flag) in &flown.flags {
            let at = self.axis.at(said.flag.at);
            let pole = self.pole(said, flag);
            let top = foot - level * (rows(flag.level) + 1);
            let end = line - self.height(said.flag);
            let knee = if pole == at { end } else { foot };
            self.marks.push(down(pole, top, knee, THIN));
            if pole != at {
                self.stroke(Point { x: pole, y: foot }, Point { x: at, y: end }, THIN);
            }
            self.flag_words(said, flag, Point { x: pole, y: top });
        }
    }

    fn flag_words(&mut self, said: &FlagWords<'_>, flag: &Flag, at: Point) {
        let first = self.first(said);
        let baseline = at.y + self.form.name.capital();
        let beside = |width: Length| if flag.is_left { at.x - GAP - width } else { at.x + GAP };
        let x = beside(row_width(self.pen, &first, self.form.apart));
        self.block += 1;
        let words = row(self.pen, &first, self.form.apart, Point { x, y: baseline });
        self.say(words);
        if let Some(detail) = said.detail {
            let style = cut(self.form.detail, self.is_heavy);
            let y = baseline + style.capital() + Length::hundredths_mm(115);
            let words = self.pen.line(detail, style, Point { x: beside(self.detail_width(detail)), y });
            self.say(words);
        }
    }

    /// How high the sign of a flag stands over the line.
    fn height(&self, flag: &StripFlag) -> Length {
        match flag.sign {
            FlagSign::Bar => self.form.bar,
            FlagSign::Filled | FlagSign::Dotted => self.form.diamond * 2 + Length::hundredths_mm(50),
        }
    }

    fn sign(&mut self, flag: &StripFlag, line: Length) {
        let half = self.form.diamond;
        match flag.sign {
            FlagSign::Bar => {
                let (from, to) = self.bar_of(flag);
                let area = Area { left: from, top: line - self.form.bar, right: to, bottom: line };
                self.marks.push(Mark::Fill(Fill { area, black: 100 }));
            }
            FlagSign::Filled | FlagSign::Dotted => {
                // Beside the diamond there is room for a signal that lies to one side of it.
                let off = (flag.from + (flag.to - flag.from) / 2 - flag.at).abs();
                if off * 4 > flag.to - flag.from {
                    self.sign(&StripFlag { sign: FlagSign::Bar, ..flag.clone() }, line);
                }
                let middle = Point { x: self.axis.at(flag.at), y: line - half - Length::hundredths_mm(50) };
                let marks = diamond(middle, half, flag.sign);
                self.marks.extend(marks);
            }
        }
    }

    /// A signal on paper: too narrow to be seen in dim light it is drawn wider, about its own middle.
    fn bar_of(&self, flag: &StripFlag) -> (Length, Length) {
        let (from, to) = (self.axis.at(flag.from), self.axis.at(flag.to));
        let wider = (LEAST_BAR - (to - from)).max(Length::ZERO) / 2;
        ((from - wider).max(self.axis.left), (to + wider).min(self.axis.right))
    }

    /// Words on the line, each in the first place of its stretch that is wide enough. Gives those that found none.
    pub(super) fn sayings<'s>(&mut self, flown: &Flown<'_>, strip: &'s Strip, line: Length) -> Vec<&'s Saying> {
        let style = cut(MEANING, self.is_heavy);
        let mut taken: Vec<(Length, Length)> = strip
            .flags
            .iter()
            .map(|flag| {
                let (from, to) = self.bar_of(flag);
                let at = self.axis.at(flag.at);
                (from.min(at - self.form.diamond), to.max(at + self.form.diamond))
            })
            .collect();
        // A leader reaches into the height of the words only beside the line.
        taken.extend(flown.flags.iter().map(|(said, flag)| {
            let (at, pole) = (self.axis.at(said.flag.at), self.pole(said, flag));
            (at.min(pole), at.max(pole))
        }));
        taken.sort_unstable();
        let mut left_over = Vec::new();
        let mut end = self.axis.left;
        let starts: Vec<i64> = strip.sayings.iter().map(|saying| saying.from).collect();
        for saying in &strip.sayings {
            let width = row_width(self.pen, &[(&saying.words, style)], Length::ZERO);
            let (from, to) = (self.axis.at(saying.from), self.axis.at(saying.to));
            let mut x = (from + GAP).max(end + GAP);
            for (low, high) in &taken {
                if *low < x + width + GAP && *high + GAP > x {
                    x = *high + GAP;
                }
            }
            // Words may go on beyond their stretch as far as nothing else is said there.
            let next = starts.iter().filter(|start| **start > saying.from).min();
            let limit = next.map_or(self.axis.right, |next| self.axis.at(*next) - GAP);
            if x + width > limit || x > to {
                left_over.push(saying);
                continue;
            }
            end = x + width;
            if saying.from > strip.low {
                self.marks.push(down(from, line - OVER - style.capital(), line, THIN));
            }
            self.block += 1;
            let words = self.pen.line(&saying.words, style, Point { x, y: line - OVER });
            self.say(words);
        }
        left_over
    }
}

/// A diamond about a middle: filled, or open with a dot in it.
pub(super) fn diamond(at: Point, half: Length, sign: FlagSign) -> Vec<Mark> {
    let corners = |half: Length| {
        let point = |x: Length, y: Length| Point { x: at.x + x, y: at.y + y };
        let none = Length::ZERO;
        vec![point(none, -half), point(half, none), point(none, half), point(-half, none)]
    };
    let filled = |half: Length, black: u8| Mark::Outline(Outline { corners: corners(half), black });
    if sign == FlagSign::Filled {
        return vec![filled(half, 100)];
    }
    // White inside, so that what lies under it does not fill it.
    vec![filled(half, 100), filled(half - Length::hundredths_mm(32), 0), filled(half / 3, 100)]
}
