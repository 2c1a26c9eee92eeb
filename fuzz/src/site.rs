//! What a home is judged by: service, entry, climate, limits and home network.

use legwork::{
    Block, Climate, Curve, Db, Device, Entry, Frequency, HomeNetwork, Limits, Place, Points, Service, Split,
    Temperature,
};

use crate::{Drawn, Shelf};

/// Frequencies, for a service that is the same everywhere.
const fn mhz(mhz: f32) -> Frequency {
    Frequency::constant(mhz)
}

/// What the network offers: one or two blocks of carriers.
pub fn service<'b>(drawn: &mut Drawn<'_>, shelf: &Shelf<'b>) -> Service<'b> {
    let block = |drawn: &mut Drawn<'_>, tame: (f32, f32), reach: f32| {
        let first = shelf.frequency(drawn, tame);
        let last = Frequency::new(first.mhz() + drawn.tame((0.0, reach))).unwrap_or(first);
        let offset = Db::constant(drawn.number((-6.0, 3.0), (-60.0, 60.0)));
        Block::new(first, last, mhz(drawn.pick(&[6.0, 8.0, 6.25])), offset).ok()
    };
    let blocks = [block(drawn, (50.0, 120.0), 400.0), block(drawn, (600.0, 700.0), 1100.0)];
    let usual = [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO).expect("a block")];
    let mut blocks: Vec<Block> = blocks.into_iter().flatten().collect();
    if drawn.one_in(2) {
        blocks.truncate(1);
    }
    let split = drawn.pick(&[(42.0, 54.0), (85.0, 108.0), (204.0, 258.0)]);
    let split = Split { return_top: mhz(split.0), forward_bottom: mhz(split.1) };
    let service = Service::new(split, shelf.arena.alloc_slice_copy(&blocks))
        .or_else(|_| Service::new(split, shelf.arena.alloc_slice_copy(&usual)))
        .expect("the usual blocks");
    let service = service.return_channels(1 + drawn.below(8) as u16).expect("at least one");
    if drawn.one_in(4) { service.noise_bandwidth(shelf.frequency(drawn, (4.0, 8.0))) } else { service }
}

/// What was read at the entry; levels stay within 60 dBmV of nought.
pub fn entry<'b>(drawn: &mut Drawn<'_>, shelf: &Shelf<'b>) -> Entry<'b> {
    const LEVELS: (f32, f32) = (-60.0, 60.0);
    fn two<'b>(curve: Curve<'b>) -> Option<Points<'b>> {
        match curve {
            Curve::Points(points) if points.as_slice().len() > 1 => Some(points),
            _ => None,
        }
    }
    let usual = Curve::points(
        shelf.arena.alloc_slice_copy(&[legwork::Point::constant(57.0, 10.0), legwork::Point::constant(861.0, 6.0)]),
    );
    let count = 2 + drawn.below(3);
    let forward = two(shelf.points(drawn, count, (-10.0, 25.0), LEVELS)).or(two(usual.expect("two points")));
    let mut entry = Entry::new(forward.expect("two points")).expect("two points");
    if !drawn.one_in(3) {
        entry.cnr = Some(shelf.curve(drawn, (30.0, 50.0), (0.0, 100.0)));
    }
    if !drawn.one_in(3)
        && let Curve::Points(points) = shelf.points(drawn, 2, (25.0, 50.0), LEVELS)
    {
        entry.transmit = Some(points);
    }
    entry.spread = drawn.tame((0.0, 3.0));
    entry.bonded = drawn.one_in(2);
    entry
}

/// How warm it gets.
pub fn climate(drawn: &mut Drawn<'_>) -> Climate {
    let mut climate = Climate::REFERENCE;
    for place in [Place::Indoor, Place::Outdoor, Place::Attic] {
        let coldest = Temperature::constant(drawn.number((-30.0, 20.0), (-100.0, 200.0)));
        let hottest = Temperature::constant(drawn.number((20.0, 60.0), (-100.0, 200.0)));
        if drawn.one_in(2) {
            climate = climate.with(place, coldest, hottest).unwrap_or(climate);
        }
    }
    climate
}

/// The home network.
pub fn network(drawn: &mut Drawn<'_>, shelf: &Shelf<'_>) -> Option<HomeNetwork> {
    let band = shelf.band(drawn, (1000.0, 1700.0))?;
    let max_loss = if drawn.one_in(4) { f32::INFINITY } else { drawn.tame((20.0, 70.0)) };
    drawn.one_in(2).then_some(HomeNetwork { band, max_loss })
}

/// A device, a few of them on nothing.
pub fn device(drawn: &mut Drawn<'_>) -> Device {
    drawn.pick(&[Device::Modem, Device::Tv, Device::SetTop, Device::VoiceModem, Device::Unused])
}

/// What a device takes, or an operator's target for it.
pub fn limits(drawn: &mut Drawn<'_>) -> Limits {
    let mut limits = Limits::NONE;
    if drawn.one_in(2) {
        limits.forward = (drawn.tame((-20.0, 0.0)), drawn.tame((0.0, 20.0)));
    }
    if drawn.one_in(2) {
        (limits.total, limits.tilt) = (drawn.tame((20.0, 40.0)), drawn.tame((0.0, 20.0)));
    }
    if drawn.one_in(2) {
        limits.cnr = drawn.tame((25.0, 45.0));
    }
    if drawn.one_in(2) {
        limits.transmit = (drawn.tame((10.0, 30.0)), drawn.tame((30.0, 60.0)));
        limits.window = drawn.tame((0.0, 20.0));
    }
    if drawn.one_in(2) {
        limits.neighbour = Some(drawn.tame((-20.0, 40.0)));
    }
    limits
}
