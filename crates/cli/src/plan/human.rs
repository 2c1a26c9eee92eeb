//! A plan for people: what to take, how to wire it, how to power it, how much is left.

use std::io::Write as _;

use legwork_file::plan::Planned;

use super::search::money;
use crate::Failure;

/// Writes it.
pub(super) fn write(out: &mut Vec<u8>, planned: &Planned) -> Result<(), Failure> {
    writeln!(out, "feasible: {}", planned.feasible)?;
    for take in &planned.parts {
        writeln!(out, "{} x {} {} at {}", take.count, take.kind, take.item, money(take.cost))?;
    }
    writeln!(out, "{}", planned.premises)?;
    Ok(())
}
