//! Sheets -> PDF bytes.
//!
//! Enters a [`Job`], leaves a whole file; the same job gives the same bytes on every machine, thread and day. It finds no
//! fault in a plan: what can be wrong here is our own, a [`Bug`].

mod bug;
mod canvas;
mod container;
mod file;
mod fonts;
mod proof;
mod proof_page;
mod sfnt;
mod structure;

pub use bug::Bug;
pub use proof::{Picture, pictures};
pub use proof_page::{ProofDocument, ProofHead, proof_page};

use crate::ground::Length;
use crate::impose::sheet::{Job, Placed};
use crate::typeset::mark::{Panel, Size};
use canvas::{Canvas, pt};
use fonts::Cuts;
use lopdf::{Document, Object, ObjectId, dictionary};
use std::collections::{BTreeMap, BTreeSet};
use structure::{Section, Structure};

/// The PDF of a job.
///
/// # Errors
/// When this program contradicts itself: a panel placed that does not exist, a font that cannot be cut.
pub fn pdf(job: &Job) -> Result<Vec<u8>, Bug> {
    let cuts = Cuts::of(job)?;
    let mut document = container::empty(job)?;
    let pages: Vec<ObjectId> = document.page_iter().collect();
    let fonts = cuts.write(&mut document)?;
    let fonts = document.add_object(fonts);
    let forms = Forms::write(job, &cuts, fonts, &mut document)?;
    let resources = document.add_object(dictionary! { "Font" => fonts, "XObject" => forms.resources() });
    let mut structure = Structure::default();
    let mut read = BTreeSet::new();
    for (number, id) in pages.iter().enumerate() {
        let content = paint_page(number, job, (&cuts, &forms), (&mut structure, &mut read))?;
        let content = container::deflated(lopdf::Dictionary::new(), &content);
        let parents = i64::try_from(number).unwrap_or(0);
        container::fill_page(&mut document, *id, (content, parents), resources)?;
    }
    let structure = structure.write(&mut document, &pages);
    container::finish(document, job, &pages, structure)
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
            canvas.marks(&panel.marks)?;
            let frame =
                [Length::ZERO, Length::ZERO, panel.size.width, panel.size.height].map(|side| Object::Real(pt(side)));
            let dictionary = dictionary! {
                "Type" => "XObject",
                "Subtype" => "Form",
                "FormType" => 1,
                "BBox" => frame.to_vec(),
                "Resources" => dictionary! { "Font" => fonts },
            };
            let form = container::deflated(dictionary, &canvas.finish());
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

/// Paints a page. What is read for the first time is tagged; what was read on an earlier place is repeated as a form.
fn paint_page(
    number: usize,
    job: &Job,
    (cuts, forms): (&Cuts, &Forms),
    (structure, read): (&mut Structure, &mut BTreeSet<usize>),
) -> Result<Vec<u8>, Bug> {
    let page = job.pages.get(number).ok_or_else(|| Bug::new("a page was counted but never laid out"))?;
    let mut canvas = Canvas::new(page.size.height, cuts);
    for placed in &page.placed {
        let panel = panel(job, placed.panel)?;
        let frame = frame(placed, panel.size, page.size);
        let is_first = read.insert(placed.panel);
        canvas.framed(frame, panel.size.height, |canvas| {
            if !is_first && forms.0.contains_key(&placed.panel) {
                canvas.repeated(&form_name(placed.panel));
                return Ok(());
            }
            canvas.tagged(&panel.marks, |part| structure.take(Section::Panel(placed.panel), number, part))
        })?;
    }
    canvas.tagged(&page.marks, |part| structure.take(Section::Once(number), number, part))?;
    Ok(canvas.finish())
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
