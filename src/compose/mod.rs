//! A view and a document kind -> a tree of blocks.

pub mod block;
