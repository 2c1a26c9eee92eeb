//! Random homes held against a program under test.

use std::ops::Range;

use serde_json::Value;

use crate::{
    compare::differences,
    homes::{home, to_toml},
    model::{check, on_the_edge},
};

/// How the text of a home is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// A file ending in `.toml`.
    Toml,
    /// A file ending in `.json`, or a line of `--lines`.
    Json,
}

/// What came of holding homes against a program.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// Texts that were compared.
    pub compared: usize,
    /// Homes left out, because rounding decides one of their verdicts.
    pub left_out: usize,
    /// Where the program departs from the model: seed, format, and the first few differences.
    pub disagreements: Vec<String>,
}

/// Most differences told of one home.
const TOLD: usize = 8;

/// Works the homes of some seeds out twice, each as TOML and as JSON: by the model, and by `program`, which gives
/// the report of a text or says why it can't.
///
/// ```
/// use legwork_tests::{Format, check, hold};
/// let model = |text: &str, format| {
///     assert_eq!(format, Format::Json);
///     Ok(check(&serde_json::from_str(text).map_err(|error| error.to_string())?))
/// };
/// let outcome = hold(0..20, &[Format::Json], model);
/// assert!(outcome.disagreements.is_empty() && outcome.compared + outcome.left_out == 20);
/// ```
#[must_use]
pub fn hold(seeds: Range<u64>, formats: &[Format], program: impl Fn(&str, Format) -> Result<Value, String>) -> Outcome {
    let mut outcome = Outcome::default();
    for seed in seeds {
        let premises = home(seed);
        if on_the_edge(&premises) {
            outcome.left_out += 1;
            continue;
        }
        let expected = check(&premises);
        for &format in formats {
            let text = match format {
                Format::Toml => to_toml(&premises),
                Format::Json => premises.to_string(),
            };
            outcome.compared += 1;
            let found = match program(&text, format) {
                Ok(actual) => differences(&expected, &actual),
                Err(error) => vec![format!("refused: {error}")],
            };
            if !found.is_empty() {
                let told = found.iter().take(TOLD).map(String::as_str).collect::<Vec<_>>().join("\n  ");
                outcome.disagreements.push(format!("home {seed} ({format:?}), {}:\n  {told}", found.len()));
            }
        }
    }
    outcome
}
