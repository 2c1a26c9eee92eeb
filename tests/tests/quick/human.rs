//! What people see: the result first, then the formula with the numbers in it, then the source.

use crate::binary::{Said, line};

/// A line, how the result has to begin, and numbers that the working has to show.
const ROWS: [(&str, &str, &[&str]); 10] = [
    ("level -2.5dBmV", "-2.5 dBmV", &["-2.5 + 60 = 57.5", "10^(-2.5/20)"]),
    ("sum 10dBmV 10dBmV 7dBmV", "13.98 dBmV", &["10^(10/10) + 10^(10/10) + 10^(7/10)"]),
    ("cable series-6 50ft --at 750MHz --temp 40C", "2.94 dB at 750 MHz", &["5.65 dB * 50 ft/100 ft", "(40 - 20)"]),
    ("along 12dBmV --at 55MHz cable=series-6:60ft pad=3dB", "8.0 dBmV at 55 MHz", &["12 - 0.96 - 3 = 8.04"]),
    ("feed --supply 18V --loop 3.6ohm --draw 3W", "holds: 17.38 V", &["18^2 - 4*3.6*3", "27 ohm", "22.5 W"]),
    ("feed --supply 18V --loop 6ohm --draw 1A", "holds: 12 V", &["18 - 6*1 = 12", "18 ohm", "3 A"]),
    ("noise --noise-figure 5dB --input 0dBmV --bandwidth 4MHz", "carrier to noise 54.2 dB", &["0 - (-59.2) - 5"]),
    ("channel 3", "channel 3: 60 to 66 MHz, centre 63 MHz", &["60 + 3 = 63 MHz", "61.25 MHz"]),
    ("echo --ripple 4MHz --velocity 0.85", "31.85 m (104.5 ft)", &["0.85*299.792", "(2*4 MHz)"]),
    ("wire 18AWG 100ft", "0.6385 ohm", &["(36 - 18)/39", "30.48 m"]),
];

#[test]
fn the_result_stands_first_then_the_formula_then_the_source() {
    for (typed, result, working) in ROWS {
        let Said { code, out, err } = line(typed);
        assert_eq!((code, err.as_str()), (0, ""), "{typed}");
        assert!(out.starts_with(result), "{typed}:\n{out}");
        assert_eq!(out.lines().next().map(|first| first.starts_with(' ')), Some(false));
        let at = |word: &str| out.find(word).unwrap_or_else(|| panic!("{typed}: no {word} in\n{out}"));
        assert!(at("formula") < at("source"), "{out}");
        for figure in working {
            assert!(at(figure) > at("formula"), "{typed}: {figure} in\n{out}");
        }
        assert!(!out.contains('\u{1b}'), "colour has no place in a pipe");
        assert!(out.lines().all(|line| line.chars().count() <= 100), "{out}");
    }
}

#[test]
fn a_cable_without_frequencies_has_a_table() {
    let out = line("cable series-11 85ft").out;
    for row in ["5 MHz", "57 MHz", "750 MHz", "1002 MHz", "1675 MHz"] {
        assert!(out.contains(row), "{out}");
    }
}

#[test]
fn every_step_has_a_bar_and_less_level_a_shorter_one() {
    let out = line("along 12dBmV --at 57MHz cable=series-6:60ft splitter=4-way gain=20dB").out;
    let bar = |name: &str| {
        let line = out.lines().find(|line| line.trim_start().starts_with(name)).expect("a line of that name");
        line.matches('#').count()
    };
    let bars = ["start", "cable=series-6:60ft", "splitter=4-way", "gain=20dB"].map(bar);
    assert!(bars[0] > bars[1] && bars[1] > bars[2] && bars[2] > 0 && bars[3] > bars[0], "{bars:?}\n{out}");
}

#[test]
fn a_collapse_is_bad_news_and_says_what_would_hold() {
    let said = line("feed --supply 18V --loop 36ohm --draw 3W");
    assert_eq!(said.code, 1);
    assert!(said.out.starts_with("collapsed"), "{}", said.out);
    for limit in ["longest loop for 3 W: V^2/(4*P) = 27 ohm", "largest draw behind 36 ohm: V^2/(4*R) = 2.25 W"] {
        assert!(said.out.contains(limit), "{}", said.out);
    }
    let free = line("feed --supply 18V --loop 0ohm --draw 0W");
    assert_eq!(free.code, 0);
    assert!(free.out.contains("no loop is too long") && free.out.contains("no draw is too large"), "{}", free.out);
    let dead = line("feed --supply 0V --loop 0ohm --draw 0W");
    assert_eq!(dead.code, 1);
    assert!(dead.out.contains("0 V holds nothing"), "{}", dead.out);
}

#[test]
fn help_behind_a_level_is_still_help() {
    let said = line("sum 3dBmV --help");
    assert_eq!((said.code, said.out), (0, line("sum --help").out));
}
