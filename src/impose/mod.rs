//! Panels -> printable sheets: the format says where each stands; what is said once a sheet is added.

pub mod sheet;
mod sheets;

pub use sheets::sheets;
