//! What goes along while a record is read: where it is, how to name it, whose habits count, and where faults are reported.

use super::rules::{BAD_VALUE, BARE_NUMBER, MISSING_KEY};
use crate::ground::{At, Finding, Findings, Id, Refusal, Shift, Span, Stretch};
use std::any::Any;
use std::sync::Arc;

/// What a profile says of values that are left out, or that are written in more than one way.
#[derive(Clone, Debug, Default)]
pub struct Habits {
    /// Whether a width that is left out is the narrow one.
    pub is_narrow: bool,
    /// Licence classes: as members write them, and as they are printed.
    pub classes: Vec<[String; 2]>,
    /// Shifts of repeaters that are usual with an output in a stretch.
    pub shifts: Vec<(Stretch, Shift)>,
    /// The profile itself, which this floor does not know.
    pub whole: Option<Arc<dyn Any + Send + Sync>>,
}

impl Habits {
    /// The profile itself, for values that name one of its rows.
    #[must_use]
    pub fn profile<P: Any>(&self) -> Option<&P> {
        self.whole.as_deref()?.downcast_ref()
    }
}

/// An id of another record that a record names.
#[derive(Clone, Debug)]
pub struct Mention {
    /// The kind of the record that is meant.
    pub kind: &'static str,
    /// Its id as written.
    pub id: At<Id>,
}

/// A field that was written: its value, or nothing when the value was refused. The refusal is already a finding.
#[derive(Clone, Debug)]
pub struct Tried<T> {
    /// The value; none when it was refused.
    pub value: Option<T>,
    /// Its text.
    pub span: Span,
}

impl<T> Tried<T> {
    /// The value with its place, when it was not refused.
    pub fn at(self) -> Option<At<T>> {
        Some(At::new(self.value?, self.span))
    }
}

/// A record being read.
pub struct Reading<'a> {
    /// The kind, as findings name it: `channel`.
    pub kind: &'static str,
    /// Its header.
    pub span: Span,
    /// The key that it stands under, where findings name it too: `transmit` for `transmit.allowed`.
    pub within: Option<&'static str>,
    /// Whose words and habits count.
    pub habits: &'a Habits,
    /// Where findings go.
    pub found: &'a mut Findings,
    /// Where the ids go that it names.
    pub mentions: &'a mut Vec<Mention>,
}

/// A value of a key whose values are of few kinds, to show how it is written; dots for what only the team knows.
fn sample(key: &str) -> &'static str {
    match key {
        "control" => "\"automatic\"",
        "code" => "\"HQX\"",
        "tone-in" => "\"103.5 Hz\"",
        "tone-out" => "\"off\"",
        "covers" => "[\"144 MHz to 148 MHz\"]",
        "modes" => "[\"FM\"]",
        "side" => "\"USB\"",
        "step" => "\"12.5 kHz\"",
        "distance" => "\"4 m\"",
        _ => "...",
    }
}

impl Reading<'_> {
    /// Reads what stands in no plan, where nobody's habits count and no other record can be named: a row of a table, a layout.
    pub fn alone<T>(
        kind: &'static str,
        span: Span,
        found: &mut Findings,
        read: impl FnOnce(&mut Reading<'_>) -> T,
    ) -> T {
        let (habits, mut mentions) = (Habits::default(), Vec::new());
        read(&mut Reading { kind, span, within: None, habits: &habits, found, mentions: &mut mentions })
    }

    /// A record inside of this one, which asks for its keys at its own place.
    pub fn inner(&mut self, kind: &'static str, span: Span) -> Reading<'_> {
        Reading { kind, span, within: None, habits: self.habits, found: self.found, mentions: self.mentions }
    }

    /// Reports a key that is not there.
    pub fn missing(&mut self, key: &str) {
        let article = if self.kind.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        let key = self.within.map_or_else(|| key.to_owned(), |within| format!("{within}.{key}"));
        let what = format!("{article} {} has no `{key}`", self.kind);
        self.found.push(
            Finding::new(&MISSING_KEY, self.span, what)
                .label("this record")
                .help(format!("add `{key} = {}`", sample(&key))),
        );
    }

    /// A field that must be there beside another. A refused value is a hole without a second finding.
    pub fn must<T>(&mut self, field: Option<Tried<T>>, key: &str) -> Option<At<T>> {
        if field.is_none() {
            self.missing(key);
        }
        field.and_then(Tried::at)
    }

    /// Reports a value that cannot be taken.
    pub fn refuse(&mut self, span: Span, refusal: Refusal) {
        let rule = if refusal.is_bare_number { &BARE_NUMBER } else { &BAD_VALUE };
        let mut finding = Finding::new(rule, span, refusal.what).label("cannot be taken");
        if let Some(help) = refusal.help {
            finding = finding.help(help);
        }
        if let Some(fix) = refusal.fix {
            finding = finding.fix(span, fix);
        }
        self.found.push(finding);
    }
}
