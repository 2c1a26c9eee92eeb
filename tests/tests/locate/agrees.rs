//! The program's JSON held against the model of the contract, on random homes and random visits.

use legwork::Db;
use legwork_file::{Finder, Source};
use legwork_tests::{Visit, home, locate, visit};
use serde_json::Value;

/// How far a weight may be off.
const WEIGHT: f64 = 0.005;

fn sorted(parts: &Value) -> Vec<&str> {
    let mut parts: Vec<&str> = parts.as_array().expect("parts").iter().filter_map(Value::as_str).collect();
    parts.sort_unstable();
    parts
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// Where the program departs from the model.
pub(crate) fn departures(want: &Value, got: &Value) -> Vec<String> {
    let mut wrong = Vec::new();
    let (wanted, found) = (want["suspects"].as_array().expect("a list"), got["suspects"].as_array().expect("a list"));
    if wanted.len() != found.len() {
        wrong.push(format!("{} suspects, not {}", found.len(), wanted.len()));
    }
    for suspect in wanted {
        let Some(same) = found.iter().find(|found| sorted(&found["parts"]) == sorted(&suspect["parts"])) else {
            wrong.push(format!("no suspect {}", suspect["parts"]));
            continue;
        };
        if (number(&same["weight"]) - number(&suspect["weight"])).abs() > WEIGHT {
            wrong.push(format!("{}: weight {}, not {}", suspect["parts"], same["weight"], suspect["weight"]));
        }
        // Where two subsets are as good to a few thousandths, rounding chooses.
        for member in
            ["a", "b", "c"].into_iter().filter(|_| suspect["margin"].as_f64().is_none_or(|margin| margin > 0.01))
        {
            let (want, got) = (number(&suspect["excess"][member]), number(&same["excess"][member]));
            if (want - got).abs() > 0.002 + 0.001 * want.abs() {
                wrong.push(format!("{}: {member} {got}, not {want}", suspect["parts"]));
            }
        }
    }
    let weights: Vec<f64> = found.iter().map(|suspect| number(&suspect["weight"])).collect();
    if !weights.is_sorted_by(|a, b| a >= b) || (weights.iter().sum::<f64>() - 1.0).abs() > 1e-5 {
        wrong.push(format!("weights {weights:?}"));
    }
    let clear = wanted.len() == 1 || number(&wanted[0]["weight"]) - number(&wanted[1]["weight"]) > 2.0 * WEIGHT;
    if clear && (number(&want["unexplained_db"]) - number(&got["unexplained_db"])).abs() > 0.001 {
        wrong.push(format!("unexplained {}, not {}", got["unexplained_db"], want["unexplained_db"]));
    }
    let (rows, same) = (want["readings"].as_array().expect("rows"), got["readings"].as_array().expect("rows"));
    let alike = rows.iter().zip(same).all(|(want, got)| {
        let near = |key: &str| (number(&want[key]) - number(&got[key])).abs() < 5e-4;
        want["at"] == got["at"] && ["mhz", "expected_dbmv", "read_dbmv"].into_iter().all(near)
    });
    if rows.len() != same.len() || !alike {
        wrong.push("readings differ".to_owned());
    }
    wrong.extend(next(want, got));
    wrong
}

/// What is wrong with the next reading.
fn next(want: &Value, got: &Value) -> Option<String> {
    let gains = want["gains"].as_array().expect("gains");
    let largest = gains.iter().map(|gain| number(&gain["gain"])).fold(0.0, f64::max);
    let next = &got["next_reading"];
    if next.is_null() {
        return (largest > 0.0102).then(|| format!("no next reading, but {largest} to gain"));
    }
    let gain = gains.iter().find(|gain| gain["at"] == next["at"]).map(|gain| number(&gain["gain"]));
    let right = gain.is_some_and(|gain| gain >= 0.99 * largest && gain > 0.0098);
    let lowest = number(&want["at_mhz"]) == number(&next["mhz"]);
    // The program's exponentials are right to 2e-5 of themselves, and gains are a few nats.
    let told = gain.is_some_and(|gain| (gain - number(&next["gain_nats"])).abs() < 1e-4);
    (!right || !lowest || !told).then(|| format!("next {next}: gains {gain:?} of {largest}"))
}

/// What the program's library makes of a visit.
fn found(finder: &mut Finder, premises: &Value, visit: &Visit) -> Value {
    let (text, csv) = (premises.to_string(), visit.csv());
    let home = Source::new("home.json", text.as_bytes()).expect("a text");
    let readings = Source::new("visit.csv", csv.as_bytes()).expect("a text");
    let sigma = Db::new(visit.sigma as f32).expect("a ratio");
    let located = finder.locate(&home, &readings, sigma).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    serde_json::from_str(&located.json()).expect("JSON")
}

#[test]
fn the_program_and_the_model_agree_on_two_thousand_random_visits() {
    let mut finder = Finder::new();
    let (mut wrong, mut gained, mut faults, mut names, mut at_outlets) = (Vec::new(), 0, 0, 0, 0);
    for seed in 0..2000 {
        let premises = home(seed);
        let visit = visit(&premises, seed);
        let want = locate(&premises, &visit.lines, visit.sigma);
        let got = found(&mut finder, &premises, &visit);
        gained += usize::from(!got["next_reading"].is_null());
        faults += usize::from(visit.fault.is_some());
        names += usize::from(visit.lines.iter().any(|line| line.0 == "entry"));
        let mut departures = departures(&want, &got);
        let next = &got["next_reading"];
        let stands =
            premises["outlet"].as_array().expect("outlets").iter().find(|outlet| outlet["after"] == next["at"]);
        if !next.is_null() && next["outlet"] != *stands.map_or(&Value::Null, |outlet| &outlet["id"]) {
            departures.push(format!("the next reading is not at the outlet there: {next}"));
        }
        at_outlets += usize::from(next["outlet"].is_string());
        if !departures.is_empty() {
            wrong.push(format!("visit {seed}: {}", departures.join("; ")));
        }
    }
    assert!(
        wrong.is_empty(),
        "{} visits:\n{}",
        wrong.len(),
        wrong.iter().take(20).map(String::as_str).collect::<Vec<_>>().join("\n")
    );
    // What was compared is worth comparing.
    assert!(gained > 500 && faults > 1000 && names > 400 && at_outlets > 100, "{gained} {faults} {names} {at_outlets}");
}
