//! audience
