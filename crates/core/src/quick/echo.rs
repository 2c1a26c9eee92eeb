//! How far away a reflection is, and how strong.

use super::SPEED_OF_LIGHT_M_PER_S;
use crate::{Db, Error, Frequency, Length};

/// Distance to a reflection from the spacing of the ripple it makes: d = v·c/(2·Δf), `velocity`
/// the fraction of the speed of light, above 0 to 1.
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
/// [`Error::OutOfRange`] for a velocity that is none, or a distance beyond [`Length::MAX`].
pub fn echo_from_ripple(spacing: Frequency, velocity: f32) -> Result<Length, Error> {
    Length::new(checked(velocity)? * (SPEED_OF_LIGHT_M_PER_S * 1e-6) / (2.0 * spacing.mhz()))
}

/// Distance to a reflection from its delay there and back in nanoseconds: d = v·c·t/2.
///
/// # Errors
/// [`Error::OutOfRange`] for a velocity that is none, or a delay that is negative or too long.
pub fn echo_from_delay(nanoseconds: f32, velocity: f32) -> Result<Length, Error> {
    Length::new(checked(velocity)? * (SPEED_OF_LIGHT_M_PER_S * 1e-9) * nanoseconds / 2.0)
}

/// The strength of a reflection against the carrier, from the ripple it makes, peak to peak:
/// 20·log10((r - 1)/(r + 1)), r = 10^(depth/20).
///
/// ```
/// use legwork::{quick::echo_strength, Db};
/// // An echo of one tenth of the voltage: (1 + 0.1)/(1 - 0.1) is 1.743 dB of ripple.
/// assert!((echo_strength(Db::constant(1.7430)).unwrap().db() + 20.0).abs() < 1e-3);
/// # Ok::<(), legwork::Error>(())
/// ```
///
/// # Errors
/// [`Error::OutOfRange`] for a depth that is not above zero.
pub fn echo_strength(depth: Db) -> Result<Db, Error> {
    if depth.db() <= 0.0 {
        return Err(Error::OutOfRange { what: "ripple depth (dB)" });
    }
    // expm1 keeps the small difference of a shallow ripple.
    let excess = libm::expm1f(depth.db() * (core::f32::consts::LN_10 / 20.0));
    Db::new(20.0 * libm::log10f(excess / (excess + 2.0)))
}

fn checked(velocity: f32) -> Result<f32, Error> {
    if velocity > 0.0 && velocity <= 1.0 { Ok(velocity) } else { Err(Error::OutOfRange { what: "velocity (fraction of light)" }) }
}
