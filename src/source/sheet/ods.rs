//! OpenDocument spreadsheets: all sheets stand in one part, equal cells and rows after each other once with a count.

use super::archive::{Archive, ArchivePart, add_text, attribute};
use super::{Fault, Laid, SheetRead, chosen, values};
use quick_xml::events::{BytesStart, Event};

/// Most spaces that are said by their number; a cell has fewer characters.
const SPACES: usize = 400;

pub(super) fn read(archive: &mut Archive<'_>, wanted: Option<&str>) -> Result<SheetRead, Fault> {
    let names = names(archive.part("content.xml")?)?;
    let at = chosen(&names, wanted)?;
    let mut part = archive.part("content.xml")?;
    let mut tables = 0;
    while let Some(event) = part.next()? {
        if let Event::Start(start) = event
            && start.local_name().as_ref() == "table"
        {
            if tables == at {
                let laid = table(&mut part)?;
                let name = names.get(at).cloned().unwrap_or_default();
                return Ok(SheetRead { name, names, laid });
            }
            tables += 1;
        }
    }
    Err(Fault::NoSuch(names))
}

fn names(mut part: ArchivePart<'_>) -> Result<Vec<String>, Fault> {
    let mut names = Vec::new();
    while let Some(event) = part.next()? {
        match event {
            Event::Start(start) if start.local_name().as_ref() == "table" => {
                names.push(attribute(&start, "name").unwrap_or_default());
            }
            _ => {}
        }
    }
    Ok(names)
}

/// A cell that has something in it.
struct Filled {
    column: usize,
    times: usize,
    text: String,
    is_error: bool,
}

fn table(part: &mut ArchivePart<'_>) -> Result<Laid, Fault> {
    let (mut laid, mut row) = (Laid::default(), 0_usize);
    loop {
        match part.inside()? {
            Event::Start(start) if start.local_name().as_ref() == "table-row" => {
                let times = repeated(&start, "number-rows-repeated");
                let cells = cells(part)?;
                // Empty rows are passed over, however many are said to follow the last.
                for again in 0..if cells.is_empty() { 0 } else { times } {
                    put(&mut laid, row + again, &cells)?;
                }
                row = row.saturating_add(times);
            }
            Event::End(end) if end.local_name().as_ref() == "table" => return Ok(laid),
            _ => {}
        }
    }
}

fn put(laid: &mut Laid, row: usize, cells: &[Filled]) -> Result<(), Fault> {
    for cell in cells {
        for again in 0..cell.times {
            let column = cell.column + again;
            if cell.is_error {
                laid.put_fault(row, column, &cell.text, "holds an error")?;
            } else {
                laid.put(row, column, &cell.text)?;
            }
        }
    }
    Ok(())
}

fn repeated(start: &BytesStart<'_>, name: &str) -> usize {
    attribute(start, name).and_then(|count| count.parse().ok()).unwrap_or(1)
}

/// The cells of a row that have something in them.
fn cells(part: &mut ArchivePart<'_>) -> Result<Vec<Filled>, Fault> {
    let (mut cells, mut column) = (Vec::new(), 0_usize);
    loop {
        let event = part.inside()?;
        match event {
            Event::Start(start) if ["table-cell", "covered-table-cell"].contains(&start.local_name().as_ref()) => {
                let times = repeated(&start, "number-columns-repeated");
                let value = value(&start);
                let is_error = attribute(&start, "value-type").as_deref() == Some("error")
                    || start
                        .attributes()
                        .with_checks(false)
                        .flatten()
                        .any(|one| one.key.as_ref() == "calcext:value-type" && one.value.as_ref() == "error");
                let said = said(part)?;
                let text = value.unwrap_or(said);
                if !text.trim().is_empty() {
                    cells.push(Filled { column, times, text, is_error });
                }
                column = column.saturating_add(times);
            }
            Event::End(end) if end.local_name().as_ref() == "table-row" => return Ok(cells),
            _ => {}
        }
    }
}

/// The value that a cell keeps beside what it shows.
fn value(start: &BytesStart<'_>) -> Option<String> {
    let plain = || attribute(start, "value");
    Some(match attribute(start, "value-type")?.as_str() {
        "float" | "percentage" | "currency" => {
            let text = plain()?;
            text.parse().map_or(text, values::number)
        }
        "date" => values::iso(&attribute(start, "date-value")?),
        "time" => clock(&attribute(start, "time-value")?),
        "boolean" => attribute(start, "boolean-value")?,
        _ => attribute(start, "string-value").filter(|text| !text.is_empty())?,
    })
}

/// `PT08H30M00S` as a clock shows it.
fn clock(text: &str) -> String {
    let parts = text.trim_start_matches("PT").split(['H', 'M', 'S']).collect::<Vec<_>>();
    match parts.as_slice() {
        [hours, minutes, seconds, ..] => {
            let seconds = seconds.split('.').next().unwrap_or_default();
            let tail = if seconds.trim_matches('0').is_empty() { String::new() } else { format!(":{seconds}") };
            format!("{hours}:{minutes}{tail}")
        }
        _ => text.to_owned(),
    }
}

/// What a cell shows, up to its end; remarks beside it left out.
fn said(part: &mut ArchivePart<'_>) -> Result<String, Fault> {
    let (mut text, mut depth, mut remark) = (String::new(), 0_usize, None);
    loop {
        let event = part.inside()?;
        match &event {
            Event::Start(start) => {
                depth += 1;
                match start.local_name().as_ref() {
                    "annotation" => remark = remark.or(Some(depth)),
                    "p" | "line-break" | "tab" if !text.is_empty() && remark.is_none() => text.push(' '),
                    "s" if remark.is_none() => {
                        text.extend(std::iter::repeat_n(' ', repeated(start, "c").min(SPACES)));
                    }
                    _ => {}
                }
            }
            Event::End(_) if depth == 0 => return Ok(text),
            Event::End(_) => {
                if remark == Some(depth) {
                    remark = None;
                }
                depth -= 1;
            }
            _ if remark.is_none() && depth > 0 => add_text(&event, &mut text),
            _ => {}
        }
    }
}
