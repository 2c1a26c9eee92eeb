//! Direct current against operating points of ngspice.

use legwork_file::Checker;
use serde_json::Value;

use super::{find, list, number, report, rows};

/// The farthest two voltages or currents may be apart, as a part of them: eight steps of `f32`.
const NEAR: f64 = 1e-6;

/// Nominal figures, and extremes.
const KEYS: [&str; 7] = ["volts", "amps", "supply_amps", "volts_low", "volts_high", "amps_high", "supply_amps_high"];

/// What is found wrong with a feed: `fail` where it has collapsed, `marginal` where it does so in an extreme.
fn collapse<'a>(report: &'a Value, feed: &Value) -> Option<&'a str> {
    let found =
        list(&report["findings"]).iter().find(|row| row["code"] == "feed-collapsed" && row["at"] == feed["supply"]);
    found.and_then(|row| row["verdict"].as_str())
}

#[test]
fn volts_and_amps_are_those_of_a_circuit_simulator() {
    let checker = &mut Checker::new();
    // Feeds that hold, that collapse in an extreme alone, and that have no operating point.
    let mut counts = [0; 3];
    let mut shared = 0;
    for row in rows(include_str!("../../outside/feeds.json")) {
        let report = report(checker, &row["home"]);
        shared += usize::from(list(&row["expected"]).len() > 1);
        for expected in list(&row["expected"]) {
            let found = find(&report["feeds"], &[("amplifier", &expected["amplifier"])]);
            let (nominal, extremes) = (!expected["volts"].is_null(), !expected["volts_low"].is_null());
            let (place, verdict) = match (nominal, extremes) {
                (true, true) => (0, None),
                (true, false) => (1, Some("marginal")),
                _ => (2, Some("fail")),
            };
            counts[place] += 1;
            assert_eq!(collapse(&report, found), verdict, "{}: {found}", row["home"]);
            for key in KEYS.into_iter().filter(|key| !expected[*key].is_null()) {
                let (found, expected) = (number(&found[key]), number(&expected[key]));
                assert!((found - expected).abs() <= NEAR * expected, "{}, {key}: {found}, not {expected}", row["home"]);
            }
            for key in ["volts", "amps", "supply_amps"] {
                assert_eq!(found[key].is_null(), !nominal, "{}: {found}", row["home"]);
            }
        }
    }
    let [hold, in_an_extreme, collapsed] = counts;
    assert!(hold >= 40 && in_an_extreme >= 4 && collapsed >= 10 && shared >= 10, "{counts:?} {shared}");
}
