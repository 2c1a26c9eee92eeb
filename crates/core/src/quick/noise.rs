//! Thermal noise and the carrier-to-noise ratio of amplifiers.

use crate::{Db, Error, Frequency, Level};

/// kTB in 75 ohm at 290 K, in dBmV: 10·log10(k·290 K·B·75 ohm / (1 mV)²), k = 1.380649e-23 J/K.
///
/// ```
/// use legwork::{quick::thermal_floor, Frequency};
/// // "-59 dBmV in 4 MHz" of every textbook, to two decimals: -59.20.
/// assert!((thermal_floor(Frequency::constant(4.0)).dbmv() + 59.20).abs() <= 0.005);
/// ```
pub fn thermal_floor(bandwidth: Frequency) -> Level {
    Level::unchecked(-65.224_57 + 10.0 * libm::log10f(bandwidth.mhz()))
}

/// The carrier-to-noise ratio behind so many amplifiers alike, each with this level at its
/// input: input - floor - noise figure - 10·log10(N).
///
/// ```
/// use legwork::{quick::carrier_to_noise, Db, Frequency, Level};
/// let one = carrier_to_noise(Level::constant(0.0), Db::constant(5.0), Frequency::constant(4.0), 1)?;
/// assert!((one.db() - 54.20).abs() <= 0.005);
/// # Ok::<(), legwork::Error>(())
/// ```
///
/// # Errors
/// [`Error::OutOfRange`] for no amplifier.
pub fn carrier_to_noise(input: Level, noise_figure: Db, bandwidth: Frequency, amplifiers: u16) -> Result<Db, Error> {
    if amplifiers == 0 {
        return Err(Error::OutOfRange { what: "number of amplifiers" });
    }
    let alike = Db::unchecked(10.0 * libm::log10f(f32::from(amplifiers)));
    Ok(input - thermal_floor(bandwidth) - noise_figure - alike)
}
