//! Levels, noise and losses against circuits of scikit-rf.

use legwork_file::Checker;
use serde_json::{Value, json};

use super::{find, list, number, report, rows};

/// The farthest two figures may be apart, in dB: the core's polynomials err by 7e-5 dB, sums of some ten losses in `f32`
/// by 3e-5 dB.
const NEAR: f64 = 1e-4;

/// Compares the figures of some rows, one key of theirs with one list; gives how many.
fn compare(what: &str, found: &Value, key: &str, expected: &Value) -> usize {
    let (found, expected) = (list(found), list(expected));
    assert_eq!(found.len(), expected.len(), "{what}");
    for (row, expected) in found.iter().zip(expected) {
        let (found, expected) = (number(&row[key]), number(expected));
        assert!((found - expected).abs() <= NEAR, "{what}, {key} in {row}: expected {expected}");
    }
    found.len()
}

#[test]
fn levels_noise_and_losses_are_those_of_a_network_library() {
    let checker = &mut Checker::new();
    let (mut branches, mut figures, mut links) = (0, 0, 0);
    for row in rows(include_str!("../../outside/network.json")) {
        let report = report(checker, &row["home"]);
        let name = &row["home"]["name"];
        for outlet in list(&row["expected"]["outlets"]) {
            let found = find(&report["outlets"], &[("id", &outlet["id"])]);
            let what = format!("{name}, {}", outlet["id"]);
            for (nominal, list) in [("dbmv", "forward"), ("db", "cnr")] {
                for (key, of) in [(nominal, "nominal"), ("low", "low"), ("high", "high")] {
                    figures += compare(&what, &found[list], key, &outlet[list][of]);
                }
            }
            figures += compare(&what, &found["return"], "loss_db", &outlet["loss"]);
            branches += 1;
        }
        for link in list(&row["expected"]["links"]) {
            for (mhz, loss) in [1125.0, 1500.0].into_iter().zip(list(&link["loss"])) {
                let keys = [("from", &link["from"]), ("to", &link["to"]), ("mhz", &json!(mhz))];
                let found = number(&find(&report["links"], &keys)["loss_db"]);
                let expected = number(loss);
                assert!((found - expected).abs() <= NEAR, "{name}, {link} at {mhz} MHz: {found}");
                links += 1;
            }
        }
    }
    assert!(branches >= 50 && figures >= 1_000 && links >= 100, "{branches} {figures} {links}");
}
