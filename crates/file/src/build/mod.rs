//! From plain values to core's types, with everything that is wrong said at once.

mod context;
mod limits;
mod service;
mod specs;
mod tree;

use bumpalo::Bump;

use crate::home::{Home, Names};
use crate::problem::{Problem, Problems, route};
use crate::raw::{self, Scalar};
use context::Context;
pub use tree::{MOST_PARTS, Room};

/// A service and what was read at its entry.
pub(crate) type Offer<'b> = (legwork::Service<'b>, legwork::Entry<'b>);

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
    let room = arena.alloc_with(|| Room::new(service, entry));
    room.set_climate(climate);
    if let Some(network) = network {
        room.set_home_network(network);
    }
    for (device, raw) in limits::devices(&raw.limits) {
        if let Some(raw) = raw {
            let before = tree::built_in_limits(device);
            room.set_limits(device, limits::limits(&mut context, raw, before, "limits", device));
        }
    }
    for (device, raw) in limits::devices(&raw.target) {
        if let Some(raw) = raw {
            room.set_target(device, limits::limits(&mut context, raw, legwork::Limits::NONE, "target", device));
        }
    }
    let names = Names { feet: speaks_feet(raw), ..Names::default() };
    let builder = tree::Builder { context: &mut context, raw, specs: &specs, room, names };
    let (room, names) = builder.build();
    if context.problems.is_empty() { Ok(Home { name, room, names }) } else { Err(context.problems) }
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

fn format(context: &mut Context<'_>, value: Option<&Scalar<'_>>) {
    match value {
        Some(Scalar::Number(1.0)) => {}
        Some(other) => {
            let says = "this program reads format 1, written `format = 1`";
            context.note(Problem::new(route!["format"], other.to_string(), says));
        }
        None => context.missing(route![], "format", "the version of the format, 1"),
    }
}

/// A service and an entry that nobody will see a figure of.
fn stand_in(arena: &Bump) -> Option<Offer<'_>> {
    use legwork::{Block, Db, Entry, Frequency, Point, Points, Service, Split};
    let (low, high) = (Frequency::constant(54.0), Frequency::constant(60.0));
    let block = Block::new(high, high, Frequency::constant(6.0), Db::ZERO).ok()?;
    let service = Service::new(Split { return_top: low, forward_bottom: high }, arena.alloc_slice_copy(&[block]));
    let points = arena.alloc_slice_copy(&[Point::constant(54.0, 0.0), Point::constant(60.0, 0.0)]);
    Some((service.ok()?, Entry::new(Points::new(points).ok()?).ok()?))
}

/// Whether the file speaks in feet: its first length decides.
fn speaks_feet(raw: &raw::Premises<'_>) -> bool {
    let lengths = raw.part.iter().flat_map(|part| [part.length.as_ref(), part.conductor_length.as_ref()]).flatten();
    lengths
        .filter_map(Scalar::text)
        .find_map(|text| crate::quantity::length(text).ok())
        .is_none_or(|(_, feet)| feet)
}
