//! Whatever we tell the user about the plan.

use super::{Rule, Severity, Span, Subject, without_controls};
use std::collections::BTreeSet;
use std::sync::Arc;

/// One fault at one place.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Finding {
    /// The rule broken.
    pub rule: &'static Rule,
    /// One sentence, lower case, no full stop, values included; makes sense alone.
    pub message: String,
    /// The narrowest guilty text.
    pub span: Span,
    /// What that text does.
    pub label: String,
    /// Further places, such as the line that set the limit.
    pub related: Vec<Related>,
    /// The fact relied on and where it is published.
    pub note: Option<String>,
    /// What to type.
    pub help: Option<String>,
    /// The same as data, where it is one text for one place.
    pub fix: Option<Fix>,
    /// The records concerned, as waivers name them.
    pub on: Vec<Subject>,
    /// Set when an `[[accept]]` covers it.
    pub waived: Option<Waived>,
}

/// A text to put in place of another: with it the finding is gone, and no other comes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fix {
    /// What goes; empty where something is only added.
    pub span: Span,
    /// What comes, as it stands in the file.
    pub text: String,
}

/// A second place that belongs to a finding.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Related {
    /// The text.
    pub span: Span,
    /// What that text does.
    pub label: String,
}

/// Who accepted a finding and why.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Waived {
    /// The reason given.
    pub reason: String,
    /// Who accepted it.
    pub by: String,
    /// Until when, as written.
    pub until: String,
}

impl Finding {
    /// A finding of `rule` at `span`.
    #[must_use]
    pub fn new(rule: &'static Rule, span: Span, message: impl Into<String>) -> Self {
        Self {
            rule,
            message: plain(message),
            span,
            label: String::new(),
            related: Vec::new(),
            note: None,
            help: None,
            fix: None,
            on: Vec::new(),
            waived: None,
        }
    }

    /// Says what the guilty text does.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = plain(label);
        self
    }

    /// Adds a second place.
    #[must_use]
    pub fn and(mut self, span: Span, label: impl Into<String>) -> Self {
        one_more(&mut self.related, Related { span, label: plain(label) });
        self
    }

    /// Gives the fact relied on and its source.
    #[must_use]
    pub fn note(mut self, note: impl Into<String>) -> Self {
        self.note = Some(plain(note));
        self
    }

    /// Says what to type.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(plain(help));
        self
    }

    /// Says to write a text, in quotes, in place of the guilty one.
    #[must_use]
    pub fn write(self, text: impl std::fmt::Display) -> Self {
        let quoted = format!("\"{text}\"");
        self.help(format!("write {quoted}")).quoted(quoted)
    }

    /// Asks whether a text was meant in place of the guilty one.
    #[must_use]
    pub fn did_you_mean(self, text: impl std::fmt::Display) -> Self {
        let quoted = format!("\"{text}\"");
        self.help(format!("did you mean {quoted}?")).quoted(quoted)
    }

    /// A text in quotes in place of the guilty one, if it may stand in quotes as it is.
    fn quoted(self, quoted: String) -> Self {
        let inside = quoted.get(1..quoted.len() - 1).unwrap_or_default();
        if inside.contains(['"', '\\']) || inside.chars().any(char::is_control) {
            return self;
        }
        let span = self.span;
        self.fix(span, quoted)
    }

    /// Gives what the help says to type as data.
    #[must_use]
    pub fn fix(mut self, span: Span, text: impl Into<String>) -> Self {
        self.fix = Some(Fix { span, text: text.into() });
        self
    }

    /// Names a record concerned; once, however often it is concerned.
    #[must_use]
    pub fn on(mut self, subject: Subject) -> Self {
        if !self.on.contains(&subject) {
            one_more(&mut self.on, subject);
        }
        self
    }

    /// The same of all of them.
    #[must_use]
    pub fn on_all(mut self, subjects: impl IntoIterator<Item = Subject>) -> Self {
        // All members of a state are concerned by one: each is not looked for among all before it.
        let all: Vec<Subject> = subjects.into_iter().collect();
        if all.len() < FEW {
            return all.into_iter().fold(self, Self::on);
        }
        let mut known: BTreeSet<&Subject> = self.on.iter().collect();
        let is_new: Vec<bool> = all.iter().map(|subject| known.insert(subject)).collect();
        self.on.reserve_exact(all.len());
        self.on.extend(all.into_iter().zip(is_new).filter_map(|(subject, is_new)| is_new.then_some(subject)));
        self
    }

    /// The severity that counts: that of the rule.
    #[must_use]
    pub fn severity(&self) -> Severity {
        self.rule.severity
    }

    /// Whether it withholds the kit.
    #[must_use]
    pub fn is_error(&self) -> bool {
        self.severity() == Severity::Error && self.waived.is_none()
    }
}

/// So few names are looked for one by one.
const FEW: usize = 16;

/// Most findings have one of a kind, and a state's are held by the ten thousand.
fn one_more<T>(list: &mut Vec<T>, more: T) {
    list.reserve_exact(usize::from(list.is_empty()));
    list.push(more);
}

/// The most bytes of one text of a finding: the longest of ours has a third, and a cell of a table may have a megabyte.
const LONGEST: usize = 8000;

/// What is quoted of a plan may hold anything, and be as long; a finding is said on one line.
fn plain(text: impl Into<String>) -> String {
    let mut text: String = text.into();
    if text.len() > LONGEST {
        let head: String = text.chars().take(LONGEST / 40).collect();
        let tail: String = text.chars().skip(text.chars().count().saturating_sub(LONGEST / 40)).collect();
        text = format!("{head} [...] {tail}");
    }
    if text.bytes().all(|byte| (b' '..=b'~').contains(&byte)) { text } else { without_controls(&text) }
}

impl Extend<Finding> for Findings {
    fn extend<T: IntoIterator<Item = Finding>>(&mut self, findings: T) {
        findings.into_iter().for_each(|finding| self.push(finding));
    }
}

/// All findings of a run. Nothing stops at the first. A copy of the list shares them.
#[derive(Clone, Debug, Default)]
pub struct Findings {
    list: Vec<Arc<Finding>>,
    /// Counted as they come: who reads a record asks before and after it.
    errors: usize,
}

impl Findings {
    /// Adds a finding.
    pub fn push(&mut self, finding: Finding) {
        self.errors += usize::from(finding.is_error());
        self.list.push(Arc::new(finding));
    }

    /// Adds all findings of another list, as when parallel work is merged.
    pub fn append(&mut self, mut other: Self) {
        self.errors += other.errors;
        self.list.append(&mut other.list);
    }

    /// All findings in the order of [`Findings::sort`] once that was called.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = &Finding> + ExactSizeIterator + Clone {
        self.list.iter().map(|finding| &**finding)
    }

    /// Marks each finding as waived for which `by` knows a waiver.
    pub fn waive(&mut self, by: impl Fn(&Finding) -> Option<Waived>) {
        for finding in &mut self.list {
            if let Some(waived) = by(finding) {
                Arc::make_mut(finding).waived = Some(waived);
            }
        }
        self.count();
    }

    /// Keeps the findings for which `is_kept` holds.
    pub fn retain(&mut self, mut is_kept: impl FnMut(&Finding) -> bool) {
        self.list.retain(|finding| is_kept(finding));
        self.count();
    }

    fn count(&mut self) {
        self.errors = self.list.iter().filter(|finding| finding.is_error()).count();
    }

    /// Sorts by file name, place, rule name and message, and drops exact repeats.
    pub fn sort(&mut self, files: &super::Files) {
        let name = |span: Span| files.get(span.file).map_or("", |file| file.name.as_str());
        self.list.sort_by(|a, b| {
            (name(a.span), a.span.start, a.span.end, a.rule.name, &a.message).cmp(&(
                name(b.span),
                b.span.start,
                b.span.end,
                b.rule.name,
                &b.message,
            ))
        });
        self.list.dedup();
        self.count();
    }

    /// Number of errors that are not waived.
    #[must_use]
    pub const fn errors(&self) -> usize {
        self.errors
    }

    /// Number of warnings that are not waived.
    #[must_use]
    pub fn warnings(&self) -> usize {
        self.list.iter().filter(|f| f.severity() == Severity::Warning && f.waived.is_none()).count()
    }

    /// Number of findings of any kind.
    #[must_use]
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether nothing was found.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::{Finding, Findings, Waived};
    use crate::ground::{FileId, Files, Rule, Severity, Span};

    const ERROR: Rule = Rule::of_format("an-error", "");
    const WARNING: Rule = Rule { severity: Severity::Warning, waivable: true, ..Rule::of_format("a-warning", "") };
    const WAIVABLE: Rule = Rule { waivable: true, ..Rule::of_format("an-error-that-may-stay", "") };

    /// A value of the plan may hold anything; a finding says it on one line, and types nothing that is no TOML.
    #[test]
    fn a_finding_holds_no_control_character_and_a_fix_only_what_may_be_quoted() {
        let finding = Finding::new(&ERROR, Span::NOWHERE, "\"a\u{1b}[31m\" is odd").label("b\n").note("c\u{202e}");
        assert_eq!(finding.message, "\"a\u{fffd}[31m\" is odd");
        assert_eq!((finding.label.as_str(), finding.note.as_deref()), ("b\u{fffd}", Some("c\u{fffd}")));
        for (text, help, fix) in [
            ("Name", "did you mean \"Name\"?", Some("\"Name\"")),
            ("Na\tme", "did you mean \"Na\u{fffd}me\"?", None),
            ("Na\"me", "did you mean \"Na\"me\"?", None),
            ("Na\\me", "did you mean \"Na\\me\"?", None),
        ] {
            let finding = finding.clone().did_you_mean(text);
            assert_eq!(finding.help.as_deref(), Some(help));
            assert_eq!(finding.fix.map(|fix| fix.text).as_deref(), fix, "{text:?}");
        }
    }

    #[test]
    fn errors_are_counted_through_every_change() {
        let holds = |found: &Findings, errors: usize| {
            assert_eq!((found.errors(), found.iter().filter(|finding| finding.is_error()).count()), (errors, errors));
        };
        let mut found = Findings::default();
        for (at, rule) in [&ERROR, &WARNING, &WAIVABLE, &ERROR, &ERROR].into_iter().enumerate() {
            found.push(Finding::new(rule, Span::new(FileId(0), at.min(3), 9), "alike"));
        }
        holds(&found, 4);
        let mut other = Findings::default();
        other.push(Finding::new(&ERROR, Span::NOWHERE, "of another floor"));
        found.append(other);
        holds(&found, 5);
        // The two at one place become one.
        found.sort(&Files::default());
        holds(&found, 4);
        let waived = || Waived { reason: "a".to_owned(), by: "b".to_owned(), until: "c".to_owned() };
        found.waive(|finding| finding.rule.waivable.then(waived));
        holds(&found, 3);
        // Asked again, with a waiver less, nothing is taken back.
        found.waive(|_| None);
        holds(&found, 3);
        found.retain(|finding| finding.message != "of another floor");
        holds(&found, 2);
    }
}
