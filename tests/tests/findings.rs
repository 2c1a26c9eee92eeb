//! Every finding of the contract, provoked by one small file and absent from its mended twin.
//!
//! The files are `data/findings/CODE.toml` and `data/findings/CODE-mended.toml`; their levels are
//! flat and their losses are pads, so that each figure here can be worked out in the head.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use legwork::Code;
use legwork_file::{Checker, Source};
use serde_json::{Value, json};

/// One finding as it has to stand in the report.
struct Row {
    code: &'static str,
    verdict: &'static str,
    at: &'static str,
    other: Option<&'static str>,
    mhz: Option<f64>,
    /// Value, limit and unit.
    figures: Option<(f64, f64, &'static str)>,
    /// A word of the trade that the sentence has to use for what is wrong or what helps.
    word: &'static str,
}

const fn row(code: &'static str, verdict: &'static str, at: &'static str, word: &'static str) -> Row {
    Row { code, verdict, at, other: None, mhz: None, figures: None, word }
}

impl Row {
    const fn figures(mut self, value: f64, limit: f64, unit: &'static str) -> Self {
        self.figures = Some((value, limit, unit));
        self
    }

    const fn mhz(mut self, mhz: f64) -> Self {
        self.mhz = Some(mhz);
        self
    }

    const fn other(mut self, other: &'static str) -> Self {
        self.other = Some(other);
        self
    }
}

/// What each file provokes. Nothing else is wrong with any of them.
fn rows() -> Vec<Row> {
    vec![
        // 0 - 16.
        row("forward-low", "fail", "den modem", "amplifier").figures(-16.0, -15.0, "dBmV").mhz(57.0),
        // 17 - 1.
        row("forward-high", "fail", "den modem", "pad").figures(16.0, 15.0, "dBmV").mhz(57.0),
        // 10 - 1 + 10*log10(135).
        row("total-high", "fail", "den modem", "pad").figures(30.3033, 30.0, "dBmV"),
        // 7 dBmV to -10 dBmV.
        row("tilt-high", "fail", "den modem", "equalizer").figures(17.0, 16.0, "dB"),
        row("cnr-low", "fail", "den modem", "entry").figures(34.0, 35.0, "dB").mhz(57.0),
        // 49 + 3.
        row("transmit-high", "fail", "den modem", "loss").figures(52.0, 51.0, "dBmV").mhz(12.0),
        // 15 + 1.
        row("transmit-low", "marginal", "den modem", "pad").figures(16.0, 17.0, "dBmV").mhz(12.0),
        row("transmit-spread", "marginal", "den modem", "return").figures(13.0, 12.0, "dB"),
        row("no-return", "fail", "den modem", "return path"),
        // -1 + 10*log10(135).
        row("amplifier-overdriven", "fail", "booster", "pad").figures(20.3033, 20.0, "dBmV"),
        // -1 + 10 + 10*log10(135).
        row("output-overdriven", "fail", "booster.1", "pad").figures(30.3033, 30.0, "dBmV"),
        // 40 + 3; whichever modem behind the output it is, so there is no second place.
        row("return-overdriven", "fail", "booster.1", "passive").figures(43.0, 42.0, "dBmV").mhz(12.0),
        row("split-mismatch", "fail", "booster", "split").figures(42.0, 85.0, "MHz"),
        row("out-of-band", "marginal", "old joint", "band").figures(861.0, 750.0, "MHz"),
        row("amplifiers-in-series", "marginal", "den tv", "series"),
        // 12 - 0.3*10.
        row("feed-starved", "fail", "hall supply", "cable").figures(9.0, 10.0, "V").other("booster"),
        row("feed-over-voltage", "fail", "hall supply", "supply").figures(24.0, 20.0, "V").other("booster"),
        row("feed-over-current", "fail", "hall supply", "supply").figures(0.3, 0.25, "A").other("booster"),
        row("feed-collapsed", "fail", "hall supply", "resistance").other("booster"),
        row("amplifier-unpowered", "fail", "booster", "power"),
        row("supply-idle", "fail", "den supply", "blocks DC"),
        row("two-supplies", "fail", "den supply", "supply"),
        row("two-supplies", "fail", "loft supply", "supply"),
        row("dc-at-device", "fail", "loft tv", "block DC"),
        row("dc-leaves-home", "fail", "entry", "block"),
        row("lifeline-exposed", "fail", "study modem", "passive"),
        // 40 + 4 - 20.
        row("neighbour-transmit", "fail", "den tv", "isolation")
            .figures(24.0, 20.0, "dBmV")
            .mhz(12.0)
            .other("study modem"),
        // 22 + 4 + 4 + 22, less than 22 + 20 + 22.
        row("home-link-weak", "fail", "den tv", "splitters").figures(52.0, 50.0, "dB").mhz(1125.0).other("loft tv"),
        // 861 and half of 6.
        row("bands-overlap", "marginal", "entry", "band").figures(864.0, 863.0, "MHz"),
        row("entry-filter-missing", "marginal", "entry", "filter"),
        row("open-port", "marginal", "wing.2", "terminator"),
        row("bond-missing", "marginal", "entry", "local code"),
        row("bond-long", "marginal", "ground", "local code").figures(25.0, 20.0, "ft"),
        row("bond-thin", "marginal", "ground", "local code").figures(16.0, 14.0, "AWG"),
        row("beyond-readings", "marginal", "entry", "read").figures(861.0, 549.0, "MHz"),
        row("beyond-table", "pass", "den run", "table").figures(861.0, 750.0, "MHz"),
    ]
}

/// The report on a file of `data/findings`.
fn report(checker: &mut Checker, name: &str) -> Value {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/findings").join(format!("{name}.toml"));
    let text = fs::read(&path).unwrap_or_else(|error| panic!("{name}: {error}"));
    let source = Source::new("home.toml", &text).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let checked = checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    serde_json::from_str(&checked.json()).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn findings(report: &Value) -> &[Value] {
    report["findings"].as_array().map_or(&[], Vec::as_slice)
}

/// Whether a number of the report is the one worked out here, to a thousandth.
fn is(value: &Value, expected: Option<f64>) -> bool {
    match expected {
        Some(expected) => value.as_f64().is_some_and(|number| (number - expected).abs() < 1e-3),
        None => value.is_null(),
    }
}

#[test]
fn each_file_provokes_its_finding_and_no_other() {
    let checker = &mut Checker::new();
    for code in codes() {
        let report = report(checker, code);
        let expected: Vec<Row> = rows().into_iter().filter(|row| row.code == code).collect();
        let found = findings(&report);
        assert_eq!(found.len(), expected.len(), "{code}: {found:#?}");
        for (row, finding) in expected.iter().zip(found) {
            assert_eq!(finding["code"], row.code, "{finding:#}");
            assert_eq!(finding["verdict"], row.verdict, "{finding:#}");
            assert_eq!(finding["at"], row.at, "{finding:#}");
            assert_eq!(finding["other"].as_str(), row.other, "{finding:#}");
            if let Some((value, limit, unit)) = row.figures {
                assert!(is(&finding["value"], Some(value)), "{value}: {finding:#}");
                assert!(is(&finding["limit"], Some(limit)), "{limit}: {finding:#}");
                assert_eq!(finding["unit"], unit, "{finding:#}");
            } else {
                assert!(finding["value"].is_null() && finding["limit"].is_null(), "{finding:#}");
            }
            if row.mhz.is_some() {
                assert!(is(&finding["mhz"], row.mhz), "{finding:#}");
            }
        }
        assert_eq!(report["verdict"], expected[0].verdict, "{code}");
    }
}

#[test]
fn its_mended_twin_is_free_of_any() {
    let checker = &mut Checker::new();
    for code in codes() {
        let report = report(checker, &format!("{code}-mended"));
        assert!(findings(&report).is_empty(), "{code}: {:#}", report["findings"]);
        assert_eq!(report["verdict"], "pass", "{code}");
    }
}

#[test]
fn a_sentence_names_the_place_and_what_helps_and_a_brief_fits_a_display() {
    let checker = &mut Checker::new();
    for row in rows() {
        let report = report(checker, row.code);
        let finding = findings(&report).iter().find(|finding| finding["at"] == row.at);
        let finding = finding.unwrap_or_else(|| panic!("{} has none at {}", row.code, row.at));
        let says = finding["says"].as_str().unwrap_or_default();
        assert!(says.contains(row.word), "{}: no word of `{}` in: {says}", row.code, row.word);
        if row.at != "entry" {
            assert!(says.contains(row.at), "{}: no place in: {says}", row.code);
        }
        // A supply gives the sum over its amplifiers, so a sentence about that names none.
        if let Some(other) = row.other.filter(|_| row.code != "feed-over-current") {
            assert!(says.contains(other), "{}: no second place in: {says}", row.code);
        }
        assert!(says.ends_with('.') && !says.contains("  "), "{says}");
        let brief = finding["brief"].as_str().unwrap_or_default();
        assert!(!brief.is_empty() && brief.chars().count() <= 32 && brief.is_ascii(), "{}: {brief}", row.code);
    }
}

#[test]
fn a_sentence_tells_by_how_much_in_figures_of_one_decimal() {
    let checker = &mut Checker::new();
    for (code, parts) in [
        ("forward-low", ["-16.0 dBmV", "1.0 dB below -15.0"]),
        ("transmit-high", ["52.0 dBmV", "1.0 dB above 51.0"]),
        ("neighbour-transmit", ["24.0 dBmV", "4.0 dB above 20.0"]),
        ("feed-starved", ["9.00 V", "1.00 V below 10.00"]),
        ("feed-over-current", ["0.300 A", "0.050 A more than 0.250"]),
        ("bond-long", ["25 ft", "20 ft"]),
    ] {
        let report = report(checker, code);
        let says = findings(&report)[0]["says"].as_str().unwrap_or_default().to_owned();
        for part in parts {
            assert!(says.contains(part), "{code}: no `{part}` in: {says}");
        }
    }
}

#[test]
fn what_may_come_is_said_otherwise_than_what_is() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/findings/feed-starved-mended.toml");
    let text =
        fs::read_to_string(path).expect("a file").replace("volts = \"12 V\"", "volts = \"12 V\"\nspread = \"6 %\"");
    let mut checker = Checker::new();
    let source = Source::new("home.toml", text.as_bytes()).expect("a text");
    let checked = checker.check(&source, None).unwrap_or_else(|refusal| panic!("{}", refusal.render(false)));
    let report: Value = serde_json::from_str(&checked.json()).expect("JSON");
    let finding = &findings(&report)[0];
    assert_eq!((&finding["code"], &finding["verdict"]), (&json!("feed-starved"), &json!("marginal")));
    // 12 V less 6 % and 5 ohm times 0.3 A.
    let says = finding["says"].as_str().unwrap_or_default();
    assert!(says.starts_with("booster can get 9.78 V from hall supply, 0.22 V below 10.00;"), "{says}");
}

#[test]
fn sentences_stay_as_they_were_read_and_found_good() {
    let checker = &mut Checker::new();
    let mut text = String::new();
    for code in codes() {
        for finding in findings(&report(checker, code)) {
            let (says, verdict) = (finding["says"].as_str().unwrap_or_default(), finding["verdict"].as_str());
            text += &format!("{code}, {}: {says}\n", verdict.unwrap_or_default());
        }
    }
    legwork_tests::hold_kept("data/findings/says.txt", &text);
}

#[test]
fn there_is_a_pair_of_files_for_every_code_of_the_library() {
    let known: BTreeSet<&str> = Code::ALL.iter().map(|code| code.name()).collect();
    let tested: BTreeSet<&str> = codes().into_iter().collect();
    assert_eq!(known, tested);
    assert_eq!(tested.len(), 35);
}

#[test]
fn a_twin_differs_by_the_mend_alone() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/findings");
    let lines = |name: String| -> Vec<String> {
        let text = fs::read_to_string(folder.join(format!("{name}.toml"))).unwrap_or_default();
        // The first line is the comment that says what is wrong.
        text.lines().skip(1).map(str::to_owned).filter(|line| !line.is_empty()).collect()
    };
    for code in codes() {
        let (wrong, mended) = (lines(code.to_owned()), lines(format!("{code}-mended")));
        let alone = |these: &[String], those: &[String]| these.iter().filter(|line| !those.contains(line)).count();
        let changed = alone(&wrong, &mended).max(alone(&mended, &wrong));
        // A supply is five lines; every other mend is one or two.
        assert!(changed <= 5, "{code}: {changed} lines");
    }
}

/// Every code with a row, once.
fn codes() -> Vec<&'static str> {
    let mut codes: Vec<&str> = rows().iter().map(|row| row.code).collect();
    codes.dedup();
    codes
}
