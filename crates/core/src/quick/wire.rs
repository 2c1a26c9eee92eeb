//! The resistance of a conductor.

use crate::parts::COPPER_PER_KELVIN;
use crate::{Awg, Error, Length, Ohms, Temperature};

/// What a conductor is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Metal {
    /// Annealed copper: 1/58 ohm mm²/m at 20 C (IEC 60028).
    #[default]
    Copper,
    /// Copper-clad steel of drop wire: 21 % of copper's conductivity (ASTM B869), copper's change with temperature.
    CopperCladSteel,
    /// Aluminium: 61 % of copper's conductivity (electrical aluminium; a power engineering handbook).
    Aluminium,
}

impl Metal {
    /// Resistivity at 20 C in ohm mm²/m.
    ///
    /// ```
    /// use legwork::quick::Metal;
    /// // IEC 60028: 1/58 = 0.017241 ohm mm²/m.
    /// assert!((Metal::Copper.resistivity() - 0.017_241).abs() <= 5e-7);
    /// ```
    #[must_use]
    pub const fn resistivity(self) -> f32 {
        const COPPER: f32 = 1.0 / 58.0;
        match self {
            Self::Copper => COPPER,
            Self::CopperCladSteel => COPPER / 0.21,
            Self::Aluminium => COPPER / 0.61,
        }
    }

    /// Change of resistance per kelvin, as a fraction of that at 20 C: copper 0.00393 (IEC 60028),
    /// aluminium 0.00403 (a power engineering handbook).
    ///
    /// ```
    /// use legwork::quick::Metal;
    /// assert!(Metal::Aluminium.per_kelvin() > Metal::Copper.per_kelvin());
    /// ```
    #[must_use]
    pub const fn per_kelvin(self) -> f32 {
        match self {
            Self::Copper | Self::CopperCladSteel => COPPER_PER_KELVIN,
            Self::Aluminium => 0.004_03,
        }
    }
}

/// The diameter of a wire in mm: 0.005 in · 92^((36 - n)/39), the definition of the American wire gauge.
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

/// The resistance of one round conductor: ρ·length/(π/4·d²)·(1 + α(T - 20)), T in degrees Celsius;
/// a loop of two has twice that.
///
/// ```
/// use legwork::{quick::{resistance, Metal}, Awg, Length, Temperature};
/// let ohms = resistance(Awg::constant(18.0), Length::from_feet(1000.0)?, Metal::Copper, Temperature::REFERENCE)?;
/// assert!((ohms.ohms() - 6.385).abs() <= 0.0005);
/// # Ok::<(), legwork::Error>(())
/// ```
///
/// # Errors
/// [`Error::OutOfRange`] above [`Ohms::MAX`]; no gauge, length and temperature in range lead there.
pub fn resistance(size: Awg, length: Length, metal: Metal, temperature: Temperature) -> Result<Ohms, Error> {
    let diameter = diameter_mm(size);
    let area = core::f32::consts::FRAC_PI_4 * diameter * diameter;
    let kelvins = temperature.celsius() - Temperature::REFERENCE.celsius();
    Ohms::new(metal.resistivity() * length.metres() / area * (1.0 + metal.per_kelvin() * kelvins))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may panic")]
mod tests {
    use super::*;

    /// f32 rounding as a fraction: powf's 1 ulp counts twice in d², with as much for the other steps.
    const ROUNDING: f32 = 5e-7;

    /// Ohms of 1000 ft.
    fn ohms(awg: f32, metal: Metal, celsius: f32) -> f32 {
        let (size, length) = (Awg::constant(awg), Length::from_feet(1000.0).unwrap());
        resistance(size, length, metal, Temperature::constant(celsius)).unwrap().ohms()
    }

    fn close(got: f32, want: f32, half_digit: f32) -> bool {
        (got - want).abs() <= half_digit + want * ROUNDING
    }

    #[test]
    fn a_gauge_has_its_diameter() {
        // Mils, worked out in f64, and the size of the centre conductor of series 6 in an encyclopaedia, in mm.
        for (awg, mils) in
            [(14.0, 64.084), (16.0, 50.821), (18.0, 40.303), (20.0, 31.961), (22.0, 25.347), (24.0, 20.101)]
        {
            let got = diameter_mm(Awg::constant(awg)) / 0.0254;
            assert!(close(got, mils, 5e-4), "{awg} AWG: {got}");
        }
        assert!(close(diameter_mm(Awg::constant(18.0)), 1.024, 5e-4));
        // The two sizes that define the gauge: 0.005 in is 36 AWG, 39 steps of the same ratio lead to
        // 0.46 in, 4/0; six steps are nearly a factor of two.
        assert!(close(diameter_mm(Awg::constant(36.0)), 0.127, 1e-7));
        assert!((diameter_mm(Awg::constant(0.0)) / diameter_mm(Awg::constant(6.0)) - 2.005).abs() < 1e-3);
    }

    #[test]
    fn copper_at_20_c_has_the_resistance_of_published_tables() {
        // Ohm per 1000 ft: worked out in f64 from 1/58, and as tabulated (NBS Circular 31, third-hand).
        let rows = [
            (14.0, 2.5254, 2.525, 5e-4),
            (16.0, 4.0156, 4.016, 5e-4),
            (18.0, 6.3850, 6.385, 5e-4),
            (20.0, 10.1526, 10.15, 5e-3),
            (22.0, 16.1432, 16.14, 5e-3),
            (24.0, 25.6688, 25.67, 5e-3),
        ];
        for (awg, exact, tabulated, half_digit) in rows {
            let got = ohms(awg, Metal::Copper, 20.0);
            assert!(close(got, exact, 5e-5) && close(got, tabulated, half_digit), "{awg} AWG: {got}");
        }
    }

    #[test]
    fn copper_and_aluminium_follow_the_temperature_as_in_published_tables() {
        // NEC chapter 9, table 8, ohm per 1000 ft at 75 C, solid, uncoated: half the last digit. It rounds
        // the areas too, to three digits: as much again, 0.25 % at the most.
        for (awg, metal, seen, half_digit) in [
            (18.0, Metal::Copper, 7.77, 5e-3),
            (14.0, Metal::Copper, 3.07, 5e-3),
            (12.0, Metal::Copper, 1.93, 5e-3),
            (10.0, Metal::Copper, 1.21, 5e-3),
            (18.0, Metal::Aluminium, 12.8, 5e-2),
            (14.0, Metal::Aluminium, 5.06, 5e-3),
            (12.0, Metal::Aluminium, 3.18, 5e-3),
            (10.0, Metal::Aluminium, 2.00, 5e-3),
        ] {
            let got = ohms(awg, metal, 75.0);
            assert!((got - seen).abs() <= half_digit + 0.0025 * seen, "{awg} AWG {metal:?}: {got}");
        }
        // Two of them worked out in f64 with our constants.
        assert!(close(ohms(18.0, Metal::Copper, 75.0), 7.765, 5e-4));
        assert!(close(ohms(14.0, Metal::Copper, 75.0), 3.071, 5e-4));
        // An electrician's list without a temperature, consistent with 25 C: half the last digit, and 0.1 %,
        // a quarter of a degree, for what it does not state.
        for (awg, seen, half_digit) in [
            (14.0, 2.573, 5e-4),
            (16.0, 4.091, 5e-4),
            (18.0, 6.505, 5e-4),
            (20.0, 10.34, 5e-3),
            (22.0, 16.45, 5e-3),
            (24.0, 26.15, 5e-3),
        ] {
            let got = ohms(awg, Metal::Copper, 25.0);
            assert!((got - seen).abs() <= half_digit + 1e-3 * seen, "{awg} AWG: {got}");
        }
    }

    #[test]
    fn copper_clad_steel_keeps_below_the_maximum_of_its_standard() {
        // ASTM B869-04 table 1, ohm per 1000 ft at 20 C, the most, which is that of the thinnest wire allowed.
        // Its sizes are gauges in all but name; a wire of nominal size has about 2 % less.
        for (awg, most) in
            [(14.0, 12.249), (15.0, 15.472), (17.0, 24.608), (18.0, 31.024), (20.0, 49.150), (21.0, 62.107)]
        {
            let below = 1.0 - ohms(awg, Metal::CopperCladSteel, 20.0) / most;
            assert!((0.014..0.023).contains(&below), "{awg} AWG: {below}");
        }
    }

    #[test]
    fn four_hundred_feet_have_the_resistance_of_a_published_example() {
        // An electrician's lesson: 18 AWG at 6.505 ohm per 1000 ft (25 C), 400 ft: 2.602 ohm. Tolerance as there.
        let length = Length::from_feet(400.0).unwrap();
        let ohms = resistance(Awg::constant(18.0), length, Metal::Copper, Temperature::constant(25.0)).unwrap();
        assert!((ohms.ohms() - 2.602).abs() <= 5e-4 + 1e-3 * 2.602);
    }

    #[test]
    fn no_length_has_no_resistance_and_no_temperature_makes_it_negative() {
        let at =
            |metres| resistance(Awg::MAX, Length::constant(metres), Metal::CopperCladSteel, Temperature::REFERENCE);
        assert_eq!(at(0.0).unwrap().ohms(), 0.0);
        assert!(resistance(Awg::MAX, Length::MAX, Metal::CopperCladSteel, Temperature::MAX).is_ok());
        // At no temperature that there is does a resistance turn negative.
        let coldest = resistance(Awg::MIN, Length::MAX, Metal::Aluminium, Temperature::MIN).unwrap();
        assert!(coldest.ohms() > 0.0);
    }
}
