//! Problems as people read them: the line, and a pointer under what is wrong.

use std::ops::Range;
use std::slice;

use annotate_snippets::{AnnotationKind, Element, Group, Level, Origin, Renderer, Snippet};

use crate::problem::shorten;
use crate::refusal::{Placed, position};

/// Columns of a page where nobody says otherwise; of a longer line only a window is shown.
const WIDTH: usize = 100;

/// Bytes before and after a place that may still be on the page.
const SIGHT: usize = 4 * WIDTH;

/// The problems of a file, an empty line between two.
pub(crate) fn render(file: &str, text: &str, problems: &[Placed], colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() }.term_width(WIDTH);
    let rendered: Vec<String> = problems.iter().map(|placed| one(&renderer, file, text, placed)).collect();
    rendered.join("\n")
}

fn one(renderer: &Renderer, file: &str, text: &str, placed: &Placed) -> String {
    let title = title(placed);
    let first = Spot { span: placed.span.clone(), kind: AnnotationKind::Primary, label: None };
    let second = placed.second.as_ref().map(|second| Spot {
        span: second.span.clone(),
        kind: AnnotationKind::Context,
        label: placed.problem.second.as_ref().map(|(_, says)| says.as_str()),
    });
    let group = Group::with_title(Level::ERROR.primary_title(title.as_str()));
    let group = match second {
        None => group.elements(excerpt(file, text, &[first])),
        Some(second) if together(text, &first, &second) => group.elements(excerpt(file, text, &[first, second])),
        Some(second) => {
            group.elements([first, second].iter().flat_map(|spot| excerpt(file, text, slice::from_ref(spot))))
        }
    };
    let mut groups = vec![group];
    if let Some(help) = placed.problem.help.as_deref().map(visible) {
        groups.push(Group::with_title(Level::HELP.secondary_title(help)));
    }
    let mut out = renderer.render(&groups);
    out.push('\n');
    if let (Some(second), Some((path, says))) = (&placed.second, &placed.problem.second) {
        out.push_str(&format!("  also line {}, {}: {says}\n", second.line, visible(&path.to_string())));
    }
    out
}

/// Whether two places are shown in one excerpt: near each other, and with line ends that show no sign.
fn together(text: &str, one: &Spot<'_>, other: &Spot<'_>) -> bool {
    const NEAR: usize = 4 << 10;
    let (from, to) = (one.span.start.min(other.span.start), one.span.end.max(other.span.end));
    to - from <= NEAR && text.get(from..to).is_some_and(|between| !between.contains('\r'))
}

/// Field, value, and what is wrong.
fn title(placed: &Placed) -> String {
    let problem = &placed.problem;
    let (field, value) = (shorten(problem.path.to_string()), shorten(problem.value.clone()));
    let title = match (field.as_str(), value.as_str()) {
        ("", "") => problem.says.clone(),
        ("", value) => format!("`{value}`: {}", problem.says),
        (field, "") => format!("{field}: {}", problem.says),
        (field, value) => format!("{field} = `{value}`: {}", problem.says),
    };
    visible(&title)
}

/// A text of the file's own on a terminal: line ends and other control characters are shown, not obeyed.
fn visible(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        if letter.is_control() { out.extend(letter.escape_default()) } else { out.push(letter) }
    }
    out
}

/// A place to point at.
struct Spot<'a> {
    span: Range<usize>,
    kind: AnnotationKind,
    label: Option<&'a str>,
}

/// The lines of some places: all that is shown of a text, so all that has to be looked at.
fn excerpt<'a>(file: &'a str, text: &'a str, spots: &[Spot<'a>]) -> Vec<Element<'a>> {
    let from = spots.iter().map(|spot| spot.span.start).min().unwrap_or(0);
    let to = spots.iter().map(|spot| spot.span.end).max().unwrap_or(text.len());
    let before = text.get(..from).unwrap_or_default();
    let start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let end = text.get(to..).and_then(|rest| rest.find('\n')).map_or(text.len(), |newline| to + newline);
    // Of a line longer than any page the two ends are far out of sight.
    let shown_from = text.floor_char_boundary(start.max(from.saturating_sub(SIGHT)));
    let shown_to = text.ceil_char_boundary(end.min(to + SIGHT));
    let shown = text.get(shown_from..shown_to).unwrap_or_default();
    let shown = shown.strip_suffix('\r').unwrap_or(shown);
    let (line, column) = position(text, from);
    let snippet = Snippet::source(shown).line_start(line).annotations(spots.iter().map(|spot| {
        let end = text.floor_char_boundary(spot.span.end.min(spot.span.start + WIDTH));
        let annotation = spot.kind.span(spot.span.start - shown_from..end - shown_from);
        match spot.label {
            Some(label) => annotation.label(label),
            None => annotation,
        }
    }));
    if shown_from == start {
        return vec![snippet.path(file).into()];
    }
    // The column has to be told where the front of the line is not there to count from.
    vec![Origin::path(file).line(line).char_column(column).into(), snippet.into()]
}
