//! One step of `legwork along`, as it is typed: `KIND=WHAT`.

use legwork::Curve;
use legwork::Temperature;
use legwork::quick::{Run, Step};
use legwork::tables::{self, BONDS, COUPLERS, FILTERS, INSERTERS, JOINTS, SPLITTERS};
use legwork_file::quantity;

use super::{ask, cable};
use crate::Failure;

/// The kinds of step, for a message about another one.
const KINDS: [&str; 10] =
    ["cable", "splitter", "coupler", "pad", "gain", "loss", "filter", "inserter", "joint", "bond"];
/// What a step looks like.
const TAKES: &str = "it takes a step such as cable=series-6:60ft, splitter=4-way, coupler=9-dB.tap, pad=3dB, gain=12dB \
                     or loss=1dB";

/// Reads a step.
pub(super) fn read(text: &str, temperature: Temperature) -> Result<Step<'static>, Failure> {
    let Some((kind, what)) = text.split_once('=') else {
        return Err(refused(text, TAKES));
    };
    let (kind, what) = (kind.trim().to_ascii_lowercase(), what.trim());
    match kind.as_str() {
        "cable" => run(text, what, temperature),
        "splitter" => splitter(text, what),
        "coupler" => coupler(text, what),
        "pad" | "loss" => quantity::loss(what).map(Step::Loss).map_err(|bad| refused(text, bad)),
        "gain" => quantity::db(what).map(Step::Gain).map_err(|bad| refused(text, bad)),
        "filter" => table(text, what, "filter", FILTERS, |name| tables::filter(name).map(|spec| &spec.loss)),
        "inserter" => table(text, what, "inserter", INSERTERS, |name| tables::inserter(name).map(|spec| &spec.loss)),
        "joint" => table(text, what, "joint", JOINTS, |name| tables::joint(name).map(|spec| &spec.loss)),
        "bond" => table(text, what, "bond", BONDS, |name| tables::bond(name).map(|spec| &spec.loss)),
        _ => Err(refused(text, format!("{}; {TAKES}", ask::unknown("step", &kind, &KINDS)))),
    }
}

fn refused(text: &str, says: impl std::fmt::Display) -> Failure {
    ask::refused("STEP", text, says)
}

/// `SPEC:LENGTH`.
fn run(text: &str, what: &str, temperature: Temperature) -> Result<Step<'static>, Failure> {
    let Some((name, length)) = what.split_once(':') else {
        return Err(refused(text, "the length is missing; it takes cable=SPEC:LENGTH, as in cable=series-6:60ft"));
    };
    let cable = cable::spec("STEP", text, name)?;
    let (length, _) = quantity::length(length).map_err(|bad| refused(text, bad))?;
    Ok(Step::Cable(Run { cable, length, temperature }))
}

/// `SPEC` for the first leg, `SPEC.LEG` for another.
fn splitter(text: &str, what: &str) -> Result<Step<'static>, Failure> {
    let (name, leg) = what.rsplit_once('.').unwrap_or((what, "1"));
    let name = name.trim();
    let Some(spec) = tables::splitter(name) else {
        return Err(refused(text, ask::unknown("splitter", name, SPLITTERS)));
    };
    match leg.trim().parse::<u8>() {
        Ok(leg) if (1..=spec.count()).contains(&leg) => Ok(Step::Splitter(spec, leg - 1)),
        _ => Err(refused(text, format!("there is no leg {leg}; {name} takes legs 1 to {}", spec.count()))),
    }
}

/// `SPEC.tap` or `SPEC.through`.
fn coupler(text: &str, what: &str) -> Result<Step<'static>, Failure> {
    let (name, way) = what.rsplit_once('.').unwrap_or((what, ""));
    let name = name.trim();
    let Some(spec) = tables::coupler(name) else {
        return Err(refused(text, ask::unknown("coupler", name, COUPLERS)));
    };
    match way.trim().to_ascii_lowercase().as_str() {
        "tap" => Ok(Step::Tap(spec)),
        "through" => Ok(Step::Through(spec)),
        _ => Err(refused(text, format!("say which way; it takes coupler={name}.tap or coupler={name}.through"))),
    }
}

/// `SPEC` of a part with one way out.
fn table(
    text: &str,
    name: &str,
    kind: &str,
    known: &[&str],
    find: impl Fn(&str) -> Option<&'static Curve<'static>>,
) -> Result<Step<'static>, Failure> {
    find(name).map(Step::Table).ok_or_else(|| refused(text, ask::unknown(kind, name, known)))
}
