//! JSON with the place of every value.
//!
//! `serde_json` reads good files; it keeps no places, so a file in which something is wrong is
//! read once more here. Texts are still taken apart by `serde_json`.

use super::{DEEPEST, Entry, Kind, MOST_VALUES, Node, TOO_MANY, Unreadable};

pub(super) fn read(text: &str) -> Result<Node, Unreadable> {
    let mut reader = Reader { text, at: 0, count: 0 };
    let node = reader.value(0)?;
    reader.space();
    if reader.at < text.len() { Err(reader.wrong("nothing more is expected here")) } else { Ok(node) }
}

struct Reader<'t> {
    text: &'t str,
    at: usize,
    /// How many values there were so far.
    count: usize,
}

impl Reader<'_> {
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn space(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\t' | b'\r' | b'\n')) {
            self.at += 1;
        }
    }

    fn take(&mut self, byte: u8) -> bool {
        let there = self.peek() == Some(byte);
        self.at += usize::from(there);
        there
    }

    fn wrong(&self, says: &str) -> Unreadable {
        let end = (self.at + 1..=self.text.len()).find(|end| self.text.is_char_boundary(*end));
        let ends = if self.at < self.text.len() { "" } else { "the text ends; " };
        Unreadable { span: self.at..end.unwrap_or(self.at), says: format!("not JSON: {ends}{says}") }
    }

    fn value(&mut self, depth: usize) -> Result<Node, Unreadable> {
        self.space();
        if depth > DEEPEST {
            return Err(self.wrong("tables and lists lie too deep in each other"));
        }
        self.count += 1;
        if self.count > MOST_VALUES {
            return Err(self.wrong(TOO_MANY));
        }
        let start = self.at;
        let kind = match self.peek() {
            Some(b'{') => self.table(depth)?,
            Some(b'[') => self.list(depth)?,
            Some(b'"') => Kind::Text(self.text()?),
            Some(_) => self.word()?,
            None => return Err(self.wrong("a value is expected")),
        };
        Ok(Node { span: start..self.at, kind })
    }

    fn table(&mut self, depth: usize) -> Result<Kind, Unreadable> {
        self.at += 1;
        let mut entries = Vec::new();
        self.space();
        while !self.take(b'}') {
            if !entries.is_empty() && !self.take(b',') {
                return Err(self.wrong("a comma or } is expected"));
            }
            self.space();
            if self.peek() != Some(b'"') {
                return Err(self.wrong("a key in quotes is expected"));
            }
            let start = self.at;
            let key = self.text()?;
            let key_span = start..self.at;
            self.space();
            if !self.take(b':') {
                return Err(self.wrong("a colon is expected"));
            }
            let value = self.value(depth + 1)?;
            entries.push(Entry { key, key_span, value });
            self.space();
        }
        Ok(Kind::Table(entries))
    }

    fn list(&mut self, depth: usize) -> Result<Kind, Unreadable> {
        self.at += 1;
        let mut items = Vec::new();
        self.space();
        while !self.take(b']') {
            if !items.is_empty() && !self.take(b',') {
                return Err(self.wrong("a comma or ] is expected"));
            }
            items.push(self.value(depth + 1)?);
            self.space();
        }
        Ok(Kind::List(items))
    }

    fn text(&mut self) -> Result<String, Unreadable> {
        let start = self.at;
        self.at += 1;
        loop {
            match self.peek() {
                Some(b'"') => break,
                Some(b'\\') => self.at += 2,
                Some(_) => self.at += 1,
                None => {
                    self.at = start;
                    return Err(self.wrong("the text that begins here does not end"));
                }
            }
        }
        self.at += 1;
        let span = start..self.at;
        let quoted = self.text.get(span.clone()).unwrap_or_default();
        serde_json::from_str(quoted).map_err(|_| Unreadable { span, says: "not JSON: this is no text".to_owned() })
    }

    fn word(&mut self) -> Result<Kind, Unreadable> {
        let start = self.at;
        while matches!(self.peek(), Some(b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'+' | b'-' | b'.')) {
            self.at += 1;
        }
        match self.text.get(start..self.at) {
            Some("true") => Ok(Kind::Bool(true)),
            Some("false") => Ok(Kind::Bool(false)),
            Some("null") => Ok(Kind::Null),
            // The standard library takes numbers that serde_json finds too large to be any.
            Some(word) if word.starts_with(['-', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9']) => {
                word.parse().map(Kind::Number).map_err(|_| {
                    self.at = start;
                    self.wrong("this is no number")
                })
            }
            _ => {
                self.at = start;
                Err(self.wrong("a value is expected"))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Kind, read};

    #[test]
    fn every_value_knows_its_place() {
        let text = r#"{ "a": ["x\"y", -1.5e2, true], "b": {} }"#;
        let node = read(text).unwrap();
        let Kind::Table(entries) = &node.kind else { panic!() };
        let Kind::List(items) = &entries[0].value.kind else { panic!() };
        assert_eq!(&text[items[0].span.clone()], r#""x\"y""#);
        assert_eq!(&text[items[1].span.clone()], "-1.5e2");
        assert!(matches!(items[1].kind, Kind::Number(-150.0)));
    }

    #[test]
    fn what_is_no_json_is_an_error_with_a_place() {
        for text in ["", "{", "[1", r#"{"a" 1}"#, "{,}", "[1,]", "\"\\", "nul", "[1] 2", r#""\u12""#, "{\"a\":\u{e9}}"]
        {
            assert!(read(text).is_err(), "{text}");
        }
        assert!(read(&"[".repeat(100_000)).is_err());
    }
}
