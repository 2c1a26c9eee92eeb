//! `legwork locate` and `legwork compare`: readings in, suspects out.

mod human;

use std::io::{self, Write};

use legwork::Db;
use legwork_file::{Finder, Source, quantity};

use crate::args::{Compare, Locate};
use crate::{Failure, Outcome, input};

/// Locates a fault by one file of readings.
pub(crate) fn locate(options: &Locate) -> Result<Outcome, Failure> {
    let Locate { file, readings, reading_error, json } = options;
    one_input([("FILE", file), ("READINGS", readings)])?;
    let error = error(reading_error)?;
    let (home, read) = (input::read(file)?, input::read(readings)?);
    let mut finder = Finder::new();
    let located = finder.locate(&Source::new(file, &home)?, &Source::new(readings, &read)?, error)?;
    done(if *json { located.json() + "\n" } else { human::located(&located) })
}

/// Says what changed between two files of readings.
pub(crate) fn compare(options: &Compare) -> Result<Outcome, Failure> {
    let Compare { file, before, after, reading_error, json } = options;
    one_input([("FILE", file), ("BEFORE", before), ("AFTER", after)])?;
    let error = error(reading_error)?;
    let (home, first, second) = (input::read(file)?, input::read(before)?, input::read(after)?);
    let mut finder = Finder::new();
    let (first, second) = (Source::new(before, &first)?, Source::new(after, &second)?);
    let compared = finder.compare(&Source::new(file, &home)?, &first, &second, error)?;
    done(if *json { compared.json() + "\n" } else { human::compared(&compared) })
}

/// Standard input can be read once.
fn one_input<const N: usize>(files: [(&str, &String); N]) -> Result<(), Failure> {
    let names: Vec<&str> = files.iter().filter(|(_, file)| *file == "-").map(|(name, _)| *name).collect();
    if names.len() < 2 {
        return Ok(());
    }
    let says = format!("{} can't both be standard input; write one of them to a file", names.join(" and "));
    Err(Failure::Unusable(says))
}

/// The error of a reading.
fn error(text: &str) -> Result<Db, Failure> {
    let refused = |says: String| Failure::Unusable(format!("--reading-error `{text}`: {says}"));
    let error = quantity::db(text).map_err(|bad| refused(bad.to_string()))?;
    if (Db::constant(0.001)..=Db::constant(30.0)).contains(&error) {
        Ok(error)
    } else {
        Err(refused("it takes a ratio from 0.001 to 30 dB".to_owned()))
    }
}

fn done(text: String) -> Result<Outcome, Failure> {
    io::stdout().write_all(text.as_bytes())?;
    io::stdout().flush()?;
    Ok(Outcome::Done)
}
