//! Verdicts and the figures they are about.

use legwork_file::quantity;
use legwork_tests::home;
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use serde_json::Value;

use crate::{for_all, list, number, read, report, seeds};

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
