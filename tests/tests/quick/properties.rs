//! What holds for all figures.

use proptest::prelude::*;

use crate::binary::{figure, figures, figures_of, line};

/// Steps of f32 that a level below 128 may be off by, in dB.
const DB: f64 = 6e-5;

/// How often a property is tried; each case starts the program a few times.
fn cases() -> ProptestConfig {
    ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(cases())]

    #[test]
    fn a_level_comes_back_from_every_unit(dbmv in -60.0f32..60.0) {
        let first = figures(&format!("level {dbmv}dBmV"));
        prop_assert_eq!(first["dbmv"].as_f64().map(|got| got as f32), Some(dbmv));
        for (key, unit) in [("dbuv", "dBuV"), ("dbm", "dBm"), ("volts", "V"), ("watts", "W")] {
            let back = figure(&format!("level {}{unit}", first[key]), "/dbmv");
            prop_assert!((back - f64::from(dbmv)).abs() <= DB, "{dbmv} by {unit}: {back}");
        }
    }

    #[test]
    fn a_sum_of_two_has_no_order_and_adds_at_most_3_db(a in -60.0f32..60.0, b in -60.0f32..60.0) {
        let sum = figure(&format!("sum {a}dBmV {b}dBmV"), "/dbmv");
        prop_assert_eq!(sum, figure(&format!("sum {b}dBmV {a}dBmV"), "/dbmv"));
        let greater = f64::from(a.max(b));
        prop_assert!(sum >= greater - DB && sum <= greater + 3.0103 + DB, "{a} and {b}: {sum}");
    }

    #[test]
    fn a_ripple_and_the_delay_it_stands_for_are_equally_far(mhz in 0.5f32..50.0, velocity in 0.5f32..1.0) {
        let ripple = figures(&format!("echo --ripple {mhz}MHz --velocity {velocity}"));
        // One period of the ripple is one turn of phase over the way there and back.
        let delay = figures(&format!("echo --delay {}ns --velocity {velocity}", 1e3 / f64::from(mhz)));
        for key in ["metres", "feet"] {
            let (a, b) = (ripple[key].as_f64().expect("a number"), delay[key].as_f64().expect("a number"));
            prop_assert!((a - b).abs() <= a * 5e-7, "{key}: {a} and {b}");
        }
    }

    #[test]
    fn a_reflection_makes_the_ripple_it_is_read_from(depth in 0.01f32..20.0) {
        let dbc = figure(&format!("echo --ripple 4MHz --velocity 0.85 --ripple-depth {depth}dB"), "/echo_dbc");
        let ratio = 10f64.powf(dbc / 20.0);
        let back = 20.0 * ((1.0 + ratio) / (1.0 - ratio)).log10();
        prop_assert!((back - f64::from(depth)).abs() <= 1e-4 * f64::from(depth), "{depth} dB: {dbc} dBc, {back} dB");
    }

    #[test]
    fn half_a_wire_has_half_the_ohms(awg in 0u8..40, feet in 1.0f32..1000.0, celsius in -40.0f32..80.0) {
        let ohms = |feet: f32| figure(&format!("wire {awg}AWG {feet}ft --temp {celsius}C"), "/ohms");
        let (whole, half) = (ohms(feet), ohms(feet / 2.0));
        prop_assert!((whole - 2.0 * half).abs() <= whole * 5e-7, "{whole} and {half}");
    }

    #[test]
    fn six_gauges_are_a_factor_of_four(awg in 0u8..34) {
        let ohms = |awg: u8| figure(&format!("wire {awg}AWG 100ft"), "/ohms");
        // 92^(12/39) = 4.02.
        prop_assert!((ohms(awg + 6) / ohms(awg) - 92f64.powf(12.0 / 39.0)).abs() <= 1e-5);
    }

    #[test]
    fn a_cable_is_along_what_it_is_by_itself(feet in 1.0f32..300.0, mhz in 5.0f32..1200.0, celsius in -40.0f32..60.0) {
        let alone = figure(&format!("cable series-11 {feet}ft --at {mhz}MHz --temp {celsius}C"), "/points/0/loss_db");
        let way = format!("along 0dBmV --at {mhz}MHz cable=series-11:{feet}ft --temp {celsius}C");
        prop_assert!((figure(&way, "/steps/0/levels/0/dbmv") + alone).abs() <= DB);
    }

    #[test]
    fn what_a_feed_delivers_is_what_is_drawn(volts in 9.0f32..60.0, ohms in 0.1f32..10.0, watts in 0.1f32..1.9) {
        let fed = figures(&format!("feed --supply {volts}V --loop {ohms}ohm --draw {watts}W"));
        let [v, i, drop] = ["volts", "amps", "drop_volts"].map(|key| fed[key].as_f64().expect("a number"));
        prop_assert!((v * i - f64::from(watts)).abs() <= 1e-6 * f64::from(watts));
        prop_assert!((v + drop - f64::from(volts)).abs() <= 1e-6 * f64::from(volts));
        prop_assert!(v >= f64::from(volts) / 2.0 && fed["state"] == "holds");
    }

    #[test]
    fn beyond_the_limit_a_feed_collapses(volts in 9.0f32..60.0, ohms in 0.1f32..100.0, over in 1.001f32..3.0) {
        let watts = volts * volts / (4.0 * ohms) * over;
        let fed = figures_of(format!("feed --supply {volts}V --loop {ohms}ohm --draw {watts}W").split(' '), 1);
        prop_assert_eq!(fed.to_string(), r#"{"amps":null,"drop_volts":null,"state":"collapsed","volts":null}"#);
    }

    #[test]
    fn twice_the_amplifiers_take_3_db(input in -20.0f32..40.0, figure_db in 0.0f32..15.0, n in 1u16..100) {
        let cnr = |n: u16| {
            let line = format!("noise --noise-figure {figure_db}dB --input {input}dBmV --bandwidth 5.36MHz --cascade {n}");
            figure(&line, "/cnr_db")
        };
        prop_assert!((cnr(n) - cnr(2 * n) - 3.0103).abs() <= DB);
    }
}

#[test]
fn numbers_with_a_minus_are_values_wherever_they_stand() {
    for line in [
        "level -2.5dBmV --json",
        "level --json -2.5dBmV",
        "sum -3dBmV 4dBmV --json",
        "sum --json -3dBmV -4dBmV",
        "along -3dBmV --at 57MHz pad=3dB --json",
        "along --json -3dBmV --at 57MHz gain=-1dB",
        "noise --noise-figure 5dB --input -3dBmV --bandwidth 4MHz --json",
        "cable series-6 100ft --temp -40C --json",
        "wire 18AWG 100ft --temp -40F --json",
    ] {
        let said = self::line(line);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{line}");
        assert!(said.out.starts_with('{'), "{line}: {}", said.out);
    }
    assert_eq!(figure("level -0.5dBmV", "/dbmv"), -0.5);
}

#[test]
fn spaces_and_letter_case_make_no_difference() {
    let want = figures("level -0.5dBmV");
    for typed in ["-0.5 dBmV", " -0.5  dbmv ", "-0.5DBMV", "\u{2212}0.5 dBmV", "-.5 dBmV"] {
        assert_eq!(figures_of(["level", typed], 0), want, "{typed}");
    }
    let want = figures("cable series-6 100ft --at 57MHz,63MHz");
    for arguments in [
        ["cable", "SERIES-6", "100 FT", "--at", "57 mhz, 63 MHZ"],
        ["cable", "rg6", "30.48 m", "--at", "57000 kHz,ch 3"],
    ] {
        assert_eq!(figures_of(arguments, 0), want, "{arguments:?}");
    }
}
