//! The job sheet as one HTML file.

use legwork::Report;
use legwork_file::Home;

/// The job sheet as one HTML file.
#[must_use]
pub fn sheet(home: &Home<'_>, report: &Report<'_, '_>) -> String {
    format!("{} {}", home.name(), report.verdict().name())
}
