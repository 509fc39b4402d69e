//! A checked plan as one audience may see it. Whatever is above the audience stays closed.

mod view;

pub use view::{Holder, View, view};
