//! A handful of frequencies worked out side by side.

use crate::Points;
use crate::curve::{Between, Line};
use crate::math::root;

/// How many frequencies go side by side: one vector of a host's, and few idle ones on a board.
pub(crate) const LANES: usize = 4;

/// One number for each frequency of a batch.
pub(crate) type Lanes = [f32; LANES];

/// The number in a lane.
#[inline(always)]
pub(crate) fn at(lanes: &Lanes, lane: usize) -> f32 {
    lanes.get(lane).copied().unwrap_or(0.0)
}

/// Lane by lane; written out, as a loop of four costs a board more than its body.
#[inline(always)]
pub(crate) fn each(a: &Lanes, b: &Lanes, of: impl Fn(f32, f32) -> f32) -> Lanes {
    let ([a0, a1, a2, a3], [b0, b1, b2, b3]) = (a, b);
    [of(*a0, *b0), of(*a1, *b1), of(*a2, *b2), of(*a3, *b3)]
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
    pub(crate) fn push(&mut self, mhz: f32) {
        // Whatever comes after it repeats it, until there is another.
        for slot in self.mhz.iter_mut().skip(self.used) {
            *slot = mhz;
        }
        self.used = LANES.min(self.used + 1);
    }

    /// Makes a filled batch ready to be worked out.
    pub(crate) fn seal(&mut self) {
        for (root_of, mhz) in self.root.iter_mut().zip(self.mhz) {
            *root_of = root(mhz);
        }
    }

    /// The frequency in a lane, in MHz.
    pub(crate) fn mhz(&self, lane: usize) -> f32 {
        at(&self.mhz, lane)
    }

    /// The frequencies that count, with their lanes.
    pub(crate) fn frequencies(&self) -> impl Iterator<Item = (usize, f32)> {
        self.mhz.into_iter().enumerate().take(self.used)
    }

    /// A table's values at these frequencies, from the straight piece around each.
    #[inline(always)]
    pub(crate) fn along(&self, between: Between, mut piece: impl FnMut(f32) -> Line) -> Lanes {
        let x = match between {
            Between::Linear => &self.mhz,
            Between::SquareRoot => &self.root,
        };
        let [first, .., last] = self.mhz;
        let line = piece(first);
        let mut values = each(x, x, |x, _| line.on(x));
        // Mostly one piece serves them all.
        if !line.holds(last) {
            for ((value, x), mhz) in values.iter_mut().zip(x).zip(self.mhz) {
                *value = piece(mhz).on(*x);
            }
        }
        values
    }

    /// A table's values at these frequencies.
    #[cfg_attr(target_os = "none", inline(never))]
    pub(crate) fn read(&self, points: &Points<'_>, between: Between) -> Lanes {
        self.along(between, |mhz| points.line_at(mhz, between))
    }
}
