//! Quantities with their units: each unit against what it is by definition.

use legwork_file::quantity;

/// How far a value of f32 may be from what is printed here: two of its last binary digits.
fn near(value: f32, wanted: f64) -> bool {
    (f64::from(value) - wanted).abs() <= wanted.abs() * f64::from(f32::EPSILON) * 2.0
}

/// Reads each text and holds its value against the one beside it.
fn hold<T, E>(read: impl Fn(&str) -> Result<T, E>, value: impl Fn(T) -> f32, cases: &[(&str, f64)]) {
    for (text, wanted) in cases {
        let Ok(read) = read(text) else { panic!("`{text}` is refused") };
        let value = value(read);
        assert!(near(value, *wanted), "`{text}` is {value}, not {wanted}");
    }
}

#[test]
fn levels() {
    // dBmV are 20 log10 of the millivolts; dBuV are 60 more, 20 log10 of a thousand; a power is U^2 / 75 ohm.
    let of_milliwatts = |milliwatts: f64| 20.0 * (1000.0 * (milliwatts * 1e-3 * 75.0).sqrt()).log10();
    hold(
        quantity::level,
        |level| level.dbmv(),
        &[
            ("-3.5 dBmV", -3.5),
            ("57 dBuV", -3.0),
            ("1 mV", 0.0),
            ("20 mV", 20.0 * 20f64.log10()),
            ("0.1 V", 40.0),
            ("1 mW", of_milliwatts(1.0)),
            ("2 mW", of_milliwatts(2.0)),
            ("0.25 W", of_milliwatts(250.0)),
            ("0 dBm", of_milliwatts(1.0)),
            ("-10 dBm", of_milliwatts(0.1)),
        ],
    );
}

#[test]
fn electric_quantities() {
    hold(quantity::ohms, |value| value.ohms(), &[("2.5 ohm", 2.5), ("2500 mohm", 2.5), ("400 mohm", 0.4)]);
    hold(quantity::volts, |value| value.volts(), &[("15 V", 15.0), ("1500 mV", 1.5)]);
    hold(quantity::amps, |value| value.amps(), &[("2 A", 2.0), ("450 mA", 0.45)]);
}

#[test]
fn lengths_and_frequencies() {
    // A foot is 0.3048 m, by definition; an inch the twelfth of it.
    hold(
        quantity::length,
        |(length, _)| length.metres(),
        &[("10 ft", 3.048), ("12 ft 6 in", 3.81), ("30 in", 0.762), ("2.5 m", 2.5), ("0.25 km", 250.0)],
    );
    hold(
        quantity::frequency,
        |frequency| frequency.mhz(),
        &[("57 MHz", 57.0), ("57000 kHz", 57.0), ("1.5 GHz", 1500.0), ("57000000 Hz", 57.0)],
    );
}

#[test]
fn a_channel_is_a_whole_number() {
    for text in ["ch 2.5", "ch 0", "ch 0.5", "ch 256", "ch 1000", "ch -2", "ch 2 3", "ch"] {
        assert!(quantity::frequency(text).is_err(), "`{text}` is taken");
    }
    assert!(quantity::frequency("ch 2").is_ok());
}

#[test]
fn a_split_comes_in_every_unit_of_frequency_and_rises() {
    for text in ["42/54 MHz", "0.042/0.054 GHz", "42000/54000 kHz", "42000000/54000000 Hz"] {
        let split = quantity::split(text).unwrap_or_else(|bad| panic!("{text}: {bad}"));
        assert!(near(split.return_top.mhz(), 42.0) && near(split.forward_bottom.mhz(), 54.0), "{text}: {split:?}");
    }
    for text in ["54/42 MHz", "54/54 MHz"] {
        assert!(quantity::split(text).is_err(), "{text}");
    }
}

#[test]
fn a_unit_is_meant_only_where_the_field_takes_it() {
    let meant = |text: &str| quantity::length(text).expect_err(text).meant(text);
    assert_eq!(meant("40 feet").as_deref(), Some("40 ft"));
    assert_eq!(meant("40 ff").as_deref(), Some("40 ft"));
    // Near a unit, but to none of length.
    for text in ["40 ohms", "40 volts", "40 MHzz", "40 V"] {
        assert_eq!(meant(text), None, "{text}");
    }
}
