//! Plans: from a need file to a premises file.

pub(crate) mod document;
mod ledger;
mod mend;
mod names;
mod why;

use bumpalo::Bump;
use legwork::plan::{Bench, Build as _, Item, Need, Origin, Outcome, Plan, Planner, Progress};
use legwork::{Climate, Device, Entry, Error, Limits, Premises, Service};
use toml::Table;

use crate::build::{Asked, MOST_WANTED, Truck};
use crate::problem::{Path, Problem};
use crate::read::{Source, read_need};
use crate::refusal::Refusal;

pub use ledger::Instruction;
pub use mend::{Mending, mend};
pub use why::Obstacle;

/// Room for any plan that a need file can ask for.
type Room = Planner<64, 512, 128, MOST_WANTED, 8192>;
/// Room for its candidates.
pub(crate) type Workbench<'b> =
    Bench<'b, 320, 1400, MOST_WANTED, 8, { MOST_WANTED + 3 }, { MOST_WANTED * MOST_WANTED }, 512, 32_768, 16, 2048>;
/// A plan of that size.
type Found = Plan<128>;

/// Something to take from the truck.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Take {
    /// Its kind: `splitter`, `pad`, `supply` and so on.
    pub kind: &'static str,
    /// What the stock calls it: a spec's name, a pad's value, a supply's volts and amps.
    pub item: String,
    /// How many.
    pub count: usize,
    /// What one costs, in hundredths; [`None`] where it is not in the stock.
    pub cost: Option<u32>,
}

/// What a planner came to.
#[derive(Clone, Debug)]
pub struct Planned {
    /// Whether the stock can do it.
    pub feasible: bool,
    /// Amplifiers it takes.
    pub amplifiers: u8,
    /// What it costs, in hundredths.
    pub cost: u32,
    /// The smallest margin in dB; infinite where nothing is limited.
    pub margin: f32,
    /// Whether it is proved that there is none better; where nothing is feasible, that nothing is.
    pub proved: bool,
    /// The steps that the search took: how much work it was, the same on every machine.
    pub steps: u32,
    /// What to take from the truck.
    pub parts: Vec<Take>,
    /// The premises file; empty where nothing is feasible.
    pub premises: String,
    /// Where nothing is feasible: what is in the way of the plan that comes closest.
    pub why_not: Vec<Obstacle>,
    /// The plan that comes closest, as a premises file.
    pub closest: String,
    /// The one more item that would do it, where one was found.
    pub one_more: Option<Take>,
}

impl Planned {
    /// Nothing found yet.
    pub(crate) const fn nothing() -> Self {
        Self {
            feasible: false,
            amplifiers: 0,
            cost: 0,
            margin: f32::INFINITY,
            proved: false,
            steps: 0,
            parts: Vec::new(),
            premises: String::new(),
            why_not: Vec::new(),
            closest: String::new(),
            one_more: None,
        }
    }
}

/// Reads a need and finds the best plan. `go_on` hears how the search goes, and ends it by saying no.
///
/// Takes some megabytes of stack: call it on a thread with [`STACK`].
///
/// # Errors
/// A [`Refusal`] where the file can't be used.
pub fn plan(source: &Source<'_>, go_on: &mut dyn FnMut(&Progress) -> bool) -> Result<Planned, Box<Refusal>> {
    let arena = Bump::new();
    let asked = read_need(source, &arena)?;
    let whole = document::table(source).unwrap_or_default();
    work(&asked, &whole, go_on).map_err(|error| {
        let says = format!("this need is too large: {error}");
        Refusal::whole(source.name, source.text, Problem::new(Path::default(), "", says))
    })
}

/// The stack that a search takes.
pub const STACK: usize = 128 << 20;

fn work<'b>(asked: &Asked<'b>, whole: &Table, go_on: &mut dyn FnMut(&Progress) -> bool) -> Result<Planned, Error> {
    let limits = |device: Device| {
        let mut known = Device::WITH_LIMITS.into_iter().zip(asked.limits.into_iter().zip(asked.targets));
        known.find(|(other, _)| *other == device).map_or((Limits::NONE, Limits::NONE), |(_, limits)| limits)
    };
    let mut bench = Box::new(workbench(asked.offer, asked.climate, limits));
    let mut room = Box::new(Room::new());
    let (need, stock) = (&asked.need, asked.truck.items);
    let outcome = room.plan(need, stock, &mut *bench, &mut *go_on)?;
    let mut planned = Planned { steps: room.steps(), ..Planned::nothing() };
    match outcome {
        Outcome::Found(plan) => {
            planned.feasible = true;
            planned.amplifiers = plan.amplifiers;
            planned.cost = plan.cost;
            planned.margin = plan.margin;
            planned.proved = plan.proved;
            let written = written(asked, whole, &plan, &mut bench)?;
            (planned.parts, planned.premises) = (written.parts, written.premises);
        }
        Outcome::Nothing { proved } => {
            planned.proved = proved;
            why::why_not(asked, whole, &mut room, &mut bench, go_on, &mut planned)?;
        }
    }
    Ok(planned)
}

/// A bench under what a home, or a need, is judged by: its limits and targets device by device.
pub(crate) fn workbench<'b>(
    (service, entry): (Service<'b>, Entry<'b>),
    climate: Climate,
    limits: impl Fn(Device) -> (Limits, Limits),
) -> Workbench<'b> {
    let mut home = Premises::new(service, entry);
    home.set_climate(climate);
    for device in Device::WITH_LIMITS {
        let (limits, target) = limits(device);
        home.set_limits(device, limits);
        home.set_target(device, target);
    }
    Bench::new(home)
}

/// A plan in the words of its need; it stands on the bench.
struct Written<'b> {
    parts: Vec<Take>,
    premises: String,
    names: crate::home::Names<'b>,
}

/// What a plan takes from the truck, and its premises file.
fn written<'b>(
    asked: &Asked<'b>,
    whole: &Table,
    plan: &Found,
    bench: &mut Workbench<'b>,
) -> Result<Written<'b>, Error> {
    let mut origins = Vec::new();
    plan.build(&asked.need, asked.truck.items, bench, |origin| origins.push(origin))?;
    let supplies: Vec<usize> = plan.supplies().collect();
    let names = names::names(asked, &origins, supplies.len(), &bench.tree());
    let home = crate::home::Home { name: "", tree: bench.tree(), names: names.clone() };
    let outlet_keys = |index: usize| {
        let mut keys = table_at(whole, &["outlet"], Some(index));
        keys.remove("run");
        keys.remove("mains");
        keys
    };
    let outlets: Vec<Table> = (0..asked.outlets.len()).map(outlet_keys).collect();
    let part_keys = |origin: &Origin| match origin {
        Origin::LeadIn => table_at(whole, &["panel", "lead_in"], None),
        Origin::Run(index) => {
            let outlet = table_at(whole, &["outlet"], Some(*index));
            outlet.get("run").and_then(toml::Value::as_table).cloned().unwrap_or_default()
        }
        Origin::Stock(index) => item_keys(whole, *index),
    };
    let parts: Vec<Table> = origins.iter().map(part_keys).collect();
    let supply_tables: Vec<Table> = supplies.iter().map(|index| supply_keys(whole, *index)).collect();
    let premises = document::write(whole, &home, &parts, &outlets, &supply_tables);
    let placed = origins.iter().filter_map(|origin| match origin {
        Origin::Stock(index) => Some(*index),
        Origin::LeadIn | Origin::Run(_) => None,
    });
    let used: Vec<usize> = placed.chain(supplies).collect();
    Ok(Written { parts: takes(&asked.truck, &used), premises, names })
}

/// What is taken from a truck, by the places of the items, each as often as it is used.
pub(crate) fn takes(truck: &Truck<'_>, used: &[usize]) -> Vec<Take> {
    let items = truck.names.iter().zip(truck.items).enumerate();
    let counted = items.map(|(index, ((kind, name), item))| {
        let count = used.iter().filter(|used| **used == index).count();
        Take { kind, item: name.clone(), count, cost: Some(item.cost) }
    });
    counted.filter(|take| take.count > 0).collect()
}

/// The keys of a supply of the stock.
pub(crate) fn supply_keys(whole: &Table, index: usize) -> Table {
    let item = table_at(whole, &["stock", "item"], Some(index));
    item.get("supply").and_then(toml::Value::as_table).cloned().unwrap_or_default()
}

/// The keys of an item that make it a part.
pub(crate) fn item_keys(whole: &Table, index: usize) -> Table {
    let mut keys = table_at(whole, &["stock", "item"], Some(index));
    keys.remove("count");
    keys.remove("cost");
    keys
}

/// The table at a path, or an empty one.
pub(crate) fn table_at(whole: &Table, path: &[&str], index: Option<usize>) -> Table {
    document::find(whole, path, index).and_then(toml::Value::as_table).cloned().unwrap_or_default()
}

/// Looks again with one more item on the truck.
fn with_one_more<'b>(
    need: &Need<'_, 'b>,
    stock: &[Item<'b>],
    room: &mut Room,
    bench: &mut Workbench<'b>,
    go_on: &mut dyn FnMut(&Progress) -> bool,
) -> Result<bool, Error> {
    /// How many steps each item is worth: this is a hint, not a proof.
    const PATIENCE: u32 = 2_000;
    let within = |progress: &Progress| progress.steps < PATIENCE && go_on(progress);
    Ok(matches!(room.plan(need, stock, bench, within)?, Outcome::Found(_)))
}
