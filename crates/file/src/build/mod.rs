//! From plain values to core's types, with everything that is wrong said at once.

mod context;
mod hooks;
mod ids;
mod limits;
mod need;
mod parts;
mod service;
mod specs;
mod tree;

use bumpalo::Bump;
use legwork::{Climate, Entry, HomeNetwork, Limits, Premises, Service, Tree};

use crate::home::{Home, Names};
use crate::problem::{Problem, Problems, route};
use crate::raw::{self, Kind, Scalar};
use context::Context;
pub use need::{Asked, MOST_ITEMS, MOST_WANTED, Truck};
pub(crate) use need::{need, stock};

/// The most parts of one home.
pub const MOST_PARTS: usize = 1024;

/// A service and what was read at its entry.
pub(crate) type Offer<'b> = (Service<'b>, Entry<'b>);

/// Builds a home. `offer`, if there is one, stands in place of the file's own service and entry.
pub(crate) fn build<'b>(
    raw: &raw::Premises<'_>,
    offer: Option<Offer<'b>>,
    arena: &'b Bump,
) -> Result<Home<'b>, Problems> {
    let mut context = Context { arena, problems: Problems::default() };
    format(&mut context, raw.format.as_ref());
    let name = match &raw.name {
        Some(name) if name.text().is_some() => context.keep(name),
        Some(other) => {
            context.note(Problem::new(route!["name"], other.to_string(), "a name is a text in quotes"));
            ""
        }
        None => "",
    };
    let own = (service::service(&mut context, raw.service.as_ref()), service::entry(&mut context, raw.entry.as_ref()));
    let climate = service::climate(&mut context, raw.climate.as_ref());
    let network = raw.home_network.as_ref().and_then(|raw| service::home_network(&mut context, raw));
    let specs = specs::specs(&mut context, &raw.spec);
    // Something has to be built on even where the service is unusable, so that the tree is judged too.
    let stand_in = own.0.zip(own.1).or_else(|| stand_in(arena));
    let Some((service, entry)) = offer.or(stand_in) else { return Err(context.problems) };
    if raw.part.len() > MOST_PARTS {
        let says = format!("a home has at most {MOST_PARTS} parts; split a larger building into several files");
        let problem = Problem::new(route!["part", MOST_PARTS], format!("{} parts", raw.part.len()), says);
        context.note(problem);
        return Err(context.problems);
    }
    let plan = Plan { raw, specs: &specs, service, entry, climate, network };
    // Making room takes time with its size, and most homes are small.
    let (tree, names) = if plan.is_small() {
        plan.build::<64, 320, 64, 8>(&mut context)
    } else {
        plan.build::<MOST_PARTS, 9217, 1024, 64>(&mut context)
    };
    let names = Names { feet: speaks_feet(raw), dbuv: speaks_dbuv(raw), ..names };
    if context.problems.is_empty() { Ok(Home { name, tree, names }) } else { Err(context.problems) }
}

/// What a home is built from.
struct Plan<'p, 'b, 'a> {
    raw: &'p raw::Premises<'a>,
    specs: &'p specs::Specs<'b>,
    service: Service<'b>,
    entry: Entry<'b>,
    climate: Climate,
    network: Option<HomeNetwork>,
}

impl<'b> Plan<'_, 'b, '_> {
    /// Whether the small room holds it, however many ways out its parts have.
    fn is_small(&self) -> bool {
        let raw = self.raw;
        let ways = |part: &raw::Part<'_>| match part.kind {
            Some((Kind::Splitter | Kind::Amplifier, _)) => 18,
            Some((Kind::Coupler | Kind::Inserter, _)) => 2,
            _ => 1,
        };
        let ports = 1 + raw.part.iter().map(ways).sum::<usize>();
        raw.part.len() <= 64 && raw.outlet.len() <= 64 && raw.supply.len() <= 8 && ports <= 320
    }

    fn build<const PARTS: usize, const PORTS: usize, const OUTLETS: usize, const SUPPLIES: usize>(
        &self,
        context: &mut Context<'b>,
    ) -> (Tree<'b, 'b>, Names<'b>) {
        let room = Premises::<'b, PARTS, PORTS, OUTLETS, SUPPLIES>::new(self.service, self.entry);
        let room = context.arena.alloc(room);
        room.set_climate(self.climate);
        if let Some(network) = self.network {
            room.set_home_network(network);
        }
        for (device, raw) in limits::devices(&self.raw.limits) {
            if let Some(raw) = raw {
                let before = limits::built_in(device);
                room.set_limits(device, limits::limits(context, raw, before, "limits", device));
            }
        }
        for (device, raw) in limits::devices(&self.raw.target) {
            if let Some(raw) = raw {
                room.set_target(device, limits::limits(context, raw, Limits::NONE, "target", device));
            }
        }
        tree::Builder::new(context, self.raw, self.specs, room).build()
    }
}

/// Builds the service and entry of another file alone.
pub(crate) fn offer<'b>(raw: &raw::Premises<'_>, arena: &'b Bump) -> Result<Offer<'b>, Problems> {
    let mut context = Context { arena, problems: Problems::default() };
    format(&mut context, raw.format.as_ref());
    let service = service::service(&mut context, raw.service.as_ref());
    let entry = service::entry(&mut context, raw.entry.as_ref());
    match service.zip(entry) {
        Some(offer) if context.problems.is_empty() => Ok(offer),
        _ => Err(context.problems),
    }
}

/// What is said of another format.
pub(crate) const FORMAT: &str = "this program reads format 1, a number without quotes";

fn format(context: &mut Context<'_>, value: Option<&Scalar<'_>>) {
    match value {
        Some(Scalar::Number(1.0)) => {}
        Some(other) => {
            context.note(Problem::new(route!["format"], other.to_string(), FORMAT));
        }
        None => context.missing(route![], "format", "the version of the format, 1"),
    }
}

/// A service and an entry that nobody will see a figure of.
fn stand_in(arena: &Bump) -> Option<Offer<'_>> {
    use legwork::{Block, Db, Frequency, Point, Points, Split};
    let (low, high) = (Frequency::constant(54.0), Frequency::constant(60.0));
    let block = Block::new(high, high, Frequency::constant(6.0), Db::ZERO).ok()?;
    let service = Service::new(Split { return_top: low, forward_bottom: high }, arena.alloc_slice_copy(&[block]));
    let points = arena.alloc_slice_copy(&[Point::constant(54.0, 0.0), Point::constant(60.0, 0.0)]);
    Some((service.ok()?, Entry::new(Points::new(points).ok()?).ok()?))
}

/// Whether the file speaks in feet: its first length decides.
fn speaks_feet(raw: &raw::Premises<'_>) -> bool {
    let lengths = raw.part.iter().flat_map(|part| [part.length.as_ref(), part.conductor_length.as_ref()]).flatten();
    lengths.filter_map(Scalar::text).find_map(|text| crate::quantity::length(text).ok()).is_none_or(|(_, feet)| feet)
}

/// Whether the file speaks in dBuV: its first reading decides.
fn speaks_dbuv(raw: &raw::Premises<'_>) -> bool {
    let Some(raw::OneOrMany::Many(points)) = raw.entry.as_ref().and_then(|entry| entry.forward.as_ref()) else {
        return false;
    };
    let text = points.first().and_then(|pair| pair.value.text()).unwrap_or("");
    let unit = text.trim_start_matches(|letter: char| !letter.is_alphabetic()).to_lowercase();
    matches!(unit.as_str(), "dbuv" | "db\u{b5}v" | "db\u{3bc}v")
}
