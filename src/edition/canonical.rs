//! A document as text in which only content counts.
//!
//! First line `fieldsheaf canonical 1`, second the rule set; then lines `path<TAB>value`, sorted by their bytes, in
//! Unicode NFC. A row of a table is `kind/id/table/column`, so that the order of rows is no content (the slot is a
//! column); other blocks are `section/key/index/...`. Values stand in base units where the print is not the value.
//! Backslash, tab, line feed and carriage return inside a value are written `\\`, `\t`, `\n`, `\r`. Each line ends in
//! a line feed.

use crate::compose::block::{Block, Document, FieldKind, Form, FormField, Section, Strip, Table, Text};
use sha2::{Digest, Sha256};
use std::fmt::Write;
use unicode_normalization::UnicodeNormalization;

/// First line of every canonical text; a change of the format changes it.
const VERSION: &str = "fieldsheaf canonical 1";

/// The canonical text of a document under a rule set (`47 CFR Part 97 as of 2026-02-13`).
///
/// Holder, read-back code, layout, paper and number of copies are left out: they differ between sheets of one content.
#[must_use]
pub fn canonical(document: &Document, rule_set: &str) -> String {
    let mut lines = Lines::default();
    let kind = document.kind;
    lines.add(format!("document/{kind}/title"), &document.title);
    lines.add(format!("document/{kind}/edition"), &document.foot.edition);
    lines.add(format!("document/{kind}/audience"), &document.foot.audience);
    lines.add(format!("document/{kind}/validity"), &document.foot.validity);
    for (index, text) in document.once.iter().enumerate() {
        lines.add(format!("document/{kind}/once/{index}"), &text.words());
    }
    for section in &document.sections {
        lines.section(section);
    }
    lines.into_text(rule_set)
}

/// SHA-256 of a canonical text, as 32 bytes.
#[must_use]
pub fn hash(canonical: &str) -> [u8; 32] {
    Sha256::digest(canonical.as_bytes()).into()
}

/// A line in NFC; what is ASCII is that already. Where a line may not be broken is no content.
fn composed(line: String) -> String {
    if line.is_ascii() { line } else { line.nfc().map(|c| if c == '\u{a0}' { ' ' } else { c }).collect() }
}

/// Lines being gathered.
#[derive(Default)]
struct Lines {
    list: Vec<String>,
}

impl Lines {
    fn add(&mut self, path: String, value: &str) {
        let mut line = path;
        line.push('\t');
        escape(value, &mut line);
        self.list.push(composed(line));
    }

    fn section(&mut self, section: &Section) {
        let path = format!("section/{}", section.key);
        self.add(format!("{path}/title"), &section.title.words());
        for (index, block) in section.blocks.iter().enumerate() {
            self.block(&format!("{path}/{index}"), block);
        }
    }

    fn block(&mut self, path: &str, block: &Block) {
        match block {
            Block::Heading(text) => self.add(format!("{path}/heading"), &text.words()),
            Block::Paragraph(paragraph) => self.add(format!("{path}/text"), &paragraph.text.words()),
            Block::Table(table) => self.table(path, table),
            Block::Form(form) => self.form(path, form),
            Block::Strip(strip) => self.strip(strip),
            Block::Symbol(symbol) => {
                self.add(format!("{path}/caption"), &symbol.caption.words());
                self.add(format!("{path}/payload"), &symbol.payload);
            }
        }
    }

    /// Rows by their record; a row without one by its place, since then its order is all that tells it apart.
    fn table(&mut self, path: &str, table: &Table) {
        for (index, row) in table.rows.iter().enumerate() {
            let row_path = row
                .record
                .as_ref()
                .map_or_else(|| format!("{path}/{}/{index}", table.key), |record| format!("{record}/{}", table.key));
            for (column, cell) in &row.cells {
                let path = format!("{row_path}/{column}");
                match &cell.base {
                    Some(base) => self.add(path, base),
                    None => self.add(path, &cell.text.words()),
                }
            }
        }
        if table.rows.is_empty() {
            self.add(format!("{path}/{}/empty", table.key), &table.when_empty.words());
        }
    }

    fn form(&mut self, path: &str, form: &Form) {
        for (line_index, line) in form.lines.iter().enumerate() {
            for (index, field) in line.fields.iter().enumerate() {
                self.field(&format!("{path}/line/{line_index}/field/{index}"), field);
            }
        }
    }

    fn field(&mut self, path: &str, field: &FormField) {
        self.add(format!("{path}/label"), &field.label.words());
        self.add(format!("{path}/share"), &field.share.to_string());
        self.add(format!("{path}/kind"), &kind_words(&field.kind));
        let number = field.number.map(|number| number.to_string());
        let optional = [
            ("number", number),
            ("help", field.help.as_ref().map(Text::words)),
            ("filled", field.filled.as_ref().map(Text::words)),
        ];
        for (key, value) in optional {
            if let Some(value) = value {
                self.add(format!("{path}/{key}"), &value);
            }
        }
    }

    fn strip(&mut self, strip: &Strip) {
        let path = format!("band/{}", strip.key);
        self.add(format!("{path}/title"), &strip.title.words());
        self.add(format!("{path}/edges"), &format!("{} {}", strip.low, strip.high));
        for area in &strip.areas {
            let value = format!("{:?} {}", area.shade, area.label.words());
            self.add(format!("{path}/area/{}/{} {}", area.lane_name, area.from, area.to), &value);
        }
        for mark in &strip.marks {
            let value = format!("{} {} {}", mark.from, mark.to, mark.detail.words());
            self.add(format!("{path}/mark/{}/{}", mark.name.words(), mark.at), &value);
        }
        for join in &strip.joins {
            self.add(format!("{path}/join/{} {}", join.hear, join.send), &join.label.words());
        }
    }

    fn into_text(mut self, rule_set: &str) -> String {
        self.list.sort_unstable();
        let mut text = String::new();
        escape(rule_set, &mut text);
        let mut text = format!("{VERSION}\n{}\n", composed(text));
        for line in self.list {
            text.push_str(&line);
            text.push('\n');
        }
        text
    }
}

fn kind_words(kind: &FieldKind) -> String {
    match kind {
        FieldKind::Lines(lines) => format!("lines {lines}"),
        FieldKind::Ticks(words) => format!("ticks {}", words.join(" | ")),
        FieldKind::Words { columns, rows } => format!("words {columns} {rows}"),
        FieldKind::Ruled { columns, rows, is_filling } => {
            let mut words = format!("ruled {rows}{}", if *is_filling { " filling" } else { "" });
            for (heading, share) in columns {
                // Writing to a String cannot fail.
                let _ = write!(words, " | {heading} {share}");
            }
            words
        }
    }
}

fn escape(text: &str, line: &mut String) {
    for part in text.split_inclusive(['\\', '\t', '\n', '\r']) {
        let (plain, special) = match part.as_bytes().last() {
            Some(b'\\') => (part.strip_suffix('\\'), "\\\\"),
            Some(b'\t') => (part.strip_suffix('\t'), "\\t"),
            Some(b'\n') => (part.strip_suffix('\n'), "\\n"),
            Some(b'\r') => (part.strip_suffix('\r'), "\\r"),
            _ => (None, ""),
        };
        line.push_str(plain.unwrap_or(part));
        line.push_str(special);
    }
}
