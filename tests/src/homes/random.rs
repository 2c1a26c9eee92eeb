//! Random numbers that are the same everywhere for one seed.

/// A generator of the splitmix kind.
#[derive(Clone, Debug)]
pub struct Random(u64);

impl Random {
    /// The generator of a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0xD1B5_4A32_D192_ED03).wrapping_add(7))
    }

    /// The next 64 bits.
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A number from 0 up to, but without, 1.
    fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A number between two ends.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// A whole number between two ends, both included.
    pub fn whole(&mut self, low: usize, high: usize) -> usize {
        low + (self.next() % (high - low + 1) as u64) as usize
    }

    /// A number from the normal distribution of mean 0 and deviation 1, after Box and Muller.
    pub fn normal(&mut self) -> f64 {
        let (radius, angle) = (1.0 - self.unit(), self.unit());
        (-2.0 * radius.ln()).sqrt() * (std::f64::consts::TAU * angle).cos()
    }

    /// True so many times in a hundred.
    pub fn chance(&mut self, percent: u64) -> bool {
        self.next() % 100 < percent
    }

    /// One of several.
    pub fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.whole(0, of.len() - 1)]
    }

    /// The same things in another order.
    pub fn shuffle<T>(&mut self, things: &mut [T]) {
        for at in (1..things.len()).rev() {
            things.swap(at, self.whole(0, at));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_seed_gives_one_sequence_and_ends_are_kept() {
        let (mut one, mut two) = (Random::new(3), Random::new(3));
        for _ in 0..1000 {
            let number = one.between(-2.0, 5.0);
            assert_eq!(number, two.between(-2.0, 5.0));
            assert!((-2.0..5.0).contains(&number));
            let whole = one.whole(2, 4);
            assert_eq!(whole, two.whole(2, 4));
            assert!((2..=4).contains(&whole));
        }
    }
}
