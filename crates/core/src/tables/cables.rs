//! Drop cables.
//!
//! Printed unit of the loss tables: dB per 100 ft (30.48 m) at 68 °F (20 °C), the maximum a
//! drop cable may have. Up to 1000 MHz the rows are recalled from ANSI/SCTE 74, whose table
//! could not be read again; above, they continue c₀ + a·√f + b·f, fitted to those rows by
//! least squares. Rows left out: none.

use super::centre::{AWG_14, AWG_16, AWG_18, AWG_20, COPPER_CLAD_STEEL, PER, wire_ohms};
use super::source::{Source, Trust};
use super::{at, named};
use crate::{Cable, Curve, Length, Ohms, Percent, Point};

/// Names of the built-in cables in a premises file. `rg59`, `rg6`, `rg7` and `rg11` are other
/// names of those with a steel-cored centre conductor.
pub const CABLES: &[&str] = &["series-59", "series-6", "series-6-copper", "series-7", "series-11"];

/// The built-in cable of that name, letter case ignored.
///
/// ```
/// use legwork::tables;
/// assert_eq!(tables::cable("RG6"), Some(&tables::SERIES_6));
/// assert_eq!(tables::cable("series-8"), None);
/// ```
#[must_use]
pub fn cable(name: &str) -> Option<&'static Cable<'static>> {
    named(
        &[
            ("series-59", &SERIES_59),
            ("series-6", &SERIES_6),
            ("series-6-copper", &SERIES_6_COPPER),
            ("series-7", &SERIES_7),
            ("series-11", &SERIES_11),
            ("rg59", &SERIES_59),
            ("rg6", &SERIES_6),
            ("rg7", &SERIES_7),
            ("rg11", &SERIES_11),
        ],
        name,
    )
}

/// Gas-foamed polyethylene, as a part of the velocity of light.
const VELOCITY: f32 = 0.85;

/// A cable from its loss, its centre conductor and its shield, both in ohms per 100 ft.
const fn drop(loss: &'static [Point], centre: f32, shield: f32) -> Cable<'static> {
    Cable {
        loss: Curve::table(loss),
        per: Length::constant(PER),
        loop_resistance: Ohms::constant(centre + shield),
        velocity: VELOCITY,
        spread: Percent::constant(0.0),
        band: None,
    }
}

/// Series 59: the thin cable of older houses.
pub static SERIES_59: Cable<'static> = drop(&LOSS_59, wire_ohms(AWG_20, COPPER_CLAD_STEEL), 0.95);
/// Series 6: the usual drop and house cable, with a copper-clad steel centre.
pub static SERIES_6: Cable<'static> = drop(&LOSS_6, wire_ohms(AWG_18, COPPER_CLAD_STEEL), 0.75);
/// Series 6 with a solid copper centre, for powering over the coax.
pub static SERIES_6_COPPER: Cable<'static> = drop(&LOSS_6, wire_ohms(AWG_18, 1.0), 0.75);
/// Series 7: between series 6 and series 11.
pub static SERIES_7: Cable<'static> = drop(&LOSS_7, wire_ohms(AWG_16, COPPER_CLAD_STEEL), 0.60);
/// Series 11: the thick cable of long drops.
pub static SERIES_11: Cable<'static> = drop(&LOSS_11, wire_ohms(AWG_14, COPPER_CLAD_STEEL), 0.45);

/// Above 1000 MHz: 0.358 + 0.22610·√f + 5.79e-4·f.
static LOSS_59: [Point; 20] = [
    at(5.0, 0.86),
    at(55.0, 2.05),
    at(83.0, 2.45),
    at(187.0, 3.60),
    at(211.0, 3.80),
    at(250.0, 4.10),
    at(300.0, 4.45),
    at(350.0, 4.80),
    at(400.0, 5.10),
    at(450.0, 5.40),
    at(500.0, 5.70),
    at(550.0, 5.95),
    at(600.0, 6.20),
    at(750.0, 6.97),
    at(865.0, 7.52),
    at(1000.0, 8.12),
    at(1125.0, 8.59),
    at(1218.0, 8.95),
    at(1500.0, 9.98),
    at(1794.0, 10.97),
];

/// Above 1000 MHz: 0.136 + 0.19618·√f + 2.22e-4·f.
static LOSS_6: [Point; 20] = [
    at(5.0, 0.58),
    at(55.0, 1.60),
    at(83.0, 1.95),
    at(187.0, 2.85),
    at(211.0, 3.05),
    at(250.0, 3.30),
    at(300.0, 3.55),
    at(350.0, 3.85),
    at(400.0, 4.15),
    at(450.0, 4.40),
    at(500.0, 4.66),
    at(550.0, 4.90),
    at(600.0, 5.10),
    at(750.0, 5.65),
    at(865.0, 6.10),
    at(1000.0, 6.55),
    at(1125.0, 6.97),
    at(1218.0, 7.25),
    at(1500.0, 8.07),
    at(1794.0, 8.84),
];

/// Four rows are all that was recalled. Above 1000 MHz: 0.136 + 0.14665·√f + 5.49e-4·f.
static LOSS_7: [Point; 8] = [
    at(5.0, 0.47),
    at(55.0, 1.25),
    at(750.0, 4.57),
    at(1000.0, 5.32),
    at(1125.0, 5.67),
    at(1218.0, 5.92),
    at(1500.0, 6.64),
    at(1794.0, 7.33),
];

/// Above 1000 MHz: 0.150 + 0.10554·√f + 8.26e-4·f.
static LOSS_11: [Point; 20] = [
    at(5.0, 0.38),
    at(55.0, 0.96),
    at(83.0, 1.18),
    at(187.0, 1.75),
    at(211.0, 1.90),
    at(250.0, 2.05),
    at(300.0, 2.25),
    at(350.0, 2.42),
    at(400.0, 2.60),
    at(450.0, 2.75),
    at(500.0, 2.90),
    at(550.0, 3.04),
    at(600.0, 3.18),
    at(750.0, 3.65),
    at(865.0, 3.98),
    at(1000.0, 4.35),
    at(1125.0, 4.62),
    at(1218.0, 4.84),
    at(1500.0, 5.48),
    at(1794.0, 6.10),
];

const TO_1000: &str = "loss to 1000 MHz";
const ABOVE_1000: &str = "loss above 1000 MHz";
const CENTRE: &str = "loop resistance, centre conductor";
const SHIELD: &str = "loop resistance, shield";
const STANDARD: &str = "ANSI/SCTE 74, maximum attenuation of drop cable at 68 F, not re-read";
const WEAK: &str = "ANSI/SCTE 74, maximum attenuation of drop cable at 68 F, not re-read; four rows, weakly recalled";
const FIT: &str = "c0 + a*sqrt(f) + b*f, least squares through the rows to 1000 MHz (from memory), continued";
const SHIELD_ESTIMATE: &str = "estimate for tape and braid, per 100 ft";
const FOAM: &str = "nominal for gas-foamed drop cable, 0.82 to 0.85";

const fn row(name: &'static str, what: &'static str, source: &'static str, trust: Trust) -> Source {
    Source::new("cable", name, what, source, trust)
}

/// Where the tables come from.
pub(super) static SOURCES: [Source; 25] = [
    row("series-59", TO_1000, STANDARD, Trust::Memory),
    row("series-59", ABOVE_1000, FIT, Trust::Derived),
    row("series-59", CENTRE, "20 AWG from memory; by the AWG formula, 21 % IACS (ASTM B869)", Trust::Memory),
    row("series-59", SHIELD, SHIELD_ESTIMATE, Trust::Practice),
    row("series-59", "velocity", FOAM, Trust::Memory),
    row("series-6", TO_1000, STANDARD, Trust::Memory),
    row("series-6", ABOVE_1000, FIT, Trust::Derived),
    row("series-6", CENTRE, "18 AWG by the AWG formula, 21 % IACS (ASTM B869)", Trust::Derived),
    row("series-6", SHIELD, SHIELD_ESTIMATE, Trust::Practice),
    row("series-6", "velocity", FOAM, Trust::Memory),
    row("series-6-copper", TO_1000, "as series-6: the same maximum holds for either centre", Trust::Memory),
    row("series-6-copper", ABOVE_1000, FIT, Trust::Derived),
    row("series-6-copper", CENTRE, "18 AWG by the AWG formula, copper 1/58 ohm mm2/m (IEC 60028)", Trust::Derived),
    row("series-6-copper", SHIELD, SHIELD_ESTIMATE, Trust::Practice),
    row("series-6-copper", "velocity", FOAM, Trust::Memory),
    row("series-7", TO_1000, WEAK, Trust::Memory),
    row("series-7", ABOVE_1000, FIT, Trust::Derived),
    row("series-7", CENTRE, "16 AWG from memory; by the AWG formula, 21 % IACS (ASTM B869)", Trust::Memory),
    row("series-7", SHIELD, SHIELD_ESTIMATE, Trust::Practice),
    row("series-7", "velocity", FOAM, Trust::Memory),
    row("series-11", TO_1000, STANDARD, Trust::Memory),
    row("series-11", ABOVE_1000, FIT, Trust::Derived),
    row("series-11", CENTRE, "14 AWG from memory; by the AWG formula, 21 % IACS (ASTM B869)", Trust::Memory),
    row("series-11", SHIELD, SHIELD_ESTIMATE, Trust::Practice),
    row("series-11", "velocity", FOAM, Trust::Memory),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Frequency;

    fn loss(cable: &Cable<'_>, mhz: f32) -> f32 {
        cable.loss.at_square_root(Frequency::constant(mhz))
    }

    #[test]
    fn series_6_agrees_with_typical_figures_of_an_equipment_makers_help_article() {
        // Brand withheld; dB per 100 ft at the visual carriers of channels 2, 13, 14 and 51 (UHF),
        // at 950 and at 2150 MHz. Typical figures against maxima: 0.25 dB.
        let rows = [(55.25, 1.5), (211.25, 3.0), (471.25, 4.5), (693.25, 5.6), (950.0, 6.4), (2150.0, 9.7)];
        for (mhz, seen) in rows {
            assert!((loss(&SERIES_6, mhz) - seen).abs() <= 0.25, "{mhz} MHz: {}", loss(&SERIES_6, mhz));
        }
    }

    #[test]
    fn series_6_keeps_above_a_published_drop_cable_at_750_mhz_by_little() {
        // Tech tip "Coaxial Cable Attenuation Changes versus Temperature": 5.5 dB per 100 ft.
        let above = loss(&SERIES_6, 750.0) - 5.5;
        assert!((0.0..=0.25).contains(&above), "{above}");
    }

    #[test]
    fn rows_above_1000_mhz_follow_the_fit() {
        // Half the last printed digit, and as much for the rounded coefficients.
        for (cable, c0, a, b) in [
            (&SERIES_59, 0.358, 0.226_10, 5.79e-4),
            (&SERIES_6, 0.136, 0.196_18, 2.22e-4),
            (&SERIES_7, 0.136, 0.146_65, 5.49e-4),
            (&SERIES_11, 0.150, 0.105_54, 8.26e-4),
        ] {
            for mhz in [1125.0_f32, 1218.0, 1500.0, 1794.0] {
                let fit = c0 + a * libm::sqrtf(mhz) + b * mhz;
                assert!((loss(cable, mhz) - fit).abs() <= 0.01, "{mhz} MHz: {} against {fit}", loss(cable, mhz));
            }
        }
    }

    #[test]
    fn loss_rises_with_frequency_and_falls_with_thickness() {
        for points in [&LOSS_59[..], &LOSS_6, &LOSS_7, &LOSS_11] {
            assert!(points.is_sorted_by(|low, high| low.value() < high.value()));
        }
        for mhz in [1.0, 5.0, 42.0, 54.0, 200.0, 550.0, 860.0, 1002.0, 1218.0, 1675.0, 3000.0] {
            let by_thickness = [&SERIES_59, &SERIES_6, &SERIES_7, &SERIES_11].map(|cable| loss(cable, mhz));
            assert!(by_thickness.is_sorted_by(|thin, thick| thin > thick), "{mhz} MHz: {by_thickness:?}");
            assert!(by_thickness.iter().all(|loss| *loss > 0.0), "{mhz} MHz: {by_thickness:?}");
        }
    }

    #[test]
    fn loops_are_the_centre_conductor_and_an_estimated_shield() {
        // Ohm per 100 ft of the loop, centre and shield.
        for (cable, centre, shield) in [
            (&SERIES_59, 4.835, 0.95),
            (&SERIES_6, 3.040, 0.75),
            (&SERIES_6_COPPER, 0.6385, 0.75),
            (&SERIES_7, 1.912, 0.60),
            (&SERIES_11, 1.203, 0.45),
        ] {
            let ohms = cable.loop_resistance.ohms();
            assert!((ohms - centre - shield).abs() <= 6e-4, "{ohms}");
            // Nominal for gas-foamed drop cable: 0.82 to 0.85.
            assert!((0.82..=0.85).contains(&cable.velocity));
        }
    }

    #[test]
    fn trade_names_lead_to_the_steel_cored_cables() {
        for (alias, name) in [("rg59", "series-59"), ("RG6", "series-6"), ("Rg7", "series-7"), ("rg11", "series-11")] {
            assert!(cable(alias).is_some() && cable(alias) == cable(name), "{alias}");
        }
        assert_ne!(cable("rg6"), cable("series-6-copper"));
    }
}
