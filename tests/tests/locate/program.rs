//! The real program, as a person or a script runs it.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use legwork_tests::{home, locate, to_toml, visit};
use serde_json::Value;

use super::agrees::departures;

/// The program.
fn program() -> Command {
    let mut command = Command::new(legwork_tests::program());
    command.env("COLUMNS", "100").env_remove("NO_COLOR").current_dir(examples());
    command
}

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../crates/cli/examples")
}

/// A run with these arguments and this on standard input.
fn run(arguments: &[&str], input: &str) -> Output {
    let mut command = program();
    command.args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("it starts");
    let mut stdin = child.stdin.take().expect("a pipe");
    // A program that refuses its arguments reads nothing, which is no matter here.
    let _ = stdin.write_all(input.as_bytes());
    drop(stdin);
    child.wait_with_output().expect("it ends")
}

/// What a run that has to end well says.
fn said(arguments: &[&str], input: &str) -> String {
    let output = run(arguments, input);
    assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &b""[..]), "{arguments:?}: {output:?}");
    String::from_utf8(output.stdout).expect("UTF-8")
}

const HOME: &str = "cottage-split.toml";
const READINGS: &str = "cottage-split-readings.csv";

#[test]
fn the_programs_json_is_what_the_model_says_of_random_visits() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    for seed in 5000..5040 {
        let premises = home(seed);
        let visit = visit(&premises, seed);
        let file = folder.join(format!("locate-{seed}.toml"));
        fs::write(&file, to_toml(&premises)).expect("a place for a file");
        let error = format!("{} dB", visit.sigma);
        let arguments = ["locate", file.to_str().expect("a name"), "-", "--json", "--reading-error", &error];
        let text = said(&arguments, &visit.csv());
        assert_eq!(text.find('\n'), Some(text.len() - 1), "one line, ended");
        let got: Value = serde_json::from_str(&text).expect("JSON");
        let departures = departures(&locate(&premises, &visit.lines, visit.sigma), &got);
        assert!(departures.is_empty(), "visit {seed}: {departures:?}");
        fs::remove_file(&file).expect("it goes");
    }
}

#[test]
fn the_shipped_readings_lead_to_the_fault_their_home_has() {
    let text = said(&["locate", HOME, READINGS], "");
    let first: Vec<&str> = text.lines().take(3).collect();
    let first = first.join(" ");
    for words in
        ["Too much loss in the cable `loft run`", "1.2 dB at 57 MHz", "4.6 dB at 861 MHz", "connectors", "wet, kinked"]
    {
        assert!(first.contains(words), "no `{words}` in\n{text}");
    }
    for words in ["expected", "read", "difference", "loft", "100 %"] {
        assert!(text.contains(words), "no `{words}` in\n{text}");
    }
    assert!(!text.contains("nan") && !text.contains("-0.0"), "{text}");
}

/// Readings, and what the first sentences say of them.
const SAYS: [(&str, &[&str]); 7] = [
    (
        "desk,57,4.3\nloft,57,0.1\ndesk,861,-0.8\nloft,861,-6.1\n",
        &["3.8 dB too much loss at every frequency in the cable `loft run`", "bad connector"],
    ),
    ("desk,57,4.3\nloft,57,-4.1\ndesk,861,-0.8\nloft,861,-2.8\n", &["Worst at low frequency", "centre contact"]),
    ("desk,57,4.3\nkitchen,57,4.0\nloft,57,3.9\n", &["Nothing stands out", "agrees with what was to be expected"]),
    ("desk,57,3.3\nkitchen,57,4.0\n", &["Nothing stands out"]),
    (
        "loft,57,-3\n",
        &["between the entry and loft", "Read next at", "Read a second frequency", "Caution: an open shield"],
    ),
    ("hall.1,57,0\nhall.2,57,0\nlead-in,57,11\n", &["in the splitter `hall`"]),
    ("desk,57,-20\nloft,57,12\nkitchen,57,-9\nbedroom,57,4\n", &["stay unexplained", "more than one fault"]),
];

#[test]
fn a_person_is_told_what_is_wrong_in_words_and_nobody_is_accused_without_ground() {
    for (lines, words) in SAYS {
        let text = said(&["locate", HOME, "-"], &format!("at,mhz,dbmv\n{lines}"));
        let unwrapped = text.split_whitespace().collect::<Vec<&str>>().join(" ");
        for words in words {
            assert!(unwrapped.contains(words), "no `{words}` in\n{text}");
        }
        assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
        let healthy = words[0] == "Nothing stands out";
        assert_eq!(healthy, !unwrapped.contains("Look at"), "{text}");
        assert!(!healthy || !unwrapped.contains("Caution"), "{text}");
    }
}

#[test]
fn either_file_may_be_standard_input_but_not_both() {
    let whole = said(&["locate", HOME, READINGS, "--json"], "");
    let home = fs::read_to_string(examples().join(HOME)).expect("a home");
    let readings = fs::read_to_string(examples().join(READINGS)).expect("readings");
    assert_eq!(said(&["locate", "-", READINGS, "--json"], &home), whole);
    assert_eq!(said(&["locate", HOME, "-", "--json"], &readings), whole);
    for arguments in [&["locate", "-", "-"][..], &["compare", HOME, "-", "-"], &["compare", "-", READINGS, "-"]] {
        let output = run(arguments, "");
        assert_eq!((output.status.code(), output.stdout.as_slice()), (Some(2), &b""[..]));
        assert!(String::from_utf8_lossy(&output.stderr).contains("can't both be standard input"));
    }
}

#[test]
fn what_can_not_be_used_has_exit_code_2_and_leaves_standard_output_empty() {
    let cases: [(&[&str], &str, &str); 7] = [
        (&["locate", HOME, "none.csv"], "", "none.csv"),
        (&["locate", "none.toml", READINGS], "", "none.toml"),
        (&["locate", HOME, "-"], "at,mhz,dbmv\nattic,57,3\n", "-:2:1"),
        (&["locate", HOME, "-"], "at,mhz,dbmv\nloft,57,\n", "no usable reading"),
        (&["locate", HOME, READINGS, "--reading-error", "0 dB"], "", "--reading-error `0 dB`"),
        (&["locate", HOME, READINGS, "--reading-error", "1"], "", "the unit is missing"),
        (&["compare", HOME, READINGS, "-"], "at,mhz,dbmv\nloft,60,3\n", "no reading away from the entry has one in"),
    ];
    for (arguments, input, words) in cases {
        let output = run(arguments, input);
        let err = String::from_utf8_lossy(&output.stderr);
        assert_eq!((output.status.code(), output.stdout.as_slice()), (Some(2), &b""[..]), "{arguments:?}");
        assert!(err.contains(words), "no `{words}` in\n{err}");
    }
}

#[test]
fn two_visits_are_compared_in_words_and_as_json() {
    let later = "at,mhz,dbmv\nentry,57,9.6\nentry,459,8.3\nentry,861,6.5\ndesk,57,1.8\ndesk,861,-3.4\nkitchen,57,2\nloft,57,1.2\nloft,459,-1.7\nloft,861,-4.8\n";
    let json: Value = serde_json::from_str(&said(&["compare", HOME, READINGS, "-", "--json"], later)).expect("JSON");
    // The entry fell by 2 dB everywhere; what is left at the loft is better than it was.
    for point in json["entry"].as_array().expect("points") {
        assert!((point["change_db"].as_f64().expect("dB") + 2.0).abs() < 1e-4, "{point}");
    }
    assert_eq!(json["changes"].as_array().map(Vec::len), Some(6));
    assert_eq!(json["worse"]["suspects"][0]["parts"], serde_json::json!([]));
    assert_eq!(json["better"]["suspects"][0]["parts"], serde_json::json!(["loft run"]));
    let text = said(&["compare", HOME, READINGS, "-"], later);
    for words in [
        "Better than before in the cable `loft run`: about",
        "less loss",
        "it moved at the entry",
        "-2.0 dB at 57 MHz",
        "change",
    ] {
        assert!(text.contains(words), "no `{words}` in\n{text}");
    }
    assert!(!text.contains("Worse"), "{text}");
    let same = said(&["compare", HOME, READINGS, READINGS], "");
    assert!(same.starts_with("Nothing stands out"), "{same}");
}
