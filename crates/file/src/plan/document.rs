//! Writing a home back as a premises file, in the words of the file it came from.
//!
//! Quantities are copied as they were written; ids, ports and terminators come from core's tree.

use legwork::{Occupant, PartId, PortId};
use toml::{Table, Value};

use crate::home::Home;
use crate::read::{Source, Syntax};

/// The keys of a file that stay as they are, in the order of a premises file.
const HEAD: [&str; 8] = ["format", "name", "service", "entry", "climate", "limits", "target", "home_network"];

/// A file as a table of values; [`None`] where it makes no sense, which has been said before.
pub(crate) fn table(source: &Source<'_>) -> Option<Table> {
    match source.syntax {
        Syntax::Toml => toml::from_str(source.text).ok(),
        Syntax::Json => serde_json::from_str(source.text).ok(),
    }
}

/// What stands at a path of keys and places.
pub(crate) fn find<'t>(table: &'t Table, path: &[&str], index: Option<usize>) -> Option<&'t Value> {
    let (first, rest) = path.split_first()?;
    let mut value = table.get(*first)?;
    for key in rest {
        value = value.get(key)?;
    }
    match index {
        Some(index) => value.get(index),
        None => Some(value),
    }
}

/// A premises file: the head of `source`, and the parts, outlets and supplies of `home`. `parts` and `supplies` hold the
/// keys of each besides id, port and terminators; `outlets` those of each outlet besides its port.
pub(crate) fn write(source: &Table, home: &Home<'_>, parts: &[Table], outlets: &[Table], supplies: &[Table]) -> String {
    let mut out = Table::new();
    for key in HEAD {
        if let Some(value) = source.get(key) {
            out.insert(key.to_owned(), value.clone());
        }
    }
    let tree = home.tree();
    let list = |tables: Vec<Table>| Value::Array(tables.into_iter().map(Value::Table).collect());
    let placed = tree.parts().zip(parts).map(|((id, _), keys)| {
        let mut part = hung(home.part(id), &home.port(tree.after(id).unwrap_or(PortId::ENTRY)), keys);
        let ends = terminators(home, id);
        if !ends.is_empty() {
            part.insert("terminated".to_owned(), Value::Array(ends));
        }
        part
    });
    out.insert("part".to_owned(), list(placed.collect()));
    let hung_outlets = tree.outlets().iter().zip(outlets).enumerate().filter_map(|(index, (outlet, keys))| {
        let id = tree.outlet_id(index)?;
        Some(hung(home.outlet(id), &home.port(outlet.port()), keys))
    });
    out.insert("outlet".to_owned(), list(hung_outlets.collect()));
    let hung_supplies = tree.supplies().iter().zip(supplies).zip(&home.names.supplies);
    let hung_supplies: Vec<Table> =
        hung_supplies.map(|((supply, keys), id)| hung(id, &home.port(supply.port()), keys)).collect();
    if !hung_supplies.is_empty() {
        out.insert("supply".to_owned(), list(hung_supplies));
    }
    if let Some(spec) = source.get("spec") {
        out.insert("spec".to_owned(), spec.clone());
    }
    toml::to_string(&out).unwrap_or_default()
}

/// A table with its id and port first.
fn hung(id: &str, after: &str, keys: &Table) -> Table {
    let mut table = Table::new();
    table.insert("id".to_owned(), Value::String(id.to_owned()));
    table.insert("after".to_owned(), Value::String(after.to_owned()));
    for (key, value) in keys {
        if !matches!(key.as_str(), "id" | "after" | "terminated") {
            table.insert(key.clone(), value.clone());
        }
    }
    table
}

/// The ways out of a part that carry a terminator, by number or name.
fn terminators(home: &Home<'_>, id: PartId) -> Vec<Value> {
    let tree = home.tree();
    let closed = tree.ways_out(id).filter(|port| tree.occupant(*port) == Some(Occupant::Terminator));
    let value = |port: PortId| match home.way(port) {
        only if only.is_empty() => Value::Integer(1),
        way => way.parse().map_or(Value::String(way), Value::Integer),
    };
    closed.map(value).collect()
}
