//! The bytes of a document as they come: streams as soon as they are there, other objects gathered in object streams, found by a
//! cross-reference stream (ISO 32000-1, 7.5.7 and 7.5.8), so that the many small objects of its structure cost little.

use super::deflate::{zlib, zlib_rows};
use lopdf::{Dictionary, Object, StringFormat, dictionary};
use sha2::{Digest, Sha256};
use std::io::Write;

/// Objects in one stream.
pub(super) const GATHERED: usize = 200;

/// Where each object is: a file of thousands of holders has two million of them, which stand in their order in object streams.
#[derive(Default)]
struct ObjectPlaces(Vec<PlacedObjects>);

/// Objects of numbers that follow each other, and where the first is; the others follow it in its stream.
#[derive(Clone, Copy)]
struct PlacedObjects {
    first: u32,
    count: u32,
    at: ObjectAt,
}

/// Where an object is.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum ObjectAt {
    /// At a byte of the file.
    Byte(u32),
    /// In an object stream, at an index.
    In(u32, u16),
}

impl ObjectAt {
    /// At a byte of the file. The entries of its table have four bytes for it: a file of four gigabytes is larger than any that is taken.
    fn byte(at: usize) -> Self {
        Self::Byte(u32::try_from(at).unwrap_or(u32::MAX))
    }

    /// So many objects further in the same stream.
    fn further(self, by: u32) -> Option<Self> {
        let Self::In(stream, index) = self else { return None };
        Some(Self::In(stream, index.checked_add(u16::try_from(by).ok()?)?))
    }

    /// Its entry: what it is, in one byte, and where, in four and two.
    fn entry(self) -> [u8; 7] {
        let (kind, a, b) = match self {
            Self::Byte(byte) => (1, byte, 0),
            Self::In(stream, index) => (2, stream, index),
        };
        let ([a, b, c, d], [e, f]) = (a.to_be_bytes(), b.to_be_bytes());
        [kind, a, b, c, d, e, f]
    }
}

impl ObjectPlaces {
    fn put(&mut self, id: u32, at: ObjectAt) {
        match self.0.last_mut().filter(|last| last.first + last.count == id && last.at.further(last.count) == Some(at))
        {
            Some(last) => last.count += 1,
            None => self.0.push(PlacedObjects { first: id, count: 1, at }),
        }
    }

    /// Of every number from 0 on; none where no object has it.
    fn all(mut self) -> impl Iterator<Item = Option<ObjectAt>> {
        self.0.sort_unstable_by_key(|placed| placed.first);
        let mut next = 0;
        self.0.into_iter().flat_map(move |PlacedObjects { first, count, at }| {
            let missing = first.saturating_sub(next);
            next = first.saturating_add(count);
            let own = (0..count).map(move |by| if by == 0 { Some(at) } else { at.further(by) });
            (0..missing).map(|_| None).chain(own)
        })
    }
}

/// How bytes are deflated.
type Deflate = fn(&[u8]) -> Vec<u8>;

/// A file that grows.
pub(super) struct FileBytes {
    /// What nobody has taken yet.
    bytes: Vec<u8>,
    /// How many bytes were taken, and their hash.
    taken: (usize, Sha256),
    places: ObjectPlaces,
    small: Gatherer<Deflate>,
    /// The number of the next object.
    next: u32,
}

impl FileBytes {
    /// A file without objects.
    pub fn new() -> Self {
        // Four bytes above 127 say that the file is binary.
        let bytes = b"%PDF-1.7\n%\xE2\xE3\xCF\xD3\n".to_vec();
        Self { bytes, taken: (0, Sha256::new()), places: ObjectPlaces::default(), small: Gatherer::new(zlib), next: 1 }
    }

    /// So many numbers for objects that are written later; the first of them.
    pub fn reserve(&mut self, count: usize) -> u32 {
        let first = self.next;
        self.next = self.next.saturating_add(u32::try_from(count).unwrap_or(u32::MAX));
        first
    }

    /// Writes a stream with its dictionary, deflated where the dictionary says so. Gives its number.
    pub fn stream(&mut self, dictionary: &Dictionary, content: &[u8]) -> u32 {
        let id = self.reserve(1);
        self.put_stream(id, dictionary, content);
        id
    }

    /// Writes an object. Gives its number.
    pub fn object(&mut self, object: impl Into<Object>) -> u32 {
        let id = self.reserve(1);
        self.put(id, object);
        id
    }

    /// Writes an object under a number that was reserved for it.
    pub fn put(&mut self, id: u32, object: impl Into<Object>) {
        let object = object.into();
        self.put_words(id, |out| write(out, &object));
    }

    /// Writes an object that is in words already.
    pub fn put_words(&mut self, id: u32, words: impl FnOnce(&mut Vec<u8>)) {
        self.small.object(id, words);
        let full = std::mem::take(&mut self.small.done);
        self.put_gathered(&full);
    }

    /// Writes a dictionary with a list in words, which may be as long as the file has pages.
    pub fn put_listing(&mut self, id: u32, dictionary: &Dictionary, key: &str, list: impl FnOnce(&mut Vec<u8>)) {
        self.put_words(id, |out| {
            write_dictionary(out, dictionary);
            out.truncate(out.len().saturating_sub(b">>".len()));
            write_name(out, key.as_bytes());
            out.push(b'[');
            list(out);
            out.extend(b"]>>");
        });
    }

    /// Writes objects that were gathered elsewhere.
    pub fn put_gathered(&mut self, gathered: &[Gathered]) {
        for Gathered { ids, dictionary, content } in gathered {
            let id = self.reserve(1);
            self.put_stream(id, dictionary, content);
            (0..).zip(ids).for_each(|(index, own)| self.places.put(*own, ObjectAt::In(id, index)));
        }
    }

    fn put_stream(&mut self, id: u32, dictionary: &Dictionary, content: &[u8]) {
        self.places.put(id, ObjectAt::byte(self.taken.0 + self.bytes.len()));
        let file = &mut self.bytes;
        put(file, format_args!("{id} 0 obj\n"));
        let mut dictionary = dictionary.clone();
        dictionary.set("Length", i64::try_from(content.len()).unwrap_or(0));
        write_dictionary(file, &dictionary);
        file.extend(b"\nstream\n");
        file.extend(content);
        file.extend(b"\nendstream\nendobj\n");
    }

    /// The bytes that came since the last time.
    pub fn take(&mut self) -> Vec<u8> {
        self.taken.0 += self.bytes.len();
        self.taken.1.update(&self.bytes);
        std::mem::take(&mut self.bytes)
    }

    /// The last bytes. The identifier is a hash of all that comes before it.
    pub fn end(mut self, catalogue: u32, information: u32) -> Vec<u8> {
        let rest = std::mem::replace(&mut self.small, Gatherer::new(zlib)).finish();
        self.put_gathered(&rest);
        let last = self.reserve(1);
        let start = self.taken.0 + self.bytes.len();
        self.places.put(last, ObjectAt::byte(start));
        let hash = std::mem::take(&mut self.taken.1).chain_update(&self.bytes).finalize();
        let half = Object::String(hash.get(..16).unwrap_or_default().to_vec(), StringFormat::Hexadecimal);
        let trailer = dictionary! {
            "Type" => "XRef",
            "Size" => i64::from(last) + 1,
            "W" => vec![Object::Integer(1), Object::Integer(4), Object::Integer(2)],
            "ID" => vec![half.clone(), half],
            "Root" => Object::Reference((catalogue, 0)),
            "Info" => Object::Reference((information, 0)),
            "Filter" => "FlateDecode",
            "DecodeParms" => dictionary! { "Predictor" => 12, "Columns" => 7 },
        };
        let table = zlib_rows(table(std::mem::take(&mut self.places)));
        self.put_stream(last, &trailer, &table);
        put(&mut self.bytes, format_args!("startxref\n{start}\n%%EOF\n"));
        self.bytes
    }
}

/// One entry for each number: by how much each of its seven bytes is more than that of the entry before (the filter Up of PNG, ISO
/// 32000-1, 7.4.4.4), since the objects of a stream follow each other: a tenth of the bytes.
fn table(places: ObjectPlaces) -> impl Iterator<Item = [u8; 8]> {
    let mut before = [0; 7];
    places.all().map(move |place| {
        // None begins at byte 0.
        let entry = place.map_or([0, 0, 0, 0, 0, 0xFF, 0xFF], ObjectAt::entry);
        let mut row = [UP, 0, 0, 0, 0, 0, 0, 0];
        for (out, (now, before)) in row.iter_mut().skip(1).zip(entry.iter().zip(before)) {
            *out = now.wrapping_sub(before);
        }
        before = entry;
        row
    })
}

/// The number of that filter.
const UP: u8 = 2;

/// Objects in a stream of their own.
pub(super) struct Gathered {
    ids: Vec<u32>,
    dictionary: Dictionary,
    /// Deflated.
    content: Vec<u8>,
}

/// Gathers objects in as many streams as it takes; in each, numbers and places come first.
pub(super) struct Gatherer<D> {
    deflate: D,
    done: Vec<Gathered>,
    ids: Vec<u32>,
    head: Vec<u8>,
    body: Vec<u8>,
}

impl<D: Fn(&[u8]) -> Vec<u8>> Gatherer<D> {
    /// Nothing gathered yet.
    pub const fn new(deflate: D) -> Self {
        Self { deflate, done: Vec::new(), ids: Vec::new(), head: Vec::new(), body: Vec::new() }
    }

    /// Adds an object, in words.
    pub fn object(&mut self, id: u32, words: impl FnOnce(&mut Vec<u8>)) {
        put_number(&mut self.head, id);
        self.head.push(b' ');
        put_number(&mut self.head, u32::try_from(self.body.len()).unwrap_or(u32::MAX));
        self.head.push(b' ');
        self.ids.push(id);
        words(&mut self.body);
        self.body.push(b'\n');
        if self.ids.len() == GATHERED {
            self.close();
        }
    }

    fn close(&mut self) {
        if self.ids.is_empty() {
            return;
        }
        let ids = std::mem::take(&mut self.ids);
        let first = i64::try_from(self.head.len()).unwrap_or(0);
        let count = i64::try_from(ids.len()).unwrap_or(0);
        self.head.append(&mut self.body);
        let dictionary = dictionary! { "Type" => "ObjStm", "N" => count, "First" => first, "Filter" => "FlateDecode" };
        let content = (self.deflate)(&self.head);
        self.head.clear();
        self.done.push(Gathered { ids, dictionary, content });
    }

    /// All streams.
    pub fn finish(mut self) -> Vec<Gathered> {
        self.close();
        self.done
    }
}

/// A number in digits.
pub(super) fn put_number(out: &mut Vec<u8>, number: u32) {
    let (mut digits, mut place, mut rest) = ([b'0'; 10], 10, number);
    loop {
        place -= 1;
        if let (Some(digit), Ok(value)) = (digits.get_mut(place), u8::try_from(rest % 10)) {
            *digit += value;
        }
        rest /= 10;
        if rest == 0 || place == 0 {
            break;
        }
    }
    out.extend(digits.get(place..).unwrap_or_default());
}

/// References to objects, in words.
pub(super) fn put_references(out: &mut Vec<u8>, ids: impl IntoIterator<Item = u32>) {
    for (place, id) in ids.into_iter().enumerate() {
        if place > 0 {
            out.push(b' ');
        }
        put_reference(out, id);
    }
}

/// A reference to an object.
pub(super) fn put_reference(out: &mut Vec<u8>, id: u32) {
    put_number(out, id);
    out.extend(b" 0 R");
}

pub(super) fn write(out: &mut Vec<u8>, object: &Object) {
    match object {
        Object::Null | Object::Stream(_) => out.extend(b"null"),
        Object::Boolean(value) => put(out, format_args!("{value}")),
        Object::Integer(value) => put(out, format_args!("{value}")),
        Object::Real(value) => put(out, format_args!("{value}")),
        Object::Name(name) => write_name(out, name),
        Object::String(bytes, StringFormat::Hexadecimal) => {
            out.push(b'<');
            bytes.iter().for_each(|byte| put(out, format_args!("{byte:02X}")));
            out.push(b'>');
        }
        Object::String(bytes, StringFormat::Literal) => {
            out.push(b'(');
            for byte in bytes {
                match byte {
                    b'(' | b')' | b'\\' => out.extend([b'\\', *byte]),
                    // An end of line of any kind would be read as a line feed.
                    b'\r' => out.extend(b"\\r"),
                    _ => out.push(*byte),
                }
            }
            out.push(b')');
        }
        Object::Array(items) => {
            out.push(b'[');
            for (index, item) in items.iter().enumerate() {
                if index > 0 {
                    out.push(b' ');
                }
                write(out, item);
            }
            out.push(b']');
        }
        Object::Dictionary(dictionary) => write_dictionary(out, dictionary),
        Object::Reference((id, generation)) => put(out, format_args!("{id} {generation} R")),
    }
}

fn write_dictionary(out: &mut Vec<u8>, dictionary: &Dictionary) {
    out.extend(b"<<");
    for (key, value) in dictionary {
        write_name(out, key);
        out.push(b' ');
        write(out, value);
    }
    out.extend(b">>");
}

/// Regular characters as they are, all others by their number.
fn write_name(out: &mut Vec<u8>, name: &[u8]) {
    out.push(b'/');
    for byte in name {
        if byte.is_ascii_alphanumeric() || b"+-_.*".contains(byte) {
            out.push(*byte);
        } else {
            put(out, format_args!("#{byte:02X}"));
        }
    }
}

fn put(out: &mut Vec<u8>, words: std::fmt::Arguments<'_>) {
    // Writing to memory does not fail.
    let _ = out.write_fmt(words);
}

#[cfg(test)]
mod tests {
    use super::{ObjectAt, ObjectPlaces, put_number, table, write, write_name};
    use lopdf::{Object, StringFormat};

    fn written(object: &Object) -> String {
        let mut out = Vec::new();
        write(&mut out, object);
        String::from_utf8(out).unwrap()
    }

    /// ISO 32000-1, 7.3: the examples of strings and names there, and a number of each kind.
    #[test]
    fn objects_are_written_as_the_standard_spells_them() {
        let text = Object::String(b"a (b) \\ c\r".to_vec(), StringFormat::Literal);
        assert_eq!(written(&text), "(a \\(b\\) \\\\ c\\r)");
        assert_eq!(written(&Object::String(vec![0x90, 0x1F, 0xA3], StringFormat::Hexadecimal)), "<901FA3>");
        let mut name = Vec::new();
        write_name(&mut name, b"Lime Green");
        assert_eq!(name, b"/Lime#20Green");
        let list =
            Object::Array(vec![Object::Integer(-98), Object::Real(34.5), Object::Reference((12, 0)), Object::Null]);
        assert_eq!(written(&list), "[-98 34.5 12 0 R null]");
    }

    #[test]
    fn a_place_is_what_was_put_there() {
        let mut places = ObjectPlaces::default();
        let byte = ObjectAt::byte;
        let put = [
            (1, byte(15)),
            (7, ObjectAt::In(9, 0)),
            (8, ObjectAt::In(9, 1)),
            (9, ObjectAt::In(9, 2)),
            (4, ObjectAt::In(u32::MAX, 199)),
            (3, byte(1 << 31)),
            (5, byte(1 << 31)),
            (10, ObjectAt::In(9, 4)),
        ];
        put.iter().for_each(|(id, at)| places.put(*id, *at));
        assert_eq!(places.0.len(), 6, "three follow each other");
        let all: Vec<_> = places.all().collect();
        let at = |id: u32| put.iter().find(|(known, _)| *known == id).map(|(_, at)| *at);
        assert_eq!(all, (0..=10).map(at).collect::<Vec<_>>());
    }

    /// What each row is more than the one before makes the entries again.
    #[test]
    fn the_table_says_by_how_much_each_entry_is_more() {
        let mut places = ObjectPlaces::default();
        places.put(1, ObjectAt::byte(0x0102_0304));
        places.put(2, ObjectAt::In(0x0A0B_0C0D, 0x00FF));
        places.put(3, ObjectAt::In(0x0A0B_0C0D, 0x0100));
        let mut entry = [0_u8; 7];
        let mut entries = Vec::new();
        for row in table(places) {
            assert_eq!(row[0], 2);
            entry.iter_mut().zip(&row[1..]).for_each(|(now, more)| *now = now.wrapping_add(*more));
            entries.push(entry);
        }
        let (one, two) = ([1, 1, 2, 3, 4, 0, 0], [2, 0x0A, 0x0B, 0x0C, 0x0D, 0, 0xFF]);
        assert_eq!(entries, [[0, 0, 0, 0, 0, 0xFF, 0xFF], one, two, [2, 0x0A, 0x0B, 0x0C, 0x0D, 1, 0]]);
    }

    #[test]
    fn numbers_are_written_in_full() {
        for number in [0, 7, 10, 99, 100, 65_535, 1_000_000, u32::MAX] {
            let mut out = Vec::new();
            put_number(&mut out, number);
            assert_eq!(String::from_utf8(out).unwrap(), number.to_string());
        }
    }
}
