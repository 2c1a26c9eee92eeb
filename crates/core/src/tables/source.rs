//! Where a built-in number comes from, and how far it may be trusted.

/// How far a built-in number may be trusted, best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Trust {
    /// Read in a published text that the row names.
    Seen,
    /// Worked out by a formula from numbers that the row names.
    Derived,
    /// Recalled from a standard, whose text was not at hand to be read again.
    Memory,
    /// What the trade reckons with; no single published source.
    Practice,
}

impl Trust {
    /// Every word, best first.
    pub const ALL: [Self; 4] = [Self::Seen, Self::Derived, Self::Memory, Self::Practice];

    /// The word that reports print.
    ///
    /// ```
    /// use legwork::tables::Trust;
    /// assert_eq!(Trust::Memory.word(), "from memory of a standard");
    /// ```
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Seen => "seen",
            Self::Derived => "derived",
            Self::Memory => "from memory of a standard",
            Self::Practice => "common practice",
        }
    }
}

/// The origin of one built-in quantity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Source {
    /// What kind of thing it is about: `cable`, `splitter`, ..., or `limit`.
    pub kind: &'static str,
    /// The spec's name in a premises file, or the device a limit is for.
    pub name: &'static str,
    /// The quantity, such as `loss`.
    pub what: &'static str,
    /// Where the numbers come from.
    pub source: &'static str,
    /// How far they may be trusted.
    pub trust: Trust,
}

impl Source {
    /// One row.
    pub(super) const fn new(
        kind: &'static str,
        name: &'static str,
        what: &'static str,
        source: &'static str,
        trust: Trust,
    ) -> Self {
        Self { kind, name, what, source, trust }
    }
}

/// Where every built-in number comes from: specs by kind, then limits, in a fixed order.
///
/// ```
/// use legwork::tables::{self, Trust};
/// let loss = tables::sources().find(|row| row.name == "2-way" && row.what == "loss");
/// assert_eq!(loss.map(|row| row.trust), Some(Trust::Practice));
/// ```
pub fn sources() -> impl Iterator<Item = &'static Source> + Clone {
    super::cables::SOURCES
        .iter()
        .chain(&super::splitters::SOURCES)
        .chain(&super::couplers::SOURCES)
        .chain(&super::others::SOURCES)
        .chain(&super::limits::SOURCES)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tables::{BONDS, CABLES, COUPLERS, FILTERS, INSERTERS, JOINTS, SPLITTERS};
    use crate::{Device, Limits};

    fn has(kind: &str, name: &str, what: &str) -> bool {
        sources().any(|row| row.kind == kind && row.name == name && row.what.starts_with(what))
    }

    #[test]
    fn every_table_states_where_it_comes_from() {
        for name in CABLES {
            for what in ["loss", "loop resistance", "velocity"] {
                assert!(has("cable", name, what), "{name}: {what}");
            }
        }
        for (kind, names) in [("splitter", SPLITTERS), ("coupler", COUPLERS)] {
            for name in names {
                assert!(["loss", "isolation", "DC", "band"].iter().all(|what| has(kind, name, what)), "{name}");
            }
        }
        for (kind, names) in [("inserter", INSERTERS), ("filter", FILTERS), ("joint", JOINTS), ("bond", BONDS)] {
            for name in names {
                assert!(["loss", "DC", "band"].iter().all(|what| has(kind, name, what)), "{name}");
            }
        }
    }

    #[test]
    fn every_limit_states_where_it_comes_from_and_was_seen() {
        let none = Limits::NONE;
        for (device, limits) in Device::WITH_LIMITS.iter().zip(&crate::tables::LIMITS) {
            for (what, set) in [
                ("forward", limits.forward != none.forward),
                ("total", limits.total != none.total),
                ("tilt", limits.tilt != none.tilt),
                ("cnr", limits.cnr != none.cnr),
                ("transmit", limits.transmit != none.transmit),
                ("window", limits.window != none.window),
                ("neighbour", limits.neighbour != none.neighbour),
            ] {
                assert_eq!(has("limit", device.name(), what), set, "{} {what}", device.name());
            }
        }
        assert!(sources().filter(|row| row.kind == "limit").all(|row| row.trust == Trust::Seen));
    }

    #[test]
    fn no_row_is_empty_or_stands_twice() {
        let mut rows = 0;
        for (index, row) in sources().enumerate() {
            rows += 1;
            assert!([row.kind, row.name, row.what, row.source].iter().all(|text| !text.is_empty()), "{row:?}");
            let twin = |other: &&Source| (other.kind, other.name, other.what) == (row.kind, row.name, row.what);
            assert_eq!(sources().position(|other| twin(&other)), Some(index), "{row:?}");
        }
        assert_eq!(rows, 98);
    }

    #[test]
    fn trust_words_differ_and_run_from_best_to_worst() {
        assert!(Trust::ALL.is_sorted_by(|better, worse| better < worse));
        for trust in Trust::ALL {
            assert_eq!(Trust::ALL.iter().filter(|other| other.word() == trust.word()).count(), 1);
        }
    }
}
