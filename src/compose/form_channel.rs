//! A channel in the cells of a form, as a field radio is set: what it hears and sends with every decimal, N or W, tones, A or D. No
//! cell is left blank where a blank would mean something.

use super::block::{Cell, Role, Text};
use super::channel_words::{name_text, narrow, row_number, tone_cell};
use super::kinds::{channel_mode_letter, channel_remarks, on_the_dial};
use crate::audience::View;
use crate::ground::{At, Decimal, Frequency, Span, Words};
use crate::plan::{Channel, Mode, Route, RowValue, WidthWord};

/// The cell of one value; none where the plan says nothing of it and nothing is meant by that.
pub(super) fn channel_cell(channel: &Channel, value: RowValue, view: &View<'_>) -> Option<Cell> {
    let body = |text: Text| Some(Cell { text, role: Role::Body, base: None });
    let own = |words: &str| body(Text::plain(words, channel.span));
    let any = |words: &Option<At<Words>>| {
        body(
            words
                .as_ref()
                .map_or_else(|| Text::plain("any", channel.span), |words| Text::plain(words.as_str(), words.span)),
        )
    };
    match value {
        RowValue::ChannelRow => own(&row_number(channel)),
        RowValue::ChannelFunction => any(&channel.function),
        RowValue::ChannelName => Some(Cell { text: name_text(channel), role: Role::Name, base: None }),
        RowValue::ChannelAssignment => any(&channel.assignment),
        RowValue::ChannelRx => Some(frequency(channel, channel.hear.value, channel.hear.span, Role::Hear)),
        RowValue::ChannelRxTone => {
            Some(narrow(tone_cell(channel.hear_tone.value, channel.hear_tone.span), channel.hear_tone.value))
        }
        RowValue::ChannelTx => Some(
            channel
                .send
                .as_ref()
                .map_or_else(|| do_not_send(channel), |send| frequency(channel, send.value, send.span, Role::Send)),
        ),
        RowValue::ChannelTxTone => Some(match channel.send {
            None => do_not_send(channel),
            Some(_) => narrow(tone_cell(channel.send_tone.value, channel.send_tone.span), channel.send_tone.value),
        }),
        RowValue::ChannelMode => own(channel_mode_letter(channel)),
        RowValue::ChannelRemarks => body(channel_remarks(channel, view)),
        RowValue::ChannelBand => {
            let bands = &view.profile().bands;
            let band = bands.iter().find(|band| band.edges.has(channel.hear.value));
            own(band.map_or("other service", |band| band.name.as_str()))
        }
        RowValue::ChannelConfiguration => own(configuration(channel)),
        RowValue::ChannelUsers => own(&users(channel, view)),
        _ => None,
    }
}

fn do_not_send(channel: &Channel) -> Cell {
    Cell { text: Text::plain("do not send", channel.span), role: Role::Word, base: Some("off".to_owned()) }
}

/// `146.9400 W`: four decimals or as many as the value has, and N or W where the mode has one; of a dial its kilohertz too.
fn frequency(channel: &Channel, value: Frequency, span: Span, role: Role) -> Cell {
    let width = match (channel.signal.mode.value, channel.signal.width.value) {
        (Mode::Fm, WidthWord::Wide) => " W",
        (Mode::Fm, WidthWord::Narrow) => " N",
        _ => "",
    };
    let hertz = i64::try_from(value.as_hertz()).unwrap_or(i64::MAX);
    let dial = on_the_dial(channel, value).map(|dial| format!(" {dial}")).unwrap_or_default();
    let text = Text::plain(format!("{}{width}{dial}", Decimal::print(hertz, 1_000_000, 4)), span);
    Cell { text, role, base: Some(value.as_hertz().to_string()) }
}

/// How stations reach each other on it.
const fn configuration(channel: &Channel) -> &'static str {
    match &channel.route {
        Route::Repeater(_) => "repeater",
        Route::Gateway(_) => "gateway",
        Route::Direct(_) => "direct",
        Route::Simplex => "simplex",
        Route::Dial(_) => "dial, simplex",
        Route::Split => "two frequencies",
        Route::ListenOnly => "listen only",
    }
}

/// The lowest class that may send, or the service whose authority that takes.
fn users(channel: &Channel, view: &View<'_>) -> String {
    if channel.send.is_none() {
        return "anybody may listen".to_owned();
    }
    if !channel.service.is_amateur() {
        return format!("{}, with its authority", channel.service.name);
    }
    match view.eligibility(None).on(channel).least() {
        Some(class) => format!("amateur, {} and up", class.name),
        None => "no class may send".to_owned(),
    }
}
