//! Blocks, a layout and fonts -> panels of placed marks.

mod blocks;
mod columns;
mod extra;
mod filling;
mod flags;
mod flow;
mod form;
mod furniture;
mod gathering;
mod grid;
mod imprint;
mod layout;
mod layout_find;
mod layout_read;
mod lines;
mod once;
mod order;
mod panels;
mod pen;
mod piece;
mod row_columns;
mod rows;
mod rules;
mod setting;
mod shaping;
mod strip;
mod strip_parts;
mod symbol;
mod symbol_code;

pub use layout::{Layout, names as layout_names};
pub use layout_find::find as find_layout;
pub use layout_read::schema as layout_schema;
pub use order::{Copy, Order};
pub use panels::panels;
pub use pen::Pen;
pub use rules::RULES;
