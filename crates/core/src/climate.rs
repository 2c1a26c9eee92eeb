//! How warm it gets where a part lies, and the three cases worked out for each figure.

use crate::{Error, Temperature};

/// Where a part lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Place {
    /// In a heated room.
    #[default]
    Indoor,
    /// In the open.
    Outdoor,
    /// Under the roof.
    Attic,
}

/// One of the three ways in which every figure is worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Case {
    /// At 20 C, every spread zero.
    Nominal,
    /// Every part at its most loss: spread, hottest, least gain.
    Most,
    /// Every part at its least loss: spread, coldest, most gain.
    Least,
}

impl Case {
    /// All three, in the order of their index.
    pub const ALL: [Self; 3] = [Self::Nominal, Self::Most, Self::Least];

    /// Which way the spreads go: 0, +1 towards more loss, -1 towards less.
    pub(crate) const fn sign(self) -> f32 {
        match self {
            Self::Nominal => 0.0,
            Self::Most => 1.0,
            Self::Least => -1.0,
        }
    }
}

/// The range of temperatures at each place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Climate {
    indoor: (Temperature, Temperature),
    outdoor: (Temperature, Temperature),
    attic: (Temperature, Temperature),
}

impl Default for Climate {
    fn default() -> Self {
        Self::REFERENCE
    }
}

impl Climate {
    /// 20 C everywhere, always.
    pub const REFERENCE: Self = {
        let still = (Temperature::REFERENCE, Temperature::REFERENCE);
        Self { indoor: still, outdoor: still, attic: still }
    };

    /// With another range, coldest and hottest, at a place.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] where the coldest is above the hottest.
    pub const fn with(mut self, place: Place, coldest: Temperature, hottest: Temperature) -> Result<Self, Error> {
        if coldest.celsius() > hottest.celsius() {
            return Err(Error::OutOfRange { what: "climate: coldest above hottest" });
        }
        match place {
            Place::Indoor => self.indoor = (coldest, hottest),
            Place::Outdoor => self.outdoor = (coldest, hottest),
            Place::Attic => self.attic = (coldest, hottest),
        }
        Ok(self)
    }

    /// The temperature at a place in a case: cables lose most when hottest.
    pub const fn temperature(&self, place: Place, case: Case) -> Temperature {
        let (coldest, hottest) = match place {
            Place::Indoor => self.indoor,
            Place::Outdoor => self.outdoor,
            Place::Attic => self.attic,
        };
        match case {
            Case::Nominal => Temperature::REFERENCE,
            Case::Most => hottest,
            Case::Least => coldest,
        }
    }
}

/// A figure that is held against limits: nominal, and the least and greatest of the three cases.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Figure {
    /// At 20 C, every spread zero.
    pub nominal: f32,
    /// The least of the three cases.
    pub low: f32,
    /// The greatest of the three cases.
    pub high: f32,
}

impl Figure {
    /// From the three cases, nominal first.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn of(&[nominal, a, b]: &[f32; 3]) -> Self {
        use crate::math::{max, min};
        Self { nominal, low: min(nominal, min(a, b)), high: max(nominal, max(a, b)) }
    }

    /// A figure without extremes.
    pub(crate) const fn alone(nominal: f32) -> Self {
        Self { nominal, low: nominal, high: nominal }
    }
}
