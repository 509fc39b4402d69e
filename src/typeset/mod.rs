//! Blocks, a layout and fonts -> panels of placed marks.

mod blocks;
mod columns;
mod filling;
mod flags;
mod flow;
mod form;
pub mod furniture;
mod gathering;
mod grid;
pub mod layout;
mod layout_read;
mod lines;
mod once;
mod order;
mod panels;
pub mod pen;
mod piece;
mod rows;
mod rules;
pub(crate) mod setting;
pub(crate) mod shaping;
mod strip;
mod strip_parts;
mod symbol;

pub use layout_read::schema as layout_schema;
pub use order::{Copy, Order};
pub use panels::panels;
pub use rules::RULES;
