//! Blocks, a layout and fonts -> panels of placed marks.

mod face;
mod flags;
pub mod form;
pub mod mark;
mod pen;
pub mod setting;
pub mod strip;
pub mod symbol;
