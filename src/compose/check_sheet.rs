//! What this compile found, what was accepted, what was checked and what cannot be: for the coordinator to sign.

use super::block::{
    Block, Cell, Column, FieldKind, Form, FormField, FormLine, Paragraph, Role, Row, Section, Table, Text,
};
use super::foot::who;
use super::kind::{Frozen, Kind, Order};
use super::minus::with_minus;
use crate::audience::View;
use crate::ground::{At, Finding, Span, Subject, Words, plural};
use crate::plan::{Each, Edition, Evidence, subject};

/// The kind.
pub(super) const KIND: Kind = Kind {
    name: "check-sheet",
    title: "Check sheet",
    layout: "full",
    each: &[Each::Once],
    is_last: true,
    sections: &["summary", "confirmed", "limits", "rules"],
    compose,
};

/// What no program can see. Printed on every check sheet, so that nobody reads more into it than was checked.
const NOT_CHECKED: [&str; 9] = [
    "Whether a repeater's owner agrees to this use, and whether it is on the air today.",
    "Frequency coordination with other teams and counties.",
    "Whether a signal gets through: terrain, antennas and batteries decide that on the day.",
    "Who is in control of a station, what is said, and whether it may be said in clear.",
    "Limits bound to an area, where the plan gives no place or region; radiated power with antennas of more gain than a dipole.",
    "Other services: the station's own equipment and procedures, and power where the profile's row gives none (marine, aviation).",
    "Whether a possible product or a near antenna at a site does harm, and equipment there that the plan does not name.",
    "Medical and other equipment near a radio: the site's clinical engineering decides.",
    "Whether names, numbers and keys are right: the days of the last check are the plan's own.",
];

fn compose(view: &View<'_>, order: &Order<'_>) -> Vec<Section> {
    let Some(frozen) = order.frozen else { return Vec::new() };
    vec![
        Section { key: "summary", title: Text::own("Check sheet"), blocks: summary(view, frozen) },
        Section {
            key: "confirmed",
            title: Text::own("Confirmed on the air"),
            blocks: vec![Block::Table(confirmed(view))],
        },
        Section { key: "limits", title: Text::own("What cannot be checked"), blocks: limits(view, frozen) },
        Section { key: "rules", title: Text::own("Rules checked"), blocks: vec![Block::Table(rules(frozen))] },
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
    let mut blocks = vec![say(Text::strong(counts, Span::NOWHERE)), say(Text::own(law))];
    blocks.extend(edition.map(|edition| say(answered_for(edition, view))));
    blocks.extend([
        Block::Heading(Text::own("Findings that stand")),
        Block::Table(findings(frozen)),
        Block::Heading(Text::own("Findings accepted")),
        Block::Table(accepted_table(frozen)),
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

/// Of what somebody says that it was heard, who and when.
fn confirmed(view: &View<'_>) -> Table {
    let plan = view.plan();
    let row = |(what, name, on, evidence): (&str, &At<Words>, Subject, &Option<Evidence>)| {
        let evidence = evidence.as_ref()?;
        let by = evidence.by.as_ref().and_then(|by| who(by, view)).unwrap_or_else(|| Text::own("nobody named"));
        let plain = |words: String, span| Cell { text: Text::plain(words, span), role: Role::Body, base: None };
        let cells = vec![
            ("fact", plain(format!("{what} {}", name.value), name.span)),
            ("seen", plain(evidence.on.to_string(), evidence.on.span)),
            ("by", Cell { text: by, role: Role::Body, base: None }),
        ];
        Some(Row { label: String::new(), record: Some(on), span: name.span, cells })
    };
    let repeaters = plan.repeaters.iter().map(|one| ("repeater", &one.name, subject(one), &one.verified));
    let gateways = plan.gateways.iter().map(|one| ("gateway", &one.name, subject(one), &one.verified));
    let channels = plan.channels.iter().map(|one| ("channel", &one.name, subject(one), &one.verified));
    Table {
        key: "confirmed",
        columns: vec![column("fact", "what"), column("seen", "on"), column("by", "by")],
        rows: repeaters.chain(gateways).chain(channels).filter_map(row).collect(),
        when_empty: Text::own("The plan says of nothing that it was heard."),
    }
}

fn column(key: &'static str, heading: &'static str) -> Column {
    Column { key, heading, is_must: true }
}

fn body(words: impl Into<String>) -> Cell {
    Cell { text: Text::own(words), role: Role::Body, base: None }
}

fn findings(frozen: &Frozen<'_>) -> Table {
    let row = |finding: &Finding| {
        let place =
            frozen.files.place(finding.span).map_or_else(String::new, |(file, line, _)| format!("{file} line {line}"));
        let cells = vec![
            ("severity", body(finding.severity().word())),
            ("finding", body(finding.rule.name)),
            ("what", body(with_minus(&finding.message))),
            ("place", body(if place.is_empty() { "whole plan".to_owned() } else { place })),
        ];
        Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
    };
    Table {
        key: "findings",
        columns: vec![
            column("severity", "severity"),
            column("finding", "finding"),
            column("what", "what"),
            column("place", "where"),
        ],
        rows: frozen.findings.iter().filter(|finding| finding.waived.is_none()).map(row).collect(),
        when_empty: Text::own("None."),
    }
}

fn accepted_table(frozen: &Frozen<'_>) -> Table {
    let row = |finding: &Finding| {
        let waived = finding.waived.as_ref()?;
        let cells = vec![
            ("finding", body(finding.rule.name)),
            ("what", body(with_minus(&finding.message))),
            ("reason", body(waived.reason.clone())),
            ("until", body(format!("{}, until {}", waived.by, waived.until))),
        ];
        Some(Row { label: String::new(), record: None, span: Span::NOWHERE, cells })
    };
    Table {
        key: "accepted",
        columns: vec![
            column("finding", "finding"),
            column("what", "what"),
            column("reason", "reason"),
            column("until", "accepted by"),
        ],
        rows: frozen.findings.iter().filter_map(row).collect(),
        when_empty: Text::own("None."),
    }
}

fn limits(view: &View<'_>, frozen: &Frozen<'_>) -> Vec<Block> {
    let item = |words: String| Block::Paragraph(Paragraph { text: Text::own(words), role: Role::Body });
    let names: Vec<&str> = frozen.without_rows.iter().map(|rule| rule.name).collect();
    let silent = format!("What the profile {} has no rows for: {}.", view.profile().id, names.join(", "));
    let own = NOT_CHECKED.iter().map(|words| (*words).to_owned());
    own.chain((!names.is_empty()).then_some(silent)).map(item).collect()
}

fn rules(frozen: &Frozen<'_>) -> Table {
    let row = |rule: &&'static crate::ground::Rule| {
        let cells = vec![
            ("rule", body(rule.name)),
            ("severity", body(rule.severity.word())),
            ("source", body(with_minus(rule.source))),
        ];
        Row { label: String::new(), record: None, span: Span::NOWHERE, cells }
    };
    Table {
        key: "rules",
        columns: vec![column("rule", "rule"), column("severity", "severity"), column("source", "rests on")],
        rows: frozen.rules.iter().map(row).collect(),
        when_empty: Text::own("None."),
    }
}

fn signature() -> Form {
    let field = |label: &str, share| FormField {
        number: None,
        label: Text::own(label),
        help: None,
        share,
        kind: FieldKind::Lines(1),
        filled: None,
    };
    Form { lines: vec![FormLine { fields: vec![field("Checked by", 4), field("Signature", 5), field("Date", 3)] }] }
}
