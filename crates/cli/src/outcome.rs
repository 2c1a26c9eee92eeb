//! How a command ends: its exit code, and what it says on standard error.

use std::io::{self, Write};
use std::process::ExitCode;

use legwork_file::Refusal;

use crate::screen;

/// A command that did its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// Done; for a check: pass or marginal.
    Done,
    /// The answer is bad news.
    BadNews,
    /// Some of the input could not be used; the rest is done.
    PartlyUnusable,
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> Self {
        match outcome {
            Outcome::Done => Self::SUCCESS,
            Outcome::BadNews => Self::from(1),
            Outcome::PartlyUnusable => Self::from(2),
        }
    }
}

/// A command that could not do its work.
#[derive(Debug)]
pub(crate) enum Failure {
    /// A file makes no sense.
    Refused(Box<Refusal>),
    /// The input can't be used; the sentence says which option or file, and what it takes.
    Unusable(String),
    /// Standard output was closed: whoever read it has had enough.
    Closed,
}

impl From<Box<Refusal>> for Failure {
    fn from(refusal: Box<Refusal>) -> Self {
        Self::Refused(refusal)
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::BrokenPipe => Self::Closed,
            _ => Self::Unusable(format!("output: {error}")),
        }
    }
}

impl Failure {
    /// Says on standard error what is wrong, and gives the exit code.
    pub(crate) fn report(self) -> ExitCode {
        let text = match self {
            Self::Closed => return ExitCode::SUCCESS,
            Self::Refused(refusal) => refusal.render(screen::colour_on_stderr()),
            Self::Unusable(says) => format!("error: {says}\n"),
        };
        // Where even standard error is closed, the exit code has to do.
        let _ = io::stderr().write_all(text.as_bytes());
        ExitCode::from(2)
    }
}

/// Help and version are no failures, unless they can't be written; everything else clap says is a matter of usage.
pub(crate) fn usage(error: &clap::Error) -> ExitCode {
    let printed = error.print().and_then(|()| io::stdout().flush());
    if error.use_stderr() {
        return ExitCode::from(2);
    }
    printed.map_or_else(|failed| Failure::from(failed).report(), |()| ExitCode::SUCCESS)
}
