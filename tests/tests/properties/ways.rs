//! Losses along one way.

use proptest::collection::vec;
use proptest::prelude::*;
use serde_json::{Value, json};

use crate::{for_all, list, near, number, report};

/// One part with one way out of interest: its keys without id and place in the tree, and the way.
#[derive(Clone, Debug)]
struct Piece {
    keys: Value,
    way: &'static str,
}

fn piece() -> impl Strategy<Value = Piece> {
    let tenths = |most: u32| (0..most * 10).prop_map(|tenths| f64::from(tenths) / 10.0);
    let cable = (prop::sample::select(vec!["series-59", "series-6", "series-11", "own"]), 1u32..900, prop::bool::ANY);
    prop_oneof![
        tenths(12).prop_map(|db| Piece { keys: json!({"pad": format!("{db} dB")}), way: "" }),
        cable.prop_map(|(spec, tenths, attic)| {
            let length = format!("{} ft", f64::from(tenths) / 10.0);
            let place = if attic { "attic" } else { "indoor" };
            Piece { keys: json!({"cable": spec, "length": length, "place": place}), way: "" }
        }),
        Just(Piece { keys: json!({"joint": "joint"}), way: "" }),
        Just(Piece { keys: json!({"bond": "bond"}), way: "" }),
        Just(Piece { keys: json!({"equalizer": "slope"}), way: "" }),
        Just(Piece { keys: json!({"splitter": "3-way-unequal", "terminated": [1, 3]}), way: ".2" }),
        Just(Piece { keys: json!({"coupler": "9-dB", "terminated": ["tap"]}), way: ".through" }),
        Just(Piece { keys: json!({"coupler": "6-dB", "terminated": ["through"]}), way: ".tap" }),
    ]
}

/// A home of one way from the entry to a modem.
fn way(pieces: &[Piece]) -> Value {
    let mut after = "entry".to_owned();
    let mut parts = Vec::new();
    for (index, piece) in pieces.iter().enumerate() {
        let id = format!("part {index}");
        let mut part = piece.keys.clone();
        part["id"] = json!(id);
        part["after"] = json!(after);
        parts.push(part);
        after = id + piece.way;
    }
    json!({
        "format": 1, "name": "one way",
        "service": {"split": "42/54 MHz", "carriers": [{"first": "57 MHz", "last": "861 MHz", "step": "12 MHz"}]},
        "entry": {
            "forward": [["57 MHz", "9 dBmV"], ["400 MHz", "7 dBmV"], ["861 MHz", "4 dBmV"]],
            "transmit": [["8 MHz", "37 dBmV"], ["36 MHz", "39 dBmV"]], "spread": "1 dB", "cnr": "45 dB",
        },
        "climate": {"indoor": ["15 C", "30 C"], "attic": ["-10 C", "60 C"]},
        "part": parts,
        "outlet": [{"id": "modem", "after": after, "device": "modem"}],
        "spec": {
            "cable": {"own": {
                "loss": [["5 MHz", "0.9 dB"], ["300 MHz", "4 dB"], ["1002 MHz", "8 dB"]], "per": "30 m", "loop": "4 ohm",
                "velocity": 0.8, "spread": "8 %",
            }},
            "equalizer": {"slope": {"loss": [["5 MHz", "9 dB"], ["1002 MHz", "1 dB"]], "spread": "0.4 dB"}},
        },
    })
}

/// Every level of the only outlet: forward with its extremes, then transmit with its own.
fn levels(report: &Value) -> Vec<[f64; 3]> {
    let outlet = &report["outlets"][0];
    let rows = |key: &'static str, nominal: &'static str| {
        list(&outlet[key]).iter().map(move |row| [number(&row[nominal]), number(&row["low"]), number(&row["high"])])
    };
    rows("forward", "dbmv").chain(rows("return", "transmit_dbmv")).collect()
}

#[test]
fn losses_add_along_a_way_whatever_the_order_of_its_parts() {
    let ways = || vec(piece(), 1..8).prop_flat_map(|pieces| (Just(pieces.clone()), Just(pieces).prop_shuffle()));
    for_all(ways, |checker, (pieces, shuffled)| {
        let one = levels(&report(checker, &way(&pieces))?);
        let other = levels(&report(checker, &way(&shuffled))?);
        let bare = levels(&report(checker, &way(&[]))?);
        prop_assert_eq!(one.len(), 5);
        let mut sums = vec![[0.0; 3]; one.len()];
        for piece in &pieces {
            let alone = levels(&report(checker, &way(std::slice::from_ref(piece)))?);
            for ((sum, alone), bare) in sums.iter_mut().zip(&alone).zip(&bare) {
                for (sum, (alone, bare)) in sum.iter_mut().zip(alone.iter().zip(bare)) {
                    *sum += alone - bare;
                }
            }
        }
        for (index, one) in one.iter().enumerate() {
            for case in 0..3 {
                near(one[case], other[index][case], 1e-3, "the other way round")?;
                near(one[case], bare[index][case] + sums[index][case], 1e-3, "the sum of its parts")?;
            }
        }
        Ok(())
    });
}

#[test]
fn a_cable_in_two_runs_is_the_cable_in_one() {
    let cases = || {
        let specs = prop::sample::select(vec!["series-59", "series-6", "series-7", "series-11", "own"]);
        let places = prop::sample::select(vec!["indoor", "attic"]);
        (specs, places, 1u32..2000, 1u32..2000)
    };
    for_all(cases, |checker, (spec, place, one, other)| {
        let run = |tenths: u32| {
            let length = format!("{} ft", f64::from(tenths) / 10.0);
            Piece { keys: json!({"cable": spec, "length": length, "place": place}), way: "" }
        };
        let whole = levels(&report(checker, &way(&[run(one + other)]))?);
        let parted = levels(&report(checker, &way(&[run(one), run(other)]))?);
        for (whole, parted) in whole.iter().zip(&parted) {
            for (whole, parted) in whole.iter().zip(parted) {
                near(*whole, *parted, 2e-3, "in two runs")?;
            }
        }
        Ok(())
    });
}
