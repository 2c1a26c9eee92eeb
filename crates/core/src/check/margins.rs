//! How near each figure comes to its limit, for whoever compares homes that are all good.

use super::finding::{At, Code};

/// The figure that comes nearest to its limit.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Margin {
    /// From the worse extreme to the limit, in dB; negative outside it. Infinite where nothing is held against a
    /// limit.
    pub db: f32,
    /// What would be found beyond that limit; [`None`] where there is no limit.
    pub code: Option<Code>,
    /// At which frequency, in MHz.
    pub mhz: Option<f32>,
}

impl Margin {
    /// How many places follow those of the outlets: for totals at amplifiers, for modems at amplifiers' outputs, and
    /// for what passes between two outlets.
    pub const FURTHER: usize = 3;

    /// Nothing is held against a limit.
    pub const NONE: Self = Self { db: f32::INFINITY, code: None, mhz: None };
}

impl Default for Margin {
    fn default() -> Self {
        Self::NONE
    }
}

/// Keeps the margins of one check: one for each outlet's own figures, then [`Margin::FURTHER`] more.
pub(crate) fn keep(margins: &mut [Margin], code: Code, at: At, mhz: Option<f32>, db: f32) {
    let Some(outlets) = margins.len().checked_sub(Margin::FURTHER) else { return };
    let slot = match (code, at) {
        (Code::FeedStarved | Code::FeedOverVoltage | Code::FeedOverCurrent, _) => return,
        (Code::NeighbourTransmit | Code::HomeLinkWeak, _) => outlets + 2,
        (Code::ReturnOverdriven, _) => outlets + 1,
        (_, At::Outlet(outlet)) => outlet.index(),
        _ => outlets,
    };
    if let Some(margin) = margins.get_mut(slot)
        && db < margin.db
    {
        *margin = Margin { db, code: Some(code), mhz };
    }
}
