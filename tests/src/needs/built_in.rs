//! Parts that the program has built in, as specs of a file: what the program knows by name has to be told to the model.

use serde_json::{Value, json};

/// Frequencies in MHz and losses in dB, as points.
fn points(rows: &[(f64, f64)]) -> Value {
    let rows = rows.iter().map(|(mhz, db)| json!([format!("{mhz} MHz"), format!("{db} dB")]));
    Value::from(rows.collect::<Vec<_>>())
}

/// Between legs of splitters of three and four ways.
const BETWEEN: [(f64, f64); 6] =
    [(5.0, 24.0), (54.0, 28.0), (550.0, 26.0), (1002.0, 23.0), (1125.0, 22.0), (1675.0, 17.0)];

/// A leg of a splitter: what it loses where, above what it loses at 54 MHz.
fn leg(at_54: f64, above_1002: [f64; 3]) -> Value {
    let mut rows = vec![(5.0, 0.1), (54.0, 0.0), (300.0, 0.1), (750.0, 0.3), (1002.0, 0.5)];
    rows.extend([1125.0, 1218.0, 1675.0].into_iter().zip(above_1002));
    for (_, db) in &mut rows {
        // The hundredth keeps the text short where two binary fractions add up to a long one.
        *db = ((at_54 + *db) * 100.0).round() / 100.0;
    }
    points(&rows)
}

/// Every built-in part that a need here may name, as `[spec.KIND.NAME]`.
pub(crate) fn specs() -> Value {
    let two = || leg(3.5, [0.6, 0.7, 1.2]);
    let four = || leg(7.0, [0.7, 0.9, 1.5]);
    let passive = |mut spec: Value| {
        spec["band"] = json!(["5 MHz", "1002 MHz"]);
        spec
    };
    let coupler = |tap: &[(f64, f64)], through: &[(f64, f64)], isolation: &[(f64, f64)]| {
        passive(json!({"tap": points(tap), "through": points(through), "isolation": points(isolation)}))
    };
    json!({
        "splitter": {
            "2-way": passive(json!({"legs": 2, "loss": two(), "isolation": points(&[
                (5.0, 24.0), (54.0, 28.0), (550.0, 27.0), (1002.0, 23.0), (1125.0, 21.0), (1675.0, 16.0)])})),
            "3-way": passive(json!({"legs": 3, "loss": leg(5.5, [0.7, 0.8, 1.5]), "isolation": points(&BETWEEN)})),
            "3-way-unequal":
                passive(json!({"legs": 3, "leg_loss": [two(), four(), four()], "isolation": points(&BETWEEN)})),
            "4-way": passive(json!({"legs": 4, "loss": four(), "isolation": points(&BETWEEN)})),
        },
        "coupler": {
            "6-dB": coupler(
                &[(5.0, 6.2), (54.0, 6.0), (550.0, 6.2), (1002.0, 6.5), (1218.0, 6.8), (1675.0, 7.5)],
                &[(5.0, 1.9), (54.0, 1.8), (550.0, 2.0), (1002.0, 2.3), (1218.0, 2.6), (1675.0, 3.2)],
                &[(5.0, 24.0), (54.0, 28.0), (550.0, 26.0), (1002.0, 23.0), (1125.0, 22.0), (1675.0, 18.0)],
            ),
            "9-dB": coupler(
                &[(5.0, 9.2), (54.0, 9.0), (550.0, 9.2), (1002.0, 9.5), (1218.0, 9.8), (1675.0, 10.5)],
                &[(5.0, 1.2), (54.0, 1.1), (550.0, 1.3), (1002.0, 1.6), (1218.0, 1.9), (1675.0, 2.5)],
                &[(5.0, 24.0), (54.0, 28.0), (550.0, 26.0), (1002.0, 23.0), (1125.0, 22.0), (1675.0, 18.0)],
            ),
        },
        "inserter": {
            "inserter": passive(json!({"dc_ohms": "0.1 ohm", "loss": points(
                &[(5.0, 0.6), (54.0, 0.4), (550.0, 0.5), (1002.0, 0.6), (1675.0, 1.0)])})),
        },
        "filter": {
            "entry-filter": passive(json!({"reflects": ["1125 MHz", "1675 MHz"], "loss": points(
                &[(5.0, 0.3), (54.0, 0.3), (860.0, 0.5), (1002.0, 1.0), (1125.0, 40.0), (1675.0, 40.0)])})),
        },
        "joint": {
            "joint": passive(json!({"dc_ohms": "0.02 ohm", "loss": points(
                &[(5.0, 0.05), (1002.0, 0.1), (1675.0, 0.15)])})),
        },
    })
}

/// A need or a premises with the built-in specs beside its own.
#[must_use]
pub fn with_built_in(file: &Value) -> Value {
    let mut whole = file.clone();
    if whole["spec"].is_null() {
        whole["spec"] = json!({});
    }
    for (kind, built_in) in specs().as_object().expect("kinds") {
        for (name, spec) in built_in.as_object().expect("names") {
            if whole["spec"][kind].is_null() {
                whole["spec"][kind] = json!({});
            }
            whole["spec"][kind][name] = spec.clone();
        }
    }
    whole
}
