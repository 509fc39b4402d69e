//! Sheets -> PDF bytes.
//!
//! Enters a [`Job`], leaves a whole file; the same job gives the same bytes on every machine, thread and day. It finds no
//! fault in a plan: what can be wrong here is our own, a [`Bug`].

mod canvas;
mod container;
mod deflate;
mod entries;
mod file;
mod fonts;
mod metadata;
mod outline;
mod pattern;
mod press;
mod proof;
mod proof_page;
mod sfnt;
mod structure;
mod told;

pub use fonts::Press;
pub use press::Plates;
pub use proof::{Picture, pictures};
pub use proof_page::{ProofDocument, ProofHead, proof_page};
pub use told::{ToldFile, told};

use crate::ground::{Bug, Length};
use crate::sheet::{Job, Panel, Placed, Size};
use canvas::{Canvas, pt};
use container::PageContent;
use fonts::Cuts;
use lopdf::{Document, Object, ObjectId, Stream, dictionary};
use press::{BodySpot, Likeness, Painted};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use structure::{Structure, ToldSection};

/// The PDF of a job by itself.
///
/// # Errors
/// When this program contradicts itself: a panel placed that does not exist, a font that cannot be cut.
pub fn pdf(job: &Job) -> Result<Vec<u8>, Bug> {
    Plates::new(&Press::default()).pdf(job)
}

impl Plates<'_> {
    /// The PDF of a job, one file of the order of these plates. Its bytes are those that it has by itself.
    ///
    /// # Errors
    /// As [`pdf`].
    pub fn pdf(&self, job: &Job) -> Result<Vec<u8>, Bug> {
        let cuts = self.cuts(job)?;
        let mut document = container::empty(job)?;
        let pages: Vec<ObjectId> = document.page_iter().collect();
        let fonts = cuts.write(&mut document);
        let fonts = document.add_object(fonts);
        let forms = Forms::write(job, &cuts, fonts, &mut document)?;
        let resources = document.add_object(dictionary! { "Font" => fonts, "XObject" => forms.resources() });
        let mut painter = Painter {
            job,
            plates: self,
            cuts,
            forms,
            structure: Structure::default(),
            read: BTreeSet::new(),
            shared: BTreeMap::new(),
        };
        for (number, id) in pages.iter().enumerate() {
            let streams = painter.page(number, &mut document)?;
            let number = i64::try_from(number).unwrap_or(0);
            container::fill_page(&mut document, *id, PageContent { streams, number, resources })?;
        }
        entries::write(&mut document, job, &pages)?;
        container::finish(document, job, &pages, painter.structure, self)
    }
}

/// Panels that stand in several places, written once each.
struct Forms(BTreeMap<usize, ObjectId>);

impl Forms {
    fn write(job: &Job, cuts: &Cuts, fonts: ObjectId, document: &mut Document) -> Result<Self, Bug> {
        let mut places: BTreeMap<usize, usize> = BTreeMap::new();
        for placed in job.pages.iter().flat_map(|page| &page.placed) {
            *places.entry(placed.panel).or_default() += 1;
        }
        let mut forms = BTreeMap::new();
        for (index, _) in places.into_iter().filter(|(_, count)| *count > 1) {
            let panel = panel(job, index)?;
            let mut canvas = Canvas::new(panel.size.height, cuts);
            canvas.marks(panel.marks())?;
            let frame =
                [Length::ZERO, Length::ZERO, panel.size.width, panel.size.height].map(|side| Object::Real(pt(side)));
            let dictionary = dictionary! {
                "Type" => "XObject",
                "Subtype" => "Form",
                "FormType" => 1,
                "BBox" => frame.to_vec(),
                "Resources" => dictionary! { "Font" => fonts },
            };
            let form = deflate::deflated(dictionary, &canvas.finish());
            forms.insert(index, document.add_object(form));
        }
        Ok(Self(forms))
    }

    fn resources(&self) -> lopdf::Dictionary {
        self.0.iter().map(|(index, form)| (form_name(*index), Object::Reference(*form))).collect()
    }
}

fn form_name(panel: usize) -> String {
    format!("Panel{panel}")
}

fn panel(job: &Job, index: usize) -> Result<&Panel, Bug> {
    job.panels.get(index).ok_or_else(|| Bug::new(format!("panel {index} was placed but never set")))
}

/// Paints the pages of a document.
struct Painter<'a> {
    job: &'a Job,
    plates: &'a Plates<'a>,
    cuts: Arc<Cuts>,
    forms: Forms,
    structure: Structure,
    /// Panels that were read on an earlier place.
    read: BTreeSet<usize>,
    /// Bodies that are in the file and that another panel may have at the same spot, with their objects.
    shared: BTreeMap<Likeness, Vec<(Arc<Painted>, ObjectId)>>,
}

impl Painter<'_> {
    /// Paints a page as a row of streams: the heads of all panels, their bodies, which many documents share, and all that
    /// comes after. What is read for the first time is tagged; what was read on an earlier place is repeated as a form.
    fn page(&mut self, number: usize, document: &mut Document) -> Result<Vec<ObjectId>, Bug> {
        let page = self.job.pages.get(number).ok_or_else(|| Bug::new("a page was counted but never laid out"))?;
        let cuts = Arc::clone(&self.cuts);
        let (mut before, mut after) = (Canvas::new(page.size.height, &cuts), Canvas::new(page.size.height, &cuts));
        let mut told = Vec::new();
        for placed in &page.placed {
            let panel = panel(self.job, placed.panel)?;
            let (frame, height) = (frame(placed, panel.size, page.size), panel.size.height);
            if self.read.insert(placed.panel) || !self.forms.0.contains_key(&placed.panel) {
                told.push((ToldSection::Panel(placed.panel), panel, frame));
            } else {
                after.framed(frame, height, |canvas| canvas.repeated(&form_name(placed.panel)));
            }
        }
        for (section, panel, frame) in &told {
            let first = self.structure.next(number);
            let head = before.framed(*frame, panel.size.height, |canvas| canvas.tagged(&panel.head, first))?;
            self.structure.take(*section, number, &head);
        }
        let mut streams = vec![own(before, document)];
        for (section, panel, frame) in &told {
            let spot = BodySpot { frame: *frame, height: panel.size.height, first: self.structure.next(number) };
            let (body, stream) = self.body(panel, spot, document)?;
            self.structure.take(*section, number, &body.parts);
            streams.push(stream);
        }
        for (section, panel, frame) in &told {
            let first = self.structure.next(number);
            let foot = after.framed(*frame, panel.size.height, |canvas| canvas.tagged(&panel.foot, first))?;
            self.structure.take(*section, number, &foot);
        }
        let once = after.tagged(&page.marks, self.structure.next(number))?;
        self.structure.take(ToldSection::Once(number), number, &once);
        streams.push(own(after, document));
        Ok(streams)
    }

    /// A body at a spot with the object of its stream, which is written where it is first needed.
    fn body(
        &mut self,
        panel: &Panel,
        spot: BodySpot,
        document: &mut Document,
    ) -> Result<(Arc<Painted>, ObjectId), Bug> {
        let likeness = spot.likeness(panel);
        // In a set stand papers of several orders, and each numbers its bodies by itself.
        let is_this = |(body, _): &&(Arc<Painted>, ObjectId)| body.shows(panel);
        let known = likeness.and_then(|likeness| self.shared.get(&likeness)?.iter().find(is_this));
        if let Some((body, id)) = known {
            return Ok((Arc::clone(body), *id));
        }
        let body = self.plates.body(panel, spot, &self.cuts)?;
        let dictionary = dictionary! { "Filter" => "FlateDecode" };
        let id = document.add_object(Stream::new(dictionary, body.stream.clone()).with_compression(false));
        if let Some(likeness) = likeness {
            self.shared.entry(likeness).or_default().push((Arc::clone(&body), id));
        }
        Ok((body, id))
    }
}

/// A stream that no other document has.
fn own(canvas: Canvas<'_>, document: &mut Document) -> ObjectId {
    document.add_object(deflate::deflated(lopdf::Dictionary::new(), &canvas.finish()))
}

/// Moves a panel to its place; a turned one is rotated by half a circle about its own middle.
fn frame(placed: &Placed, panel: Size, page: Size) -> [f32; 6] {
    let (left, right) = (placed.at.x, placed.at.x + panel.width);
    let (top, bottom) = (page.height - placed.at.y, page.height - placed.at.y - panel.height);
    if placed.is_turned {
        return [-1.0, 0.0, 0.0, -1.0, pt(right), pt(top)];
    }
    [1.0, 0.0, 0.0, 1.0, pt(left), pt(bottom)]
}
