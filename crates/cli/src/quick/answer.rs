//! What a quick calculation gives back: figures for programs, a page for people.

use std::fmt::Write as _;
use std::io::{self, Write as _};

use anstyle::Style;
use serde::Serialize;

use crate::{Failure, Outcome, screen};

/// How far the working stands in from the left.
const INDENT: &str = "  ";
/// How wide the words before a line of the working are.
const LABEL: usize = 9;

/// A page for people: the result first, then how it came about, then on whose word.
#[derive(Debug, Default)]
pub(super) struct Page {
    result: Vec<String>,
    body: String,
    notes: Vec<(&'static str, String)>,
}

impl Page {
    /// Starts with the result, on a line of its own.
    pub(super) fn new(result: impl Into<String>) -> Self {
        Self { result: vec![result.into()], ..Self::default() }
    }

    /// One more line of the result.
    pub(super) fn result(&mut self, line: impl Into<String>) {
        self.result.push(line.into());
    }

    /// Lines between the result and the working, such as a table or bars.
    pub(super) fn body(&mut self, line: &str) {
        self.body.push_str(INDENT);
        self.body.push_str(line.trim_end());
        self.body.push('\n');
    }

    /// A line of the formula, with the numbers in it.
    pub(super) fn formula(&mut self, line: impl Into<String>) {
        self.notes.push(("formula", line.into()));
    }

    /// A line of what follows for the job.
    pub(super) fn limit(&mut self, line: impl Into<String>) {
        self.notes.push(("limit", line.into()));
    }

    /// A line of where the formula or a number comes from.
    pub(super) fn source(&mut self, line: impl Into<String>) {
        self.notes.push(("source", line.into()));
    }

    /// The page as text, its result bold where the terminal can show that.
    fn render(&self, colour: bool, width: usize) -> String {
        let mut out = String::new();
        for line in &self.result {
            let _ = writeln!(out, "{}", screen::paint(line, Style::new().bold(), colour));
        }
        if !self.body.is_empty() {
            out.push('\n');
            out.push_str(&self.body);
        }
        let mut last = "";
        for (label, line) in &self.notes {
            let mut shown = if *label == last { "" } else { label };
            if *label != last {
                out.push('\n');
            }
            last = label;
            for piece in wrapped(line, width.saturating_sub(INDENT.len() + LABEL)) {
                let _ = writeln!(out, "{INDENT}{shown:<LABEL$}{piece}");
                shown = "";
            }
        }
        out
    }
}

/// A line cut at spaces to pieces of at most `width`, as far as its words allow; what stands in
/// front of its first word stays.
fn wrapped(line: &str, width: usize) -> Vec<&str> {
    let mut pieces = Vec::new();
    let mut rest = line.trim_end();
    while rest.chars().count() > width {
        let end = rest.char_indices().nth(width).map_or(rest.len(), |(at, _)| at);
        let first = rest.len() - rest.trim_start().len();
        let inside = |at: usize| at > first;
        let before = rest.get(..=end).and_then(|head| head.rfind(' ')).filter(|at| inside(*at));
        let Some(cut) = before.or_else(|| rest.match_indices(' ').map(|(at, _)| at).find(|at| inside(*at))) else {
            break;
        };
        let (piece, after) = rest.split_at(cut);
        pieces.push(piece);
        rest = after.trim_start();
    }
    pieces.push(rest);
    pieces
}

/// Prints the figures as one line of JSON, or the page.
pub(super) fn print(json: bool, figures: &impl Serialize, page: impl FnOnce() -> Page) -> Result<(), Failure> {
    let text = if json {
        let mut line = serde_json::to_string(figures).map_err(|error| Failure::Unusable(format!("output: {error}")))?;
        line.push('\n');
        line
    } else {
        page().render(screen::colour_on_stdout(), usize::from(screen::width()))
    };
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()?;
    Ok(())
}

/// Prints a calculation that can't be bad news.
pub(super) fn done(json: bool, figures: &impl Serialize, page: impl FnOnce() -> Page) -> Result<Outcome, Failure> {
    print(json, figures, page).map(|()| Outcome::Done)
}

#[cfg(test)]
mod tests {
    use super::{Page, wrapped};

    #[test]
    fn the_result_stands_first_and_a_label_once() {
        let mut page = Page::new("3 dBmV");
        page.formula("a = b");
        page.formula("  = c");
        page.source("a book");
        assert_eq!(page.render(false, 80), "3 dBmV\n\n  formula  a = b\n             = c\n\n  source   a book\n");
    }

    #[test]
    fn a_long_line_is_cut_at_its_spaces() {
        assert_eq!(wrapped("one two three", 7), ["one two", "three"]);
        assert_eq!(wrapped("one two three", 9), ["one two", "three"]);
        assert_eq!(wrapped("  unbreakable", 4), ["  unbreakable"]);
        assert_eq!(wrapped("unbreakable word", 4), ["unbreakable", "word"]);
        assert_eq!(wrapped("fits", 4), ["fits"]);
    }
}
