//! Files of readings: weights that sum to 1, whatever the order of the lines, or a refusal that says where and why.
#![cfg_attr(fuzzing, no_main)]

use std::cell::RefCell;

use legwork::Db;
use legwork_file::{Finder, Located, Source};

legwork_fuzz::target!(readings);

/// A home with a port of every kind of name.
const HOME: &str = include_str!("../corpus/premises/barn-fed-over-coax.toml");
/// The error of one reading, in dB.
const ERROR: f32 = 0.5;
/// What the ulps of a sum of squares come to in a weight, for each unit of that sum, when it is added up in another order.
const ROUNDING: f64 = 5e-7;

thread_local! {
    /// One visit after another in the same room.
    static FINDER: RefCell<Finder> = RefCell::new(Finder::new());
}

fn readings(bytes: &[u8]) {
    let Ok(source) = Source::new("fuzz.csv", bytes) else { return };
    FINDER.with_borrow_mut(|finder| {
        let Some(first) = locate(finder, &source) else { return };
        // The lines from the last to the first, where a line is a line: without quotes none goes on in the next.
        let Some((head, rest)) = source.text.split_once('\n').filter(|_| !source.text.contains(['"', '\r'])) else {
            return;
        };
        let lines: Vec<&str> = rest.lines().rev().collect();
        let turned = format!("{head}\n{}\n", lines.join("\n"));
        let second = locate(finder, &Source { text: &turned, ..source }).expect("the same readings");
        // Where readings are wide of the mark by far, `f32` holds no weights.
        let rounding = 1e-4 + ROUNDING * first.squares;
        if rounding > 0.01 {
            return;
        }
        let near = |one: f64, other: f64| (one - other).abs() <= rounding;
        assert!(near(first.unexplained, second.unexplained), "{} or {}", first.unexplained, second.unexplained);
        for (parts, weight) in &first.suspects {
            let same = second.suspects.iter().find(|(other, _)| other == parts).expect("the same suspects");
            assert!(near(*weight, same.1), "{parts}: {weight} or {}", same.1);
        }
    });
}

/// What the readings say.
struct Said {
    unexplained: f64,
    suspects: Vec<(String, f64)>,
    /// The sum of squares of what was read less what was expected, in errors of a reading.
    squares: f64,
}

/// What is located by a file that can be used.
fn locate(finder: &mut Finder, source: &Source<'_>) -> Option<Said> {
    let home = Source::new("home.toml", HOME.as_bytes()).unwrap();
    match finder.locate(&home, source, Db::constant(ERROR)) {
        Ok(located) => Some(look_at(&located)),
        Err(refusal) => {
            legwork_fuzz::is_useful(&refusal);
            None
        }
    }
}

/// Looks whether what is said agrees with itself.
fn look_at(located: &Located<'_>) -> Said {
    assert!(!located.says().is_empty());
    let json: serde_json::Value = serde_json::from_str(&located.json()).unwrap();
    let rows = json["suspects"].as_array().unwrap();
    let suspects: Vec<(String, f64)> =
        rows.iter().map(|row| (row["parts"].to_string(), row["weight"].as_f64().unwrap())).collect();
    assert!((suspects.iter().map(|(_, weight)| weight).sum::<f64>() - 1.0).abs() < 1e-4);
    assert!(suspects.is_sorted_by(|(_, one), (_, next)| one >= next), "the best stands first");
    let mut parts: Vec<&str> =
        rows.iter().flat_map(|row| row["parts"].as_array().unwrap()).map(|part| part.as_str().unwrap()).collect();
    let named = parts.len();
    parts.sort_unstable();
    parts.dedup();
    assert_eq!(parts.len(), named, "a part is in one group");
    let read = json["readings"].as_array().unwrap();
    let next = &json["next_reading"]["at"];
    assert!(next.is_null() || read.iter().all(|reading| reading["at"] != *next), "{next} has been read");
    let wide = |row: &serde_json::Value| {
        let number = |key: &str| row[key].as_f64().unwrap();
        ((number("read_dbmv") - number("expected_dbmv")) / f64::from(ERROR)).powi(2)
    };
    Said { unexplained: json["unexplained_db"].as_f64().unwrap(), suspects, squares: read.iter().map(wide).sum() }
}
