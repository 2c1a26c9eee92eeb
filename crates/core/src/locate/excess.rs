//! More loss than there should be, over frequency.

use crate::math::{max, min, root};
use crate::{Db, Frequency};

/// What a faulty part loses beyond its spec: `flat + rising·sqrt(f / 1 GHz) + falling·(10 MHz / f)` dB, none of the
/// three below zero.
///
/// ```
/// use legwork::{ExtraLoss, Frequency};
/// let wet = ExtraLoss { flat: 1.0, rising: 4.0, falling: 0.0 };
/// assert_eq!(wet.at(Frequency::constant(250.0)).db(), 3.0);
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct ExtraLoss {
    /// The same at every frequency, in dB.
    pub flat: f32,
    /// What rises with the square root of frequency, in dB at 1 GHz.
    pub rising: f32,
    /// What falls with frequency, in dB at 10 MHz.
    pub falling: f32,
}

/// How an extra loss runs over a band: each has its usual causes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Shape {
    /// There is none.
    None,
    /// The band is one frequency: its shape can't be seen.
    Unknown,
    /// Much the same everywhere: a bad connector, an extra splitter, the wrong port.
    Flat,
    /// Most at the high end: wet, kinked or too thin a cable.
    Rising,
    /// Most at the low end: an open or corroded centre contact.
    Falling,
    /// Most at both ends.
    Both,
}

/// An end with this much less than the other, of the greatest in the band, makes a slope.
const SLOPE: f32 = 0.25;

impl ExtraLoss {
    /// No extra loss.
    pub const NONE: Self = Self { flat: 0.0, rising: 0.0, falling: 0.0 };

    /// How much it is at a frequency.
    pub fn at(&self, frequency: Frequency) -> Db {
        Db::unchecked(along(&self.members(), shapes(frequency)))
    }

    /// How much it is about everywhere where it is [`Shape::Flat`]: halfway between what it is at both ends.
    ///
    /// ```
    /// use legwork::{ExtraLoss, Frequency};
    /// let aged = ExtraLoss { flat: 4.0, rising: 1.0, falling: 0.0 };
    /// assert_eq!(aged.mean(Frequency::constant(90.0), Frequency::constant(490.0)).db(), 4.5);
    /// ```
    pub fn mean(&self, low: Frequency, high: Frequency) -> Db {
        Db::unchecked(0.5 * (self.at(low).db() + self.at(high).db()))
    }

    /// How it runs from one frequency to another, the lower one first. A loss is called sloped where one end has
    /// less than three quarters of the other: the trade's eye, no published figure.
    ///
    /// ```
    /// use legwork::{ExtraLoss, Frequency, Shape};
    /// let (low, high) = (Frequency::constant(57.0), Frequency::constant(861.0));
    /// assert_eq!(ExtraLoss { flat: 4.0, ..ExtraLoss::NONE }.shape(low, high), Shape::Flat);
    /// assert_eq!(ExtraLoss { rising: 4.0, ..ExtraLoss::NONE }.shape(low, high), Shape::Rising);
    /// assert_eq!(ExtraLoss { falling: 4.0, ..ExtraLoss::NONE }.shape(low, high), Shape::Falling);
    /// // Least where the one has fallen and the other has not yet risen.
    /// assert_eq!(ExtraLoss { rising: 4.0, falling: 20.0, ..ExtraLoss::NONE }.shape(low, high), Shape::Both);
    /// assert_eq!(ExtraLoss { rising: 4.0, ..ExtraLoss::NONE }.shape(low, low), Shape::Unknown);
    /// assert_eq!(ExtraLoss::NONE.shape(low, high), Shape::None);
    /// ```
    #[must_use]
    pub fn shape(&self, low: Frequency, high: Frequency) -> Shape {
        let ends = (self.at(low).db(), self.at(high).db());
        let most = max(ends.0, ends.1);
        // Where a rising and a falling part meet, the least of the band lies between its ends.
        let between = root(low.mhz()) * root(high.mhz());
        let least = min(min(ends.0, ends.1), along(&self.members(), shapes(Frequency::unchecked(between))));
        let sloped = |end: f32| end < (1.0 - SLOPE) * most;
        match (sloped(ends.0), sloped(ends.1)) {
            _ if most <= 0.0 => Shape::None,
            _ if low >= high => Shape::Unknown,
            (true, _) => Shape::Rising,
            (_, true) => Shape::Falling,
            _ if sloped(least) => Shape::Both,
            _ => Shape::Flat,
        }
    }

    /// The three members, in the order of [`shapes`].
    pub(super) const fn members(&self) -> [f32; 3] {
        [self.flat, self.rising, self.falling]
    }

    pub(super) const fn of([flat, rising, falling]: [f32; 3]) -> Self {
        Self { flat, rising, falling }
    }
}

/// What each member counts at a frequency: 1, sqrt(f / 1 GHz), 10 MHz / f.
pub(super) fn shapes(frequency: Frequency) -> [f32; 3] {
    [1.0, root(frequency.mhz() * 1e-3), 10.0 / frequency.mhz()]
}

/// So much of each shape.
pub(super) fn along([a, b, c]: &[f32; 3], [flat, rising, falling]: [f32; 3]) -> f32 {
    a * flat + b * rising + c * falling
}
