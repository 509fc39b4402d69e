//! edition
