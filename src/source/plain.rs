//! What was written, as it would be typed in a TOML file: the same from a file, a row or a cell, with quantities in one spelling.

use super::node::{Key, Node, Value};
use crate::ground::Decimal;
use std::fmt::Write;

/// A measure: its units with how many of the least make each, and those of them that it is told in, the largest first.
struct Quantity {
    units: &'static [(&'static str, i64)],
    told: &'static [(&'static str, i64)],
}

const MEASURES: [Quantity; 6] = [
    Quantity {
        units: &[("GHz", 1_000_000_000), ("MHz", 1_000_000), ("kHz", 1_000)],
        told: &[("MHz", 1_000_000), ("kHz", 1_000)],
    },
    // Tones and audio are in hertz and nothing else, heights in meters, ways in kilometers.
    Quantity { units: &[("Hz", 1)], told: &[("Hz", 1)] },
    Quantity { units: &[("m", 1)], told: &[("m", 1)] },
    Quantity { units: &[("km", 1)], told: &[("km", 1)] },
    Quantity { units: &[("kW", 1_000_000), ("W", 1_000), ("mW", 1)], told: &[("W", 1_000)] },
    Quantity { units: &[("h", 3_600), ("min", 60), ("s", 1)], told: &[("min", 60), ("s", 1)] },
];

/// A value as it would be typed: cells as text, quantities in one spelling.
pub fn plain(node: &Node) -> Node {
    let value = match &node.value {
        Value::Text(text) | Value::Field(text) | Value::Date(text) => Value::Text(one_spelling(text)),
        Value::List(items) => Value::List(items.iter().map(plain).collect()),
        Value::Table(entries) => Value::Table(entries.iter().map(|(key, node)| (key.clone(), plain(node))).collect()),
        value @ (Value::Integer(_) | Value::Float(_) | Value::Flag(_)) => value.clone(),
    };
    Node { value, span: node.span }
}

/// A whole number as it would be typed: that of a cell is text there.
pub fn plain_number(node: &Node) -> Node {
    let number = match &node.value {
        Value::Field(text) => text.parse().ok(),
        _ => None,
    };
    number.map_or_else(|| plain(node), |number| Node { value: Value::Integer(number), span: node.span })
}

/// A number and its unit, so that `0.6 MHz` and `600 kHz` are one text: in the largest unit that its measure is told in of which it is
/// one at least. Any other text as it stands.
fn one_spelling(text: &str) -> String {
    quantity(text).unwrap_or_else(|| text.to_owned())
}

fn quantity(text: &str) -> Option<String> {
    let (number, unit) = text.split_once(' ')?;
    let number = Decimal::parse(number)?;
    let of = |measure: &Quantity| measure.units.iter().find(|(own, _)| *own == unit).map(|(_, count)| *count);
    let (count, told) = MEASURES.iter().find_map(|measure| Some((of(measure)?, measure.told)))?;
    // Thousandths of the least unit: half a hertz is written too.
    let grains = number.to_grains(count.checked_mul(1_000)?)?;
    let sign = if text.starts_with('+') { "+" } else { "" };
    let is_told = |(_, count): &&(&str, i64)| {
        let one = count * 1_000;
        // Minutes part into sixty: only whole ones have few decimals.
        grains.abs() >= one && (*count != 60 || grains % one == 0)
    };
    let (unit, count) = told.iter().find(is_told).or(told.last())?;
    let number = match count {
        60 => (grains / 60_000).to_string(),
        count => Decimal::print(grains, u64::try_from(count.checked_mul(1_000)?).ok()?, 0),
    };
    Some(format!("{sign}{number} {unit}"))
}

/// A value in TOML, on one line.
#[must_use]
pub fn toml_of(node: &Node) -> String {
    let mut text = String::new();
    write_value(node, &mut text);
    text
}

fn write_value(node: &Node, into: &mut String) {
    match &node.value {
        Value::Text(text) | Value::Field(text) | Value::Date(text) => write_text(text, into),
        Value::Integer(number) => into.push_str(&number.to_string()),
        Value::Float(number) => into.push_str(&format!("{number:?}")),
        Value::Flag(flag) => into.push_str(&flag.to_string()),
        Value::List(items) => {
            into.push('[');
            for (at, item) in items.iter().enumerate() {
                into.push_str(if at == 0 { "" } else { ", " });
                write_value(item, into);
            }
            into.push(']');
        }
        Value::Table(entries) => {
            into.push_str(if entries.is_empty() { "{" } else { "{ " });
            for (at, (key, node)) in entries.iter().enumerate() {
                into.push_str(if at == 0 { "" } else { ", " });
                write_key(key, into);
                into.push_str(" = ");
                write_value(node, into);
            }
            into.push_str(if entries.is_empty() { "}" } else { " }" });
        }
    }
}

fn write_key(key: &Key, into: &mut String) {
    let is_bare = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if !key.text.is_empty() && key.text.chars().all(is_bare) {
        into.push_str(&key.text);
    } else {
        write_text(&key.text, into);
    }
}

/// A text as TOML 1.0 quotes it.
#[must_use]
pub fn quoted(text: &str) -> String {
    let mut quoted = String::new();
    write_text(text, &mut quoted);
    quoted
}

fn write_text(text: &str, into: &mut String) {
    into.push('"');
    for c in text.chars() {
        match c {
            '"' => into.push_str("\\\""),
            '\\' => into.push_str("\\\\"),
            '\n' => into.push_str("\\n"),
            '\t' => into.push_str("\\t"),
            c if c.is_control() => {
                // Writing to a string cannot fail.
                let _ = write!(into, "\\u{:04X}", u32::from(c));
            }
            c => into.push(c),
        }
    }
    into.push('"');
}

#[cfg(test)]
mod tests {
    use super::{one_spelling, toml_of};
    use crate::ground::{Files, Findings};

    #[test]
    fn a_quantity_has_one_spelling() {
        for (written, told) in [
            ("146.940 MHz", "146.94 MHz"),
            ("146940 kHz", "146.94 MHz"),
            ("0.6 MHz", "600 kHz"),
            ("+600 kHz", "+600 kHz"),
            ("-0.600 MHz", "-600 kHz"),
            ("12.50 kHz", "12.5 kHz"),
            ("103.50 Hz", "103.5 Hz"),
            ("1.2 GHz", "1200 MHz"),
            ("0.5 W", "0.5 W"),
            ("1500 mW", "1.5 W"),
            ("120 s", "2 min"),
            ("90 s", "90 s"),
            ("1 h", "60 min"),
            ("1500.0 m", "1500 m"),
            ("1750 Hz", "1750 Hz"),
            ("Channel 7", "Channel 7"),
            ("7 Seas", "7 Seas"),
            ("145 MHz to 146 MHz", "145 MHz to 146 MHz"),
        ] {
            assert_eq!(one_spelling(written), told, "{written}");
        }
    }

    #[test]
    fn what_is_written_as_toml_reads_as_it_was() {
        let text = "a = [1, 2.5, true, \"x \\\" \\\\ \\n é\", { b-c = \"\", \"d e\" = [] }]\n";
        let (mut files, mut found) = (Files::default(), Findings::default());
        let id = files.add("a.toml", text);
        let root = crate::source::parse(id, text, &mut found);
        let written = format!("a = {}\n", toml_of(root.get("a").unwrap()));
        assert_eq!((written.as_str(), found.len()), (text, 0));
    }
}
