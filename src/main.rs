//! Passes arguments in and returns an exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    fieldsheaf::cli::run(std::env::args_os())
}
