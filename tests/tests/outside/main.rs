//! The program against what other people's libraries make of the same homes.
//!
//! The data of `tests/outside` are kept; each file's head says by which script and library it was made. What the program
//! gets wrong here, it gets wrong by somebody who never saw its code.

mod constants;
mod feeds;
mod network;
mod plans;

use legwork_file::{Checker, Source};
use serde_json::Value;

/// The rows of a kept data file.
fn rows(text: &str) -> Vec<Value> {
    let file: Value = serde_json::from_str(text).expect("a data file");
    assert!(file["head"]["library"].is_string(), "a data file says where it is from");
    list(&file["rows"]).to_vec()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

/// A number, or nothing that is near any number.
fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

/// The report on the home of a row.
fn report(checker: &mut Checker, home: &Value) -> Value {
    let text = home.to_string();
    let source = Source::new("home.json", text.as_bytes());
    let checked = source.and_then(|source| checker.check(&source, None).map(|checked| checked.json()));
    let report = checked.unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    serde_json::from_str(&report).expect("a report")
}

/// The row of a list whose keys have these values.
fn find<'a>(rows: &'a Value, keys: &[(&str, &Value)]) -> &'a Value {
    let same = |row: &&Value| keys.iter().all(|(key, value)| row[*key] == **value);
    list(rows).iter().find(same).unwrap_or_else(|| panic!("no row with {keys:?} in {rows}"))
}
