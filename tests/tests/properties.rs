//! What holds for every home, tried on random ones.

use std::cell::RefCell;

use legwork::{Level, quick::power_sum};
use legwork_file::{Checker, Source, quantity};
use legwork_tests::{home, to_toml};
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestRng, TestRunner};
use serde_json::{Value, json};

type Outcome = Result<(), TestCaseError>;

/// Tries a property, always on the same cases: `PROPTEST_CASES=5000` tries more of them.
fn for_all<S: Strategy>(cases: impl FnOnce() -> S + Send, property: impl Fn(&mut Checker, S::Value) -> Outcome + Send) {
    let checker = RefCell::new(Checker::new());
    let config = Config { failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let outcome = runner.run(&cases(), |case| property(&mut checker.borrow_mut(), case));
    outcome.unwrap_or_else(|error| panic!("{error}"));
}

/// The report on a text, or what is wrong with it.
fn check(checker: &mut Checker, name: &str, text: &str) -> Result<String, TestCaseError> {
    let refused = |message: String| TestCaseError::fail(format!("{message}\n{text}"));
    let source = Source::new(name, text.as_bytes()).map_err(|refusal| refused(refusal.render(false)))?;
    let checked = checker.check(&source, None).map_err(|refusal| refused(refusal.render(false)))?;
    Ok(checked.json())
}

/// The report on a home.
fn report(checker: &mut Checker, home: &Value) -> Result<Value, TestCaseError> {
    let text = check(checker, "home.json", &home.to_string())?;
    serde_json::from_str(&text).map_err(|error| TestCaseError::fail(error.to_string()))
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

/// A quantity of a file as a plain number.
fn read<T>(value: &Value, read: fn(&str) -> Result<T, quantity::Bad>) -> Result<T, TestCaseError> {
    let text = value.as_str().unwrap_or_default();
    read(text).map_err(|bad| TestCaseError::fail(format!("{text}: {bad}")))
}

/// Asserts that two numbers are the same but for so much.
fn near(one: f64, other: f64, within: f64, what: &str) -> Outcome {
    prop_assert!((one - other).abs() <= within, "{what}: {one} and {other}");
    Ok(())
}

// ---------------------------------------------------------------------------------------------------------------
// A way of parts, one behind the other.

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

// ---------------------------------------------------------------------------------------------------------------
// Random homes.

fn seeds() -> impl Strategy<Value = u64> {
    0..1_000_000u64
}

/// The parts on the way of an outlet, by their places in the file.
fn way_up(home: &Value, outlet: &Value) -> Vec<usize> {
    let parts = list(&home["part"]);
    let mut way = Vec::new();
    let mut after = outlet["after"].as_str().unwrap_or_default();
    loop {
        let id = after.split('.').next().unwrap_or_default();
        let Some(index) = parts.iter().position(|part| part["id"] == id) else { return way };
        way.push(index);
        after = parts[index]["after"].as_str().unwrap_or_default();
    }
}

#[test]
fn more_loss_never_raises_a_level() {
    let cases = || (seeds(), any::<prop::sample::Index>(), any::<prop::sample::Index>(), 1u32..150);
    for_all(cases, |checker, case| {
        let (seed, outlet, part, tenths) = case;
        let before = home(seed);
        let outlets = list(&before["outlet"]);
        let chosen = &outlets[outlet.index(outlets.len())];
        let mut after = before.clone();
        let pad = |port: &Value| json!({"id": "a further pad", "after": port, "pad": format!("{} dB", f64::from(tenths) / 10.0)});
        // Before a part on the outlet's way, or before the outlet itself.
        let way = way_up(&before, chosen);
        match way.get(part.index(way.len() + 1)) {
            Some(index) => {
                let port = std::mem::replace(&mut after["part"][index]["after"], json!("a further pad"));
                after["part"].as_array_mut().expect("parts").push(pad(&port));
            }
            None => {
                let index = outlet.index(outlets.len());
                let port = std::mem::replace(&mut after["outlet"][index]["after"], json!("a further pad"));
                after["part"].as_array_mut().expect("parts").push(pad(&port));
            }
        }
        let (before, after) = (report(checker, &before)?, report(checker, &after)?);
        for (before, after) in list(&before["outlets"]).iter().zip(list(&after["outlets"])) {
            prop_assert_eq!(&before["id"], &after["id"]);
            for (before, after) in list(&before["forward"]).iter().zip(list(&after["forward"])) {
                for key in ["dbmv", "low", "high"] {
                    prop_assert!(
                        number(&after[key]) <= number(&before[key]) + 1e-3,
                        "{}: {} to {}",
                        key,
                        before,
                        after
                    );
                }
            }
            prop_assert!(number(&after["total_dbmv"]) <= number(&before["total_dbmv"]) + 1e-3);
            for (before, after) in list(&before["return"]).iter().zip(list(&after["return"])) {
                if before["transmit_dbmv"].is_number() {
                    prop_assert!(number(&after["transmit_dbmv"]) >= number(&before["transmit_dbmv"]) - 1e-3);
                }
            }
        }
        Ok(())
    });
}

/// Asserts that `low`, the nominal figure and `high` stand in this order, where they are there.
fn enclosed(row: &Value, low: &str, nominal: &str, high: &str) -> Outcome {
    let (low, nominal, high) = (&row[low], &row[nominal], &row[high]);
    if nominal.is_number() {
        // Where an extreme collapses it is null.
        prop_assert!(!low.is_number() || number(low) <= number(nominal), "{}", row);
        prop_assert!(!high.is_number() || number(high) >= number(nominal), "{}", row);
    }
    Ok(())
}

#[test]
fn extremes_enclose_the_nominal() {
    for_all(seeds, |checker, seed| {
        let report = report(checker, &home(seed))?;
        for outlet in list(&report["outlets"]) {
            enclosed(outlet, "tilt_low", "tilt_db", "tilt_high")?;
            enclosed(outlet, "total_low", "total_dbmv", "total_high")?;
            for (key, nominal) in [("forward", "dbmv"), ("cnr", "db"), ("return", "transmit_dbmv")] {
                for row in list(&outlet[key]) {
                    enclosed(row, "low", nominal, "high")?;
                }
            }
        }
        for amplifier in list(&report["amplifiers"]) {
            enclosed(amplifier, "input_total_low", "input_total_dbmv", "input_total_high")?;
        }
        for feed in list(&report["feeds"]) {
            enclosed(feed, "volts_low", "volts", "volts_high")?;
            enclosed(feed, "", "amps", "amps_high")?;
            enclosed(feed, "", "supply_amps", "supply_amps_high")?;
        }
        Ok(())
    });
}

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

// ---------------------------------------------------------------------------------------------------------------
// DC.

/// A supply at the end of a cable, and two amplifiers that it feeds through a splitter.
fn fed(volts: f64, ohms: [f64; 4], draws: [&str; 2]) -> Value {
    let [source, first, second, third] = ohms;
    let cable = |ohms: f64| json!({"loss": [["5 MHz", "1 dB"], ["1002 MHz", "6 dB"]], "per": "100 ft", "loop": format!("{ohms} ohm"), "velocity": 0.85});
    let amplifier = |draw: &str| {
        json!({
            "outputs": 1, "gain": "10 dB", "noise_figure": "6 dB", "draw": draw, "runs_on": ["1 V", "100 V"], "dc_ports": ["in"],
        })
    };
    json!({
        "format": 1, "name": "fed",
        "service": {"split": "42/54 MHz", "carriers": [{"first": "57 MHz", "last": "63 MHz", "step": "6 MHz"}]},
        "entry": {"forward": [["57 MHz", "9 dBmV"], ["861 MHz", "4 dBmV"]]},
        "part": [
            {"id": "block", "after": "entry", "pad": "1 dB"},
            {"id": "wing", "after": "block", "splitter": "three"},
            {"id": "run 1", "after": "wing.1", "cable": "one", "length": "100 ft"},
            {"id": "run 2", "after": "wing.2", "cable": "two", "length": "100 ft"},
            {"id": "run 3", "after": "wing.3", "cable": "three", "length": "100 ft"},
            {"id": "inserter", "after": "run 1", "inserter": "plain"},
            {"id": "amp 2", "after": "run 2", "amplifier": "two"},
            {"id": "amp 3", "after": "run 3", "amplifier": "three"},
        ],
        "outlet": [{"id": "set", "after": "inserter.rf", "device": "tv"}],
        "supply": [{
            "id": "brick", "after": "inserter.dc", "volts": format!("{volts} V"), "source_ohms": format!("{source} ohm"), "amps": "9 A",
        }],
        "spec": {
            "cable": {"one": cable(first), "two": cable(second), "three": cable(third)},
            "splitter": {"three": {"legs": 3, "loss": "6 dB", "dc_pass": [1, 2, 3], "dc_ohms": "0.25 ohm"}},
            "inserter": {"plain": {"loss": "0.5 dB", "dc_ohms": "0.5 ohm"}},
            "amplifier": {"two": amplifier(draws[0]), "three": amplifier(draws[1])},
        },
    })
}

#[test]
fn the_power_that_goes_in_is_the_power_that_comes_out() {
    let cases = || {
        let tenths = |least: u32, most: u32| (least..most).prop_map(|tenths| f64::from(tenths) / 10.0);
        let draw = || (1u32..60, prop::bool::ANY);
        (tenths(120, 300), [tenths(0, 20), tenths(0, 80), tenths(0, 80), tenths(0, 80)], draw(), draw())
    };
    for_all(cases, |checker, (volts, ohms, one, other)| {
        let draw = |(tenths, power): (u32, bool)| {
            if power { format!("{} W", f64::from(tenths) / 10.0) } else { format!("{} mA", tenths * 5) }
        };
        let report = report(checker, &fed(volts, ohms, [&draw(one), &draw(other)]))?;
        let feeds = list(&report["feeds"]);
        prop_assert_eq!(feeds.len(), 2, "{:#}", report["findings"]);
        let amps = |feed: &Value| number(&feed["amps"]);
        let total = number(&feeds[0]["supply_amps"]);
        if feeds[0]["volts"].is_null() {
            prop_assert!(list(&report["findings"]).iter().any(|finding| finding["code"] == "feed-collapsed"));
            return Ok(());
        }
        near(total, amps(&feeds[0]) + amps(&feeds[1]), 1e-5 * total, "the currents")?;
        // The source, the inserter, the first cable and the splitter's way to its input carry both currents.
        let common = ohms[0] + 0.5 + ohms[1] + 0.25;
        let own = [0.25 + ohms[2], 0.25 + ohms[3]];
        let mut out = total * total * common;
        for ((feed, own), (tenths, power)) in feeds.iter().zip(own).zip([one, other]) {
            let drawn = number(&feed["volts"]) * amps(feed);
            if power {
                near(drawn, f64::from(tenths) / 10.0, 1e-4 * drawn, "what it draws in watts")?;
            } else {
                near(amps(feed), f64::from(tenths) * 5e-3, 1e-5, "what it draws in amperes")?;
            }
            near(number(&feed["loop_ohms"]), common + own, 1e-4, "the loop")?;
            near(number(&feed["drop_volts"]), total * common + amps(feed) * own, 1e-3, "the drop")?;
            out += drawn + amps(feed) * amps(feed) * own;
        }
        near(volts * total, out, 2e-4 * out, "in and out")
    });
}

// ---------------------------------------------------------------------------------------------------------------
// Verdicts.

/// One figure of an outlet against one bound: the codes that speak of it.
struct Held {
    code: &'static str,
    /// Nominal, low, high.
    figures: Vec<[f64; 3]>,
    bound: f64,
    /// Whether it must not fall below the bound, rather than rise above it.
    least: bool,
}

impl Held {
    fn outside(&self, figure: f64) -> bool {
        if self.least { figure < self.bound } else { figure > self.bound }
    }

    /// Whether rounding may decide.
    fn on_the_edge(&self) -> bool {
        self.figures.iter().flatten().any(|figure| (figure - self.bound).abs() < 2e-3)
    }
}

/// What an outlet's limits hold of its figures.
fn held(outlet: &Value, limits: &Value) -> Result<Vec<Held>, TestCaseError> {
    let bound = |value: &Value, read_level: bool| -> Result<Option<f64>, TestCaseError> {
        Ok(match value.as_str() {
            None | Some("none") => None,
            Some(_) if read_level => Some(f64::from(read(value, quantity::level)?.dbmv())),
            Some(_) => Some(f64::from(read(value, quantity::loss)?.db())),
        })
    };
    let figures = |key: &str, nominal: &str| -> Vec<[f64; 3]> {
        let rows = list(&outlet[key]).iter().filter(|row| row[nominal].is_number());
        rows.map(|row| [number(&row[nominal]), number(&row["low"]), number(&row["high"])]).collect()
    };
    let (forward, transmit) = (figures("forward", "dbmv"), figures("return", "transmit_dbmv"));
    let total = vec![[number(&outlet["total_dbmv"]), number(&outlet["total_low"]), number(&outlet["total_high"])]];
    let tilt = [number(&outlet["tilt_db"]), number(&outlet["tilt_low"]), number(&outlet["tilt_high"])].map(f64::abs);
    let candidates = [
        ("forward-low", forward.clone(), bound(&limits["forward"][0], true)?, true),
        ("forward-high", forward, bound(&limits["forward"][1], true)?, false),
        ("total-high", total, bound(&limits["total"], true)?, false),
        ("tilt-high", vec![tilt], bound(&limits["tilt"], false)?, false),
        ("cnr-low", figures("cnr", "db"), bound(&limits["cnr"], false)?, true),
        ("transmit-high", transmit, bound(&limits["transmit"][1], true)?, false),
    ];
    let held = candidates
        .into_iter()
        .filter_map(|(code, figures, bound, least)| Some(Held { code, figures, bound: bound?, least }));
    Ok(held.collect())
}

fn rank(verdict: &Value) -> usize {
    ["pass", "marginal", "fail"].iter().position(|known| verdict == known).unwrap_or(3)
}

#[test]
fn every_verdict_agrees_with_its_figure() {
    for_all(seeds, |checker, seed| {
        let home = home(seed);
        let report = report(checker, &home)?;
        let findings = list(&report["findings"]);
        let worst =
            |of: &mut dyn Iterator<Item = &Value>| of.map(|finding| rank(&finding["verdict"])).max().unwrap_or(0);
        prop_assert_eq!(rank(&report["verdict"]), worst(&mut findings.iter()));
        for outlet in list(&report["outlets"]) {
            let about: Vec<&Value> = findings.iter().filter(|finding| finding["at"] == outlet["id"]).collect();
            prop_assert_eq!(rank(&outlet["verdict"]), worst(&mut about.iter().copied()));
            let device = outlet["device"].as_str().unwrap_or_default();
            for held in held(outlet, &home["limits"][device])? {
                if held.on_the_edge() {
                    continue;
                }
                let nominal = held.figures.iter().any(|[nominal, ..]| held.outside(*nominal));
                let extreme = held.figures.iter().flatten().any(|figure| held.outside(*figure));
                let finding = about.iter().find(|finding| finding["code"] == held.code);
                let verdict = finding.map_or(0, |finding| rank(&finding["verdict"]));
                let expected = if nominal {
                    2..=2
                } else if extreme {
                    1..=1
                } else {
                    0..=1
                };
                prop_assert!(expected.contains(&verdict), "{}: {:?} at {}", held.code, finding, outlet);
                if verdict == 0 || !extreme {
                    continue;
                }
                // A figure beyond the limit is told, and the limit with it.
                if let Some(finding) = finding.filter(|finding| (number(&finding["limit"]) - held.bound).abs() < 1e-3) {
                    prop_assert!(held.outside(number(&finding["value"])), "{}", finding);
                }
            }
        }
        for finding in findings {
            let brief = finding["brief"].as_str().unwrap_or_default();
            prop_assert!(!brief.is_empty() && brief.chars().count() <= 32, "{}", finding);
            prop_assert!(finding["says"].as_str().is_some_and(|says| says.ends_with('.')), "{}", finding);
        }
        Ok(())
    });
}

#[test]
fn toml_and_json_give_the_same_report() {
    for_all(seeds, |checker, seed| {
        let home = home(seed);
        let json = check(checker, "home.json", &home.to_string())?;
        let toml = check(checker, "home.toml", &to_toml(&home))?;
        prop_assert_eq!(json, toml);
        Ok(())
    });
}

#[test]
fn a_damaged_text_is_taken_or_refused_and_nothing_else() {
    let damage = || vec((any::<prop::sample::Index>(), any::<u8>(), 0..3u8), 1..6);
    for_all(
        move || (seeds(), prop::bool::ANY, damage()),
        |checker, (seed, toml, damage)| {
            let home = home(seed);
            let (name, text) = if toml { ("home.toml", to_toml(&home)) } else { ("home.json", home.to_string()) };
            let mut bytes = text.into_bytes();
            for (place, byte, kind) in damage {
                let place = place.index(bytes.len());
                match kind {
                    0 => bytes[place] = byte,
                    1 => bytes.truncate(place.max(1)),
                    _ => bytes.insert(place, byte),
                }
            }
            let refusal = match Source::new(name, &bytes) {
                Err(refusal) => refusal,
                Ok(source) => match checker.check(&source, None) {
                    Ok(_) => return Ok(()),
                    Err(refusal) => refusal,
                },
            };
            let message = refusal.render(false);
            prop_assert!(message.contains(name), "{}", message);
            prop_assert!((1..=10).contains(&refusal.problems().len()), "{}", message);
            Ok(())
        },
    );
}
