//! Files of readings: weights that sum to 1 and JSON, or a refusal that says where and why.
#![cfg_attr(fuzzing, no_main)]

use legwork::Db;
use legwork_file::{Finder, Source};

legwork_fuzz::target!(readings);

/// A home with a port of every kind of name.
const HOME: &str = include_str!("../corpus/premises/barn-fed-over-coax.toml");

fn readings(bytes: &[u8]) {
    let home = Source::new("home.toml", HOME.as_bytes()).unwrap();
    let Ok(source) = Source::new("fuzz.csv", bytes) else { return };
    match Finder::new().locate(&home, &source, Db::constant(0.5)) {
        Ok(located) => {
            let json: serde_json::Value = serde_json::from_str(&located.json()).unwrap();
            let weights = json["suspects"].as_array().unwrap().iter().map(|one| one["weight"].as_f64().unwrap());
            assert!((weights.sum::<f64>() - 1.0).abs() < 1e-4);
            assert!(json["unexplained_db"].is_number());
            assert!(!located.says().is_empty());
        }
        Err(refusal) => {
            assert!(!refusal.problems().is_empty() && refusal.problems().len() <= 10);
            assert!(!refusal.render(false).is_empty());
        }
    }
}
