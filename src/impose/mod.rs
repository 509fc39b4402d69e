//! Panels -> printable sheets: places, folds, cut marks.

mod fold;
mod grid;
pub mod sheet;
mod sheets;

pub use sheets::sheets;
