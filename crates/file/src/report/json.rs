//! JSON text, written piece by piece.
//!
//! Every key of a report is known, so each piece is a literal that already has its commas and
//! quotes; writing the same through `serde` takes four times as long.

use super::number;

/// A JSON text under construction.
pub(super) struct Json<'o> {
    out: &'o mut Vec<u8>,
}

impl<'o> Json<'o> {
    /// Goes on behind what is in `out`.
    pub(super) const fn new(out: &'o mut Vec<u8>) -> Self {
        Self { out }
    }

    /// A piece as it stands.
    #[inline(always)]
    pub(super) fn put(&mut self, piece: &'static str) {
        self.out.extend_from_slice(piece.as_bytes());
    }

    /// A piece, then a number.
    #[inline(always)]
    pub(super) fn number(&mut self, piece: &'static str, value: f32) {
        self.put(piece);
        number::write(self.out, value);
    }

    /// A piece, then a number or `null`.
    #[inline(always)]
    pub(super) fn maybe(&mut self, piece: &'static str, value: Option<f32>) {
        self.number(piece, value.unwrap_or(f32::NAN));
    }

    /// A piece, then a text in quotes.
    #[inline(always)]
    pub(super) fn text(&mut self, piece: &'static str, text: &str) {
        self.put(piece);
        self.quoted(text);
    }

    /// A piece, then a word of ours in quotes, in which nothing has to be escaped.
    #[inline(always)]
    pub(super) fn word(&mut self, piece: &'static str, word: &str) {
        self.put(piece);
        self.out.push(b'"');
        self.out.extend_from_slice(word.as_bytes());
        self.out.push(b'"');
    }

    fn quoted(&mut self, text: &str) {
        self.out.push(b'"');
        self.inside(text);
        self.out.push(b'"');
    }

    /// A piece, then a text in quotes that is put together from a front and, after a dot, a way out.
    pub(super) fn dotted(&mut self, piece: &'static str, front: &str, way: Option<impl std::fmt::Display>) {
        use std::io::Write as _;
        self.put(piece);
        self.out.push(b'"');
        self.inside(front);
        if let Some(way) = way {
            // Writing to memory does not fail, and no way out is called anything to escape.
            let _ = write!(self.out, ".{way}");
        }
        self.out.push(b'"');
    }

    /// A piece, then a list.
    pub(super) fn list<T>(
        &mut self,
        piece: &'static str,
        items: impl Iterator<Item = T>,
        mut each: impl FnMut(&mut Self, T),
    ) {
        self.put(piece);
        self.out.push(b'[');
        let empty = self.out.len();
        for item in items {
            if self.out.len() > empty {
                self.out.push(b',');
            }
            each(self, item);
        }
        self.out.push(b']');
    }

    /// A piece, then a list of texts.
    pub(super) fn texts<'t>(&mut self, piece: &'static str, items: impl Iterator<Item = &'t str>) {
        self.list(piece, items, |json, text| json.text("", text));
    }

    /// What stands between the quotes of a text.
    fn inside(&mut self, text: &str) {
        // Without a way out of the loop it is done sixteen bytes at a time.
        let odd = |odd, byte| odd | (byte < 0x20) | (byte == b'"') | (byte == b'\\');
        if text.bytes().fold(false, odd) {
            self.escaped(text);
        } else {
            self.out.extend_from_slice(text.as_bytes());
        }
    }

    #[cold]
    fn escaped(&mut self, text: &str) {
        use std::io::Write as _;
        for byte in text.bytes() {
            match byte {
                b'"' | b'\\' => self.out.extend_from_slice(&[b'\\', byte]),
                // Writing to memory does not fail.
                0..0x20 => drop(write!(self.out, "\\u{byte:04x}")),
                _ => self.out.push(byte),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Json;

    #[test]
    fn any_text_comes_back() {
        for text in ["", "study modem", "a \"b\" \\ c", "\u{1}\n\u{1f}", "Küche \u{2126}"] {
            let mut out = Vec::new();
            Json::new(&mut out).text("", text);
            assert_eq!(serde_json::from_slice::<String>(&out).unwrap(), text);
        }
    }

    #[test]
    fn lists_have_commas_between_alone() {
        let mut out = Vec::new();
        Json::new(&mut out).list("", [1.0, 2.0].into_iter(), |json, value| json.number("", value));
        Json::new(&mut out).list("", [0.0; 0].into_iter(), |json, value| json.number("", value));
        assert_eq!(out, b"[1.0,2.0][]");
    }
}
