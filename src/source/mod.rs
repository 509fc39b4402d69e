//! source
