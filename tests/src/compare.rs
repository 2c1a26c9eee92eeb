//! Where two reports disagree.

use std::collections::BTreeMap;

use serde_json::Value;

/// The farthest two figures in dB, dBmV, MHz or feet may be apart.
const NEAR: f64 = 0.005;

/// The farthest two voltages, currents or resistances may be apart: a part of the greater.
const NEAR_PART: f64 = 5e-4;

/// The least distance that tells two voltages, currents or resistances apart: that of `f32` at some 20 V.
const NEAR_ZERO: f64 = 1e-5;

/// The keys that name a row, by the list it stands in.
const NAMES: [(&str, &[&str]); 9] = [
    ("outlets", &["id"]),
    ("amplifiers", &["id"]),
    ("feeds", &["supply", "amplifier"]),
    ("dc", &["at", "supply"]),
    ("links", &["from", "to", "mhz"]),
    ("findings", &["code", "at", "verdict"]),
    ("forward", &["mhz"]),
    ("cnr", &["mhz"]),
    ("return", &["mhz"]),
];

/// Where an actual report departs from the expected one, one line each; empty where they agree.
///
/// Figures in dB may be 0.005 apart, volts, amperes and ohms 0.05 %. Rows are matched by what they are about, in
/// any order; of places equally bad, a finding may name any. `says`, `brief` and keys that only the actual report
/// has count for nothing.
#[must_use]
pub fn differences(expected: &Value, actual: &Value) -> Vec<String> {
    let mut found = Vec::new();
    compare("", "", expected, actual, &mut found);
    found
}

/// Compares two values that stand at one place, under one key.
fn compare(place: &str, key: &str, expected: &Value, actual: &Value, found: &mut Vec<String>) {
    match (expected, actual) {
        (Value::Object(keys), Value::Object(_)) => {
            for (key, value) in keys {
                let free = ["says", "brief", "alike"].contains(&key.as_str());
                if free || (key == "mhz" || key == "other") && is_alike(expected, actual) {
                    continue;
                }
                let place = format!("{place}.{key}");
                match actual.get(key) {
                    None => found.push(format!("{place} is missing")),
                    Some(other) if *key == "value" || *key == "limit" => {
                        let unit = expected["unit"].as_str().unwrap_or("");
                        compare(&place, unit, value, other, found);
                    }
                    Some(other) => compare(&place, key, value, other, found),
                }
            }
        }
        (Value::Array(rows), Value::Array(others)) => lists(place, key, rows, others, found),
        (Value::Number(one), Value::Number(other)) => {
            let (one, other) = (one.as_f64().unwrap_or(f64::NAN), other.as_f64().unwrap_or(f64::NAN));
            let apart = (one - other).abs();
            if apart.is_nan() || apart > allowed(key, one, other) {
                found.push(format!("{place}: expected {one}, got {other}"));
            }
        }
        _ => {
            let empty = |value: &Value| value.is_null() || value == "";
            let alike = expected == actual || (key == "unit" && empty(expected) && empty(actual));
            if !alike {
                found.push(format!("{place}: expected {expected}, got {actual}"));
            }
        }
    }
}

/// Whether a finding's frequency and second place are among those as bad as the expected ones.
fn is_alike(expected: &Value, actual: &Value) -> bool {
    let same = |one: &Value, other: &Value| match (one.as_f64(), other.as_f64()) {
        (Some(one), Some(other)) => (one - other).abs() <= NEAR,
        _ => one == other,
    };
    let mut alike = expected["alike"].as_array().into_iter().flatten();
    alike.any(|pair| same(&pair[0], &actual["mhz"]) && same(&pair[1], &actual["other"]))
}

/// How far two numbers under a key, or in a unit, may be apart.
fn allowed(key: &str, one: f64, other: f64) -> f64 {
    let electric = ["volts", "amps", "ohms"].iter().any(|word| key.contains(word));
    if electric || key == "V" || key == "A" { NEAR_PART * one.abs().max(other.abs()) + NEAR_ZERO } else { NEAR }
}

/// Compares two lists by the names of their rows.
fn lists(place: &str, key: &str, rows: &[Value], others: &[Value], found: &mut Vec<String>) {
    let names = NAMES.iter().find(|(list, _)| *list == key).map_or(&[][..], |(_, names)| names);
    let named = |rows: &[Value]| {
        let mut all: BTreeMap<String, Vec<Value>> = BTreeMap::new();
        for row in rows {
            all.entry(name(row, names)).or_default().push(row.clone());
        }
        all
    };
    let (mut left, mut right) = (named(rows), named(others));
    for (name, rows) in &mut left {
        let others = right.remove(name).unwrap_or_default();
        let place = format!("{place}[{name}]");
        if rows.len() > others.len() {
            found.push(format!("{place} is missing"));
        } else if rows.len() < others.len() {
            found.push(format!("{place} stands there too often"));
        }
        for (row, other) in rows.iter().zip(&others) {
            compare(&place, "", row, other, found);
        }
    }
    for name in right.keys() {
        found.push(format!("{place}[{name}] is not expected"));
    }
}

/// What names a row: the values of its naming keys, or the whole of it.
fn name(row: &Value, names: &[&str]) -> String {
    if names.is_empty() {
        return row.to_string();
    }
    let one = |key: &&str| match &row[*key] {
        Value::Number(mhz) => format!("{:.2}", mhz.as_f64().unwrap_or(f64::NAN)),
        Value::String(text) => text.clone(),
        other => other.to_string(),
    };
    names.iter().map(one).collect::<Vec<_>>().join(" | ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn small_steps_pass_and_larger_ones_are_told() {
        let one = json!({"total_dbmv": 10.0, "volts": 10.0, "says": "a"});
        let near = json!({"total_dbmv": 10.004, "volts": 10.004, "says": "b", "more": 1});
        let far = json!({"total_dbmv": 10.006, "volts": 10.006});
        assert!(differences(&one, &near).is_empty());
        assert_eq!(differences(&one, &far).len(), 2);
    }

    #[test]
    fn a_missing_key_and_a_null_for_a_number_are_told() {
        let one = json!({"headroom_db": 1.0, "name": "a"});
        assert_eq!(differences(&one, &json!({"headroom_db": null})).len(), 2);
    }

    #[test]
    fn a_finding_may_name_any_of_the_places_equally_bad() {
        let row = |other: &str| {
            json!({"findings": [
            {"code": "neighbour-transmit", "at": "a", "verdict": "fail", "mhz": 10.0, "other": other,
             "alike": [[10.0, "c"]]}]})
        };
        assert!(differences(&row("b"), &row("c")).is_empty());
        assert_eq!(differences(&row("b"), &row("d")).len(), 1);
    }

    #[test]
    fn findings_are_a_set_and_their_units_decide_the_tolerance() {
        let row = |at: &str, value: f64| {
            json!({"code": "feed-starved", "at": at, "other": "amp", "verdict": "fail",
                   "mhz": null, "value": value, "limit": 10.0, "unit": "V"})
        };
        let expected = json!({"findings": [row("a", 9.0), row("b", 8.0)]});
        let turned = json!({"findings": [row("b", 8.003), row("a", 9.003)]});
        assert!(differences(&expected, &turned).is_empty());
        let fewer = json!({"findings": [row("a", 9.0), row("c", 8.0)]});
        assert_eq!(differences(&expected, &fewer).len(), 2);
    }
}
