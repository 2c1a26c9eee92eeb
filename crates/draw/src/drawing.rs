//! The tree of a home as an SVG.

use legwork::Report;
use legwork_file::Home;

/// The tree of a home as an SVG.
#[must_use]
pub fn drawing(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    format!("{} {}", home.name(), report.verdict().name())
}
