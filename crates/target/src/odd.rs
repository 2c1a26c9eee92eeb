//! Specs that neither the reference home nor the built-in tables have: what passes DC, and amplifiers of other
//! kinds. The figures are invented.

use legwork::{
    Amplifier, Amps, Cable, Coupler, Curve, Db, DcPorts, Draw, Equalizer, Filter, Legs, Ohms, Percent, Point, Splitter,
    Volts, Watts, tables,
};

const fn at(mhz: f32, db: f32) -> Point {
    Point::constant(mhz, db)
}

/// The same loss at every frequency.
pub static FLAT_CABLE: Cable =
    Cable { loss: Curve::flat(4.0), spread: Percent::constant(3.0), ..tables::SERIES_6_COPPER };
/// A splitter whose first and third leg pass DC.
pub static POWER_SPLITTER: Splitter = Splitter {
    legs: Legs::Alike(4, Curve::flat(7.25)),
    spread: Db::constant(0.5),
    isolation: Curve::flat(24.0),
    dc_pass: 0b101,
    dc_ohms: Ohms::constant(0.15),
    band: None,
};
/// A coupler that passes DC both ways.
pub static POWER_COUPLER: Coupler = Coupler {
    dc_through: true,
    dc_tap: true,
    dc_ohms: Ohms::constant(0.1),
    spread: Db::constant(0.25),
    ..tables::COUPLER_12
};
/// A filter that passes DC and hardly any loss, less than its spread.
pub static POWER_FILTER: Filter = Filter {
    loss: Curve::table(&[at(5.0, 0.1), at(900.0, 0.5), at(1100.0, 30.0)]),
    spread: Db::constant(0.3),
    reflects: None,
    dc: Some(Ohms::constant(0.2)),
    band: None,
};
/// An equalizer that passes DC.
pub static POWER_EQUALIZER: Equalizer = Equalizer {
    loss: Curve::table(&[at(5.0, 8.0), at(54.0, 7.5), at(1002.0, 1.0)]),
    spread: Db::constant(0.25),
    dc: Some(Ohms::constant(0.1)),
    band: None,
};
/// Two outputs, powered through its input or either output, a constant current, the same gain everywhere.
pub static FED_BY_COAX: Amplifier = Amplifier {
    outputs: 2,
    gain: Curve::flat(10.0),
    return_gain: Some(Curve::flat(5.0)),
    passive: None,
    spread: Db::constant(0.5),
    noise_figure: Curve::table(&[at(54.0, 4.0), at(1002.0, 5.0)]),
    isolation: Curve::flat(22.0),
    network_loss: None,
    max_input_total: 25.0,
    max_output_total: 40.0,
    max_return_total: f32::INFINITY,
    split: None,
    draw: Draw::Current(Amps::constant(0.2)),
    runs_on: (Volts::constant(9.0), Volts::constant(17.0)),
    dc_ports: DcPorts { power: false, input: true, outputs: 0b11 },
    band: None,
};
/// One output, no return path, a lot of power.
pub static ONE_WAY: Amplifier = Amplifier {
    outputs: 1,
    gain: Curve::table(&[at(54.0, 14.0), at(550.0, 15.0), at(1002.0, 17.5)]),
    return_gain: None,
    passive: Some(Curve::flat(4.0)),
    spread: Db::constant(1.0),
    noise_figure: Curve::flat(7.0),
    isolation: Curve::flat(20.0),
    network_loss: Some(Curve::table(&[at(1125.0, 6.0), at(1675.0, 9.0)])),
    max_input_total: f32::INFINITY,
    max_output_total: f32::INFINITY,
    max_return_total: f32::INFINITY,
    split: None,
    draw: Draw::Power(Watts::constant(24.0)),
    runs_on: (Volts::constant(11.0), Volts::constant(24.0)),
    dc_ports: DcPorts { power: true, input: false, outputs: 0 },
    band: None,
};
