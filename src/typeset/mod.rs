//! Blocks, a layout and fonts -> panels of placed marks.

mod face;
mod flags;
mod flow;
mod form;
mod furniture;
mod grid;
pub mod layout;
mod lines;
pub mod mark;
mod panels;
pub mod pen;
mod piece;
mod rows;
mod rules;
pub(crate) mod setting;
mod strip;
mod symbol;

pub(crate) use furniture::{bar_width, scale_bar};
pub(crate) use lines::paragraph;
pub(crate) use panels::BAND;
pub use panels::{Panels, panels};
pub use rules::RULES;
