//! Changes as instructions: who is called what while they are made, one after the other.

use bumpalo::Bump;
use legwork::mend::{Change, Place, Subject};
use legwork::plan::{Item, Stocked};
use legwork::{Part, Way};

use super::names::fresh;
use crate::build::Truck;
use crate::home::{Home, port_text};

/// One change as an instruction.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instruction {
    /// `swap`, `put`, `take` or `move`.
    pub verb: &'static str,
    /// The part, or the port, it is about.
    pub at: String,
    /// What it is swapped for, what is put there, or where it is moved to.
    pub with: Option<String>,
    /// What hangs there and is moved, or what kind of thing is put.
    pub what: Option<String>,
    /// The supply of an inserter.
    pub supply: Option<String>,
    /// In a sentence.
    pub says: String,
    /// What it puts right, in sentences; empty where only what follows does.
    pub reasons: Vec<String>,
}

/// Parts and supplies by number while changes are told: those of the home, then those that came from the stock.
pub(super) struct Ledger<'b> {
    pub(super) parts: Vec<&'b str>,
    kinds: Vec<Part<'b>>,
    pub(super) supplies: Vec<&'b str>,
    outlets: Vec<&'b str>,
    arena: &'b Bump,
    items: &'b [Item<'b>],
    names: Vec<(&'static str, String)>,
}

impl<'b> Ledger<'b> {
    /// The ledger of a home as it is.
    pub(super) fn new(home: &Home<'b>, truck: &Truck<'b>, arena: &'b Bump) -> Self {
        Self {
            parts: home.names.parts.clone(),
            kinds: home.tree().parts().map(|(_, part)| *part).collect(),
            supplies: home.names.supplies.clone(),
            outlets: home.names.outlets.clone(),
            arena,
            items: truck.items,
            names: truck.names.clone(),
        }
    }

    /// Tells a change, and keeps the ledger.
    pub(super) fn tell(&mut self, change: &Change) -> Instruction {
        let mut out = Instruction {
            verb: "",
            at: String::new(),
            with: None,
            what: None,
            supply: None,
            says: String::new(),
            reasons: Vec::new(),
        };
        match *change {
            Change::Swap { part, item, ways } => {
                let (kind, name) = self.item(item);
                out.verb = "swap";
                out.at = self.part(part);
                let before = self.kinds.get(part).copied();
                let what = before.as_ref().map_or("part", Part::name);
                out.says = format!("Swap {what} `{}` for {}.", out.at, a(kind, &name));
                (out.with, out.what) = (Some(name), Some(kind.to_owned()));
                let stocked = self.items.get(item).map(|item| item.what);
                if let Some(slot) = self.kinds.get_mut(part) {
                    *slot = match (*slot, stocked) {
                        (Part::Cable { length, place, .. }, Some(Stocked::Cable(spec))) => {
                            Part::Cable { spec, length, place }
                        }
                        (_, Some(Stocked::Part(part))) => part,
                        (part, _) => part,
                    };
                }
                let after = self.kinds.get(part).copied();
                for (from, to) in (0..).zip(ways) {
                    let from = before.and_then(|part| part.way(from));
                    let to = after.zip(to).and_then(|(part, to)| part.way(to)).filter(|to| *to != Way::Only);
                    let Some((from, to)) = from.zip(to).filter(|(from, to)| from != to) else { continue };
                    let (from, to) = (port_text(&out.at, from), port_text(&out.at, to));
                    out.says.push_str(&format!(" What hung on {from} goes on {to}."));
                }
            }
            Change::Put { at, item, supply } => {
                let (kind, name) = self.item(item);
                out.verb = "put";
                out.at = self.port(at);
                out.says = format!("Put {} on {}, before what hangs there.", a(kind, &name), out.at);
                (out.with, out.what) = (Some(name), Some(kind.to_owned()));
                let part = self.items.get(item).and_then(|item| match item.what {
                    Stocked::Part(part) => Some(part),
                    _ => None,
                });
                let id = self.fresh(part.as_ref().map_or("part", Part::name));
                self.parts.push(id);
                self.kinds.extend(part);
                if let Some(supply) = supply {
                    let (_, volts) = self.item(supply);
                    out.says = format!(
                        "Put an inserter on {}, before what hangs there, and plug a supply of {volts} into it.",
                        out.at
                    );
                    out.supply = Some(volts);
                    let id = self.fresh("supply");
                    self.supplies.push(id);
                }
            }
            Change::Plug { part, supply } => {
                let (_, volts) = self.item(supply);
                out.verb = "put";
                out.at = port_text(&self.part(part), Way::Power);
                out.says = format!("Plug a supply of {volts} into {}.", out.at);
                (out.with, out.what) = (Some(volts), Some("supply".to_owned()));
                let id = self.fresh("supply");
                self.supplies.push(id);
            }
            Change::Take(what) => {
                out.verb = "take";
                out.at = self.subject(what);
                out.says = format!("Take `{}` away.", out.at);
            }
            Change::Move { what, from, to } => {
                out.verb = "move";
                out.at = self.port(from);
                out.with = Some(self.port(to));
                let what = self.subject(what);
                out.says = format!("Move `{what}` from {} to {}.", out.at, self.port(to));
                out.what = Some(what);
            }
        }
        out
    }

    fn item(&self, item: usize) -> (&'static str, String) {
        self.names.get(item).cloned().unwrap_or(("part", String::new()))
    }

    fn part(&self, part: usize) -> String {
        self.parts.get(part).copied().unwrap_or("").to_owned()
    }

    fn port(&self, place: Place) -> String {
        let Some((part, way)) = place else { return "entry".to_owned() };
        let way = self.kinds.get(part).and_then(|part| part.way(way)).unwrap_or(Way::Only);
        port_text(&self.part(part), way)
    }

    fn subject(&self, subject: Subject) -> String {
        let (names, index) = match subject {
            Subject::Part(index) => (&self.parts, index),
            Subject::Outlet(index) => (&self.outlets, index),
            Subject::Supply(index) => (&self.supplies, index),
        };
        names.get(index).copied().unwrap_or("").to_owned()
    }

    /// A name that nothing has.
    fn fresh(&self, wish: &str) -> &'b str {
        let all = [&self.parts, &self.supplies, &self.outlets];
        fresh(&format!("new {wish}"), |name| all.iter().any(|names| names.contains(&name)), self.arena)
    }
}

/// A part of the stock in words.
fn a(kind: &str, name: &str) -> String {
    match kind {
        "pad" => format!("a pad of {name}"),
        "equalizer" | "amplifier" | "inserter" => format!("an {kind} `{name}`"),
        _ => format!("a {kind} `{name}`"),
    }
}
