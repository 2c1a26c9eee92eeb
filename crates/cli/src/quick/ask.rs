//! Reads what stands on the command line, and says which argument is wrong and what it takes.

use std::fmt::Display;

use legwork::{Frequency, Temperature};
use legwork_file::quantity::{self, Bad, Why};

use crate::Failure;

/// Reads one argument. `name` is what the person typed or sees in the help: `--loop`, `LEVEL`.
pub(super) fn read<T>(name: &str, text: &str, parse: impl FnOnce(&str) -> Result<T, Bad>) -> Result<T, Failure> {
    parse(text).map_err(|bad| refused(name, text, bad))
}

/// The refusal of one argument: its name, what was typed, and what is wrong with it.
pub(super) fn refused(name: &str, text: &str, says: impl Display) -> Failure {
    Failure::Unusable(format!("{name} `{text}`: {says}"))
}

/// Frequencies with commas between, in the order they were typed.
pub(super) fn frequencies(name: &str, lists: &[String]) -> Result<Vec<Frequency>, Failure> {
    lists.iter().flat_map(|list| list.split(',')).map(|text| read(name, text.trim(), quantity::frequency)).collect()
}

/// A temperature, 20 C where none was given.
pub(super) fn temperature(name: &str, text: Option<&str>) -> Result<Temperature, Failure> {
    text.map_or(Ok(Temperature::REFERENCE), |text| read(name, text, quantity::temperature))
}

/// A width in frequency: a bandwidth or a spacing, so a channel's name does not do.
pub(super) fn width(text: &str) -> Result<Frequency, Bad> {
    const TAKES: &str = "a width above zero: Hz, kHz, MHz or GHz";
    if text.trim_start().get(..2).is_some_and(|start| start.eq_ignore_ascii_case("ch")) {
        return Err(Bad { why: Why::WrongUnit, takes: TAKES });
    }
    quantity::frequency(text).map_err(|bad| Bad { takes: TAKES, ..bad })
}

/// A number of things: digits alone, one at least.
pub(super) fn count(name: &str, text: &str) -> Result<u16, Failure> {
    match text.trim().parse() {
        Ok(count) if count > 0 => Ok(count),
        _ => Err(refused(name, text, format_args!("it takes a whole number from 1 to {}", u16::MAX))),
    }
}

/// A fraction of the speed of light.
pub(super) fn velocity(name: &str, text: &str) -> Result<f32, Failure> {
    match text.trim().parse::<f32>() {
        Ok(fraction) if fraction > 0.0 && fraction <= 1.0 => Ok(fraction),
        _ => Err(refused(name, text, "it takes a fraction of the speed of light above 0 and up to 1, as in 0.85")),
    }
}

/// What to say of a name that is none of those known: all of them, and the nearest.
pub(super) fn unknown(kind: &str, name: &str, known: &[&str]) -> String {
    let near = legwork_file::nearest(name, known.iter().copied());
    let meant = near.map(|near| format!("did you mean {near}? ")).unwrap_or_default();
    format!("there is no {kind} of that name; {meant}it takes one of {}", known.join(", "))
}
