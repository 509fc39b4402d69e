//! Printable pages with panels placed on them.

use super::{Glyph, Mark, Panel};
use crate::formats::{Duplex, Placed};
use crate::ground::{Area, Length, Size};

/// One document ready to paint: its panels, and the pages that hold them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Job {
    /// Name of the output file without its ending.
    pub stem: String,
    /// For the PDF's metadata.
    pub title: String,
    /// What it says of itself beside the title: edition, readers, days, codes; none of a file that is of no edition.
    pub says: Option<String>,
    /// As `en-US`.
    pub language: String,
    /// Every panel stands on exactly one page, except where the document asks for copies.
    pub panels: Vec<Panel>,
    /// Glyphs that every file has, under the same codes: letters that everybody's sheets use, so that many files have the same fonts.
    pub alphabet: &'static [(Glyph, String)],
    /// In printing order: front, back, front, back where duplex.
    pub pages: Vec<Page>,
    /// How the printer is to turn the sheet.
    pub duplex: Duplex,
    /// What the document says, as text to go with it: the canonical text of its own view.
    pub canonical: Option<String>,
}

/// A panel on a page, as told to people: where it stands and how full it is.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Placement {
    /// The title printed on it.
    pub title: String,
    /// Whose it is, where a file has the copies of several.
    pub holder: Option<String>,
    /// How much of the height for its text is taken, and how much there is; both zero where nothing flows.
    pub fill: (Length, Length),
    /// The page, from 0.
    pub page: usize,
    /// Where on the page.
    pub area: Area,
    /// Turned by half a circle.
    pub is_turned: bool,
}

impl Placement {
    /// Its title, after its holder where there are several.
    #[must_use]
    pub fn name(&self) -> String {
        self.holder.as_ref().map_or_else(|| self.title.clone(), |holder| format!("{holder}: {}", self.title))
    }

    /// How full it is, of 100; none where nothing flows.
    #[must_use]
    pub fn per_cent(&self) -> Option<i64> {
        let (used, room) = self.fill;
        (room > Length::ZERO).then(|| (used.as_grains() * 100 + room.as_grains() / 2) / room.as_grains())
    }
}

impl Job {
    /// Every panel in reading order, at its first place.
    #[must_use]
    pub fn placements(&self) -> Vec<Placement> {
        let mut first: Vec<Option<(usize, Placed)>> = vec![None; self.panels.len()];
        for (page, sheet) in self.pages.iter().enumerate() {
            for placed in &sheet.placed {
                if let Some(place @ None) = first.get_mut(placed.panel) {
                    *place = Some((page, *placed));
                }
            }
        }
        let placement = |(place, panel): (Option<(usize, Placed)>, &Panel)| {
            let (page, Placed { at, is_turned, .. }) = place?;
            let area = Area { left: at.x, top: at.y, right: at.x + panel.size.width, bottom: at.y + panel.size.height };
            Some(Placement {
                title: panel.title.clone(),
                holder: panel.holder.clone(),
                fill: panel.fill,
                page,
                area,
                is_turned,
            })
        };
        first.into_iter().zip(&self.panels).filter_map(placement).collect()
    }
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
