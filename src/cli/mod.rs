//! Arguments, terminal, disk, clock and exit code.

/// Runs one command line.
pub fn run(_arguments: std::env::ArgsOs) -> std::process::ExitCode {
    std::process::ExitCode::SUCCESS
}
