//! What players know of an exercise beforehand: never what is brought into it, nor what is expected of them.

use super::site_sheet::used;
use crate::audience::View;
use crate::compose::block::{Block, Column, Role, Row, Section, Text};
use crate::compose::channel_words::{hear, in_order, name_text, row_number, send, tone};
use crate::compose::duty_words::period_in_zone;
use crate::compose::exercise_words::{body, real_words};
use crate::compose::form_values;
use crate::compose::kind::{Compose, Kind, TableKind, UsualSet};
use crate::ground::{At, Audience, Words};
use crate::plan::{Channel, Each, Exercise, Net, Place, subject};

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "player-plan",
    title: "Player plan",
    about: "what players know of an exercise: when, what for, the words of a real emergency, rules, nets, their channels with all that is dialled, and sites",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Team,
    sections: &["exercise", "objectives", "nets", "exercise-channels", "sites"],
    tables: &[&OBJECTIVES, &NETS, &CHANNELS, &SITES],
    compose: Compose::Exercise(compose),
};

const OBJECTIVES: TableKind = TableKind {
    key: "objectives",
    columns: &[Column::must("objective", "what the exercise is to show", Role::Body)],
    set: UsualSet::Grid,
};

const NETS: TableKind = TableKind {
    key: "exercise-nets",
    columns: &[
        Column::must("net", "net", Role::Name),
        Column::must("spoken", "said as", Role::Body),
        Column::must("channel", "channels, one after the other", Role::Name),
    ],
    set: UsualSet::Grid,
};

const CHANNELS: TableKind = TableKind {
    key: "exercise-channels",
    columns: &[
        Column::must("number", "no.", Role::Number),
        Column::must("name", "name", Role::Name),
        Column::must("hear", "hear", Role::Hear),
        Column::must("send", "send", Role::Send),
        Column::must("tone", "tone", Role::Tone),
        Column::must("spoken", "said as", Role::Body),
        Column::must("use", "use", Role::Body),
    ],
    set: UsualSet::Grid,
};

const SITES: TableKind = TableKind {
    key: "exercise-sites",
    columns: &[
        Column::must("site", "site", Role::Name),
        Column::must("code", "code", Role::Call),
        Column::may("forms", "forms that lie there", Role::Body).where_used(),
    ],
    set: UsualSet::Grid,
};

fn compose(view: &View<'_>, exercise: &Exercise) -> Vec<Section> {
    let plan = view.plan();
    let objective = |objective: &crate::plan::Objective| Row {
        label: String::new(),
        record: Some(subject(objective)),
        span: objective.name.span,
        cells: vec![OBJECTIVES.cell("objective", Text::plain(objective.name.as_str(), objective.name.span))],
    };
    let section = |key, title: &str, blocks| Section { key, title: Text::own(title), blocks };
    let sites = plan.places.iter().map(|place| site(place, view)).collect();
    vec![
        Section {
            key: "exercise",
            title: Text::plain(exercise.name.as_str(), exercise.name.span),
            blocks: about(view, exercise),
        },
        section(
            "objectives",
            "Objectives",
            vec![OBJECTIVES.of(plan.objectives.iter().map(objective).collect(), "No objective is written.")],
        ),
        section(
            "nets",
            "Nets",
            vec![NETS.of(plan.nets.iter().map(|n| net(n, view)).collect(), "The plan has no net.")],
        ),
        section("exercise-channels", "Channels", vec![channels(view)]),
        section("sites", "Sites", vec![SITES.of(sites, "The plan has no place.")]),
    ]
}

fn about(view: &View<'_>, exercise: &Exercise) -> Vec<Block> {
    let when = format!("From {}.", period_in_zone(exercise.from.value, exercise.to.value, view.plan()));
    let mut blocks = vec![real_words(exercise), body(Text::plain(when, exercise.from.span))];
    let mark = format!("Messages have the word {} at their precedence.", exercise.mark_word());
    blocks.push(body(Text::plain(mark, exercise.mark.map_or(exercise.name.span, |mark| mark.span))));
    let people = exercise.controllers.iter().filter_map(|id| crate::compose::foot::who(id, view));
    let people: Vec<String> = people.map(|text| text.words()).collect();
    blocks.extend((!people.is_empty()).then(|| body(Text::own(format!("Run by {}.", people.join(", "))))));
    blocks.extend(exercise.scope.as_ref().map(|scope| body(Text::plain(scope.as_str(), scope.span))));
    blocks.extend(sentences("Rules", &exercise.rules));
    blocks.extend(sentences("Safety", &exercise.safety));
    blocks
}

/// A heading and a paragraph each; nothing where nothing is written.
fn sentences(title: &str, list: &[At<Words>]) -> Vec<Block> {
    let heading = (!list.is_empty()).then(|| Block::Heading(Text::own(title)));
    let said = list.iter().map(|words| body(Text::plain(words.as_str(), words.span)));
    heading.into_iter().chain(said).collect()
}

fn net(net: &Net, view: &View<'_>) -> Row {
    let channel = form_values::channels(net, view.plan()).unwrap_or_else(|| Text::own("none"));
    let cells = vec![
        NETS.cell("net", Text::plain(net.name.as_str(), net.name.span)),
        NETS.cell("spoken", Text::plain(net.spoken.as_str(), net.spoken.span)),
        NETS.cell("channel", channel),
    ];
    Row { label: String::new(), record: Some(subject(net)), span: net.id.span, cells }
}

/// The channels of all nets, as they are dialled.
fn channels(view: &View<'_>) -> Block {
    let nets: Vec<&Net> = view.plan().nets.iter().collect();
    let row = |channel: &Channel| {
        let role = used(channel, &nets)?;
        let mut cells = vec![
            CHANNELS.cell("number", Text::own(row_number(channel))),
            CHANNELS.cell("name", name_text(channel)),
            ("hear", hear(channel)),
            ("send", send(channel, view)),
        ];
        cells.extend(tone(channel).map(|tone| ("tone", tone)));
        cells.push(CHANNELS.cell("spoken", Text::plain(channel.spoken.as_str(), channel.spoken.span)));
        cells.push(CHANNELS.cell("use", Text::own(role)));
        Some(Row { label: String::new(), record: Some(subject(channel)), span: channel.span, cells })
    };
    CHANNELS.of(in_order(view.plan()).into_iter().filter_map(row).collect(), "The nets have no channel.")
}

fn site(place: &Place, view: &View<'_>) -> Row {
    let held = view.plan().held_forms.iter().filter(|held| held.place.value == place.id.value);
    let forms: Vec<String> = held.map(|held| format!("{} edition {}", held.form.value, held.edition.value)).collect();
    let mut cells = vec![
        SITES.cell("site", Text::plain(place.tactical.as_str(), place.tactical.span)),
        SITES.cell("code", Text::plain(place.code.as_str(), place.code.span)),
    ];
    cells.extend((!forms.is_empty()).then(|| SITES.cell("forms", Text::plain(forms.join(", "), place.code.span))));
    Row { label: String::new(), record: Some(subject(place)), span: place.id.span, cells }
}
