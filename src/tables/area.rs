//! Areas on the ground that a rule is bound to.

use crate::ground::{Distance, Position};

/// An area: all of what is written of it must hold.
#[derive(Clone, Debug)]
pub struct Area {
    /// As the rule names it.
    pub name: String,
    /// Around a point.
    pub circle: Option<(Position, Distance)>,
    /// South-west and north-east corner; the box does not reach over the 180th meridian.
    pub corners: Option<[Position; 2]>,
    /// ISO 3166-2 codes of states or provinces, as `US-MT`; empty for any.
    pub regions: Vec<String>,
    /// Whether it is drawn wider than the law draws it, so that inside it nothing is certain.
    pub is_rough: bool,
}
