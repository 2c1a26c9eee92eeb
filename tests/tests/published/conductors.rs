//! Resistance and voltage drop of conductors.

use super::*;

#[test]
fn conductors_resist_as_published() {
    let table = rows(include_str!("../../data/published/conductors.csv"));
    for row in &table {
        let [metal, gauge, inches, celsius, ohms, half, source] = row.as_slice() else { panic!("{row:?}") };
        // 0.005 in * 92^((36 - n)/39), the other way round.
        let size = match *gauge {
            "" => 36.0 - 39.0 * (number(inches) / 0.005).ln() / 92f64.ln(),
            gauge => number(gauge),
        };
        let metal = if *metal == "copper" { Metal::Copper } else { Metal::CopperCladSteel };
        let temperature = Temperature::new(number(celsius) as f32).expect("a temperature");
        let size = Awg::new(size as f32).expect("a gauge");
        let found = f64::from(resistance(size, feet(1000.0), metal, temperature).expect("a resistance").ohms());
        let constants = if *celsius == "75" { 5e-4 } else { 1e-4 };
        let tolerance = number(half) + constants * number(ohms);
        assert!((found - number(ohms)).abs() <= tolerance, "{source}, {gauge}{inches}: {found} against {ohms}");
    }
    assert_eq!(table.len(), 20);
}

#[test]
fn drops_over_a_conductor_are_as_published() {
    let draw = Draw::Current(Amps::constant(0.3));
    let fed = hold(Volts::constant(24.0), Ohms::constant(1.5 * 6.51), draw).expect("it holds");
    let eighteen =
        resistance(Awg::constant(18.0), feet(400.0), Metal::Copper, Temperature::constant(25.0)).expect("ohms");
    let across =
        hold(Volts::constant(60.0), Ohms::constant(75.0), Draw::Current(Amps::constant(0.7999))).expect("it holds");
    hold_all(
        &[
            // "Cable Sizing", scribd 304886993: 1500 ft at 6.51 ohm per 1000 ft, one conductor, 0.3 A. Printed 2.91 V.
            Figure("drop", 2.9295, f64::from(fed.drop.volts()), 5e-5),
            Figure("at the far end", 24.0 - 2.9295, f64::from(fed.volts.volts()), 5e-5),
            // electricianmath.com: 18 AWG at 6.505 ohm per 1000 ft (a table of 25 C, 0.1 % below the formula), 400 ft.
            Figure("400 ft of 18 AWG", 2.602, f64::from(eighteen.ohms()), 0.0005 + 0.0026),
            // titanengineering.net, "DC Loop Resistance": 60 V across 75 ohm are 0.80 A; all of it is lost on the way.
            Figure("60 V across 75 ohm", 60.0, f64::from(across.drop.volts()), 0.05),
        ],
        4,
    );
}
