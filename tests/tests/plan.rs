//! The real program's plans against a search that tries every one.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;

use legwork_tests::{Answer, Optimum, best, good, need, to_toml, with_built_in};
use serde_json::Value;

/// How many needs: `LEGWORK_NEEDS=20000` tries more than a test run has time for.
fn needs() -> u64 {
    let wanted = std::env::var("LEGWORK_NEEDS").ok().and_then(|text| text.parse().ok());
    wanted.unwrap_or(200)
}

/// The seed of the first.
fn first() -> u64 {
    std::env::var("LEGWORK_FIRST").ok().and_then(|text| text.parse().ok()).unwrap_or(0)
}

/// Ends a search; no plan of a need this small takes as long.
const SECONDS: &str = "20";

/// Most plans of one need that are tried one by one.
const MOST: usize = 20_000;

/// The program; the first to ask has it built, as this test was built.
fn program() -> Command {
    static PATH: OnceLock<PathBuf> = OnceLock::new();
    let path = PATH.get_or_init(|| {
        // `target/PROFILE/deps/THIS`: built beside, so that nothing is compiled twice.
        let this = std::env::current_exe().expect("this test has a path");
        let target = this.ancestors().nth(3).expect("a target directory");
        let build = escargot::CargoBuild::new().package("legwork-cli").bin("legwork").target_dir(target);
        build.current_release().run().expect("the program builds").path().to_owned()
    });
    Command::new(path)
}

/// Runs the program on a file.
fn run(command: &str, file: &Path) -> Output {
    let mut program = program();
    program.arg(command).arg(file).arg("--json").stdin(Stdio::null());
    if command == "plan" {
        program.args(["--seconds", SECONDS]);
    }
    program.output().expect("it starts")
}

/// Writes a text where only this test does.
fn written(name: &str, text: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text).expect("a file can be written");
    path
}

/// What came of one need.
enum Outcome {
    /// Both agree on a plan with so many amplifiers.
    Planned(usize),
    /// Both agree that there is none.
    Nothing,
    /// Rounding decides.
    LeftOut,
    /// There are too many plans to try.
    TooMany,
    /// They disagree, or the plan is not what it says.
    Wrong(Vec<String>),
}

/// Holds the program's answer to one need against the search's.
fn hold(seed: u64) -> Outcome {
    let need = need(seed);
    let whole = with_built_in(&need);
    let answer = best(&whole, MOST);
    let (name, text) = match seed % 2 {
        0 => (format!("need-{seed}.toml"), to_toml(&need)),
        _ => (format!("need-{seed}.json"), need.to_string()),
    };
    let file = written(&name, &text);
    let output = run("plan", &file);
    let Ok(said) = serde_json::from_slice::<Value>(&output.stdout) else {
        return Outcome::Wrong(vec![format!("refused: {}", String::from_utf8_lossy(&output.stderr))]);
    };
    let mut wrong = Vec::new();
    let feasible = said["feasible"] == true;
    let code = output.status.code();
    if code != Some(i32::from(!feasible)) {
        wrong.push(format!("exit code {code:?} with feasible {}", said["feasible"]));
    }
    if said["proved"] != true {
        wrong.push("not proved".to_owned());
    }
    if feasible {
        look_at(seed, &need, &said, &mut wrong);
    } else if said["why_not"].as_array().is_none_or(Vec::is_empty) {
        wrong.push("nothing is in the way".to_owned());
    }
    match answer {
        Answer::Best(optimum) => compare(&optimum, &said, &mut wrong),
        Answer::Nothing if feasible => wrong.push("a plan where there is none".to_owned()),
        Answer::Nothing => {}
        Answer::OnTheEdge if wrong.is_empty() => return Outcome::LeftOut,
        Answer::TooMany if wrong.is_empty() => return Outcome::TooMany,
        _ => {}
    }
    if wrong.is_empty() {
        // Kept only where somebody has to look at them.
        let _ = std::fs::remove_file(file);
        return if feasible {
            Outcome::Planned(said["amplifiers"].as_u64().unwrap_or(0) as usize)
        } else {
            Outcome::Nothing
        };
    }
    Outcome::Wrong(wrong)
}

/// Compares what both call the best.
fn compare(optimum: &Optimum, said: &Value, wrong: &mut Vec<String>) {
    let ours = format!("{} amplifiers, {}, {} dB", optimum.amplifiers, optimum.cost, optimum.margin);
    if said["feasible"] != true {
        wrong.push(format!("no plan, but there is one with {ours}:\n{}", to_toml(&optimum.premises)));
        return;
    }
    let cost = hundredths(&said["cost"]);
    let margin = said["smallest_margin_db"].as_f64().unwrap_or(f64::INFINITY);
    let near = margin == optimum.margin || (margin - optimum.margin).abs() <= 0.01;
    if said["amplifiers"].as_u64() != Some(optimum.amplifiers as u64) || cost != optimum.cost || !near {
        let theirs = format!("{} amplifiers, {cost}, {margin} dB", said["amplifiers"]);
        wrong.push(format!("expected {ours}, got {theirs}; the better plan is\n{}", to_toml(&optimum.premises)));
    }
}

/// A price in hundredths.
fn hundredths(price: &Value) -> u64 {
    (price.as_f64().unwrap_or(0.0) * 100.0).round() as u64
}

/// Looks whether a plan is what it says it is, and whether the stock has it.
fn look_at(seed: u64, need: &Value, said: &Value, wrong: &mut Vec<String>) {
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

#[test]
fn no_plan_is_better_than_the_programs_and_its_plans_are_good() {
    let program = program();
    drop(program);
    let mut counts = [0usize; 5];
    let mut told = Vec::new();
    let workers = std::thread::available_parallelism().map_or(1, usize::from) as u64;
    let outcomes: Vec<(u64, Outcome)> = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..workers)
            .map(|worker| {
                let seeds = (first()..first() + needs()).filter(move |seed| seed % workers == worker);
                scope.spawn(move || seeds.map(|seed| (seed, hold(seed))).collect::<Vec<_>>())
            })
            .collect();
        threads.into_iter().flat_map(|thread| thread.join().expect("a thread")).collect()
    });
    for (seed, outcome) in outcomes {
        let place = match outcome {
            Outcome::Planned(0) => 0,
            Outcome::Planned(_) => 1,
            Outcome::Nothing => 2,
            Outcome::LeftOut => 3,
            Outcome::TooMany => 4,
            Outcome::Wrong(wrong) => {
                told.push(format!("need {seed}: {}", wrong.join("\n  ")));
                continue;
            }
        };
        counts[place] += 1;
    }
    let [without, with, nothing, left_out, too_many] = counts;
    println!(
        "{without} plans without an amplifier, {with} with; nothing serves {nothing}; left out {left_out}, \
         too many plans {too_many}"
    );
    assert!(told.is_empty(), "{} of {} needs disagree:\n{}", told.len(), needs(), told.join("\n"));
    let all = needs() as usize;
    assert!(3 * (without + with) >= all, "too few needs that can be done");
    assert!(4 * with >= without + with, "too few plans with an amplifier");
    assert!(5 * nothing >= all, "too few needs that can't be done");
    assert!(50 * left_out <= all + 49 && 50 * too_many <= all + 49, "too many needs left out");
}
