//! A roster, or another list, in CSV -> the same records as `[[member]]`, with the place of each cell.

use super::include::{FILE_LIMIT, WrittenRecord, too_much};
use super::node::{Key, Node, Value};
use super::rules::{
    FILE_NOT_TEXT, FILE_TOO_LARGE, FILE_UNREADABLE, INCLUDE_LEAVES_FOLDER, ROSTER_COLUMN_UNKNOWN, ROSTER_ROW_UNEVEN,
};
use crate::ground::{At, FileId, Files, Finding, Findings, ReadFault, Span, World, nearest, plural};
use csv_core::{ReadFieldResult, Reader};

/// What is wanted of a CSV file.
pub struct RosterFile<'a> {
    /// The kind of its records: `member`.
    pub kind: &'static str,
    /// Its name, with the line that asks for it.
    pub file: &'a At<String>,
    /// A record's keys to the headings of the file.
    pub columns: &'a [(Key, At<String>)],
}

/// Reads a CSV file as records; empty cells are as if not written.
pub fn read_roster(
    world: &dyn World,
    wanted: &RosterFile<'_>,
    files: &mut Files,
    found: &mut Findings,
) -> Vec<WrittenRecord> {
    let RosterFile { kind, file, columns } = *wanted;
    let Some((id, text)) = load(world, file, files, found) else { return Vec::new() };
    let mut rows = fields(id, text.as_bytes()).into_iter();
    let Some(headings) = rows.next() else { return Vec::new() };
    let places = match_columns(file, columns, &headings, found);
    let mut records = Vec::new();
    for row in rows {
        if row.iter().all(|(text, _)| text.is_empty()) {
            continue;
        }
        if row.len() != headings.len() {
            found.push(uneven(&row, headings.len()));
            continue;
        }
        records.push(row_record(kind, &row, &places));
    }
    records
}

type Field = (String, Span);

fn load(world: &dyn World, file: &At<String>, files: &mut Files, found: &mut Findings) -> Option<(FileId, String)> {
    let (rule, cause) = match world.read(file, FILE_LIMIT) {
        Ok(bytes) => match String::from_utf8(bytes) {
            Ok(text) => {
                let text = text.strip_prefix('\u{feff}').map(str::to_owned).unwrap_or(text);
                if let Some(why) = files.too_much(&text) {
                    found.push(too_much(file, &why, file.span));
                    return None;
                }
                return Some((files.add(file.value.clone(), text.as_str()), text));
            }
            Err(fault) => {
                (&FILE_NOT_TEXT, format!("it is not UTF-8 text from byte {} on", fault.utf8_error().valid_up_to() + 1))
            }
        },
        Err(ReadFault::OutsideFolder) => (&INCLUDE_LEAVES_FOLDER, "this leads out of the plan's folder".to_owned()),
        Err(ReadFault::TooLarge(size)) => {
            (&FILE_TOO_LARGE, format!("{size} bytes are more than the {FILE_LIMIT} that a file may have"))
        }
        Err(ReadFault::Missing) => (&FILE_UNREADABLE, "there is no such file".to_owned()),
        Err(ReadFault::NotAFile) => (&FILE_UNREADABLE, "this is not a file".to_owned()),
        Err(ReadFault::Refused(cause)) => (&FILE_UNREADABLE, cause),
    };
    found
        .push(Finding::new(rule, file.span, format!("{} cannot be read: {cause}", file.value)).label("asked for here"));
    None
}

/// All rows with the place of each cell; quotes belong to the place, not to the text.
fn fields(file: FileId, bytes: &[u8]) -> Vec<Vec<Field>> {
    let mut reader = Reader::new();
    let (mut rows, mut row, mut text) = (Vec::new(), Vec::new(), Vec::new());
    let (mut at, mut start) = (0, 0);
    let mut output = [0_u8; 1024];
    loop {
        let (result, taken, written) = reader.read_field(bytes.get(at..).unwrap_or_default(), &mut output);
        at += taken;
        text.extend_from_slice(output.get(..written).unwrap_or_default());
        match result {
            ReadFieldResult::InputEmpty | ReadFieldResult::OutputFull => {}
            ReadFieldResult::Field { record_end } => {
                row.push(field(file, bytes, start..at, &std::mem::take(&mut text)));
                start = at;
                if record_end {
                    rows.push(std::mem::take(&mut row));
                }
            }
            ReadFieldResult::End => break,
        }
    }
    rows
}

fn field(file: FileId, bytes: &[u8], range: std::ops::Range<usize>, text: &[u8]) -> Field {
    let is_edge = |byte: Option<&u8>| byte.is_some_and(|b| matches!(b, b',' | b'\n' | b'\r' | b' ' | b'\t'));
    let (mut start, mut end) = (range.start, range.end);
    while start < end && is_edge(bytes.get(end - 1)) {
        end -= 1;
    }
    while start < end && is_edge(bytes.get(start)) {
        start += 1;
    }
    (String::from_utf8_lossy(text).trim().to_owned(), Span::new(file, start, end))
}

/// For each mapped key, the number of its column.
fn match_columns(
    file: &At<String>,
    columns: &[(Key, At<String>)],
    headings: &[Field],
    found: &mut Findings,
) -> Vec<(Key, usize)> {
    let mut places = Vec::new();
    for (key, heading) in columns {
        if let Some(at) = headings.iter().position(|(text, _)| *text == heading.value) {
            places.push((key.clone(), at));
            continue;
        }
        let what = format!("{} has no column \"{}\"", file.value, heading.value);
        let finding = Finding::new(&ROSTER_COLUMN_UNKNOWN, heading.span, what)
            .label("no such heading in the roster's first line");
        found.push(match nearest(&heading.value, headings.iter().map(|(text, _)| text.as_str())) {
            Some(name) => finding.did_you_mean(name),
            None => finding,
        });
    }
    places
}

fn uneven(row: &[Field], wanted: usize) -> Finding {
    let span = match (row.first(), row.last()) {
        (Some((_, first)), Some((_, last))) => Span { end: last.end, ..*first },
        _ => Span::NOWHERE,
    };
    let what =
        format!("this row has {} and the first line has {}", plural(row.len(), "cell"), plural(wanted, "heading"));
    Finding::new(&ROSTER_ROW_UNEVEN, span, what).label("cells do not match the headings")
}

fn row_record(kind: &str, row: &[Field], places: &[(Key, usize)]) -> WrittenRecord {
    let span = row.first().map_or(Span::NOWHERE, |(_, span)| *span);
    let mut entries: Vec<(Key, Node)> = Vec::new();
    for (key, at) in places {
        let Some((text, span)) = row.get(*at).filter(|(text, _)| !text.is_empty()) else { continue };
        entries.push((key.clone(), Node { value: Value::Field(text.clone()), span: *span }));
    }
    // Without an id column the call sign is the id: it is unique by law and known to everybody.
    let call = entries.iter().find(|(key, _)| key.text == "call").map(|(_, node)| node.clone());
    let has_id = entries.iter().any(|(key, _)| key.text == "id");
    if let ("member", false, Some(Node { value: Value::Field(call), span })) = (kind, has_id, call) {
        entries
            .push((Key { text: "id".to_owned(), span }, Node { value: Value::Field(call.to_ascii_lowercase()), span }));
    }
    let kind = Key { text: kind.to_owned(), span };
    WrittenRecord { kind, node: Node { value: Value::Table(entries), span } }
}
