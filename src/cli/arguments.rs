//! The command line as clap reads it.

use super::terminal::Format;
use crate::ground::caps;
use crate::tables::USUAL_PROFILE;
use std::path::PathBuf;

/// Turns a volunteer team's frequency plan into checked pocket cards, charts and forms.
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
        /// A list of channels, people or places that the plan begins with: CSV, XLSX or ODS
        #[arg(long, value_name = "TABLE")]
        from: Option<PathBuf>,
    },
    /// Says what is wrong with a plan
    Check {
        /// The plan's folder, or its plan.toml
        #[arg(default_value = ".")]
        plan: PathBuf,
        /// How findings are written; json goes to standard output
        #[arg(long, value_enum, default_value_t)]
        format: Format,
        /// Stops before the documents are set
        #[arg(long)]
        plan_only: bool,
    },
    /// Checks a plan, then makes its documents
    Build {
        /// The plan's folder, or its plan.toml
        #[arg(default_value = ".")]
        plan: PathBuf,
        /// The folder for the documents; it holds nothing else
        #[arg(long)]
        out: PathBuf,
        /// Only documents of this kind, as channel-card
        #[arg(long, value_name = "KIND")]
        only: Option<String>,
        /// Only the documents of this member or place
        #[arg(long = "for", value_name = "ID")]
        holder: Option<String>,
        /// Only documents for these readers, as team
        #[arg(long)]
        audience: Option<String>,
        /// A folder for pictures of every sheet and panel, and a page that shows them
        #[arg(long, value_name = "FOLDER")]
        proof: Option<PathBuf>,
        /// Dots an inch of these pictures
        #[arg(long, value_name = "N", default_value_t = 110, requires = "proof", value_parser = clap::value_parser!(u16).range(caps::PROOF_DOTS.range()))]
        dpi: u16,
        /// Print how full each panel is
        #[arg(long)]
        explain_fit: bool,
        /// How findings are written
        #[arg(long, value_enum, default_value_t)]
        format: Format,
        /// How many threads work; as many as the machine has when left out
        #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(caps::THREADS.range()))]
        threads: Option<u16>,
    },
    /// Proposes frequencies for channels that want one of a pool
    Allot {
        /// The plan's folder, or its plan.toml
        #[arg(default_value = ".")]
        plan: PathBuf,
        /// Puts them into the plan's files
        #[arg(long)]
        write: bool,
    },
    /// Makes a form, with or without a plan
    Form(FormOptions),
    /// Says what a finding or a key means; alone, all of them
    Explain {
        /// A finding, as transmit-leaves-band, or a record, a key, a document or a layout, as channel.tx-tone
        name: Option<String>,
        /// Writes Markdown
        #[arg(long)]
        markdown: bool,
    },
    /// Writes the JSON Schema of the plan format, for editors
    Schema,
    /// Builds a plan's whole kit and enters its edition among those that were issued
    Issue {
        /// The plan's folder, or its plan.toml
        #[arg(default_value = ".")]
        plan: PathBuf,
        /// The folder for the documents; it holds nothing else
        #[arg(long)]
        out: PathBuf,
        /// Signs the folder's manifest with the secret key in this file
        #[arg(long, value_name = "KEYFILE")]
        sign: Option<PathBuf>,
    },
    /// Makes a pair of keys by which editions are signed
    Key {
        /// The folder for its two files, not that of a plan
        folder: PathBuf,
    },
    /// Says what is another in a plan than in an older one, and which papers are to be replaced
    Compare {
        /// The older plan: its folder, its plan.toml, or the number of an edition that was issued; or a finished folder, or the text attached to a document
        old: PathBuf,
        /// The newer one of the same sort
        new: PathBuf,
        /// Writes JSON, for other programs
        #[arg(long)]
        json: bool,
    },
    /// Writes what changed since the edition issued before, to be passed by radio
    Bulletin {
        /// The plan's folder, or its plan.toml
        #[arg(default_value = ".")]
        plan: PathBuf,
        /// As lines of 7-bit text for data modes, each with two letters by which damage shows
        #[arg(long)]
        text: bool,
        /// All channels in place of the changes, as such lines
        #[arg(long)]
        channels: bool,
        /// Also the codes of sheets that these readers may read, as team; those for anybody when left out
        #[arg(long)]
        audience: Option<String>,
    },
    /// Compares a finished folder with its manifest, or lines of a bulletin with their checks
    Verify {
        /// The folder that a build wrote, or a file in it
        #[arg(required_unless_present = "bulletin")]
        folder: Option<PathBuf>,
        /// The plan's folder, or its plan.toml: it says whose key signed, and which papers an edition issued since has otherwise
        #[arg(long, value_name = "PLAN")]
        plan: Option<PathBuf>,
        /// Reads the lines of `bulletin --text` back from this file
        #[arg(long, value_name = "FILE", conflicts_with = "folder")]
        bulletin: Option<PathBuf>,
    },
}

/// What is asked of a form.
#[derive(clap::Args, Debug)]
pub struct FormOptions {
    /// The form: as `--list` names it, or a TOML file with one, FILE.toml or FILE.toml#ID
    #[arg(required_unless_present = "list")]
    pub name: Option<String>,
    /// The PDF file to write, or - for standard output
    #[arg(long, required_unless_present_any = ["list", "pack"])]
    pub out: Option<PathBuf>,
    /// Writes over a file that is there
    #[arg(long)]
    pub replace: bool,
    /// Names the forms
    #[arg(long)]
    pub list: bool,
    /// How often the form is printed; as the form says, or once, when left out
    #[arg(long, value_parser = clap::value_parser!(u16).range(caps::COPIES.range()))]
    pub copies: Option<u16>,
    /// Numbers the copies, from this number on
    #[arg(long, value_name = "FIRST", value_parser = clap::value_parser!(u32).range(caps::SERIAL.range()))]
    pub serial: Option<u32>,
    /// The layout, as pad for two on a sheet; the form's own when left out
    #[arg(long)]
    pub layout: Option<String>,
    /// The paper; the profile's when left out
    #[arg(long)]
    pub paper: Option<String>,
    /// Lets one fill it in on a screen
    #[arg(long)]
    pub fillable: bool,
    /// Says how many to bring and writes nothing: so many an hour x hours, as 10x12
    #[arg(long, value_name = "RATExHOURS")]
    pub pack: Option<String>,
    /// How many of 100 more are brought, for --pack
    #[arg(long, value_name = "PER CENT", default_value_t = 30, requires = "pack", value_parser = clap::value_parser!(u16).range(0..=400))]
    pub reserve: u16,
    /// The country profile, without a plan
    #[arg(long, default_value = USUAL_PROFILE, conflicts_with = "plan")]
    pub profile: String,
    /// Fills it in from this plan: its folder, or its plan.toml
    #[arg(long)]
    pub plan: Option<PathBuf>,
    /// Fills it in with each [[message]] of this file
    #[arg(long, value_name = "FILE", conflicts_with_all = ["serial", "pack"])]
    pub from: Option<PathBuf>,
    /// The place, member or message of the plan whose copies they are
    #[arg(long = "for", value_name = "ID", requires = "plan", conflicts_with = "from")]
    pub holder: Option<String>,
    /// The net of the plan that it is for
    #[arg(long, requires = "plan")]
    pub net: Option<String>,
    /// Who may read it, of the plan's readers; anybody, or those who lead where it has messages, when left out
    #[arg(long, requires = "plan")]
    pub audience: Option<String>,
}
