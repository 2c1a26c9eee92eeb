//! Quick calculations.

use clap::Subcommand;

use crate::{Failure, Outcome};

/// temporary
#[derive(Debug, Subcommand)]
pub(crate) enum Quick {}

/// temporary
pub(crate) fn run(command: &Quick) -> Result<Outcome, Failure> {
    match *command {}
}
