//! Quantities as text, in one of the spellings a technician may use.

use serde_json::{Value, json};

use super::random::Random;

/// A level of 0 dBmV across 75 ohm, in dBm.
const ZERO_DBMV_IN_DBM: f64 = -48.750_612_633_917;

/// A number with so many decimals at most, and no empty ones.
fn digits(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text };
    if text == "-0" { "0".to_owned() } else { text }
}

/// Number and unit, with or without a space.
fn join(random: &mut Random, number: &str, unit: &str) -> Value {
    let space = if random.chance(70) { " " } else { "" };
    json!(format!("{number}{space}{unit}"))
}

/// A ratio in dB, to a tenth or a hundredth.
pub(crate) fn db(random: &mut Random, db: f64) -> Value {
    let decimals = random.whole(1, 2);
    join(random, &digits(db, decimals), "dB")
}

/// A level in dBmV.
pub(crate) fn level(random: &mut Random, dbmv: f64) -> Value {
    match random.whole(0, 9) {
        0 => join(random, &digits(dbmv + 60.0, 2), "dBuV"),
        1 => join(random, &digits(dbmv + ZERO_DBMV_IN_DBM, 2), "dBm"),
        _ => join(random, &digits(dbmv, 1), "dBmV"),
    }
}

/// A frequency in MHz; whole numbers and tenths stay what they are in every unit.
pub(crate) fn mhz(random: &mut Random, mhz: f64) -> Value {
    match random.whole(0, 11) {
        0 => join(random, &digits(mhz * 1e3, 0), "kHz"),
        1 => join(random, &digits(mhz / 1e3, 6), "GHz"),
        2 => join(random, &digits(mhz * 1e6, 0), "Hz"),
        _ => join(random, &digits(mhz, 3), "MHz"),
    }
}

/// A length in feet.
pub(crate) fn length(random: &mut Random, feet: f64) -> Value {
    match random.whole(0, 7) {
        0 => {
            let inches = digits((feet.fract() * 12.0).floor(), 0);
            json!(format!("{} ft {inches} in", feet.trunc()))
        }
        1 | 2 => join(random, &digits(feet * 0.3048, 1), "m"),
        3 => join(random, &digits(feet * 0.0003048, 5), "km"),
        4 => join(random, &digits(feet * 12.0, 0), "in"),
        _ => join(random, &digits(feet, 0), "ft"),
    }
}

/// A temperature in degrees Celsius.
pub(crate) fn celsius(random: &mut Random, celsius: f64) -> Value {
    if random.chance(20) {
        join(random, &digits(celsius * 1.8 + 32.0, 1), "F")
    } else {
        join(random, &digits(celsius, 0), "C")
    }
}

/// A voltage in volts.
pub(crate) fn volts(random: &mut Random, volts: f64) -> Value {
    if random.chance(15) { join(random, &digits(volts * 1e3, 0), "mV") } else { join(random, &digits(volts, 1), "V") }
}

/// A current in amperes.
pub(crate) fn amps(random: &mut Random, amps: f64) -> Value {
    if random.chance(70) { join(random, &digits(amps * 1e3, 0), "mA") } else { join(random, &digits(amps, 3), "A") }
}

/// A power in watts.
pub(crate) fn watts(random: &mut Random, watts: f64) -> Value {
    if random.chance(20) { join(random, &digits(watts * 1e3, 0), "mW") } else { join(random, &digits(watts, 2), "W") }
}

/// A resistance in ohms.
pub(crate) fn ohms(random: &mut Random, ohms: f64) -> Value {
    join(random, &digits(ohms, 3), "ohm")
}

/// A percentage.
pub(crate) fn percent(random: &mut Random, percent: f64) -> Value {
    join(random, &digits(percent, 1), "%")
}

/// Two frequencies.
pub(crate) fn band(random: &mut Random, low: f64, high: f64) -> Value {
    json!([mhz(random, low), mhz(random, high)])
}
