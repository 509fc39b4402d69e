//! Forms: what is declared of one. How blocks are numbered, and what a form has from another, stands in files of its own.

mod base;
mod numbers;

use super::Copies;
use crate::ground::caps::FORM_ROWS;
use crate::ground::{At, Audience, Finding, Id, Length, Span, Subject, Words};
use crate::plan::fields::{
    AskedRoom, BlockMark, FieldRoom, Letter, PlanValue, ReadStretch, WHOLE, WrittenRoom, check_alone, check_width,
};
use crate::plan::rules::FORM_LABEL_LONG;
use crate::plan::terms::FieldMeaning;
use crate::source::{
    BAD_VALUE, Field, Key, KeySchemas, Keys, MORE_THAN_TAKEN, Meant, Node, Reading, Schemas, Whole, record,
};
pub(in crate::plan) use base::take_bases;
use numbers::{check_numbers, check_read_aloud};

record! {
    /// `[[form]]`: something to write on, in reading order.
    pub struct WrittenForm = "form" {
        /// Unique among forms, as `tally`; made of its title when left out.
        id: At<Id>,
        /// Its title, printed at its head, as `Tally`.
        title: At<Words>,
        /// Its own edition, printed with its title, as `"1"`.
        edition: At<Words>,
        /// Another form, of the plan or of the program, whose blocks it has above its own, as `ics-213`; its own blocks alone
        /// when left out.
        base: Option<At<Id>>,
        /// The published form that it follows, in words, as `ICS 211`; nothing is printed when left out.
        follows: Option<At<Words>>,
        /// Who keeps it, as `the training team`; nothing is printed when left out.
        owner: Option<At<Words>>,
        /// What it is for, in one sentence, as `Who came, and when.`; nothing is printed when left out.
        purpose: Option<At<Words>>,
        /// How it is read aloud or filled in, in one sentence, as `Say each number before its words.`; nothing is printed when
        /// left out.
        reading: Option<At<Words>>,
        /// The blocks that are read aloud, in the order in which they are said, as `1 to 8`; it is not read aloud when left
        /// out.
        read_aloud: Vec<At<ReadStretch>>,
        /// Who may read it at the widest; anybody when left out.
        audience: Option<At<Audience>>,
        /// The layout that it usually takes, as `full-wide`; the kind's own when left out.
        layout: Option<At<Words>>,
        /// How many are usually printed; 1 when left out.
        copies: Option<At<Copies>>,
        /// The sheets of a set, each the same form under the same number, as `stays with the operator`; one sheet when left
        /// out.
        sheets as "sheet": Vec<At<Words>>,
        /// Lines of fields, from the top down; none, where it has a base, when left out.
        lines as "line": FormLines,
        /// The record.
        span: Span,
    }

    /// Fields side by side.
    pub struct WrittenFormLine = "form-line" {
        /// Printed over the line under a heavy rule, which parts what one person fills in from what another does, as `Radio
        /// operator`; no rule when left out.
        title: Option<At<Words>>,
        /// Whether it begins a page; false when left out.
        new_page: bool,
        /// Fields side by side, from left to right; their shares add up to 12 at most; none when left out.
        fields as "field": Vec<FormField>,
        /// Its table.
        span: Span,
    }

    /// A field to fill in.
    pub struct WrittenField = "field" {
        /// Number in reading order; a field outside it when left out.
        number: Option<At<Whole<u16, 1, 999, true>>>,
        /// Letter in reading order, in place of a number; a field outside it when left out.
        letter: Option<At<Letter>>,
        /// Its name, printed small in its corner, as `To`.
        label: At<Words>,
        /// Printed after the label, as `tactical call`; nothing when left out.
        help: Option<At<Words>>,
        /// Twelfths of the line's width; 12 when left out.
        share: Option<At<Whole<u8, 1, 12>>>,
        /// The least height of a writing line or row, as `9 mm`; the layout's when left out.
        height: Option<At<Length>>,
        /// Whether its lines, rows or squares fill the page; false when left out.
        is_filling as "fill": bool,
        /// Whether it is passed over where the blocks around it are read aloud; false when left out.
        is_silent as "silent": bool,
        /// What is printed in it from the plan, as `net.name`; room to write when left out.
        from: Option<At<PlanValue>>,
        /// What one writes into.
        room: WrittenRoom,
    }
}

/// A form.
#[derive(Clone, Debug)]
pub struct Form {
    /// The id.
    pub id: At<Id>,
    /// Its title.
    pub title: At<Words>,
    /// Its own edition.
    pub edition: At<Words>,
    /// Another form whose blocks it has.
    pub base: Option<At<Id>>,
    /// The published form that it follows.
    pub follows: Option<At<Words>>,
    /// Who keeps it.
    pub owner: Option<At<Words>>,
    /// What it is for.
    pub purpose: Option<At<Words>>,
    /// How it is read aloud or filled in.
    pub reading: Option<At<Words>>,
    /// What is read aloud, in order.
    pub read_aloud: Vec<At<ReadStretch>>,
    /// Who may read it at the widest.
    pub audience: Option<At<Audience>>,
    /// The layout that it usually takes.
    pub layout: Option<At<Words>>,
    /// How many are usually printed.
    pub copies: Option<At<Copies>>,
    /// The sheets of a set; none where there is one.
    pub sheets: Vec<At<Words>>,
    /// Lines of fields, from the top down: those of its base, and its own.
    pub lines: Vec<FormLine>,
    /// The record.
    pub span: Span,
}

/// Fields side by side.
#[derive(Clone, Debug)]
pub struct FormLine {
    /// Printed over it under a heavy rule.
    pub title: Option<At<Words>>,
    /// Whether it begins a page.
    pub begins_page: bool,
    /// Whether it begins what a form adds to its base, outside the base's frame.
    pub is_added: bool,
    /// From left to right.
    pub fields: Vec<FormField>,
}

/// A field to fill in.
#[derive(Clone, Debug)]
pub struct FormField {
    /// Its number or letter in reading order.
    pub mark: Option<At<BlockMark>>,
    /// Printed in its corner.
    pub label: At<Words>,
    /// Printed after the label.
    pub help: Option<At<Words>>,
    /// Twelfths of the width.
    pub share: u8,
    /// Whether it is passed over where the blocks around it are read aloud.
    pub is_silent: bool,
    /// What is printed in it from the plan.
    pub from: Option<PlanValue>,
    /// What one writes into.
    pub room: FieldRoom,
    /// Whose words the boxes are, where not its own.
    pub meaning: Option<FieldMeaning>,
}

impl Form {
    /// All fields, from the top left to the bottom right.
    pub fn fields(&self) -> impl Iterator<Item = &FormField> + Clone {
        self.lines.iter().flat_map(|line| &line.fields)
    }

    /// Whether it has a value of the net that its document names.
    #[must_use]
    pub fn asks_for_net(&self) -> bool {
        self.fields().any(|field| field.from.is_some_and(PlanValue::is_of_net))
    }

    /// Whether it has a value of a message, so that each message can have a sheet of it.
    #[must_use]
    pub fn asks_for_message(&self) -> bool {
        self.fields().any(|field| field.from.is_some_and(PlanValue::is_of_message))
    }
}

/// Lines of fields as they were written: no two of them are judged together where a base comes before them.
pub struct FormLines(Vec<FormLine>);

impl Field for FormLines {
    fn take(keys: &Keys<'_>, key: &'static str, of: &mut Reading<'_>) -> Option<Self> {
        if keys.get(key).is_none() && keys.get("base").is_none() {
            of.missing(key);
        }
        let before = of.found.errors();
        let lines = Vec::<WrittenFormLine>::take(keys, key, of)?;
        // What was refused is no longer there, and was told.
        let is_whole = of.found.errors() == before;
        if lines.is_empty() && is_whole && keys.get(key).is_some() && keys.get("base").is_none() {
            of.missing(key);
        }
        for line in &lines {
            if is_whole && line.fields.is_empty() && line.title.is_none() && !line.new_page {
                let finding =
                    Finding::new(&BAD_VALUE, line.span, "a line of a form has no field").label("draws nothing");
                of.found
                    .push(finding.help("write a field into it, as `field = [{ label = \"Name\" }]`, or leave it out"));
            }
            let last = line.fields.last().map_or(line.span, |field| field.label.span);
            check_width(line.fields.iter().map(|field| field.share), WHOLE, last, of);
        }
        let line = |WrittenFormLine { title, new_page, fields, .. }: WrittenFormLine| FormLine {
            title,
            begins_page: new_page,
            is_added: false,
            fields,
        };
        Some(Self(lines.into_iter().map(line).collect()))
    }
    fn describe(key: &'static str, doc: &[&str], keys: &mut KeySchemas, schemas: &mut Schemas) {
        Vec::<WrittenFormLine>::describe(key, doc, keys, schemas);
    }
    fn plain(keys: &Keys<'_>, key: &'static str, into: &mut Vec<(Key, Node)>) {
        Vec::<WrittenFormLine>::plain(keys, key, into);
    }
}

impl Meant for Form {
    type Written = WrittenForm;

    fn mean(written: WrittenForm, of: &mut Reading<'_>) -> Option<Self> {
        let WrittenForm { id, title, edition, base, follows, owner, purpose, reading, read_aloud, .. } = written;
        let WrittenForm { audience, layout, copies, sheets, lines: FormLines(lines), span, .. } = written;
        let form = Self {
            id,
            title,
            edition,
            base,
            follows,
            owner,
            purpose,
            reading,
            read_aloud,
            audience,
            layout,
            copies,
            sheets,
            lines,
            span,
        };
        check_rows(form.fields(), of);
        // With a base it is judged when the blocks of that are there.
        if form.base.is_none() {
            let on = Subject::new("form", &form.id.value);
            check_numbers(form.fields(), &on, of.found);
            check_read_aloud(&form, &on, of.found);
        }
        Some(form)
    }
}

/// A form that would not end is refused at the field with which it is too long.
fn check_rows<'a>(fields: impl Iterator<Item = &'a FormField>, of: &mut Reading<'_>) {
    let mut count = 0;
    for field in fields {
        count += u64::from(field.room.rows.max(1));
        if !FORM_ROWS.takes(count) {
            let what = format!(
                "with \"{}\" there are {count} {}, and {} are taken",
                field.label.value, FORM_ROWS.of, FORM_ROWS.most
            );
            let finding = Finding::new(&MORE_THAN_TAKEN, field.label.span, what).label("too much with this field");
            of.found.push(finding.help("ask for fewer rows, or make two forms of it"));
            return;
        }
    }
}

/// Characters of a label that is read at a glance: chosen by eye, two lines of a third of a page.
const LABEL: usize = 60;

/// No line is lower: common practice for writing in a vehicle or by headlamp, no source.
const LOWEST: Length = Length::mm(7);

impl Meant for FormField {
    type Written = WrittenField;

    fn mean(written: WrittenField, of: &mut Reading<'_>) -> Option<Self> {
        let WrittenField { number, letter, label, help, share, height, is_filling, is_silent, from, room } = written;
        let AskedRoom { mut room, meaning } = room.settled(&label, of)?;
        let length = label.as_str().chars().count();
        if length > LABEL {
            let what =
                format!("the label \"{}\" has {length} characters, and {LABEL} are read at a glance", label.value);
            let finding = Finding::new(&FORM_LABEL_LONG, label.span, what).label("is long for a label");
            of.found.push(finding.help("say the rest in `help`, or in `reading` once for the whole form"));
        }
        if let (Some(number), Some(letter)) = (&number, &letter) {
            let what = format!("\"{}\" has the number {} and the letter {}", label.value, number.value, letter.value);
            let finding = Finding::new(&BAD_VALUE, letter.span, what).label("the second of its marks");
            of.found.push(finding.help("keep one of them"));
        }
        let share = share.map_or(WHOLE, |share| share.value.get());
        check_alone(room.is_continued, share, &label, of);
        if let Some(height) = height {
            if height.value < LOWEST {
                let what = format!("{} is low to write on, and 7 mm is the least", in_mm(height.value));
                let finding = Finding::new(&BAD_VALUE, height.span, what).label("cannot be taken");
                of.found.push(finding.help("write \"7 mm\"").fix(height.span, "\"7 mm\""));
            }
            room.least = Some(height.value);
        }
        room.is_filling = is_filling;
        let number = number.map(|number| number.with(BlockMark::Number(number.value.get())));
        let mark = number.or_else(|| letter.map(|letter| letter.with(BlockMark::Letter(letter.value))));
        Some(Self { mark, label, help, share, is_silent, from: from.map(|from| from.value), room, meaning })
    }
}

/// `6.5 mm`.
fn in_mm(length: Length) -> String {
    let hundredths = length.as_grains() * 100 / Length::mm(1).as_grains();
    format!("{} mm", crate::ground::Decimal::print(hundredths, 100, 0))
}
