//! `legwork specs`: what is built in, where it comes from and how far it may be trusted.

use std::io::{self, Write};

use legwork::tables::{Source, sources};
use serde::Serialize;

use crate::args::Specs;
use crate::check::table::Table;
use crate::{Failure, Outcome, screen};

/// One entry of the JSON answer.
#[derive(Serialize)]
struct Entry {
    kind: &'static str,
    name: &'static str,
    what: &'static str,
    source: &'static str,
    trust: &'static str,
}

/// Prints every built-in figure's provenance.
pub(crate) fn run(options: &Specs) -> Result<Outcome, Failure> {
    let mut out = String::new();
    if options.json {
        let entries: Vec<Entry> = sources()
            .map(|&Source { kind, name, what, source, trust }| Entry { kind, name, what, source, trust: trust.word() })
            .collect();
        out = serde_json::json!({ "specs": entries }).to_string();
        out.push('\n');
    } else {
        let mut last = "";
        let mut table = Table::new(&["", "what", "trust", "source"], screen::width());
        for source in sources() {
            let kind_and_name = format!("{} {}", source.kind, source.name);
            let name = if source.name == last { String::new() } else { kind_and_name };
            last = source.name;
            table.row(vec![name, source.what.to_owned(), source.trust.word().to_owned(), source.source.to_owned()]);
        }
        out.push_str(&table.finish());
        out.push_str("\nA file's own [spec.KIND.NAME] goes before a built-in of the same name.\n");
    }
    io::stdout().write_all(out.as_bytes())?;
    Ok(Outcome::Done)
}
