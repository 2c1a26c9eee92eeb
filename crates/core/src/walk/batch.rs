//! A handful of frequencies worked out side by side.

use crate::Points;
use crate::curve::Between;
use crate::math::root;

/// How many frequencies go side by side: a few vectors of a host's, and few idle ones on a board.
pub(crate) const LANES: usize = 4;

/// One number for each frequency of a batch.
pub(crate) type Lanes = [f32; LANES];

/// The number in a lane.
#[inline(always)]
pub(crate) fn at(lanes: &Lanes, lane: usize) -> f32 {
    lanes.get(lane).copied().unwrap_or(0.0)
}

/// Up to [`LANES`] frequencies, rising.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Batch {
    mhz: Lanes,
    /// Their square roots, for cables.
    root: Lanes,
    /// How many count; the rest repeat the last.
    pub(crate) used: usize,
}

impl Batch {
    /// Without a frequency.
    pub(crate) const NEW: Self = Self { mhz: [0.0; LANES], root: [0.0; LANES], used: 0 };

    /// Adds a frequency; lost where the batch is full.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn push(&mut self, mhz: f32) {
        let root = root(mhz);
        // Whatever comes after it repeats it, until there is another.
        for (slot, root_slot) in self.mhz.iter_mut().zip(&mut self.root).skip(self.used) {
            (*slot, *root_slot) = (mhz, root);
        }
        self.used = LANES.min(self.used + 1);
    }

    /// The frequency in a lane, in MHz.
    pub(crate) fn mhz(&self, lane: usize) -> f32 {
        at(&self.mhz, lane)
    }

    /// Each frequency, with where it stands on a table's straight pieces.
    pub(crate) fn places(&self, between: Between) -> impl Iterator<Item = (f32, f32)> {
        let places = match between {
            Between::Linear => &self.mhz,
            Between::SquareRoot => &self.root,
        };
        self.mhz.iter().copied().zip(places.iter().copied())
    }

    /// A table's values at these frequencies.
    pub(crate) fn read(&self, points: &Points<'_>, between: Between) -> impl Iterator<Item = f32> {
        self.places(between).map(move |(mhz, place)| points.line_at(mhz, between).on(place))
    }
}
