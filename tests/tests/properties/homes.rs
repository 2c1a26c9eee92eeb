//! Levels and extremes of random homes.

use proptest::prelude::*;
use serde_json::{Value, json};

use crate::{Outcome, for_all, list, number, report, seeds};
use legwork_tests::home;

/// The parts on the way of an outlet, by their places in the file.
fn way_up(home: &Value, outlet: &Value) -> Vec<usize> {
    let parts = list(&home["part"]);
    let mut way = Vec::new();
    let mut after = outlet["after"].as_str().unwrap_or_default();
    loop {
        let id = after.split('.').next().unwrap_or_default();
        let Some(index) = parts.iter().position(|part| part["id"] == id) else { return way };
        way.push(index);
        after = parts[index]["after"].as_str().unwrap_or_default();
    }
}

#[test]
fn more_loss_never_raises_a_level() {
    let cases = || (seeds(), any::<prop::sample::Index>(), any::<prop::sample::Index>(), 1u32..150);
    for_all(cases, |checker, case| {
        let (seed, outlet, part, tenths) = case;
        let before = home(seed);
        let outlets = list(&before["outlet"]);
        let chosen = &outlets[outlet.index(outlets.len())];
        let mut after = before.clone();
        let pad = |port: &Value| json!({"id": "a further pad", "after": port, "pad": format!("{} dB", f64::from(tenths) / 10.0)});
        // Before a part on the outlet's way, or before the outlet itself.
        let way = way_up(&before, chosen);
        match way.get(part.index(way.len() + 1)) {
            Some(index) => {
                let port = std::mem::replace(&mut after["part"][index]["after"], json!("a further pad"));
                after["part"].as_array_mut().expect("parts").push(pad(&port));
            }
            None => {
                let index = outlet.index(outlets.len());
                let port = std::mem::replace(&mut after["outlet"][index]["after"], json!("a further pad"));
                after["part"].as_array_mut().expect("parts").push(pad(&port));
            }
        }
        let (before, after) = (report(checker, &before)?, report(checker, &after)?);
        for (before, after) in list(&before["outlets"]).iter().zip(list(&after["outlets"])) {
            prop_assert_eq!(&before["id"], &after["id"]);
            for (before, after) in list(&before["forward"]).iter().zip(list(&after["forward"])) {
                for key in ["dbmv", "low", "high"] {
                    prop_assert!(
                        number(&after[key]) <= number(&before[key]) + 1e-3,
                        "{}: {} to {}",
                        key,
                        before,
                        after
                    );
                }
            }
            prop_assert!(number(&after["total_dbmv"]) <= number(&before["total_dbmv"]) + 1e-3);
            for (before, after) in list(&before["return"]).iter().zip(list(&after["return"])) {
                if before["transmit_dbmv"].is_number() {
                    prop_assert!(number(&after["transmit_dbmv"]) >= number(&before["transmit_dbmv"]) - 1e-3);
                }
            }
        }
        Ok(())
    });
}

/// Asserts that `low`, the nominal figure and `high` stand in this order, where they are there.
fn enclosed(row: &Value, low: &str, nominal: &str, high: &str) -> Outcome {
    let (low, nominal, high) = (&row[low], &row[nominal], &row[high]);
    if nominal.is_number() {
        // Where an extreme collapses it is null.
        prop_assert!(!low.is_number() || number(low) <= number(nominal), "{}", row);
        prop_assert!(!high.is_number() || number(high) >= number(nominal), "{}", row);
    }
    Ok(())
}

#[test]
fn extremes_enclose_the_nominal() {
    for_all(seeds, |checker, seed| {
        let report = report(checker, &home(seed))?;
        for outlet in list(&report["outlets"]) {
            enclosed(outlet, "tilt_low", "tilt_db", "tilt_high")?;
            enclosed(outlet, "total_low", "total_dbmv", "total_high")?;
            for (key, nominal) in [("forward", "dbmv"), ("cnr", "db"), ("return", "transmit_dbmv")] {
                for row in list(&outlet[key]) {
                    enclosed(row, "low", nominal, "high")?;
                }
            }
        }
        for amplifier in list(&report["amplifiers"]) {
            enclosed(amplifier, "input_total_low", "input_total_dbmv", "input_total_high")?;
        }
        for feed in list(&report["feeds"]) {
            enclosed(feed, "volts_low", "volts", "volts_high")?;
            enclosed(feed, "", "amps", "amps_high")?;
            enclosed(feed, "", "supply_amps", "supply_amps_high")?;
        }
        Ok(())
    });
}
