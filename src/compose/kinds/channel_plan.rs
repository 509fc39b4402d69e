//! The incident's channel plan in the six blocks of ICS 205, of which the fourth is the table; for the binder at the operations centre.

use crate::audience::View;
use crate::compose::block::{Block, Cell, Column, FieldBlock, FieldLine, FormBlock, Role, Row, Section, Text};
use crate::compose::channel_words::{
    emission, in_order, minded, name_text, narrow, place, row_number, senses, service, tone_cell, tuned, warning, way,
};
use crate::compose::duty_words::period_in_zone;
use crate::compose::foot::who;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{At, Audience, Frequency, Span, Words};
use crate::plan::{Channel, Each, FieldColumn, FieldRoom, Mode, WidthWord, subject};
use crate::tables::Tables;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "channel-plan",
    title: "Channel plan",
    about: "the incident's channels in the columns of ICS 205",
    layout: "full-wide",
    each: &[Each::Once],
    widest: Audience::Public,
    sections: &["plan"],
    tables: &[&PLAN],
    compose: Compose::View(compose),
};

/// The fourth block of the form.
const PLAN: TableKind = TableKind {
    key: "plan",
    columns: &[
        Column::must("row", "ch", Role::Number),
        Column::must("function", "function", Role::Body),
        Column::must("name", "channel name", Role::Name),
        Column::must("assignment", "assignment", Role::Body),
        Column::must("rx", "RX MHz", Role::Hear),
        Column::must("rx-tone", "RX tone", Role::Tone),
        Column::must("tx", "TX MHz", Role::Send),
        Column::must("tx-tone", "TX tone", Role::Tone),
        Column::must("mode", "mode", Role::Body),
        Column::must("remarks", "remarks", Role::Body),
    ],
    set: UsualSet::Grid,
};

fn compose(view: &View<'_>) -> Vec<Section> {
    let rows = in_order(view.plan()).into_iter().map(|channel| row(channel, view)).collect();
    let table = PLAN.of(rows, "The plan has no channel.");
    let blocks = vec![Block::Form(head(view)), table, Block::Form(foot(view))];
    vec![Section { key: "plan", title: Text::own("4. Basic radio channel use"), blocks }]
}

fn row(channel: &Channel, view: &View<'_>) -> Row {
    let cell = |key, text| PLAN.cell(key, text);
    let optional = |words: &Option<At<Words>>| {
        words.as_ref().map_or_else(|| Text::plain("any", channel.span), |words| Text::plain(words.as_str(), words.span))
    };
    let tx = channel.send.as_ref().map_or_else(
        || Cell { text: Text::plain("do not send", channel.span), role: Role::Word, base: Some("off".to_owned()) },
        |send| frequency(channel, send.value, send.span, Role::Send),
    );
    let cells = vec![
        cell("row", Text::plain(row_number(channel), channel.span)),
        cell("function", optional(&channel.function)),
        cell("name", name_text(channel)),
        cell("assignment", optional(&channel.assignment)),
        ("rx", frequency(channel, channel.hear.value, channel.hear.span, Role::Hear)),
        ("rx-tone", narrow(tone_cell(channel.hear_tone.value, channel.hear_tone.span), channel.hear_tone.value)),
        ("tx", tx),
        ("tx-tone", sent_tone(channel)),
        cell("mode", Text::plain(mode_letter(channel), channel.span)),
        cell("remarks", with_dial(channel, remarks(channel, view))),
    ];
    Row { label: row_number(channel), record: Some(subject(channel)), span: channel.span, cells }
}

/// What a dial reads, for where only megahertz are asked for: `dial 3985.0 kHz`.
pub(in crate::compose) fn on_the_dial(channel: &Channel, value: Frequency) -> Option<String> {
    channel.side().map(|_| format!("dial {} kHz", value.to_khz()))
}

/// Remarks that begin with what the dial reads: in the columns of frequencies points stand below each other.
fn with_dial(channel: &Channel, remarks: Text) -> Text {
    match on_the_dial(channel, channel.hear.value) {
        Some(dial) => Text::plain(format!("{dial} "), channel.hear.span).then_text(remarks),
        None => remarks,
    }
}

/// `146.9400 W`: the column carries the width as N or W where the mode has one.
fn frequency(channel: &Channel, value: Frequency, span: Span, role: Role) -> Cell {
    let width = match (channel.signal.mode.value, channel.signal.width.value) {
        (Mode::Fm, WidthWord::Wide) => " W",
        (Mode::Fm, WidthWord::Narrow) => " N",
        _ => "",
    };
    Cell {
        text: Text::plain(format!("{}{width}", value.to_mhz()), span),
        role,
        base: Some(value.as_hertz().to_string()),
    }
}

fn sent_tone(channel: &Channel) -> Cell {
    if channel.send.is_none() {
        return Cell { text: Text::plain("do not send", channel.span), role: Role::Word, base: Some("off".to_owned()) };
    }
    narrow(tone_cell(channel.send_tone.value, channel.send_tone.span), channel.send_tone.value)
}

/// A, D or M as the form asks.
pub(in crate::compose) fn mode_letter(channel: &Channel) -> &'static str {
    let is_narrow = channel.signal.width.value == WidthWord::Narrow;
    let form = Tables::built_in().modes.form(channel.signal.mode.value.word(), is_narrow);
    form.map_or("A", |form| if form.class == "D" { "D" } else { "A" })
}

/// Side of an HF dial, where the signal goes, power, who may send.
pub(in crate::compose) fn remarks(channel: &Channel, view: &View<'_>) -> Text {
    let mut text = match channel.side() {
        Some(side) => {
            let about = channel.around.map(|around| format!(", about there, \u{b1}{}", around.value));
            Text::plain(format!("{}{}", side.word(), about.unwrap_or_default()), channel.hear.span)
        }
        None => {
            let whereto = place(channel, view.plan());
            let span = whereto.as_ref().map_or(channel.span, |text| text.span);
            // The column of the mode has a letter alone.
            let is_named = !matches!(channel.signal.mode.value, Mode::Fm | Mode::Am);
            let set = is_named.then(|| emission(channel)).into_iter().chain(tuned(channel));
            let whereto = whereto.map(|text| text.words()).unwrap_or_default();
            let words = std::iter::once(way(channel).to_owned()).chain(set).chain([whereto]);
            Text::plain(words.filter(|part| !part.is_empty()).collect::<Vec<_>>().join(", "), span)
        }
    };
    for words in senses(channel, channel.send.is_some()).into_iter().chain(service(channel, view)) {
        text = text.then(format!(", {words}"));
    }
    if let Some(power) = &channel.power {
        text = text.then(format!(", {}", power.value));
    }
    if let Some(published) = channel.published() {
        text = text.then(format!(", as published: {}", published.cite.source));
    }
    if let Some(warning) = minded(channel, warning(channel, view)) {
        text = text.then(", ");
        text.runs.extend(warning.runs);
    }
    text.runs.retain(|run| !run.text.is_empty());
    text
}

fn head(view: &View<'_>) -> FormBlock {
    let plan = view.plan();
    let incident = plan.incident.as_ref();
    let name = incident.map(|incident| {
        let number = incident.number.as_ref().map(|number| format!(", {}", number.value)).unwrap_or_default();
        Text::plain(format!("{}{number}", incident.name.value), incident.name.span)
    });
    let period = incident
        .map(|incident| Text::plain(period_in_zone(incident.from.value, incident.to.value, plan), incident.from.span));
    let issued = plan.edition.as_ref().map(|edition| Text::of_edition(edition.issued.to_string(), edition.issued.span));
    let field = |number, label: &str, share, filled| one_line(number, label, share, filled);
    FormBlock {
        lines: vec![FieldLine {
            title: None,
            begins_page: false,
            is_added: false,
            fields: vec![
                field(1, "Incident name", 5, name),
                field(2, "Date prepared", 2, issued),
                field(3, "Operational period", 5, period),
            ],
        }],
    }
}

fn foot(view: &View<'_>) -> FormBlock {
    let plan = view.plan();
    let edition = plan.edition.as_ref();
    let prepared = edition.and_then(|edition| who(&edition.prepared_by, view));
    let approved = edition.and_then(|edition| who(&edition.approved_by, view));
    // The rest of the page is there to be written on.
    let columns = vec![FieldColumn::new(String::new(), 12)];
    let room = FieldRoom { is_filling: true, columns, rows_key: None, ..FieldRoom::lines(2) };
    let special = FieldBlock { room, ..one_line(5, "Special instructions", 12, None) };
    let signed = vec![
        one_line(6, "Prepared by", 3, prepared),
        FieldBlock { number: None, ..one_line(6, "Signature", 3, None) },
        FieldBlock { number: None, ..one_line(6, "Date and time signed", 3, None) },
        FieldBlock { number: None, ..one_line(6, "Edition approved by", 3, approved) },
    ];
    let line = |fields| FieldLine { title: None, begins_page: false, is_added: false, fields };
    FormBlock { lines: vec![line(vec![special]), line(signed)] }
}

fn one_line(number: u16, label: &str, share: u8, filled: Option<Text>) -> FieldBlock {
    let number = Some(number.to_string());
    FieldBlock {
        number,
        label: Text::own(label),
        help: None,
        share,
        room: FieldRoom::lines(1),
        filled,
        ticked: Vec::new(),
        cells: Vec::new(),
    }
}
