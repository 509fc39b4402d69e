//! What a finished file says of itself, read back from its bytes: found where we put it, nothing else of the file is believed or read.

use miniz_oxide::inflate::decompress_to_vec_zlib_with_limit;

/// What a file says of itself.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct ToldFile {
    /// Edition, readers, days and codes, in words; none of a file that no plan's edition is in.
    pub says: Option<String>,
    /// The text that goes with it.
    pub text: Option<String>,
}

/// Before the words that a file says of itself, and behind them.
pub(super) const SAYS: [&str; 2] =
    ["<dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">", "</rdf:li></rdf:Alt></dc:description>"];

/// How the dictionary of the text that goes with a file says so, and how far behind it the text begins at most.
const EMBEDDED: &[u8] = b"/EmbeddedFile";
const STREAM: &[u8] = b"stream\n";
const MOST_BETWEEN: usize = 1000;

/// What a file says of itself; its text only where it takes no more bytes than this.
#[must_use]
pub fn told(file: &[u8], most: usize) -> ToldFile {
    let [before, behind] = SAYS.map(str::as_bytes);
    let says = find(file, before).and_then(|at| {
        let rest = file.get(at + before.len()..)?;
        let words = String::from_utf8(rest.get(..find(rest, behind)?)?.to_vec()).ok()?;
        Some(words.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&"))
    });
    ToldFile { says, text: text(file, most) }
}

fn text(file: &[u8], most: usize) -> Option<String> {
    let mut rest = file;
    loop {
        rest = rest.get(find(rest, EMBEDDED)? + EMBEDDED.len()..)?;
        if rest.first() == Some(&b's') {
            continue;
        }
        let near = rest.get(..MOST_BETWEEN.min(rest.len()))?;
        let packed = rest.get(find(near, STREAM)? + STREAM.len()..)?;
        return String::from_utf8(decompress_to_vec_zlib_with_limit(packed, most).ok()?).ok();
    }
}

fn find(bytes: &[u8], part: &[u8]) -> Option<usize> {
    bytes.windows(part.len()).position(|window| window == part)
}
