//! How far away a reflection is, and how strong.

use super::SPEED_OF_LIGHT_M_PER_S;
use crate::{Db, Error, Frequency, Length};

/// Distance to a reflection from the spacing of the ripple it makes: d = v·c/(2·Δf), `spacing`
/// from one minimum of the ripple to the next, `velocity` as a fraction of that of light, above
/// 0 to 1.
///
/// Two paths that differ by 2·d are in step once more each time the frequency has risen by
/// v·c/(2·d): line theory.
///
/// ```
/// use legwork::{quick::echo_from_ripple, Frequency};
/// // An instrument manual: velocity factor 0.66, minima 8.2 MHz apart: 12.06 m.
/// let distance = echo_from_ripple(Frequency::constant(8.2), 0.66)?;
/// assert!((distance.metres() - 12.06).abs() <= 0.005);
/// # Ok::<(), legwork::Error>(())
/// ```
///
/// # Errors
/// [`Error::OutOfRange`] for a velocity that is none (NaN included), or a distance beyond [`Length::MAX`].
pub fn echo_from_ripple(spacing: Frequency, velocity: f32) -> Result<Length, Error> {
    Length::new(checked(velocity)? * (SPEED_OF_LIGHT_M_PER_S * 1e-6) / (2.0 * spacing.mhz()))
}

/// Distance to a reflection from its delay there and back in nanoseconds, zero or more:
/// d = v·c·t/2, `velocity` as a fraction of that of light, above 0 to 1.
///
/// ```
/// use legwork::quick::echo_from_delay;
/// // 0.85 of the speed of light for 90 ns is 22.93 m, there and back.
/// assert!((echo_from_delay(90.0, 0.85)?.metres() - 11.467).abs() <= 0.0005);
/// # Ok::<(), legwork::Error>(())
/// ```
///
/// # Errors
/// [`Error::OutOfRange`] for a velocity that is none, a delay that is negative, or a distance beyond
/// [`Length::MAX`]; NaN included.
pub fn echo_from_delay(nanoseconds: f32, velocity: f32) -> Result<Length, Error> {
    let velocity = checked(velocity)?;
    if nanoseconds >= 0.0 {
        Length::new(velocity * (SPEED_OF_LIGHT_M_PER_S * 1e-9) * nanoseconds / 2.0)
    } else {
        Err(Error::OutOfRange { what: "delay (ns)" })
    }
}

/// The strength of a reflection against the carrier, from the ripple it makes, peak to peak:
/// 20·log₁₀((r - 1)/(r + 1)) dB, r = 10^(depth/20); below zero.
///
/// An echo of e times the carrier's voltage makes it run from 1 - e to 1 + e, so
/// r = (1 + e)/(1 - e): the standing wave ratio of line theory.
///
/// ```
/// use legwork::{quick::echo_strength, Db};
/// // An echo of one tenth of the voltage: (1 + 0.1)/(1 - 0.1) is 1.743 dB of ripple.
/// assert!((echo_strength(Db::constant(1.743))?.db() + 20.0).abs() < 1e-3);
/// # Ok::<(), legwork::Error>(())
/// ```
///
/// # Errors
/// [`Error::OutOfRange`] for a depth that is not above zero, or an echo weaker than [`Db::MIN`].
pub fn echo_strength(depth: Db) -> Result<Db, Error> {
    if depth.db() <= 0.0 {
        return Err(Error::OutOfRange { what: "ripple depth (dB)" });
    }
    // expm1 keeps the small difference of a shallow ripple.
    let excess = libm::expm1f(depth.db() * (core::f32::consts::LN_10 / 20.0));
    Db::new(20.0 * libm::log10f(excess / (excess + 2.0)))
}

fn checked(velocity: f32) -> Result<f32, Error> {
    if velocity > 0.0 && velocity <= 1.0 {
        Ok(velocity)
    } else {
        Err(Error::OutOfRange { what: "velocity (fraction of light)" })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may panic")]
mod tests {
    use super::*;

    /// f32 rounding of three steps, as a fraction.
    const ROUNDING: f32 = 2e-7;

    fn from_ripple(mhz: f32, velocity: f32) -> Length {
        echo_from_ripple(Frequency::constant(mhz), velocity).unwrap()
    }

    #[test]
    fn a_ripple_tells_the_distance_that_an_instrument_manual_prints() {
        // Pages 15 and 16: open cable, velocity factor 0.66, quarter wave at 4.100 MHz, hence minima
        // twice that apart; 12.06 m and 39.58 ft.
        let distance = from_ripple(2.0 * 4.1, 0.66);
        assert!((distance.metres() - 12.06).abs() <= 0.005 + 12.06 * ROUNDING);
        assert!((distance.feet() - 39.58).abs() <= 0.005 + 39.58 * ROUNDING);
        // Same pages: 5 m of open cable, quarter wave at 9.4 MHz: velocity factor 0.63. To be 5 m, it is 0.6271.
        assert!((from_ripple(2.0 * 9.4, 0.6271).metres() - 5.0).abs() <= 5e-4);
        // Worked out: velocity 0.87, minima 1 MHz apart, 130.41 m and 427.85 ft.
        let distance = from_ripple(1.0, 0.87);
        assert!((distance.metres() - 130.41).abs() <= 0.005 + 130.41 * ROUNDING);
        assert!((distance.feet() - 427.85).abs() <= 0.005 + 427.85 * ROUNDING);
    }

    #[test]
    fn the_delay_of_a_ripple_is_one_over_its_spacing() {
        for mhz in [0.1_f32, 1.0, 4.0, 8.2, 50.0] {
            let (ripple, delay) = (from_ripple(mhz, 0.85), echo_from_delay(1e3 / mhz, 0.85).unwrap());
            assert!((ripple.metres() - delay.metres()).abs() <= 2.0 * ROUNDING * ripple.metres(), "{mhz} MHz");
        }
        assert_eq!(echo_from_delay(0.0, 0.85).unwrap().metres(), 0.0);
    }

    #[test]
    fn a_velocity_or_a_delay_that_is_none_is_refused() {
        for velocity in [0.0, -0.85, 1.001, f32::NAN, f32::INFINITY] {
            let refused = Err(Error::OutOfRange { what: "velocity (fraction of light)" });
            assert_eq!(echo_from_ripple(Frequency::constant(4.0), velocity), refused);
            assert_eq!(echo_from_delay(90.0, velocity), refused);
        }
        for delay in [-0.5, f32::NAN, f32::NEG_INFINITY] {
            assert_eq!(echo_from_delay(delay, 0.85), Err(Error::OutOfRange { what: "delay (ns)" }));
        }
        assert!(echo_from_delay(f32::INFINITY, 0.85).is_err());
        assert!(echo_from_ripple(Frequency::MIN, 1.0).is_err());
        assert!(echo_from_ripple(Frequency::constant(4.0), 1.0).is_ok());
    }

    #[test]
    fn a_ripple_of_any_depth_leads_back_to_its_echo() {
        // An echo of this part of the voltage swings the carrier from 1 - e to 1 + e; reference in f64.
        for echo in [1e-6_f64, 1e-4, 0.001, 0.01, 0.1, 0.316_227_77, 0.9] {
            let depth = 20.0 * libm::log10((1.0 + echo) / (1.0 - echo));
            let got = echo_strength(Db::constant(depth as f32)).unwrap().db();
            let want = 20.0 * libm::log10(echo);
            // 1 ulp of f32 below 128 dB on the way out, and of the depth on the way in.
            assert!((f64::from(got) - want).abs() <= 2e-5, "{echo}: {got} against {want}");
        }
        // The contract's formula for 1 dB peak to peak, worked out in f64: -24.8 dB.
        assert!((echo_strength(Db::constant(1.0)).unwrap().db() + 24.806_47).abs() <= 1e-4);
    }

    #[test]
    fn no_ripple_has_no_echo_and_the_deepest_is_as_strong_as_the_carrier() {
        for depth in [0.0, -0.0, -1.0] {
            assert_eq!(echo_strength(Db::constant(depth)), Err(Error::OutOfRange { what: "ripple depth (dB)" }));
        }
        assert_eq!(echo_strength(Db::MAX).unwrap().db(), 0.0);
        assert!(echo_strength(Db::constant(1e-20)).is_err());
    }
}
