//! Each crowded stretch of a band so large that the width of every signal is true, all to one scale: what lies how near to what.

use crate::audience::View;
use crate::compose::band_strip::flag;
use crate::compose::block::{
    Align, Block, Cell, Column, Paragraph, Role, Row, Saying, Section, Strip, StripFlag, StripGap, StripScale, Text,
    Tick,
};
use crate::compose::channel_words::{in_order, name_text, occupied};
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::compose::scale::{axis, dialled, edge, unit_word};
use crate::ground::{Audience, Frequency};
use crate::plan::{Channel, Each};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "frequency-detail",
    title: "Crowded stretches",
    about: "the crowded stretches of the bands to one scale, with the true width of every signal",
    layout: "chart",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["stretches"],
    tables: &[&NEIGHBORS],
    compose: Compose::View(compose),
};

/// What lies beside what.
const NEIGHBORS: TableKind = TableKind {
    key: "neighbors",
    columns: &[
        Column::must("lower", "lower", Role::Name),
        Column::must("lower-at", "at", Role::Hear),
        Column::must("lower-does", "", Role::Word),
        Column::must("upper", "upper", Role::Name),
        Column::must("upper-at", "at", Role::Hear),
        Column::must("upper-does", "", Role::Word),
        Column::must("between", "between them", Role::Body).aligned(Align::End),
    ],
    set: UsualSet::ListOf(&["lower", "lower-at", "lower-does", "upper", "upper-at", "upper-does", "between"]),
};

/// Signals further apart than this are no crowd.
const FAR: i64 = 60_000;
/// White beside the outermost signals, and the step to which the ends are rounded.
const BESIDE: i64 = 6_000;
const STEP: i64 = 5_000;
/// The least that a line stands for, so that a single crowd is not drawn larger than helps.
const LEAST: i64 = 200_000;
/// Ticks with a label, and between them.
const LONG: i64 = 20_000;
const SHORT: i64 = 5_000;

/// A signal of the plan.
struct CrowdedSignal<'a> {
    at: i64,
    from: i64,
    to: i64,
    channel: &'a Channel,
    frequency: Frequency,
    word: &'static str,
}

fn compose(view: &View<'_>) -> Vec<Section> {
    let mut signals: Vec<CrowdedSignal<'_>> =
        in_order(view.plan()).into_iter().flat_map(|channel| signals(view, channel)).collect();
    signals.sort_by_key(|signal| (signal.from, signal.to, signal.channel.id.value.clone()));
    let crowds: Vec<Crowd<'_, '_>> = crowds(&signals).into_iter().filter_map(Crowd::of).collect();
    let mut blocks: Vec<Block> = strips(view, &crowds).into_iter().map(Strip::block).collect();
    let note = if blocks.is_empty() {
        format!("No two signals of the plan lie within {} kHz of each other.", FAR / 1000)
    } else {
        let far = FAR / 1000;
        format!(
            "Signals within {far} kHz of each other, as wide as they are, all to one scale. What is white between two is what parts them; tolerance of radios is not drawn."
        )
    };
    blocks.insert(0, Block::Paragraph(Paragraph { text: Text::own(note), role: Role::Small }));
    let rows = neighbors(&crowds);
    if !rows.is_empty() {
        blocks.push(Block::Heading(Text::own("What lies beside what, the nearest first")));
        blocks.push(NEIGHBORS.of(rows, ""));
    }
    vec![Section { key: "stretches", title: Text::own("Crowded stretches"), blocks }]
}

/// Each two signals that follow each other, the nearest first.
fn neighbors(crowds: &[Crowd<'_, '_>]) -> Vec<Row> {
    let mut pairs: Vec<(i64, [&CrowdedSignal<'_>; 2])> = Vec::new();
    for pair in crowds.iter().flat_map(|crowd| crowd.signals.windows(2)) {
        let [lower, upper] = pair else { continue };
        if lower.at != upper.at {
            pairs.push((upper.from - lower.to, [lower, upper]));
        }
    }
    pairs.sort_by_key(|(between, [lower, _])| (*between, lower.at));
    pairs.into_iter().map(neighbor).collect()
}

fn neighbor((between, [lower, upper]): (i64, [&CrowdedSignal<'_>; 2])) -> Row {
    let between = match between {
        1.. => format!("{} kHz", thousandths(between)),
        0 => "they touch".to_owned(),
        _ => format!("they overlap by {} kHz", thousandths(-between)),
    };
    let figure = |signal: &CrowdedSignal<'_>| {
        let words = format!("{} {}", dialled(signal.frequency), unit_word(signal.at));
        Cell { text: Text::plain(words, signal.channel.span), role: Role::Hear, base: None }
    };
    let cells = vec![
        NEIGHBORS.cell("lower", name_text(lower.channel)),
        ("lower-at", figure(lower)),
        NEIGHBORS.cell("lower-does", Text::own(lower.word)),
        NEIGHBORS.cell("upper", name_text(upper.channel)),
        ("upper-at", figure(upper)),
        NEIGHBORS.cell("upper-does", Text::own(upper.word)),
        NEIGHBORS.cell("between", Text::own(between)),
    ];
    Row { label: String::new(), record: None, span: lower.channel.span, cells }
}

fn signals<'a>(view: &View<'_>, channel: &'a Channel) -> Vec<CrowdedSignal<'a>> {
    let is_one = channel.send.is_some_and(|send| send.value == channel.hear.value);
    let word = if is_one { "both" } else { "hear" };
    let signal = |frequency: Frequency, word: &'static str| {
        let stretch = occupied(channel, frequency, view)?;
        let (from, to) = (axis(stretch.low()), axis(stretch.high()));
        Some(CrowdedSignal { at: axis(frequency), from, to, channel, frequency, word })
    };
    let sent = channel.send.filter(|_| !is_one).and_then(|send| signal(send.value, "send"));
    signal(channel.hear.value, word).into_iter().chain(sent).collect()
}

/// Signals near to each other, where there are two different ones at least.
fn crowds<'a, 'b>(signals: &'b [CrowdedSignal<'a>]) -> Vec<&'b [CrowdedSignal<'a>]> {
    let groups = signals.chunk_by(|a, b| b.from - a.to < FAR);
    groups.filter(|group| group.iter().any(|signal| group.first().is_some_and(|first| first.at != signal.at))).collect()
}

/// A crowd with the part of the axis that it takes.
struct Crowd<'a, 'b> {
    signals: &'b [CrowdedSignal<'a>],
    low: i64,
    high: i64,
}

impl<'a, 'b> Crowd<'a, 'b> {
    fn of(signals: &'b [CrowdedSignal<'a>]) -> Option<Self> {
        let low = (signals.iter().map(|signal| signal.from).min()? - BESIDE).div_euclid(STEP) * STEP;
        let high = -(-(signals.iter().map(|signal| signal.to).max()? + BESIDE)).div_euclid(STEP) * STEP;
        Some(Self { signals, low, high })
    }

    const fn span(&self) -> i64 {
        self.high - self.low
    }

    fn nearest(&self) -> String {
        let gap = self.signals.windows(2).filter_map(|pair| match pair {
            [one, other] if one.at != other.at => Some(other.from - one.to),
            _ => None,
        });
        match gap.min().unwrap_or(0) {
            gap @ 1.. => format!("nearest {} kHz apart", thousandths(gap)),
            _ => "two touch or overlap".to_owned(),
        }
    }
}

/// Crowds on as few lines as hold them in their order, all lines to one scale, with a break between two crowds.
fn strips(view: &View<'_>, crowds: &[Crowd<'_, '_>]) -> Vec<Strip> {
    let values = crowds.iter().map(Crowd::span).max().unwrap_or(0).max(LEAST);
    let mut lines: Vec<(i64, Vec<&Crowd<'_, '_>>)> = Vec::new();
    for crowd in crowds {
        let is_like =
            |of: &[&Crowd<'_, '_>]| of.first().is_some_and(|first| unit_word(first.low) == unit_word(crowd.low));
        match lines.last_mut().filter(|(taken, of)| *taken + crowd.span() <= values && is_like(of)) {
            Some((taken, of)) => {
                *taken += crowd.span();
                of.push(crowd);
            }
            None => lines.push((crowd.span(), vec![crowd])),
        }
    }
    let breaks = lines.iter().map(|(_, of)| of.len().saturating_sub(1)).max().unwrap_or(0);
    let scale = StripScale { values, breaks: u8::try_from(breaks).unwrap_or(u8::MAX) };
    lines.iter().filter_map(|(_, of)| strip(view, of, scale)).collect()
}

fn strip(view: &View<'_>, crowds: &[&Crowd<'_, '_>], scale: StripScale) -> Option<Strip> {
    let (low, high) = (crowds.first()?.low, crowds.last()?.high);
    let gaps = crowds.windows(2).filter_map(|pair| Some(StripGap { from: pair.first()?.high, to: pair.last()?.low }));
    let saying = |crowd: &&Crowd<'_, '_>| Saying { from: crowd.low, to: crowd.high, words: Text::own(crowd.nearest()) };
    Some(Strip {
        key: format!("{low}-{high}"),
        crowded: Text::own("in full: the frequency chart"),
        unit: unit_word(low).to_owned(),
        low,
        high,
        gaps: gaps.collect(),
        scale: Some(scale),
        ticks: crowds.iter().flat_map(|crowd| ticks(crowd)).collect(),
        flags: crowds.iter().flat_map(|crowd| crowd.signals).map(|signal| signal_flag(view, signal)).collect(),
        sayings: crowds.iter().map(saying).collect(),
        ..Strip::default()
    })
}

/// Ticks of one step on all lines, with a label at the ends of a crowd.
fn ticks(crowd: &Crowd<'_, '_>) -> Vec<Tick> {
    let at = (crowd.low / SHORT..=crowd.high / SHORT).map(|n| n * SHORT);
    let label = |at: i64| (at % LONG == 0 || at == crowd.low).then(|| edge(at));
    at.map(|at| Tick { at, label: label(at), is_middle: at % LONG == LONG / 2 }).collect()
}

fn signal_flag(view: &View<'_>, signal: &CrowdedSignal<'_>) -> StripFlag {
    let CrowdedSignal { at, from, to, channel, frequency, word } = *signal;
    StripFlag { at, from, to, detail: Text::default(), ..flag(view, channel, frequency, Some(word.to_owned())) }
}

/// `12.5`, `14`.
fn thousandths(hertz: i64) -> String {
    let digits = format!("{}.{:03}", hertz / 1000, hertz % 1000);
    digits.trim_end_matches('0').trim_end_matches('.').to_owned()
}
