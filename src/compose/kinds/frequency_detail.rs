//! Each crowded stretch of a band by itself, drawn so large that the width of every signal is true: what lies how near to what.

use crate::audience::View;
use crate::compose::block::{Block, Paragraph, Role, Section, Strip, StripMark, Text};
use crate::compose::channel_words::{in_order, name_text, occupied};
use crate::compose::kind::{Compose, Kind};
use crate::compose::scale::{axis, dialled, edge_unit, ticks};
use crate::ground::{Audience, Frequency, Span};
use crate::plan::{Channel, Each};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "frequency-detail",
    title: "Crowded stretches",
    about: "each crowded stretch by itself, with the true width of every signal",
    layout: "chart",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["stretches"],
    tables: &[],
    compose: Compose::View(compose),
};

/// Signals further apart than this are no crowd.
const FAR: i64 = 60_000;
/// White beside the outermost signals, and the step to which the ends are rounded.
const BESIDE: i64 = 8_000;
const STEP: i64 = 5_000;

/// A signal of the plan.
struct CrowdedSignal<'a> {
    at: i64,
    from: i64,
    to: i64,
    channel: &'a Channel,
    span: Span,
    word: &'static str,
}

fn compose(view: &View<'_>) -> Vec<Section> {
    let mut signals: Vec<CrowdedSignal<'_>> =
        in_order(view.plan()).into_iter().flat_map(|channel| signals(view, channel)).collect();
    signals.sort_by_key(|signal| (signal.from, signal.to, signal.channel.id.value.clone()));
    let mut blocks: Vec<Block> = crowds(&signals).into_iter().filter_map(strip).map(Block::Strip).collect();
    let note = if blocks.is_empty() {
        "No two signals of the plan lie within 60 kHz of each other."
    } else {
        "Signals within 60 kHz of each other, as wide as they are. What is white between two is what parts them; tolerance of radios is not drawn."
    };
    blocks.insert(0, Block::Paragraph(Paragraph { text: Text::own(note), role: Role::Small }));
    vec![Section { key: "stretches", title: Text::own("Crowded stretches"), blocks }]
}

fn signals<'a>(view: &View<'_>, channel: &'a Channel) -> Vec<CrowdedSignal<'a>> {
    let is_one = channel.send.is_some_and(|send| send.value == channel.hear.value);
    let word = if is_one { "both" } else { "hear" };
    let signal = |frequency: Frequency, span: Span, word: &'static str| {
        let stretch = occupied(channel, frequency, view)?;
        let (from, to) = (axis(stretch.low()), axis(stretch.high()));
        Some(CrowdedSignal { at: axis(frequency), from, to, channel, span, word })
    };
    let sent = channel.send.filter(|_| !is_one).and_then(|send| signal(send.value, send.span, "send"));
    signal(channel.hear.value, channel.hear.span, word).into_iter().chain(sent).collect()
}

/// Signals near to each other, where there are two different ones at least.
fn crowds<'a, 'b>(signals: &'b [CrowdedSignal<'a>]) -> Vec<&'b [CrowdedSignal<'a>]> {
    let groups = signals.chunk_by(|a, b| b.from - a.to < FAR);
    groups.filter(|group| group.iter().any(|signal| group.first().is_some_and(|first| first.at != signal.at))).collect()
}

fn strip(crowd: &[CrowdedSignal<'_>]) -> Option<Strip> {
    let low = (crowd.iter().map(|signal| signal.from).min()? - BESIDE).div_euclid(STEP) * STEP;
    let high = -(-(crowd.iter().map(|signal| signal.to).max()? + BESIDE)).div_euclid(STEP) * STEP;
    let gap = crowd.windows(2).filter_map(|pair| match pair {
        [one, other] if one.at != other.at => Some(other.from - one.to),
        _ => None,
    });
    let gap = gap.min().unwrap_or(0);
    let subtitle = match gap {
        1.. => format!("the nearest two are {} kHz apart, edge to edge", thousandths(gap)),
        _ => "two of them touch or overlap".to_owned(),
    };
    Some(Strip {
        key: format!("{low}-{high}"),
        title: Text::own(format!("{} to {}", edge_unit(low), edge_unit(high))),
        subtitle: Text::own(subtitle),
        low,
        high,
        ticks: ticks(low, high),
        is_even: true,
        areas: Vec::new(),
        marks: crowd.iter().map(mark).collect(),
        joins: Vec::new(),
    })
}

fn mark(signal: &CrowdedSignal<'_>) -> StripMark {
    let CrowdedSignal { at, from, to, channel, span, word } = *signal;
    let frequency = Frequency::hertz(u64::try_from(at).unwrap_or(0)).map(dialled).unwrap_or_default();
    StripMark { at, from, to, name: name_text(channel), detail: Text::plain(format!("{frequency} {word}"), span) }
}

/// `12.5`, `14`.
fn thousandths(hertz: i64) -> String {
    let digits = format!("{}.{:03}", hertz / 1000, hertz % 1000);
    digits.trim_end_matches('0').trim_end_matches('.').to_owned()
}
