//! Panels -> printable sheets: the format says where each stands; what is said once a sheet is added.

mod sheets;

pub use sheets::sheets;
