//! Coaxial cable.

use crate::{Band, Curve, Length, Ohms, Percent, Temperature};

/// A kind of coaxial cable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cable<'s> {
    /// Loss in dB for the length `per` at 20 C, straight in the square root of frequency.
    pub loss: Curve<'s>,
    /// The length that `loss` and `loop_resistance` are given for, above zero.
    pub per: Length,
    /// DC resistance there and back, for the length `per` at 20 C.
    pub loop_resistance: Ohms,
    /// Velocity of propagation as a fraction of that of light, above 0 to 1.
    pub velocity: f32,
    /// Plus or minus, in percent of the loss.
    pub spread: Percent,
    /// Where its maker vouches for it.
    pub band: Option<Band>,
}

/// Loss per kelvin: 0.2 % a degree (derived from 1.1 % per 10 °F in a published note; two
/// published notes give 0.0018 and 0.00198 per kelvin).
const LOSS_PER_KELVIN: f32 = 0.002;
/// Copper's resistance per kelvin: 0.393 % (IEC 60028).
pub(crate) const COPPER_PER_KELVIN: f32 = 0.003_93;

impl Cable<'_> {
    /// How much of the tabled loss a run has: length/per times 1 + 0.002(T - 20).
    ///
    /// ```
    /// use legwork::{tables, Length, Temperature};
    /// let warm = tables::SERIES_6.loss_factor(Length::from_feet(50.0)?, Temperature::new(40.0)?);
    /// assert!((warm - 0.52).abs() < 1e-6);
    /// # Ok::<(), legwork::Error>(())
    /// ```
    #[must_use]
    pub fn loss_factor(&self, length: Length, temperature: Temperature) -> f32 {
        let kelvins = temperature.celsius() - Temperature::REFERENCE.celsius();
        length.metres() / self.per.metres() * (1.0 + LOSS_PER_KELVIN * kelvins)
    }

    /// DC resistance of a run, there and back: R20 · length/per · (1 + 0.00393(T - 20)).
    pub fn loop_ohms(&self, length: Length, temperature: Temperature) -> Ohms {
        let kelvins = temperature.celsius() - Temperature::REFERENCE.celsius();
        let at_reference = self.loop_resistance.ohms() * (length.metres() / self.per.metres());
        Ohms::unchecked(at_reference * (1.0 + COPPER_PER_KELVIN * kelvins))
    }
}
