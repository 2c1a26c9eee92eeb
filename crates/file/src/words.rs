//! Figures and names as people read them.

/// A number with one decimal, nought without a sign.
///
/// ```
/// assert_eq!(legwork_file::tenths(-0.04), "0.0");
/// ```
#[must_use]
pub fn tenths(number: f32) -> String {
    let text = format!("{number:.1}");
    if text == "-0.0" { "0.0".to_owned() } else { text }
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
