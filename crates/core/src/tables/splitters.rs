//! Splitters.
//!
//! Loss and isolation in dB over 5 to 1675 MHz: what the trade reckons with, no one maker's
//! figures. The ideal split 10·log₁₀(N) is the floor of each; what a real one adds grows with
//! frequency, and faster beyond the 1002 MHz that its class promises.

use super::source::{Source, Trust};
use super::{CLASS_1, LIKE_CLASS_1, NO_DC, PASSIVE_BAND, at, named};
use crate::{Curve, Db, Legs, Ohms, Point, Splitter};

/// Names of the built-in splitters in a premises file.
pub const SPLITTERS: &[&str] = &["2-way", "3-way", "3-way-unequal", "4-way", "6-way", "8-way"];

/// The built-in splitter of that name, letter case ignored.
///
/// ```
/// use legwork::tables;
/// assert_eq!(tables::splitter("3-way-unequal").map(|spec| spec.count()), Some(3));
/// assert_eq!(tables::splitter("5-way"), None);
/// ```
#[must_use]
pub fn splitter(name: &str) -> Option<&'static Splitter<'static>> {
    named(
        &[
            ("2-way", &SPLITTER_2),
            ("3-way", &SPLITTER_3),
            ("3-way-unequal", &SPLITTER_3_UNEQUAL),
            ("4-way", &SPLITTER_4),
            ("6-way", &SPLITTER_6),
            ("8-way", &SPLITTER_8),
        ],
        name,
    )
}

const fn passive(legs: Legs<'static>, isolation: &'static [Point]) -> Splitter<'static> {
    Splitter {
        legs,
        spread: Db::ZERO,
        isolation: Curve::table(isolation),
        dc_pass: 0,
        dc_ohms: Ohms::constant(0.0),
        band: PASSIVE_BAND,
    }
}

/// Two ways, alike.
pub static SPLITTER_2: Splitter<'static> = passive(Legs::Alike(2, Curve::table(&LOSS_2)), &ISOLATION_2);
/// Three ways, alike.
pub static SPLITTER_3: Splitter<'static> = passive(Legs::Alike(3, Curve::table(&LOSS_3)), &ISOLATION_3_4);
/// Three ways: the first leg as of a 2-way, the other two as of a 4-way.
pub static SPLITTER_3_UNEQUAL: Splitter<'static> = passive(Legs::Each(&UNEQUAL), &ISOLATION_3_4);
/// Four ways, alike.
pub static SPLITTER_4: Splitter<'static> = passive(Legs::Alike(4, Curve::table(&LOSS_4)), &ISOLATION_3_4);
/// Six ways, alike.
pub static SPLITTER_6: Splitter<'static> = passive(Legs::Alike(6, Curve::table(&LOSS_6)), &ISOLATION_6_8);
/// Eight ways, alike.
pub static SPLITTER_8: Splitter<'static> = passive(Legs::Alike(8, Curve::table(&LOSS_8)), &ISOLATION_6_8);

/// Inside, a 2-way with another behind its second leg.
static UNEQUAL: [Curve<'static>; 3] = [Curve::table(&LOSS_2), Curve::table(&LOSS_4), Curve::table(&LOSS_4)];

static LOSS_2: [Point; 8] = [
    at(5.0, 3.6),
    at(54.0, 3.5),
    at(300.0, 3.6),
    at(750.0, 3.8),
    at(1002.0, 4.0),
    at(1125.0, 4.1),
    at(1218.0, 4.2),
    at(1675.0, 4.7),
];

static LOSS_3: [Point; 8] = [
    at(5.0, 5.6),
    at(54.0, 5.5),
    at(300.0, 5.6),
    at(750.0, 5.8),
    at(1002.0, 6.0),
    at(1125.0, 6.2),
    at(1218.0, 6.3),
    at(1675.0, 7.0),
];

static LOSS_4: [Point; 8] = [
    at(5.0, 7.1),
    at(54.0, 7.0),
    at(300.0, 7.1),
    at(750.0, 7.3),
    at(1002.0, 7.5),
    at(1125.0, 7.7),
    at(1218.0, 7.9),
    at(1675.0, 8.5),
];

static LOSS_6: [Point; 8] = [
    at(5.0, 9.0),
    at(54.0, 8.8),
    at(300.0, 8.9),
    at(750.0, 9.1),
    at(1002.0, 9.4),
    at(1125.0, 9.6),
    at(1218.0, 9.8),
    at(1675.0, 10.4),
];

static LOSS_8: [Point; 8] = [
    at(5.0, 10.6),
    at(54.0, 10.5),
    at(300.0, 10.6),
    at(750.0, 10.8),
    at(1002.0, 11.0),
    at(1125.0, 11.2),
    at(1218.0, 11.4),
    at(1675.0, 11.9),
];

static ISOLATION_2: [Point; 6] =
    [at(5.0, 24.0), at(54.0, 28.0), at(550.0, 27.0), at(1002.0, 23.0), at(1125.0, 21.0), at(1675.0, 16.0)];

static ISOLATION_3_4: [Point; 6] =
    [at(5.0, 24.0), at(54.0, 28.0), at(550.0, 26.0), at(1002.0, 23.0), at(1125.0, 22.0), at(1675.0, 17.0)];

static ISOLATION_6_8: [Point; 6] =
    [at(5.0, 23.0), at(54.0, 27.0), at(550.0, 25.0), at(1002.0, 22.0), at(1125.0, 20.0), at(1675.0, 16.0)];

const CHECKED_2: &str = "round figures of the trade; published: 3.5 dB, and 4.1 dB at 1125 MHz (third-hand)";
const CHECKED_3_UNEQUAL: &str = "round figures of the trade; published: 3.5, 7 and 7 dB";
const CHECKED_4: &str = "round figures of the trade; published: 7 dB";
const CHECKED_8: &str = "round figures of the trade; published: 10.5 dB";
const ABOVE_IDEAL: &str = "round figures of the trade, above the ideal split 10*log10(N)";
const ISOLATION: &str = "round figures of the trade; published: 20 to 25 dB, and 27 to 35 dB below 500 MHz";

const fn row(name: &'static str, what: &'static str, source: &'static str) -> Source {
    Source::new("splitter", name, what, source, Trust::Practice)
}

/// The band of those that the standard's scope names.
const fn class_1(name: &'static str) -> Source {
    Source::new("splitter", name, "band", CLASS_1, Trust::Seen)
}

/// Where the tables come from.
pub(super) static SOURCES: [Source; 24] = [
    row("2-way", "loss", CHECKED_2),
    row("2-way", "isolation", ISOLATION),
    row("2-way", "DC", NO_DC),
    class_1("2-way"),
    row("3-way", "loss", ABOVE_IDEAL),
    row("3-way", "isolation", ISOLATION),
    row("3-way", "DC", NO_DC),
    class_1("3-way"),
    row("3-way-unequal", "loss", CHECKED_3_UNEQUAL),
    row("3-way-unequal", "isolation", ISOLATION),
    row("3-way-unequal", "DC", NO_DC),
    class_1("3-way-unequal"),
    row("4-way", "loss", CHECKED_4),
    row("4-way", "isolation", ISOLATION),
    row("4-way", "DC", NO_DC),
    class_1("4-way"),
    row("6-way", "loss", ABOVE_IDEAL),
    row("6-way", "isolation", ISOLATION),
    row("6-way", "DC", NO_DC),
    row("6-way", "band", LIKE_CLASS_1),
    row("8-way", "loss", CHECKED_8),
    row("8-way", "isolation", ISOLATION),
    row("8-way", "DC", NO_DC),
    class_1("8-way"),
];

#[cfg(test)]
#[allow(clippy::expect_used, reason = "a test may panic")]
mod tests {
    use super::*;
    use crate::Frequency;

    const EVERY: [&Splitter<'static>; 6] =
        [&SPLITTER_2, &SPLITTER_3, &SPLITTER_3_UNEQUAL, &SPLITTER_4, &SPLITTER_6, &SPLITTER_8];
    const SAMPLES: [f32; 10] = [5.0, 42.0, 54.0, 204.0, 550.0, 860.0, 1002.0, 1125.0, 1218.0, 1675.0];

    fn loss(spec: &Splitter<'_>, leg: u8, mhz: f32) -> f32 {
        spec.loss(leg).expect("the leg exists").at(Frequency::constant(mhz))
    }

    #[test]
    fn no_splitter_gives_out_more_power_than_it_takes_in() {
        for spec in EVERY {
            for mhz in SAMPLES {
                let out: f32 = (0..spec.count()).map(|leg| libm::powf(10.0, -loss(spec, leg, mhz) / 10.0)).sum();
                assert!(out < 1.0, "{}-way, {mhz} MHz: {out}", spec.count());
            }
        }
    }

    #[test]
    fn legs_alike_never_lose_less_than_the_ideal_split() {
        // 10*log10(N), worked out to two decimals.
        for (spec, ideal) in
            [(&SPLITTER_2, 3.01), (&SPLITTER_3, 4.77), (&SPLITTER_4, 6.02), (&SPLITTER_6, 7.78), (&SPLITTER_8, 9.03)]
        {
            for mhz in SAMPLES {
                let excess = loss(spec, 0, mhz) - ideal;
                assert!((0.4..3.0).contains(&excess), "{}-way, {mhz} MHz: {excess}", spec.count());
            }
        }
    }

    #[test]
    fn losses_stand_where_published_single_figures_stand() {
        // A page that copies an equipment maker's help text, brand withheld: 2-way 3.5 dB, 4-way 7.0,
        // 8-way 10.5, unequal 3-way 3.5, 7.0 and 7.0, "broadband": half a dB over 5 to 1002 MHz.
        for (spec, leg, seen) in [
            (&SPLITTER_2, 0, 3.5),
            (&SPLITTER_4, 3, 7.0),
            (&SPLITTER_8, 7, 10.5),
            (&SPLITTER_3_UNEQUAL, 0, 3.5),
            (&SPLITTER_3_UNEQUAL, 1, 7.0),
            (&SPLITTER_3_UNEQUAL, 2, 7.0),
        ] {
            for mhz in SAMPLES.into_iter().filter(|mhz| *mhz <= 1002.0) {
                let above = loss(spec, leg, mhz) - seen;
                assert!((0.0..=0.501).contains(&above), "{}-way, {mhz} MHz: {above}", spec.count());
            }
        }
        // Quoted third-hand: a 2-way loses 4.1 dB at 1125 MHz.
        assert!((loss(&SPLITTER_2, 0, 1125.0) - 4.1).abs() <= 0.05);
        // The trade's rule for the whole span: a 2-way about 4 dB, an 8-way about 11 dB, within 1 dB.
        for mhz in SAMPLES {
            assert!((loss(&SPLITTER_2, 0, mhz) - 4.0).abs() <= 1.0);
            assert!((loss(&SPLITTER_8, 0, mhz) - 11.0).abs() <= 1.0);
        }
    }

    #[test]
    fn isolation_is_20_to_30_db_in_band_and_less_at_the_top() {
        for spec in EVERY {
            for mhz in SAMPLES {
                let isolation = spec.isolation.at(Frequency::constant(mhz));
                let range = if mhz <= 1125.0 { 20.0..=30.0 } else { 15.0..=22.0 };
                assert!(range.contains(&isolation), "{}-way, {mhz} MHz: {isolation}", spec.count());
                assert!(isolation > loss(spec, 0, mhz));
            }
        }
    }

    #[test]
    fn there_is_no_leg_beyond_the_last_and_none_passes_dc() {
        for (spec, legs) in EVERY.into_iter().zip([2, 3, 3, 4, 6, 8]) {
            assert_eq!(spec.count(), legs);
            assert!(spec.loss(legs - 1).is_some() && spec.loss(legs).is_none());
            assert_eq!(spec.dc_pass, 0);
        }
    }
}
