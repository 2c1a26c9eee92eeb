//! Completions and the man page come from the definition of the command line, and miss nothing of it.

use std::collections::BTreeSet;

use crate::binary::line;
use crate::examples::commands;

/// Long options that a command's help lists, without their hyphens.
fn options(command: &str) -> BTreeSet<String> {
    let help = line(&format!("{command} --help")).out;
    let list = help.lines().skip_while(|line| *line != "Options:").skip(1).take_while(|line| !line.is_empty());
    let word = |line: &str| {
        let typed = line.trim_start();
        let at = typed.find("--").filter(|at| *at <= 4 && typed.starts_with('-'))?;
        let name: String =
            typed[at + 2..].chars().take_while(|letter| letter.is_ascii_alphanumeric() || *letter == '-').collect();
        Some(name)
    };
    list.filter_map(word).collect()
}

#[test]
fn the_help_is_read_rightly() {
    let wanted = BTreeSet::from(["ripple", "delay", "velocity", "ripple-depth", "json", "help"].map(str::to_owned));
    assert_eq!(options("echo"), wanted);
    assert!(options("cable").contains("at") && options("wire").contains("metal"));
}

#[test]
fn completions_for_every_shell_know_every_command_and_option() {
    for shell in ["bash", "zsh", "fish", "powershell"] {
        let said = line(&format!("generate {shell}"));
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{shell}");
        for command in commands() {
            assert!(said.out.contains(&command), "{shell}: {command}");
            for option in options(&command) {
                // fish names a long option without its hyphens, after `-l`.
                let typed = if shell == "fish" { format!("-l {option}") } else { format!("--{option}") };
                assert!(said.out.contains(&typed), "{shell}: {command} {typed}");
            }
        }
    }
}

#[test]
fn the_man_page_knows_every_command_and_option() {
    let said = line("generate man");
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    assert!(said.out.contains(".TH legwork"), "it is a man page");
    // roff writes a hyphen that is one as `\-`.
    let page = said.out.replace("\\-", "-");
    for command in commands() {
        assert!(page.contains(&command), "{command}");
        for option in options(&command) {
            assert!(page.contains(&format!("--{option}")), "{command} --{option}");
        }
    }
}

#[test]
fn the_shell_that_is_here_can_read_its_completions() {
    use std::io::Write;
    use std::process::{Command, Stdio};

    let script = line("generate bash").out;
    let bash = Command::new("bash").args(["-n", "-s"]).stdin(Stdio::piped()).stderr(Stdio::piped()).spawn();
    // A machine without that shell has nothing to read them with.
    let Ok(mut bash) = bash else { return };
    bash.stdin.take().expect("a pipe").write_all(script.as_bytes()).expect("it reads");
    let output = bash.wait_with_output().expect("it ends");
    assert!(output.status.success() && output.stderr.is_empty(), "{output:?}");
}
