//! What the terminal can show.

use std::env;
use std::io::{self, IsTerminal};

use anstyle::{AnsiColor, Style};
use legwork::Verdict;

/// A phone's terminal, in columns: the narrowest that a report is made for.
const NARROWEST: u16 = 60;
/// Where no terminal says how wide it is.
const USUAL: u16 = 100;

/// Whether colour helps on standard output: on a terminal, unless `NO_COLOR` is set or it is dumb.
pub(crate) fn colour_on_stdout() -> bool {
    wants_colour() && io::stdout().is_terminal()
}

/// Whether colour helps on standard error.
pub(crate) fn colour_on_stderr() -> bool {
    wants_colour() && io::stderr().is_terminal()
}

fn wants_colour() -> bool {
    let unset = env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
    unset && env::var_os("TERM").is_none_or(|term| term != "dumb")
}

/// How many columns there are: what the terminal says, else what `COLUMNS` says.
pub(crate) fn width() -> u16 {
    let asked = || env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok());
    let width = terminal_size::terminal_size().map(|(width, _)| width.0).or_else(asked);
    width.unwrap_or(USUAL).max(NARROWEST)
}

/// How a verdict looks. Its word always stands there too.
pub(crate) fn style(verdict: Verdict) -> Style {
    let colour = match verdict {
        Verdict::Pass => AnsiColor::Green,
        Verdict::Marginal => AnsiColor::Yellow,
        Verdict::Fail => AnsiColor::Red,
    };
    Style::new().bold().fg_color(Some(colour.into()))
}

/// A text in a style, or as it is.
pub(crate) fn paint(text: &str, style: Style, colour: bool) -> String {
    if colour { format!("{style}{text}{style:#}") } else { text.to_owned() }
}
