//! TOML with the place of every value, through the `toml` crate's own tree.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{DEEPEST, Entry, Kind, Node, Unreadable};

pub(super) fn read(text: &str) -> Result<Node, Unreadable> {
    let table = DeTable::parse(text).map_err(|error| Unreadable {
        span: error.span().unwrap_or(0..0),
        says: format!("not TOML: {}", error.message()),
    })?;
    let whole = table.span();
    Ok(Node { span: whole, kind: entries(table.into_inner(), 0)? })
}

fn entries(table: DeTable<'_>, depth: usize) -> Result<Kind, Unreadable> {
    let mut entries = Vec::new();
    for (key, value) in table {
        let key_span = key.span();
        entries.push(Entry { key: key.into_inner().into_owned(), key_span, value: node(value, depth + 1)? });
    }
    // The crate hands keys out in the order of the alphabet; the file's own is wanted.
    entries.sort_by_key(|entry| entry.key_span.start);
    Ok(Kind::Table(entries))
}

fn node(value: Spanned<DeValue<'_>>, depth: usize) -> Result<Node, Unreadable> {
    let span: Range<usize> = value.span();
    if depth > DEEPEST {
        return Err(Unreadable { span, says: "tables and lists lie too deep in each other".to_owned() });
    }
    let kind = match value.into_inner() {
        DeValue::String(text) => Kind::Text(text.into_owned()),
        DeValue::Integer(number) => match i64::from_str_radix(number.as_str(), number.radix()) {
            Ok(number) => Kind::Number(number as f64),
            Err(_) => Kind::Number(f64::INFINITY),
        },
        DeValue::Float(number) => Kind::Number(number.as_str().parse().unwrap_or(f64::NAN)),
        DeValue::Boolean(value) => Kind::Bool(value),
        DeValue::Datetime(_) => Kind::Other("a date"),
        DeValue::Array(items) => {
            Kind::List(items.into_iter().map(|item| node(item, depth + 1)).collect::<Result<_, _>>()?)
        }
        DeValue::Table(table) => entries(table, depth)?,
    };
    Ok(Node { span, kind })
}
