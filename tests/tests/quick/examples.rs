//! Every command's help ends with an example, and the example works.

use std::ffi::OsString;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::binary::line;

/// The quick calculations.
const QUICK: [&str; 9] = ["level", "sum", "cable", "along", "feed", "noise", "channel", "echo", "wire"];

/// The commands that the program's own help lists.
pub(crate) fn commands() -> Vec<String> {
    let help = line("--help").out;
    let list = help.lines().skip_while(|line| *line != "Commands:").skip(1).take_while(|line| !line.is_empty());
    // A command stands two spaces in; what is further in goes on explaining one.
    let names = list.filter(|line| !line.starts_with("   ")).filter_map(|line| line.split_whitespace().next());
    names.filter(|name| *name != "help").map(str::to_owned).collect()
}

/// The last line of a help, below the word "Example:".
fn example(help: &str) -> Option<&str> {
    let (_, below) = help.rsplit_once("Example:\n")?;
    let line = below.trim_end();
    (!line.contains('\n')).then(|| line.trim_start())
}

/// An empty directory of this test's own.
fn directory(name: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join("examples").join(name);
    if path.exists() {
        fs::remove_dir_all(&path).expect("an old directory goes");
    }
    fs::create_dir_all(&path).expect("a new directory comes");
    path
}

/// What a shell makes of a line, with the program on its path.
fn shell(line: &str, directory: &Path) -> std::process::Output {
    let mut path = OsString::from(legwork_tests::program().parent().expect("it lies in a directory"));
    path.push(":");
    path.push(std::env::var_os("PATH").unwrap_or_default());
    Command::new("sh").args(["-c", line]).current_dir(directory).env("PATH", path).output().expect("a shell")
}

#[test]
fn every_command_has_an_example_that_runs() {
    let commands = commands();
    for name in QUICK {
        assert!(commands.iter().any(|command| command == name), "{name} is not in the help");
    }
    for command in commands {
        let help = line(&format!("{command} --help")).out;
        let example = example(&help).unwrap_or_else(|| panic!("{command}: the help ends with no example:\n{help}"));
        // Readings come before the program, through a pipe.
        assert!(example.starts_with("legwork ") || example.starts_with("printf "), "{example}");
        assert!(example.contains(&format!("legwork {command}")) || command == "specs", "{example}");
        let directory = directory(&command);
        // What an example reads and does not write itself is what `new` writes.
        for (file, options) in [("home.toml", ""), ("need.toml", "--need")] {
            if example.contains(file) && !example.contains(&format!("new {file}")) {
                let made = shell(&format!("legwork new {file} {options}"), &directory);
                assert!(made.status.success(), "{made:?}");
            }
        }
        let output = shell(example, &directory);
        assert!(output.status.success(), "{example}: {output:?}");
        assert!(output.stderr.is_empty(), "{example}: {output:?}");
    }
}

#[test]
fn the_example_of_the_whole_program_runs() {
    let help = line("--help").out;
    let output = shell(example(&help).expect("it ends with an example"), &directory("whole"));
    assert!(output.status.success(), "{output:?}");
}

#[test]
fn every_example_of_a_quick_calculation_has_its_figures_too() {
    for name in QUICK {
        let help = line(&format!("{name} --help")).out;
        let example = example(&help).expect("an example");
        let output = shell(&format!("{example} --json"), &directory(&format!("{name}-json")));
        assert!(output.status.success(), "{example}: {output:?}");
        let figures: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
        assert!(figures.is_object(), "{example}");
    }
}
