//! Sums of powers.

use legwork::{Level, quick::power_sum};
use legwork_file::quantity;
use legwork_tests::home;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use serde_json::{Value, json};

use crate::{for_all, list, near, number, read, report, seeds};

/// The sum over a block is worked out by quadrature: twice what one may be off by, in dB.
const SUM: f64 = 5e-3;

/// Each block of carriers in two, where it has two carriers.
fn parted(home: &Value) -> Result<Value, TestCaseError> {
    let mut home = home.clone();
    let mut blocks = Vec::new();
    for block in list(&home["service"]["carriers"]) {
        let mhz = |key: &str| read(&block[key], quantity::frequency).map(|mhz| f64::from(mhz.mhz()));
        let (first, last, step) = (mhz("first")?, mhz("last")?, mhz("step")?);
        let count = ((last - first) / step + 1e-3).floor() + 1.0;
        if count < 2.0 {
            blocks.push(block.clone());
            continue;
        }
        let middle = first + step * (count / 2.0).floor();
        let mut lower = block.clone();
        lower["last"] = json!(format!("{:.4} MHz", middle - step));
        let mut upper = block.clone();
        upper["first"] = json!(format!("{middle:.4} MHz"));
        blocks.extend([lower, upper]);
    }
    home["service"]["carriers"] = Value::from(blocks);
    Ok(home)
}

#[test]
fn a_total_does_not_depend_on_how_carriers_are_told() {
    for_all(seeds, |checker, seed| {
        let whole = home(seed);
        let parted = parted(&whole)?;
        let (whole, parted) = (report(checker, &whole)?, report(checker, &parted)?);
        for (whole, parted) in list(&whole["outlets"]).iter().zip(list(&parted["outlets"])) {
            for key in ["total_dbmv", "total_low", "total_high", "tilt_db"] {
                near(number(&whole[key]), number(&parted[key]), SUM, key)?;
            }
        }
        for (whole, parted) in list(&whole["amplifiers"]).iter().zip(list(&parted["amplifiers"])) {
            near(number(&whole["input_total_dbmv"]), number(&parted["input_total_dbmv"]), SUM, "input total")?;
        }
        Ok(())
    });
}

#[test]
fn a_sum_of_powers_does_not_depend_on_their_order() {
    let levels =
        || vec(-90.0f32..60.0, 1..300).prop_flat_map(|levels| (Just(levels.clone()), Just(levels).prop_shuffle()));
    for_all(levels, |_, (levels, shuffled)| {
        let sum = |levels: &[f32]| {
            let levels: Vec<Level> = levels.iter().filter_map(|level| Level::new(*level).ok()).collect();
            power_sum(&levels).map_or(f64::NAN, |sum| f64::from(sum.dbmv()))
        };
        let exact = 10.0 * levels.iter().map(|level| 10f64.powf(f64::from(*level) / 10.0)).sum::<f64>().log10();
        near(sum(&levels), sum(&shuffled), 1e-4, "in another order")?;
        near(sum(&levels), exact, 1e-4, "in double precision")
    });
}
