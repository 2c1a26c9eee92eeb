//! How near each figure comes to its limit, for whoever compares homes that are all good.

use super::finding::{At, Code};
use super::judge::About;
use crate::OutletId;

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

/// What a margin is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Near {
    /// The figures of one outlet.
    Outlet(OutletId),
    /// Total power at the inputs and outputs of amplifiers.
    Amplifiers,
    /// Modems, as they arrive at the outputs of amplifiers.
    Modems,
    /// What passes between two outlets.
    Between,
}

impl Near {
    /// What a margin is of, by its place: outlets first, then [`Margin::FURTHER`] more.
    pub(crate) const fn of(place: usize, outlets: usize) -> Self {
        match place.checked_sub(outlets) {
            None => Self::Outlet(OutletId(place as u16)),
            Some(0) => Self::Amplifiers,
            Some(1) => Self::Modems,
            Some(_) => Self::Between,
        }
    }
}

/// Where the margins of one check are kept.
pub(crate) struct Keeper<'w> {
    /// One for each outlet's own figures, then [`Margin::FURTHER`] more.
    pub(crate) margins: &'w mut [Margin],
    /// For each outlet, and each that it is heard by or linked to, what is left to the limit of what it hears and of
    /// the loss between them, in dB; or none at all.
    pub(crate) pairs: &'w mut [Pair],
}

/// What is left between two outlets: to the limit of what the first hears of the second, and to that of their link.
pub(crate) type Pair = [f32; 2];

impl Keeper<'_> {
    /// Nothing is near yet.
    pub(crate) fn clear(&mut self) {
        self.margins.fill(Margin::NONE);
        self.pairs.fill([f32::INFINITY, f32::INFINITY]);
    }

    /// Keeps a margin.
    pub(super) fn keep(&mut self, code: Code, about: &About, db: f32) {
        let Some(outlets) = self.margins.len().checked_sub(Margin::FURTHER) else { return };
        let slot = match (code, about.at) {
            (Code::FeedStarved | Code::FeedOverVoltage | Code::FeedOverCurrent, _) => return,
            (Code::NeighbourTransmit | Code::HomeLinkWeak, _) => outlets + 2,
            (Code::ReturnOverdriven, _) => outlets + 1,
            (_, At::Outlet(outlet)) => outlet.index(),
            _ => outlets,
        };
        if slot == outlets + 2
            && let (At::Outlet(at), Some(At::Outlet(other))) = (about.at, about.other)
            && let Some([heard, linked]) = self.pairs.get_mut(at.index() * outlets + other.index())
        {
            let left = if matches!(code, Code::HomeLinkWeak) { linked } else { heard };
            *left = crate::math::min(*left, db);
        }
        if let Some(margin) = self.margins.get_mut(slot)
            && db < margin.db
        {
            *margin = Margin { db, code: Some(code), mhz: about.mhz };
        }
    }
}
