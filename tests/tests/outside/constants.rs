//! Physical constants and units against the published set that scipy holds.

use std::collections::BTreeMap;

use legwork::quick::{SPEED_OF_LIGHT_M_PER_S, diameter_mm, echo_from_delay, thermal_floor};
use legwork::{Awg, Frequency, Length, Level, Temperature};

/// What `f32` leaves of a figure worked out in a few steps: two of its steps, as a part.
const NEAR_PART: f64 = 2.4e-7;
/// The same of a level up to 128 dB, and of a temperature up to 128 C.
const NEAR: f64 = 1.6e-5;

/// A figure of the program: its name in the data file, what it is, and how near it has to be.
struct Figure(&'static str, f32, f64);

#[test]
fn constants_and_units_are_the_published_ones() {
    let text = include_str!("../../outside/constants.csv");
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    let mut published: BTreeMap<&str, f64> = lines
        .map(|line| line.rsplit_once(',').expect("two columns"))
        .map(|(what, value)| (what, value.parse().expect("a number")))
        .collect();
    let floor = |mhz: f32| thermal_floor(Frequency::constant(mhz));
    let celsius = |fahrenheit: f32| Temperature::from_fahrenheit(fahrenheit).expect("a temperature").celsius();
    let zero = Level::constant(0.0);
    let figures = [
        Figure("speed of light in m/s", SPEED_OF_LIGHT_M_PER_S, NEAR_PART * 3e8),
        Figure(
            "distance of an echo after 1 us in m",
            echo_from_delay(1e3, 1.0).expect("a length").metres(),
            NEAR_PART * 150.0,
        ),
        Figure("foot in m", Length::from_feet(1.0).expect("a length").metres(), NEAR_PART * 0.3),
        // 36 AWG is 5 mil by definition.
        Figure("mil in mm", diameter_mm(Awg::constant(36.0)) / 5.0, NEAR_PART * 0.03),
        Figure("-40 F in C", celsius(-40.0), NEAR),
        Figure("14 F in C", celsius(14.0), NEAR),
        Figure("68 F in C", celsius(68.0), NEAR),
        Figure("140 F in C", celsius(140.0), NEAR),
        Figure("0 dBmV in W", zero.watts(), NEAR_PART * 1.4e-8),
        Figure("0 dBmV in dBm", zero.dbm(), NEAR),
        // 60 dB from 1 Hz to 1 MHz.
        Figure("thermal noise of 1 Hz in dBm", floor(1.0).dbm() - 60.0, NEAR),
        // A level of 65 dB in f32 has steps of 7.6e-6 dB, 1.8e-6 of its power; two of them.
        Figure("thermal noise of 1 MHz in W", floor(1.0).watts(), 3.6e-6 * 4e-15),
        Figure("thermal noise of 1.0 MHz in dBmV", floor(1.0).dbmv(), NEAR),
        Figure("thermal noise of 4.0 MHz in dBmV", floor(4.0).dbmv(), NEAR),
        Figure("thermal noise of 5.360537 MHz in dBmV", floor(5.360_537).dbmv(), NEAR),
        Figure("thermal noise of 6.952 MHz in dBmV", floor(6.952).dbmv(), NEAR),
    ];
    for Figure(what, found, near) in figures {
        let published = published.remove(what).unwrap_or_else(|| panic!("no {what}"));
        assert!((f64::from(found) - published).abs() <= near, "{what}: {found} against {published}");
    }
    assert!(published.is_empty(), "not looked at: {published:?}");
}
