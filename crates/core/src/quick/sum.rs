//! Levels added by power.

use crate::Level;

/// The level of all powers together, 10·log10(Σ 10^(level/10)), or [`None`] of nothing.
///
/// Worked from the greatest, so nothing overflows and the order makes no difference beyond f32's rounding.
///
/// ```
/// use legwork::{quick::power_sum, Level};
/// let total = power_sum(&[Level::constant(10.0), Level::constant(10.0), Level::constant(7.0)]).unwrap();
/// assert!((total.dbmv() - 13.98).abs() <= 0.005);
/// ```
#[must_use]
pub fn power_sum(levels: &[Level]) -> Option<Level> {
    let greatest = levels.iter().map(|level| level.dbmv()).reduce(crate::math::max)?;
    let sum: f32 = levels.iter().map(|level| libm::powf(10.0, (level.dbmv() - greatest) / 10.0)).sum();
    Some(Level::unchecked(greatest + 10.0 * libm::log10f(sum)))
}
