//! Marks, panels, pages and jobs as plain data: what is set, placed and painted.
//!
//! Nothing here decides: `typeset` makes marks and panels, `impose` makes pages, `paint` reads them.

mod face;
mod job;
mod mark;
mod panel;

pub use crate::formats::{Duplex, Placed};
pub use crate::ground::{Area, Point, Size};
pub use face::Face;
pub use job::{Job, Page, Placement};
pub use mark::{
    CellPlace, EntryKind, Fill, FormEntry, Glyph, Glyphs, HAIRLINE, Line, Mark, Modules, Outline, Pattern, Patterned,
    ReadPlace, SignMark, Slope, across, down,
};
pub use panel::{FootBand, Panel, Panels};
