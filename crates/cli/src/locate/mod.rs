//! `legwork locate` and `legwork compare`: readings in, suspects out.

mod human;

use legwork::{Db, READING_ERROR};
use legwork_file::{Finder, Source, quantity};

use crate::args::{Compare, Locate};
use crate::{Failure, Outcome, input, output};

/// Locates a fault by one file of readings.
pub(crate) fn locate(options: &Locate) -> Result<Outcome, Failure> {
    let Locate { file, readings, reading_error, json } = options;
    input::only_one_is_stdin([("FILE", file), ("READINGS", readings)])?;
    let error = error(reading_error)?;
    let (home, read) = (input::read(file)?, input::read(readings)?);
    let mut finder = Finder::new();
    let located = finder.locate(&Source::new(file, &home)?, &Source::new(readings, &read)?, error)?;
    let text = if *json { located.json() + "\n" } else { human::located(&located) };
    output::print(text.as_bytes())?;
    Ok(Outcome::Done)
}

/// Says what changed between two files of readings.
pub(crate) fn compare(options: &Compare) -> Result<Outcome, Failure> {
    let Compare { file, before, after, reading_error, json } = options;
    input::only_one_is_stdin([("FILE", file), ("BEFORE", before), ("AFTER", after)])?;
    let error = error(reading_error)?;
    let (home, first, second) = (input::read(file)?, input::read(before)?, input::read(after)?);
    let mut finder = Finder::new();
    let (first, second) = (Source::new(before, &first)?, Source::new(after, &second)?);
    let compared = finder.compare(&Source::new(file, &home)?, &first, &second, error)?;
    let text = if *json { compared.json() + "\n" } else { human::compared(&compared) };
    output::print(text.as_bytes())?;
    Ok(Outcome::Done)
}

/// The error of a reading.
fn error(text: &str) -> Result<Db, Failure> {
    let refused = |says: String| Failure::Unusable(format!("--reading-error `{text}`: {says}"));
    let error = quantity::db(text).map_err(|bad| refused(bad.to_string()))?;
    if READING_ERROR.contains(&error) {
        Ok(error)
    } else {
        let [least, most] = [READING_ERROR.start().db(), READING_ERROR.end().db()];
        Err(refused(format!("it takes a ratio from {least} to {most} dB")))
    }
}
