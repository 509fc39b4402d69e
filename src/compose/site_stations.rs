//! Repeaters and gateways that stand at a place, with what they send and hear, whether somebody is at them, and who controls them.

use super::block::{Block, Cell, Column, Role, Row, Section, Text};
use super::channel_words::{in_order, tied, tone_cell};
use super::foot::{member_words, named_to};
use super::kind::{TableKind, UsualSet};
use super::power_words::body;
use crate::audience::View;
use crate::ground::{At, CallSign, Frequency, Span};
use crate::plan::{Channel, Control, Evidence, Gateway, Place, Plan, Ref, Repeater, Route, subject};

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

/// What works there by itself, then what somebody is at; nothing of a kind that does not stand there. The title comes from what is said.
pub(super) fn stations(place: &Place, titled: impl Fn(&str) -> Text, view: &View<'_>) -> Vec<Section> {
    let plan = view.plan();
    let is_here = |at: Option<&At<Ref<Place>>>| at.is_some_and(|at| *at.value == place.id.value);
    let is_attended = |one: &&Gateway| one.control.value == Control::Attended;
    let repeaters: Vec<&Repeater> = plan.repeaters.iter().filter(|one| is_here(one.place.as_ref())).collect();
    let gateways = plan.gateways.iter().filter(|one| is_here(one.place.as_ref()));
    let (attended, alone): (Vec<&Gateway>, Vec<&Gateway>) = gateways.partition(is_attended);
    let rows = |repeaters: &[&Repeater], gateways: &[&Gateway]| -> (Vec<Row>, Vec<Block>) {
        let rows = repeaters.iter().map(|one| of_repeater(one, plan));
        let signs = repeaters.iter().map(|one| (one.name.as_str(), one.call.as_ref()));
        let signs = signs.chain(gateways.iter().map(|one| (one.name.as_str(), Some(&one.call))));
        (
            rows.chain(gateways.iter().map(|one| of_gateway(one, plan))).collect(),
            controllers(signs.collect(), place, view),
        )
    };
    let section = |what: &str, (rows, controllers): (Vec<Row>, Vec<Block>), mind: &str| {
        let table = (!rows.is_empty()).then(|| STATIONS.of(rows, ""))?;
        let blocks = [table].into_iter().chain(controllers).chain([body(Text::own(mind))]).collect();
        Some(Section { key: "stations", title: titled(what), blocks })
    };
    let alone = section("Working by itself", rows(&repeaters, &alone), CONTROL);
    let attended = section("Attended", rows(&[], &attended), ATTENDED);
    alone.into_iter().chain(attended).collect()
}

/// Common practice, no source; whose station it is: of amateur stations 47 CFR 97.7, 97.103 and 97.109 say so, and not the building.
const CONTROL: &str = "A station is controlled by whoever holds its call sign, or acts for them; not by the building. Nobody switches anything there \
                       on the own account: tell net control what you see.";
/// The same of one at whose controls somebody is.
const ATTENDED: &str = "A station is controlled by whoever holds its call sign, or acts for them; not by the building. It sends while somebody is at \
                        its controls: switch it off before you leave it alone.";

/// `Who controls Water Tower, WZ7QUS: WZ7QRA Odile Brandt`, by the members' own call signs; in large words that it is unknown, of those
/// that nobody of the plan holds.
fn controllers(signs: Vec<(&str, Option<&At<CallSign>>)>, place: &Place, view: &View<'_>) -> Vec<Block> {
    let named = |(name, call): &(&str, Option<&At<CallSign>>)| {
        call.map_or_else(|| (*name).to_owned(), |call| format!("{name}, {}", call.value))
    };
    let holder = |call: Option<&At<CallSign>>| {
        let base = call?.base();
        view.plan().members.iter().find(|member| member.call.as_ref().is_some_and(|own| own.base() == base))
    };
    let (mut blocks, mut unknown) = (Vec::new(), Vec::new());
    for one in &signs {
        match holder(one.1) {
            Some(member) => {
                let words = view.name(member).map_or_else(|| named_to(member, view), |_| member_words(member));
                let text = Text::strong(format!("Who controls {}: ", named(one)), place.span);
                blocks.push(body(text.then_text(Text::plain(words, member.span))));
            }
            None => unknown.push(named(one)),
        }
    }
    if !unknown.is_empty() {
        blocks.push(body(Text::strong(format!("Who controls {}:", unknown.join("; ")), place.span)));
        blocks.push(Block::Heading(Text::strong("UNKNOWN: ask the coordinator", place.span)));
    }
    blocks
}

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
