//! A file that grows by the pages of one holder after the other: what is painted is written, and let go.

use super::container::Container;
use super::deflate::{zlib, zlib_quick};
use super::entries::Fields;
use super::file::{FileBytes, put_number, put_reference, put_references};
use super::metadata::metadata;
use super::outline::{OutlineEntry, put_outline};
use super::painted::{PageStream, PaintedForm, PaintedJob, PaintedPage};
use super::press::{Likeness, Painted, Plates};
use super::structure::{Tree, TreePlace};
use super::used::Used;
use crate::ground::{Bug, on_all_threads};
use crate::sheet::{Duplex, Glyph, Job};
use lopdf::{Dictionary, Object, dictionary, text_string};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A file under construction.
pub struct OpenPdf<'a> {
    plates: &'a Plates<'a>,
    alphabet: &'static [(Glyph, String)],
    file: FileBytes,
    known: NamedObjects,
    pages: Vec<u32>,
    /// The object of each page that lists what its parts are.
    parents: Vec<u32>,
    sections: Vec<u32>,
    used: Used,
    outline: Vec<OutlineEntry>,
    fields: Fields,
    container: Option<Arc<Container>>,
    /// Bodies that are in the file and that another panel may have at the same spot, with their objects.
    shared: BTreeMap<Likeness, Vec<(Arc<Painted>, u32)>>,
}

/// Objects that others name before they are written.
struct NamedObjects {
    page_tree: u32,
    fonts: u32,
    resources: u32,
    structure: u32,
    parents: u32,
    whole: u32,
}

/// Pages that have their numbers, and what is read of them, which is written after them.
struct PlacedPages {
    tree: Tree,
    first: u32,
    pages: Vec<u32>,
}

impl<'a> OpenPdf<'a> {
    /// A file of an order, without pages. The job says with which letters it is set.
    #[must_use]
    pub fn new(plates: &'a Plates<'a>, job: &Job) -> Self {
        let mut file = FileBytes::new();
        let first = file.reserve(6);
        let known = NamedObjects {
            page_tree: first,
            fonts: first + 1,
            resources: first + 2,
            structure: first + 3,
            parents: first + 4,
            whole: first + 5,
        };
        Self {
            plates,
            alphabet: job.alphabet,
            file,
            known,
            pages: Vec::new(),
            parents: Vec::new(),
            sections: Vec::new(),
            used: Used::default(),
            outline: Vec::new(),
            fields: Fields::default(),
            container: None,
            shared: BTreeMap::new(),
        }
    }

    /// How many pages it has.
    #[must_use]
    pub const fn pages(&self) -> usize {
        self.pages.len()
    }

    /// Takes pages behind those that it has.
    ///
    /// # Errors
    /// When this program contradicts itself.
    pub fn take(&mut self, jobs: Vec<PaintedJob>) -> Result<(), Bug> {
        // What files of one order begin with is alike in many of them.
        let is_first = self.pages.is_empty() && jobs.len() == 1;
        let placed: Vec<PlacedPages> = jobs.into_iter().map(|job| self.place(job)).collect();
        let whole = self.known.whole;
        let gathered = |PlacedPages { tree, first, pages }: &PlacedPages| {
            let place = TreePlace { first: *first, whole, pages };
            match is_first {
                true => tree.gathered(&place, |bytes| self.plates.deflated(bytes)),
                false => tree.gathered(&place, zlib_quick),
            }
        };
        let gathered: Vec<_> = on_all_threads(&placed, 1, gathered);
        gathered.iter().for_each(|of_job| self.file.put_gathered(of_job));
        Ok(())
    }

    fn place(&mut self, job: PaintedJob) -> PlacedPages {
        let PaintedJob { pages, forms, tree, used, outline } = job;
        let first = self.file.reserve(tree.len());
        let ids: Vec<u32> = (self.file.reserve(pages.len())..).take(pages.len()).collect();
        let before = self.pages.len();
        self.used.join(&used);
        self.sections.extend(tree.sections().iter().map(|node| first + node));
        let after = first + u32::try_from(tree.nodes()).unwrap_or(u32::MAX);
        self.parents.extend((after..).take(ids.len()));
        self.outline.extend(outline.into_iter().map(|entry| entry.behind(before)));
        self.pages.extend(&ids);
        let resources = if forms.is_empty() { self.known.resources } else { self.resources(forms) };
        for (id, (number, page)) in ids.iter().zip((before..).zip(pages)) {
            self.page(*id, number, resources, page);
        }
        PlacedPages { tree, first, pages: ids }
    }

    /// Fonts, and panels that stand in several places.
    fn resources(&mut self, forms: Vec<PaintedForm>) -> u32 {
        let mut panels = Dictionary::new();
        let fonts = Object::Reference((self.known.fonts, 0));
        for PaintedForm { name, frame, content } in forms {
            let dictionary = dictionary! {
                "Type" => "XObject",
                "Subtype" => "Form",
                "FormType" => 1,
                "BBox" => frame.map(Object::Real).to_vec(),
                "Resources" => dictionary! { "Font" => fonts.clone() },
                "Filter" => "FlateDecode",
            };
            panels.set(name, Object::Reference((self.file.stream(&dictionary, &content), 0)));
        }
        self.file.object(dictionary! { "Font" => fonts, "XObject" => panels })
    }

    fn page(&mut self, id: u32, number: usize, resources: u32, painted: PaintedPage) {
        let PaintedPage { container, streams, entries } = painted;
        let mut page = container.page.clone();
        self.container.get_or_insert(container);
        let contents = streams.into_iter().map(|stream| Object::Reference((self.content(stream), 0)));
        page.set("Contents", contents.collect::<Vec<_>>());
        page.set("Parent", Object::Reference((self.known.page_tree, 0)));
        page.set("Resources", Object::Reference((resources, 0)));
        page.set("StructParents", i64::try_from(number).unwrap_or(0));
        page.set("Tabs", "S");
        let annotations = self.fields.take(entries, id, &mut self.file);
        if !annotations.is_empty() {
            page.set("Annots", annotations);
            // Row by row, as they are read: they are no part of what is told.
            page.set("Tabs", "R");
        }
        self.file.put(id, page);
    }

    /// The object of a stream. A body is written where it is first needed.
    fn content(&mut self, stream: PageStream) -> u32 {
        let deflated = dictionary! { "Filter" => "FlateDecode" };
        let (likeness, body) = match stream {
            PageStream::Own(bytes) => return self.file.stream(&deflated, &bytes),
            PageStream::Body(likeness, body) => (likeness, body),
        };
        // In a set stand papers of several orders, and each numbers its bodies by itself.
        let is_this = |(known, _): &&(Arc<Painted>, u32)| known.is_of(&body);
        let known = likeness.and_then(|likeness| self.shared.get(&likeness)?.iter().find(is_this));
        if let Some((_, id)) = known {
            return *id;
        }
        let id = self.file.stream(&deflated, &body.stream);
        if let Some(likeness) = likeness {
            self.shared.entry(likeness).or_default().push((body, id));
        }
        id
    }

    /// The bytes that came since the last time.
    pub fn bytes(&mut self) -> Vec<u8> {
        self.file.take()
    }

    /// The last bytes: fonts, catalogue, what the job says of the whole file.
    ///
    /// # Errors
    /// When it has no page, or a font cannot be cut.
    pub fn end(self, job: &Job) -> Result<Vec<u8>, Bug> {
        self.end_with(job, said(job))
    }

    /// The same with what the document says.
    pub(super) fn end_with(mut self, job: &Job, said: Option<SaidText>) -> Result<Vec<u8>, Bug> {
        let press = self.plates.press();
        let Container { mut catalogue, mut tree, .. } =
            self.container.as_deref().cloned().ok_or_else(|| Bug::new("a file has no page"))?;
        let fonts = press.write(&self.used, self.alphabet, &mut self.file)?;
        let NamedObjects { page_tree, fonts: fonts_id, resources, structure, parents, whole } = self.known;
        let file = &mut self.file;
        file.put(fonts_id, fonts);
        file.put(resources, dictionary! { "Font" => Object::Reference((fonts_id, 0)) });
        tree.remove(b"Kids");
        tree.set("Count", i64::try_from(self.pages.len()).unwrap_or(0));
        file.put_listing(page_tree, &tree, "Kids", |out| put_references(out, self.pages.iter().copied()));
        let all = dictionary! { "S" => "Document", "P" => Object::Reference((structure, 0)) };
        file.put_listing(whole, &all, "K", |out| put_references(out, self.sections.iter().copied()));
        file.put_listing(parents, &Dictionary::new(), "Nums", |out| {
            for (page, list) in (0..).zip(&self.parents) {
                put_number(out, page);
                out.push(b' ');
                put_reference(out, *list);
                out.push(b' ');
            }
        });
        file.put(
            structure,
            dictionary! {
                "Type" => "StructTreeRoot",
                "K" => vec![Object::Reference((whole, 0))],
                "ParentTree" => Object::Reference((parents, 0)),
                "ParentTreeNextKey" => i64::try_from(self.pages.len()).unwrap_or(0),
            },
        );
        let metadata = {
            let (dictionary, packet) = metadata(job);
            file.stream(&dictionary, &packet)
        };
        catalogue.set("Pages", Object::Reference((page_tree, 0)));
        catalogue.set("Lang", Object::string_literal(job.language.as_str()));
        catalogue.set("ViewerPreferences", viewer_preferences(job.duplex));
        catalogue.set("PageLayout", "SinglePage");
        catalogue.set("MarkInfo", dictionary! { "Marked" => true });
        catalogue.set("PageLabels", labels(job.duplex, self.pages.len()));
        catalogue.set("Metadata", Object::Reference((metadata, 0)));
        catalogue.set("StructTreeRoot", Object::Reference((structure, 0)));
        if let Some(text) = said {
            let (name, text) = attached(file, &job.stem, &text);
            let text = Object::Reference((text, 0));
            let names = dictionary! { "Names" => vec![text_string(&name), text.clone()] };
            catalogue.set("Names", dictionary! { "EmbeddedFiles" => names });
            catalogue.set("AF", vec![text]);
        }
        if let Some(outline) = put_outline(file, &self.outline, &self.pages) {
            catalogue.set("Outlines", Object::Reference((outline, 0)));
        }
        if let Some(form) = self.fields.write(file) {
            catalogue.set("AcroForm", Object::Reference((form, 0)));
        }
        // No dates: the same plan gives the same bytes next year.
        let information = file.object(dictionary! {
            "Title" => text_string(&job.title),
            "Creator" => Object::string_literal("fieldsheaf"),
        });
        let catalogue = file.object(catalogue);
        Ok(self.file.end(catalogue, information))
    }
}

fn viewer_preferences(duplex: Duplex) -> Dictionary {
    let turn = match duplex {
        Duplex::Simplex => "Simplex",
        Duplex::LongEdge => "DuplexFlipLongEdge",
        Duplex::ShortEdge => "DuplexFlipShortEdge",
    };
    dictionary! { "PrintScaling" => "None", "Duplex" => turn, "DisplayDocTitle" => true }
}

/// What a document says, deflated.
pub(super) struct SaidText {
    deflated: Vec<u8>,
    /// Bytes before that.
    length: usize,
}

/// What the document of a job says, where it has a text.
pub(super) fn said(job: &Job) -> Option<SaidText> {
    let text = job.canonical.as_ref()?;
    Some(SaidText { deflated: zlib(text.as_bytes()), length: text.len() })
}

/// What the document says, as a text file that goes with it; its name and its object.
fn attached(file: &mut FileBytes, stem: &str, text: &SaidText) -> (String, u32) {
    let name = format!("{stem}.canonical.txt");
    let size = i64::try_from(text.length).unwrap_or(0);
    let dictionary = dictionary! {
        "Type" => "EmbeddedFile",
        "Filter" => "FlateDecode",
        "Subtype" => "text/plain",
        "Params" => dictionary! { "Size" => size },
    };
    let text = Object::Reference((file.stream(&dictionary, &text.deflated), 0));
    let specification = file.object(dictionary! {
        "Type" => "Filespec",
        "F" => text_string(&name),
        "UF" => text_string(&name),
        "Desc" => text_string("What this document says, as canonical text"),
        "AFRelationship" => "Data",
        "EF" => dictionary! { "F" => text.clone(), "UF" => text },
    });
    (name, specification)
}

/// Pages are called by their sheet and, where both sides bear something, by its side: `sheet 1 front`.
fn labels(duplex: Duplex, pages: usize) -> Dictionary {
    let label = |index: usize| match duplex {
        Duplex::Simplex => format!("sheet {}", index + 1),
        _ => format!("sheet {} {}", index / 2 + 1, if index.is_multiple_of(2) { "front" } else { "back" }),
    };
    let numbers = (0..pages).flat_map(|index| {
        let name: Object = dictionary! { "P" => text_string(&label(index)) }.into();
        [Object::Integer(i64::try_from(index).unwrap_or(0)), name]
    });
    dictionary! { "Nums" => numbers.collect::<Vec<_>>() }
}
