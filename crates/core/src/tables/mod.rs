//! What is built in: specs and limits, each with its source and how far it is to be trusted.
//!
//! Every spec has a name for premises files and a lookup by it that ignores letter case.
//! Spreads are zero and no splitter or coupler passes DC: where a home has other parts, its
//! file says so with a spec of its own.
//!
//! ```
//! use legwork::{Frequency, tables};
//! let splitter = tables::splitter("4-Way").ok_or("no such splitter")?;
//! let loss = splitter.loss(0).ok_or("no such leg")?.at(Frequency::new(54.0)?);
//! assert_eq!(loss, 7.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod cables;
mod centre;
mod couplers;
mod limits;
mod others;
mod source;
mod splitters;

pub use cables::{CABLES, SERIES_6, SERIES_6_COPPER, SERIES_7, SERIES_11, SERIES_59, cable};
pub use couplers::{COUPLER_6, COUPLER_9, COUPLER_12, COUPLER_16, COUPLERS, coupler};
pub use limits::LIMITS;
pub use others::{
    BOND, BONDS, ENTRY_FILTER, FILTERS, INSERTER, INSERTERS, JOINT, JOINTS, bond, filter, inserter, joint,
};
pub use source::{Source, Trust, sources};
pub use splitters::{
    SPLITTER_2, SPLITTER_3, SPLITTER_3_UNEQUAL, SPLITTER_4, SPLITTER_6, SPLITTER_8, SPLITTERS, splitter,
};

use crate::{Band, Point};

/// Where the passives are vouched for: from the bottom of the return band to the top of class 1.
const PASSIVE_BAND: Option<Band> = Some(Band::constant(5.0, 1002.0));
/// Where [`PASSIVE_BAND`] comes from, for what the standard covers.
const CLASS_1: &str = "5 to 1002 MHz: class 1 of SCTE 153 (2021), by its scope in the publisher's catalogue";
/// The same for what it does not cover.
const LIKE_CLASS_1: &str = "5 to 1002 MHz, as the splitters of class 1 beside it";
/// Why splitters and couplers let no DC through.
const NO_DC: &str = "blocked: the safer assumption, practice varies";

/// One row of a table: MHz and dB.
const fn at(mhz: f32, db: f32) -> Point {
    Point::constant(mhz, db)
}

/// The entry of that name, letter case ignored.
fn named<T>(table: &[(&str, &'static T)], name: &str) -> Option<&'static T> {
    table.iter().find(|(known, _)| known.eq_ignore_ascii_case(name)).map(|(_, spec)| *spec)
}

#[cfg(test)]
#[allow(clippy::panic, reason = "a test may panic")]
mod tests {
    use super::*;

    /// Every name is found in both letter cases, and leads to a spec of its own.
    fn found<T>(names: &[&str], lookup: fn(&str) -> Option<&'static T>) -> usize {
        let shouted = |name: &str| -> heapless::String<32> { name.chars().map(|c| c.to_ascii_uppercase()).collect() };
        for (index, name) in names.iter().enumerate() {
            let spec = lookup(name).unwrap_or_else(|| panic!("{name} is listed but not found"));
            assert!(lookup(&shouted(name)).is_some_and(|other| core::ptr::eq(other, spec)), "{name}");
            for other in names.iter().skip(index + 1) {
                assert!(!lookup(other).is_some_and(|other| core::ptr::eq(other, spec)), "{name} and {other}");
            }
        }
        assert!(lookup("").is_none() && lookup("no such part").is_none());
        names.len()
    }

    #[test]
    fn every_listed_name_is_found_in_any_letter_case() {
        let count = found(CABLES, cable)
            + found(SPLITTERS, splitter)
            + found(COUPLERS, coupler)
            + found(INSERTERS, inserter)
            + found(FILTERS, filter)
            + found(JOINTS, joint)
            + found(BONDS, bond);
        assert_eq!(count, 19);
    }
}
