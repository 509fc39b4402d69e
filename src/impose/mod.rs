//! Panels -> printable sheets: places, folds, cut marks.

pub mod sheet;
mod sheets;

pub use sheets::sheets;
