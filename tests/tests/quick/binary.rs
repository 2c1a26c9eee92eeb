//! Runs the program as a person or a script would.

use std::process::{Command, Output};

use serde_json::Value;

/// What a run came to.
#[derive(Debug)]
pub(crate) struct Said {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl From<Output> for Said {
    fn from(output: Output) -> Self {
        let text = |bytes| String::from_utf8(bytes).expect("it speaks UTF-8");
        Self { code: output.status.code().expect("no signal"), out: text(output.stdout), err: text(output.stderr) }
    }
}

/// A run with these arguments.
pub(crate) fn run<'a>(arguments: impl IntoIterator<Item = &'a str>) -> Said {
    let mut command = Command::new(legwork_tests::program());
    command.args(arguments).env("COLUMNS", "100").env_remove("NO_COLOR");
    command.output().expect("the program starts").into()
}

/// A run of a line whose arguments have no spaces.
pub(crate) fn line(line: &str) -> Said {
    run(line.split_whitespace())
}

/// The figures of a run with `--json` that has to end with this code.
pub(crate) fn figures_of<'a>(arguments: impl IntoIterator<Item = &'a str>, code: i32) -> Value {
    let said = run(arguments.into_iter().chain(["--json"]));
    assert_eq!((said.code, said.err.as_str()), (code, ""), "{said:?}");
    assert_eq!(said.out.find('\n'), Some(said.out.len() - 1), "one line, ended: {said:?}");
    let figures: Value = serde_json::from_str(&said.out).expect("it is JSON");
    assert!(figures.is_object());
    figures
}

/// The figures of a line whose arguments have no spaces.
pub(crate) fn figures(line: &str) -> Value {
    figures_of(line.split_whitespace(), 0)
}

/// One figure of a line, by its JSON pointer.
pub(crate) fn figure(line: &str, pointer: &str) -> f64 {
    let figures = figures(line);
    let figure = figures.pointer(pointer).and_then(Value::as_f64);
    figure.unwrap_or_else(|| panic!("legwork {line}: no number at {pointer} of {figures}"))
}
