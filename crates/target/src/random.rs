//! Random homes, the same on every machine: a small generator over the core's builder.
//!
//! All numbers are drawn as integers and scaled by powers of two, so no rounding can differ before the
//! calculations begin.

use legwork::{
    Awg, Block, Climate, Conductor, Curve, Db, Device, Entry, Error, Frequency, HomeNetwork, Length, Limits, Ohms,
    Outlet, Part, Percent, Place, Point, Points, PortId, Premises, Service, Split, Supply, Temperature, Volts,
    Workspace, tables,
};

use crate::{odd, specs};

/// At most 30 parts, 64 ports, 16 outlets, 2 supplies.
pub type Home<'s> = Premises<'s, 30, PORTS, 16, 2>;
/// Room to check any of them in: up to 4 + 4 frequencies an outlet, all 16 outlets in the home network.
pub type Desk = Workspace<PORTS, 40, 480, 8, 128>;
/// Room to locate a fault in any of them.
pub type Finder = legwork::Locator<30, 64>;
const PORTS: usize = 64;

/// Cables, built in and of one's own.
static CABLES: [&legwork::Cable<'static>; 8] = [
    &tables::SERIES_59,
    &tables::SERIES_6,
    &tables::SERIES_6_COPPER,
    &tables::SERIES_7,
    &tables::SERIES_11,
    &specs::DROP,
    &specs::INSIDE,
    &odd::FLAT_CABLE,
];
static SPLITTERS: [&legwork::Splitter<'static>; 8] = [
    &tables::SPLITTER_2,
    &tables::SPLITTER_3,
    &tables::SPLITTER_3_UNEQUAL,
    &tables::SPLITTER_4,
    &tables::SPLITTER_8,
    &specs::TWO_WAY,
    &specs::THREE_WAY,
    &odd::POWER_SPLITTER,
];
static COUPLERS: [&legwork::Coupler<'static>; 4] =
    [&tables::COUPLER_6, &tables::COUPLER_9, &tables::COUPLER_16, &odd::POWER_COUPLER];
static AMPLIFIERS: [&legwork::Amplifier<'static>; 4] =
    [&specs::AMPLIFIER, &odd::FED_BY_COAX, &odd::ONE_WAY, &specs::AMPLIFIER];
static FILTERS: [&legwork::Filter<'static>; 3] = [&tables::ENTRY_FILTER, &specs::ENTRY_FILTER, &odd::POWER_FILTER];
static EQUALIZERS: [&legwork::Equalizer<'static>; 2] = [&specs::EQUALIZER, &odd::POWER_EQUALIZER];
const DEVICES: [Device; 6] =
    [Device::Modem, Device::VoiceModem, Device::SetTop, Device::Tv, Device::Tv, Device::Unused];
const PLACES: [Place; 3] = [Place::Indoor, Place::Outdoor, Place::Attic];

/// Builds the home of a number and hands it to `visit`.
///
/// # Errors
/// What the builder refuses; running out of ports only ends the building.
pub fn home<R>(number: u32, visit: impl FnOnce(&Home<'_>) -> R) -> Result<R, Error> {
    let mut random = Random::new(number);
    let (blocks, count) = blocks(&mut random)?;
    let read = points(&mut random, 54.0, 240.0, (-8, 60))?;
    let cnr = points(&mut random, 60.0, 300.0, (120, 200))?;
    let sent = points(&mut random, 6.0, 9.0, (120, 180))?;
    let forward = Points::new(read.get(..2 + random.below(3) as usize).unwrap_or(&read))?;
    let mut entry = Entry { spread: random.quarters(0, 6), bonded: random.one_in(4), ..Entry::new(forward)? };
    entry.cnr = match random.below(4) {
        0 => None,
        1 => Some(Curve::Flat(Db::new(random.quarters(120, 200))?)),
        _ => Some(Curve::points(&cnr)?),
    };
    if !random.one_in(4) {
        entry.transmit = Some(Points::new(&sent)?);
    }
    let split = Split { return_top: random.mhz(36.0, 24)?, forward_bottom: random.mhz(54.0, 24)? };
    let service =
        Service::new(split, blocks.get(..count).unwrap_or(&blocks))?.return_channels(1 + random.below(8) as u16)?;
    let mut home = Home::new(service, entry);
    if random.one_in(4) {
        home.set_service(service.noise_bandwidth(random.mhz(4.0, 16)?), entry);
    }
    judge_by(&mut home, &mut random)?;
    let mut open = Open { ports: [PortId::ENTRY; PORTS], count: 1 };
    wire(&mut home, &mut random, &mut open)?;
    furnish(&mut home, &mut random, &mut open)?;
    Ok(visit(&home))
}

/// One to three blocks of carriers, rising.
fn blocks(random: &mut Random) -> Result<([Block; 3], usize), Error> {
    let mut from = 54.0 + random.quarters(0, 200);
    let mut next = || -> Result<Block, Error> {
        let step = random.pick(&[6.0, 8.0, 6.25]);
        let last = from + step * random.below(64) as f32;
        let block = Block::new(
            Frequency::new(from)?,
            Frequency::new(last)?,
            Frequency::new(step)?,
            Db::new(random.quarters(-12, 12))?,
        );
        from = last + step + random.quarters(0, 100);
        block
    };
    let blocks = [next()?, next()?, next()?];
    Ok((blocks, 1 + random.below(3) as usize))
}

/// Four points from a frequency on, up to so far apart, values in quarters.
fn points(random: &mut Random, from: f32, apart: f32, (low, high): (i32, i32)) -> Result<[Point; 4], Error> {
    let mut mhz = from;
    let mut next = || -> Result<Point, Error> {
        let point = Point::new(Frequency::new(mhz)?, Db::new(random.quarters(low, high))?);
        mhz += 1.0 + apart * random.below(256) as f32 / 256.0;
        Ok(point)
    };
    Ok([next()?, next()?, next()?, next()?])
}

/// Climate, limits, targets and the home network.
fn judge_by(home: &mut Home<'_>, random: &mut Random) -> Result<(), Error> {
    let mut climate = Climate::REFERENCE;
    for place in PLACES {
        if !random.one_in(3) {
            let (coldest, hottest) = (20.0 - random.quarters(0, 180), 20.0 + random.quarters(0, 160));
            climate = climate.with(place, Temperature::new(coldest)?, Temperature::new(hottest)?)?;
        }
    }
    home.set_climate(climate);
    if random.one_in(2) {
        home.set_limits(Device::Tv, specs::TV);
        home.set_limits(Device::VoiceModem, specs::VOICE_MODEM);
    }
    if random.one_in(2) {
        let low = random.quarters(-24, 0);
        home.set_target(Device::Modem, Limits { forward: (low, low + 10.0), tilt: 6.0, ..Limits::NONE });
        home.set_target(Device::Tv, Limits { neighbour: Some(12.0), cnr: 40.0, ..Limits::NONE });
    }
    if !random.one_in(3) {
        let max_loss = if random.one_in(4) { f32::INFINITY } else { 40.0 + random.quarters(0, 80) };
        let band = if random.one_in(4) { legwork::Band::constant(500.0, 900.0) } else { specs::NETWORK };
        home.set_home_network(HomeNetwork { band, max_loss });
    }
    Ok(())
}

/// Ports with nothing on them.
struct Open {
    ports: [PortId; PORTS],
    count: usize,
}

impl Open {
    fn take(&mut self, place: usize) {
        self.count = self.count.saturating_sub(1);
        let last = self.ports.get(self.count).copied();
        if let (Some(slot), Some(last)) = (self.ports.get_mut(place), last) {
            *slot = last;
        }
    }
    fn put(&mut self, port: PortId) {
        if let Some(slot) = self.ports.get_mut(self.count) {
            *slot = port;
            self.count += 1;
        }
    }
}

/// Hangs 3 to 30 parts anywhere.
fn wire(home: &mut Home<'_>, random: &mut Random, open: &mut Open) -> Result<(), Error> {
    for _ in 0..3 + random.below(28) {
        let place = random.below(open.count as u32) as usize;
        let Some(port) = open.ports.get(place).filter(|_| open.count > 0) else { return Ok(()) };
        let part = match home.add(*port, part(random)?) {
            Ok(part) => part,
            Err(Error::DcOnly) => continue,
            Err(Error::Full { .. }) => return Ok(()),
            Err(error) => return Err(error),
        };
        open.take(place);
        let mut number = 0;
        while let Ok(port) = home.port_number(part, number) {
            open.put(port);
            number += 1;
        }
    }
    Ok(())
}

/// Puts an outlet, a supply, a terminator or nothing on each port left.
fn furnish(home: &mut Home<'_>, random: &mut Random, open: &mut Open) -> Result<(), Error> {
    for port in open.ports.into_iter().take(open.count) {
        let ended = match random.below(8) {
            0..=4 => {
                let device = random.pick(&DEVICES);
                let outlet = if random.one_in(4) { Outlet::lifeline(device) } else { Outlet::new(device) };
                home.add_outlet(port, outlet)
                    .and_then(|outlet| if random.one_in(3) { home.join(outlet) } else { Ok(()) })
            }
            5 => home.terminate(port),
            6 => Ok(()),
            _ => Err(Error::DcOnly),
        };
        match ended {
            Ok(()) => {}
            // A port for DC alone, or one in eight: a supply, as long as there are any.
            Err(Error::DcOnly) => {
                let volts = Volts::new(9.0 + random.quarters(0, 48))?;
                let supply = Supply::new(volts, legwork::Amps::new(random.quarters(1, 6))?)
                    .with(Percent::new(random.quarters(0, 40))?, Ohms::new(random.quarters(0, 4))?);
                match home.add_supply(port, supply) {
                    Ok(_) | Err(Error::Full { .. }) => {}
                    Err(error) => return Err(error),
                }
            }
            Err(Error::Full { .. }) => home.terminate(port)?,
            Err(error) => return Err(error),
        }
    }
    Ok(())
}

/// A part of any kind.
fn part(random: &mut Random) -> Result<Part<'static>, Error> {
    Ok(match random.below(16) {
        0..=4 => Part::Cable {
            spec: random.pick(&CABLES),
            length: Length::new(random.quarters(2, 200))?,
            place: random.pick(&PLACES),
        },
        5 | 6 => Part::Splitter(random.pick(&SPLITTERS)),
        7 => Part::Coupler(random.pick(&COUPLERS)),
        8 => Part::Pad(Db::new(random.quarters(0, 48))?),
        9 => Part::Equalizer(random.pick(&EQUALIZERS)),
        10 => Part::Filter(random.pick(&FILTERS)),
        11 => Part::Amplifier(random.pick(&AMPLIFIERS)),
        12 | 13 => Part::Inserter(&tables::INSERTER),
        14 => {
            let size = if random.one_in(3) { None } else { Some(Awg::new(6.0 + random.below(12) as f32)?) };
            let length = if random.one_in(3) { None } else { Some(Length::new(random.quarters(0, 60))?) };
            let conductor = Conductor { size, length };
            Part::Bond(if random.one_in(2) { &tables::BOND } else { &specs::BLOCK }, conductor)
        }
        _ => Part::Joint(if random.one_in(2) { &tables::JOINT } else { &specs::BARREL }),
    })
}

/// Marsaglia's xorshift with 32 bits of state.
struct Random(u32);

impl Random {
    /// Numbers of their own for each home.
    const fn new(number: u32) -> Self {
        // Odd times odd plus one is never the zero at which xorshift stands still, for 2^31 numbers.
        Self(number.wrapping_mul(2).wrapping_add(1).wrapping_mul(0x9E37_79B9))
    }
    fn next(&mut self) -> u32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 17;
        self.0 ^= self.0 << 5;
        self.0
    }
    /// Below `end`.
    fn below(&mut self, end: u32) -> u32 {
        ((u64::from(self.next()) * u64::from(end)) >> 32) as u32
    }
    fn one_in(&mut self, times: u32) -> bool {
        self.below(times) == 0
    }
    /// One of several, of which there is at least one.
    fn pick<T: Copy, const N: usize>(&mut self, all: &[T; N]) -> T {
        *all.get(self.below(N as u32) as usize).unwrap_or(&all[0])
    }
    /// A number of quarters, both ends included.
    fn quarters(&mut self, low: i32, high: i32) -> f32 {
        (low + self.below((high - low + 1) as u32) as i32) as f32 * 0.25
    }
    /// A frequency from `low` on, up to so many quarters higher.
    fn mhz(&mut self, low: f32, quarters: i32) -> Result<Frequency, Error> {
        Frequency::new(low + self.quarters(0, quarters))
    }
}
