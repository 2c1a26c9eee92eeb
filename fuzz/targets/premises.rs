//! Premises files, TOML and JSON: a report that is JSON and agrees with itself, or a refusal that
//! says where and why.
#![cfg_attr(fuzzing, no_main)]

use legwork_file::{Checker, Source, Syntax};

legwork_fuzz::target!(premises);

fn premises(bytes: &[u8]) {
    let mut checker = Checker::new();
    for syntax in [Syntax::Toml, Syntax::Json] {
        let Ok(source) = Source::new("fuzz", bytes) else { return };
        let source = Source { syntax, ..source };
        match checker.check(&source, None) {
            Ok(checked) => {
                let json: serde_json::Value = serde_json::from_str(&checked.json()).unwrap();
                assert_eq!(json["verdict"], checked.report.verdict().name());
                for finding in checked.report.findings() {
                    assert!(finding.brief().len() <= 32);
                }
            }
            Err(refusal) => {
                assert!(!refusal.problems().is_empty() && refusal.problems().len() <= 10);
                assert!(!refusal.render(false).is_empty());
            }
        }
    }
}
