//! The tree as rows from the entry on: what hangs in a row stands below it, what branches off stands further in.

use legwork::{At, Finding, Occupant, OutletId, PartId, PortId, Report, SupplyId, Verdict};
use legwork_file::Home;

/// What a row is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Item {
    Entry,
    Part(PartId),
    /// A way out of a part that has several.
    Way,
    Outlet(OutletId),
    Supply(SupplyId),
    /// Nothing, behind a part with one way out.
    Open,
    /// A terminator, behind a part with one way out.
    Terminator,
}

/// One row.
#[derive(Clone, Debug)]
pub(crate) struct Row {
    pub(crate) item: Item,
    /// How far in it stands.
    pub(crate) depth: usize,
    /// The row it hangs on.
    pub(crate) parent: Option<usize>,
    /// The port by which it hangs there.
    pub(crate) hangs_on: PortId,
    /// The port whose levels and DC stand here.
    pub(crate) port: Option<PortId>,
    /// What is on that port, if it is a way out with nothing to follow.
    pub(crate) end: Option<&'static str>,
}

/// The rows of a home.
pub(crate) fn rows(home: &Home<'_>) -> Vec<Row> {
    let tree = home.tree();
    let entry = Row {
        item: Item::Entry,
        depth: 0,
        parent: None,
        hangs_on: PortId::ENTRY,
        port: Some(PortId::ENTRY),
        end: None,
    };
    let mut rows = vec![entry];
    // Ways out that are still to be followed; a deep home takes no stack.
    let mut open = vec![(PortId::ENTRY, 0, 0)];
    while let Some((port, depth, parent)) = open.pop() {
        let way = tree.owner(port).is_some_and(|(part, _)| tree.part(part).is_some_and(|part| part.ways() > 1));
        let occupant = tree.occupant(port).unwrap_or(Occupant::Open);
        let mut parent = parent;
        if way {
            let end = match occupant {
                Occupant::Open => Some("open"),
                Occupant::Terminator => Some("terminated"),
                _ => None,
            };
            let row = Row { item: Item::Way, depth, parent: Some(parent), hangs_on: port, port: Some(port), end };
            parent = rows.len();
            rows.push(row);
        }
        let row = |item, at| Row { item, depth, parent: Some(parent), hangs_on: port, port: at, end: None };
        match occupant {
            Occupant::Part(part) => {
                let ways: Vec<PortId> = tree.ways_out(part).collect();
                let here = rows.len();
                match ways.as_slice() {
                    [only] => {
                        rows.push(row(Item::Part(part), Some(*only)));
                        open.push((*only, depth, here));
                    }
                    several => {
                        rows.push(row(Item::Part(part), None));
                        open.extend(several.iter().rev().map(|port| (*port, depth + 1, here)));
                    }
                }
            }
            Occupant::Outlet(outlet) => rows.push(row(Item::Outlet(outlet), Some(port))),
            Occupant::Supply(supply) => rows.push(row(Item::Supply(supply), None)),
            Occupant::Open if !way => rows.push(row(Item::Open, None)),
            Occupant::Terminator if !way => rows.push(row(Item::Terminator, None)),
            Occupant::Open | Occupant::Terminator => {}
        }
    }
    rows
}

impl Row {
    /// The findings of fail or marginal whose place this is, the worst first.
    pub(crate) fn findings<'r>(&self, report: &Report<'r, '_>) -> Vec<&'r Finding> {
        let here = |at: At| match (at, self.item) {
            (At::Entry, Item::Entry) => true,
            (At::Part(part), Item::Part(here)) => part == here,
            (At::Outlet(outlet), Item::Outlet(here)) => outlet == here,
            (At::Supply(supply), Item::Supply(here)) => supply == here,
            (At::Port(port), Item::Way | Item::Part(_) | Item::Entry) => self.port == Some(port),
            _ => false,
        };
        let bad = |finding: &&Finding| finding.verdict > Verdict::Pass && here(finding.at);
        let mut found: Vec<&Finding> = report.findings().iter().filter(bad).collect();
        found.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
        found
    }

    /// What is said of DC where this row's port carries it.
    pub(crate) fn dc(&self, report: &Report<'_, '_>) -> Option<String> {
        if matches!(self.item, Item::Outlet(_)) {
            return None;
        }
        let found: Vec<String> = report.dc().filter(|dc| Some(dc.port) == self.port).map(|dc| dc_words(&dc)).collect();
        (!found.is_empty()).then(|| found.join(", "))
    }
}

/// Volts under load and without, as a line.
pub(crate) fn dc_words(dc: &legwork::DcReport) -> String {
    match dc.volts {
        Some(volts) => format!("DC {volts:.1} V"),
        None => format!("DC, collapsed from {:.1} V", dc.volts_unloaded),
    }
}
