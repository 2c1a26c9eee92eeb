//! A need: outlets with their runs, and a stock.

use bumpalo::Bump;
use legwork::plan::{Item, Need, Run, Stocked, Wanted};
use legwork::{Climate, Db, Device, Entry, Limits, Outlet, Service, Supply};

use super::context::Context;
use super::ids::{Ids, Member};
use super::parts::{cable, place, plain};
use super::specs::{Specs, specs};
use super::{format, limits, service};
use crate::problem::{Path, Problem, Problems, route};
use crate::quantity;
use crate::raw::{self, Kind, Scalar};

/// The most outlets of one need.
pub const MOST_WANTED: usize = 64;
/// The most kinds of thing on one truck.
pub const MOST_ITEMS: usize = 64;

/// A need as core knows it, and the names that core does without.
#[derive(Debug)]
pub struct Asked<'b> {
    /// Where its names live.
    pub arena: &'b Bump,
    /// What the network offers, and what was read at the entry.
    pub offer: (Service<'b>, Entry<'b>),
    /// How warm it gets.
    pub climate: Climate,
    /// Limits of devices, in the order of [`Device::WITH_LIMITS`].
    pub limits: [Limits; 4],
    /// The operator's targets, in that order.
    pub targets: [Limits; 4],
    /// What is wanted.
    pub need: Need<'b, 'b>,
    /// What is on the truck.
    pub truck: Truck<'b>,
    /// The ids of the outlets.
    pub outlets: Vec<&'b str>,
}

/// A stock, and what its items are called.
#[derive(Debug)]
pub struct Truck<'b> {
    /// What is wanted between every extreme and its limit, in dB.
    pub margin: Db,
    /// What is there.
    pub items: &'b [Item<'b>],
    /// The kind of each, and its name: a spec, a pad's value, a supply's volts and amps.
    pub names: Vec<(&'static str, String)>,
}

/// Builds a need.
pub(crate) fn need<'b>(raw: &raw::Need<'_>, arena: &'b Bump) -> Result<Asked<'b>, Problems> {
    let mut context = Context { arena, problems: Problems::default() };
    format(&mut context, raw.format.as_ref());
    let offer =
        service::service(&mut context, raw.service.as_ref()).zip(service::entry(&mut context, raw.entry.as_ref()));
    let climate = service::climate(&mut context, raw.climate.as_ref());
    let network = raw.home_network.as_ref().and_then(|raw| service::home_network(&mut context, raw));
    let specs = specs(&mut context, &raw.spec);
    let (limits, targets) = device_limits(&mut context, raw);
    let panel = raw.panel.as_ref();
    if panel.is_none() {
        context.missing(route![], "panel", "a table with mains (true or false) and, where there is one, lead_in");
    }
    let mains = context.flag(panel.and_then(|panel| panel.mains.as_ref()), || route!["panel", "mains"]);
    let lead_in = panel
        .and_then(|panel| panel.lead_in.as_ref())
        .and_then(|raw| run(&mut context, &specs, raw, &|| route!["panel", "lead_in"]));
    let (outlets, ids) = outlets(&mut context, &specs, raw, network.is_some());
    let truck = truck(&mut context, &specs, raw.stock.as_ref());
    match (offer, truck) {
        (Some(offer), Some(truck)) if context.problems.is_empty() => {
            let need = Need { outlets, lead_in, mains, network, margin: truck.margin };
            Ok(Asked { arena, offer, climate, limits, targets, need, truck, outlets: ids })
        }
        _ => Err(context.problems),
    }
}

/// Builds the stock of a file alone.
pub(crate) fn stock<'b>(raw: &raw::Need<'_>, arena: &'b Bump) -> Result<Truck<'b>, Problems> {
    let mut context = Context { arena, problems: Problems::default() };
    if raw.format.is_some() {
        format(&mut context, raw.format.as_ref());
    }
    let specs = specs(&mut context, &raw.spec);
    match truck(&mut context, &specs, raw.stock.as_ref()) {
        Some(truck) if context.problems.is_empty() => Ok(truck),
        _ => Err(context.problems),
    }
}

fn device_limits(context: &mut Context<'_>, raw: &raw::Need<'_>) -> ([Limits; 4], [Limits; 4]) {
    let mut all = [(); 4].map(|()| Limits::NONE);
    let mut targets = all;
    for (slot, (device, raw)) in all.iter_mut().zip(limits::devices(&raw.limits)) {
        let before = limits::built_in(device);
        *slot = raw.map_or(before, |raw| limits::limits(context, raw, before, "limits", device));
    }
    for (slot, (device, raw)) in targets.iter_mut().zip(limits::devices(&raw.target)) {
        if let Some(raw) = raw {
            *slot = limits::limits(context, raw, Limits::NONE, "target", device);
        }
    }
    (all, targets)
}

fn run<'b>(
    context: &mut Context<'b>,
    specs: &Specs<'b>,
    raw: &raw::Run<'_>,
    table: &dyn Fn() -> Path,
) -> Option<Run<'b>> {
    let spec = match &raw.cable {
        Some(name) => cable(context, specs, name, || table().with("cable")),
        None => {
            context.missing(table(), "cable", "the name of a cable");
            None
        }
    };
    let length = context.need(raw.length.as_ref(), table, "length", quantity::length);
    let place = place(context, raw.place.as_ref(), || table().with("place"));
    let (length, _) = length?;
    Some(Run { spec: spec?, length, place: place? })
}

fn outlets<'b>(
    context: &mut Context<'b>,
    specs: &Specs<'b>,
    raw: &raw::Need<'_>,
    has_network: bool,
) -> (&'b [Wanted<'b>], Vec<&'b str>) {
    if raw.outlet.is_empty() {
        context.missing(route![], "outlet", "at least one [[outlet]] with id, device and run");
    }
    if raw.outlet.len() > MOST_WANTED {
        let says = format!("a need has at most {MOST_WANTED} outlets; plan a larger building by its panels");
        context.note(Problem::new(route!["outlet", MOST_WANTED], format!("{} outlets", raw.outlet.len()), says));
        return (&[], Vec::new());
    }
    let named = raw::Premises {
        outlet: raw::List(
            raw.outlet.iter().map(|raw| raw::Outlet { id: raw.id.clone(), ..raw::Outlet::default() }).collect(),
        ),
        ..raw::Premises::default()
    };
    let ids = Ids::read(context, &named);
    let members = members(context, raw, &ids, has_network);
    let mut wanted = Vec::with_capacity(raw.outlet.len());
    for (index, raw) in raw.outlet.iter().enumerate() {
        let table = || route!["outlet", index];
        let device = match &raw.device {
            Some(device) => context.word(device, || table().with("device"), &super::tree::DEVICES),
            None => {
                context.missing(table(), "device", "one of modem, voice-modem, set-top, tv");
                None
            }
        };
        if device == Some(Device::Unused) {
            let says = "a plan is for outlets with a device; leave an unused jack out, or say what will stand there";
            context.note(Problem::new(table().with("device"), "unused", says));
        }
        let lifeline = context.flag(raw.lifeline.as_ref(), || table().with("lifeline"));
        let mains = context.flag(raw.mains.as_ref(), || table().with("mains"));
        let run = match &raw.run {
            Some(raw) => run(context, specs, raw, &|| route!["outlet", index, "run"]),
            None => {
                context.missing(table(), "run", "its run from the panel: { cable, length, place }");
                None
            }
        };
        let (Some(device), Some(run)) = (device, run) else { continue };
        let outlet = if lifeline { Outlet::lifeline(device) } else { Outlet::new(device) };
        wanted.push(Wanted { outlet, run, mains, member: members.contains(&index) });
    }
    (context.arena.alloc_slice_copy(&wanted), ids.outlets)
}

/// The outlets that belong to the home network, by their places.
fn members(context: &mut Context<'_>, raw: &raw::Need<'_>, ids: &Ids<'_>, has_network: bool) -> Vec<usize> {
    let Some(network) = raw.home_network.as_ref().filter(|_| has_network) else { return Vec::new() };
    if network.members.is_none() {
        context.missing(route!["home_network"], "members", "a list of outlets");
    }
    let mut members = Vec::new();
    for (index, member) in network.members.iter().flatten().enumerate() {
        let at = || route!["home_network", "members", index];
        let text = member.text().unwrap_or_default();
        match ids.find(text) {
            Some(Member::Outlet(outlet)) if members.contains(&outlet) => {
                context.note(Problem::new(at(), text, "this outlet is a member already"));
            }
            Some(Member::Outlet(outlet)) => members.push(outlet),
            _ => {
                let problem = Problem::new(at(), member.to_string(), "there is no outlet of that id").following();
                context.note(problem.suggest(ids.near_outlet(text)));
            }
        }
    }
    members
}

fn truck<'b>(context: &mut Context<'b>, specs: &Specs<'b>, raw: Option<&raw::Stock<'_>>) -> Option<Truck<'b>> {
    let Some(raw) = raw else {
        context.missing(route![], "stock", "a table with margin and item, what is on the truck");
        return None;
    };
    if raw.item.len() > MOST_ITEMS {
        let says = format!("a stock has at most {MOST_ITEMS} kinds of item");
        context.note(Problem::new(route!["stock", "item", MOST_ITEMS], format!("{} items", raw.item.len()), says));
        return None;
    }
    let margin = context.maybe(raw.margin.as_ref(), || route!["stock"], "margin", quantity::loss);
    let mut items = Vec::with_capacity(raw.item.len());
    let mut names = Vec::with_capacity(raw.item.len());
    for (index, raw) in raw.item.iter().enumerate() {
        let table = || route!["stock", "item", index];
        let what = stocked(context, specs, raw, &table);
        let count = raw.count.as_ref().map_or(Some(1), |count| context.whole(count, || table().with("count"), 0, 9999));
        let cost = cost(context, raw.cost.as_ref(), || table().with("cost"));
        let (Some((kind, name, what)), Some(count), Some(cost)) = (what, count, cost) else { continue };
        items.push(Item { what, count, cost });
        names.push((kind, name));
    }
    Some(Truck { margin: margin.unwrap_or(Db::ZERO), items: context.arena.alloc_slice_copy(&items), names })
}

/// What an item is: its kind, its name, and what core makes of it.
fn stocked<'b>(
    context: &mut Context<'b>,
    specs: &Specs<'b>,
    raw: &raw::Item<'_>,
    table: &dyn Fn() -> Path,
) -> Option<(&'static str, String, Stocked<'b>)> {
    let keys: [(Kind, Option<&Scalar<'_>>); 10] = [
        (Kind::Cable, raw.cable.as_ref()),
        (Kind::Splitter, raw.splitter.as_ref()),
        (Kind::Coupler, raw.coupler.as_ref()),
        (Kind::Equalizer, raw.equalizer.as_ref()),
        (Kind::Filter, raw.filter.as_ref()),
        (Kind::Amplifier, raw.amplifier.as_ref()),
        (Kind::Inserter, raw.inserter.as_ref()),
        (Kind::Bond, raw.bond.as_ref()),
        (Kind::Joint, raw.joint.as_ref()),
        (Kind::Pad, raw.pad.as_ref()),
    ];
    let mut named = keys.into_iter().filter_map(|(kind, name)| Some((kind, name?)));
    let first = named.next();
    let second = named.next().map(|(kind, _)| kind.key()).or(raw.supply.as_ref().and(first).map(|_| "supply"));
    if let Some(second) = second {
        context.note(Problem::new(table().with(second), "", "an item is of one kind; write another for the second"));
    }
    if let Some((kind, name)) = first {
        let at = || table().with(kind.key());
        let what = match kind {
            Kind::Cable => cable(context, specs, name, at).map(Stocked::Cable),
            kind => plain(context, specs, kind, name, at).map(Stocked::Part),
        };
        return Some((kind.key(), name.to_string(), what?));
    }
    let Some(raw) = &raw.supply else {
        let kinds: Vec<&str> = Kind::ALL.iter().map(|(_, key)| *key).chain(["supply"]).collect();
        let says = format!("this item has no kind; it takes one of {}", kinds.join(", "));
        context.note(Problem::new(table(), "", says).missing(&["kind"]));
        return None;
    };
    let table = || table().with("supply");
    let volts = context.need(raw.volts.as_ref(), table, "volts", quantity::volts);
    let amps = context.need(raw.amps.as_ref(), table, "amps", quantity::amps);
    let spread = context.maybe(raw.spread.as_ref(), table, "spread", quantity::percent);
    let source = context.maybe(raw.source_ohms.as_ref(), table, "source_ohms", quantity::ohms);
    let supply = Supply::new(volts?, amps?).with(spread.unwrap_or_default(), source.unwrap_or_default());
    let text = |value: &Option<Scalar<'_>>| value.as_ref().map(ToString::to_string).unwrap_or_default();
    Some(("supply", format!("{}, {}", text(&raw.volts), text(&raw.amps)), Stocked::Supply(supply)))
}

/// A cost in hundredths.
fn cost(context: &mut Context<'_>, value: Option<&Scalar<'_>>, at: impl FnOnce() -> Path) -> Option<u32> {
    const MOST: f64 = 1_000_000.0;
    let Some(value) = value else { return Some(0) };
    if let Scalar::Number(number) = value {
        let hundredths = number * 100.0;
        // The nearest double of a number with two decimals is off by far less than this.
        if (0.0..=MOST).contains(number) && (hundredths - hundredths.round()).abs() < 1e-6 {
            return Some(hundredths.round() as u32);
        }
    }
    let says = "it takes a price from 0 to 1000000 with at most two decimals, without quotes";
    context.note(Problem::new(at(), value.to_string(), says));
    None
}
