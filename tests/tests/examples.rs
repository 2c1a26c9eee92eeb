//! The shipped examples: each teaches what its comment says, and its verdict stays what it was.

use std::fs;
use std::path::{Path, PathBuf};

use legwork::{Code, Verdict};
use legwork_file::{Checker, Source};

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates/cli/examples")
}

/// The premises files among them; readings stand beside.
fn premises() -> impl Iterator<Item = PathBuf> {
    let paths = fs::read_dir(examples()).unwrap().map(|entry| entry.unwrap().path());
    paths.filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
}

/// Verdict and codes of an example, or of what an edit makes of it.
fn check(name: &str, edit: impl Fn(String) -> String) -> (Verdict, Vec<Code>) {
    let text = edit(fs::read_to_string(examples().join(name)).unwrap());
    let mut checker = Checker::new();
    let source = Source::new(name, text.as_bytes()).unwrap();
    let checked = checker.check(&source, None).unwrap();
    (checked.report.verdict(), checked.report.findings().iter().map(|finding| finding.code).collect())
}

fn as_shipped(text: String) -> String {
    text
}

#[test]
fn every_example_has_its_verdict() {
    let expected: [(&str, Verdict, &[Code]); 6] = [
        ("annex-dc-at-tv.toml", Verdict::Fail, &[Code::DcAtDevice]),
        ("barn-fed-over-coax.toml", Verdict::Pass, &[]),
        ("boathouse-long-run.toml", Verdict::Fail, &[Code::ForwardLow, Code::TiltHigh, Code::CnrLow]),
        ("cottage-split.toml", Verdict::Pass, &[]),
        ("terrace-kept-network.toml", Verdict::Pass, &[]),
        ("terrace-open-network.toml", Verdict::Marginal, &[Code::EntryFilterMissing]),
    ];
    for (name, verdict, codes) in expected {
        assert_eq!(check(name, as_shipped), (verdict, codes.to_vec()), "{name}");
    }
    let shipped = premises().count();
    assert_eq!(shipped, expected.len(), "an example without an expected verdict");
}

#[test]
fn every_example_says_what_it_teaches() {
    for path in premises() {
        let text = fs::read_to_string(path).unwrap();
        assert!(text.starts_with("# What it teaches: "));
    }
}

#[test]
fn the_long_run_passes_with_the_thicker_cable_that_its_comment_names() {
    let (verdict, codes) = check("boathouse-long-run.toml", |text| text.replace("\"series-59\"", "\"series-11\""));
    assert_eq!((verdict, codes), (Verdict::Pass, vec![]));
}

#[test]
fn dc_stays_off_the_set_with_the_splitter_that_the_comment_names() {
    let (verdict, codes) = check("annex-dc-at-tv.toml", |text| text.replace("dc_pass = [1, 2]", "dc_pass = [1]"));
    assert_eq!((verdict, codes), (Verdict::Pass, vec![]));
}
