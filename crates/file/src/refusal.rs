//! Why a file can't be used, with the lines that say so.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use crate::problem::{Problem, Problems};
use crate::tree::Node;

/// A problem and its place.
#[derive(Clone, Debug)]
pub struct Placed {
    /// What is wrong.
    pub problem: Problem,
    /// Where, in bytes.
    pub span: Range<usize>,
    /// The second place.
    pub second: Option<Range<usize>>,
    /// The line, from 1.
    pub line: usize,
    /// The column, from 1.
    pub column: usize,
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
        let placed = problems.0.into_iter().map(|problem| {
            let found = tree.find(&problem.path.0);
            let span = match found.key_span {
                Some(key) if problem.about_key => key,
                // A whole table is long; its first line will do.
                _ => first_line(text, found.node.span.clone()),
            };
            let second = problem.second.as_ref().map(|(path, _)| first_line(text, tree.find(&path.0).node.span.clone()));
            place(text, problem, span, second)
        });
        let mut placed: Vec<Placed> = placed.collect();
        placed.sort_by_key(|placed| placed.span.start);
        Box::new(Self { name: name.to_owned(), text: text.to_owned(), placed })
    }

    /// One problem at a place.
    pub(crate) fn at(name: &str, text: &str, span: Range<usize>, problem: Problem) -> Box<Self> {
        let span = span.start.min(text.len())..span.end.min(text.len());
        let placed = vec![place(text, problem, span, None)];
        Box::new(Self { name: name.to_owned(), text: text.to_owned(), placed })
    }

    /// One problem at the end of what could be read.
    pub(crate) fn at_end(name: &str, text: &str, problem: Problem) -> Box<Self> {
        Self::at(name, text, text.len()..text.len(), problem)
    }

    /// One problem with a file as a whole.
    #[must_use]
    pub fn whole(name: &str, text: &str, problem: Problem) -> Box<Self> {
        Self::at(name, text, 0..0, problem)
    }

    /// What is wrong, in the order of the file.
    #[must_use]
    pub fn problems(&self) -> &[Placed] {
        &self.placed
    }

    /// The refusal for people: each problem with its line and a pointer under what is wrong.
    #[must_use]
    pub fn render(&self, colour: bool) -> String {
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        let mut out = String::new();
        for placed in &self.placed {
            let problem = &placed.problem;
            let field = problem.path.to_string();
            let title = match (field.as_str(), problem.value.as_str()) {
                ("", "") => problem.says.clone(),
                ("", value) => format!("{value}: {}", problem.says),
                (field, "") => format!("{field}: {}", problem.says),
                (field, value) => format!("{field} = {}: {}", shorten(value), problem.says),
            };
            let mut snippet = Snippet::source(self.text.as_str())
                .path(self.name.as_str())
                .annotation(AnnotationKind::Primary.span(placed.span.clone()));
            if let (Some(second), Some((_, says))) = (&placed.second, &problem.second) {
                snippet = snippet.annotation(AnnotationKind::Context.span(second.clone()).label(says.as_str()));
            }
            let mut groups = vec![Group::with_title(Level::ERROR.primary_title(title.as_str())).element(snippet)];
            if let Some(help) = &problem.help {
                groups.push(Group::with_title(Level::HELP.secondary_title(help.as_str())));
            }
            out.push_str(&renderer.render(&groups));
            out.push('\n');
            if let (Some(second), Some((path, says))) = (&placed.second, &problem.second) {
                let (line, _) = position(&self.text, second.start);
                out.push_str(&format!("  also line {line}, {path}: {says}\n"));
            }
        }
        out
    }
}

/// A value as long as a line has room for.
fn shorten(value: &str) -> String {
    const MOST: usize = 60;
    if value.chars().count() <= MOST {
        return format!("`{value}`");
    }
    let head: String = value.chars().take(MOST).collect();
    format!("`{head}...`")
}

fn place(text: &str, problem: Problem, span: Range<usize>, second: Option<Range<usize>>) -> Placed {
    let (line, column) = position(text, span.start);
    Placed { problem, span, second, line, column }
}

/// Line and column of a byte, both from 1.
fn position(text: &str, at: usize) -> (usize, usize) {
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
