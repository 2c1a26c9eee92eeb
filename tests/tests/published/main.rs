//! Published figures, each with its source and tolerance, against the library and the whole check.
//!
//! A figure holds to half its last printed digit and the rounding that is stated beside it. Makers'
//! names are left out. Known slips of the published texts, of which the exact value is tested:
//! the 750 MHz column of the tree example from its first 80 ft on (1 dB low), 2.91 V for 0.3 A through
//! 9.765 ohm (2.9295 V), a noise figure of 7.294 dB (7.293 dB), 1.1 uV from a mistyped factor.
//! Not tested, because the tool has no such figure: cross-modulation and its sums.

mod cables;
mod conductors;
mod levels;
mod noise;
mod trees;

use legwork::quick::{
    Metal, Run, Step, carrier_to_noise, echo_from_ripple, hold, power_sum, resistance, thermal_floor,
};
use legwork::{
    Amps, Awg, Cable, Curve, Db, Draw, Frequency, Length, Level, Ohms, Percent, Temperature, Volts, Watts, tables,
};
use legwork_file::{Checker, Source};
use serde_json::{Value, json};

/// One figure: what it is and where it was read, the published value, the tool's, and how near they have to be.
struct Figure(&'static str, f64, f64, f64);

/// Asserts all of some figures, and that none was left out.
fn hold_all(figures: &[Figure], count: usize) {
    for Figure(what, published, found, tolerance) in figures {
        assert!((found - published).abs() <= *tolerance, "{what}: {found} against {published}");
    }
    assert_eq!(figures.len(), count);
}

/// The rows of a reference file, without its head.
fn rows(text: &'static str) -> Vec<Vec<&'static str>> {
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines.map(|line| line.split(',').collect()).collect()
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is no number"))
}

fn mhz(mhz: f64) -> Frequency {
    Frequency::new(mhz as f32).expect("a frequency")
}

fn dbmv(dbmv: f64) -> Level {
    Level::new(dbmv as f32).expect("a level")
}

fn db(db: f64) -> Db {
    Db::new(db as f32).expect("a ratio")
}

fn feet(feet: f64) -> Length {
    Length::from_feet(feet as f32).expect("a length")
}

/// The report on a home.
fn report(checker: &mut Checker, home: &Value) -> Value {
    let text = home.to_string();
    let source =
        Source::new("home.json", text.as_bytes()).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let checked = checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    serde_json::from_str(&checked.json()).expect("a report")
}

/// A home with some parts, the last of which is `last`, and a set behind it.
fn home(forward: Value, parts: Value, spec: Value, last: &str) -> Value {
    json!({
        "format": 1, "name": "out of a book",
        "service": {
            "split": "42/48 MHz", "noise_bandwidth": "4 MHz",
            "carriers": [{"first": "50 MHz", "last": "1003 MHz", "step": "953 MHz"}],
        },
        "entry": {"forward": forward, "cnr": "100 dB", "transmit": [["42 MHz", "30 dBmV"]], "bonded": true},
        "part": parts, "spec": spec,
        "outlet": [{"id": "set", "after": last, "device": "modem"}],
    })
}
