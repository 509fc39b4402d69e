//! Pages, painted: what they are by themselves, before they have a place in a file.

use super::canvas::Canvas;
use super::container::Container;
use super::deflate::zlib;
use super::entries::PageEntry;
use super::operands::pt;
use super::outline::OutlineEntry;
use super::press::{BodySpot, Likeness, Painted, Plates};
use super::readings::Readings;
use super::structure::{Structure, ToldSection, Tree};
use super::used::Used;
use crate::ground::{Bug, Length};
use crate::sheet::{Job, Panel, Placed, Size};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The pages of a job, whole or one holder's of many.
pub struct PaintedJob {
    pub(super) pages: Vec<PaintedPage>,
    /// Panels that stand in several places, once each.
    pub(super) forms: Vec<PaintedForm>,
    pub(super) tree: Tree,
    pub(super) used: Used,
    pub(super) outline: Vec<OutlineEntry>,
}

/// A page, as a row of streams: the heads of all panels, their bodies, which many documents share, and all that comes after.
pub(super) struct PaintedPage {
    pub container: Arc<Container>,
    pub streams: Vec<PageStream>,
    /// Where one writes on a screen.
    pub entries: Vec<PageEntry>,
}

/// A part of a page's content, deflated.
pub(super) enum PageStream {
    /// That no other page has.
    Own(Vec<u8>),
    /// That another page may have: it is in the file once.
    Body(Option<Likeness>, Arc<Painted>),
}

/// A panel that is drawn wherever it is named.
pub(super) struct PaintedForm {
    pub name: String,
    pub frame: [f32; 4],
    pub content: Vec<u8>,
}

impl Plates<'_> {
    /// Paints the pages of a job.
    ///
    /// # Errors
    /// When this program contradicts itself: a panel placed that does not exist.
    pub fn paint(&self, job: &Job) -> Result<PaintedJob, Bug> {
        let readings = Readings::built_in()?;
        let forms = forms(job, readings)?;
        let repeated = forms.keys().copied().collect();
        let mut painter =
            Painter { job, plates: self, readings, repeated, structure: Structure::default(), read: BTreeSet::new() };
        let pages = (0..job.pages.len()).map(|number| painter.page(number)).collect::<Result<Vec<_>, Bug>>()?;
        Ok(PaintedJob {
            tree: painter.structure.tree(pages.len()),
            pages,
            forms: forms.into_values().collect(),
            used: self.used_by(job, readings),
            outline: OutlineEntry::of(job),
        })
    }
}

/// Panels that stand in several places.
fn forms(job: &Job, readings: &Readings) -> Result<BTreeMap<usize, PaintedForm>, Bug> {
    let mut places: BTreeMap<usize, usize> = BTreeMap::new();
    for placed in job.pages.iter().flat_map(|page| &page.placed) {
        *places.entry(placed.panel).or_default() += 1;
    }
    let form = |index: usize| {
        let panel = panel(job, index)?;
        let mut canvas = Canvas::new(panel.size.height, readings);
        canvas.marks(panel.marks());
        let frame = [Length::ZERO, Length::ZERO, panel.size.width, panel.size.height].map(pt);
        Ok((index, PaintedForm { name: form_name(index), frame, content: zlib(&canvas.finish()) }))
    };
    places.into_iter().filter(|(_, count)| *count > 1).map(|(index, _)| form(index)).collect()
}

fn form_name(panel: usize) -> String {
    format!("Panel{panel}")
}

fn panel(job: &Job, index: usize) -> Result<&Panel, Bug> {
    job.panels.get(index).ok_or_else(|| Bug::new(format!("panel {index} was placed but never set")))
}

/// Paints the pages of a job.
struct Painter<'a> {
    job: &'a Job,
    plates: &'a Plates<'a>,
    readings: &'a Readings,
    /// Panels that stand in several places.
    repeated: BTreeSet<usize>,
    structure: Structure,
    /// Panels that were read on an earlier place.
    read: BTreeSet<usize>,
}

impl Painter<'_> {
    /// What is read for the first time is tagged; what was read on an earlier place is repeated as a form.
    fn page(&mut self, number: usize) -> Result<PaintedPage, Bug> {
        let page = self.job.pages.get(number).ok_or_else(|| Bug::new("a page was counted but never laid out"))?;
        let canvas = || Canvas::new(page.size.height, self.readings);
        let (mut before, mut after) = (canvas(), canvas());
        let mut told = Vec::new();
        for placed in &page.placed {
            let panel = panel(self.job, placed.panel)?;
            let (frame, height) = (frame(placed, panel.size, page.size), panel.size.height);
            if self.read.insert(placed.panel) || !self.repeated.contains(&placed.panel) {
                told.push((ToldSection::Panel(placed.panel), panel, frame));
            } else {
                after.framed(frame, height, |canvas| canvas.repeated(&form_name(placed.panel)));
            }
        }
        for (section, panel, frame) in &told {
            let first = self.structure.next(number);
            let head = before.framed(*frame, panel.size.height, |canvas| canvas.tagged(&panel.head, first));
            self.structure.take(*section, number, &head);
        }
        let mut streams = vec![PageStream::Own(zlib(&before.finish()))];
        for (section, panel, frame) in &told {
            let spot = BodySpot { frame: *frame, height: panel.size.height, first: self.structure.next(number) };
            let body = self.plates.body(panel, spot, self.readings);
            self.structure.take(*section, number, &body.parts);
            streams.push(PageStream::Body(spot.likeness(panel), body));
        }
        for (section, panel, frame) in &told {
            let first = self.structure.next(number);
            let foot = after.framed(*frame, panel.size.height, |canvas| canvas.tagged(&panel.foot, first));
            self.structure.take(*section, number, &foot);
        }
        let once = after.tagged(&page.marks, self.structure.next(number));
        self.structure.take(ToldSection::Once(number), number, &once);
        streams.push(PageStream::Own(zlib(&after.finish())));
        let entries = PageEntry::of(self.job, page);
        Ok(PaintedPage { container: self.plates.press().container(page)?, streams, entries })
    }
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
