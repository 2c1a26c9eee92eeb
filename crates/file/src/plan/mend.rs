//! Mending: from a premises file and a stock to the fewest changes, and the premises file after them.

use bumpalo::Bump;
use legwork::mend::{Change, Mended, Mender, Origin, Subject};
use legwork::plan::{Build as _, Progress};
use legwork::{Error, Finding, Verdict};
use toml::{Table, Value};

use super::document;
use super::ledger::{Instruction, Ledger};
use super::{Obstacle, Planned, Take, Workbench, item_keys, supply_keys, table_at, takes, why, workbench};
use crate::build::{MOST_WANTED, Truck};
use crate::home::{Home, Names};
use crate::problem::{Path, Problem};
use crate::raw::Kind;
use crate::read::{Source, Syntax, read, read_stock};
use crate::refusal::Refusal;

/// Room for any home that can be mended, a few parts more included.
type Room<'b> = Mender<'b, NODES, MOST_WANTED>;
const NODES: usize = 256;

/// What a mender came to.
#[derive(Clone, Debug)]
pub struct Mending {
    /// The changes, in order.
    pub changes: Vec<Instruction>,
    /// The keys that it shares with a plan.
    pub planned: Planned,
}

/// Reads a home and a stock, and finds the fewest changes, at most `most`.
///
/// # Errors
/// A [`Refusal`] where a file can't be used.
pub fn mend(
    source: &Source<'_>,
    stock: &Source<'_>,
    most: usize,
    go_on: &mut dyn FnMut(&Progress) -> bool,
) -> Result<Mending, Box<Refusal>> {
    let arena = Bump::new();
    let home = read(source, None, &arena)?;
    let whole = document::table(source).unwrap_or_default();
    let shelf = document::table(stock).unwrap_or_default();
    let truck = read_truck(stock, &shelf, &whole, &arena)?;
    let work = Work { home: &home, whole: &whole, shelf: &shelf, truck: &truck, arena: &arena };
    work.mend(most, go_on).map_err(|error| {
        let says = format!("this home is too large to mend: {error}");
        Refusal::whole(source.name, source.text, Problem::new(Path::default(), "", says))
    })
}

/// The stock, by its own specs and, where it has none of a name, those of the home.
fn read_truck<'b>(
    stock: &Source<'_>,
    shelf: &Table,
    whole: &Table,
    arena: &'b Bump,
) -> Result<Truck<'b>, Box<Refusal>> {
    let refusal = match read_stock(stock, arena) {
        Ok(truck) => return Ok(truck),
        Err(refusal) => refusal,
    };
    let mut merged = shelf.clone();
    let mut spec = table_at(whole, &["spec"], None);
    for (kind, own) in table_at(shelf, &["spec"], None) {
        let known = spec.entry(kind).or_insert_with(|| Value::Table(Table::new()));
        if let (Some(known), Value::Table(own)) = (known.as_table_mut(), own) {
            known.extend(own);
        }
    }
    merged.insert("spec".to_owned(), Value::Table(spec));
    let text = toml::to_string(&merged).unwrap_or_default();
    let merged = Source { name: stock.name, text: &text, syntax: Syntax::Toml };
    // What is wrong is told of the file as it was written.
    read_stock(&merged, arena).map_err(|_| refusal)
}

/// The numbers of parts, or of supplies, and where each came from, in the order of the home that was built.
type Came = Vec<(usize, Origin)>;

/// What is worked on.
struct Work<'w, 'b> {
    home: &'w Home<'b>,
    whole: &'w Table,
    shelf: &'w Table,
    truck: &'w Truck<'b>,
    arena: &'b Bump,
}

impl<'b> Work<'_, 'b> {
    fn mend(&self, most: usize, go_on: &mut dyn FnMut(&Progress) -> bool) -> Result<Mending, Error> {
        let tree = self.home.tree();
        let stock = self.truck.items;
        let margin = self.truck.margin.db();
        let limits = |device| (*tree.limits(device), *tree.target(device));
        let mut bench = Box::new(workbench((*tree.service, *tree.entry), *tree.climate, limits));
        let mut room = Box::new(Room::new());
        let found = room.mend(&tree, stock, margin, most, &mut *bench, &mut *go_on)?;
        let mut planned = Planned { steps: room.steps(), ..Planned::nothing() };
        let Some(mended) = found else {
            planned.why_not = self.obstacles(&mut bench, margin)?;
            planned.proved = !room.was_stopped();
            return Ok(Mending { changes: Vec::new(), planned });
        };
        planned.feasible = true;
        planned.cost = mended.cost;
        planned.margin = mended.margin;
        planned.proved = mended.proved;
        let changes = mended.changes::<NODES, MOST_WANTED>(&tree, stock)?;
        let mut ledger = Ledger::new(self.home, self.truck, self.arena);
        let mut before = self.wrongs(&mended, 0, &ledger, &mut bench)?;
        let mut told = Vec::new();
        for (count, change) in changes.iter().enumerate() {
            let mut instruction = ledger.tell(change);
            let after = self.wrongs(&mended, count + 1, &ledger, &mut bench)?;
            let gone = before.iter().filter(|(finding, _)| {
                !after.iter().any(|(other, _)| other.code == finding.code && other.at == finding.at)
            });
            instruction.reasons = gone.map(|(_, says)| says.clone()).collect();
            before = after;
            told.push(instruction);
        }
        planned.parts = self.takes(&changes);
        let (amplifiers, premises) = self.written(&mended, changes.len(), &ledger, &mut bench)?;
        (planned.amplifiers, planned.premises) = (amplifiers, premises);
        Ok(Mending { changes: told, planned })
    }

    /// Builds the home after so many changes, and names its parts and supplies.
    fn built(
        &self,
        mended: &Mended,
        count: usize,
        ledger: &Ledger<'b>,
        bench: &mut Workbench<'b>,
    ) -> Result<(Names<'b>, Came, Came), Error> {
        let tree = self.home.tree();
        let (mut parts, mut supplies) = (Vec::new(), Vec::new());
        mended.build::<NODES, MOST_WANTED>(&tree, self.truck.items, count, bench, |subject, origin| match subject {
            Subject::Supply(index) => supplies.push((index, origin)),
            Subject::Part(index) | Subject::Outlet(index) => parts.push((index, origin)),
        })?;
        let named = |names: &[&'b str], index: usize| names.get(index).copied().unwrap_or("");
        let names = Names {
            parts: parts.iter().map(|(index, _)| named(&ledger.parts, *index)).collect(),
            supplies: supplies.iter().map(|(index, _)| named(&ledger.supplies, *index)).collect(),
            specs: Vec::new(),
            ..self.home.names.clone()
        };
        Ok((names, parts, supplies))
    }

    /// What a check finds after so many changes.
    fn wrongs(
        &self,
        mended: &Mended,
        count: usize,
        ledger: &Ledger<'b>,
        bench: &mut Workbench<'b>,
    ) -> Result<Vec<(Finding, String)>, Error> {
        let (names, ..) = self.built(mended, count, ledger, bench)?;
        let report = bench.check()?;
        let home = Home { name: "", tree: *report.tree(), names };
        let bad = report.findings().iter().filter(|finding| finding.verdict > Verdict::Pass);
        Ok(bad.map(|finding| (*finding, crate::report::says(&home, &report, finding))).collect())
    }

    /// The premises file after the changes, and how many amplifiers are in it.
    fn written(
        &self,
        mended: &Mended,
        count: usize,
        ledger: &Ledger<'b>,
        bench: &mut Workbench<'b>,
    ) -> Result<(u8, String), Error> {
        let (names, parts, supplies) = self.built(mended, count, ledger, bench)?;
        let home = Home { name: "", tree: bench.tree(), names };
        let amplifiers = home.tree().parts().filter(|(_, part)| part.amplifier().is_some()).count();
        let mut whole = self.whole.clone();
        let part_tables: Vec<Table> =
            parts.iter().map(|(index, origin)| self.part_keys(*index, *origin, &mut whole)).collect();
        let supply_tables = supplies.iter().map(|(index, origin)| match origin {
            Origin::Home(_) => named_table(self.whole, "supply", ledger.supplies.get(*index).copied().unwrap_or("")),
            Origin::Stock(item) => supply_keys(self.shelf, *item),
        });
        let supply_tables: Vec<Table> = supply_tables.collect();
        let outlets: Vec<Table> =
            self.home.names.outlets.iter().map(|id| named_table(self.whole, "outlet", id)).collect();
        let text = document::write(&whole, &home, &part_tables, &outlets, &supply_tables);
        Ok((u8::try_from(amplifiers).unwrap_or(u8::MAX), text))
    }

    /// The keys of a part; specs of the stock's file that it needs go into `whole`.
    fn part_keys(&self, index: usize, origin: Origin, whole: &mut Table) -> Table {
        let own = self.home.names.parts.get(index).map(|id| named_table(self.whole, "part", id));
        let Origin::Stock(item) = origin else { return own.unwrap_or_default() };
        let mut keys = item_keys(self.shelf, item);
        self.bring_specs(&mut keys, whole);
        let Some(own) = own else { return keys };
        // A part in another's place keeps all but its kind: a run its length, a bond its conductor.
        let is_kind = |key: &str| Kind::ALL.iter().any(|(_, kind)| *kind == key);
        for (key, value) in own {
            if !is_kind(&key) {
                keys.insert(key, value);
            }
        }
        keys
    }

    /// Copies the spec that a part of the stock names, under another name where the home has one of that name.
    fn bring_specs(&self, keys: &mut Table, whole: &mut Table) {
        for (_, kind) in Kind::ALL {
            let Some(name) = keys.get(kind).and_then(Value::as_str).map(str::to_owned) else { continue };
            let Some(spec) = document::find(self.shelf, &["spec", kind, &name], None).cloned() else { continue };
            let specs = whole.entry("spec").or_insert_with(|| Value::Table(Table::new()));
            let Some(specs) = specs.as_table_mut() else { continue };
            let of_kind = specs.entry(kind).or_insert_with(|| Value::Table(Table::new()));
            let Some(of_kind) = of_kind.as_table_mut() else { continue };
            let mut fresh = name.clone();
            while of_kind.get(&fresh).is_some_and(|known| *known != spec) {
                fresh.push_str(" of the stock");
            }
            of_kind.insert(fresh.clone(), spec);
            keys.insert(kind.to_owned(), Value::String(fresh));
        }
    }

    /// What the changes take from the truck.
    fn takes(&self, changes: &[Change]) -> Vec<Take> {
        let items = |change: &Change| match *change {
            Change::Swap { item, .. } => [Some(item), None],
            Change::Put { item, supply, .. } => [Some(item), supply],
            Change::Plug { supply, .. } => [Some(supply), None],
            Change::Take(_) | Change::Move { .. } => [None, None],
        };
        let used: Vec<usize> = changes.iter().flat_map(items).flatten().collect();
        takes(self.truck, &used)
    }

    /// What is wrong with the home as it is.
    fn obstacles(&self, bench: &mut Workbench<'b>, margin: f32) -> Result<Vec<Obstacle>, Error> {
        let asis = Mended::nothing();
        let ledger = Ledger::new(self.home, self.truck, self.arena);
        let (names, ..) = self.built(&asis, 0, &ledger, bench)?;
        why::obstacles(margin, names, bench)
    }
}

/// The table of an id among parts, outlets or supplies.
fn named_table(whole: &Table, list: &str, id: &str) -> Table {
    let all = whole.get(list).and_then(Value::as_array);
    let own = all.into_iter().flatten().filter_map(Value::as_table);
    own.into_iter().find(|table| table.get("id").and_then(Value::as_str) == Some(id)).cloned().unwrap_or_default()
}
