//! Levels added by power.

use crate::Level;

/// The level of all powers together, 10·log₁₀(Σ 10^(level/10)) in dBmV, or [`None`] of nothing.
///
/// Levels in dB are logarithms of powers, and powers of carriers that are no copies of each other
/// add. Worked from the greatest, so nothing overflows and the order makes no difference beyond
/// f32's rounding.
///
/// ```
/// use legwork::{quick::power_sum, Level};
/// let total = power_sum(&[Level::constant(10.0), Level::constant(10.0), Level::constant(7.0)]).unwrap();
/// assert!((total.dbmv() - 13.98).abs() <= 0.005);
/// assert!(power_sum(&[]).is_none());
/// ```
#[must_use]
pub fn power_sum(levels: &[Level]) -> Option<Level> {
    let greatest = levels.iter().map(|level| level.dbmv()).reduce(crate::math::max)?;
    let sum: f32 = levels.iter().map(|level| libm::powf(10.0, (level.dbmv() - greatest) / 10.0)).sum();
    Some(Level::unchecked(greatest + 10.0 * libm::log10f(sum)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may panic")]
mod tests {
    use super::*;

    fn sum<const N: usize>(levels: [f32; N]) -> f32 {
        power_sum(&levels.map(Level::constant)).unwrap().dbmv()
    }

    #[test]
    fn levels_alike_add_10_log_n() {
        // f32 rounding: 2 ulp below 64 dB.
        for (got, want) in
            [(sum([10.0; 2]), 13.0103), (sum([10.0; 4]), 16.0206), (sum([-2.5; 10]), 7.5), (sum([0.0; 158]), 21.9866)]
        {
            assert!((got - want).abs() <= 5e-5 + 7.7e-6, "{got} against {want}");
        }
        assert_eq!(sum([-0.5]), -0.5);
    }

    #[test]
    fn two_ratios_of_53_db_leave_49_99_db() {
        // "Broadband: Total Power", part 2: carrier-to-noise ratios of 53 and 53 dB make 49.99 dB; noise
        // powers 53 dB below the carrier add.
        assert!((-sum([-53.0, -53.0]) - 49.99).abs() <= 0.005 + 7.7e-6);
    }

    #[test]
    fn the_order_makes_no_difference_and_the_greatest_is_the_least_that_comes_out() {
        let (rising, falling) = (sum([-40.0, -3.25, 0.0, 6.5, 12.0]), sum([12.0, 6.5, 0.0, -3.25, -40.0]));
        assert!((rising - falling).abs() <= 2e-6);
        assert!(rising >= 12.0 && rising <= 12.0 + 10.0 * libm::log10f(5.0));
    }

    #[test]
    fn the_ends_of_all_levels_neither_overflow_nor_vanish() {
        assert_eq!(sum([-300.0, 300.0]), 300.0);
        assert!((sum([-300.0, -300.0]) + 296.9897).abs() <= 5e-5 + 3.1e-5);
        assert!(sum([300.0, 300.0]).is_finite());
    }
}
