//! `legwork sum`: levels added by power.

use clap::CommandFactory;
use legwork::{Level, quick};
use legwork_file::quantity;
use serde::Serialize;

use super::answer::{self, Page};
use super::ask;
use super::figure::decimals;
use crate::args::Args;
use crate::{Failure, Outcome};

/// Arguments of `sum`.
#[derive(Debug, clap::Args)]
pub(crate) struct Sum {
    /// Levels: dBmV, dBuV, dBm (75 ohm), mV, V, mW or W
    #[arg(value_name = "LEVEL", required = true, allow_hyphen_values = true)]
    levels: Vec<String>,
    /// As JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Figures {
    dbmv: f32,
}

impl Sum {
    pub(super) fn run(&self) -> Result<Outcome, Failure> {
        let mut json = self.json;
        let mut levels = Vec::with_capacity(self.levels.len());
        for text in &self.levels {
            // A list that takes values with a minus takes the options behind its first value too.
            match text.as_str() {
                "--json" => json = true,
                "--help" | "-h" => return help(),
                _ => levels.push(ask::read("LEVEL", text, quantity::level)?),
            }
        }
        let total = quick::power_sum(&levels)
            .ok_or_else(|| Failure::Unusable("LEVEL: there is none; it takes levels, as in \"10 dBmV\"".to_owned()))?;
        answer::done(json, &Figures { dbmv: total.dbmv() }, || page(&levels, total))
    }
}

/// What clap prints where it meets the option itself.
fn help() -> Result<Outcome, Failure> {
    let mut command = Args::command();
    command.build();
    if let Some(sum) = command.find_subcommand_mut("sum") {
        sum.print_help()?;
    }
    Ok(Outcome::Done)
}

fn page(levels: &[Level], total: Level) -> Page {
    let mut page = Page::new(format!("{} dBmV", decimals(total.dbmv(), 2)));
    let terms: Vec<String> = levels.iter().map(|level| format!("10^({}/10)", decimals(level.dbmv(), 2))).collect();
    let shown = match terms.as_slice() {
        [first, second, .., last] if terms.len() > 4 => format!("{first} + {second} + ... + {last}"),
        _ => terms.join(" + "),
    };
    page.formula(format!("10*log10({shown}) = {} dBmV", decimals(total.dbmv(), 2)));
    page.formula(format!("{} in all; two alike are 3.01 dB more than one", count(levels.len())));
    page.source(
        "powers of unlike signals add (SCTE 270, Mathematics of Cable; cablefax.com, \"Broadband total power\")",
    );
    page
}

fn count(levels: usize) -> String {
    if levels == 1 { "1 level".to_owned() } else { format!("{levels} levels") }
}
