//! Random homes through the whole of reading, checking and writing, held against the model.

use std::cell::RefCell;

use legwork_file::{Checker, Source};
use legwork_tests::{Format, hold};
use serde_json::Value;

/// How many homes: `LEGWORK_HOMES=5000` holds more against the model than a test run has time for.
fn homes() -> u64 {
    let wanted = std::env::var("LEGWORK_HOMES").ok().and_then(|text| text.parse().ok());
    wanted.unwrap_or(400)
}

/// The report that the program writes for a text.
fn report(checker: &RefCell<Checker>, text: &str, format: Format) -> Result<Value, String> {
    let name = match format {
        Format::Toml => "home.toml",
        Format::Json => "home.json",
    };
    let source = Source::new(name, text.as_bytes()).map_err(|refusal| refusal.render(false))?;
    let mut checker = checker.borrow_mut();
    let checked = checker.check(&source, None).map_err(|refusal| refusal.render(false))?;
    serde_json::from_str(&checked.json()).map_err(|error| error.to_string())
}

#[test]
fn the_program_and_the_model_agree_on_random_homes_in_both_formats() {
    // One checker for all, as `--lines` has it: nothing of one home may stay behind for the next.
    let checker = RefCell::new(Checker::new());
    let outcome = hold(0..homes(), &[Format::Toml, Format::Json], |text, format| report(&checker, text, format));
    let told = outcome.disagreements.iter().take(12).map(String::as_str).collect::<Vec<_>>().join("\n");
    assert!(
        outcome.disagreements.is_empty(),
        "{} of {} texts disagree:\n{told}",
        outcome.disagreements.len(),
        outcome.compared
    );
    assert!(outcome.compared as u64 > homes(), "too few homes compared: {}", outcome.compared);
}
