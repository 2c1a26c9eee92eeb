//! The inserter, the entry filter, the joint and the bond.
//!
//! Losses in dB, DC resistances in ohms: what the trade reckons with, no one maker's figures.

use super::source::{Source, Trust};
use super::{CLASS_1, LIKE_CLASS_1, PASSIVE_BAND, at, named};
use crate::{Band, Bond, Curve, Db, Filter, Inserter, Joint, Ohms, Point};

/// Names of the built-in inserters in a premises file.
pub const INSERTERS: &[&str] = &["inserter"];
/// Names of the built-in filters in a premises file.
pub const FILTERS: &[&str] = &["entry-filter"];
/// Names of the built-in joints in a premises file.
pub const JOINTS: &[&str] = &["joint"];
/// Names of the built-in bonds in a premises file.
pub const BONDS: &[&str] = &["bond"];

/// The built-in inserter of that name, letter case ignored.
#[must_use]
pub fn inserter(name: &str) -> Option<&'static Inserter<'static>> {
    named(&[("inserter", &INSERTER)], name)
}

/// The built-in filter of that name, letter case ignored.
///
/// ```
/// use legwork::tables;
/// let filter = tables::filter("entry-filter").ok_or("no such filter")?;
/// assert!(filter.reflects.is_some() && filter.dc.is_none());
/// # Ok::<(), &str>(())
/// ```
#[must_use]
pub fn filter(name: &str) -> Option<&'static Filter<'static>> {
    named(&[("entry-filter", &ENTRY_FILTER)], name)
}

/// The built-in joint of that name, letter case ignored.
#[must_use]
pub fn joint(name: &str) -> Option<&'static Joint<'static>> {
    named(&[("joint", &JOINT)], name)
}

/// The built-in bond of that name, letter case ignored.
#[must_use]
pub fn bond(name: &str) -> Option<&'static Bond<'static>> {
    named(&[("bond", &BOND)], name)
}

/// A DC power inserter.
pub static INSERTER: Inserter<'static> =
    Inserter { loss: Curve::table(&INSERTER_LOSS), spread: Db::ZERO, dc_ohms: Ohms::constant(0.1), band: PASSIVE_BAND };

/// The filter at the entry that keeps a home network in: it sends 1125 to 1675 MHz back and
/// blocks DC.
pub static ENTRY_FILTER: Filter<'static> = Filter {
    loss: Curve::table(&ENTRY_FILTER_LOSS),
    spread: Db::ZERO,
    reflects: Some(Band::constant(1125.0, 1675.0)),
    dc: None,
    band: PASSIVE_BAND,
};

/// A connector pair or a barrel.
pub static JOINT: Joint<'static> =
    Joint { loss: Curve::table(&JOINT_LOSS), spread: Db::ZERO, dc_ohms: Ohms::constant(0.02), band: PASSIVE_BAND };

/// A grounding block: a barrel with a clamp for the bonding conductor.
pub static BOND: Bond<'static> =
    Bond { loss: Curve::table(&BOND_LOSS), spread: Db::ZERO, dc_ohms: Ohms::constant(0.02), band: PASSIVE_BAND };

static INSERTER_LOSS: [Point; 5] = [at(5.0, 0.6), at(54.0, 0.4), at(550.0, 0.5), at(1002.0, 0.6), at(1675.0, 1.0)];

static ENTRY_FILTER_LOSS: [Point; 6] =
    [at(5.0, 0.3), at(54.0, 0.3), at(860.0, 0.5), at(1002.0, 1.0), at(1125.0, 40.0), at(1675.0, 40.0)];

static JOINT_LOSS: [Point; 3] = [at(5.0, 0.05), at(1002.0, 0.1), at(1675.0, 0.15)];

static BOND_LOSS: [Point; 3] = [at(5.0, 0.1), at(1002.0, 0.15), at(1675.0, 0.25)];

const TRADE: &str = "round figures of the trade";
const CONTACTS: &str = "estimate for the contacts of one pair, there and back";
const NETWORK_BAND: &str = "the band of present home networks over coax, 1125 to 1675 MHz, specification not re-read";

/// Where the tables come from.
pub(super) static SOURCES: [Source; 13] = [
    Source::new("inserter", "inserter", "loss", TRADE, Trust::Practice),
    Source::new("inserter", "inserter", "DC resistance", "estimate for its choke", Trust::Practice),
    Source::new("inserter", "inserter", "band", CLASS_1, Trust::Seen),
    Source::new("filter", "entry-filter", "loss", TRADE, Trust::Practice),
    Source::new("filter", "entry-filter", "reflected band", NETWORK_BAND, Trust::Memory),
    Source::new("filter", "entry-filter", "DC", "blocked: the safer assumption, some pass it", Trust::Practice),
    Source::new("filter", "entry-filter", "band", LIKE_CLASS_1, Trust::Practice),
    Source::new("joint", "joint", "loss", TRADE, Trust::Practice),
    Source::new("joint", "joint", "DC resistance", CONTACTS, Trust::Practice),
    Source::new("joint", "joint", "band", LIKE_CLASS_1, Trust::Practice),
    Source::new("bond", "bond", "loss", TRADE, Trust::Practice),
    Source::new("bond", "bond", "DC resistance", CONTACTS, Trust::Practice),
    Source::new("bond", "bond", "band", LIKE_CLASS_1, Trust::Practice),
];

#[cfg(test)]
#[allow(clippy::expect_used, reason = "a test may panic")]
mod tests {
    use super::*;
    use crate::Frequency;

    const IN_BAND: [f32; 7] = [5.0, 42.0, 54.0, 204.0, 550.0, 860.0, 1002.0];

    #[test]
    fn each_loses_little_in_band() {
        for mhz in IN_BAND {
            let at = Frequency::constant(mhz);
            for (loss, most) in
                [(&INSERTER.loss, 0.7), (&ENTRY_FILTER.loss, 1.0), (&JOINT.loss, 0.11), (&BOND.loss, 0.16)]
            {
                let loss = loss.at(at);
                assert!(loss > 0.0 && loss <= most, "{mhz} MHz: {loss}");
            }
        }
    }

    #[test]
    fn the_entry_filter_keeps_the_home_network_in() {
        let reflects = ENTRY_FILTER.reflects.expect("it reflects");
        assert_eq!((reflects.low.mhz(), reflects.high.mhz()), (1125.0, 1675.0));
        for mhz in [1125.0, 1150.0, 1400.0, 1500.0, 1675.0] {
            assert!(ENTRY_FILTER.loss.at(Frequency::constant(mhz)) >= 40.0, "{mhz} MHz");
        }
        assert_eq!(ENTRY_FILTER.dc, None);
    }

    #[test]
    fn what_passes_dc_resists_it_a_little() {
        for ohms in [INSERTER.dc_ohms, JOINT.dc_ohms, BOND.dc_ohms] {
            assert!(ohms.ohms() > 0.0 && ohms.ohms() < 0.5);
        }
    }
}
