//! The two streams of the terminal: what was asked for goes to standard output, what is said about the work to standard error. A
//! reader that closed its pipe has seen enough: that is no failure.

use crate::ground::{Failure, without_controls};
use std::ffi::OsStr;
use std::io::{ErrorKind, IsTerminal, Write};
use std::path::Path;

/// Writes lines to standard output.
///
/// # Errors
/// When it cannot be written for another reason than a closed pipe.
pub fn out(text: &str) -> Result<(), Failure> {
    bytes(safe(text).as_bytes())
}

/// Writes findings, which may bear colours and are made safe where they are set, or a file.
///
/// # Errors
/// When it cannot be written for another reason than a closed pipe.
pub fn bytes(bytes: &[u8]) -> Result<(), Failure> {
    let mut stream = std::io::stdout().lock();
    match stream.write_all(bytes).and_then(|()| stream.flush()) {
        Err(fault) if fault.kind() != ErrorKind::BrokenPipe => Err(Failure::new("standard output", fault.to_string())),
        _ => Ok(()),
    }
}

/// Writes lines to standard error. Where that is closed there is nobody left to tell.
pub fn err(text: &str) {
    let mut stream = std::io::stderr().lock();
    let _ = stream.write_all(safe(text).as_bytes()).and_then(|()| stream.flush());
}

/// Writes a line to standard error over the one that stands there; what comes next is written over it.
pub fn over(line: &str) {
    let mut stream = std::io::stderr().lock();
    let _ = write!(stream, "\r{}\r", without_controls(line)).and_then(|()| stream.flush());
}

/// A path as it may be shown: in one line, whatever is in its name.
pub fn path(path: &Path) -> String {
    without_controls(&path.display().to_string())
}

fn safe(text: &str) -> String {
    text.split('\n').map(without_controls).collect::<Vec<_>>().join("\n")
}

/// Whether findings may bear colours.
pub fn has_colours() -> bool {
    let variable = |name: &str| std::env::var_os(name);
    std::io::stdout().is_terminal() && may_have_colours(variable("NO_COLOR").as_deref(), variable("TERM").as_deref())
}

/// Whether a line of standard error may be written over.
pub fn has_moving_lines() -> bool {
    std::io::stderr().is_terminal() && std::env::var_os("TERM").as_deref() != Some(OsStr::new("dumb"))
}

/// No colours where `NO_COLOR` is set (no-color.org: empty counts as not set) or the terminal says that it has none.
fn may_have_colours(no_color: Option<&OsStr>, term: Option<&OsStr>) -> bool {
    no_color.is_none_or(OsStr::is_empty) && term != Some(OsStr::new("dumb"))
}

#[cfg(test)]
mod tests {
    use super::{may_have_colours, path, safe};
    use std::ffi::OsStr;
    use std::path::Path;

    #[test]
    fn a_dumb_terminal_and_who_wants_none_get_no_colours() {
        let may = |no_color: Option<&str>, term: Option<&str>| {
            may_have_colours(no_color.map(OsStr::new), term.map(OsStr::new))
        };
        assert!(may(None, None) && may(Some(""), Some("xterm")));
        assert!(!may(None, Some("dumb")) && !may(Some("1"), Some("xterm")));
    }

    #[test]
    fn lines_stay_and_all_else_that_controls_a_terminal_goes() {
        assert_eq!(safe("a\u{1b}[31m\nb\u{61c}\n"), "a\u{fffd}[31m\nb\u{fffd}\n");
        assert_eq!(path(Path::new("kit\nerror")), "kit\u{fffd}error");
    }
}
