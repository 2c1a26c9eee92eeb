//! Levels over frequency as an SVG.

use legwork::Report;
use legwork_file::Home;

/// Levels over frequency as an SVG.
#[must_use]
pub fn plot(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    format!("{} {}", home.name(), report.verdict().name())
}
