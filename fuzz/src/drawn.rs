//! Numbers out of a fuzzer's bytes.

use arbitrary::Unstructured;

/// Bytes that decide what an input does. When they run out every choice is the first and every number the least.
pub struct Drawn<'a>(Unstructured<'a>);

impl<'a> Drawn<'a> {
    /// Begins with the first byte.
    #[must_use]
    pub fn new(bytes: &'a [u8]) -> Self {
        Self(Unstructured::new(bytes))
    }

    /// Whether nothing is left to decide by.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// A whole number below `end`, which is above nought.
    pub fn below(&mut self, end: usize) -> usize {
        self.0.int_in_range(0..=end - 1).unwrap_or(0)
    }

    /// Yes, so often; no when the bytes have run out.
    pub fn one_in(&mut self, times: usize) -> bool {
        self.below(times) + 1 == times
    }

    /// One of several, of which there is at least one.
    pub fn pick<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }

    /// A number: mostly one that occurs in homes, sometimes any that the quantity can be, or an end of either range.
    pub fn number(&mut self, tame: (f32, f32), all: (f32, f32)) -> f32 {
        match self.below(16) {
            14 => {
                let any = f32::from_bits(self.0.arbitrary().unwrap_or(0));
                if any.is_nan() { all.0 } else { any.clamp(all.0, all.1) }
            }
            15 => self.pick(&[all.0, all.1, tame.0, tame.1]),
            _ => self.tame(tame),
        }
    }

    /// A number that occurs in homes: one of 256 between the ends, or one of 65536.
    pub fn tame(&mut self, (low, high): (f32, f32)) -> f32 {
        let share = if self.one_in(4) { self.below(1 << 16) as f32 / 65_535.0 } else { self.below(256) as f32 / 255.0 };
        (low + (high - low) * share).clamp(low, high)
    }
}
