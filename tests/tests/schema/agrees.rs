//! What the program takes, the schemas take; what it writes is as they say; what it refuses, they refuse where they can.

use legwork_file::{Checker, Source, read_need};
use serde::Deserialize as _;
use serde_json::Value;

use super::report::Report;
use super::{against, files, judge};

/// How many random homes and needs are judged.
const RANDOM: u64 = 400;

/// The homes of all tests: examples, findings and their mended twins, pictures, random ones.
fn homes() -> Vec<(String, Value)> {
    let kept = ["../crates/cli/examples", "data/findings", "data/pictures"].into_iter().flat_map(files);
    kept.chain((0..RANDOM).map(|seed| (format!("home {seed}.json"), legwork_tests::home(seed)))).collect()
}

#[test]
fn homes_and_their_reports_are_as_the_schemas_say() {
    let (premises, report) = (judge("premises"), judge("report"));
    let mut checker = Checker::new();
    let mut count = 0;
    for (name, value) in homes() {
        if let Some(wrong) = against(&premises, &value) {
            panic!("{name}:\n{wrong}\n{value:#}");
        }
        let text = value.to_string();
        let source = Source::new("home.json", text.as_bytes()).expect("text");
        // Of random homes a few are refused, for what stands in two places.
        let Ok(checked) = checker.check(&source, None) else { continue };
        let written: Value = serde_json::from_str(&checked.json()).expect("JSON");
        if let Some(wrong) = against(&report, &written) {
            panic!("the report of {name}:\n{wrong}");
        }
        // The schema lets keys be added; here each has to be known.
        Report::deserialize(&written).unwrap_or_else(|error| panic!("the report of {name}: {error}"));
        count += 1;
    }
    assert!(count > 450, "only {count} homes");
}

#[test]
fn needs_are_as_the_schema_says() {
    let need = judge("need");
    for seed in 0..RANDOM {
        let value = legwork_tests::need(seed);
        let text = value.to_string();
        let source = Source::new("need.json", text.as_bytes()).expect("text");
        assert!(read_need(&source, &bumpalo::Bump::new()).is_ok(), "need {seed}");
        if let Some(wrong) = against(&need, &value) {
            panic!("need {seed}:\n{wrong}\n{value:#}");
        }
        let alone = serde_json::json!({ "spec": value["spec"].as_object().cloned().unwrap_or_default(), "stock": value["stock"] });
        assert_eq!(against(&need, &alone), None, "the stock of need {seed}");
    }
}

/// Files that only the program can refuse, for what they need to know beyond one place, or beyond the shape of a value.
const BEYOND_A_SCHEMA: &[&str] = &[
    "after-a-supply.toml",
    "after-an-outlet.toml",
    "after-misspelt-entry.toml",
    "after-unknown-part.toml",
    "amplifier-dc-port-beyond.toml",
    "amplifier-gain-beyond.toml",
    "amplifier-runs-on-upside-down.toml",
    "amplifier-split-upside-down.toml",
    "cable-band-upside-down.toml",
    "cable-loss-falling.toml",
    "cable-loss-twice-nearly.toml",
    "carriers-falling.toml",
    "carriers-last-below-first.toml",
    "carriers-overlap.toml",
    "carriers-too-many.toml",
    "climate-below-absolute-zero.toml",
    "climate-upside-down.toml",
    "entry-cnr-falling.toml",
    "entry-falling.toml",
    "entry-frequency-twice.toml",
    "entry-level-huge.toml",
    "ids-alike-part-and-outlet.toml",
    "ids-alike-part-and-supply.toml",
    "ids-alike-parts.toml",
    "json-key-twice-at-the-top.json",
    "json-key-twice-in-a-table.json",
    "json-key-twice.json",
    "length-1e400.toml",
    "length-huge.toml",
    "limits-upside-down.toml",
    "loop-of-one.toml",
    "loop-of-three.toml",
    "loop-of-two.toml",
    "network-band-upside-down.toml",
    "network-member-a-part.toml",
    "network-member-twice.toml",
    "network-member-unknown.toml",
    "no-such-channel.toml",
    "outlet-behind-a-power-port.toml",
    "outlet-on-a-power-port.toml",
    "port-beyond-the-legs.toml",
    "port-huge.toml",
    "port-no-passive.toml",
    "port-of-a-cable.toml",
    "port-used-twice-outlets.toml",
    "port-used-twice-part-and-outlet.toml",
    "port-used-twice-parts.toml",
    "port-used-twice-supplies.toml",
    "port-without-number.toml",
    "spec-none-of-the-kind.toml",
    "spec-of-another-kind.toml",
    "spec-unknown-amplifier.toml",
    "spec-unknown.toml",
    "split-upside-down.toml",
    "splitter-dc-pass-beyond.toml",
    "splitter-legs-disagree.toml",
    "splitter-on-a-power-port.toml",
    "terminated-power-port.toml",
    "terminated-twice.toml",
    "terminated-unknown.toml",
    "terminated-used.toml",
];

#[test]
fn refused_files_are_refused_by_the_schema_where_it_can() {
    let premises = judge("premises");
    let refused = files("data/refused");
    assert!(refused.len() > 200, "only {} files", refused.len());
    let taken = refused.iter().filter(|(_, value)| against(&premises, value).is_none());
    let taken: Vec<&str> = taken.map(|(name, _)| name.as_str()).collect();
    assert_eq!(taken, BEYOND_A_SCHEMA);
}
