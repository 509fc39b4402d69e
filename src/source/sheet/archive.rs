//! The archive that a spreadsheet is: its parts as XML, unpacked under two caps while they are read.

use super::Fault;
use crate::ground::caps::{Cap, UNPACKED, UNPACKED_TIMES};
use quick_xml::Reader;
use quick_xml::XmlVersion;
use quick_xml::events::{BytesStart, Event};
use std::cell::Cell;
use std::io::{self, BufReader, Cursor, Read};
use std::rc::Rc;
use zip::ZipArchive;

/// A part may be this many bytes whatever its packed size: a short one of equal rows packs well.
const FREE: u64 = 1 << 20;

/// An archive in memory.
pub(super) struct Archive<'a> {
    zip: ZipArchive<Cursor<&'a [u8]>>,
    budget: Rc<Budget>,
}

/// What may still be unpacked, and which cap was passed.
struct Budget {
    left: Cell<u64>,
    passed: Cell<Option<&'static Cap>>,
}

/// A part of an archive, as XML.
pub(super) struct ArchivePart<'a> {
    name: String,
    xml: Reader<BufReader<Unpacking<'a>>>,
    budget: Rc<Budget>,
    buffer: Vec<u8>,
}

impl<'a> Archive<'a> {
    pub fn open(bytes: &'a [u8]) -> Result<Self, Fault> {
        let zip = ZipArchive::new(Cursor::new(bytes))
            .map_err(|_| Fault::Broken("it is cut short, or no spreadsheet".to_owned()))?;
        Ok(Self { zip, budget: Rc::new(Budget { left: Cell::new(UNPACKED.most), passed: Cell::new(None) }) })
    }

    pub fn has(&self, name: &str) -> bool {
        self.zip.index_for_name(name).is_some()
    }

    pub fn part(&mut self, name: &str) -> Result<ArchivePart<'_>, Fault> {
        let file = self.zip.by_name(name).map_err(|_| Fault::part(name, "is missing, or cannot be unpacked"))?;
        let most = file.compressed_size().saturating_mul(UNPACKED_TIMES.most).saturating_add(FREE);
        let counted = Unpacking { inner: Box::new(file), left: most, budget: Rc::clone(&self.budget) };
        let mut xml = Reader::from_reader(BufReader::new(counted));
        xml.config_mut().expand_empty_elements = true;
        Ok(ArchivePart { name: name.to_owned(), xml, budget: Rc::clone(&self.budget), buffer: Vec::new() })
    }
}

impl ArchivePart<'_> {
    /// The next event; none at the end of the part.
    pub fn next(&mut self) -> Result<Option<Event<'_>>, Fault> {
        self.buffer.clear();
        match self.xml.read_event_into(&mut self.buffer) {
            Ok(Event::Eof) => Ok(None),
            Ok(event) => Ok(Some(event)),
            Err(_) => Err(match self.budget.passed.get() {
                Some(cap) => Fault::TooMuch(cap),
                None => Fault::part(&self.name, "cannot be read"),
            }),
        }
    }

    /// The next event inside of something that must end in this part.
    pub fn inside(&mut self) -> Result<Event<'_>, Fault> {
        let ends = Fault::part(&self.name, "ends too soon");
        self.next()?.ok_or(ends)
    }
}

/// Counts what is unpacked, and ends where a cap is passed.
struct Unpacking<'a> {
    inner: Box<dyn Read + 'a>,
    /// What this part may still be.
    left: u64,
    budget: Rc<Budget>,
}

impl Read for Unpacking<'_> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let count = self.inner.read(buffer)?;
        let bytes = u64::try_from(count).unwrap_or(u64::MAX);
        let all = self.budget.left.get();
        let passed = if bytes > all {
            Some(&UNPACKED)
        } else if bytes > self.left {
            Some(&UNPACKED_TIMES)
        } else {
            None
        };
        if let Some(cap) = passed {
            self.budget.passed.set(Some(cap));
            return Err(io::Error::other("more than is taken"));
        }
        self.left -= bytes;
        self.budget.left.set(all - bytes);
        Ok(count)
    }
}

/// The value of an attribute, whatever its prefix.
pub(super) fn attribute(start: &BytesStart<'_>, name: &str) -> Option<String> {
    let mut attributes = start.attributes();
    // Who looks for repeats asks each attribute about all before it.
    attributes.with_checks(false);
    let found = attributes.flatten().find(|attribute| attribute.key.local_name().as_ref() == name)?;
    Some(found.normalized_value(XmlVersion::Implicit1_0).ok()?.into_owned())
}

/// Adds what an event says as text.
pub(super) fn add_text(event: &Event<'_>, into: &mut String) {
    match event {
        Event::Text(text) => into.push_str(&text.xml10_content()),
        Event::CData(text) => into.push_str(&text.xml10_content()),
        Event::GeneralRef(reference) => {
            let named = match reference.xml10_content().as_ref() {
                "amp" => Some('&'),
                "lt" => Some('<'),
                "gt" => Some('>'),
                "quot" => Some('"'),
                "apos" => Some('\''),
                _ => None,
            };
            into.extend(named.or_else(|| reference.resolve_char_ref().ok().flatten()));
        }
        _ => {}
    }
}
