//! The real program's changes against a search that tries all of them.

use std::path::Path;
use std::process::{Command, Stdio};

use legwork_tests::{Mended, broken, good, mend, to_toml, with_built_in};
use serde_json::{Value, json};

/// How many seeds: `LEGWORK_HOMES=20000` tries more than a test run has time for.
fn homes() -> u64 {
    let wanted = std::env::var("LEGWORK_HOMES").ok().and_then(|text| text.parse().ok());
    wanted.unwrap_or(50)
}

/// The most changes.
const CHANGES: usize = 2;
/// Most homes of one number of changes that are tried one by one.
const MOST: usize = 3_000;

/// The program.
fn program() -> Command {
    Command::new(legwork_tests::program())
}

/// What came of one home.
enum Outcome {
    /// Both agree on so many changes.
    By(usize),
    /// Both agree that so few do not do it.
    Not,
    /// Rounding decides, or there is too much to try.
    LeftOut,
    /// They disagree, or the home after them is not what it is said to be.
    Wrong(Vec<String>),
}

/// Holds the program's answer for one home against the search's.
fn hold(seed: u64, premises: &Value, stock: &Value) -> Outcome {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let (file, truck) = (folder.join(format!("home-{seed}.toml")), folder.join(format!("truck-{seed}.toml")));
    std::fs::write(&file, to_toml(premises)).expect("a file can be written");
    std::fs::write(&truck, to_toml(&json!({ "stock": stock }))).expect("a file can be written");
    let mut program = program();
    program.arg("mend").arg(&file).arg("--stock").arg(&truck);
    program.args(["--json", "--seconds", "20", "--changes", &CHANGES.to_string()]).stdin(Stdio::null());
    let output = program.output().expect("it starts");
    let Ok(said) = serde_json::from_slice::<Value>(&output.stdout) else {
        return Outcome::Wrong(vec![format!("refused: {}", String::from_utf8_lossy(&output.stderr))]);
    };
    let mut wrong = Vec::new();
    let feasible = said["feasible"] == true;
    if output.status.code() != Some(i32::from(!feasible)) {
        wrong.push(format!("exit code {:?} with feasible {feasible}", output.status.code()));
    }
    if feasible {
        look_at(stock, &said, &mut wrong);
    }
    let number = said["changes"].as_array().map_or(0, Vec::len);
    let outcome = match mend(&with_built_in(premises), stock, CHANGES, MOST) {
        Mended::By(best) => {
            let ours = format!("{} changes, {}, {} dB", best.changes, best.cost, best.margin);
            let margin = said["smallest_margin_db"].as_f64().unwrap_or(f64::INFINITY);
            let near = margin == best.margin || (margin - best.margin).abs() <= 0.01;
            if !feasible || number != best.changes || hundredths(&said["cost"]) != best.cost || !near {
                let theirs = format!("{feasible}, {number} changes, {}, {margin} dB", said["cost"]);
                wrong.push(format!("expected {ours}, got {theirs}; it could be\n{}", to_toml(&best.premises)));
            } else if said["proved"] != true {
                wrong.push("not proved".to_owned());
            }
            Outcome::By(best.changes)
        }
        Mended::Not if feasible => {
            wrong.push("changes where none do it".to_owned());
            Outcome::Not
        }
        Mended::Not => Outcome::Not,
        Mended::OnTheEdge | Mended::TooMany => Outcome::LeftOut,
    };
    if !wrong.is_empty() {
        return Outcome::Wrong(wrong);
    }
    // Kept only where somebody has to look at them.
    let _ = std::fs::remove_file(file);
    let _ = std::fs::remove_file(truck);
    outcome
}

/// A price in hundredths.
fn hundredths(price: &Value) -> u64 {
    (price.as_f64().unwrap_or(0.0) * 100.0).round() as u64
}

/// Looks whether the home after the changes is as good as it is said to be, and what they cost.
fn look_at(stock: &Value, said: &Value, wrong: &mut Vec<String>) {
    let text = said["premises"].as_str().unwrap_or_default();
    let Ok(after) = toml::from_str::<Value>(text) else {
        wrong.push(format!("its premises are no TOML:\n{text}"));
        return;
    };
    let wanted = stock["margin"].as_str().and_then(|text| text.trim_end_matches("dB").trim().parse().ok());
    let margin = said["smallest_margin_db"].as_f64().unwrap_or(f64::INFINITY);
    match good(&with_built_in(&after), wanted.unwrap_or(0.0)) {
        Some(own) if own == margin || (own - margin).abs() <= 0.005 => {}
        Some(own) => wrong.push(format!("a margin of {own} dB, not {margin} dB:\n{text}")),
        None => wrong.push(format!("the model finds the home bad:\n{text}")),
    }
    let parts = said["parts"].as_array().into_iter().flatten();
    let cost: u64 = parts.map(|take| hundredths(&take["cost"]) * take["count"].as_u64().unwrap_or(0)).sum();
    if cost != hundredths(&said["cost"]) {
        wrong.push(format!("its parts cost {cost}, not {}", said["cost"]));
    }
}

#[test]
fn no_changes_are_better_than_the_programs_and_they_put_the_home_right() {
    let (mut by, mut not, mut left_out) = ([0usize; CHANGES + 1], 0usize, 0usize);
    let mut told = Vec::new();
    for seed in 0..homes() {
        let Some((premises, stock)) = broken(seed) else { continue };
        match hold(seed, &premises, &stock) {
            Outcome::By(changes) => by[changes] += 1,
            Outcome::Not => not += 1,
            Outcome::LeftOut => left_out += 1,
            Outcome::Wrong(wrong) => told.push(format!("home {seed}: {}", wrong.join("\n  "))),
        }
    }
    println!("by number of changes {by:?}; not by so few {not}; left out {left_out}");
    assert!(told.is_empty(), "{} homes disagree:\n{}", told.len(), told.join("\n"));
    let all = by.iter().sum::<usize>() + not + left_out;
    assert!(3 * all as u64 >= homes(), "too few homes");
    assert!(3 * by[1] >= all && 10 * by[2] >= all, "too few homes that take changes");
    assert!(20 * left_out <= all + 19, "too many homes left out");
}
