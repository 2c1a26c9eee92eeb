//! `legwork locate`: readings in, suspects out.

mod human;

use std::io::{self, Write};

use legwork_file::{Finder, Source, quantity};

use crate::args::Locate;
use crate::{Failure, Outcome, input};

/// Locates a fault by one file of readings.
pub(crate) fn run(options: &Locate) -> Result<Outcome, Failure> {
    let Locate { file, readings, .. } = options;
    if file == "-" && readings == "-" {
        let says = "FILE and READINGS can't both be standard input; write one of them to a file";
        return Err(Failure::Unusable(says.to_owned()));
    }
    let error = quantity::db(&options.reading_error)
        .map_err(|bad| Failure::Unusable(format!("--reading-error `{}`: {bad}", options.reading_error)))?;
    let (home, read) = (input::read(file)?, input::read(readings)?);
    let mut finder = Finder::new();
    let located = finder.locate(&Source::new(file, &home)?, &Source::new(readings, &read)?, error)?;
    let mut text = if options.json { located.json() } else { human::page(&located) };
    if options.json {
        text.push('\n');
    }
    io::stdout().write_all(text.as_bytes())?;
    io::stdout().flush()?;
    Ok(Outcome::Done)
}
