//! Problems as people read them: the line, and a pointer under the value.

use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};

use crate::problem::{Problem, Span};

/// Columns where nobody says how wide the page is.
pub(crate) const WIDTH: usize = 100;

/// Renders each problem; an empty line stands between two.
pub(crate) fn render(file: &str, text: &str, problems: &[Problem], colour: bool, width: usize) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() }.term_width(width);
    let rendered: Vec<String> = problems
        .iter()
        .map(|problem| renderer.render(&[group(file, text, problem)]))
        .collect();
    rendered.join("\n\n")
}

fn group<'a>(file: &'a str, text: &'a str, problem: &'a Problem) -> Group<'a> {
    let excerpt = Excerpt::around(text, problem);
    let mut snippet = Snippet::source(excerpt.text).line_start(excerpt.first_line).path(file);
    let label = if problem.value.is_empty() { "here" } else { problem.value.as_str() };
    snippet = snippet.annotation(AnnotationKind::Primary.span(excerpt.within(&problem.place)).label(label));
    if let Some((place, says)) = &problem.second {
        snippet = snippet.annotation(AnnotationKind::Context.span(excerpt.within(place)).label(says.as_str()));
    }
    let group = Level::ERROR.primary_title(title(problem)).element(snippet);
    match &problem.help {
        Some(help) => group.element(Level::HELP.message(help.as_str())),
        None => group,
    }
}

/// Field, value, and what is wrong.
fn title(problem: &Problem) -> String {
    match (problem.field.as_str(), problem.value.as_str()) {
        ("", _) => problem.says.clone(),
        (field, "") => format!("{field}: {}", problem.says),
        (field, value) => format!("{field} = \"{value}\": {}", problem.says),
    }
}

/// The lines of a text that a problem is about: all that is rendered, so all that is looked at.
struct Excerpt<'a> {
    text: &'a str,
    /// Where it begins in the whole text.
    start: usize,
    first_line: usize,
}

impl<'a> Excerpt<'a> {
    fn around(text: &'a str, problem: &Problem) -> Self {
        let places = || problem.second.iter().map(|(place, _)| place).chain([&problem.place]);
        let first = places().min_by_key(|place| place.bytes.start).unwrap_or(&problem.place);
        let last = places().map(|place| head(text, place).end).max().unwrap_or(text.len());
        let before = text.get(..first.bytes.start).unwrap_or(text);
        let start = before.rfind('\n').map_or(0, |newline| newline + 1);
        let end = text.get(last..).and_then(|rest| rest.find('\n')).map_or(text.len(), |newline| last + newline);
        Self { text: text.get(start..end).unwrap_or_default(), start, first_line: first.line }
    }

    /// A place within the excerpt; of several lines the first.
    fn within(&self, place: &Span) -> Range<usize> {
        let start = place.bytes.start.saturating_sub(self.start).min(self.text.len());
        let length = place.bytes.len();
        let line = self.text.get(start..).unwrap_or_default().find('\n').unwrap_or(self.text.len() - start);
        start..start + length.min(line)
    }
}

/// The part of a place on its first line.
fn head(text: &str, place: &Span) -> Range<usize> {
    let inside = text.get(place.bytes.clone()).unwrap_or_default();
    let length = inside.find('\n').unwrap_or(inside.len());
    place.bytes.start..place.bytes.start + length
}
