//! Numbers for people: as many digits as anyone can use.

/// Powers of a thousand and their letters, from the largest.
const PREFIXES: [(f32, &str); 8] =
    [(1e9, "G"), (1e6, "M"), (1e3, "k"), (1.0, ""), (1e-3, "m"), (1e-6, "u"), (1e-9, "n"), (1e-12, "p")];

/// A number with at most this many decimals, without noughts at its end.
pub(super) fn decimals(value: f32, most: usize) -> String {
    let text = format!("{value:.most$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// A number with four digits that count, without noughts at its end.
pub(super) fn digits(value: f32) -> String {
    let size = value.abs();
    if size == 0.0 {
        return "0".to_owned();
    }
    let before = size.log10().floor();
    if !(-6.0..9.0).contains(&before) {
        return format!("{value:.3e}");
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 9")]
    let most = (3.0 - before).max(0.0) as usize;
    decimals(value, most)
}

/// A quantity in the prefix that suits its size: `211.3 nW`.
pub(super) fn prefixed(value: f32, unit: &str) -> String {
    let size = value.abs();
    // A hair below a thousand of the next smaller prefix would be printed as a thousand.
    let fits = |scale: &f32| size >= *scale * 0.999_95;
    match PREFIXES.iter().find(|(scale, _)| fits(scale)) {
        Some((scale, letter)) if size < 1e12 => format!("{} {letter}{unit}", digits(value / scale)),
        _ if size == 0.0 => format!("0 {unit}"),
        _ => format!("{value:.3e} {unit}"),
    }
}

/// A frequency in MHz, as it was likely typed.
pub(super) fn mhz(frequency: legwork::Frequency) -> String {
    format!("{} MHz", decimals(frequency.mhz(), 4))
}

#[cfg(test)]
mod tests {
    use super::{decimals, digits, prefixed};

    #[test]
    fn a_number_keeps_the_digits_that_count() {
        assert_eq!(digits(17.378_9), "17.38");
        assert_eq!(digits(0.172_63), "0.1726");
        assert_eq!(digits(-36.750_6), "-36.75");
        assert_eq!(digits(12.0), "12");
        assert_eq!(digits(0.0), "0");
        assert_eq!(digits(1234.6), "1235");
        assert_eq!(digits(3.2e-12), "3.200e-12");
    }

    #[test]
    fn a_quantity_has_the_prefix_of_its_size() {
        assert_eq!(prefixed(2.113e-7, "W"), "211.3 nW");
        assert_eq!(prefixed(3.981e-3, "V"), "3.981 mV");
        assert_eq!(prefixed(0.999_99, "V"), "1 V");
        assert_eq!(prefixed(0.0, "A"), "0 A");
        assert_eq!(prefixed(27.0, "ohm"), "27 ohm");
    }

    #[test]
    fn no_nought_has_a_minus() {
        assert_eq!(decimals(-0.001, 2), "0");
        assert_eq!(decimals(-0.5, 2), "-0.5");
        assert_eq!(decimals(100.0, 0), "100");
    }
}
