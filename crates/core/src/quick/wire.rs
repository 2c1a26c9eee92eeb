//! The resistance of a conductor.

use crate::parts::COPPER_PER_KELVIN;
use crate::{Awg, Error, Length, Ohms, Temperature};

/// What a conductor is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Metal {
    /// Annealed copper: 1/58 ohm mm²/m at 20 C (IEC 60028).
    #[default]
    Copper,
    /// Copper-clad steel: 21 % of copper's conductivity (ASTM B869).
    CopperCladSteel,
    /// Aluminium: 61 % of copper's conductivity.
    Aluminium,
}

impl Metal {
    /// Resistivity at 20 C in ohm mm²/m.
    #[must_use]
    pub const fn resistivity(self) -> f32 {
        const COPPER: f32 = 1.0 / 58.0;
        match self {
            Self::Copper => COPPER,
            Self::CopperCladSteel => COPPER / 0.21,
            Self::Aluminium => COPPER / 0.61,
        }
    }

    /// Change of resistance per kelvin, as a fraction of that at 20 C.
    #[must_use]
    pub const fn per_kelvin(self) -> f32 {
        match self {
            Self::Copper | Self::CopperCladSteel => COPPER_PER_KELVIN,
            Self::Aluminium => 0.004_03,
        }
    }
}

/// The diameter of a wire in mm: 0.005 in · 92^((36 - n)/39), the definition of the gauge.
///
/// ```
/// use legwork::{quick::diameter_mm, Awg};
/// // 18 AWG is 1.024 mm.
/// assert!((diameter_mm(Awg::constant(18.0)) - 1.024).abs() <= 0.0005);
/// ```
#[must_use]
pub fn diameter_mm(size: Awg) -> f32 {
    0.127 * libm::powf(92.0, (36.0 - size.number()) / 39.0)
}

/// The resistance of one conductor: ρ·length/(π/4·d²)·(1 + α(T - 20)).
///
/// ```
/// use legwork::{quick::{resistance, Metal}, Awg, Length, Temperature};
/// let ohms = resistance(Awg::constant(18.0), Length::from_feet(1000.0)?, Metal::Copper, Temperature::REFERENCE)?;
/// assert!((ohms.ohms() - 6.385).abs() <= 0.0005);
/// # Ok::<(), legwork::Error>(())
/// ```
///
/// # Errors
/// [`Error::OutOfRange`] where the temperature would make it negative.
pub fn resistance(size: Awg, length: Length, metal: Metal, temperature: Temperature) -> Result<Ohms, Error> {
    let diameter = diameter_mm(size);
    let area = core::f32::consts::FRAC_PI_4 * diameter * diameter;
    let kelvins = temperature.celsius() - Temperature::REFERENCE.celsius();
    Ohms::new(metal.resistivity() * length.metres() / area * (1.0 + metal.per_kelvin() * kelvins))
}
