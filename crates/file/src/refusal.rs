//! Why a file can't be used, with the lines that say so.

use std::ops::Range;

use crate::problem::{Problem, Problems};
use crate::render::render;
use crate::tree::{Kind, Node};

/// A problem and its place.
#[derive(Clone, Debug)]
pub struct Placed {
    /// What is wrong.
    pub problem: Problem,
    /// Where, in bytes.
    pub span: Range<usize>,
    /// The second place.
    pub second: Option<Second>,
    /// The line, from 1.
    pub line: usize,
    /// The column, from 1.
    pub column: usize,
}

/// The second place of a problem.
#[derive(Clone, Debug)]
pub struct Second {
    /// Where, in bytes.
    pub span: Range<usize>,
    /// The line, from 1.
    pub line: usize,
}

/// A file that can't be used.
#[derive(Clone, Debug)]
pub struct Refusal {
    name: String,
    text: String,
    placed: Vec<Placed>,
}

impl Refusal {
    /// Places problems by the tree of the file.
    pub(crate) fn new(name: &str, text: &str, tree: &Node, problems: Problems) -> Box<Self> {
        let placed = problems.0.into_iter().take(Problems::MOST).map(|mut problem| {
            let found = tree.find(&problem.path.0);
            // A number stands in a message as it does in the file, and a list as far as there is room.
            if matches!(found.node.kind, Kind::Number(_))
                || (problem.value.is_empty() && !matches!(found.node.kind, Kind::Table(_)))
            {
                problem.value = tree.written(&problem.path.0, text);
            }
            let span = match found.key_span {
                Some(key) if problem.about_key => key,
                // A whole table is long; its first line will do.
                _ => first_line(text, found.node.span.clone()),
            };
            let second = problem.second.as_ref().map(|(path, _)| {
                let found = tree.find_first(&path.0);
                let span = found.key_span.filter(|_| problem.about_key).unwrap_or(found.node.span.clone());
                first_line(text, span)
            });
            place(text, problem, span, second)
        });
        let mut placed: Vec<Placed> = placed.collect();
        placed.sort_by_key(|placed| placed.span.start);
        Box::new(Self { name: name.to_owned(), text: text.to_owned(), placed })
    }

    /// One problem at a place; what is found wrong only where the text ends stands behind its last word.
    pub(crate) fn at(name: &str, text: &str, span: Range<usize>, problem: Problem) -> Box<Self> {
        let last = text.trim_end().len();
        let span = if span.start >= last { last..last } else { span.start..span.end.min(text.len()) };
        Self::single(name, text, span, problem)
    }

    /// One problem at the end of what could be read.
    pub(crate) fn at_end(name: &str, text: &str, problem: Problem) -> Box<Self> {
        Self::single(name, text, text.len()..text.len(), problem)
    }

    /// One problem with a file as a whole.
    #[must_use]
    pub fn whole(name: &str, text: &str, problem: Problem) -> Box<Self> {
        Self::single(name, text, 0..0, problem)
    }

    /// Problems whose places are known, in the order of the text.
    pub(crate) fn spanned(name: &str, text: &str, problems: Vec<(Range<usize>, Problem)>) -> Box<Self> {
        let placed = problems.into_iter().take(Problems::MOST).map(|(span, problem)| {
            let span = first_line(text, span);
            place(text, problem, span, None)
        });
        Box::new(Self { name: name.to_owned(), text: text.to_owned(), placed: placed.collect() })
    }

    fn single(name: &str, text: &str, span: Range<usize>, problem: Problem) -> Box<Self> {
        let placed = vec![place(text, problem, span, None)];
        Box::new(Self { name: name.to_owned(), text: text.to_owned(), placed })
    }

    /// What is wrong, in the order of the file.
    #[must_use]
    pub fn problems(&self) -> &[Placed] {
        &self.placed
    }

    /// The refusal for people: each problem with its line and a pointer under what is wrong.
    #[must_use]
    pub fn render(&self, colour: bool) -> String {
        render(&self.name, &self.text, &self.placed, colour)
    }
}

fn place(text: &str, problem: Problem, span: Range<usize>, second: Option<Range<usize>>) -> Placed {
    let (line, column) = position(text, span.start);
    let second = second.map(|span| Second { line: position(text, span.start).0, span });
    Placed { problem, span, second, line, column }
}

/// Line and column of a byte, both from 1.
pub(crate) fn position(text: &str, at: usize) -> (usize, usize) {
    let before = text.get(..at).unwrap_or(text);
    let line = before.bytes().filter(|byte| *byte == b'\n').count() + 1;
    let start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let column = before.get(start..).map_or(0, |line| line.chars().count()) + 1;
    (line, column)
}

/// What of a span lies on its first line.
fn first_line(text: &str, span: Range<usize>) -> Range<usize> {
    let within = text.get(span.clone()).unwrap_or("");
    let length = within.find(['\n', '\r']).unwrap_or(within.len());
    span.start..span.start + length
}
