//! What was probably meant by a unit that is none.

use super::Bad;
use crate::problem::nearest;

/// Every unit, and other words for it.
const UNITS: &[(&str, &[&str])] = &[
    ("ft", &["feet", "foot", "'"]),
    ("in", &["inch", "inches", "\""]),
    ("m", &["metre", "metres", "meter", "meters"]),
    ("km", &["kilometre", "kilometres", "kilometer", "kilometers"]),
    ("Hz", &["hertz"]),
    ("kHz", &["kilohertz"]),
    ("MHz", &["megahertz", "megs"]),
    ("GHz", &["gigahertz", "gigs"]),
    ("dB", &["decibel", "decibels"]),
    ("dBmV", &[]),
    ("dBuV", &[]),
    ("dBm", &[]),
    ("V", &["volt", "volts"]),
    ("mV", &["millivolt", "millivolts"]),
    ("A", &["amp", "amps", "ampere", "amperes"]),
    ("mA", &["milliamp", "milliamps", "milliampere", "milliamperes"]),
    ("W", &["watt", "watts"]),
    ("mW", &["milliwatt", "milliwatts"]),
    ("ohm", &["r"]),
    ("C", &["celsius", "centigrade", "degc", "deg"]),
    ("F", &["fahrenheit", "degf"]),
    ("%", &["percent", "per cent", "pct"]),
    ("ns", &["nanosecond", "nanoseconds"]),
    ("AWG", &["gauge", "ga"]),
];

impl Bad {
    /// The text with the unit that was probably meant, as in `40 ft` for `40 feet`.
    ///
    /// ```
    /// use legwork_file::quantity;
    /// let bad = quantity::length("40 feet").unwrap_err();
    /// assert_eq!(bad.meant("40 feet").as_deref(), Some("40 ft"));
    /// ```
    #[must_use]
    pub fn meant(&self, text: &str) -> Option<String> {
        let text = text.trim();
        let number_end = text.rfind(|letter: char| letter.is_ascii_digit() || letter == '.')? + 1;
        let (number, word) = text.split_at_checked(number_end)?;
        let word = word.trim();
        let known = |unit: &str| unit.eq_ignore_ascii_case(word);
        // A unit of another kind of quantity is no slip of the finger.
        if word.is_empty() || UNITS.iter().any(|(unit, _)| known(unit)) {
            return None;
        }
        let mut fitting = UNITS.iter().filter(|(unit, _)| self.names(unit));
        let by_word = fitting.clone().find(|(_, words)| words.iter().any(|word| known(word)));
        let unit = match by_word {
            Some((unit, _)) => unit,
            None => nearest(word, fitting.by_ref().map(|(unit, _)| *unit)).filter(|_| word.chars().count() > 1)?,
        };
        Some(format!("{number} {unit}"))
    }

    /// Whether a unit is among those that the field takes.
    fn names(&self, unit: &str) -> bool {
        self.takes.split(|letter: char| !letter.is_ascii_alphanumeric() && letter != '%').any(|word| word == unit)
    }
}

#[cfg(test)]
mod tests {
    use crate::quantity;

    #[test]
    fn a_word_or_a_slip_leads_to_the_unit() {
        for (text, meant) in [("40 feet", "40 ft"), ("40 fts", "40 ft"), ("18.3metres", "18.3 m"), ("2 kmm", "2 km")] {
            let bad = quantity::length(text).expect_err(text);
            assert_eq!(bad.meant(text).as_deref(), Some(meant));
        }
        let bad = quantity::level("12 dbm v").expect_err("a space in the unit");
        assert_eq!(bad.meant("12 dbm v").as_deref(), Some("12 dBmV"));
    }

    #[test]
    fn a_unit_of_another_kind_leads_nowhere() {
        for text in ["40 dB", "40 yd", "40 K", "40", "forty"] {
            assert_eq!(quantity::length(text).expect_err(text).meant(text), None, "{text}");
        }
        let bad = quantity::temperature("250 K").expect_err("no kelvins");
        assert_eq!(bad.meant("250 K"), None);
    }
}
