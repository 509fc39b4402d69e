//! Findings as text: with excerpts, one line each, or JSON. All three read the same values.
//!
//! Plan text is untrusted: control characters and marks that turn the direction of text are replaced before anything is shown.

use crate::ground::{Files, Finding, Findings, Severity, Span, plural, without_controls};
use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Renderer, Snippet};
use serde_json::{Value, json};

/// How findings are written.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, clap::ValueEnum)]
pub enum Format {
    /// With the guilty lines.
    #[default]
    Full,
    /// One line each.
    Short,
    /// For other programs.
    Json,
}

/// Every finding with its lines, a blank line after each, then the count.
#[must_use]
pub fn full(files: &Files, found: &Findings, has_colours: bool) -> String {
    let renderer = if has_colours { Renderer::styled() } else { Renderer::plain() };
    let mut text = String::new();
    for finding in found.iter() {
        text.push_str(&renderer.render(&[group(files, finding)]));
        text.push_str("\n\n");
    }
    text + &count(found)
}

/// Every finding on a line, `file:line:column: severity[name]: message`, then the count.
#[must_use]
pub fn short(files: &Files, found: &Findings) -> String {
    let mut text = String::new();
    for finding in found.iter() {
        let place = files.place(finding.span).map(|(name, line, column)| format!("{name}:{line}:{column}: "));
        let line = format!(
            "{}{}[{}]: {}",
            place.unwrap_or_default(),
            severity_word(finding),
            finding.rule.name,
            finding.message
        );
        text.push_str(&without_controls(&line));
        text.push('\n');
    }
    text + &count(found)
}

/// All findings as one JSON object, format 1.
#[must_use]
pub fn json(files: &Files, found: &Findings) -> String {
    let list: Vec<Value> = found.iter().map(|finding| json_finding(files, finding)).collect();
    let whole = json!({
        "format": 1,
        "findings": list,
        "errors": found.errors(),
        "warnings": found.warnings(),
    });
    format!("{whole:#}\n")
}

/// `2 errors, 1 warning`, with what was accepted where something was.
#[must_use]
pub fn count(found: &Findings) -> String {
    let accepted = found.iter().filter(|finding| finding.waived.is_some()).count();
    let tail = if accepted > 0 { format!(", {accepted} accepted") } else { String::new() };
    format!("{}, {}{tail}\n", plural(found.errors(), "error"), plural(found.warnings(), "warning"))
}

fn severity_word(finding: &Finding) -> String {
    let word = finding.severity().word();
    if finding.waived.is_some() { format!("accepted {word}") } else { word.to_owned() }
}

fn level(finding: &Finding) -> Level<'static> {
    let level = match finding.severity() {
        _ if finding.waived.is_some() => Level::INFO,
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    level.with_name(severity_word(finding))
}

fn group<'a>(files: &Files, finding: &Finding) -> Group<'a> {
    let title = level(finding).primary_title(without_controls(&finding.message)).id(finding.rule.name);
    let mut group = Group::with_title(title).elements(excerpts(files, finding));
    if let Some(note) = &finding.note {
        group = group.element(Level::NOTE.message(without_controls(note)));
    }
    if let Some(help) = &finding.help {
        group = group.element(Level::HELP.message(without_controls(help)));
    }
    if let Some(waived) = &finding.waived {
        let said = format!("accepted by {} until {}: {}", waived.by, waived.until, waived.reason);
        group = group.element(Level::NOTE.message(without_controls(&said)));
    }
    group
}

/// One excerpt for every line that the finding points at; places on the same line share theirs.
fn excerpts<'a>(files: &Files, finding: &Finding) -> Vec<Snippet<'a, Annotation<'a>>> {
    let primary = (finding.span, finding.label.as_str(), AnnotationKind::Primary);
    let related = finding.related.iter().map(|place| (place.span, place.label.as_str(), AnnotationKind::Context));
    let mut shown: Vec<(Line, Vec<Annotation<'a>>)> = Vec::new();
    for (span, label, kind) in std::iter::once(primary).chain(related) {
        let Some(line) = Line::of(files, span) else { continue };
        let mut mark = kind.span(line.marked.clone());
        if !label.is_empty() {
            mark = mark.label(without_controls(label));
        }
        match shown.iter_mut().find(|(other, _)| (&other.file, other.number) == (&line.file, line.number)) {
            Some((_, marks)) => marks.push(mark),
            None => shown.push((line, vec![mark])),
        }
    }
    let snippet = |(line, marks): (Line, Vec<Annotation<'a>>)| {
        Snippet::source(line.text).line_start(line.number).path(line.file).annotations(marks)
    };
    shown.into_iter().map(snippet).collect()
}

/// A line of a plan file made safe to show, and which bytes of it a span marks.
struct Line {
    file: String,
    number: usize,
    text: String,
    marked: std::ops::Range<usize>,
}

impl Line {
    /// The line on which a span starts. A span of several lines is marked as far as its first goes.
    fn of(files: &Files, span: Span) -> Option<Self> {
        let (name, number, _) = files.place(span)?;
        let text = &files.get(span.file)?.text;
        let start = usize::try_from(span.start).ok()?.min(text.len());
        let end = usize::try_from(span.end).ok()?.min(text.len()).max(start);
        let line_start = text.get(..start)?.rfind('\n').map_or(0, |at| at + 1);
        let line_end = text.get(start..)?.find('\n').map_or(text.len(), |at| start + at);
        let safe = |from: usize, to: usize| text.get(from..to).map(safe_excerpt);
        let (before, marked) = (safe(line_start, start)?, safe(start, end.min(line_end))?);
        let after = safe(end.min(line_end), line_end)?;
        let range = before.len()..before.len() + marked.len();
        Some(Self { file: without_controls(name), number, text: before + &marked + &after, marked: range })
    }
}

/// Tabs become one space, so that columns still count characters; other control characters are replaced.
fn safe_excerpt(text: &str) -> String {
    without_controls(&text.replace('\t', " ").replace('\r', ""))
}

fn json_finding(files: &Files, finding: &Finding) -> Value {
    let on: Vec<String> = finding.on.iter().map(ToString::to_string).collect();
    let related: Vec<Value> = finding
        .related
        .iter()
        .map(|place| json_place(files, place.span, json!({ "message": without_controls(&place.label) })))
        .collect();
    let head = json!({
        "name": finding.rule.name,
        "severity": finding.severity().word(),
        "message": without_controls(&finding.message),
    });
    let mut value = json_place(files, finding.span, head);
    let tail = json!({
        "on": on,
        "source": finding.rule.source,
        "help": finding.help.as_deref().map(without_controls),
        "fix": finding.fix.as_ref().map(|fix| json_place(files, fix.span, json!({ "text": without_controls(&fix.text) }))),
        "waived": finding.waived.is_some(),
        "related": related,
    });
    extend(&mut value, tail);
    value
}

/// `value` with the place of a span added; nulls for text that no file holds.
fn json_place(files: &Files, span: Span, mut value: Value) -> Value {
    let place = files.place(span);
    let end = files.end_place(span);
    let tail = json!({
        "file": place.map(|(name, _, _)| without_controls(name)),
        "line": place.map(|(_, line, _)| line),
        "column": place.map(|(_, _, column)| column),
        "end-line": end.map(|(line, _)| line),
        "end-column": end.map(|(_, column)| column),
    });
    extend(&mut value, tail);
    value
}

fn extend(value: &mut Value, tail: Value) {
    if let (Value::Object(fields), Value::Object(more)) = (value, tail) {
        fields.extend(more);
    }
}
