//! `[service]`, `[entry]`, `[climate]` and `[home_network]`.

use legwork::{Block, Climate, Curve, Db, Entry, Error, HomeNetwork, Place, Points, Service};

use super::context::{Context, gain, level, loss};
use crate::problem::{Problem, route};
use crate::quantity;
use crate::raw::{self, OneOrMany};

/// The service, if nothing is wrong with it.
pub(super) fn service<'b>(context: &mut Context<'b>, raw: Option<&raw::Service<'_>>) -> Option<Service<'b>> {
    let Some(raw) = raw else {
        context.missing(route![], "service", "a table with split and carriers");
        return None;
    };
    let table = || route!["service"];
    let split = context.need(raw.split.as_ref(), table, "split", quantity::split);
    let blocks = blocks(context, raw);
    let bandwidth = context.maybe(raw.noise_bandwidth.as_ref(), table, "noise_bandwidth", quantity::frequency);
    let channels = raw
        .return_channels
        .as_ref()
        .and_then(|value| context.whole(value, || route!["service", "return_channels"], 1, 1024));
    let mut service = Service::new(split?, blocks?).ok()?;
    if let Some(bandwidth) = bandwidth {
        service = service.noise_bandwidth(bandwidth);
    }
    match channels {
        Some(channels) => service.return_channels(channels).ok(),
        None => Some(service),
    }
}

fn blocks<'b>(context: &mut Context<'b>, raw: &raw::Service<'_>) -> Option<&'b [Block]> {
    const TAKES: &str = "at least one block { first, last, step }";
    let Some(raw) = raw.carriers.as_deref() else {
        context.missing(route!["service"], "carriers", TAKES);
        return None;
    };
    if raw.is_empty() {
        context.note(Problem::new(route!["service", "carriers"], "", format!("there are none; it takes {TAKES}")));
        return None;
    }
    let mut blocks: Vec<Block> = Vec::with_capacity(raw.len());
    let mut carriers = 0;
    for (index, raw) in raw.iter().enumerate() {
        let table = || route!["service", "carriers", index];
        let first = context.need(raw.first.as_ref(), table, "first", quantity::frequency);
        let last = context.need(raw.last.as_ref(), table, "last", quantity::frequency);
        let step = context.need(raw.step.as_ref(), table, "step", quantity::frequency);
        let offset = context.maybe(raw.offset.as_ref(), table, "offset", quantity::db).unwrap_or(Db::ZERO);
        let (Some(first), Some(last), Some(step)) = (first, last, step) else { continue };
        let last_text = raw.last.as_ref().map(ToString::to_string).unwrap_or_default();
        match Block::new(first, last, step, offset) {
            Ok(block) => {
                if blocks.last().is_some_and(|before| block.first() <= before.last()) {
                    let text = raw.first.as_ref().map(ToString::to_string).unwrap_or_default();
                    let says = "carrier blocks have to rise and must not overlap";
                    let problem = Problem::new(table().with("first"), text, says)
                        .second(route!["service", "carriers", index - 1, "last"], "the block before ends here");
                    context.note(problem);
                }
                carriers += u32::from(block.count());
                blocks.push(block);
            }
            Err(Error::Full { capacity, .. }) => {
                let says = format!("a block has at most {capacity} carriers; is the step right?");
                context.note(Problem::new(table().with("last"), last_text, says));
            }
            Err(_) => {
                let says = "a block's last carrier must not lie below its first";
                context.note(Problem::new(table().with("last"), last_text, says));
            }
        }
    }
    if carriers > u32::from(Block::MAX_CARRIERS) {
        let says = format!("all blocks together have {carriers} carriers, more than {}", Block::MAX_CARRIERS);
        context.note(Problem::new(route!["service", "carriers"], "", says));
        return None;
    }
    (blocks.len() == raw.len()).then(|| &*context.arena.alloc_slice_copy(&blocks))
}

/// The entry, if nothing is wrong with it.
pub(super) fn entry<'b>(context: &mut Context<'b>, raw: Option<&raw::Entry<'_>>) -> Option<Entry<'b>> {
    let Some(raw) = raw else {
        context.missing(route![], "entry", "a table with the forward readings");
        return None;
    };
    let table = || route!["entry"];
    let forward = readings(context, raw.forward.as_ref(), "forward", 2);
    if raw.forward.is_none() {
        context.missing(table(), "forward", "at least two readings [\"frequency\", \"level\"]");
    }
    let transmit = readings(context, raw.transmit.as_ref(), "transmit", 1);
    let cnr: Option<Curve<'b>> =
        raw.cnr.as_ref().and_then(|curve| context.curve(curve, || route!["entry", "cnr"], gain));
    let spread = context.maybe(raw.spread.as_ref(), table, "spread", loss).unwrap_or(0.0);
    let bonded = context.flag(raw.bonded.as_ref(), || route!["entry", "bonded"]);
    Some(Entry { cnr, transmit, spread, bonded, ..Entry::new(forward?).ok()? })
}

/// Levels at frequencies.
fn readings<'b>(
    context: &mut Context<'b>,
    raw: Option<&raw::Curve<'_>>,
    key: &'static str,
    fewest: usize,
) -> Option<Points<'b>> {
    let at = || route!["entry", key];
    match raw? {
        OneOrMany::Many(points) => Points::new(context.points(points, at, level, fewest)?).ok(),
        OneOrMany::One(value) => {
            let says = format!("it takes readings [\"frequency\", \"level\"], at least {fewest}");
            context.note(Problem::new(at(), value.to_string(), says));
            None
        }
    }
}

/// How warm it gets.
pub(super) fn climate(context: &mut Context<'_>, raw: Option<&raw::Climate<'_>>) -> Climate {
    let mut climate = Climate::REFERENCE;
    let Some(raw) = raw else { return climate };
    for (window, place, key) in [
        (&raw.indoor, Place::Indoor, "indoor"),
        (&raw.outdoor, Place::Outdoor, "outdoor"),
        (&raw.attic, Place::Attic, "attic"),
    ] {
        let Some(window) = window else { continue };
        let at = || route!["climate", key];
        let Some((low, high)) = context.ends(window, at) else { continue };
        let coldest = context.quantity(low, || at().with(0), quantity::temperature);
        let hottest = context.quantity(high, || at().with(1), quantity::temperature);
        let (Some(coldest), Some(hottest)) = (coldest, hottest) else { continue };
        match climate.with(place, coldest, hottest) {
            Ok(with) => climate = with,
            Err(_) => {
                let says = "the range is upside down; the coldest comes first";
                context.note(Problem::new(at(), "", says));
            }
        }
    }
    climate
}

/// The home network without its members.
pub(super) fn home_network(context: &mut Context<'_>, raw: &raw::HomeNetwork<'_>) -> Option<HomeNetwork> {
    let band = match &raw.band {
        Some(window) => context.band(window, || route!["home_network", "band"]),
        None => {
            context.missing(route!["home_network"], "band", "its band, [\"1125 MHz\", \"1675 MHz\"]");
            None
        }
    };
    let max_loss = match &raw.max_loss {
        Some(value) if value.text() == Some("none") => None,
        Some(value) => context.quantity(value, || route!["home_network", "max_loss"], loss),
        None => None,
    };
    Some(HomeNetwork { band: band?, max_loss: max_loss.unwrap_or(f32::INFINITY) })
}
