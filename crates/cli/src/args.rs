//! The command line's one definition: parsing, help, completions and man page come from here.

use std::path::PathBuf;
use std::time::Duration;

use clap::{Parser, Subcommand};

use crate::quick::Quick;

/// Will the signal be right at every outlet of a home, in both directions, and will the
/// amplifier be powered?
#[derive(Debug, Parser)]
#[command(name = "legwork", version, max_term_width = 100, arg_required_else_help = true)]
#[command(after_help = "Exit codes: 0 done, 1 the answer is bad news, 2 the input can't be used.

Example:
  legwork new home.toml && legwork check home.toml")]
pub(crate) struct Args {
    #[command(subcommand)]
    pub(crate) command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Check homes: levels, noise, powering, and what is wrong
    #[command(after_help = "Example:
  legwork check home.toml")]
    Check(Check),
    /// Find the best set of parts for a home: what to take from the truck, and how to wire it
    #[command(after_help = "Example:
  legwork new need.toml --need && legwork plan need.toml --out plan.toml")]
    Plan(Plan),
    /// Find the fewest changes that put a home right
    #[command(after_help = "Example:
  legwork new truck.toml --need && legwork mend home.toml --stock truck.toml --out mended.toml")]
    Mend(Mend),
    /// Find the part with too much loss by what was read, and where to read next
    #[command(
        after_help = "READINGS is CSV with the columns at,mhz,dbmv, found by name; at is entry, an outlet or a port.

Example:
  printf 'at,mhz,dbmv\\nroom 1,57,-3\\nroom 2,57,2\\n' | legwork locate home.toml -"
    )]
    Locate(Locate),
    /// Say what changed where between two visits, but for what moved at the entry
    #[command(
        after_help = "BEFORE and AFTER are CSV, as for locate; what was read at the same place and frequency is compared.

Example:
  printf 'at,mhz,dbmv\\nroom 1,57,4\\n' | tee may.csv | legwork compare home.toml - may.csv"
    )]
    Compare(Compare),
    /// Draw a home as an SVG: parts, lengths, levels, DC, and what is wrong where it is
    #[command(after_help = "Example:
  legwork draw home.toml --out home.svg")]
    Draw(Picture),
    /// Plot levels over frequency at every outlet as an SVG, between limits and extremes
    #[command(after_help = "Example:
  legwork plot home.toml --out levels.svg")]
    Plot(Picture),
    /// Write the job sheet, for paper and phone: drawing, parts, tags, what to read, cautions
    #[command(after_help = "On a phone the blanks take readings and save them as the file that locate reads.

Example:
  legwork sheet home.toml --out job.html")]
    Sheet(Picture),
    /// Write a commented premises file to start from
    #[command(after_help = "Example:
  legwork new home.toml --outlets 5 --amplifier")]
    New(New),
    /// List the built-in parts and limits with their sources
    #[command(after_help = "Example:
  legwork specs")]
    Specs(Specs),
    #[command(flatten)]
    Quick(Quick),
    /// Write completions for a shell, the man page, or a JSON Schema
    #[command(hide = true)]
    Generate(Generate),
}

/// Options of `check`.
#[derive(Debug, clap::Args)]
pub(crate) struct Check {
    /// Premises files: TOML, or JSON if the name ends in .json; - is standard input
    #[arg(required_unless_present = "lines", value_name = "FILE")]
    pub(crate) files: Vec<String>,
    /// Read one premises a line (JSON) from standard input and write one report a line
    #[arg(long)]
    pub(crate) lines: bool,
    /// Write the report as JSON, one line a file
    #[arg(long)]
    pub(crate) json: bool,
    /// Show the tree with its levels as text
    #[arg(long, conflicts_with_all = ["json", "lines"])]
    pub(crate) tree: bool,
    /// Exit with 1 where something is marginal too
    #[arg(long)]
    pub(crate) strict: bool,
    /// Check under the service and entry of another premises file
    #[arg(long, value_name = "OTHER")]
    pub(crate) service: Option<String>,
}

/// Options of `draw`, `plot` and `sheet`.
#[derive(Debug, clap::Args)]
pub(crate) struct Picture {
    /// A premises file: TOML, or JSON if the name ends in .json; - is standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: String,
    /// The file to write; - is standard output
    #[arg(long, value_name = "FILE")]
    pub(crate) out: PathBuf,
    /// Replace that file if there is one
    #[arg(long)]
    pub(crate) force: bool,
}

/// Options of `plan`.
#[derive(Debug, clap::Args)]
pub(crate) struct Plan {
    /// A need file: TOML, or JSON if the name ends in .json; - is standard input
    #[arg(value_name = "NEED")]
    pub(crate) need: String,
    /// Stop after so many seconds with the best so far
    #[arg(long, value_name = "N", default_value = "60", value_parser = seconds)]
    pub(crate) seconds: Duration,
    #[command(flatten)]
    pub(crate) answer: Answer,
}

/// How a search answers.
#[derive(Debug, clap::Args)]
pub(crate) struct Answer {
    /// Write the home that comes of it as a premises file
    #[arg(long, value_name = "FILE")]
    pub(crate) out: Option<PathBuf>,
    /// Replace that file if there is one
    #[arg(long, requires = "out")]
    pub(crate) force: bool,
    /// As JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// Options of `mend`.
#[derive(Debug, clap::Args)]
pub(crate) struct Mend {
    /// A premises file: TOML, or JSON if the name ends in .json; - is standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: String,
    /// What is on the truck: a file with [stock], and the specs it needs; a need file will do
    #[arg(long, value_name = "STOCK")]
    pub(crate) stock: String,
    /// Look for at most so many changes
    #[arg(long, value_name = "N", default_value_t = 6, value_parser = clap::value_parser!(u8).range(1..=6))]
    pub(crate) changes: u8,
    /// Stop after so many seconds with the best so far
    #[arg(long, value_name = "N", default_value = "10", value_parser = seconds)]
    pub(crate) seconds: Duration,
    #[command(flatten)]
    pub(crate) answer: Answer,
}

/// A number of seconds, fractions allowed.
fn seconds(text: &str) -> Result<Duration, String> {
    let number: f64 = text.parse().map_err(|_| "it takes a number of seconds, as in 10 or 0.5".to_owned())?;
    if !(0.0..=1e6).contains(&number) {
        return Err("it takes a number of seconds from 0 to 1000000".to_owned());
    }
    Ok(Duration::from_secs_f64(number))
}

/// Options of `locate`.
#[derive(Debug, clap::Args)]
pub(crate) struct Locate {
    /// The premises file: TOML, or JSON if the name ends in .json; - is standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: String,
    /// What was read, as CSV; - is standard input
    #[arg(value_name = "READINGS")]
    pub(crate) readings: String,
    /// How far a reading errs, one sigma: dB
    #[arg(long, value_name = "RATIO", default_value = "0.5 dB", allow_hyphen_values = true)]
    pub(crate) reading_error: String,
    /// As JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// Options of `compare`.
#[derive(Debug, clap::Args)]
pub(crate) struct Compare {
    /// The premises file: TOML, or JSON if the name ends in .json; - is standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: String,
    /// What was read at the first visit, as CSV; - is standard input
    #[arg(value_name = "BEFORE")]
    pub(crate) before: String,
    /// What was read at the second, as CSV; - is standard input
    #[arg(value_name = "AFTER")]
    pub(crate) after: String,
    /// How far a reading errs, one sigma: dB
    #[arg(long, value_name = "RATIO", default_value = "0.5 dB", allow_hyphen_values = true)]
    pub(crate) reading_error: String,
    /// As JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// Options of `new`.
#[derive(Debug, clap::Args)]
pub(crate) struct New {
    /// The file to write; - is standard output
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// How many outlets
    #[arg(long, default_value_t = 3, value_name = "N", value_parser = clap::value_parser!(u8).range(1..=64))]
    pub(crate) outlets: u8,
    /// With a house amplifier and its supply
    #[arg(long)]
    pub(crate) amplifier: bool,
    /// A need file for planning instead of a premises file
    #[arg(long, conflicts_with = "amplifier")]
    pub(crate) need: bool,
    /// Replace the file if there is one
    #[arg(long)]
    pub(crate) force: bool,
}

/// Options of `specs`.
#[derive(Debug, clap::Args)]
pub(crate) struct Specs {
    /// As JSON
    #[arg(long)]
    pub(crate) json: bool,
}

/// Options of `generate`.
#[derive(Debug, clap::Args)]
pub(crate) struct Generate {
    /// What to write to standard output
    pub(crate) what: Generated,
}

/// What is generated.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
pub(crate) enum Generated {
    /// Completions for bash
    Bash,
    /// Completions for zsh
    Zsh,
    /// Completions for fish
    Fish,
    /// Completions for PowerShell
    Powershell,
    /// The man page of the program
    Man,
    /// The JSON Schema of premises files, by which editors complete and check them
    PremisesSchema,
    /// The JSON Schema of need files
    NeedSchema,
    /// The JSON Schema of reports
    ReportSchema,
}
