//! How deep a text nests, before anything is made of it: whoever reads what nests deeper would run out of stack.

use crate::ground::caps::NESTING;
use std::ops::Range;

/// Where tables and lists first nest deeper than [`NESTING`] allows. A dotted key is a table more for each of its dots.
///
/// Text that is not TOML may be judged too deep or not; only what is read counts, and that is bounded either way.
pub(super) fn too_deep(text: &str) -> Option<Range<usize>> {
    let bytes = text.as_bytes();
    let mut depth = Depth::default();
    let mut is_line_start = true;
    let mut at = 0;
    while let Some(&byte) = bytes.get(at) {
        match byte {
            b'"' | b'\'' => {
                at = end_of_string(bytes, at);
                is_line_start = false;
                continue;
            }
            b'#' => {
                at = end_of_line(bytes, at);
                continue;
            }
            b'\n' => depth.end_line(),
            b'[' if is_line_start && depth.open.is_empty() => depth.begin_header(),
            b'[' | b'{' => depth.enter(),
            b']' | b'}' => depth.leave(),
            b',' => depth.dots = 0,
            b'.' => depth.dots += 1,
            _ => {
                is_line_start = is_line_start && byte.is_ascii_whitespace();
                at += 1;
                continue;
            }
        }
        if !NESTING.takes(depth.sum()) {
            return Some(at..at + 1);
        }
        is_line_start = byte == b'\n';
        at += 1;
    }
    None
}

#[derive(Default)]
struct Depth {
    /// Levels of the header above.
    header: u64,
    is_header: bool,
    /// Dots of the key before each open bracket.
    open: Vec<u64>,
    /// Their sum, and one for each bracket.
    outer: u64,
    /// Dots of the key that is being read.
    dots: u64,
}

impl Depth {
    const fn sum(&self) -> u64 {
        self.header + self.outer + self.dots
    }

    fn begin_header(&mut self) {
        *self = Self { is_header: true, ..Self::default() };
        self.enter();
    }

    fn enter(&mut self) {
        // What opens in a header lasts until the next: its brackets close, its tables do not.
        if self.is_header {
            self.header += 1;
            return;
        }
        self.open.push(self.dots);
        self.outer += self.dots + 1;
        self.dots = 0;
    }

    fn leave(&mut self) {
        if let Some(dots) = self.open.pop().filter(|_| !self.is_header) {
            self.outer -= dots + 1;
            self.dots = dots;
        }
    }

    /// A key never goes on below its line.
    fn end_line(&mut self) {
        if self.is_header {
            self.header += self.dots;
            self.is_header = false;
        }
        self.dots = 0;
    }
}

fn end_of_line(bytes: &[u8], at: usize) -> usize {
    let rest = bytes.get(at..).unwrap_or_default();
    rest.iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |length| at + length)
}

/// One past a string; an open one ends with its line, or with the text where it may have many.
fn end_of_string(bytes: &[u8], start: usize) -> usize {
    let quote = bytes.get(start).copied().unwrap_or_default();
    let is_three = |at: usize| bytes.get(at..at + 3).is_some_and(|three| three.iter().all(|byte| *byte == quote));
    let is_long = is_three(start);
    let mut at = start + if is_long { 3 } else { 1 };
    let stops = |byte: &u8| *byte == quote || matches!(byte, b'\\' | b'\n');
    while let Some(next) = bytes.get(at..).and_then(|rest| rest.iter().position(stops)) {
        at += next;
        match bytes.get(at).copied().unwrap_or_default() {
            b'\\' if quote == b'"' => at += 1,
            b'\n' if !is_long => return at,
            byte if byte == quote && !is_long => return at + 1,
            _ if is_long && is_three(at) => return at + 3,
            _ => {}
        }
        at += 1;
    }
    bytes.len()
}

#[cfg(test)]
mod tests {
    use super::{NESTING, too_deep};

    #[test]
    fn brackets_dots_and_headers_all_count() {
        let most = usize::try_from(NESTING.most).unwrap();
        let lists = |count: usize| format!("# [[.\nx = {}{}\n", "[".repeat(count), "]".repeat(count));
        let keys = |count: usize| format!("a = 1.5\n{}x = 1\n", "a.".repeat(count));
        let tables = |count: usize| format!("{}{}\n", "a.b={".repeat(count), "}".repeat(count));
        let header = |count: usize| format!("[[{}a]]\nb.c = {{ d = 1 }}\n", "a.".repeat(count));
        assert_eq!(too_deep(&lists(most)), None);
        assert_eq!(too_deep(&lists(most + 1)), Some(10 + most..11 + most));
        assert_eq!(too_deep(&keys(most)), None);
        assert_eq!(too_deep(&keys(most + 1)), Some(9 + 2 * most..10 + 2 * most));
        assert_eq!(too_deep(&tables(most / 2)), None);
        assert!(too_deep(&tables(most / 2 + 1)).is_some());
        // Two brackets and the dots of the header; a dot and a bracket below it.
        assert_eq!((too_deep(&header(most - 4)), too_deep(&header(most - 3)).is_some()), (None, true));
    }

    #[test]
    fn what_stands_in_strings_and_comments_or_side_by_side_does_not_count() {
        let brackets = "[{.".repeat(50);
        let texts = [
            format!("a = \"{brackets}\\\"{brackets}\"\nb = '{brackets}\\' # {brackets}\n"),
            format!("a = \"\"\"{brackets}\n\"{brackets}\"\"\"\nb = \'\'\'{brackets}\n\'{brackets}\'\'\'\n"),
            "[a.b]\nc.d = [1.5, { e.f = 2.5 }]\n".repeat(50),
            format!("a = [{}]", "{ b.c = [1.5] },\n".repeat(50)),
        ];
        assert_eq!(texts.each_ref().map(|text| too_deep(text)), [None, None, None, None]);
    }
}
