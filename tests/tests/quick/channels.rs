//! Every channel of every plan against the committed table.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::binary::{figures, line};

/// Half the last digit of each plan in the table: two, three and four decimals.
const HALF_DIGIT: [f64; 3] = [0.005, 0.000_5, 0.000_05];
/// 1 ulp of f32 at 1002 MHz.
const ROUNDING: f64 = 6e-5;

/// One channel of the table, which says where it comes from: edges and centre, or visual carriers.
struct Row {
    number: u16,
    std: [f64; 3],
    hrc_visual: f64,
    irc_visual: f64,
}

fn rows() -> Vec<Row> {
    let text = include_str!("../../../crates/core/tests/data/channel_plan.csv");
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            let number = |at: usize| cells[at].parse::<f64>().unwrap_or_else(|_| panic!("{line}: cell {at}"));
            Row {
                number: cells[0].parse().expect("a channel number"),
                std: [number(1), number(3), number(4)],
                hrc_visual: number(5),
                irc_visual: number(6),
            }
        })
        .collect()
}

/// Checks a channel by its number, and by its lower edge and its centre.
fn check(number: u16, plan: &str, edges: [f64; 3], half_digit: f64) {
    let by_number = figures(&format!("channel {number} --plan {plan}"));
    assert_eq!(by_number.as_object().map(|keys| keys.len()), Some(4), "{by_number}");
    assert_eq!(by_number["channel"], Value::from(number));
    for (key, want) in ["low_mhz", "centre_mhz", "high_mhz"].into_iter().zip(edges) {
        let got = by_number[key].as_f64().expect("a number");
        assert!((got - want).abs() <= half_digit + ROUNDING, "{plan} {number} {key}: {got}, not {want}");
    }
    // An edge belongs to the upper channel, so its own lower edge leads back to it.
    for key in ["low_mhz", "centre_mhz"] {
        assert_eq!(figures(&format!("channel {}MHz --plan {plan}", by_number[key])), by_number);
    }
}

#[test]
fn the_standard_plan_is_that_of_the_table() {
    let rows = rows();
    assert_eq!(rows.len(), 158);
    for row in rows.iter().filter(|row| row.number != 1) {
        check(row.number, "std", row.std, HALF_DIGIT[0]);
    }
    let none = line("channel 1 --json");
    assert_eq!((none.code, none.out.as_str()), (2, ""));
}

#[test]
fn the_harmonic_plan_is_that_of_the_table() {
    for row in rows() {
        let low = row.hrc_visual - 1.25;
        check(row.number, "hrc", [low, low + 3.0, low + 6.0], HALF_DIGIT[1]);
    }
}

#[test]
fn the_incremental_plan_is_that_of_the_table() {
    for row in rows() {
        let low = row.irc_visual - 1.25;
        check(row.number, "irc", [low, low + 3.0, low + 6.0], HALF_DIGIT[2]);
    }
}

#[test]
fn numbers_of_the_table_run_from_1_to_158() {
    let numbers: BTreeSet<u16> = rows().iter().map(|row| row.number).collect();
    assert!(numbers.iter().copied().eq(1..=158));
}

#[test]
fn a_channel_can_be_typed_in_several_ways() {
    let three = figures("channel 3");
    for typed in ["ch3", "CH3", "61.25MHz", "0.06125GHz", "60mhz", "65999kHz"] {
        assert_eq!(figures(&format!("channel {typed}")), three, "{typed}");
    }
    assert_eq!(figures("channel 5 --plan HRC")["centre_mhz"], Value::from(79.75));
    assert_eq!(figures("channel ch5 --plan hrc")["centre_mhz"], Value::from(79.75));
}

#[test]
fn what_lies_in_no_channel_is_refused_with_its_neighbours() {
    for (typed, plan, word) in [
        ("73MHz", "std", "76 MHz"),
        ("89MHz", "std", "channel 95"),
        ("88MHz", "std", "channel 6"),
        ("1003MHz", "irc", "158"),
    ] {
        let said = line(&format!("channel {typed} --plan {plan}"));
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{typed}");
        assert!(said.err.contains("CHANNEL") && said.err.contains(word), "{}", said.err);
    }
}
