//! The few transcendental functions, each with one meaning on every machine.
//!
//! Single calculations use `libm` by name. Where one report needs hundreds of exponentials,
//! the two short polynomials here stand in: additions, multiplications and integer operations
//! alone, no fused multiply-add, so a host and a board give the same bits. Tests below hold
//! them against `libm` over their whole range.

/// log2(10)/10: decibels to powers of two.
pub(crate) const LOG2_PER_DB: f32 = 0.332_192_8;
/// 10*log10(2): powers of two to decibels.
pub(crate) const DB_PER_LOG2: f32 = 3.010_3;

/// 2^x within 16 parts in a million, 7e-5 dB; outside ±126 it stays at 2^±126.
///
/// One addition brings the exponent to fixed point: 1.5 * 2^8 leaves fifteen bits for the fraction.
/// They become a mantissa as they are, so that nothing has to be subtracted, and clamping is a
/// comparison of whole numbers: on a core without floating point each operation saved counts.
#[inline(always)]
pub(crate) fn exp2(x: f32) -> f32 {
    const SHIFT: f32 = 384.0;
    const LOWEST: i32 = (SHIFT - 126.0).to_bits().cast_signed();
    const HIGHEST: i32 = (SHIFT + 126.0).to_bits().cast_signed();
    let fixed = (x + SHIFT).to_bits().cast_signed();
    let fixed = if fixed < LOWEST { LOWEST } else { fixed };
    let fixed = if fixed > HIGHEST { HIGHEST } else { fixed }.cast_unsigned();
    // From 1 to 2 with the fraction.
    let m = f32::from_bits(((fixed & 0x7fff) << 8) | 0x3f80_0000);
    // Minimax of 2^(m - 1), relative error 4e-6.
    let p = 1.353_416_8e-2;
    let p = p * m - 2.125_210_8e-3;
    let p = p * m + 1.666_133_9e-1;
    let p = p * m + 3.120_160_4e-1;
    let p = p * m + 5.099_642e-1;
    // What SHIFT has in the place of the whole part goes as it came.
    let whole = (fixed >> 15).wrapping_sub(SHIFT.to_bits() >> 15);
    f32::from_bits(p.to_bits().wrapping_add(whole << 23))
}

/// log2(x) within 1e-6 for normal positive x.
#[inline(always)]
pub(crate) fn log2(x: f32) -> f32 {
    /// The bits of sqrt(1/2): mantissas are taken from there to sqrt(2).
    const SQRT_HALF: u32 = 0x3f35_04f3;
    let shifted = x.to_bits().wrapping_sub(SQRT_HALF);
    let exponent = (shifted as i32) >> 23;
    let m = f32::from_bits((shifted & 0x007f_ffff).wrapping_add(SQRT_HALF));
    let s = (m - 1.0) / (m + 1.0);
    let t = s * s;
    // Minimax of log2((1+s)/(1-s))/s, absolute error 3e-8.
    let p = 0.598_973_94 * t + 0.961_470_8;
    let p = p * t + 2.885_391_2;
    exponent as f32 + s * p
}

/// A power ratio from decibels: 10^(db/10).
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn ratio(db: f32) -> f32 {
    exp2(db * LOG2_PER_DB)
}

/// Decibels from a power ratio: 10*log10(ratio).
#[cfg_attr(target_os = "none", inline(never))]
pub(crate) fn decibels(ratio: f32) -> f32 {
    log2(ratio) * DB_PER_LOG2
}

/// The square root of a positive number within 2 parts in 10^7, also in tables at compile time.
///
/// `libm`'s is correctly rounded but, without a hardware instruction, five times as long; what
/// is asked here is the shape of a cable's loss, to a ten-thousandth of a decibel.
#[inline(always)]
pub(crate) const fn root(x: f32) -> f32 {
    // Newton's steps towards 1/sqrt(x) from the halved exponent.
    let half = 0.5 * x;
    let mut y = f32::from_bits(0x5f37_5a86u32.wrapping_sub(x.to_bits() >> 1));
    y *= 1.5 - half * y * y;
    y *= 1.5 - half * y * y;
    y *= 1.5 - half * y * y;
    x * y
}

/// The larger of two numbers, neither NaN: one comparison, no NaN rules.
#[inline(always)]
pub(crate) fn max(a: f32, b: f32) -> f32 {
    if a > b { a } else { b }
}

/// The smaller of two numbers, neither NaN.
#[inline(always)]
pub(crate) fn min(a: f32, b: f32) -> f32 {
    if a < b { a } else { b }
}

/// A number, or zero where it is negative: its sign bit spread out is the mask that clears it.
#[inline(always)]
pub(crate) fn not_negative(a: f32) -> f32 {
    let bits = a.to_bits();
    f32::from_bits(bits & !(bits.cast_signed() >> 31).cast_unsigned())
}

/// Whether a number is negative, by its sign bit.
#[inline(always)]
pub(crate) fn is_negative(a: f32) -> bool {
    a.to_bits() >> 31 != 0
}

/// Whether one of two numbers, neither negative, is below the other: their bits are ordered as
/// they are, and a core without floating point compares whole numbers ten times as fast.
#[inline(always)]
pub(crate) fn is_below(a: f32, b: f32) -> bool {
    a.to_bits() < b.to_bits()
}

/// The magnitude.
#[inline(always)]
pub(crate) fn abs(a: f32) -> f32 {
    f32::from_bits(a.to_bits() & 0x7fff_ffff)
}

#[cfg(test)]
mod tests {
    use super::{decibels, exp2, log2, ratio, root};

    #[test]
    fn exp2_agrees_with_libm_over_its_whole_range() {
        let mut worst = 0.0f64;
        for i in -126_000..=126_000 {
            let x = i as f32 / 1000.0;
            let want = libm::exp2(f64::from(x));
            worst = worst.max((f64::from(exp2(x)) / want - 1.0).abs());
        }
        assert!(worst <= 1.6e-5, "relative error {worst:e}");
    }

    #[test]
    fn log2_agrees_with_libm_over_its_whole_range() {
        let mut worst = 0.0f64;
        let mut x = 1.2e-38f32;
        while x < 3.0e38 {
            let want = libm::log2(f64::from(x));
            let error = (f64::from(log2(x)) - want).abs();
            // Half an ulp of the result's own size, plus the polynomial and its rounding.
            worst = worst.max(error - want.abs() * 6.0e-8);
            x *= 1.000_37;
        }
        assert!(worst <= 2.0e-7, "absolute error {worst:e}");
    }

    #[test]
    fn root_agrees_with_libm_over_all_frequencies() {
        let mut x = 1e-6f32;
        while x < 1e6 {
            let want = libm::sqrt(f64::from(x));
            assert!((f64::from(root(x)) / want - 1.0).abs() <= 2.0e-7, "{x}");
            x *= 1.000_37;
        }
    }

    #[test]
    fn outside_its_range_exp2_stays_at_the_end() {
        assert_eq!(exp2(-1e30), exp2(-126.0));
        assert_eq!(exp2(1e30), exp2(126.0));
    }

    #[test]
    fn decibels_and_ratio_undo_each_other() {
        for i in -1000..=1000 {
            let db = i as f32 / 10.0;
            assert!((decibels(ratio(db)) - db).abs() <= 7e-5, "{db}");
        }
    }
}
