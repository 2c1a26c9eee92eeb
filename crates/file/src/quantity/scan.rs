//! Takes a number, and the unit behind it, off the front of a text.
//!
//! A file of a home holds two hundred quantities, so this is the hot part of reading:
//! one pass over the bytes, no allocation, and the standard library's number parser only
//! for numbers that do not fit the exact short way.

use super::Why;
use super::unit::Unit;

/// Powers of ten that an `f64` holds exactly.
const TENS: [f64; 11] = [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10];

/// Every whole number up to here is exact in an `f64`. Units are converted before the one rounding
/// to core's `f32`, so that `1125000 kHz` and `1.125 GHz` are the same frequency.
const EXACT: u64 = 1 << 53;

/// What is left of a text while it is taken apart.
#[derive(Clone, Copy)]
pub(super) struct Scan<'t> {
    rest: &'t [u8],
}

impl<'t> Scan<'t> {
    /// Starts at the front of `text`, past any white space.
    pub(super) fn new(text: &'t str) -> Self {
        let text = text.as_bytes();
        // Few texts have white space around them, and looking for it is half of taking it away.
        match text {
            [b'!'..=0xFF, .., b'!'..=0xFF] => Self { rest: text },
            _ => Self { rest: text.trim_ascii() },
        }
    }

    /// Nothing is left.
    pub(super) fn is_empty(self) -> bool {
        self.rest.is_empty()
    }

    /// Takes `word`, in any letter case, if a number or white space follows it.
    pub(super) fn word(&mut self, word: &[u8]) -> bool {
        let Some((front, rest)) = self.rest.split_at_checked(word.len()) else {
            return false;
        };
        let ends = rest.first().is_some_and(|byte| byte.is_ascii_digit() || byte.is_ascii_whitespace());
        if ends && front.eq_ignore_ascii_case(word) {
            self.rest = rest.trim_ascii_start();
            true
        } else {
            false
        }
    }

    /// Takes `byte`, and white space on both sides of it.
    pub(super) fn byte(&mut self, byte: u8) -> bool {
        match self.rest.trim_ascii_start().split_first() {
            Some((first, rest)) if *first == byte => {
                self.rest = rest.trim_ascii_start();
                true
            }
            _ => false,
        }
    }

    /// Takes a decimal number: a sign, digits with at most one point, and an exponent.
    ///
    /// # Errors
    /// [`Why::NoNumber`] if there is none, [`Why::NotFinite`] for infinities, for what is no
    /// number and for what an `f32` cannot hold, [`Why::Comma`] for a decimal comma.
    pub(super) fn number(&mut self) -> Result<f64, Why> {
        let (negative, text) = match self.rest {
            // The usual case, ahead of all others.
            text @ [b'0'..=b'9', ..] => (false, text),
            text => sign(text),
        };
        let (whole, after) = digits(0, text);
        let (mantissa, rest, decimals) = match after {
            [b'.', tail @ ..] => {
                let (mantissa, rest) = digits(whole, tail);
                (mantissa, rest, tail.len() - rest.len())
            }
            _ => (whole, after, 0),
        };
        let count = text.len() - after.len() + decimals;
        if count == 0 {
            return Err(no_number(text));
        }
        let exponent = exponent(rest);
        self.rest = rest.get(exponent..).unwrap_or_default();
        if let [b',', b'0'..=b'9', ..] = self.rest {
            return Err(Why::Comma);
        }
        let size = match TENS.get(decimals) {
            // Both are exact, so the quotient is rounded once: the nearest `f64`.
            Some(tens) if exponent == 0 && count <= 19 && mantissa < EXACT => mantissa as f64 / tens,
            _ => long(text.get(..text.len() - self.rest.len()).unwrap_or_default())?,
        };
        Ok(if negative { -size } else { size })
    }

    /// Takes the unit behind a number: what stands up to white space or the next digit.
    pub(super) fn unit(&mut self) -> Unit {
        let text = match self.rest {
            [b' ', text @ ..] => text,
            text => text,
        };
        let text = text.trim_ascii_start();
        let ends = |byte: &u8| byte.is_ascii_whitespace() || byte.is_ascii_digit() || *byte == b'/';
        let (unit, rest) = text.split_at(text.iter().position(ends).unwrap_or(text.len()));
        self.rest = rest.trim_ascii_start();
        Unit::new(unit)
    }

    /// Takes a number and its unit, and insists that nothing follows.
    ///
    /// # Errors
    /// As for [`Scan::number`]; [`Why::Trailing`] if something follows.
    pub(super) fn quantity(mut self) -> Result<(f64, Unit), Why> {
        let number = self.number()?;
        let unit = self.unit();
        if self.is_empty() { Ok((number, unit)) } else { Err(Why::Trailing) }
    }
}

/// Digits behind those of a number, and what follows them. A number too long for this is read
/// again, by the slow way.
#[inline]
fn digits(mut number: u64, mut text: &[u8]) -> (u64, &[u8]) {
    while let [byte @ b'0'..=b'9', tail @ ..] = text {
        number = number.wrapping_mul(10).wrapping_add(u64::from(byte - b'0'));
        text = tail;
    }
    (number, text)
}

/// Splits off a sign; the minus of typesetters counts too.
fn sign(text: &[u8]) -> (bool, &[u8]) {
    match text {
        [b'-', rest @ ..] | [0xE2, 0x88, 0x92, rest @ ..] => (true, rest.trim_ascii_start()),
        [b'+', rest @ ..] => (false, rest),
        _ => (false, text),
    }
}

/// How many bytes of an exponent stand at the front: `e6`, `E-3`.
fn exponent(text: &[u8]) -> usize {
    let [b'e' | b'E', rest @ ..] = text else {
        return 0;
    };
    let signs = usize::from(matches!(rest, [b'+' | b'-', ..]));
    let digits = rest.iter().skip(signs).take_while(|byte| byte.is_ascii_digit()).count();
    if digits == 0 { 0 } else { 1 + signs + digits }
}

/// The standard library's parser, for long numbers and exponents.
fn long(digits: &[u8]) -> Result<f64, Why> {
    let text = core::str::from_utf8(digits).map_err(|_| Why::NoNumber)?;
    let number: f64 = text.parse().map_err(|_| Why::NoNumber)?;
    if number.abs() <= f64::from(f32::MAX) { Ok(number) } else { Err(Why::NotFinite) }
}

/// Tells "not a number" and infinities from other words.
fn no_number(text: &[u8]) -> Why {
    let word = text.get(..3).map(|word| word.eq_ignore_ascii_case(b"nan") || word.eq_ignore_ascii_case(b"inf"));
    if word == Some(true) { Why::NotFinite } else { Why::NoNumber }
}

#[cfg(test)]
mod tests {
    use super::{Scan, Why};

    fn number(text: &str) -> Result<f64, Why> {
        Scan::new(text).number()
    }

    #[test]
    fn the_short_way_and_the_long_way_round_alike() {
        for text in [
            "0",
            "57",
            "549.25",
            "0.85",
            "12.345678",
            "16777215",
            "16777217",
            "0.0000000001",
            "1.00000000000000000000000001",
            "123456789012345678901234567890",
            "5.360537",
            "007",
            ".5",
            "5.",
            "1e3",
            "2.5E-3",
        ] {
            assert_eq!(number(text), Ok(text.parse::<f64>().unwrap()), "{text}");
        }
    }

    #[test]
    fn a_sign_counts_even_before_nought() {
        assert_eq!(number("-0.5"), Ok(-0.5));
        assert_eq!(number("+0.5"), Ok(0.5));
        assert_eq!(number("\u{2212}2.5"), Ok(-2.5));
    }

    #[test]
    fn what_is_no_number_says_why() {
        for (text, why) in [
            ("", Why::NoNumber),
            ("-", Why::NoNumber),
            (".", Why::NoNumber),
            ("ft", Why::NoNumber),
            ("nan dB", Why::NotFinite),
            ("-inf", Why::NotFinite),
            ("Infinity m", Why::NotFinite),
            ("1e39", Why::NotFinite),
            ("12,5 m", Why::Comma),
        ] {
            assert_eq!(number(text), Err(why), "{text}");
        }
    }

    #[test]
    fn an_e_without_digits_belongs_to_the_unit() {
        let mut scan = Scan::new("5em");
        assert_eq!(scan.number(), Ok(5.0));
        assert!(!scan.is_empty());
    }
}
