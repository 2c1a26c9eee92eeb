//! Plain JSON, fast: the JSON that programs write when nothing is out of the ordinary.
//!
//! Many homes a second come as JSON, and most of the time to read one goes into taking its text
//! apart. This reads what such files are made of, borrowing every text; at anything else (an
//! escape, an exponent, a `null`, a mistake) it gives up without saying why, and the text is read
//! again by `serde_json`. So it may be strict, but never takes what `serde_json` would not.

use std::fmt;

use serde::de::{self, DeserializeSeed, Deserializer, Visitor};
use serde::forward_to_deserialize_any;

/// Reads a value that is all of a text; [`None`] where it is not plain or not such a value.
pub(crate) fn read<'t, T: de::Deserialize<'t>>(text: &'t str) -> Option<T> {
    let mut reader = Reader { text, at: 0 };
    let value = T::deserialize(&mut reader).ok()?;
    (reader.peek() == 0).then_some(value).filter(|_| reader.at == text.len())
}

/// Not plain JSON, or not what was asked for. It says nothing, so it costs nothing.
#[derive(Debug)]
pub(crate) struct NotPlain;

impl fmt::Display for NotPlain {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("not plain JSON")
    }
}

impl std::error::Error for NotPlain {}

impl de::Error for NotPlain {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self
    }

    fn invalid_type(_: de::Unexpected<'_>, _: &dyn de::Expected) -> Self {
        Self
    }

    fn unknown_field(_: &str, _: &'static [&'static str]) -> Self {
        Self
    }
}

struct Reader<'t> {
    text: &'t str,
    at: usize,
}

/// All bits set in bytes of a word that are a quote, a backslash or a control character, exact up
/// to the first of them.
const fn ends(word: u64) -> u64 {
    const ONES: u64 = 0x0101_0101_0101_0101;
    const HIGHS: u64 = 0x8080_8080_8080_8080;
    const fn zero(word: u64) -> u64 {
        word.wrapping_sub(ONES) & !word
    }
    let quote = zero(word ^ (ONES * b'"' as u64));
    let backslash = zero(word ^ (ONES * b'\\' as u64));
    let control = word.wrapping_sub(ONES * 0x20) & !word;
    (quote | backslash | control) & HIGHS
}

impl<'t> Reader<'t> {
    /// The next byte that is no white space; 0 at the end, which no JSON holds outside a text.
    #[inline]
    fn peek(&mut self) -> u8 {
        let bytes = self.text.as_bytes();
        while let Some(byte) = bytes.get(self.at) {
            if !matches!(byte, b' ' | b'\n' | b'\r' | b'\t') {
                return *byte;
            }
            self.at += 1;
        }
        0
    }

    /// Takes a byte, if it is the next that is no white space.
    #[inline]
    fn take(&mut self, byte: u8) -> bool {
        let there = self.peek() == byte;
        self.at += usize::from(there);
        there
    }

    /// A text; the quote it begins with is next.
    #[inline]
    fn text(&mut self) -> Result<&'t str, NotPlain> {
        let start = self.at + 1;
        let bytes = self.text.as_bytes();
        let mut at = start;
        let end = loop {
            let Some(chunk) = bytes.get(at..).and_then(<[u8]>::first_chunk::<8>) else {
                break at + bytes.get(at..).and_then(|rest| rest.iter().position(|byte| odd(*byte))).ok_or(NotPlain)?;
            };
            let ends = ends(u64::from_le_bytes(*chunk));
            if ends != 0 {
                break at + (ends.trailing_zeros() / 8) as usize;
            }
            at += 8;
        };
        if bytes.get(end) != Some(&b'"') {
            return Err(NotPlain);
        }
        self.at = end + 1;
        self.text.get(start..end).ok_or(NotPlain)
    }

    /// A number without an exponent, of at most fifteen digits: all of them are exact.
    fn number(&mut self) -> Result<f64, NotPlain> {
        const TENS: [f64; 16] = [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];
        let negative = self.take(b'-');
        let (whole, digits) = self.digits(0);
        let leading_zero = digits > 1 && whole < 10_u64.pow(digits.min(15) as u32 - 1);
        if digits == 0 || leading_zero {
            return Err(NotPlain);
        }
        let (mantissa, decimals) = if self.next_is(b'.') {
            self.at += 1;
            match self.digits(whole) {
                (_, 0) => return Err(NotPlain),
                more => more,
            }
        } else {
            (whole, 0)
        };
        if digits + decimals > 15 || self.next_is(b'e') || self.next_is(b'E') {
            return Err(NotPlain);
        }
        let tens = TENS.get(decimals).ok_or(NotPlain)?;
        let size = mantissa as f64 / tens;
        Ok(if negative { -size } else { size })
    }

    fn next_is(&self, byte: u8) -> bool {
        self.text.as_bytes().get(self.at) == Some(&byte)
    }

    /// Digits behind those of a number, and how many; beyond nineteen the number is of no use.
    fn digits(&mut self, mut number: u64) -> (u64, usize) {
        let mut count = 0;
        while let Some(byte @ b'0'..=b'9') = self.text.as_bytes().get(self.at) {
            number = number.wrapping_mul(10).wrapping_add(u64::from(byte - b'0'));
            self.at += 1;
            count += 1;
        }
        (number, count)
    }

    /// Takes a word.
    fn word(&mut self, word: &str) -> Result<(), NotPlain> {
        let there = self.text.as_bytes().get(self.at..).is_some_and(|rest| rest.starts_with(word.as_bytes()));
        self.at += word.len();
        if there { Ok(()) } else { Err(NotPlain) }
    }
}

/// Whether a byte ends a text, or makes it one that is not plain.
const fn odd(byte: u8) -> bool {
    byte == b'"' || byte == b'\\' || byte < 0x20
}

impl<'t> Deserializer<'t> for &mut Reader<'t> {
    type Error = NotPlain;

    #[inline]
    fn deserialize_any<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, NotPlain> {
        match self.peek() {
            b'"' => visitor.visit_borrowed_str(self.text()?),
            b'[' => {
                self.at += 1;
                let value = visitor.visit_seq(Items { reader: &mut *self, first: true })?;
                // A visitor may stop before the end, which is for others to judge.
                if self.take(b']') { Ok(value) } else { Err(NotPlain) }
            }
            b'{' => {
                self.at += 1;
                let value = visitor.visit_map(Items { reader: &mut *self, first: true })?;
                if self.take(b'}') { Ok(value) } else { Err(NotPlain) }
            }
            b't' => self.word("true").and_then(|()| visitor.visit_bool(true)),
            b'f' => self.word("false").and_then(|()| visitor.visit_bool(false)),
            b'-' | b'0'..=b'9' => visitor.visit_f64(self.number()?),
            _ => Err(NotPlain),
        }
    }

    #[inline]
    fn deserialize_option<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, NotPlain> {
        // `null` is not plain, so what is there is something.
        visitor.visit_some(self)
    }

    forward_to_deserialize_any! {
        <V: Visitor<'t>>
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit
        unit_struct newtype_struct seq tuple tuple_struct map struct enum identifier ignored_any
    }
}

/// The items of a list, or the keys and values of a table.
struct Items<'r, 't> {
    reader: &'r mut Reader<'t>,
    first: bool,
}

impl Items<'_, '_> {
    /// Whether there is one more before `close`; takes the comma before it.
    #[inline]
    fn more(&mut self, close: u8) -> Result<bool, NotPlain> {
        let next = self.reader.peek();
        if next == close {
            return Ok(false);
        }
        if std::mem::take(&mut self.first) {
            return Ok(true);
        }
        self.reader.at += 1;
        // Behind a comma there is something, or the text is wrong; the caller will not find it.
        if next == b',' && self.reader.peek() != close { Ok(true) } else { Err(NotPlain) }
    }
}

impl<'t> de::SeqAccess<'t> for Items<'_, 't> {
    type Error = NotPlain;

    #[inline]
    fn next_element_seed<T: DeserializeSeed<'t>>(&mut self, seed: T) -> Result<Option<T::Value>, NotPlain> {
        if self.more(b']')? { seed.deserialize(&mut *self.reader).map(Some) } else { Ok(None) }
    }
}

impl<'t> de::MapAccess<'t> for Items<'_, 't> {
    type Error = NotPlain;

    #[inline]
    fn next_key_seed<K: DeserializeSeed<'t>>(&mut self, seed: K) -> Result<Option<K::Value>, NotPlain> {
        if !self.more(b'}')? {
            return Ok(None);
        }
        if self.reader.peek() != b'"' {
            return Err(NotPlain);
        }
        seed.deserialize(&mut *self.reader).map(Some)
    }

    #[inline]
    fn next_value_seed<T: DeserializeSeed<'t>>(&mut self, seed: T) -> Result<T::Value, NotPlain> {
        if self.reader.take(b':') { seed.deserialize(&mut *self.reader) } else { Err(NotPlain) }
    }
}

#[cfg(test)]
mod tests {
    use super::read;
    use crate::raw::Premises;

    const HOME: &str = r#"{"format": 1, "name": "Küche \u00e9", "service": {"split": "42/54 MHz", "carriers":
        [{"first": "57 MHz", "last": "861 MHz", "step": "6 MHz"}], "return_channels": 4},
        "entry": {"forward": [["57 MHz", "12 dBmV"], ["861 MHz", "7 dBmV"]], "cnr": "45 dB", "bonded": true},
        "part": [{"id": "a", "after": "entry", "splitter": "2-way", "terminated": [2, "1"]}, {}], "outlet": [],
        "spec": {"cable": {"c": {"loss": [["5 MHz", "0.5 dB"]], "per": "1 m", "velocity": 0.85, "loop": "-0 ohm"}}}}"#;

    /// What is read must be what `serde_json` reads, to the last letter.
    fn never_differs(text: &str) -> bool {
        let Some(plain) = read::<Premises<'_>>(text) else { return false };
        let full: Premises<'_> = serde_json::from_str(text).unwrap_or_else(|error| panic!("{error}: {text}"));
        assert_eq!(format!("{plain:?}"), format!("{full:?}"), "{text}");
        true
    }

    #[test]
    fn a_plain_home_is_read_and_one_with_an_escape_is_left_to_others() {
        assert!(!never_differs(HOME));
        assert!(never_differs(&HOME.replace("\\u00e9", "é")));
    }

    #[test]
    fn no_slip_in_a_text_is_taken_that_serde_json_refuses() {
        let home = HOME.replace("\\u00e9", "é");
        let mut taken = 0;
        for (at, letter) in home.char_indices() {
            let (before, rest) = home.split_at(at);
            let after = &rest[letter.len_utf8()..];
            for other in
                ["", ",", "\"", "\\", "{", "}", "[", "]", ":", "0", "-", ".", "e", " ", "\u{1}", "\0", "é", "null"]
            {
                taken += usize::from(never_differs(&format!("{before}{other}{after}")));
                taken += usize::from(never_differs(&format!("{before}{other}{rest}")));
            }
        }
        assert!(taken > 1000, "{taken}");
    }

    #[test]
    fn numbers_are_exact_or_left_to_others() {
        for number in ["0", "-0", "7", "0.85", "-12.5", "123456789012345", "0.1234567890123", "1.0"] {
            assert_eq!(read::<f64>(number).map(f64::to_bits), number.parse().ok().map(f64::to_bits), "{number}");
        }
        for number in ["00", "01", "-", ".5", "5.", "1e3", "1.2.3", "1234567890123456", "+1", "1 2", "- 1", "nan"] {
            assert_eq!(read::<f64>(number), None, "{number}");
        }
    }
}
