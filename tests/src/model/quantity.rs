//! Quantities as text: a number and a unit, into plain numbers of one base unit each.

use serde_json::Value;

/// Reference power of 0 dBmV in watts: one millivolt across 75 ohm.
pub(crate) const ZERO_DBMV_WATTS: f64 = 1e-6 / 75.0;

/// Splits `12 ft 6 in` into `(12, "ft")`, `(6, "in")`.
fn pieces(text: &str) -> Vec<(f64, String)> {
    let mut rest = text.trim();
    let mut found = Vec::new();
    while !rest.is_empty() {
        let number = rest.find(|c: char| !c.is_ascii_digit() && !"+-.".contains(c)).unwrap_or(rest.len());
        let value = rest[..number].parse().unwrap_or_else(|_| panic!("no number in {text:?}"));
        rest = rest[number..].trim_start();
        let unit = rest.find(|c: char| c.is_whitespace() || c.is_ascii_digit()).unwrap_or(rest.len());
        found.push((value, rest[..unit].to_owned()));
        rest = rest[unit..].trim_start();
    }
    found
}

/// The text of a JSON value.
pub(crate) fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("{value} is no text"))
}

/// The sum of all pieces, each times the factor of its unit.
fn scaled(value: &Value, units: &[(&str, f64)]) -> f64 {
    let sum = |(number, unit): &(f64, String)| {
        let (_, factor) =
            units.iter().find(|(name, _)| name == unit).unwrap_or_else(|| panic!("unit {unit:?} in {value}"));
        number * factor
    };
    pieces(text(value)).iter().map(sum).sum()
}

/// A frequency in MHz; `ch 3` is the centre of that channel on the standard plan.
pub(crate) fn mhz(value: &Value) -> f64 {
    if let Some(channel) = text(value).trim().strip_prefix("ch") {
        let channel = channel.trim().parse::<u32>().unwrap_or_else(|_| panic!("no channel in {value}"));
        return channel_centre(channel);
    }
    scaled(value, &[("Hz", 1e-6), ("kHz", 1e-3), ("MHz", 1.0), ("GHz", 1e3)])
}

/// The centre of a channel of the standard plan, in MHz.
fn channel_centre(channel: u32) -> f64 {
    let (first, centre) = match channel {
        2..=4 => (2, 57.0),
        5..=6 => (5, 79.0),
        7..=13 => (7, 177.0),
        14..=22 => (14, 123.0),
        23..=94 => (23, 219.0),
        95..=99 => (95, 93.0),
        100..=158 => (100, 651.0),
        _ => panic!("no channel {channel} on the standard plan"),
    };
    centre + 6.0 * f64::from(channel - first)
}

/// A level in dBmV at 75 ohm.
pub(crate) fn dbmv(value: &Value) -> f64 {
    let all = pieces(text(value));
    let [(number, unit)] = all.as_slice() else { panic!("{value} is no level") };
    match unit.as_str() {
        "dBmV" => *number,
        "dBuV" => number - 60.0,
        "dBm" => number + 10.0 * (1e-3 / ZERO_DBMV_WATTS).log10(),
        _ => panic!("unit {unit:?} in {value}"),
    }
}

/// A temperature in degrees Celsius.
pub(crate) fn celsius(value: &Value) -> f64 {
    let all = pieces(text(value));
    let [(number, unit)] = all.as_slice() else { panic!("{value} is no temperature") };
    match unit.as_str() {
        "C" => *number,
        "F" => (number - 32.0) * 5.0 / 9.0,
        _ => panic!("unit {unit:?} in {value}"),
    }
}

/// A ratio in dB.
pub(crate) fn db(value: &Value) -> f64 {
    scaled(value, &[("dB", 1.0)])
}

/// A length in metres.
pub(crate) fn metres(value: &Value) -> f64 {
    scaled(value, &[("ft", 0.3048), ("in", 0.0254), ("m", 1.0), ("km", 1e3)])
}

/// A voltage in volts.
pub(crate) fn volts(value: &Value) -> f64 {
    scaled(value, &[("V", 1.0), ("mV", 1e-3)])
}

/// A current in amperes.
pub(crate) fn amps(value: &Value) -> f64 {
    scaled(value, &[("A", 1.0), ("mA", 1e-3)])
}

/// A power in watts.
pub(crate) fn watts(value: &Value) -> f64 {
    scaled(value, &[("W", 1.0), ("mW", 1e-3)])
}

/// A resistance in ohms.
pub(crate) fn ohms(value: &Value) -> f64 {
    scaled(value, &[("ohm", 1.0)])
}

/// A percentage as a fraction of one.
pub(crate) fn fraction(value: &Value) -> f64 {
    scaled(value, &[("%", 0.01)])
}

/// An American wire gauge.
pub(crate) fn gauge(value: &Value) -> f64 {
    scaled(value, &[("AWG", 1.0)])
}

/// The two edges of `42/54 MHz`, in MHz.
pub(crate) fn split(value: &Value) -> (f64, f64) {
    let whole = text(value);
    let (low, high) = whole.split_once('/').unwrap_or_else(|| panic!("{whole:?} is no split"));
    let unit = pieces(high).remove(0).1;
    let edge = |number: &str| mhz(&Value::from(format!("{number} {unit}")));
    let high = high.trim().trim_end_matches(unit.as_str());
    (edge(low.trim()), edge(high.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn every_spelling_of_the_contract_is_read() {
        let near = |left: f64, right: f64| assert!((left - right).abs() < 1e-9, "{left} {right}");
        near(metres(&json!("12 ft 6 in")), 3.81);
        near(metres(&json!("18.3m")), 18.3);
        near(dbmv(&json!("63 dBuV")), 3.0);
        assert!(dbmv(&json!("-48.75 dBm")).abs() < 1e-3);
        near(dbmv(&json!("-2.5 dBmV")), -2.5);
        near(celsius(&json!("68 F")), 20.0);
        near(amps(&json!("350 mA")), 0.35);
        near(fraction(&json!("5 %")), 0.05);
        near(mhz(&json!("ch 3")), 63.0);
        near(mhz(&json!("0.861 GHz")), 861.0);
        assert_eq!(split(&json!("42/54 MHz")), (42.0, 54.0));
    }
}
