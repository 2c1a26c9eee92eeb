//! Thermal noise and the carrier-to-noise ratio of amplifiers.

use crate::noise::KTB_DBMV_PER_MHZ;
use crate::{Db, Error, Frequency, Level};

/// Thermal noise in 75 ohm at 290 K: kTB = 10·log₁₀(k·290 K·B·75 ohm / (1 mV)²), in dBmV, of the
/// noise bandwidth B; without any noise figure.
///
/// Johnson's and Nyquist's formula, matched source and load.
///
/// ```
/// use legwork::{quick::thermal_floor, Frequency};
/// // "-59 dBmV in 4 MHz" of every textbook, to two decimals: -59.20.
/// assert!((thermal_floor(Frequency::constant(4.0)).dbmv() + 59.20).abs() <= 0.005);
/// ```
pub fn thermal_floor(bandwidth: Frequency) -> Level {
    Level::unchecked(KTB_DBMV_PER_MHZ + 10.0 * libm::log10f(bandwidth.mhz()))
}

/// The carrier-to-noise ratio in dB behind so many amplifiers alike, each with this level at its
/// input and losses between them that undo its gain:
/// input - [floor](thermal_floor) - noise figure - 10·log₁₀(N), N from 1 up.
///
/// Noise powers of the N add: a textbook formula of cascades (Freeman, "Fundamentals of Telecommunications").
///
/// ```
/// use legwork::{quick::carrier_to_noise, Db, Frequency, Level};
/// let one = carrier_to_noise(Level::constant(0.0), Db::constant(5.0), Frequency::constant(4.0), 1)?;
/// assert!((one.db() - 54.20).abs() <= 0.005);
/// # Ok::<(), legwork::Error>(())
/// ```
///
/// # Errors
/// [`Error::OutOfRange`] for no amplifier, or a ratio beyond what [`Db`] holds.
pub fn carrier_to_noise(input: Level, noise_figure: Db, bandwidth: Frequency, amplifiers: u16) -> Result<Db, Error> {
    if amplifiers == 0 {
        return Err(Error::OutOfRange { what: "number of amplifiers" });
    }
    let one = input.dbmv() - thermal_floor(bandwidth).dbmv() - noise_figure.db();
    Db::new(one - 10.0 * libm::log10f(f32::from(amplifiers)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may panic")]
mod tests {
    use super::*;

    /// f32 rounding: 4 ulp below 64 dB.
    const ROUNDING: f32 = 1.6e-5;

    fn floor(mhz: f32) -> f32 {
        thermal_floor(Frequency::constant(mhz)).dbmv()
    }

    fn ratio(input: f32, noise_figure: f32, mhz: f32, amplifiers: u16) -> f32 {
        let (input, noise_figure) = (Level::constant(input), Db::constant(noise_figure));
        carrier_to_noise(input, noise_figure, Frequency::constant(mhz), amplifiers).unwrap().db()
    }

    #[test]
    fn the_floor_is_that_of_textbooks_and_of_the_formula() {
        // Worked out in f64, two decimals: 4, 5 and 6 MHz.
        for (mhz, want) in [(4.0, -59.20), (5.0, -58.23), (6.0, -57.44)] {
            assert!((floor(mhz) - want).abs() <= 0.005 + ROUNDING, "{mhz} MHz: {}", floor(mhz));
        }
        // Freeman, "Fundamentals of Telecommunications", page 436: 1.1 uV or -59 dBmV in 4 MHz.
        assert!((floor(4.0) + 59.0).abs() <= 0.5);
        assert!((thermal_floor(Frequency::constant(4.0)).volts() - 1.1e-6).abs() <= 5e-8);
        // The noise bandwidths of a 6 MHz and an 8 MHz channel, worked out in f64.
        assert!((floor(5.360_537) + 57.932_49).abs() <= 5e-6 + ROUNDING);
        assert!((floor(6.952) + 56.803_48).abs() <= 5e-6 + ROUNDING);
        for mhz in [Frequency::MIN.mhz(), Frequency::MAX.mhz()] {
            assert!(Level::new(floor(mhz)).is_ok());
        }
    }

    #[test]
    fn an_amplifier_has_the_ratio_of_published_examples() {
        // A maker's application note (brand withheld): 5 MHz, 10 dBmV in, noise figure 8 dB: 60 dB with its
        // constant of 58, which is short of kTB by 0.23 dB.
        assert!((ratio(10.0, 8.0, 5.0, 1) - 60.0).abs() <= 0.5);
        assert!((ratio(10.0, 8.0, 5.0, 1) - 60.234_88).abs() <= 5e-6 + ROUNDING);
        // Same note: 57 dB behind two and 54 behind four.
        assert!((ratio(10.0, 8.0, 5.0, 2) - 57.0).abs() <= 0.5);
        assert!((ratio(10.0, 8.0, 5.0, 4) - 54.0).abs() <= 0.5);
    }

    #[test]
    fn amplifiers_alike_lose_10_log_n() {
        for (amplifiers, loss) in [(2, 3.0103), (4, 6.0206), (10, 10.0), (1000, 30.0), (u16::MAX, 48.1647)] {
            let lost = ratio(10.0, 8.0, 5.0, 1) - ratio(10.0, 8.0, 5.0, amplifiers);
            assert!((lost - loss).abs() <= 5e-5 + ROUNDING, "{amplifiers}: {lost}");
        }
        // A glossary of the trade: one amplifier 48 dB, four of them 42 dB (exact 41.98).
        let input = 48.0 + floor(4.0) + 10.0;
        assert!((ratio(input, 10.0, 4.0, 4) - 42.0).abs() <= 0.5);
        assert!((ratio(input, 10.0, 4.0, 4) - 41.98).abs() <= 0.005 + ROUNDING);
        // Flash cards of the trade: 3 dB more in is 3 dB more of the ratio.
        assert!((ratio(13.0, 8.0, 5.0, 4) - ratio(10.0, 8.0, 5.0, 4) - 3.0).abs() <= ROUNDING);
    }

    #[test]
    fn no_amplifier_and_a_ratio_beyond_all_range_are_refused() {
        let of = |input, amplifiers| carrier_to_noise(input, Db::ZERO, Frequency::constant(4.0), amplifiers);
        assert_eq!(of(Level::constant(0.0), 0), Err(Error::OutOfRange { what: "number of amplifiers" }));
        assert!(of(Level::MAX, 1).is_err());
        assert!(of(Level::MIN, 1).is_ok());
    }
}
