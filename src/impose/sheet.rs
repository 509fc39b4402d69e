//! Printable pages with panels placed on them.

pub use crate::typeset::format::Duplex;
use crate::typeset::mark::{Area, Mark, Panel, Point, Size};

/// One document ready to paint: its panels, and the pages that hold them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Job {
    /// Name of the output file without its ending.
    pub stem: String,
    /// For the PDF's metadata.
    pub title: String,
    /// As `en-US`.
    pub language: String,
    /// Every panel stands on exactly one page, except where the document asks for copies.
    pub panels: Vec<Panel>,
    /// In printing order: front, back, front, back where duplex.
    pub pages: Vec<Page>,
    /// How the printer is to turn the sheet.
    pub duplex: Duplex,
}

/// One side of a sheet of paper.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Page {
    /// Paper size, in the orientation in which it is shown.
    pub size: Size,
    /// What is left of it when all is cut; the whole page where nothing is.
    pub trim: Area,
    /// Panels on it, in reading order.
    pub placed: Vec<Placed>,
    /// Crop and fold marks, scale bar, what is said once per sheet.
    pub marks: Vec<Mark>,
}

/// A panel on a page.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Placed {
    /// Index into the job's panels.
    pub panel: usize,
    /// Where its top left corner comes to lie; when turned, where its bottom right corner (now top left) does.
    pub at: Point,
    /// Turned by half a circle.
    pub is_turned: bool,
}
