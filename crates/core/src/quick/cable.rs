//! A run of cable by itself.

use crate::{Cable, Db, Frequency, Length, Ohms, Temperature};

/// The speed of light in a vacuum, in m/s (exact, by the definition of the metre).
pub const SPEED_OF_LIGHT_M_PER_S: f32 = 299_792_458.0;

/// A run of cable at a temperature.
#[derive(Clone, Copy, Debug)]
pub struct Run<'s> {
    /// Its kind.
    pub cable: &'s Cable<'s>,
    /// How long it is.
    pub length: Length,
    /// How warm.
    pub temperature: Temperature,
}

impl Run<'_> {
    /// Loss in dB at a frequency: the table's, straight in the square root of frequency and never
    /// below zero, times length/per · (1 + 0.002(T - 20)), T in degrees Celsius.
    ///
    /// ```
    /// use legwork::{quick::Run, tables, Frequency, Length, Temperature};
    /// let run = Run { cable: &tables::SERIES_6, length: Length::from_feet(100.0)?, temperature: Temperature::REFERENCE };
    /// let loss = run.loss(Frequency::constant(1000.0));
    /// assert!((loss.db() - 6.55).abs() < 1e-3);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    pub fn loss(&self, frequency: Frequency) -> Db {
        let tabled = crate::math::max(self.cable.loss.at_square_root(frequency), 0.0);
        Db::unchecked(tabled * self.cable.loss_factor(self.length, self.temperature))
    }

    /// DC resistance there and back: the spec's, times length/per · (1 + 0.00393(T - 20)), T in
    /// degrees Celsius.
    ///
    /// ```
    /// use legwork::{quick::Run, tables, Length, Temperature};
    /// let run = Run { cable: &tables::SERIES_6, length: Length::from_feet(50.0)?, temperature: Temperature::REFERENCE };
    /// assert!((run.loop_ohms().ohms() - 1.895).abs() < 1e-3);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    pub fn loop_ohms(&self) -> Ohms {
        self.cable.loop_ohms(self.length, self.temperature)
    }

    /// How long a signal takes one way, in nanoseconds: length/(velocity·c).
    ///
    /// ```
    /// use legwork::{quick::Run, tables, Length, Temperature};
    /// let run = Run { cable: &tables::SERIES_6, length: Length::from_feet(100.0)?, temperature: Temperature::REFERENCE };
    /// assert!((run.delay_ns() - 119.61).abs() < 5e-3);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    #[must_use]
    pub fn delay_ns(&self) -> f32 {
        self.length.metres() / (self.cable.velocity * (SPEED_OF_LIGHT_M_PER_S * 1e-9))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may panic")]
mod tests {
    use super::*;
    use crate::quick::{Metal, echo_from_delay, resistance};
    use crate::{Awg, tables};

    fn run(feet: f32, celsius: f32) -> Run<'static> {
        let length = Length::from_feet(feet).unwrap();
        Run { cable: &tables::SERIES_6_COPPER, length, temperature: Temperature::constant(celsius) }
    }

    #[test]
    fn loss_follows_length_and_temperature() {
        let at = Frequency::constant(750.0);
        let hundred = run(100.0, 20.0).loss(at).db();
        assert!((hundred - 5.65).abs() <= 1e-6);
        // A tech tip on cable in the cold and the heat: 1.1 % for each 10 F; ours is 0.2 % a kelvin,
        // 1.11 %, and 0.02 % apart over the 10 F, which is 5.6 K.
        let warmer = run(100.0, 20.0 + 10.0 / 1.8).loss(at).db() / hundred;
        assert!((warmer - 1.011).abs() <= 5e-4, "{warmer}");
        assert!((run(60.0, 20.0).loss(at).db() - 0.6 * hundred).abs() <= 1e-6);
        assert_eq!(run(0.0, 20.0).loss(at).db(), 0.0);
    }

    #[test]
    fn a_loss_is_never_below_zero() {
        assert!(run(100.0, 20.0).loss(Frequency::MIN).db() >= 0.0);
    }

    #[test]
    fn the_loop_is_its_centre_conductor_and_its_shield() {
        let centre = |celsius| {
            let (length, warmth) = (Length::from_feet(100.0).unwrap(), Temperature::constant(celsius));
            resistance(Awg::constant(18.0), length, Metal::Copper, warmth).unwrap().ohms()
        };
        // The table's estimate of the shield: 0.75 ohm per 100 ft.
        assert!((run(100.0, 20.0).loop_ohms().ohms() - centre(20.0) - 0.75).abs() <= 1e-5);
        let ratio = run(100.0, 60.0).loop_ohms().ohms() / run(100.0, 20.0).loop_ohms().ohms();
        assert!((ratio - centre(60.0) / centre(20.0)).abs() <= 1e-6, "{ratio}");
    }

    #[test]
    fn twice_the_delay_leads_back_to_the_length() {
        let run = run(85.0, 20.0);
        let back = echo_from_delay(2.0 * run.delay_ns(), run.cable.velocity).unwrap();
        assert!((back.metres() - run.length.metres()).abs() <= 1e-5);
    }
}
