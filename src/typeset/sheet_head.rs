//! The head of a sheet with a column beside its strips: plan, edition and code large over that column, and what is said once below it.

use super::foot_lines::row;
use super::furniture::{AIR, AT_FOOT, Furniture, GAP};
use super::imprint::Imprint;
use super::lines::paragraph;
use super::pen::{RULE, Style};
use super::piece::{BesideColumn, does_not_fit};
use super::scale_bar::{bar_words, scale_bar};
use super::setting::Setting;
use crate::compose::block::{Role, Text};
use crate::ground::{Findings, Length, Span};
use crate::sheet::{Glyphs, Mark, Point, across};

/// What is said once, and the bar below it, are read before the foot.
const AT_ONCE: u32 = AT_FOOT - 4;
const AT_BAR: u32 = AT_FOOT - 3;

impl Furniture<'_> {
    /// What is said once, with the bar by which one sees that the printer did not scale.
    pub(super) fn once_told(&self, once: &[Text], width: Length, asked: Span, found: &mut Findings) -> Setting {
        let layout = self.layout;
        let style = layout.style(Role::Small);
        let mut told = Setting { marks: Vec::new(), height: layout.air(GAP) };
        let words = Text::own(once.iter().map(Text::words).collect::<Vec<_>>().join(" "));
        match paragraph(self.pen, &words, style, width) {
            Some(setting) => {
                let at = Point { x: Length::ZERO, y: told.height };
                told.marks.extend(setting.at(at).map(|mark| in_block(mark, AT_ONCE)));
                told.height += setting.height;
            }
            None => found.push(does_not_fit(&words.words(), Span::NOWHERE, asked, "wide", width)),
        }
        let y = told.height + layout.air(GAP);
        told.marks.extend(
            scale_bar(self.pen, layout, Point { x: Length::ZERO, y }).into_iter().map(|mark| in_block(mark, AT_BAR)),
        );
        told.height = y + bar_words(layout) + style.tail() + layout.air(AIR);
        told
    }

    /// What stands beside the title there: the edition is said large already.
    pub(super) fn beside_column(&self, number: &str) -> Text {
        let said: Vec<Imprint> = self.layout.head.iter().copied().filter(|said| *said != Imprint::Edition).collect();
        row(&said, &self.told, number)
    }

    /// Plan, edition and code large over the column beside, and the title below them.
    pub(super) fn sheet_head(&self, column: &BesideColumn, title: &str, number: &str) -> Vec<Mark> {
        let (layout, right) = (self.layout, column.left + column.width);
        let sized = |size: Length| Style { size: layout.air(size), role: Role::Foot, ..Style::bold(200, Role::Foot) };
        let text = |is_of_edition: bool| -> String {
            let runs = self.told.edition.runs.iter().filter(|run| run.is_of_edition == is_of_edition);
            runs.map(|run| run.text.as_str()).collect::<String>().trim().to_owned()
        };
        let code = Imprint::Code.text(&self.told, "");
        let words = Imprint::Words.text(&self.told, "");
        let (plain, small) =
            (Style { size: layout.air(Length::pt(11)), ..layout.style(Role::Foot) }, layout.style(Role::Foot));
        let invented = Text::own(self.told.invented.unwrap_or_default());
        let edition = Text::strong(text(true), Span::NOWHERE);
        let lines = [(edition, sized(Length::pt(14))), (code, plain), (words, small), (invented, small)];
        let widths = lines.iter().map(|(text, style)| self.pen.line_width(text, *style));
        let widest = widths.fold(Length::ZERO, Length::max);
        let top = self.safe.top + self.opening() + layout.air(AIR) * 2;
        // The title is told first.
        let title_style = layout.style(Role::Title);
        let baseline = column.top - layout.air(AIR) * 2 - title_style.tail();
        let title = self.pen.write(title, title_style, Span::NOWHERE, Point { x: column.left, y: baseline });
        let mut marks = vec![Mark::Glyphs(title)];
        let mut say = |runs: Vec<Glyphs>| marks.extend(runs.into_iter().map(Mark::Glyphs));
        let short = Text::own(text(false));
        let room = column.width - widest - layout.air(GAP);
        let sizes = [36, 30, 24, 18, 14].map(|size| sized(Length::pt(size)));
        let large = sizes
            .into_iter()
            .find(|style| self.pen.line_width(&short, *style) <= room)
            .unwrap_or(sized(Length::pt(10)));
        say(self.pen.line(&short, large, Point { x: column.left, y: top + large.capital() }));
        let mut y = top;
        for (text, style) in &lines {
            y += style.capital();
            say(self.pen.line(text, *style, Point { x: right - self.pen.line_width(text, *style), y }));
            y += layout.air(AIR) * 2;
        }
        let beside = self.beside_column(number);
        let x = right - self.foot_width(&beside);
        say(self.pen.line(&beside, small, Point { x, y: baseline }));
        marks.push(across(column.left, right, column.top - layout.air(AIR) / 2, RULE));
        marks
    }
}

/// A mark as part of a block of what is read aloud.
const fn in_block(mut mark: Mark, block: u32) -> Mark {
    if let Mark::Glyphs(glyphs) = &mut mark {
        glyphs.place.block = block;
    }
    mark
}
