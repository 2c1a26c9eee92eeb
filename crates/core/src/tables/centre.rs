//! The centre conductor of a drop cable: a round wire.

/// The length that every row of a cable is for, in metres: 100 ft.
pub(super) const PER: f32 = 100.0 * crate::METRES_PER_FOOT;
/// Conductivity of copper-clad steel as a part of copper's: ASTM B869, 21 % IACS.
pub(super) const COPPER_CLAD_STEEL: f32 = 0.21;
/// Resistivity of annealed copper at 20 °C in ohm·mm²/m: IEC 60028, conductivity 58 m/(ohm·mm²).
const COPPER: f32 = 1.0 / 58.0;

/// Diameter of 14 AWG in millimetres by the AWG formula, 0.127·92^((36-n)/39).
pub(super) const AWG_14: f32 = 1.627_727;
/// Diameter of 16 AWG in millimetres.
pub(super) const AWG_16: f32 = 1.290_846;
/// Diameter of 18 AWG in millimetres.
pub(super) const AWG_18: f32 = 1.023_687;
/// Diameter of 20 AWG in millimetres.
pub(super) const AWG_20: f32 = 0.811_821;

/// Resistance of 100 ft of a round wire: ρ·l/(σ·π·d²/4), σ as a part of copper's conductivity.
pub(super) const fn wire_ohms(diameter: f32, conductivity: f32) -> f32 {
    COPPER * PER / (conductivity * core::f32::consts::FRAC_PI_4 * diameter * diameter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn copper_wires_have_the_resistance_of_published_tables() {
        // Annealed copper, ohm per 1000 ft at 20 C, as in NBS Circular 31 (quoted third-hand): AWG,
        // our diameter, ohms, half the last printed digit.
        for (number, diameter, seen, half) in [
            (14.0, AWG_14, 2.525, 5e-4),
            (16.0, AWG_16, 4.016, 5e-4),
            (18.0, AWG_18, 6.385, 5e-4),
            (20.0, AWG_20, 10.15, 5e-3),
        ] {
            let formula = 0.127 * libm::powf(92.0, (36.0 - number) / 39.0);
            assert!((diameter - formula).abs() <= 2e-6, "{diameter} against {formula}");
            let ohms = 10.0 * wire_ohms(diameter, 1.0);
            assert!((ohms - seen).abs() <= half, "{ohms} against {seen}");
        }
    }

    #[test]
    fn copper_clad_steel_has_the_resistance_of_its_standard() {
        // ASTM B869-04 Table 1, copper-clad steel, the most ohm per 1000 ft at 20 C: diameter in
        // inches, its tolerance, ohms. The published maximum is that of the thinnest wire allowed;
        // half the last digit, and 0.01 % for the constants it was worked out with.
        for (inches, tolerance, seen) in [
            (0.0641, 0.0006, 12.249),
            (0.0571, 0.0006, 15.472),
            (0.0453, 0.0005, 24.608),
            (0.0403, 0.0004, 31.024),
            (0.0320, 0.0003, 49.150),
            (0.0285, 0.0003, 62.107),
        ] {
            let ohms = 10.0 * wire_ohms((inches - tolerance) * 25.4, COPPER_CLAD_STEEL);
            assert!((ohms - seen).abs() <= 5e-4 + 1e-4 * seen, "{ohms} against {seen}");
        }
    }
}
