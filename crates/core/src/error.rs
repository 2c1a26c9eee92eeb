//! The one error type.

use core::fmt;

/// What can be wrong with a number, a table or a tree.
///
/// It holds numbers and static text alone, so it costs firmware nothing to carry and can be
/// shown with [`Display`](fmt::Display) where there is a display.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Error {
    /// A number is outside what the quantity can be, NaN included.
    OutOfRange {
        /// The quantity and its unit, as in `"length (m)"`.
        what: &'static str,
    },
    /// A table's frequencies do not rise, or it has too few points.
    BadTable {
        /// What is wrong with it.
        why: &'static str,
    },
    /// A fixed-capacity store is full. Nothing has changed.
    Full {
        /// What it holds, as in `"parts"`.
        what: &'static str,
        /// How many it can hold.
        capacity: usize,
    },
    /// The part, port, outlet or supply is not in this tree.
    NoSuch {
        /// Which of them.
        what: &'static str,
    },
    /// Something already hangs on that port.
    PortTaken,
    /// The port carries DC only; nothing that needs the signal can hang there.
    DcOnly,
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::OutOfRange { what } => write!(f, "{what} is out of range"),
            Self::BadTable { why } => write!(f, "the table {why}"),
            Self::Full { what, capacity } => write!(f, "no room for more {what} (capacity {capacity})"),
            Self::NoSuch { what } => write!(f, "there is no such {what}"),
            Self::PortTaken => f.write_str("something already hangs on that port"),
            Self::DcOnly => f.write_str("that port carries DC only"),
        }
    }
}

impl core::error::Error for Error {}

#[cfg(test)]
mod tests {
    use super::Error;

    #[test]
    fn an_error_stays_small() {
        assert!(size_of::<Error>() <= 32);
    }
}
