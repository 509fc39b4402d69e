//! What stands at a place and works by itself: repeaters and gateways, with what they send and hear, and who controls them.

use super::block::{Cell, Column, Role, Row, Section, Text};
use super::channel_words::{in_order, tied, tone_cell};
use super::kind::{TableKind, UsualSet};
use super::power_words::body;
use super::site_facts::asked;
use crate::audience::View;
use crate::ground::{Frequency, Span};
use crate::plan::{Channel, Evidence, Gateway, Place, Plan, Repeater, Route, subject};

/// Repeaters and gateways of a place.
pub(super) const STATIONS: TableKind = TableKind {
    key: "site-stations",
    columns: &[
        Column::must("name", "what", Role::Name),
        Column::must("sends", "it sends", Role::Hear),
        Column::must("hears", "it hears", Role::Send),
        Column::must("opens", "opened by", Role::Tone),
        Column::must("call", "says", Role::Call),
        Column::must("channels", "channels", Role::Body),
        Column::must("power", "on its own power", Role::Body),
        Column::must("tried", "last tried", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// The section; none where nothing works there by itself.
pub(super) fn stations(place: &Place, title: Text, view: &View<'_>) -> Option<Section> {
    let plan = view.plan();
    let is_here =
        |at: Option<&crate::ground::At<crate::plan::Ref<Place>>>| at.is_some_and(|at| *at.value == place.id.value);
    let repeaters = plan.repeaters.iter().filter(|one| is_here(one.place.as_ref())).map(|one| of_repeater(one, plan));
    let gateways = plan.gateways.iter().filter(|one| is_here(one.place.as_ref())).map(|one| of_gateway(one, plan));
    let rows: Vec<Row> = repeaters.chain(gateways).collect();
    if rows.is_empty() {
        return None;
    }
    let controls = Text::strong("Who controls them: ", place.span);
    let controls = match asked(place, view) {
        Some(who) => controls.then("ask ").then_text(who),
        None => controls.then_strong("UNKNOWN: ask the coordinator"),
    };
    Some(Section { key: "stations", title, blocks: vec![STATIONS.of(rows, ""), body(controls.then(CONTROL))] })
}

/// Common practice, no source.
const CONTROL: &str = ". Nobody switches anything there on the own account: tell net control what you see.";

fn of_repeater(one: &Repeater, plan: &Plan) -> Row {
    let hears = match &*one.input {
        Some(input) => dialled(input.value, input.span, Role::Send),
        None => word("unknown", one.input.span),
    };
    let tones = one.tones.tone_in.all().map(|tone| tone_cell(tone.value, tone.span)).collect::<Vec<_>>();
    let opens = match tones.as_slice() {
        [only] => only.clone(),
        _ => word(&one.tones.tone_in.words(), one.span),
    };
    let is_on = |channel: &Channel| channel.repeater().is_some_and(|id| id.value == one.id.value);
    let cells = vec![
        STATIONS.cell("name", Text::plain(one.name.as_str(), one.name.span)),
        ("sends", dialled(one.output.value, one.output.span, Role::Hear)),
        ("hears", hears),
        ("opens", opens),
        said(one.call.as_ref().map(|call| call.to_string()), "call", one.span),
        STATIONS.cell("channels", Text::plain(channels(plan, is_on), one.span)),
        said(one.backup_power.map(|long| long.value.to_string()), "power", one.span),
        STATIONS.cell("tried", tried(one.verified.as_ref(), one.span)),
    ];
    Row { label: String::new(), record: Some(subject(one)), span: one.span, cells }
}

fn of_gateway(one: &Gateway, plan: &Plan) -> Row {
    let all: Vec<String> = one.frequency.all().skip(1).map(|at| at.value.to_mhz()).collect();
    let name = Text::plain(one.name.as_str(), one.name.span);
    let is_on = |channel: &Channel| matches!(&channel.route, Route::Gateway(id) if id.value == one.id.value);
    let also = if all.is_empty() { String::new() } else { format!("; also on {}", all.join(", ")) };
    let cells = vec![
        STATIONS.cell("name", name),
        ("sends", dialled(one.frequency.value.value, one.frequency.span, Role::Hear)),
        ("hears", dialled(one.frequency.value.value, one.frequency.span, Role::Send)),
        ("opens", word("off", one.span)),
        said(Some(one.call.to_string()), "call", one.call.span),
        STATIONS.cell("channels", Text::plain(format!("{}{also}", channels(plan, is_on)), one.span)),
        said(one.backup_power.map(|long| long.value.to_string()), "power", one.span),
        STATIONS.cell("tried", tried(one.verified.as_ref(), one.span)),
    ];
    Row { label: String::new(), record: Some(subject(one)), span: one.span, cells }
}

fn dialled(at: Frequency, span: Span, role: Role) -> Cell {
    Cell { text: Text::plain(at.to_mhz(), span), role, base: Some(at.as_hertz().to_string()) }
}

fn word(words: &str, span: Span) -> Cell {
    Cell { text: Text::plain(words, span), role: Role::Word, base: None }
}

/// What the plan says of it, or that it is not known.
fn said(words: Option<String>, key: &'static str, span: Span) -> (&'static str, Cell) {
    STATIONS.cell(key, words.map_or_else(|| Text::strong("UNKNOWN", span), |words| Text::plain(words, span)))
}

/// The channels that go through it.
fn channels(plan: &Plan, is_on: impl Fn(&Channel) -> bool) -> String {
    let names = in_order(plan).into_iter().filter(|channel| is_on(channel)).map(|one| tied(one.name.as_str()));
    let names: Vec<String> = names.collect();
    if names.is_empty() { "none of the plan".to_owned() } else { names.join(", ") }
}

fn tried(seen: Option<&Evidence>, span: Span) -> Text {
    seen.map_or_else(|| Text::strong("UNKNOWN", span), |seen| Text::plain(seen.on.value.to_string(), seen.on.span))
}
