//! The document around the pages: printpdf makes it, we fill its pages and finish its catalogue.

use super::canvas::pt;
use super::deflate::zlib_shared;
use super::metadata::metadata;
use super::outline::outlines;
use super::press::Plates;
use super::structure::Structure;
use crate::ground::Bug;
use crate::sheet::{Area, Duplex, Job, Page};
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary, text_string};
use printpdf::{PdfDocument, PdfPage, PdfSaveOptions, Pt, Rect, to_lopdf_doc};

/// A document with empty pages of the right size. Any warning of the library is our mistake.
pub(super) fn empty(job: &Job) -> Result<Document, Bug> {
    let mut container = PdfDocument::new(&job.title);
    container.pages = job
        .pages
        .iter()
        .map(|page| {
            let size = Rect::from_wh(Pt(pt(page.size.width)), Pt(pt(page.size.height)));
            PdfPage { media_box: size.clone(), trim_box: trim(page), crop_box: size, ops: Vec::new() }
        })
        .collect();
    let options = PdfSaveOptions { image_optimization: None, ..PdfSaveOptions::default() };
    let mut warnings = Vec::new();
    let mut document = to_lopdf_doc(&container, &options, &mut warnings);
    // What the library adds for itself goes now, while there is little to look through.
    document.trailer.remove(b"Info");
    document.prune_objects();
    match warnings.first() {
        Some(warning) => Err(Bug::new(format!("the PDF library warned: {}", warning.msg))),
        None => Ok(document),
    }
}

/// What is left of a page when all is cut, from its lower left corner.
fn trim(page: &Page) -> Rect {
    let Area { left, bottom, .. } = page.trim;
    Rect {
        x: Pt(pt(left)),
        y: Pt(pt(page.size.height - bottom)),
        width: Pt(pt(page.trim.width())),
        height: Pt(pt(page.trim.height())),
        mode: None,
        winding_order: None,
    }
}

/// What a page shows.
pub(super) struct PageContent {
    /// Its content, stream after stream.
    pub streams: Vec<ObjectId>,
    /// Its number among the pages whose structure is told.
    pub number: i64,
    /// The resources that all pages share.
    pub resources: ObjectId,
}

/// Gives a page its content.
pub(super) fn fill_page(document: &mut Document, page: ObjectId, content: PageContent) -> Result<(), Bug> {
    let PageContent { streams, number, resources } = content;
    let contents: Vec<Object> = streams.into_iter().map(Object::Reference).collect();
    let page = document.get_dictionary_mut(page).map_err(|fault| Bug::new(format!("a page is missing: {fault}")))?;
    page.set("Contents", contents);
    page.set("Resources", resources);
    page.set("StructParents", number);
    page.set("Tabs", "S");
    page.remove(b"Annots");
    Ok(())
}

/// Writes catalogue, information and identity, and gives the bytes.
pub(super) fn finish(
    mut document: Document,
    job: &Job,
    pages: &[ObjectId],
    structure: Structure,
    plates: &Plates<'_>,
) -> Result<Vec<u8>, Bug> {
    let labels = labels(job);
    let outlines = outlines(&mut document, job, pages);
    let metadata = document.add_object(metadata(job));
    let attached = job.canonical.as_ref().map(|text| attached(&mut document, (&job.stem, text)));
    let lost = |fault: lopdf::Error| Bug::new(format!("the catalogue is missing: {fault}"));
    let catalogue = document.catalog_mut().map_err(lost)?;
    catalogue.set("Lang", Object::string_literal(job.language.as_str()));
    catalogue.set("ViewerPreferences", viewer_preferences(job.duplex));
    catalogue.set("PageLayout", "SinglePage");
    catalogue.set("MarkInfo", dictionary! { "Marked" => true });
    catalogue.set("PageLabels", labels);
    catalogue.set("Metadata", metadata);
    if let Some((name, file)) = attached {
        let names = dictionary! { "Names" => vec![text_string(&name), Object::Reference(file)] };
        catalogue.set("Names", dictionary! { "EmbeddedFiles" => names });
        catalogue.set("AF", vec![Object::Reference(file)]);
    }
    if let Some(outlines) = outlines {
        catalogue.set("Outlines", outlines);
    }
    // No dates: the same plan gives the same bytes next year.
    let information = document.add_object(dictionary! {
        "Title" => text_string(&job.title),
        "Creator" => Object::string_literal("fieldsheaf"),
    });
    document.trailer.set("Info", information);
    document.version = "1.7".to_owned();
    let first = document.max_id + 1;
    document.catalog_mut().map_err(lost)?.set("StructTreeRoot", Object::Reference((first, 0)));
    let tree = (first..).zip(structure.objects(first, pages)).collect();
    Ok(super::file::bytes(&document, &plates.gathered(tree)))
}

fn viewer_preferences(duplex: Duplex) -> Dictionary {
    let turn = match duplex {
        Duplex::Simplex => "Simplex",
        Duplex::LongEdge => "DuplexFlipLongEdge",
        Duplex::ShortEdge => "DuplexFlipShortEdge",
    };
    dictionary! { "PrintScaling" => "None", "Duplex" => turn, "DisplayDocTitle" => true }
}

/// What the document says, as a text file that goes with it; its name and its object.
fn attached(document: &mut Document, (stem, text): (&str, &str)) -> (String, ObjectId) {
    let name = format!("{stem}.canonical.txt");
    let size = i64::try_from(text.len()).unwrap_or(0);
    let file = dictionary! {
        "Type" => "EmbeddedFile",
        "Filter" => "FlateDecode",
        "Subtype" => "text/plain",
        "Params" => dictionary! { "Size" => size },
    };
    let stream = Stream::new(file, zlib_shared(text.as_bytes())).with_compression(false);
    let file = document.add_object(stream);
    let specification = document.add_object(dictionary! {
        "Type" => "Filespec",
        "F" => text_string(&name),
        "UF" => text_string(&name),
        "Desc" => text_string("What this document says, as canonical text"),
        "AFRelationship" => "Data",
        "EF" => dictionary! { "F" => file, "UF" => file },
    });
    (name, specification)
}

/// Pages are called by their sheet and, where both sides bear something, by its side: `sheet 1 front`.
fn labels(job: &Job) -> Dictionary {
    let label = |index: usize| match job.duplex {
        Duplex::Simplex => format!("sheet {}", index + 1),
        _ => format!("sheet {} {}", index / 2 + 1, if index.is_multiple_of(2) { "front" } else { "back" }),
    };
    let numbers = (0..job.pages.len()).flat_map(|index| {
        let name: Object = dictionary! { "P" => text_string(&label(index)) }.into();
        [Object::Integer(i64::try_from(index).unwrap_or(0)), name]
    });
    dictionary! { "Nums" => numbers.collect::<Vec<_>>() }
}
