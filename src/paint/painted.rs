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
use crate::ground::{Bug, Length, on_all_threads};
use crate::sheet::{Job, Page, Panel, Placed, Size};
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
        let painter = Painter { job, plates: self, readings };
        let told = painter.told(&repeated)?;
        let drawn = || {
            let pages = on_all_threads(&told, PAGES_OF_A_THREAD, |told| painter.page(told));
            pages.into_iter().collect::<Result<Vec<DrawnPage>, Bug>>()
        };
        let (drawn, used) = rayon::join(drawn, || self.used_by(job, readings));
        let mut structure = Structure::default();
        let mut pages = Vec::with_capacity(told.len());
        for DrawnPage { painted, parts } in drawn? {
            structure.join(parts);
            pages.push(painted);
        }
        let tree = structure.tree(pages.len());
        Ok(PaintedJob { tree, pages, forms: forms.into_values().collect(), used, outline: OutlineEntry::of(job) })
    }
}

/// So few pages are painted one after the other: most files have no more, and are painted beside each other.
const PAGES_OF_A_THREAD: usize = 8;

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
}

/// What stands on a page.
struct ToldPage<'a> {
    number: usize,
    page: &'a Page,
    /// Panels that are read here, with their frames.
    told: Vec<(ToldSection, &'a Panel, [f32; 6])>,
    /// Those that were read on an earlier place, with their frames and heights.
    again: Vec<(usize, [f32; 6], Length)>,
}

/// A page, and what is read of it.
struct DrawnPage {
    painted: PaintedPage,
    parts: Structure,
}

impl<'a> Painter<'a> {
    /// What stands on each page. What is read for the first time is tagged; what was read on an earlier place is repeated as a form.
    fn told(&self, repeated: &BTreeSet<usize>) -> Result<Vec<ToldPage<'a>>, Bug> {
        let mut read = BTreeSet::new();
        let mut of_page = |(number, page): (usize, &'a Page)| {
            let (mut told, mut again) = (Vec::new(), Vec::new());
            for placed in &page.placed {
                let panel = panel(self.job, placed.panel)?;
                let frame = frame(placed, panel.size, page.size);
                if read.insert(placed.panel) || !repeated.contains(&placed.panel) {
                    told.push((ToldSection::Panel(placed.panel), panel, frame));
                } else {
                    again.push((placed.panel, frame, panel.size.height));
                }
            }
            Ok(ToldPage { number, page, told, again })
        };
        self.job.pages.iter().enumerate().map(&mut of_page).collect()
    }

    fn page(&self, ToldPage { number, page, told, again }: &ToldPage<'_>) -> Result<DrawnPage, Bug> {
        let canvas = || Canvas::new(page.size.height, self.readings);
        let (mut before, mut after) = (canvas(), canvas());
        let mut parts = Structure::default();
        for (panel, frame, height) in again {
            after.framed(*frame, *height, |canvas| canvas.repeated(&form_name(*panel)));
        }
        for (section, panel, frame) in told {
            let first = parts.next(*number);
            let head = before.framed(*frame, panel.size.height, |canvas| canvas.tagged(&panel.head, first));
            parts.take(*section, *number, &head);
        }
        let mut streams = vec![PageStream::Own(zlib(&before.finish()))];
        for (section, panel, frame) in told {
            let spot = BodySpot { frame: *frame, height: panel.size.height, first: parts.next(*number) };
            let body = self.plates.body(panel, spot, self.readings);
            parts.take(*section, *number, &body.parts);
            streams.push(PageStream::Body(spot.likeness(panel), body));
        }
        for (section, panel, frame) in told {
            let first = parts.next(*number);
            let foot = after.framed(*frame, panel.size.height, |canvas| canvas.tagged(&panel.foot, first));
            parts.take(*section, *number, &foot);
        }
        let once = after.tagged(&page.marks, parts.next(*number));
        parts.take(ToldSection::Once(*number), *number, &once);
        streams.push(PageStream::Own(zlib(&after.finish())));
        let entries = PageEntry::of(self.job, page);
        let painted = PaintedPage { container: self.plates.press().container(page)?, streams, entries };
        Ok(DrawnPage { painted, parts })
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
