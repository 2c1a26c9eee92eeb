//! Whether a plan is what it says it is, by `check`, by the model and by the stock.

use std::collections::BTreeMap;

use legwork_tests::{good, with_built_in};
use serde_json::Value;

use super::{hundredths, run, written};

/// Looks whether a plan is what it says it is, and whether the stock has it.
pub(super) fn look_at(seed: u64, need: &Value, said: &Value, wrong: &mut Vec<String>) {
    let text = said["premises"].as_str().unwrap_or_default();
    let Ok(premises) = toml::from_str::<Value>(text) else {
        wrong.push(format!("its premises are no TOML:\n{text}"));
        return;
    };
    let file = written(&format!("plan-{seed}.toml"), text);
    let output = run("check", &file);
    let _ = std::fs::remove_file(file);
    match serde_json::from_slice::<Value>(&output.stdout) {
        Ok(report) => wrong.extend(bad_findings(&report).map(|found| format!("its plan is not good: {found}"))),
        Err(_) => wrong.push(format!("its premises are refused: {}", String::from_utf8_lossy(&output.stderr))),
    }
    let wanted = need["stock"]["margin"].as_str().and_then(|text| text.trim_end_matches("dB").trim().parse().ok());
    match good(&with_built_in(&premises), wanted.unwrap_or(0.0)) {
        None => wrong.push(format!("the model finds its plan bad:\n{text}")),
        Some(margin) => {
            let said = said["smallest_margin_db"].as_f64().unwrap_or(f64::INFINITY);
            if margin != said && (margin - said).abs() > 0.005 {
                wrong.push(format!("its plan has a margin of {margin} dB, not {said} dB:\n{text}"));
            }
        }
    }
    stock_has(need, said, wrong);
    holds(need, &premises, said, wrong);
}

/// Findings that a plan may not have.
fn bad_findings(report: &Value) -> impl Iterator<Item = &Value> {
    let aside = ["bond-missing", "bond-long", "bond-thin", "beyond-readings", "bands-overlap"];
    let all = report["findings"].as_array().into_iter().flatten();
    all.filter(move |found| found["verdict"] != "pass" && !aside.iter().any(|code| found["code"] == *code))
}

/// How many of each thing: by kind, name, and what else tells it apart.
type Count = BTreeMap<(String, String), u64>;

/// The kind and the name of an item, or of a part.
fn kind_and_name(row: &Value) -> (String, String) {
    let kinds = ["splitter", "coupler", "pad", "equalizer", "filter", "amplifier", "inserter", "joint", "cable"];
    let words = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    if !row["supply"].is_null() {
        let supply = &row["supply"];
        return ("supply".to_owned(), format!("{}, {}", words(&supply["volts"]), words(&supply["amps"])));
    }
    let kind = kinds.into_iter().find(|kind| !row[*kind].is_null()).unwrap_or("nothing");
    (kind.to_owned(), words(&row[kind]))
}

/// What a plan takes is in the stock, and costs the sum.
fn stock_has(need: &Value, said: &Value, wrong: &mut Vec<String>) {
    let mut stock: BTreeMap<_, u64> = BTreeMap::new();
    for item in need["stock"]["item"].as_array().into_iter().flatten() {
        *stock.entry((kind_and_name(item), hundredths(&item["cost"]))).or_default() +=
            item["count"].as_u64().unwrap_or(1);
    }
    let (mut cost, mut amplifiers) = (0, 0);
    for take in said["parts"].as_array().into_iter().flatten() {
        let words = |key: &str| take[key].as_str().unwrap_or_default().to_owned();
        let (kind, price, count) = (words("kind"), hundredths(&take["cost"]), take["count"].as_u64().unwrap_or(0));
        cost += price * count;
        amplifiers += if kind == "amplifier" { count } else { 0 };
        let left = stock.entry(((kind, words("item")), price)).or_default();
        match left.checked_sub(count) {
            Some(less) if count > 0 => *left = less,
            _ => wrong.push(format!("the stock has not that many: {take}")),
        }
    }
    if cost != hundredths(&said["cost"]) || Some(amplifiers) != said["amplifiers"].as_u64() {
        wrong.push(format!("its parts cost {cost} and hold {amplifiers} amplifiers, not what it says"));
    }
}

/// The premises hold what is taken, and every run and outlet as they are needed.
fn holds(need: &Value, premises: &Value, said: &Value, wrong: &mut Vec<String>) {
    let mut parts = Count::new();
    let rows = |key: &str| premises[key].as_array().cloned().unwrap_or_default();
    for part in rows("part") {
        *parts.entry(kind_and_name(&part)).or_default() += 1;
    }
    for supply in rows("supply") {
        let name = kind_and_name(&serde_json::json!({ "supply": supply }));
        *parts.entry(name).or_default() += 1;
    }
    let outlets = need["outlet"].as_array().cloned().unwrap_or_default();
    let mut expected = Count::new();
    for take in said["parts"].as_array().into_iter().flatten() {
        let words = |key: &str| take[key].as_str().unwrap_or_default().to_owned();
        *expected.entry((words("kind"), words("item"))).or_default() += take["count"].as_u64().unwrap_or(0);
    }
    for run in outlets.iter().map(|outlet| &outlet["run"]).chain([&need["panel"]["lead_in"]]) {
        if !run.is_null() {
            *expected.entry(kind_and_name(run)).or_default() += 1;
        }
    }
    if parts != expected {
        wrong.push(format!("it takes {expected:?}, and its premises hold {parts:?}"));
    }
    let placed = rows("outlet");
    if placed.len() != outlets.len() {
        wrong.push(format!("{} outlets of {}", placed.len(), outlets.len()));
    }
    for outlet in &outlets {
        let row = placed.iter().find(|row| row["id"] == outlet["id"]).unwrap_or(&Value::Null);
        if row["device"] != outlet["device"] || (row["lifeline"] == true) != (outlet["lifeline"] == true) {
            wrong.push(format!("outlet {} is not as it was wanted: {row}", outlet["id"]));
        }
        if !ends_in(premises, &row["after"], &outlet["run"]) {
            wrong.push(format!("outlet {} is not at the end of its run", outlet["id"]));
        }
    }
}

/// Whether a port is the end of such a run, or behind an inserter at its end.
fn ends_in(premises: &Value, port: &Value, run: &Value) -> bool {
    let port = port.as_str().unwrap_or_default();
    let parts = premises["part"].as_array().into_iter().flatten();
    let mut parts = parts.filter(|part| part["id"].as_str().is_some_and(|id| port == id || port == format!("{id}.rf")));
    parts.next().is_some_and(|part| {
        let same = |key: &str| part[key] == run[key];
        let inserted = !part["inserter"].is_null() && ends_in(premises, &part["after"], run);
        inserted || (same("cable") && same("length") && same("place"))
    })
}
