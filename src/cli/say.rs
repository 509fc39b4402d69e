//! The two streams of the terminal. A reader that closed its pipe has seen enough: that is no failure.

use crate::ground::Failure;
use std::io::{ErrorKind, IsTerminal, Write};

/// Writes to standard output.
///
/// # Errors
/// When it cannot be written for another reason than a closed pipe.
pub fn out(text: &str) -> Result<(), Failure> {
    bytes(text.as_bytes())
}

/// Writes bytes that are no text to standard output.
///
/// # Errors
/// When they cannot be written for another reason than a closed pipe.
pub fn bytes(bytes: &[u8]) -> Result<(), Failure> {
    let mut stream = std::io::stdout().lock();
    match stream.write_all(bytes).and_then(|()| stream.flush()) {
        Err(fault) if fault.kind() != ErrorKind::BrokenPipe => Err(Failure::new("standard output", fault.to_string())),
        _ => Ok(()),
    }
}

/// Writes to standard error. Where that is closed there is nobody left to tell.
pub fn err(text: &str) {
    let mut stream = std::io::stderr().lock();
    let _ = stream.write_all(text.as_bytes()).and_then(|()| stream.flush());
}

/// Whether standard error may carry colours: it is a terminal and `NO_COLOR` is not set (no-color.org: empty counts as not set).
pub fn has_colours() -> bool {
    std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty()) && std::io::stderr().is_terminal()
}
