//! A band as a strip: its channels on flags, pairs as brackets, the band plan as a ribbon, the law as thin rows.

use super::band_lanes::{Lanes, lanes};
use super::block::{FlagSign, Join, Saying, Strip, StripFlag, Text};
use super::channel_words::{about, hear_tone, name_text, occupied, row_number, tone};
use super::scale::{axis, dialled, edge, edge_unit, is_low, shift_words, ticks, unit_word};
use crate::audience::View;
use crate::ground::{Frequency, Stretch, Tone};
use crate::plan::{Channel, Route};
use crate::tables::{Band, Calling};

/// So many channels in so small a part of a band want that part by itself.
const CROWD: usize = 3;
const PART: (i64, i64) = (2, 5);

/// The strips of a band: the whole of it; before that, the part where all channels are, where that is a small one.
pub(super) fn band_strips(view: &View<'_>, band: &Band, channels: &[&Channel]) -> Vec<Strip> {
    let here: Vec<&Channel> = channels.iter().copied().filter(|channel| uses(channel, &band.edges)).collect();
    let lanes = lanes(view, band);
    let whole = whole(view, band, &here, &lanes);
    let Some((low, high)) = crowded(&here, band) else { return vec![whole] };
    let name = format!("{} to {}", edge(low), edge_unit(high));
    let part = Strip {
        title: whole.title.clone(),
        notes: [Some(Text::own(format!("{name}, enlarged"))), lanes.open.clone()].into_iter().flatten().collect(),
        ..whole.part(low, high)
    };
    let is_beyond = |flag: &&StripFlag| flag.at < low || flag.at > high;
    let all = axis(band.edges.low());
    let closed = lanes.closed.clone().map(|words| Saying { from: all, to: low, words });
    let enlarged = Saying { from: low, to: high, words: Text::own(format!("{name}: enlarged above")) };
    let rest = Strip {
        key: format!("{}-whole", band.id),
        // By its name too: it may open a page.
        title: whole.title.clone(),
        notes: vec![Text::own(format!("{} to {}, whole band", edge(all), edge_unit(axis(band.edges.high()))))],
        flags: whole.flags.iter().filter(is_beyond).cloned().collect(),
        joins: Vec::new(),
        sayings: whole.sayings.iter().cloned().chain(closed).chain([enlarged]).collect(),
        ..whole
    };
    vec![part, rest]
}

/// Whether a channel hears or sends in a stretch.
pub(super) fn uses(channel: &Channel, band: &Stretch) -> bool {
    std::iter::once(&channel.hear).chain(&channel.send).any(|frequency| band.has(frequency.value))
}

/// The round part of a band that holds all its channels, where they crowd in a small one.
fn crowded(here: &[&Channel], band: &Band) -> Option<(i64, i64)> {
    let (low, high) = (axis(band.edges.low()), axis(band.edges.high()));
    let both = here.iter().flat_map(|channel| std::iter::once(&channel.hear).chain(&channel.send));
    let used: Vec<i64> = both.filter(|at| band.edges.has(at.value)).map(|at| axis(at.value)).collect();
    let (first, last) = (*used.iter().min()?, *used.iter().max()?);
    let span = (last - first).max((high - low) / 20);
    let step = (0..9).map(|power| 10_i64.pow(power)).find(|step| span / step < 20)?;
    let from = ((first - span / 20).div_euclid(step) * step).max(low);
    let to = (-(-(last + span / 20)).div_euclid(step) * step).min(high);
    let is_small = (to - from) * PART.1 <= (high - low) * PART.0;
    (here.len() >= CROWD && is_small).then_some((from, to))
}

fn whole(view: &View<'_>, band: &Band, here: &[&Channel], lanes: &Lanes) -> Strip {
    let (low, high) = (axis(band.edges.low()), axis(band.edges.high()));
    let mut flags: Vec<StripFlag> = here.iter().flat_map(|channel| flags(view, channel, band)).collect();
    let profile = view.profile();
    let callings = profile.callings.iter().map(|row| (row, FlagSign::Filled));
    for (row, sign) in callings.chain(profile.emergencies.iter().map(|row| (row, FlagSign::Dotted))) {
        if band.edges.has(row.frequency) {
            sign_of(&mut flags, row, sign);
        }
    }
    flags.sort_by_key(|flag| (flag.at, flag.name.words()));
    Strip {
        key: band.id.clone(),
        title: Text::own(band.name.clone()),
        notes: std::iter::once(Text::own(format!("{} to {}", edge(low), edge_unit(high))))
            .chain(lanes.open.clone())
            .chain(lanes.closed.clone())
            .collect(),
        crowded: Text::own("in full: By frequency"),
        unit: unit_word(low).to_owned(),
        low,
        high,
        ticks: ticks(low, high),
        is_even: true,
        flags,
        join_name: "send, shift".to_owned(),
        joins: here.iter().filter_map(|channel| join(channel, band)).collect(),
        sayings: lanes.sayings.clone(),
        lanes: lanes.rows.clone(),
        ..Strip::default()
    }
}

/// A channel that stands where others call bears their sign; else the sign has a flag of its own.
fn sign_of(flags: &mut Vec<StripFlag>, row: &Calling, sign: FlagSign) {
    let at = axis(row.frequency);
    let mut is_own = false;
    for flag in flags.iter_mut().filter(|flag| flag.at == at) {
        flag.sign = sign;
        is_own = true;
    }
    if is_own {
        return;
    }
    let word = if sign == FlagSign::Dotted { "emergency".to_owned() } else { format!("{} calling", row.mode) };
    flags.push(StripFlag {
        at,
        from: at,
        to: at,
        sign,
        number: String::new(),
        name: Text::default(),
        // Nobody says the fourth place of such a frequency.
        figure: Text::own(
            dialled(row.frequency)
                .strip_suffix('0')
                .filter(|words| !is_low(at) && words.len() > 3)
                .map_or_else(|| dialled(row.frequency), str::to_owned),
        ),
        word: Text::own(word),
        detail: Text::default(),
    });
}

fn flags(view: &View<'_>, channel: &Channel, band: &Band) -> Vec<StripFlag> {
    let is_heard_here = band.edges.has(channel.hear.value);
    let hear = is_heard_here.then(|| (channel.hear.value, channel.side().map(|side| side.word().to_owned())));
    // Where one sends, a bracket says so; where it has no other end here, a flag does.
    let send = channel.send.filter(|send| !is_heard_here && band.edges.has(send.value));
    let send = send.map(|send| (send.value, Some("send".to_owned())));
    hear.into_iter().chain(send).map(|(at, word)| flag(view, channel, at, word)).collect()
}

/// The flag of a channel on a frequency, as wide as its signal.
pub(super) fn flag(view: &View<'_>, channel: &Channel, frequency: Frequency, word: Option<String>) -> StripFlag {
    let at = axis(frequency);
    let stretch = occupied(channel, frequency, view);
    let (from, to) = stretch.map_or((at, at), |stretch| (axis(stretch.low()), axis(stretch.high())));
    StripFlag {
        at,
        from,
        to,
        sign: FlagSign::Bar,
        number: row_number(channel),
        name: name_text(channel),
        figure: Text::plain(
            if channel.side().is_some() { frequency.to_khz() } else { dialled(frequency) },
            channel.hear.span,
        ),
        word: Text::plain(word.unwrap_or_default(), channel.span),
        detail: Text::plain(detail(view, channel), channel.span),
    }
}

/// Where the signal goes, and the tone that it takes.
fn detail(view: &View<'_>, channel: &Channel) -> String {
    let plan = view.plan();
    let place = match &channel.route {
        Route::Repeater(id) => {
            let other = plan.repeaters.get(&id.value).filter(|repeater| repeater.name.value != channel.name.value);
            other.map(|repeater| repeater.name.value.to_string())
        }
        Route::Gateway(id) => plan.gateways.get(&id.value).map(|gateway| gateway.name.value.to_string()),
        Route::ListenOnly => Some("listen only".to_owned()),
        _ => None,
    };
    let tone = match channel.send_tone.value {
        Tone::Unknown if channel.send.is_some() => Some("tone unknown".to_owned()),
        set if set.is_set() && channel.side().is_none() => {
            tone(channel).map(|cell| format!("tone {}", cell.text.words()))
        }
        _ => None,
    };
    let heard =
        hear_tone(channel).filter(|_| channel.send.is_none()).map(|cell| format!("hear tone {}", cell.text.words()));
    let parts: Vec<String> = place.into_iter().chain(about(channel)).chain(tone).chain(heard).collect();
    parts.join(", ")
}

fn join(channel: &Channel, band: &Band) -> Option<Join> {
    let send = channel.send.as_ref()?;
    let is_within = band.edges.has(send.value) && band.edges.has(channel.hear.value);
    let (down, up) = (axis(channel.hear.value), axis(send.value));
    (up != down && is_within).then(|| Join {
        down,
        up,
        name: name_text(channel),
        figure: Text::plain(dialled(send.value), send.span),
        shift: Text::plain(shift_words(up - down), send.span),
    })
}
