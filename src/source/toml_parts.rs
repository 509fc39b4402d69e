//! A long TOML text, read part by part: what the parser needs for a text is thirty times its length, and parts are read on all threads.
//!
//! A text is parted before lines `[[kind]]`. Each part is a TOML text of its own, and all that one part can change of another is the
//! list of a kind, which goes on. Where anything else seems to go on, or a part has a fault, the text is read as a whole: an end of a
//! part inside of a string or a list is a fault of that part.

use super::depth::too_deep;
use super::node::{Key, Node, Value};
use super::toml_text::{parse, table_of};
use crate::ground::{FileId, Findings, Span, on_all_threads, on_two_threads};
use std::collections::BTreeMap;
use std::ops::Range;

/// Bytes of a part, about.
const PART: usize = 1 << 14;
/// The same of a text of the program, for which somebody waits.
const OUR_PART: usize = 1 << 12;

/// The same as [`parse`], on all threads. Nobody may wait for it who holds something that others want: whoever waits for a part takes up
/// other work.
pub fn parse_on_all_threads(file: FileId, text: &str, found: &mut Findings) -> Node {
    let parted = if too_deep(text).is_none() { of_parts(file, text, PART) } else { None };
    parted.unwrap_or_else(|| parse(file, text, found))
}

/// The same of a text of the program, for who holds what others want: on two threads, and no deeper than ours are. `finish` is done
/// to each part there, and not to a text that is read as a whole.
pub fn parse_ours(file: FileId, text: &str, found: &mut Findings, finish: impl Fn(&mut Node) + Sync) -> Node {
    let read = |part| {
        let mut table = table_of_part(file, text, part)?;
        finish(&mut table);
        Some(table)
    };
    let parted = whole_of(file, text, on_two_threads(parts(text, OUR_PART), read));
    parted.unwrap_or_else(|| parse(file, text, found))
}

/// The whole text as one table. None where it is short, or is to be read as a whole.
fn of_parts(file: FileId, text: &str, size: usize) -> Option<Node> {
    let parts = parts(text, size);
    if parts.len() < 2 {
        return None;
    }
    whole_of(file, text, on_all_threads(parts, 1, |part| table_of_part(file, text, part)))
}

fn table_of_part(file: FileId, text: &str, part: Range<usize>) -> Option<Node> {
    table_of(file, text.get(part.clone())?, part.start)
}

/// The whole text as one table, of the tables of its parts. None where one has a fault, or goes on in another.
fn whole_of(file: FileId, text: &str, tables: Vec<Option<Node>>) -> Option<Node> {
    let tables: Vec<Node> = tables.into_iter().collect::<Option<_>>()?;
    let (mut all, mut places) = (Vec::<(Key, Node)>::new(), BTreeMap::new());
    // What the head has may be no list of records, which none continues.
    let mut of_head = 0;
    for (number, table) in tables.into_iter().enumerate() {
        let Value::Table(entries) = table.value else { return None };
        for (key, node) in entries {
            let at = *places.entry(key.text.clone()).or_insert(all.len());
            match (all.get_mut(at).map(|(_, known)| &mut known.value), node.value) {
                (None, value) => all.push((key, Node { value, span: node.span })),
                (Some(Value::List(known)), Value::List(more)) if at >= of_head => known.extend(more),
                _ => return None,
            }
        }
        if number == 0 && !text.lines().next().is_some_and(begins_record) {
            of_head = all.len();
        }
    }
    Some(Node { value: Value::Table(all), span: Span::new(file, 0, 0) })
}

/// Where the parts of a text stand: what comes before the first list of records, and so much of the lists each.
fn parts(text: &str, size: usize) -> Vec<Range<usize>> {
    let mut starts = vec![0];
    let mut is_head = true;
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let last = starts.last().copied().unwrap_or_default();
        let begins = begins_record(line);
        if begins && at > 0 && (is_head || at - last >= size) {
            starts.push(at);
        }
        is_head = is_head && !begins;
        at += line.len();
    }
    let ends = starts.iter().skip(1).copied().chain([text.len()]);
    starts.iter().copied().zip(ends).map(|(start, end)| start..end).collect()
}

/// Whether a line is `[[kind]]` and no more.
fn begins_record(line: &str) -> bool {
    let kind = line.trim_end().strip_prefix("[[").and_then(|line| line.strip_suffix("]]"));
    kind.is_some_and(|kind| kind.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-'))
}

#[cfg(test)]
mod tests {
    use super::{of_parts, parse_ours, parts};
    use crate::ground::{FileId, Findings};
    use crate::source::{Node, parse};

    /// As a whole, where that has no fault.
    fn whole(text: &str) -> Option<Node> {
        let mut found = Findings::default();
        let node = parse(FileId(0), text, &mut found);
        found.is_empty().then_some(node)
    }

    /// Every TOML text of the project, in parts of all sizes: what is read in parts is what is read as a whole, to the places.
    #[test]
    #[expect(clippy::disallowed_methods, reason = "a test reads the project's own texts")]
    fn a_text_in_parts_is_the_text() {
        let mut folders = vec![std::path::PathBuf::from(env!("CARGO_MANIFEST_DIR"))];
        let (mut texts, mut parted) = (0, 0);
        while let Some(folder) = folders.pop() {
            for entry in std::fs::read_dir(folder).unwrap() {
                let path = entry.unwrap().path();
                let is_ours = !["target", ".git"].iter().any(|name| path.ends_with(name));
                if path.is_dir() && is_ours {
                    folders.push(path);
                } else if path.extension().is_some_and(|ending| ending == "toml") {
                    let Ok(text) = std::fs::read_to_string(&path) else { continue };
                    texts += 1;
                    if let Some(whole) = whole(&text) {
                        let ours = parse_ours(FileId(0), &text, &mut Findings::default(), |_| ());
                        assert!(ours == whole, "{} on two threads", path.display());
                    }
                    for size in [1, 200, 5000] {
                        if let Some(node) = of_parts(FileId(0), &text, size) {
                            assert!(Some(node) == whole(&text), "{} in parts of {size}", path.display());
                            parted += usize::from(size == 200);
                        }
                    }
                }
            }
        }
        assert!(texts >= 40 && parted >= 20, "{parted} of {texts}");
    }

    /// Lines that are lost, doubled, elsewhere or half written: where parts are read, they are read as the whole.
    #[test]
    #[expect(clippy::disallowed_methods, reason = "a test reads the project's own texts")]
    fn a_torn_text_in_parts_is_the_text_or_left_to_the_whole() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-plans/sorrel-river");
        let mut state = 2026_u64;
        let mut below = |limit: usize| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            usize::try_from(state >> 33).unwrap() % limit
        };
        let signs =
            ["\"\"\"", "'''", "x = [", "]", "[[net]]", "[net.more]", "[plan]", "net = []", "[[plan]]", "net.a = 1"];
        let (mut read, mut left) = (0, 0);
        for entry in std::fs::read_dir(folder).unwrap() {
            let Ok(text) = std::fs::read_to_string(entry.unwrap().path()) else { continue };
            let text = &text[..text.floor_char_boundary(6000)];
            for _ in 0..200 {
                let mut lines: Vec<&str> = text.lines().collect();
                let (at, to) = (below(lines.len()), below(lines.len()));
                match below(5) {
                    0 => _ = lines.remove(at),
                    1 => lines.insert(to, lines[at]),
                    2 => lines[at] = &lines[at][..lines[at].floor_char_boundary(lines[at].len() / 2)],
                    3 => lines.swap(at, to),
                    _ => lines.insert(at, signs[below(signs.len())]),
                }
                let torn = lines.join("\n");
                match of_parts(FileId(0), &torn, 1 + below(500)) {
                    Some(node) => {
                        assert!(Some(node) == whole(&torn), "{torn}");
                        read += 1;
                    }
                    None => left += 1,
                }
            }
        }
        assert!(read >= 500 && left >= 100, "{read} read, {left} left");
    }

    /// As many kinds as a file may have words for: a search of all for each would take hours.
    #[test]
    fn kinds_are_as_many_as_there_is_room_for() {
        let letters = |mut n: u32| {
            let mut word = String::from("k");
            while n > 0 {
                word.push(char::from(b'a' + u8::try_from(n % 26).unwrap()));
                n /= 26;
            }
            word
        };
        let text: String = (0..200_000).map(|n| format!("[[{}]]\n", letters(n))).collect();
        let node = of_parts(FileId(0), &text, 1 << 14).unwrap();
        assert_eq!(node.entries().unwrap().len(), 200_000);
    }

    /// What goes on over the end of a part in any other way is left to the reader of wholes.
    #[test]
    fn what_goes_on_otherwise_is_not_parted() {
        let read = |text: &str| of_parts(FileId(0), text, 1);
        let plain = "[plan]\ntitle = \"A\"\n[[net]]\nid = \"a\"\n[net.more]\nb = 1\n[[net]]\nid = \"b\"\n[[post]]\nid = \"c\"\n";
        assert_eq!(parts(plain, 1).len(), 4);
        assert_eq!(read(plain), whole(plain));
        for (text, is_fault) in [
            // A string, a list and a comment that look like the head of a record.
            ("[[net]]\nwords = \"\"\"\n[[net]]\n\"\"\"\n[[net]]\nid = \"b\"\n", false),
            ("[plan]\nlist = [\n[[net]]\n]\n[[net]]\nid = \"b\"\n", true),
            // A table of the record before, of a table before, and a list that is none of records.
            ("[[net]]\nid = \"a\"\n[[post]]\nid = \"b\"\n[net.more]\nc = 1\n", false),
            ("[a.b]\nc = 1\n[[net]]\nid = \"a\"\n[a.d]\ne = 1\n", false),
            ("net = [{ id = \"a\" }]\n[[net]]\nid = \"b\"\n", true),
            // Twice the same, and what cannot be read.
            ("[plan]\na = 1\n[[net]]\nid = \"a\"\n[plan]\nb = 2\n", true),
            ("[[net]]\nid = \"a\"\n[[net]]\nid = \n", true),
        ] {
            assert_eq!(whole(text).is_none(), is_fault, "{text}");
            if let Some(node) = read(text) {
                assert_eq!(Some(node), whole(text), "{text}");
            }
        }
        assert_eq!(read("net = [{ id = \"a\" }]\n[[net]]\nid = \"b\"\n"), None);
        assert_eq!(read("[plan]\na = 1\n[[net]]\nid = \"a\"\n[plan]\nb = 2\n"), None);
    }
}
