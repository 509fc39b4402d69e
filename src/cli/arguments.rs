//! The command line as clap reads it.

use super::terminal::Format;
use std::path::PathBuf;

/// Checks a volunteer team's frequency plan and says what is wrong, at its line.
#[derive(clap::Parser, Debug)]
#[command(name = "fieldsheaf", version, max_term_width = 100, arg_required_else_help = true)]
#[command(after_help = "Exit code: 0 no error; 1 an error was found; 2 it could not run; 3 a bug in the program.")]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// One command.
#[derive(clap::Subcommand, Debug)]
pub enum Command {
    /// Writes a small plan to start from
    New {
        /// The folder to make
        folder: PathBuf,
    },
    /// Says what is wrong with a plan
    Check {
        /// The plan's folder, or its plan.toml
        #[arg(default_value = ".")]
        plan: PathBuf,
        /// How findings are written; json goes to standard output
        #[arg(long, value_enum, default_value_t)]
        format: Format,
    },
    /// Says what a finding means, with an example and the published source; alone, lists all
    Explain {
        /// The finding's name, as transmit-leaves-band
        finding: Option<String>,
    },
    /// Writes the JSON Schema of the plan format, for editors
    Schema,
    /// Compares a finished folder with its manifest
    Verify {
        /// The folder that a build wrote
        folder: PathBuf,
    },
}
