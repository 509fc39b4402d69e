//! What stands on the lines of a foot, before anything of it is measured.

use super::imprint::Imprint;
use super::layout::Layout;
use crate::compose::block::{Foot, Text};
use crate::ground::Span;

/// As wide as the number of any page.
pub(super) const WIDE_NUMBER: &str = "page 888 of 888";

/// Whether the foot of a layout says the number of its panel.
pub(super) fn says_number(layout: &Layout) -> bool {
    layout.foot.iter().flatten().flatten().any(|said| *said == Imprint::Number)
}

/// What is to stand on a line of the foot.
pub(super) struct FootTexts {
    pub texts: Vec<Text>,
    /// What the last of them says where the whole of it does not fit.
    pub short: Option<Text>,
}

/// The lines that the layout arranges. A copy's own code, and that a plan is invented, stand beside the last of them where nothing else
/// does, else below it; on a page the own code stands beside the other one, and so it does where a front says the words of the code.
pub(super) fn foot_lines(layout: &Layout, foot: &Foot, has_front: bool) -> Vec<FootTexts> {
    let mut own = foot.own.as_ref().map(|letters| Text::own("own ").then_strong(letters.clone()));
    if says_number(layout) {
        let text = |said: &Vec<Imprint>| {
            let text = row(said, foot, WIDE_NUMBER);
            match own.clone().filter(|_| said.contains(&Imprint::Code)) {
                Some(own) => text.then(", ").then_text(own),
                None => text,
            }
        };
        let line = |line: &Vec<Vec<Imprint>>| FootTexts { texts: line.iter().map(text).collect(), short: None };
        return layout.foot.iter().map(line).chain(real_line(foot)).collect();
    }
    let line = |line: &Vec<Vec<Imprint>>| {
        let says_code = line.last().is_some_and(|said| said.contains(&Imprint::Code));
        let short = (has_front && says_code).then(|| row(&[Imprint::Code], foot, ""));
        FootTexts { texts: line.iter().map(|said| row(said, foot, "")).collect(), short }
    };
    let mut lines: Vec<FootTexts> = layout.foot.iter().map(line).collect();
    if let Some(short) = lines.iter_mut().find_map(|line| line.short.as_mut())
        && let Some(own) = own.take()
    {
        *short = std::mem::take(short).then(", ").then_text(own);
    }
    // The own code is on no line but that.
    for line in lines.iter_mut().filter(|_| foot.own.is_some()) {
        if let (Some(last), Some(short)) = (line.texts.last_mut(), &line.short) {
            *last = short.clone();
        }
    }
    for words in own.into_iter().chain(foot.invented.map(Text::own)) {
        match lines.last_mut().and_then(|line| line.texts.last_mut()).filter(|text| text.is_empty()) {
            Some(right) => *right = words,
            None => lines.push(FootTexts { texts: vec![Text::own(""), words], short: None }),
        }
    }
    lines.extend(real_line(foot));
    lines
}

/// The words that mean a real emergency, on a line of their own.
fn real_line(foot: &Foot) -> Option<FootTexts> {
    let real = foot.exercise.as_ref()?.real.clone()?;
    Some(FootTexts { texts: vec![real], short: None })
}

/// Several in a row, with commas between.
pub(super) fn row(said: &[Imprint], foot: &Foot, number: &str) -> Text {
    // A code before its words needs no other word.
    if let [Imprint::Code, Imprint::Words] = said {
        let code = foot.read_back.as_ref();
        let strong =
            code.map(|code| Text::strong(code.letters.clone(), Span::NOWHERE).then(format!(" {}", code.words)));
        return strong.unwrap_or_else(|| Text::own(""));
    }
    let mut row: Option<Text> = None;
    for text in said.iter().map(|said| said.text(foot, number)).filter(|text| !text.is_empty()) {
        row = Some(match row {
            None => text,
            Some(row) => text.runs.into_iter().fold(row.then(", "), Text::and),
        });
    }
    row.unwrap_or_else(|| Text::own(""))
}
