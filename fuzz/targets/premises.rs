//! Premises files, TOML and JSON: a report that is JSON, agrees with itself and is the same however the file is spelt, or
//! a refusal that says where and why.
#![cfg_attr(fuzzing, no_main)]

use std::cell::RefCell;

use legwork_file::{Checker, Source, Syntax};

legwork_fuzz::target!(premises);

thread_local! {
    /// One home after another in the same room: nothing of one may be left for the next.
    static CHECKER: RefCell<Checker> = RefCell::new(Checker::new());
}

fn premises(bytes: &[u8]) {
    let Ok(source) = Source::new("fuzz", bytes) else { return };
    CHECKER.with_borrow_mut(|checker| {
        for syntax in [Syntax::Toml, Syntax::Json] {
            let Some(report) = check(checker, &Source { syntax, ..source }) else { continue };
            // The same keys and values, written by a program: JSON in another order, without white space.
            let values: serde_json::Value = match syntax {
                Syntax::Toml => toml::from_str(source.text).unwrap(),
                Syntax::Json => serde_json::from_str(source.text).unwrap(),
            };
            let json = values.to_string();
            let again = check(checker, &Source { name: "fuzz", text: &json, syntax: Syntax::Json });
            assert_eq!(Some(report), again, "{json}");
        }
    });
}

/// The report of a file that can be used.
fn check(checker: &mut Checker, source: &Source<'_>) -> Option<String> {
    match checker.check(source, None) {
        Ok(checked) => {
            let text = checked.json();
            let json: serde_json::Value = serde_json::from_str(&text).unwrap();
            assert_eq!(json["verdict"], checked.report.verdict().name());
            assert_eq!(json["findings"].as_array().unwrap().len(), checked.report.findings().len());
            for finding in checked.report.findings() {
                assert!(finding.brief().len() <= 32);
            }
            Some(text)
        }
        Err(refusal) => {
            legwork_fuzz::is_useful(&refusal);
            None
        }
    }
}
