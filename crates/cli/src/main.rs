//! Legwork on the command line: parse, call, print.

mod args;
mod check;
mod generate;
mod input;
mod locate;
mod new;
mod outcome;
mod output;
mod picture;
mod plan;
mod quick;
mod screen;
mod specs;

use std::process::ExitCode;

use clap::Parser;

use args::{Args, Command};
use outcome::{Failure, Outcome};

fn main() -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(error) => return outcome::usage(&error),
    };
    let result = match &args.command {
        Command::Check(options) => check::run(options),
        Command::Plan(options) => plan::run(options),
        Command::Mend(options) => plan::mend(options),
        Command::Locate(options) => locate::locate(options),
        Command::Compare(options) => locate::compare(options),
        Command::Draw(options) => picture::run(options, legwork_draw::drawing),
        Command::Plot(options) => picture::run(options, legwork_draw::plot),
        Command::Sheet(options) => picture::run(options, legwork_draw::sheet),
        Command::New(options) => new::run(options),
        Command::Specs(options) => specs::run(options),
        Command::Quick(command) => quick::run(command),
        Command::Generate(options) => generate::run(options),
    };
    match result {
        Ok(outcome) => outcome.into(),
        Err(failure) => failure.report(),
    }
}
