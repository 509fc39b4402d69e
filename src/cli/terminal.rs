//! Findings as text: with excerpts, one line each, or JSON. All read the same values.
//!
//! Plan text is untrusted: control characters and marks that turn the direction of text are replaced before anything is shown.

use super::excerpt::ExcerptLine;
use crate::checks::Answering;
use crate::ground::{
    Files, Finding, Findings, Related, Severity, Span, Waived, on_all_threads, plural, without_controls,
};
use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use serde::Serialize;
use std::collections::BTreeMap;

/// How findings are written.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default, clap::ValueEnum)]
pub enum Format {
    /// With the guilty lines.
    #[default]
    Full,
    /// With the guilty lines and, where it may be accepted, the record that does so.
    Long,
    /// One line each.
    Short,
    /// For other programs.
    Json,
}

/// Every finding with its lines, a blank line after each, errors last, then the count. Findings with one cause stand together:
/// the first with its lines, each of the others with its place and its message. `answering` asks for waivers ready to paste.
#[must_use]
pub fn full(files: &Files, found: &Findings, answering: Option<&Answering>, has_colours: bool) -> String {
    let renderer = if has_colours { Renderer::styled() } else { Renderer::plain() };
    let said = |alike: Vec<&Finding>| {
        let [first, others @ ..] = alike.as_slice() else { return String::new() };
        let mut text = renderer.render(&[group(files, first, others.len())]) + "\n";
        for other in others {
            text.push_str(&format!("      {}{}\n", place(files, other), without_controls(&other.message)));
        }
        for record in alike.iter().filter_map(|finding| answering?.record(finding)) {
            text.push('\n');
            text.push_str(&record);
        }
        text + "\n"
    };
    on_all_threads(causes(found), 64, said).concat() + &count(found)
}

/// All that is shown of a finding but its message and its place: where this is the same, so is the cause. Where nothing is said
/// beside the message, the message itself.
type Cause<'a> = (&'static str, &'a str, [Option<&'a str>; 3], Option<&'a Waived>, Vec<(Span, &'a str)>);

fn cause(finding: &Finding) -> Cause<'_> {
    let related = finding.related.iter().map(|Related { span, label }| (*span, label.as_str())).collect();
    let Finding { label, note, help, waived, message, .. } = finding;
    let alone = (note.is_none() && help.is_none()).then_some(message.as_str());
    (finding.rule.name, label, [note.as_deref(), help.as_deref(), alone], waived.as_ref(), related)
}

/// Findings with one cause together, in the order of the first of each; errors that stand come last, nearest to the prompt.
fn causes(found: &Findings) -> Vec<Vec<&Finding>> {
    let mut known: BTreeMap<Cause<'_>, usize> = BTreeMap::new();
    let mut causes: Vec<Vec<&Finding>> = Vec::new();
    for finding in found.iter() {
        let at = *known.entry(cause(finding)).or_insert(causes.len());
        match causes.get_mut(at) {
            Some(alike) => alike.push(finding),
            None => causes.push(vec![finding]),
        }
    }
    causes.sort_by_key(|alike| alike.first().is_some_and(|finding| finding.is_error()));
    causes
}

/// Every finding on a line, `file:line:column: severity[name]: message`, then the count.
#[must_use]
pub fn short(files: &Files, found: &Findings) -> String {
    let mut text = String::new();
    for finding in found.iter() {
        let (severity, name) = (severity_word(finding), finding.rule.name);
        text.push_str(&place(files, finding));
        text.push_str(&without_controls(&format!("{severity}[{name}]: {}", finding.message)));
        text.push('\n');
    }
    text + &count(found)
}

/// `channels.toml:33:11: `, the row and column of a sheet, and nothing for what no file holds.
fn place(files: &Files, finding: &Finding) -> String {
    files.told(finding.span).map_or_else(String::new, |told| format!("{}: ", without_controls(&told)))
}

/// All findings as one JSON object, format 1.
#[must_use]
pub fn json(files: &Files, found: &Findings) -> String {
    let findings = found.iter().map(|finding| json_finding(files, finding)).collect();
    let whole = JsonReport { format: 1, findings, errors: found.errors(), warnings: found.warnings() };
    // Words and numbers can always be written into memory.
    serde_json::to_string_pretty(&whole).unwrap_or_default() + "\n"
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

fn group<'a>(files: &Files, finding: &Finding, others: usize) -> Group<'a> {
    let title = level(finding).primary_title(without_controls(&finding.message)).id(finding.rule.name);
    let mut group = Group::with_title(title);
    for (line, marks) in excerpts(files, finding) {
        let snippet = Snippet::source(line.text).line_start(line.number).annotations(marks);
        group = match line.column {
            _ if line.is_sheet => group.element(Origin::path(line.file)).element(snippet),
            // Of a long line a part is shown, whose columns are not the line's.
            Some(column) => {
                group.element(Origin::path(line.file).line(line.number).char_column(column)).element(snippet)
            }
            None => group.element(snippet.path(line.file)),
        };
    }
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
    match others {
        0 => group,
        _ => group.element(Level::NOTE.message(format!("the same at {}:", plural(others, "more place")))),
    }
}

/// One excerpt for every line that the finding points at; places on the same line share theirs, unless it is cut.
fn excerpts<'a>(files: &Files, finding: &Finding) -> Vec<(ExcerptLine, Vec<Annotation<'a>>)> {
    let primary = (finding.span, finding.label.as_str(), AnnotationKind::Primary);
    let related = finding.related.iter().map(|place| (place.span, place.label.as_str(), AnnotationKind::Context));
    let mut shown: Vec<(ExcerptLine, Vec<Annotation<'a>>)> = Vec::new();
    for (span, label, kind) in std::iter::once(primary).chain(related) {
        let Some(line) = ExcerptLine::of(files, span) else { continue };
        let mut mark = kind.span(line.marked.clone());
        // A sheet's column is named above its excerpt.
        let column = files.column(span).filter(|_| !files.is_sheet(span));
        let label = column.map_or_else(|| label.to_owned(), |column| format!("{label}, {column}"));
        if !label.is_empty() {
            mark = mark.label(without_controls(&label));
        }
        let is_same = |other: &ExcerptLine| {
            line.column.is_none() && !line.is_sheet && (&other.file, other.number) == (&line.file, line.number)
        };
        match shown.iter_mut().find(|(other, _)| is_same(other)) {
            Some((_, marks)) => marks.push(mark),
            None => shown.push((line, vec![mark])),
        }
    }
    shown
}

/// What `--format json` prints.
#[derive(Serialize)]
struct JsonReport<'a> {
    format: u8,
    findings: Vec<JsonFinding<'a>>,
    errors: usize,
    warnings: usize,
}

#[derive(Serialize)]
struct JsonFinding<'a> {
    name: &'a str,
    severity: &'a str,
    message: String,
    #[serde(flatten)]
    place: JsonPlace,
    on: Vec<String>,
    source: &'a str,
    help: Option<String>,
    fix: Option<JsonFix>,
    waived: bool,
    related: Vec<JsonRelated>,
}

#[derive(Serialize)]
struct JsonFix {
    text: String,
    #[serde(flatten)]
    place: JsonPlace,
}

#[derive(Serialize)]
struct JsonRelated {
    message: String,
    #[serde(flatten)]
    place: JsonPlace,
}

/// The place of a span; nulls for text that no file holds.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct JsonPlace {
    file: Option<String>,
    line: Option<usize>,
    column: Option<usize>,
    end_line: Option<usize>,
    end_column: Option<usize>,
    table_column: Option<String>,
}

impl JsonPlace {
    fn of(files: &Files, span: Span) -> Self {
        let place = files.place(span);
        let end = files.end_place(span);
        Self {
            file: place.map(|(name, _, _)| without_controls(name)),
            line: place.map(|(_, line, _)| line),
            column: place.map(|(_, _, column)| column),
            end_line: end.map(|(line, _)| line),
            end_column: end.map(|(_, column)| column),
            table_column: files.column(span).map(|column| without_controls(&column)),
        }
    }
}

fn json_finding<'a>(files: &Files, finding: &'a Finding) -> JsonFinding<'a> {
    let place = |span| JsonPlace::of(files, span);
    // In a sheet nothing can be typed over a cell's bytes.
    let fix = finding.fix.as_ref().filter(|fix| !files.is_sheet(fix.span));
    let related = finding.related.iter();
    JsonFinding {
        name: finding.rule.name,
        severity: finding.severity().word(),
        message: without_controls(&finding.message),
        place: place(finding.span),
        on: finding.on.iter().map(ToString::to_string).collect(),
        source: finding.rule.source,
        help: finding.help.as_deref().map(without_controls),
        fix: fix.map(|fix| JsonFix { text: without_controls(&fix.text), place: place(fix.span) }),
        waived: finding.waived.is_some(),
        related: related
            .map(|at| JsonRelated { message: without_controls(&at.label), place: place(at.span) })
            .collect(),
    }
}
