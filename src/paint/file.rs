//! The bytes of a document: objects gathered in object streams, found by a cross-reference stream (ISO 32000-1, 7.5.7 and
//! 7.5.8), so that the many small objects of its structure cost little.

use super::deflate::{deflated, zlib};
use lopdf::{Dictionary, Document, Object, StringFormat, dictionary};
use sha2::{Digest, Sha256};
use std::io::Write;

/// Objects in one stream.
const GATHERED: usize = 200;

/// Where an object is.
enum ObjectAt {
    /// At a byte of the file.
    Byte(usize),
    /// In an object stream, at an index.
    In(u32, usize),
}

/// The whole file. The identifier is a hash of all that comes before it.
pub(super) fn bytes(document: &Document, more: &[Gathered]) -> Vec<u8> {
    let mut file = format!("%PDF-{}\n%", document.version).into_bytes();
    // Four bytes above 127 say that the file is binary.
    file.extend([0xE2, 0xE3, 0xCF, 0xD3, b'\n']);
    let mut places: Vec<(u32, ObjectAt)> = Vec::new();
    let mut small: Vec<(u32, Vec<u8>)> = Vec::new();
    for ((id, _), object) in &document.objects {
        match object {
            Object::Stream(stream) => {
                places.push((*id, ObjectAt::Byte(file.len())));
                put_stream(&mut file, *id, (&stream.dict, &stream.content));
            }
            other => {
                let mut bytes = Vec::new();
                write(&mut bytes, other);
                small.push((*id, bytes));
            }
        }
    }
    let own = gathered(small, zlib);
    let ids = |gathered: &Gathered| gathered.ids.iter().max().copied();
    let mut next = document.max_id.max(more.iter().filter_map(ids).max().unwrap_or(0)) + 1;
    for Gathered { ids, dictionary, content } in own.iter().chain(more) {
        places.push((next, ObjectAt::Byte(file.len())));
        put_stream(&mut file, next, (dictionary, content));
        places.extend(ids.iter().enumerate().map(|(index, id)| (*id, ObjectAt::In(next, index))));
        next += 1;
    }
    let start = file.len();
    places.push((next, ObjectAt::Byte(start)));
    let hash = Sha256::digest(&file);
    let half = Object::String(hash.get(..16).unwrap_or_default().to_vec(), StringFormat::Hexadecimal);
    let mut trailer = dictionary! {
        "Type" => "XRef",
        "Size" => i64::from(next) + 1,
        "W" => vec![Object::Integer(1), Object::Integer(4), Object::Integer(2)],
        "ID" => vec![half.clone(), half],
    };
    for key in ["Root", "Info"] {
        if let Ok(value) = document.trailer.get(key.as_bytes()) {
            trailer.set(key, value.clone());
        }
    }
    let trailer = deflated(trailer, &table(places, next));
    put_stream(&mut file, next, (&trailer.dict, &trailer.content));
    put(&mut file, format_args!("startxref\n{start}\n%%EOF\n"));
    file
}

/// One entry for each number: seven bytes.
fn table(mut places: Vec<(u32, ObjectAt)>, last: u32) -> Vec<u8> {
    places.sort_by_key(|(id, _)| *id);
    let mut places = places.into_iter().peekable();
    let mut table = Vec::new();
    for id in 0..=last {
        let (kind, a, b) = match places.next_if(|(known, _)| *known == id) {
            Some((_, ObjectAt::Byte(byte))) => (1, u32::try_from(byte).unwrap_or(u32::MAX), 0),
            Some((_, ObjectAt::In(stream, index))) => (2, stream, u16::try_from(index).unwrap_or(u16::MAX)),
            None => (0, 0, u16::MAX),
        };
        table.push(kind);
        table.extend(a.to_be_bytes());
        table.extend(b.to_be_bytes());
    }
    table
}

/// Objects in a stream of their own.
pub(super) struct Gathered {
    ids: Vec<u32>,
    dictionary: Dictionary,
    /// Deflated.
    content: Vec<u8>,
}

/// Objects with their numbers, in as many streams as it takes; in each, numbers and places come first.
pub(super) fn gathered(objects: Vec<(u32, Vec<u8>)>, deflate: impl Fn(&[u8]) -> Vec<u8>) -> Vec<Gathered> {
    let stream = |part: &[(u32, Vec<u8>)]| {
        let (mut head, mut body) = (Vec::new(), Vec::new());
        for (id, object) in part {
            put(&mut head, format_args!("{id} {} ", body.len()));
            body.extend(object);
            body.push(b'\n');
        }
        let first = i64::try_from(head.len()).unwrap_or(0);
        let count = i64::try_from(part.len()).unwrap_or(0);
        head.extend(body);
        let dictionary = dictionary! { "Type" => "ObjStm", "N" => count, "First" => first, "Filter" => "FlateDecode" };
        Gathered { ids: part.iter().map(|(id, _)| *id).collect(), dictionary, content: deflate(&head) }
    };
    objects.chunks(GATHERED).map(stream).collect()
}

fn put_stream(file: &mut Vec<u8>, id: u32, (dictionary, content): (&Dictionary, &[u8])) {
    put(file, format_args!("{id} 0 obj\n"));
    let mut dictionary = dictionary.clone();
    let is_plain = dictionary.get(b"Type").and_then(Object::as_name).is_ok_and(|name| name == b"Metadata");
    let deflated = (!is_plain && !dictionary.has(b"Filter")).then(|| zlib(content));
    if deflated.is_some() {
        dictionary.set("Filter", "FlateDecode");
    }
    let content = deflated.as_deref().unwrap_or(content);
    dictionary.set("Length", i64::try_from(content.len()).unwrap_or(0));
    write_dictionary(file, &dictionary);
    file.extend(b"\nstream\n");
    file.extend(content);
    file.extend(b"\nendstream\nendobj\n");
}

fn write(out: &mut Vec<u8>, object: &Object) {
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
    use super::{write, write_name};
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
}
