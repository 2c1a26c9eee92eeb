//! Directional couplers.
//!
//! Tap, through and isolation in dB over 5 to 1675 MHz: what the trade reckons with, no one
//! maker's figures. What the tap takes is missing on the way through: without any loss in it,
//! a coupler of T dB has -10·log₁₀(1 - 10^(-T/10)) there, 1.26 dB for 6 dB, 0.58 for 9,
//! 0.28 for 12 and 0.11 for 16; a real one adds some tenths, more with frequency.

use super::source::{Source, Trust};
use super::{CLASS_1, NO_DC, PASSIVE_BAND, at, named};
use crate::{Coupler, Curve, Db, Ohms, Point};

/// Names of the built-in couplers in a premises file: the loss to the tap.
pub const COUPLERS: &[&str] = &["6-dB", "9-dB", "12-dB", "16-dB"];

/// The built-in coupler of that name, letter case ignored.
///
/// ```
/// use legwork::tables;
/// assert_eq!(tables::coupler("9-db"), Some(&tables::COUPLER_9));
/// assert_eq!(tables::coupler("7-dB"), None);
/// ```
#[must_use]
pub fn coupler(name: &str) -> Option<&'static Coupler<'static>> {
    named(&[("6-dB", &COUPLER_6), ("9-dB", &COUPLER_9), ("12-dB", &COUPLER_12), ("16-dB", &COUPLER_16)], name)
}

const fn passive(tap: &'static [Point], through: &'static [Point], isolation: &'static [Point]) -> Coupler<'static> {
    Coupler {
        tap: Curve::table(tap),
        through: Curve::table(through),
        spread: Db::ZERO,
        isolation: Curve::table(isolation),
        dc_through: false,
        dc_tap: false,
        dc_ohms: Ohms::constant(0.0),
        band: PASSIVE_BAND,
    }
}

/// 6 dB to the tap.
pub static COUPLER_6: Coupler<'static> = passive(&TAP_6, &THROUGH_6, &ISOLATION_6_9);
/// 9 dB to the tap.
pub static COUPLER_9: Coupler<'static> = passive(&TAP_9, &THROUGH_9, &ISOLATION_6_9);
/// 12 dB to the tap.
pub static COUPLER_12: Coupler<'static> = passive(&TAP_12, &THROUGH_12, &ISOLATION_12_16);
/// 16 dB to the tap.
pub static COUPLER_16: Coupler<'static> = passive(&TAP_16, &THROUGH_16, &ISOLATION_12_16);

static TAP_6: [Point; 6] =
    [at(5.0, 6.2), at(54.0, 6.0), at(550.0, 6.2), at(1002.0, 6.5), at(1218.0, 6.8), at(1675.0, 7.5)];
static THROUGH_6: [Point; 6] =
    [at(5.0, 1.9), at(54.0, 1.8), at(550.0, 2.0), at(1002.0, 2.3), at(1218.0, 2.6), at(1675.0, 3.2)];

static TAP_9: [Point; 6] =
    [at(5.0, 9.2), at(54.0, 9.0), at(550.0, 9.2), at(1002.0, 9.5), at(1218.0, 9.8), at(1675.0, 10.5)];
static THROUGH_9: [Point; 6] =
    [at(5.0, 1.2), at(54.0, 1.1), at(550.0, 1.3), at(1002.0, 1.6), at(1218.0, 1.9), at(1675.0, 2.5)];

static TAP_12: [Point; 6] =
    [at(5.0, 12.2), at(54.0, 12.0), at(550.0, 12.2), at(1002.0, 12.5), at(1218.0, 12.8), at(1675.0, 13.5)];
static THROUGH_12: [Point; 6] =
    [at(5.0, 0.8), at(54.0, 0.7), at(550.0, 0.9), at(1002.0, 1.2), at(1218.0, 1.5), at(1675.0, 2.1)];

static TAP_16: [Point; 6] =
    [at(5.0, 16.2), at(54.0, 16.0), at(550.0, 16.2), at(1002.0, 16.5), at(1218.0, 16.8), at(1675.0, 17.5)];
static THROUGH_16: [Point; 6] =
    [at(5.0, 0.6), at(54.0, 0.5), at(550.0, 0.7), at(1002.0, 1.0), at(1218.0, 1.3), at(1675.0, 1.9)];

static ISOLATION_6_9: [Point; 6] =
    [at(5.0, 24.0), at(54.0, 28.0), at(550.0, 26.0), at(1002.0, 23.0), at(1125.0, 22.0), at(1675.0, 18.0)];
static ISOLATION_12_16: [Point; 6] =
    [at(5.0, 26.0), at(54.0, 30.0), at(550.0, 28.0), at(1002.0, 25.0), at(1125.0, 24.0), at(1675.0, 20.0)];

const TAP: &str = "the coupler's nominal value, rising by half a dB to 1002 MHz";
const THROUGH: &str = "what the tap leaves over, -10*log10(1 - 10^(-tap/10)), and some tenths of a dB lost inside";
const ISOLATION: &str = "round figures of the trade";

const fn row(name: &'static str, what: &'static str, source: &'static str) -> Source {
    Source::new("coupler", name, what, source, Trust::Practice)
}

/// The band, by the standard's scope.
const fn class_1(name: &'static str) -> Source {
    Source::new("coupler", name, "band", CLASS_1, Trust::Seen)
}

/// Where the tables come from.
pub(super) static SOURCES: [Source; 20] = [
    row("6-dB", "loss to the tap", TAP),
    row("6-dB", "loss through", THROUGH),
    row("6-dB", "isolation", ISOLATION),
    row("6-dB", "DC", NO_DC),
    class_1("6-dB"),
    row("9-dB", "loss to the tap", TAP),
    row("9-dB", "loss through", THROUGH),
    row("9-dB", "isolation", ISOLATION),
    row("9-dB", "DC", NO_DC),
    class_1("9-dB"),
    row("12-dB", "loss to the tap", TAP),
    row("12-dB", "loss through", THROUGH),
    row("12-dB", "isolation", ISOLATION),
    row("12-dB", "DC", NO_DC),
    class_1("12-dB"),
    row("16-dB", "loss to the tap", TAP),
    row("16-dB", "loss through", THROUGH),
    row("16-dB", "isolation", ISOLATION),
    row("16-dB", "DC", NO_DC),
    class_1("16-dB"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Frequency;

    const EVERY: [(&Coupler<'static>, f32); 4] =
        [(&COUPLER_6, 6.0), (&COUPLER_9, 9.0), (&COUPLER_12, 12.0), (&COUPLER_16, 16.0)];
    const SAMPLES: [f32; 10] = [5.0, 42.0, 54.0, 204.0, 550.0, 860.0, 1002.0, 1125.0, 1218.0, 1675.0];

    #[test]
    fn the_tap_stands_by_its_name_through_the_band() {
        for (spec, nominal) in EVERY {
            for mhz in SAMPLES.into_iter().filter(|mhz| *mhz <= 1002.0) {
                let above = spec.tap.at(Frequency::constant(mhz)) - nominal;
                assert!((0.0..=0.501).contains(&above), "{nominal} dB, {mhz} MHz: {above}");
            }
        }
    }

    #[test]
    fn no_coupler_gives_out_more_power_than_it_takes_in() {
        for (spec, nominal) in EVERY {
            for mhz in SAMPLES {
                let at = Frequency::constant(mhz);
                let ratio = |db: f32| libm::powf(10.0, -db / 10.0);
                // What is lost inside, in dB: some tenths, not dBs.
                let inside = -10.0 * libm::log10f(ratio(spec.tap.at(at)) + ratio(spec.through.at(at)));
                assert!((0.2..2.0).contains(&inside), "{nominal} dB, {mhz} MHz: {inside}");
            }
        }
    }

    #[test]
    fn the_smaller_the_tap_the_less_is_lost_on_the_way_through() {
        for mhz in SAMPLES {
            let through = EVERY.map(|(spec, _)| spec.through.at(Frequency::constant(mhz)));
            assert!(through.is_sorted_by(|small, large| small > large), "{mhz} MHz: {through:?}");
        }
    }

    #[test]
    fn isolation_exceeds_what_reaches_the_tap() {
        for (spec, nominal) in EVERY {
            for mhz in SAMPLES {
                let at = Frequency::constant(mhz);
                let isolation = spec.isolation.at(at);
                assert!(isolation > spec.tap.at(at), "{nominal} dB, {mhz} MHz: {isolation}");
                assert!(mhz > 1125.0 || (20.0..=30.0).contains(&isolation), "{nominal} dB, {mhz} MHz: {isolation}");
            }
        }
    }
}
