//! A spreadsheet as a team has it, and the same values as CSV and as TOML.
#![allow(clippy::panic, reason = "a test fails by panicking")]

use rust_xlsxwriter::{ExcelDateTime, Format, Workbook, Worksheet};
use std::fmt::Write;

/// A value as somebody types it.
#[derive(Clone, Debug)]
pub enum Typed {
    Text(String),
    Number(f64),
    /// Year, month, day.
    Day(u16, u8, u8),
    Nothing,
}

use Typed::{Day, Nothing, Number, Text};

/// Headings and rows.
pub struct Sheet {
    pub name: &'static str,
    /// Rows above the headings.
    pub above: u32,
    pub headings: Vec<&'static str>,
    pub rows: Vec<Vec<Typed>>,
}

fn text(text: impl Into<String>) -> Typed {
    Text(text.into())
}

/// Forty channels: ten on one frequency each on 2 m, ten pairs, and twenty on 70 cm.
pub fn channels() -> Sheet {
    let row = |n: u32| {
        let step = f64::from(n % 10) * 0.02;
        let (name, receive, send, tone) = match n / 10 {
            // Reckoned, as a sheet does: the numbers lie a little beside the decimals.
            0 => (format!("SIM {n}"), 146.4 + step, 146.4 + step, Nothing),
            1 => (format!("REP {n}"), 146.61 + step, 146.61 + step - 0.6, Number(103.5)),
            _ => (format!("UHF {n}"), 445.0 + f64::from(n - 20) * 0.025, 445.0 + f64::from(n - 20) * 0.025, Nothing),
        };
        let function = if n.is_multiple_of(7) { Nothing } else { text("Tactical") };
        vec![text(name), function, Number(receive), Number(send), tone, Day(2026, 10, 4), Number(1.0)]
    };
    let headings = vec!["Name", "Use", "RX", "TX", "Tone", "Heard", "Bank"];
    Sheet { name: "Channels", above: 0, headings, rows: (0..40).map(row).collect() }
}

/// Sixty people with invented call signs and numbers.
pub fn people() -> Sheet {
    let first = ["Ada", "Bram", "Cleo", "Dario", "Edda", "Finn", "Greta", "Hugo", "Ines", "Jonas"];
    let last = ["Varga", "Lind", "Marsh", "Orsini", "Keller", "Quist"];
    let row = |n: usize| {
        let letter = |base: u8, by: usize| char::from(base + u8::try_from(by).unwrap());
        let call = format!("WZ7Q{}{}", letter(b'R', n / 26), letter(b'A', n % 26));
        let expires = Day(2030 + u16::try_from(n % 5).unwrap(), 4, 1);
        let phone = text(format!("+1 406 555 01{n:02}"));
        let name = text(format!("{} {}", first[n % 10], last[n / 10]));
        vec![name, text(call), text("general"), expires, phone, text("ht-dual")]
    };
    let headings = vec!["Full name", "Call sign", "Class", "Expires", "Phone", "Radios"];
    Sheet { name: "People", above: 0, headings, rows: (0..60).map(row).collect() }
}

/// Twelve places, below a title.
pub fn places() -> Sheet {
    let words =
        ["Alder", "Birch", "Cedar", "Dogwood", "Elm", "Fir", "Gorse", "Hazel", "Ivy", "Juniper", "Kapok", "Larch"];
    let row = |n: usize| {
        let at = f64::from(u32::try_from(n).unwrap()) / 100.0;
        let position = text(format!("{:.4}, {:.4}", 47.1 + at, -109.4 - at));
        let height = Number(1200.0 + at * 100.0);
        vec![text(format!("S{n:02}")), text(words[n]), text("shelter"), position, height, Day(2026, 10, 4)]
    };
    let headings = vec!["Code", "Tactical call", "Kind", "Grid", "Height", "Seen"];
    Sheet { name: "Places", above: 2, headings, rows: (0..12).map(row).collect() }
}

/// All of them as a workbook.
pub fn workbook(sheets: &[Sheet]) -> Vec<u8> {
    let mut book = Workbook::new();
    let day = Format::new().set_num_format("d mmm yyyy");
    for sheet in sheets {
        write(book.add_worksheet().set_name(sheet.name).unwrap(), sheet, &day);
    }
    book.save_to_buffer().unwrap()
}

fn write(into: &mut Worksheet, sheet: &Sheet, day: &Format) {
    if sheet.above > 0 {
        into.write(0, 0, format!("{} of the county", sheet.name)).unwrap();
    }
    for (column, heading) in (0_u16..).zip(&sheet.headings) {
        into.write(sheet.above, column, *heading).unwrap();
    }
    for (row, cells) in (sheet.above + 1..).zip(&sheet.rows) {
        for (column, cell) in (0_u16..).zip(cells) {
            match cell {
                Text(text) => into.write(row, column, text).unwrap(),
                Number(number) => into.write(row, column, *number).unwrap(),
                Day(y, m, d) => {
                    let date = ExcelDateTime::from_ymd(*y, *m, *d).unwrap();
                    into.write_with_format(row, column, &date, day).unwrap()
                }
                Nothing => continue,
            };
        }
    }
}

fn decimal(number: f64) -> String {
    format!("{}", (number * 1e6).round() / 1e6)
}

impl Sheet {
    /// As a CSV file.
    pub fn csv(&self) -> String {
        let mut csv = "\n".repeat(usize::try_from(self.above).unwrap());
        csv += &self.headings.join(",");
        for cells in &self.rows {
            let cell = |cell: &Typed| match cell {
                Text(text) => format!("\"{text}\""),
                Number(number) => decimal(*number),
                Day(y, m, d) => format!("{y}-{m:02}-{d:02}"),
                Nothing => String::new(),
            };
            write!(csv, "\n{}", cells.iter().map(cell).collect::<Vec<_>>().join(",")).unwrap();
        }
        csv + "\n"
    }
}

/// The same plan with all records typed.
pub fn typed_out() -> String {
    let head = include_str!("../tables/team.toml");
    let mut toml = head.split("[channels]").next().unwrap().to_owned();
    toml += head.split("[[radio]]").nth(1).map(|rest| format!("[[radio]]{rest}")).unwrap().as_str();
    let said = |cell: &Typed| match cell {
        Text(text) => text.clone(),
        Number(number) => decimal(*number),
        Day(y, m, d) => format!("{y}-{m:02}-{d:02}"),
        Nothing => String::new(),
    };
    for cells in channels().rows {
        let cells: Vec<String> = cells.iter().map(said).collect();
        let [name, function, rx, tx, tone, heard, _] = cells.as_slice() else { panic!("{cells:?}") };
        write!(toml, "[[channel]]\nname = \"{name}\"\nrx = \"{rx} MHz\"\ntx = \"{tx} MHz\"\npower = \"25 W\"\n")
            .unwrap();
        writeln!(toml, "verified = {{ on = {heard}, by = \"wz7qsb\" }}").unwrap();
        toml += &if function.is_empty() { String::new() } else { format!("function = \"{function}\"\n") };
        toml += &if tone.is_empty() { String::new() } else { format!("tx-tone = \"{tone} Hz\"\n") };
    }
    for cells in people().rows {
        let cells: Vec<String> = cells.iter().map(said).collect();
        let [name, call, class, expires, phone, radio] = cells.as_slice() else { panic!("{cells:?}") };
        write!(toml, "[[member]]\nname = \"{name}\"\ncall = \"{call}\"\nclass = \"{class}\"\nexpires = {expires}\n")
            .unwrap();
        write!(toml, "radio = [\"{radio}\"]\nconfirmed = 2026-10-01\n").unwrap();
        writeln!(toml, "phone = [{{ number = \"{phone}\", audience = \"team\", confirmed = 2026-10-01 }}]").unwrap();
    }
    for cells in places().rows {
        let cells: Vec<String> = cells.iter().map(said).collect();
        let [code, tactical, kind, grid, height, seen] = cells.as_slice() else { panic!("{cells:?}") };
        write!(toml, "[[place]]\ncode = \"{code}\"\ntactical = \"{tactical}\"\nkind = \"{kind}\"\n").unwrap();
        write!(toml, "position = \"{grid}\"\nelevation = \"{height} m\"\nvisited-on = {seen}\n").unwrap();
    }
    toml
}
