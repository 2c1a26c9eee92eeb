//! A handful of frequencies worked out side by side.

use crate::Points;
use crate::curve::Between;
use crate::math::root;

/// How many frequencies go side by side: two vectors of a host's, and few enough for a board.
pub(crate) const LANES: usize = 8;

/// One number for each frequency of a batch.
pub(crate) type Lanes = [f32; LANES];

/// Up to [`LANES`] frequencies, rising.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Batch {
    pub(crate) mhz: Lanes,
    /// Their square roots, for cables.
    pub(crate) root: Lanes,
    /// How many count; the rest repeat the last.
    pub(crate) used: usize,
}

impl Batch {
    /// Adds a frequency; false where the batch is full.
    pub(crate) fn push(&mut self, mhz: f32) -> bool {
        match self.mhz.get_mut(self.used) {
            Some(slot) => {
                *slot = mhz;
                self.used += 1;
                true
            }
            None => false,
        }
    }

    /// Makes a filled batch ready to be worked out.
    pub(crate) fn seal(&mut self) {
        let last = self.used.checked_sub(1).and_then(|last| self.mhz.get(last)).copied().unwrap_or(1.0);
        for slot in self.mhz.iter_mut().skip(self.used) {
            *slot = last;
        }
        self.root = self.mhz.map(root);
    }

    /// Takes frequencies from an iterator until full; false where there was none.
    pub(crate) fn take(&mut self, frequencies: &mut impl Iterator<Item = f32>) -> bool {
        self.used = 0;
        while self.used < LANES {
            match frequencies.next() {
                Some(mhz) => self.push(mhz),
                None => break,
            };
        }
        self.seal();
        self.used > 0
    }

    /// The frequencies that count, with their lanes.
    pub(crate) fn frequencies(&self) -> impl Iterator<Item = (usize, f32)> {
        self.mhz.into_iter().enumerate().take(self.used)
    }

    /// A table's values at these frequencies.
    pub(crate) fn read(&self, points: &Points<'_>, between: Between) -> Lanes {
        let x = match between {
            Between::Linear => &self.mhz,
            Between::SquareRoot => &self.root,
        };
        let mut out = [0.0; LANES];
        let mut lane = 0;
        // Frequencies rise, so each straight piece serves from its first lane on, and the next
        // overwrites what lies beyond: a few whole vectors instead of a search a lane.
        while let Some(mhz) = self.mhz.get(lane) {
            let line = points.line_at(*mhz, between);
            for (number, (out, x)) in out.iter_mut().zip(x).enumerate() {
                let value = line.on(*x);
                *out = if number >= lane { value } else { *out };
            }
            lane = self.mhz.iter().position(|mhz| line.ended(*mhz)).unwrap_or(LANES).max(lane + 1);
        }
        out
    }
}
