//! What this compile found, what was accepted, what was checked and what cannot be: for the coordinator to sign.

use crate::audience::View;
use crate::compose::block::{
    Block, Cell, Column, FieldBlock, FieldLine, FormBlock, Paragraph, Role, Row, Section, Text,
};
use crate::compose::channel_words::{in_order, tied};
use crate::compose::foot::{named_to, who};
use crate::compose::kind::{Compose, Frozen, Kind, TableKind, UsualSet};
use crate::compose::minus::with_minus;
use crate::compose::orders::left_out;
use crate::ground::{Audience, Day, Finding, Id, OWN_FORMAT, Rule, Severity, Span, plural};
use crate::plan::{Channel, Each, Edition, FieldRoom, SigningKey, subject};
use crate::tables::{Authority, Profile, Service};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The kind.
pub(in crate::compose) const KIND: Kind = Kind {
    name: "check-sheet",
    title: "Check sheet",
    about: "who prepared and approved the edition, what was found, accepted, heard on the air and by whom, checked, and cannot be checked; to be signed",
    layout: "full",
    each: &[Each::Once],
    widest: Audience::Coordinator,
    sections: &["summary", "confirmed", "limits", "rules"],
    tables: &[&STANDING, &ACCEPTED, &CONFIRMED, &PUBLISHED],
    compose: Compose::Findings(compose),
};

/// Findings that stand.
const STANDING: TableKind = TableKind {
    key: "findings",
    columns: &[
        Column::must("severity", "severity", Role::Body),
        Column::must("finding", "finding", Role::Body),
        Column::must("what", "what", Role::Body),
        Column::must("place", "where", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Findings that somebody answers for.
const ACCEPTED: TableKind = TableKind {
    key: "accepted",
    columns: &[
        Column::must("finding", "finding", Role::Small),
        Column::must("what", "what", Role::Small),
        Column::must("reason", "reason", Role::Small),
        Column::must("until", "accepted by", Role::Small),
    ],
    set: UsualSet::Grid,
};

/// Of what somebody says that it was heard, who and when.
const CONFIRMED: TableKind = TableKind {
    key: "confirmed",
    columns: &[
        Column::must("seen", "on", Role::Body),
        Column::must("by", "by", Role::Body),
        Column::must("fact", "what", Role::Body),
    ],
    set: UsualSet::Grid,
};

/// Channels that are as somebody published them.
const PUBLISHED: TableKind = TableKind {
    key: "published",
    columns: &[
        Column::must("channel", "channel", Role::Small),
        Column::must("source", "as published in", Role::Small),
        Column::must("confidence", "how well known", Role::Small),
    ],
    set: UsualSet::Grid,
};

/// What no program can see. Printed on every check sheet, so that nobody reads more into it than was checked.
const NOT_CHECKED: [&str; 8] = [
    "Whether a repeater's owner agrees to this use, and whether it is on the air today.",
    "Frequency coordination with other teams and counties.",
    "Whether a signal gets through: terrain, antennas and batteries decide that on the day.",
    "Who is in control of a station, what is said, and whether it may be said in clear.",
    "Limits bound to an area, where the plan gives no place or region; radiated power with antennas of more gain than a dipole.",
    "Whether a possible product or a near antenna at a site does harm, and equipment there that the plan does not name.",
    "Medical and other equipment near a radio: the site's clinical engineering decides.",
    "Whether names, numbers and keys are right: the days of the last check are the plan's own.",
];

/// Source of a rule that is no more than what people do.
const NO_SOURCE: &str = "common practice, no source";

/// Where among them other services are spoken of.
const BEFORE_SERVICES: usize = 5;

fn compose(view: &View<'_>, frozen: &Frozen<'_>) -> Vec<Section> {
    vec![
        Section { key: "summary", title: Text::own("Check sheet"), blocks: summary(view, frozen) },
        Section { key: "confirmed", title: Text::own("Confirmed on the air"), blocks: seen(view) },
        Section { key: "limits", title: Text::own("Cannot be checked"), blocks: limits(view, frozen) },
        Section { key: "rules", title: Text::own("Rules checked"), blocks: rules(frozen) },
    ]
}

fn summary(view: &View<'_>, frozen: &Frozen<'_>) -> Vec<Block> {
    let found = frozen.findings;
    let accepted = found.iter().filter(|finding| finding.waived.is_some()).count();
    let counts = format!(
        "{}, {}, {accepted} accepted, by {}.",
        plural(found.errors(), "error"),
        plural(found.warnings(), "warning"),
        plural(frozen.rules.len(), "rule")
    );
    let profile = view.profile();
    let law = format!(
        "Law and band plan: {}; last compared with its source on {}, to be compared again by {}. Confidence of its rows: {}.",
        profile.rule_set, profile.checked_on, profile.review_by, profile.cite.confidence
    );
    let say = |text: Text| Block::Paragraph(Paragraph { text, role: Role::Body });
    let edition = view.plan().edition.as_ref();
    let rests_on = edition
        .map(|edition| answered_for(edition, view))
        .into_iter()
        .fold(Text::own(law), |law, edition| law.then(" ").then_text(edition));
    let mut blocks = vec![say(Text::strong(counts, Span::NOWHERE)), say(rests_on)];
    blocks.extend(signers(view).map(say));
    blocks.extend([
        Block::Heading(Text::own("Findings that stand")),
        standing(frozen),
        Block::Heading(Text::own("Findings accepted")),
        accepted_by(view, frozen),
        Block::Form(signature()),
    ]);
    blocks
}

/// `Edition 7, issued on 2026-11-20: prepared by WZ7QRA Ines Varga, approved by WZ7QSB Tomas Lind.`
fn answered_for(edition: &Edition, view: &View<'_>) -> Text {
    let member = |id| who(id, view).unwrap_or_default();
    let issued = Text::of_edition(edition.issued.to_string(), edition.issued.span);
    Text::own("Edition ")
        .then_text(Text::of_edition(edition.number.to_string(), edition.number.span))
        .then(", issued on ")
        .then_text(issued)
        .then(": prepared by ")
        .then_text(member(&edition.prepared_by))
        .then(", approved by ")
        .then_text(member(&edition.approved_by))
        .then(".")
}

/// Whose keys sign editions, each with its first digits.
fn signers(view: &View<'_>) -> Option<Text> {
    let named = |key: &SigningKey| {
        let by = who(&key.by, view).unwrap_or_default();
        by.then(" by the key ").then_text(Text::plain(key.public.value.short(), key.public.span))
    };
    let all: Vec<Text> = view.plan().keys.iter().map(named).collect();
    let joined = all.into_iter().reduce(|text, one| text.then(", ").then_text(one))?;
    Some(Text::own("Signs its editions: ").then_text(joined).then("."))
}

fn seen(view: &View<'_>) -> Vec<Block> {
    let rows = published(view);
    let published =
        (!rows.is_empty()).then(|| [Block::Heading(Text::own("Channels as published")), PUBLISHED.of(rows, "None.")]);
    std::iter::once(confirmed(view)).chain(published.into_iter().flatten()).collect()
}

/// The channels that name a standard one, with where its row is from.
fn published(view: &View<'_>) -> Vec<Row> {
    let row = |channel: &Channel| {
        let (standard, published) = (channel.standard.as_ref()?, channel.published()?);
        let own = channel.name.as_str();
        let named =
            if own == standard.value.name { own.to_owned() } else { format!("{own} ({})", standard.value.name) };
        let note = published.note.as_ref().map_or_else(String::new, |note| format!(": {note}"));
        let cells = vec![
            PUBLISHED.cell("channel", Text::plain(format!("{named}{note}"), standard.span)),
            PUBLISHED.cell("source", Text::own(with_minus(&published.cite.source))),
            PUBLISHED.cell("confidence", Text::own(published.cite.confidence.clone())),
        ];
        Some(Row { label: String::new(), record: Some(subject(channel)), span: standard.span, cells })
    };
    in_order(view.plan()).into_iter().filter_map(row).collect()
}

/// What somebody says that it was heard, by day and person.
fn confirmed(view: &View<'_>) -> Block {
    let plan = view.plan();
    let repeaters = plan.repeaters.iter().map(|one| ("repeater", &one.name, &one.verified));
    let gateways = plan.gateways.iter().map(|one| ("gateway", &one.name, &one.verified));
    let channels = plan.channels.iter().map(|one| ("channel", &one.name, &one.verified));
    let mut heard: BTreeMap<(Day, String), HeardOn<'_>> = BTreeMap::new();
    for (what, name, evidence) in repeaters.chain(gateways).chain(channels) {
        let Some(evidence) = evidence else { continue };
        let by = evidence.by.as_ref().and_then(|by| who(by, view)).unwrap_or_else(|| Text::own("nobody named"));
        let of_day = heard.entry((evidence.on.value, by.words()));
        let HeardOn { facts, .. } = of_day.or_insert_with(|| HeardOn { seen: evidence.on.span, by, facts: Vec::new() });
        match facts.last_mut().filter(|(kind, _)| *kind == what) {
            Some((_, names)) => names.push(tied(name.as_str())),
            None => facts.push((what, vec![tied(name.as_str())])),
        }
    }
    let rows = |((day, _), HeardOn { seen, by, facts }): ((Day, String), HeardOn<'_>)| {
        let row = move |facts: String| {
            row(vec![
                CONFIRMED.cell("seen", Text::plain(day.to_string(), seen)),
                CONFIRMED.cell("by", by.clone()),
                CONFIRMED.cell("fact", Text::own(facts)),
            ])
        };
        in_rows(facts).into_iter().map(row)
    };
    CONFIRMED.of(heard.into_iter().flat_map(rows).collect(), "The plan says of nothing that it was heard.")
}

/// Most names of a row, which is never parted: a state is heard in a day as a county is, and has more channels than a page has room for.
const MOST_NAMES: usize = 100;

/// What was heard, in one row or, where that would be long, in several.
fn in_rows(facts: Vec<(&str, Vec<String>)>) -> Vec<String> {
    let words = |what: &str, names: &[String]| {
        let many = if names.len() > 1 { "s" } else { "" };
        format!("{what}{many} {}", names.join(", "))
    };
    let count: usize = facts.iter().map(|(_, names)| names.len()).sum();
    let each: Vec<String> =
        facts.iter().flat_map(|(what, names)| names.chunks(MOST_NAMES).map(move |few| words(what, few))).collect();
    if count <= MOST_NAMES { vec![each.join("; ")] } else { each }
}

/// What one person heard on one day.
struct HeardOn<'a> {
    seen: Span,
    by: Text,
    /// By what they are, in the order of the plan.
    facts: Vec<(&'a str, Vec<String>)>,
}

fn row(cells: Vec<(&'static str, Cell)>) -> Row {
    Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
}

fn standing(frozen: &Frozen<'_>) -> Block {
    let cell = |key, words: &str| STANDING.cell(key, Text::own(words));
    let stands = |finding: &Finding| {
        let files = frozen.files;
        let place = files.place(finding.span).map(|(file, line, _)| format!("{file} line {line}"));
        let place = if files.is_sheet(finding.span) { files.told(finding.span) } else { place };
        let place = place.unwrap_or_else(|| "whole plan".to_owned());
        row(vec![
            cell("severity", finding.severity().word()),
            cell("finding", finding.rule.name),
            cell("what", &with_minus(&finding.message)),
            cell("place", &place),
        ])
    };
    let standing = frozen.findings.iter().filter(|finding| finding.waived.is_none());
    STANDING.of(standing.map(stands).collect(), "None.")
}

fn accepted_by(view: &View<'_>, frozen: &Frozen<'_>) -> Block {
    let cell = |key, words: &str| ACCEPTED.cell(key, Text::own(words));
    let accepted = |finding: &Finding| {
        let waived = finding.waived.as_ref()?;
        Some(row(vec![
            cell("finding", finding.rule.name),
            cell("what", &with_minus(&finding.message)),
            cell("reason", &waived.reason),
            cell("until", &format!("{}, until {}", answering(&waived.by, view), waived.until)),
        ]))
    };
    ACCEPTED.of(frozen.findings.iter().filter_map(accepted).collect(), "None.")
}

/// Who accepted a finding, by name, as this copy's readers may know it.
fn answering(id: &str, view: &View<'_>) -> String {
    let member = Id::parse(id).ok().and_then(|id| view.plan().members.named(&id));
    member.map_or_else(|| id.to_owned(), |member| named_to(member, view))
}

fn limits(view: &View<'_>, frozen: &Frozen<'_>) -> Vec<Block> {
    let names: Vec<&str> = frozen.without_rows.iter().map(|rule| rule.name).collect();
    let silent = format!("What the profile {} has no rows for: {}.", view.profile().id, names.join(", "));
    let (before, after) = NOT_CHECKED.split_at(BEFORE_SERVICES);
    let own = |words: &[&str]| words.iter().map(|words| (*words).to_owned()).collect::<Vec<_>>();
    let own = own(before).into_iter().chain([other_services(view.profile())]).chain(own(after));
    let not_made = left_out(view.plan(), view.profile());
    let not_made = (!not_made.is_empty()).then(|| format!("Sheets not made: {}", not_made.join(" ")));
    let all = own.chain((!names.is_empty()).then_some(silent)).chain(not_made).zip(1..);
    let all: Vec<String> = all.map(|(words, place)| format!("{place}\u{a0}\u{a0}{words}")).collect();
    vec![Block::Paragraph(Paragraph { text: Text::own(all.join(" ")), role: Role::Small })]
}

/// What is not checked of other services than amateur: power in those that are licensed, where the profile has it not for all channels.
fn other_services(profile: &Profile) -> String {
    let is_open = |service: &&Arc<Service>| {
        service.authority == Some(Authority::Licence)
            && profile.channels_of(service).any(|row| row.most.is_none() && !row.is_listen_only)
    };
    let names: Vec<&str> = profile.services.iter().filter(is_open).map(|service| service.name.as_str()).collect();
    let of = if names.is_empty() { String::new() } else { format!(" ({})", names.join(", ")) };
    format!(
        "Other services: the station's own equipment and procedures, and power where the profile's row gives none{of}."
    )
}

/// What was looked for: errors first, each with what it rests on. What many rest on is said once.
fn rules(frozen: &Frozen<'_>) -> Vec<Block> {
    let (errors, others): (Vec<&Rule>, Vec<&Rule>) =
        frozen.rules.iter().partition(|rule| rule.severity == Severity::Error);
    let parts = [
        ("Errors: the kit is withheld", errors),
        ("Warnings, printed here and accepted with a reason, and notes", others),
    ];
    let mut blocks = Vec::new();
    for (heading, rules) in parts {
        blocks.push(Block::Heading(Text::own(heading)));
        blocks.extend(counted(of_source(&rules, OWN_FORMAT).len()));
        blocks.extend(told(Some(NO_SOURCE), &of_source(&rules, NO_SOURCE)));
        let is_other = |rule: &&&Rule| ![OWN_FORMAT, NO_SOURCE].contains(&rule.source);
        let rest: Vec<&Rule> = rules.iter().filter(is_other).copied().collect();
        blocks.extend(told(None, &rest));
    }
    blocks
}

/// What rests on nothing but this program's own format: its names tell a reader of the paper nothing.
fn counted(count: usize) -> Option<Block> {
    let many = match count {
        0 => return None,
        1 => "1 rule".to_owned(),
        count => format!("{count} rules"),
    };
    let text = Text::strong("On this program's own format: ", Span::NOWHERE).then(format!(
        "{many} on keys, values, ids, files, layouts, and whether the words fit their paper; `fieldsheaf explain` lists them."
    ));
    Some(Block::Paragraph(Paragraph { text, role: Role::Small }))
}

fn of_source<'a>(rules: &[&'a Rule], source: &str) -> Vec<&'a Rule> {
    rules.iter().filter(|rule| rule.source == source).copied().collect()
}

/// Rules in one paragraph: all on one ground, or each group with its own.
fn told(ground: Option<&str>, rules: &[&Rule]) -> Option<Block> {
    let named = |rule: &&Rule| match rule.severity {
        Severity::Note => format!("{} (note)", rule.name),
        Severity::Error | Severity::Warning => rule.name.to_owned(),
    };
    let names = |rules: &[&Rule]| rules.iter().map(named).collect::<Vec<_>>().join(", ");
    let text = match ground {
        Some(ground) => Text::strong(format!("On {ground}: "), Span::NOWHERE).then(format!("{}.", names(rules))),
        None => {
            let mut grounds: Vec<&str> = Vec::new();
            for rule in rules {
                if !grounds.contains(&rule.source) {
                    grounds.push(rule.source);
                }
            }
            grounds.into_iter().fold(Text::default(), |text, ground| {
                let text = text.then_strong(names(&of_source(rules, ground)));
                text.then(format!(": {}. ", with_minus(ground.trim_end_matches('.'))))
            })
        }
    };
    (!rules.is_empty()).then_some(Block::Paragraph(Paragraph { text, role: Role::Small }))
}

fn signature() -> FormBlock {
    let field = |label: &str, share| FieldBlock {
        number: None,
        label: Text::own(label),
        help: None,
        share,
        room: FieldRoom::lines(1),
        filled: None,
        ticked: Vec::new(),
        cells: Vec::new(),
    };
    FormBlock {
        lines: vec![FieldLine {
            title: None,
            begins_page: false,
            is_added: false,
            fields: vec![field("Checked by", 4), field("Signature", 5), field("Date", 3)],
        }],
    }
}
