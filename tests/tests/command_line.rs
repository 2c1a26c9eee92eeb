//! `legwork check` as a person or a script runs it: exit codes, what goes where, and how it ends.

use std::fs::{self, File};
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;

/// The program.
fn program() -> Command {
    let mut command = Command::new(legwork_tests::program());
    command.env("COLUMNS", "80").env_remove("NO_COLOR").current_dir(data());
    command
}

fn data() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("data")
}

/// What a run came to.
#[derive(Debug)]
struct Said {
    code: i32,
    out: String,
    err: String,
}

impl From<Output> for Said {
    fn from(output: Output) -> Self {
        let text = |bytes| String::from_utf8(bytes).expect("it speaks UTF-8");
        Self { code: output.status.code().expect("no signal"), out: text(output.stdout), err: text(output.stderr) }
    }
}

/// `legwork check` with these arguments.
fn check(arguments: &[&str]) -> Said {
    program().arg("check").args(arguments).stdin(Stdio::null()).output().expect("it starts").into()
}

/// `legwork check` with these arguments and this on standard input.
fn check_input(arguments: &[&str], input: &[u8]) -> Said {
    let mut command = program();
    command.arg("check").args(arguments).stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("it starts");
    let mut stdin = child.stdin.take().expect("a pipe");
    let input = input.to_vec();
    // From a thread of its own: the program writes before it has read everything.
    let writer = std::thread::spawn(move || stdin.write_all(&input));
    let said = child.wait_with_output().expect("it ends").into();
    // A program that gives up on its input closes it, which is no matter here.
    let _ = writer.join().expect("the writer ends");
    said
}

const PASSES: &str = "findings/forward-low-mended.toml";
const MARGINAL: &str = "findings/open-port.toml";
const FAILS: &str = "findings/forward-low.toml";
const UNUSABLE: &str = "refused/length-negative.toml";

/// A home on one line of JSON.
fn line_of(seed: u64) -> String {
    legwork_tests::home(seed).to_string()
}

#[test]
fn the_exit_code_is_the_verdict() {
    for (file, code, strict) in [(PASSES, 0, 0), (MARGINAL, 0, 1), (FAILS, 1, 1), (UNUSABLE, 2, 2)] {
        assert_eq!(check(&[file]).code, code, "{file}");
        assert_eq!(check(&[file, "--strict"]).code, strict, "{file} --strict");
        assert_eq!(check(&[file, "--json"]).code, code, "{file} --json");
    }
}

#[test]
fn of_several_files_the_worst_decides() {
    assert_eq!(check(&[PASSES, PASSES]).code, 0);
    assert_eq!(check(&[PASSES, MARGINAL]).code, 0);
    assert_eq!(check(&["--strict", PASSES, MARGINAL]).code, 1);
    assert_eq!(check(&[FAILS, PASSES]).code, 1);
}

#[test]
fn one_unusable_file_leaves_standard_output_empty() {
    for arguments in
        [&[PASSES, UNUSABLE][..], &[UNUSABLE, PASSES], &["--json", FAILS, UNUSABLE], &[PASSES, "none.toml"]]
    {
        let said = check(arguments);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{arguments:?}");
        assert!(!said.err.is_empty());
    }
}

#[test]
fn an_error_names_file_line_field_and_value_on_standard_error() {
    let said = check(&[UNUSABLE]);
    for part in ["refused/length-negative.toml:15:10", "length", "-40 ft", "not negative"] {
        assert!(said.err.contains(part), "no `{part}` in:\n{}", said.err);
    }
    assert!(said.err.ends_with('\n'));
    let said = check(&["none.toml"]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    assert!(said.err.contains("none.toml"), "{}", said.err);
    // A folder is no file.
    let said = check(&["findings"]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    assert!(said.err.contains("findings"), "{}", said.err);
}

#[test]
fn every_refused_file_has_exit_code_2_and_no_output() {
    let mut count = 0;
    for entry in fs::read_dir(data().join("refused")).expect("the folder") {
        let name = entry.expect("an entry").file_name().into_string().expect("a name");
        if !name.ends_with(".toml") && !name.ends_with(".json") {
            continue;
        }
        let said = check(&[&format!("refused/{name}")]);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{name}");
        assert!(said.err.contains(&name) && !said.err.contains("panicked"), "{name}: {}", said.err);
        count += 1;
    }
    assert!(count >= 275, "{count} files");
}

#[test]
fn usage_errors_have_exit_code_2_too() {
    for arguments in [&[][..], &["--jsn", PASSES], &["--service"], &["--lines", PASSES]] {
        let said = check(arguments);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{arguments:?}");
        assert!(!said.err.is_empty());
    }
    assert_eq!(check(&["--help"]).code, 0);
}

#[test]
fn a_dash_is_standard_input_in_either_format() {
    let toml = fs::read(data().join(FAILS)).expect("a file");
    assert_eq!(check_input(&["-"], &toml).code, 1);
    let from_file: Value = serde_json::from_str(&check(&[FAILS, "--json"]).out).expect("a report");
    let from_input: Value = serde_json::from_str(&check_input(&["-", "--json"], &toml).out).expect("a report");
    assert_eq!(from_file, from_input);
    let said = check_input(&["-", "--json"], line_of(3).as_bytes());
    assert!(said.code < 2 && said.out.starts_with("{\"format\":1,\"name\":\"home 3\""), "{said:?}");
    let said = check_input(&["-"], b"format = 2\n");
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    assert!(said.err.contains("-:1:10"), "{}", said.err);
}

#[test]
fn json_has_the_keys_of_the_contract_on_one_line_that_ends() {
    let said = check(&["--json", "findings/return-overdriven.toml"]);
    assert_eq!(said.out.find('\n'), Some(said.out.len() - 1));
    assert_eq!(said.err, "");
    let report: Value = serde_json::from_str(&said.out).expect("a report");
    let keys = |value: &Value| -> Vec<String> {
        value.as_object().map(|table| table.keys().cloned().collect()).unwrap_or_default()
    };
    for (pointer, expected) in [
        ("", "format name verdict outlets amplifiers feeds dc links findings"),
        (
            "/outlets/0",
            "id device verdict lifeline forward tilt_db tilt_low tilt_high total_dbmv total_low total_high cnr return \
             needs_power_at",
        ),
        ("/outlets/0/forward/0", "mhz dbmv low high"),
        ("/outlets/0/return/0", "mhz loss_db transmit_dbmv low high"),
        ("/amplifiers/0", "id input_total_dbmv input_total_low input_total_high headroom_db outlets_lost"),
        (
            "/feeds/0",
            "supply amplifier volts volts_low volts_high amps amps_high supply_amps supply_amps_high loop_ohms drop_volts \
             verdict",
        ),
        ("/dc/0", "at supply volts volts_unloaded loop_ohms"),
        ("/findings/0", "code verdict at mhz value limit unit other says brief"),
    ] {
        let found = keys(report.pointer(pointer).unwrap_or(&Value::Null));
        for key in expected.split_whitespace() {
            assert!(found.iter().any(|found| found == key), "no {key} at {pointer}: {found:?}");
        }
    }
    let report: Value =
        serde_json::from_str(&check(&["--json", "findings/home-link-weak.toml"]).out).expect("a report");
    let link = keys(&report["links"][0]);
    assert!(
        ["from", "to", "mhz", "loss_db", "verdict"].iter().all(|key| link.iter().any(|found| found == key)),
        "{link:?}"
    );
}

#[test]
fn several_files_give_a_report_a_line_each_with_its_file() {
    let said = check(&["--json", FAILS, PASSES]);
    let lines: Vec<Value> = said.out.lines().map(|line| serde_json::from_str(line).expect("a report")).collect();
    assert_eq!(lines.len(), 2);
    assert_eq!((&lines[0]["file"], &lines[1]["file"]), (&Value::from(FAILS), &Value::from(PASSES)));
    assert_eq!((&lines[0]["verdict"], &lines[1]["verdict"]), (&Value::from("fail"), &Value::from("pass")));
    // One alone needs no name.
    let alone: Value = serde_json::from_str(&check(&["--json", FAILS]).out).expect("a report");
    assert!(alone.get("file").is_none());
}

#[test]
fn lines_keep_their_order_with_unusable_ones_between() {
    // More than one batch, so that two cores take turns.
    let count = 400;
    let input: String = (0..count)
        .map(|number| match number % 7 {
            3 => "{\"format\": 2}\n".to_owned(),
            5 => "no json\n".to_owned(),
            _ => line_of(number) + "\n",
        })
        .collect();
    let said = check_input(&["--lines"], input.as_bytes());
    assert_eq!((said.code, said.err.as_str()), (2, ""));
    let mut answers = 0;
    for (number, line) in (0u64..).zip(said.out.lines()) {
        let answer: Value = serde_json::from_str(line).expect("a line of JSON");
        match number % 7 {
            3 => {
                assert_eq!(answer["line"], number + 1, "{answer}");
                assert_eq!((&answer["error"]["field"], &answer["error"]["value"]), (&"format".into(), &"2".into()));
                assert!(answer["error"]["says"].as_str().is_some_and(|says| !says.is_empty()));
            }
            5 => {
                assert_eq!(answer["line"], number + 1, "{answer}");
                assert!(answer["error"]["says"].as_str().is_some_and(|says| says.contains("not JSON")), "{answer}");
            }
            _ => assert_eq!(answer["name"], format!("home {number}"), "{answer}"),
        }
        answers += 1;
    }
    assert_eq!(answers, count);
}

#[test]
fn lines_give_the_reports_that_files_give() {
    let input: String = (0..40).map(|seed| line_of(seed) + "\n").collect();
    let said = check_input(&["--lines"], input.as_bytes());
    let one_by_one: String = (0..40).map(|seed| check_input(&["-", "--json"], line_of(seed).as_bytes()).out).collect();
    assert_eq!(said.out, one_by_one);
}

#[test]
fn lines_take_windows_line_ends_an_empty_input_and_a_last_line_without_an_end() {
    let said = check_input(&["--lines"], b"");
    assert_eq!((said.code, said.out.as_str(), said.err.as_str()), (0, "", ""));
    let input = format!("{}\r\n{}", line_of(1), line_of(2));
    let said = check_input(&["--lines"], input.as_bytes());
    assert_eq!(said.out.lines().count(), 2, "{}", said.out);
    assert!(said.code < 2 && said.out.ends_with('\n'));
    // An empty line, and one that is no text, are lines that can't be used.
    let said = check_input(&["--lines"], b"\n\xff\xfe\n");
    assert_eq!((said.code, said.out.lines().count()), (2, 2), "{}", said.out);
}

#[test]
fn lines_exit_by_the_worst_verdict_where_all_can_be_used() {
    let json = |name: &str| -> String {
        let text = fs::read_to_string(data().join(name)).expect("a file");
        let home: toml::Table = toml::from_str(&text).expect("a home");
        serde_json::to_string(&home).expect("a line") + "\n"
    };
    for (names, code, strict) in [(&[PASSES][..], 0, 0), (&[MARGINAL, PASSES], 0, 1), (&[PASSES, FAILS], 1, 1)] {
        let input: String = names.iter().map(|name| json(name)).collect();
        assert_eq!(check_input(&["--lines"], input.as_bytes()).code, code, "{names:?}");
        assert_eq!(check_input(&["--lines", "--strict"], input.as_bytes()).code, strict, "{names:?}");
    }
}

#[test]
fn a_closed_pipe_ends_quietly() {
    // More than any pipe holds, and nobody reads beyond the first line.
    let path = std::env::temp_dir().join(format!("legwork-lines-{}", std::process::id()));
    let mut file = File::create(&path).expect("a file");
    let line = line_of(11) + "\n";
    for _ in 0..3000 {
        file.write_all(line.as_bytes()).expect("room on the disk");
    }
    drop(file);
    let mut command = program();
    command.args(["check", "--lines"]).stdin(File::open(&path).expect("the file"));
    let mut child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it starts");
    let mut first = String::new();
    BufReader::new(child.stdout.take().expect("a pipe")).read_line(&mut first).expect("a line");
    let said: Said = child.wait_with_output().expect("it ends").into();
    fs::remove_file(&path).expect("the file goes");
    assert!(first.starts_with("{\"format\":1"), "{first}");
    assert_eq!(said.err, "");
    assert!(said.code < 2, "{said:?}");
}

#[test]
fn a_pipe_has_no_colours_and_no_color_has_none_anywhere() {
    for said in [check(&[FAILS]), check(&[UNUSABLE])] {
        assert!(!said.out.contains('\x1b') && !said.err.contains('\x1b'), "{said:?}");
    }
    let said: Said = program().env("NO_COLOR", "1").args(["check", UNUSABLE]).output().expect("it starts").into();
    assert!(!said.err.contains('\x1b'), "{said:?}");
    let said: Said = program().env("NO_COLOR", "1").args(["check", "--help"]).output().expect("it starts").into();
    assert!(!said.out.contains('\x1b'), "{said:?}");
}

#[test]
fn the_report_for_people_says_the_verdict_first_and_every_finding() {
    let said = check(&[FAILS]);
    assert_eq!(said.err, "");
    let first = said.out.lines().find(|line| !line.trim().is_empty()).unwrap_or_default().to_lowercase();
    assert!(first.contains("fail"), "{}", said.out);
    for part in ["den modem", "-16.0", "57"] {
        assert!(said.out.contains(part), "no `{part}` in:\n{}", said.out);
    }
    assert!(check(&[PASSES]).out.to_lowercase().contains("pass"));
}

#[test]
fn the_report_for_people_fits_a_narrow_and_a_wide_page() {
    for (columns, most) in [("60", 60), ("120", 120)] {
        for file in
            ["findings/return-overdriven.toml", "findings/home-link-weak.toml", FAILS, "findings/two-supplies.toml"]
        {
            let mut command = program();
            let said: Said = command.env("COLUMNS", columns).args(["check", file]).output().expect("it starts").into();
            let widest = said.out.lines().map(|line| line.chars().count()).max().unwrap_or(0);
            assert!(widest <= most, "{file} is {widest} wide on {columns} columns:\n{}", said.out);
        }
    }
}

#[test]
fn a_caution_stands_where_it_applies_and_nowhere_else() {
    let caution = |file: &str| check(&[file]).out.contains("Caution");
    assert!(caution("findings/dc-at-device.toml"));
    assert!(caution("findings/bond-missing.toml"));
    assert!(!caution(PASSES));
}

#[test]
fn another_service_stands_in_place_of_the_files_own() {
    // The mended home passes under its own entry and fails under the hotter one.
    let hot = "findings/forward-high.toml";
    let said = check(&["--json", "findings/cnr-low-mended.toml", "--service", hot]);
    assert_eq!(said.code, 1, "{said:?}");
    let report: Value = serde_json::from_str(&said.out).expect("a report");
    assert_eq!(report["outlets"][0]["forward"][0]["dbmv"].as_f64(), Some(17.0));
    // A service that can't be used is named, not the home.
    let said = check(&[PASSES, "--service", "refused/split-upside-down.toml"]);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    assert!(said.err.contains("split-upside-down.toml:5"), "{}", said.err);
}

#[test]
fn what_new_writes_passes_whatever_its_size() {
    for outlets in ["1", "2", "5", "8", "9", "17", "64"] {
        for amplifier in [false, true] {
            let mut new = program();
            new.args(["new", "-", "--outlets", outlets]);
            if amplifier {
                new.arg("--amplifier");
            }
            let written = new.output().unwrap();
            assert_eq!(written.status.code(), Some(0));
            let said = check_input(&["-"], &written.stdout);
            assert!(said.code == 0 && said.out.starts_with("PASS"), "{outlets} {amplifier}: {}", said.out);
        }
    }
}

#[test]
fn new_never_replaces_a_file_unasked() {
    let folder = std::env::temp_dir().join(format!("legwork-new-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("home.toml");
    std::fs::write(&file, "mine").unwrap();
    let refused = program().arg("new").arg(&file).output().unwrap();
    assert_eq!((refused.status.code(), refused.stdout.len()), (Some(2), 0));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("home.toml"));
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "mine");
    let replaced = program().arg("new").arg(&file).arg("--force").output().unwrap();
    assert_eq!(replaced.status.code(), Some(0));
    assert!(std::fs::read_to_string(&file).unwrap().starts_with('#'));
    std::fs::remove_dir_all(&folder).unwrap();
}

#[test]
fn specs_names_every_source_and_how_far_it_is_trusted() {
    let answer = program().args(["specs", "--json"]).output().unwrap();
    let answer: serde_json::Value = serde_json::from_slice(&answer.stdout).unwrap();
    let entries = answer["specs"].as_array().unwrap();
    assert!(entries.len() > 60);
    for entry in entries {
        for key in ["name", "source", "trust"] {
            assert!(entry[key].as_str().is_some_and(|text| !text.is_empty()), "{entry}");
        }
    }
}

#[test]
fn the_schemas_come_with_the_program() {
    for name in ["premises", "need", "report"] {
        let said: Said = program().args(["generate", &format!("{name}-schema")]).output().expect("it starts").into();
        let schema: Value = serde_json::from_str(&said.out).expect("JSON");
        assert_eq!((said.code, &schema["$schema"]), (0, &"http://json-schema.org/draft-07/schema#".into()), "{name}");
    }
}
