//! The document around the pages: printpdf makes its catalogue, its page tree and the boxes of each page; we fill them.

use super::operands::pt;
use crate::ground::Bug;
use crate::sheet::{Area, Page};
use lopdf::{Dictionary, Document, Object};
use printpdf::{PdfDocument, PdfPage, PdfSaveOptions, Pt, Rect, to_lopdf_doc};

/// The dictionaries of a document with a page.
#[derive(Clone)]
pub(super) struct Container {
    pub catalogue: Dictionary,
    pub tree: Dictionary,
    pub page: Dictionary,
}

/// What sets the boxes of a page apart from those of others: its size, and what is left when all is cut.
pub(super) type Boxes = [i64; 6];

/// The boxes of a page.
pub(super) fn boxes(page: &Page) -> Boxes {
    let Area { left, top, right, bottom } = page.trim;
    [page.size.width, page.size.height, left, top, right, bottom].map(|side| side.as_grains())
}

impl Container {
    /// Around a page of this size. Any warning of the library is our mistake.
    pub fn of(page: &Page) -> Result<Self, Bug> {
        let mut container = PdfDocument::new("");
        let size = Rect::from_wh(Pt(pt(page.size.width)), Pt(pt(page.size.height)));
        container.pages =
            vec![PdfPage { media_box: size.clone(), trim_box: trim(page), crop_box: size, ops: Vec::new() }];
        let options = PdfSaveOptions { image_optimization: None, ..PdfSaveOptions::default() };
        let mut warnings = Vec::new();
        let mut document = to_lopdf_doc(&container, &options, &mut warnings);
        if let Some(warning) = warnings.first() {
            return Err(Bug::new(format!("the PDF library warned: {}", warning.msg)));
        }
        let lost = |fault: lopdf::Error| Bug::new(format!("the catalogue is missing: {fault}"));
        let catalogue = document.catalog_mut().map_err(lost)?.clone();
        let tree = dictionary_of(&document, catalogue.get(b"Pages").map_err(lost)?)?;
        let page = document.page_iter().next().ok_or_else(|| Bug::new("a page is missing"))?;
        let mut page = dictionary_of(&document, &Object::Reference(page))?;
        page.remove(b"Annots");
        Ok(Self { catalogue, tree, page })
    }
}

fn dictionary_of(document: &Document, reference: &Object) -> Result<Dictionary, Bug> {
    let id = reference.as_reference();
    let known = id.and_then(|id| document.get_dictionary(id));
    known.cloned().map_err(|fault| Bug::new(format!("a page is missing: {fault}")))
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
