//! A run of cable by itself.

use crate::{Cable, Db, Frequency, Length, Ohms, Temperature};

/// The speed of light in a vacuum, in m/s (exact).
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
    /// Loss at a frequency: the table's, straight in the square root of frequency, times
    /// length/per · (1 + 0.002(T - 20)).
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

    /// DC resistance there and back.
    pub fn loop_ohms(&self) -> Ohms {
        self.cable.loop_ohms(self.length, self.temperature)
    }

    /// How long a signal takes one way, in nanoseconds: length/(velocity·c).
    #[must_use]
    pub fn delay_ns(&self) -> f32 {
        self.length.metres() / (self.cable.velocity * (SPEED_OF_LIGHT_M_PER_S * 1e-9))
    }
}
