//! Tables: a CSV file, or a sheet of a spreadsheet, whose headings are mapped once to the keys of a record.

use super::node::{Key, Node, Value};
use super::reading::Reading;
use super::record::{record, record_of};
use super::schema::Schemas;
use super::whole::Whole;
use super::written::{Written, words_of};
use crate::ground::caps::DEFAULTS;
use crate::ground::{At, Decimal, Refusal};
use serde_json::{Value as Json, json};
use std::collections::BTreeMap;

record! {
    /// A table of records: a CSV file, or a sheet of a spreadsheet (XLSX, ODS).
    #[derive(Clone, Debug)]
    pub struct RecordTable = "table" {
        /// A CSV file, or a spreadsheet (XLSX, ODS), of the plan's folder, as `plan.xlsx`.
        file: At<String>,
        /// The sheet of a spreadsheet, as `Channels`; the first when left out.
        sheet: Option<At<String>>,
        /// The row of the headings; the first that is not empty when left out.
        heading_row: Option<At<Whole<u32, 1, 200_000, true>>>,
        /// What parts the cells of a CSV file, as `;`; a comma when left out.
        separator: Option<At<String>>,
        /// What stands before decimals; a point when left out.
        decimal: Option<At<DecimalMark>>,
        /// A record's keys and the headings of their columns, a unit beside those of bare numbers, as
        /// `{"name": "Name", "power": {"heading": "Power", "unit": "W"}}`.
        columns: At<TableColumns>,
        /// Keys and values that count where a cell is empty or no column has the key, as `{"name": "No name"}`; none when left
        /// out.
        defaults: Option<At<Entries>>,
        /// Headings of columns that are not read, as `Bank`; a note names them when left out.
        ignore: Vec<At<String>>,
        /// Titles and remarks between the rows: a row with one of these texts and nothing else is not read, as `UHF`; every row is a
        /// record when left out.
        skip: Vec<At<String>>,
    }

    /// A column with more to say than its heading.
    pub struct TableHeading = "heading" {
        /// As it stands above the column, as `RX`.
        heading: At<String>,
        /// The unit of its bare numbers; what stands in a cell must have its own when left out.
        unit: Option<At<ColumnUnit>>,
        /// Heading of the column that goes on with it, behind a comma between numbers and a blank between words, as `Lon`; it stands
        /// alone when left out.
        followed_by: Option<At<String>>,
        /// Whether its bare numbers are shifts, so that one without a sign leads up; one without a sign is a frequency when left out.
        signed: bool,
        /// What parts the items of its cells, as `,`; a semicolon when left out.
        list: Option<At<String>>,
        /// Which of several columns with this heading, counted from the left, as `2`; a finding asks for it, where there are
        /// several, when left out.
        nth: Option<At<Whole<u8, 1, 255, true>>>,
        /// What words in its cells mean, in any letters, as `{"N": "narrow", "W": "wide"}`; what stands there is taken as it is when
        /// left out.
        words: Option<At<BTreeMap<String, At<String>>>>,
    }
}

words_of! {
    /// What stands before the decimals of a number.
    pub enum DecimalMark {
        /// 146.94
        Point = "point",
        /// 146,94
        Comma = "comma",
    }
    /// The unit that a column's numbers have.
    pub enum ColumnUnit {
        /// Gigahertz.
        Gigahertz = "GHz",
        /// Megahertz.
        Megahertz = "MHz",
        /// Kilohertz.
        Kilohertz = "kHz",
        /// Hertz.
        Hertz = "Hz",
        /// Kilowatts.
        Kilowatts = "kW",
        /// Watts.
        Watts = "W",
        /// Milliwatts.
        Milliwatts = "mW",
        /// Kilometers.
        Kilometers = "km",
        /// Meters.
        Meters = "m",
        /// Feet.
        Feet = "ft",
        /// Days.
        Days = "d",
        /// Hours.
        Hours = "h",
        /// Minutes.
        Minutes = "min",
        /// Seconds.
        Seconds = "s",
        /// Gain over an isotropic antenna.
        Dbi = "dBi",
        /// Gain over a dipole.
        Dbd = "dBd",
        /// Decibels.
        Decibels = "dB",
        /// Parts per million.
        Ppm = "ppm",
        /// Symbols a second.
        Baud = "baud",
    }
}

/// A column of a table and the key that it fills, with the keys of the tables that this stands in.
#[derive(Clone, Debug)]
pub struct TableColumn {
    pub(super) path: Vec<Key>,
    pub(super) heading: At<String>,
    /// Which of several columns with this heading; none where there is one.
    pub(super) nth: Option<usize>,
    /// The heading of the column that goes on with it.
    pub(super) followed_by: Option<At<String>>,
    unit: Option<ColumnUnit>,
    /// Whether a number without a sign leads up.
    is_signed: bool,
    list: Option<String>,
    /// In small letters, each with what it means.
    words: BTreeMap<String, String>,
}

/// All columns of a table that are mapped.
#[derive(Clone, Debug)]
pub struct TableColumns(pub(super) Vec<TableColumn>);

impl Written for TableColumns {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let mut columns = Vec::new();
        map(node, &mut Vec::new(), &mut columns, of);
        Some(Self(columns))
    }
    fn schema(schemas: &mut Schemas) -> Json {
        let heading = super::schema_of::<TableHeading>(schemas);
        json!({ "type": "object", "additionalProperties": { "anyOf": [{ "type": "string" }, heading, { "type": "object" }] } })
    }
}

/// What a table of columns maps, with that of the tables in it.
fn map(node: &Node, path: &mut Vec<Key>, columns: &mut Vec<TableColumn>, of: &mut Reading<'_>) {
    let Some(entries) = node.entries() else {
        node.refuse("a heading, or a table of them", of);
        return;
    };
    for (key, inner) in entries {
        path.push(key.clone());
        let is_heading =
            ["heading", "unit", "list"].iter().any(|key| inner.get(key).is_some_and(|n| n.text().is_some()));
        if let Value::Text(text) = &inner.value {
            let heading = At::new(text.clone(), inner.span);
            columns.push(TableColumn::of(
                path.clone(),
                TableHeading {
                    heading,
                    unit: None,
                    followed_by: None,
                    signed: false,
                    list: None,
                    nth: None,
                    words: None,
                },
            ));
        } else if is_heading {
            let read = record_of::<TableHeading>(inner, &mut of.inner("heading", key.span));
            columns.extend(read.map(|heading| TableColumn::of(path.clone(), heading)));
        } else {
            map(inner, path, columns, of);
        }
        path.pop();
    }
}

impl TableColumn {
    fn of(path: Vec<Key>, written: TableHeading) -> Self {
        let TableHeading { heading, unit, followed_by, signed, list, nth, words } = written;
        let words = words.map(|words| words.value).unwrap_or_default().into_iter();
        Self {
            path,
            heading,
            nth: nth.map(|nth| usize::from(nth.value.get())),
            followed_by,
            is_signed: signed,
            unit: unit.map(|unit| unit.value),
            list: list.map(|list| list.value),
            words: words.map(|(theirs, ours)| (theirs.trim().to_lowercase(), ours.value)).collect(),
        }
    }

    /// A bare number, with a point before its decimals.
    fn number(text: &str, mark: DecimalMark) -> Option<String> {
        let text = if mark == DecimalMark::Comma { text.replacen(',', ".", 1) } else { text.to_owned() };
        Decimal::parse(&text).map(|_| text)
    }

    /// Whether a cell has a bare number.
    pub(super) fn is_number(text: &str, mark: DecimalMark) -> bool {
        Self::number(text, mark).is_some()
    }

    /// A cell and that which goes on with it, as one text.
    pub(super) fn joined(first: &str, next: &str, mark: DecimalMark) -> String {
        match (Self::number(first, mark), Self::number(next, mark)) {
            (Some(first), Some(next)) => format!("{first}, {next}"),
            _ => format!("{first} {next}"),
        }
    }

    /// What a cell of this column says: a bare number with the column's unit, a text with the column's marks as a list.
    pub(super) fn node(&self, text: &str, mark: DecimalMark, span: crate::ground::Span) -> Node {
        let field = |text: String| Node { value: Value::Field(text), span };
        if let Some(separator) = &self.list {
            let parts = text.split(separator.as_str()).map(str::trim).filter(|part| !part.is_empty());
            return Node { value: Value::List(parts.map(|part| field(self.with_unit(part, mark))).collect()), span };
        }
        field(self.with_unit(text, mark))
    }

    fn with_unit(&self, text: &str, mark: DecimalMark) -> String {
        if let Some(ours) = self.words.get(&text.to_lowercase()) {
            return ours.clone();
        }
        let Some(unit) = self.unit else { return text.to_owned() };
        let Some(number) = Self::number(text, mark) else { return text.to_owned() };
        // Spreadsheets show no plus.
        let plus = if self.is_signed && !number.starts_with(['+', '-', '\u{2212}']) { "+" } else { "" };
        format!("{plus}{number} {unit}")
    }
}

/// A table of keys and values that are read elsewhere.
#[derive(Clone, Debug)]
pub struct Entries(pub(super) Vec<(Key, Node)>);

impl Entries {
    /// The keys and values, in their order.
    #[must_use]
    pub fn list(&self) -> &[(Key, Node)] {
        &self.0
    }
}

impl Written for Entries {
    fn read(node: &Node, of: &mut Reading<'_>) -> Option<Self> {
        let Some(entries) = node.entries() else {
            node.refuse("a table of keys", of);
            return None;
        };
        let bytes = bytes_of(entries);
        if !DEFAULTS.takes(bytes) {
            let why = format!("it has {bytes} bytes, and {} are taken: each record takes as much", DEFAULTS.most);
            of.refuse(node.span, Refusal::new(why).help("write long values into the records that have them"));
            return None;
        }
        Some(Self(entries.to_vec()))
    }
    fn schema(_: &mut Schemas) -> Json {
        json!({ "type": "object" })
    }
}

/// The bytes of keys and values, those within each other too.
fn bytes_of(entries: &[(Key, Node)]) -> u64 {
    entries.iter().map(|(key, node)| length(&key.text) + bytes_of_value(node)).sum()
}

fn bytes_of_value(node: &Node) -> u64 {
    match &node.value {
        Value::Text(text) | Value::Field(text) | Value::Date(text) => length(text) + 1,
        Value::List(items) => items.iter().map(bytes_of_value).sum::<u64>() + 1,
        Value::Table(entries) => bytes_of(entries) + 1,
        Value::Integer(_) | Value::Float(_) | Value::Flag(_) => 1,
    }
}

fn length(text: &str) -> u64 {
    u64::try_from(text.len()).unwrap_or(u64::MAX)
}

/// Adds what entries do not have; where both have a table under a key, what that does not have.
pub fn fill(entries: &mut Vec<(Key, Node)>, defaults: &[(Key, Node)]) {
    for (key, default) in defaults {
        match entries.iter_mut().find(|(own, _)| own.text == key.text) {
            None => entries.push((key.clone(), default.clone())),
            Some((_, Node { value: Value::Table(own), .. })) => fill(own, default.entries().unwrap_or_default()),
            Some(_) => {}
        }
    }
}

/// Puts a value under the last of some keys, in the tables of those before it.
pub(super) fn put(entries: &mut Vec<(Key, Node)>, path: &[Key], node: Node) {
    let [first, rest @ ..] = path else { return };
    if rest.is_empty() {
        entries.push((first.clone(), node));
        return;
    }
    let at = entries.iter().position(|(own, _)| own.text == first.text).unwrap_or(entries.len());
    if at == entries.len() {
        entries.push((first.clone(), Node { value: Value::Table(Vec::new()), span: node.span }));
    }
    if let Some((_, Node { value: Value::Table(inner), .. })) = entries.get_mut(at) {
        put(inner, rest, node);
    }
}
