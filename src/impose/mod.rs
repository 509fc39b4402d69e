//! Panels -> sheets: n-up, folds, crop and fold marks.

pub mod sheet;
