//! What holds for every home, tried on random ones.

mod homes;
mod power;
mod texts;
mod totals;
mod verdicts;
mod ways;

use std::cell::RefCell;

use legwork_file::{Checker, Source, quantity};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestRng, TestRunner};
use serde_json::Value;

pub(crate) type Outcome = Result<(), TestCaseError>;

/// Tries a property, always on the same cases: `PROPTEST_CASES=5000` tries more of them.
pub(crate) fn for_all<S: Strategy>(
    cases: impl FnOnce() -> S + Send,
    property: impl Fn(&mut Checker, S::Value) -> Outcome + Send,
) {
    let checker = RefCell::new(Checker::new());
    let config = Config { failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let outcome = runner.run(&cases(), |case| property(&mut checker.borrow_mut(), case));
    outcome.unwrap_or_else(|error| panic!("{error}"));
}

/// The report on a text, or what is wrong with it.
pub(crate) fn check(checker: &mut Checker, name: &str, text: &str) -> Result<String, TestCaseError> {
    let refused = |message: String| TestCaseError::fail(format!("{message}\n{text}"));
    let source = Source::new(name, text.as_bytes()).map_err(|refusal| refused(refusal.render(false)))?;
    let checked = checker.check(&source, None).map_err(|refusal| refused(refusal.render(false)))?;
    Ok(checked.json())
}

/// The report on a home.
pub(crate) fn report(checker: &mut Checker, home: &Value) -> Result<Value, TestCaseError> {
    let text = check(checker, "home.json", &home.to_string())?;
    serde_json::from_str(&text).map_err(|error| TestCaseError::fail(error.to_string()))
}

pub(crate) fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

pub(crate) fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

/// A quantity of a file as a plain number.
pub(crate) fn read<T>(value: &Value, read: fn(&str) -> Result<T, quantity::Bad>) -> Result<T, TestCaseError> {
    let text = value.as_str().unwrap_or_default();
    read(text).map_err(|bad| TestCaseError::fail(format!("{text}: {bad}")))
}

/// Asserts that two numbers are the same but for so much.
pub(crate) fn near(one: f64, other: f64, within: f64, what: &str) -> Outcome {
    prop_assert!((one - other).abs() <= within, "{what}: {one} and {other}");
    Ok(())
}

/// Seeds of random homes.
pub(crate) fn seeds() -> impl Strategy<Value = u64> {
    0..1_000_000u64
}
