//! Figures and names as people read them.

use crate::report::number::rounded;

/// A number with one decimal, halves away from nought, nought without a sign.
///
/// ```
/// assert_eq!(legwork_file::tenths(-0.04), "0.0");
/// assert_eq!(legwork_file::tenths(34.25), "34.3");
/// ```
#[must_use]
pub fn tenths(number: f32) -> String {
    rounded(number, 1)
}

/// Names in a row.
///
/// ```
/// let names = ["den", "loft", "study"].map(str::to_owned);
/// assert_eq!(legwork_file::list(&names), "den, loft and study");
/// ```
#[must_use]
pub fn list(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [front @ .., last] => format!("{} and {last}", front.join(", ")),
    }
}
