//! Blocks, a layout and fonts -> panels of placed marks.

pub mod mark;
