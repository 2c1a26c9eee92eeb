//! The schemas of files and reports: generated from the types here, kept in `crates/file/schema`, held to the program.
//!
//! `LEGWORK_BLESS=1 cargo test -p legwork-tests --test schema` writes them anew: read the difference.

mod agrees;
mod generate;
mod need;
mod premises;
mod quantity;
mod report;
mod shape;
mod spec;
mod spellings;

use std::fs;
use std::path::{Path, PathBuf};

use jsonschema::Validator;
use serde_json::Value;

/// The kinds of part, as `Kind::ALL` has them.
const KINDS: [&str; 10] =
    ["cable", "splitter", "coupler", "equalizer", "filter", "amplifier", "inserter", "bond", "joint", "pad"];

/// A schema by its name.
fn schema(name: &str) -> Value {
    match name {
        "premises" => generate::of_file::<premises::Premises>(),
        "need" => generate::of_file::<need::Need>(),
        _ => generate::of_answer::<report::Report>(),
    }
}

/// A schema, ready to judge.
fn judge(name: &str) -> Validator {
    jsonschema::draft7::options().build(&schema(name)).expect("a schema of its draft")
}

/// What a schema has against a value.
fn against(judge: &Validator, value: &Value) -> Option<String> {
    let errors: Vec<String> =
        judge.iter_errors(value).map(|error| format!("{}: {error}", error.instance_path())).collect();
    (!errors.is_empty()).then(|| errors.join("\n"))
}

fn here(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// A file as the values that a schema judges; none where it is neither TOML nor JSON.
fn values(path: &Path) -> Option<Value> {
    let text = fs::read_to_string(path).ok()?;
    match path.extension()?.to_str()? {
        "json" => serde_json::from_str(&text).ok(),
        _ => toml::from_str(&text).ok(),
    }
}

/// The premises files of a folder, with their values.
fn files(folder: &str) -> Vec<(String, Value)> {
    let paths = fs::read_dir(here(folder)).expect("a folder").map(|entry| entry.expect("an entry").path());
    let files = paths.filter_map(|path| Some((path.file_name()?.to_str()?.to_owned(), values(&path)?)));
    let mut files: Vec<(String, Value)> = files.collect();
    files.sort_by(|one, other| one.0.cmp(&other.0));
    files
}

#[test]
fn the_kept_schemas_are_those_of_the_types() {
    for name in ["premises", "need", "report"] {
        let now = serde_json::to_string_pretty(&schema(name)).expect("JSON") + "\n";
        legwork_tests::hold_kept(&format!("../crates/file/schema/{name}.schema.json"), &now);
    }
}

/// Every object of a schema that names keys, by its definition.
fn keys(schema: &Value) -> Vec<(&str, Vec<&str>)> {
    let definitions = schema["definitions"].as_object().expect("definitions");
    let all = definitions.iter().map(|(name, one)| (name.as_str(), one)).chain([("", schema)]);
    all.filter_map(|(name, one)| Some((name, one["properties"].as_object()?.keys().map(String::as_str).collect())))
        .collect()
}

/// The keys that the program's reader knows, in its own words: it lists them where it meets another.
fn known(error: &serde_json::Error) -> Vec<String> {
    let text = error.to_string();
    let (_, list) = text.split_once("expected").expect("a list of keys");
    list.split('`').skip(1).step_by(2).map(str::to_owned).collect()
}

#[test]
fn the_schemas_have_the_keys_that_the_program_reads() {
    use legwork_file::raw;

    fn reader<'a, T: serde::Deserialize<'a> + std::fmt::Debug>() -> Vec<String> {
        known(&serde_json::from_str::<T>(r#"{"?": 0}"#).expect_err("no such key"))
    }
    let mut count = 0;
    for name in ["premises", "need"] {
        for (definition, keys) in keys(&schema(name)) {
            let mut read = match definition {
                "" if name == "premises" => reader::<raw::Premises<'_>>(),
                "" => reader::<raw::Need<'_>>(),
                "Service" => reader::<raw::Service<'_>>(),
                "Block" => reader::<raw::Block<'_>>(),
                "Entry" => reader::<raw::Entry<'_>>(),
                "Climate" => reader::<raw::Climate<'_>>(),
                "Part" => reader::<raw::Part<'_>>(),
                "Outlet" => reader::<raw::Outlet<'_>>(),
                "Supply" => reader::<raw::Supply<'_>>(),
                "PerDevice" => reader::<raw::PerDevice<'_>>(),
                "Limits" => reader::<raw::Limits<'_>>(),
                "HomeNetwork" => reader::<raw::HomeNetwork<'_>>(),
                "Specs" => reader::<raw::Specs<'_>>(),
                "Cable" => reader::<raw::Cable<'_>>(),
                "Splitter" => reader::<raw::Splitter<'_>>(),
                "Coupler" => reader::<raw::Coupler<'_>>(),
                "Inserter" => reader::<raw::Inserter<'_>>(),
                "Filter" => reader::<raw::Filter<'_>>(),
                "Equalizer" => reader::<raw::Equalizer<'_>>(),
                "Amplifier" => reader::<raw::Amplifier<'_>>(),
                "Joint" => reader::<raw::Joint<'_>>(),
                "Panel" => reader::<raw::Panel<'_>>(),
                "Run" => reader::<raw::Run<'_>>(),
                "Wanted" => reader::<raw::Wanted<'_>>(),
                "Stock" => reader::<raw::Stock<'_>>(),
                "Item" => reader::<raw::Item<'_>>(),
                "StockSupply" => reader::<raw::StockSupply<'_>>(),
                other => panic!("the program has no table {other}"),
            };
            let mut keys = keys;
            keys.sort_unstable();
            read.sort_unstable();
            assert_eq!(keys, read, "{name}, {definition}");
            count += 1;
        }
    }
    // A premises file has this many kinds of table, a need six of its own in place of three.
    assert_eq!(count, 20 + 23);
}

#[test]
fn every_key_says_what_it_is() {
    for name in ["premises", "need"] {
        let schema = schema(name);
        let definitions = schema["definitions"].as_object().expect("definitions");
        for (definition, one) in definitions.iter().map(|(name, one)| (name.as_str(), one)).chain([("", &schema)]) {
            for (key, value) in one["properties"].as_object().into_iter().flatten() {
                let reference = value["$ref"].as_str().and_then(|path| path.strip_prefix("#/definitions/"));
                let said = [Some(value), reference.and_then(|name| definitions.get(name))];
                let said = said.into_iter().flatten().any(|value| value["description"].is_string());
                assert!(said, "{name}, {definition}.{key}");
            }
        }
    }
}
