//! A checked plan as one audience may see it. Whatever is above the audience stays closed.

mod checked_plan;
mod view;

pub use checked_plan::CheckedPlan;
pub use view::{Holder, View, view};
