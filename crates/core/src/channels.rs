//! Carriers and bands: what is loaded on the coax.

use crate::{Db, Error, Frequency};

/// A band from one frequency up to another.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Band {
    /// Its lower edge.
    pub low: Frequency,
    /// Its upper edge.
    pub high: Frequency,
}

impl Band {
    /// A band from checked edges.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] where the lower edge is not below the upper.
    pub const fn new(low: Frequency, high: Frequency) -> Result<Self, Error> {
        if low.mhz() < high.mhz() { Ok(Self { low, high }) } else { Err(Error::OutOfRange { what: "band" }) }
    }

    /// A band of a built-in spec, in MHz.
    ///
    /// # Panics
    /// As [`new`](Self::new) errs; in a `const` that is a compile error.
    #[must_use]
    pub const fn constant(low: f32, high: f32) -> Self {
        assert!(low < high, "a band's edges must rise");
        Self { low: Frequency::constant(low), high: Frequency::constant(high) }
    }

    /// Whether a frequency in MHz lies in it, edges included.
    pub(crate) fn holds(&self, mhz: f32) -> bool {
        mhz >= self.low.mhz() && mhz <= self.high.mhz()
    }

    /// Whether all of the other band lies in it.
    pub(crate) fn encloses(&self, other: &Self) -> bool {
        self.low.mhz() <= other.low.mhz() && self.high.mhz() >= other.high.mhz()
    }
}

/// Where the return band ends and the forward band starts, as in "42/54 MHz".
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Split {
    /// The top of the return band.
    pub return_top: Frequency,
    /// The bottom of the forward band.
    pub forward_bottom: Frequency,
}

/// A row of carriers alike: centres from `first` on, a `step` apart, up to `last`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    first: f32,
    last: f32,
    step: f32,
    count: u16,
    offset: f32,
}

impl Block {
    /// The most carriers in one block.
    pub const MAX_CARRIERS: u16 = 4096;

    /// Carriers at `first`, `first + step`, ... up to `last`; `offset` is their level against the
    /// entry's readings. A last centre short of a whole step does not count.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] where `last` is below `first`; [`Error::Full`] above
    /// [`MAX_CARRIERS`](Self::MAX_CARRIERS).
    pub const fn new(first: Frequency, last: Frequency, step: Frequency, offset: Db) -> Result<Self, Error> {
        let (first, last, step) = (first.mhz(), last.mhz(), step.mhz());
        if last < first {
            return Err(Error::OutOfRange { what: "carriers: last below first" });
        }
        // A millionth of a step and f32's own rounding of the two ends are forgiven.
        let steps = (last - first) / step + 1e-6 + (last / step) * 2e-7;
        if steps >= Self::MAX_CARRIERS as f32 {
            return Err(Error::Full { what: "carriers", capacity: Self::MAX_CARRIERS as usize });
        }
        let count = steps as u16 + 1;
        let reached = first + step * (count - 1) as f32;
        // Where the steps end on the last centre, they end on it to the bit, as a reading there does.
        let near = (reached - last).abs() <= step * 1e-3;
        Ok(Self { first, last: if near { last } else { reached }, step, count, offset: offset.db() })
    }

    /// How many carriers.
    #[must_use]
    pub const fn count(&self) -> u16 {
        self.count
    }

    /// The centre of a carrier, in MHz; the first is number 0.
    #[must_use]
    pub fn centre(&self, number: u16) -> f32 {
        self.first + self.step * f32::from(number)
    }

    /// The first centre, in MHz.
    #[must_use]
    pub const fn first(&self) -> f32 {
        self.first
    }

    /// The last centre, in MHz.
    #[must_use]
    pub const fn last(&self) -> f32 {
        self.last
    }

    /// From one centre to the next, in MHz.
    #[must_use]
    pub const fn step(&self) -> f32 {
        self.step
    }

    /// The level against the entry's readings, in dB.
    #[must_use]
    pub const fn offset(&self) -> f32 {
        self.offset
    }
}

/// What the operator's network offers at the entry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Service<'s> {
    /// Top of the return band, bottom of the forward band.
    pub split: Split,
    blocks: &'s [Block],
    noise_bandwidth: f32,
    return_channels: u16,
}

impl<'s> Service<'s> {
    /// A service of these carrier blocks, with one return channel and the noise bandwidth that
    /// the first block's step implies: 5.360537 MHz for 6 MHz and 6.952 MHz for 8 MHz (the symbol
    /// rates of 256-QAM in ITU-T J.83 annexes B and A), else the step.
    ///
    /// # Errors
    /// [`Error::BadTable`] where there is no block, or blocks do not rise or overlap.
    pub const fn new(split: Split, blocks: &'s [Block]) -> Result<Self, Error> {
        let Some((first, mut rest)) = blocks.split_first() else {
            return Err(Error::BadTable { why: "has no carrier" });
        };
        let mut below = first;
        while let Some((block, above)) = rest.split_first() {
            if block.first <= below.last {
                return Err(Error::BadTable { why: "of carriers does not rise or overlaps" });
            }
            (below, rest) = (block, above);
        }
        let noise_bandwidth = match first.step {
            6.0 => 5.360_537,
            8.0 => 6.952,
            step => step,
        };
        Ok(Self { split, blocks, noise_bandwidth, return_channels: 1 })
    }

    /// With a noise bandwidth of its own.
    #[must_use]
    pub const fn noise_bandwidth(mut self, bandwidth: Frequency) -> Self {
        self.noise_bandwidth = bandwidth.mhz();
        self
    }

    /// With this many channels that a modem sends at once.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for none.
    pub const fn return_channels(mut self, channels: u16) -> Result<Self, Error> {
        if channels == 0 {
            return Err(Error::OutOfRange { what: "return channels" });
        }
        self.return_channels = channels;
        Ok(self)
    }

    /// The carrier blocks, rising.
    #[must_use]
    pub const fn blocks(&self) -> &'s [Block] {
        self.blocks
    }

    /// The noise bandwidth in MHz.
    #[must_use]
    pub const fn bandwidth(&self) -> f32 {
        self.noise_bandwidth
    }

    /// How many channels a modem sends at once.
    #[must_use]
    pub const fn channels_sent(&self) -> u16 {
        self.return_channels
    }

    /// The first carrier's centre, in MHz.
    #[must_use]
    pub fn first_carrier(&self) -> f32 {
        self.blocks.first().map_or(0.0, Block::first)
    }

    /// The last carrier's centre, in MHz.
    #[must_use]
    pub fn last_carrier(&self) -> f32 {
        self.blocks.last().map_or(0.0, Block::last)
    }
}
