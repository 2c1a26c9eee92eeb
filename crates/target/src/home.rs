//! The reference home, and room for its report: fixed capacities, chosen here as a firmware author would.

use core::mem::MaybeUninit;

use legwork::{
    Block, Climate, Curve, Db, Device, Entry, Error, Frequency, HomeNetwork, Length, Locator, Outlet, Part, PartId,
    Place, Points, PortId, Premises, Service, Supply, Temperature, Way, Workspace,
};

use crate::room::Room;
use crate::specs;

/// 23 parts, 32 ports, 8 outlets, 1 supply.
pub type Home = Premises<'static, 23, 32, 8, 1>;
/// Room to check it in.
pub type Desk = Workspace<32, 12, 96, 1, 16>;
/// Room to locate a fault in it, by at most 32 readings.
pub type Finder = Locator<23, 32>;

static BLOCKS: Room<MaybeUninit<[Block; 2]>> = Room::empty();
static HOME: Room<MaybeUninit<Home>> = Room::empty();
static DESK: Room<Desk> = Room::new(Workspace::new());
static FINDER: Room<Finder> = Room::new(Locator::new());

/// Builds the home, once in a program's life, and hands it out with a place to check it.
///
/// # Errors
/// [`Error::Full`] where a capacity above is too small, or the second time.
pub fn build() -> Result<(&'static mut Home, &'static mut Desk), Error> {
    const TWICE: Error = Error::Full { what: "reference homes", capacity: 1 };
    let blocks = [
        Block::new(mhz(57.0), mhz(549.0), mhz(6.0), Db::ZERO)?,
        Block::new(mhz(555.0), mhz(861.0), mhz(6.0), Db::constant(-1.0))?,
    ];
    let blocks = BLOCKS.put(blocks).ok_or(TWICE)?;
    let service = Service::new(specs::SPLIT, blocks)?.return_channels(4)?;
    let entry = Entry {
        cnr: Some(Curve::points(&specs::CNR)?),
        transmit: Some(Points::new(&specs::SENT)?),
        spread: 0.5,
        ..Entry::new(Points::new(&specs::READ)?)?
    };
    let home = HOME.put(Premises::new(service, entry)).ok_or(TWICE)?;
    wire(home)?;
    judge_by(home)?;
    Ok((home, DESK.take().ok_or(TWICE)?))
}

/// Hands out the room to locate a fault in, once in a program's life.
///
/// # Errors
/// [`Error::Full`] the second time.
pub fn finder() -> Result<&'static mut Finder, Error> {
    FINDER.take().ok_or(Error::Full { what: "finders", capacity: 1 })
}

fn wire(home: &mut Home) -> Result<(), Error> {
    let filter = home.add(PortId::ENTRY, Part::Filter(&specs::ENTRY_FILTER))?;
    let riser = after(home, filter, run(&specs::DROP, 85.0, Place::Outdoor)?)?;
    let ground = after(home, riser, Part::Bond(&specs::BLOCK, specs::CONDUCTOR))?;
    let closet = after(home, ground, Part::Amplifier(&specs::AMPLIFIER))?;

    let passive = home.port(closet, Way::Passive)?;
    let study = home.add(passive, run(&specs::INSIDE, 32.0, Place::Indoor)?)?;
    let study = after(home, study, Part::Joint(&specs::BARREL))?;
    let study = outlet(home, study, Outlet::lifeline(Device::VoiceModem))?;
    home.join(study)?;

    let den = home.add(home.port(closet, Way::Output(1))?, run(&specs::INSIDE, 48.0, Place::Indoor)?)?;
    let den = after(home, den, Part::Joint(&specs::BARREL))?;
    outlet(home, den, Outlet::new(Device::Tv))?;

    let east = home.add(home.port(closet, Way::Output(2))?, run(&specs::INSIDE, 40.0, Place::Indoor)?)?;
    let east = after(home, east, Part::Splitter(&specs::TWO_WAY))?;
    let bedroom = home.add(home.port(east, Way::Output(1))?, run(&specs::INSIDE, 22.0, Place::Indoor)?)?;
    let nursery = home.add(home.port(east, Way::Output(2))?, run(&specs::INSIDE, 35.0, Place::Indoor)?)?;
    let bedroom = outlet(home, bedroom, Outlet::new(Device::SetTop))?;
    home.join(bedroom)?;
    outlet(home, nursery, Outlet::new(Device::Tv))?;

    let west = home.add(home.port(closet, Way::Output(3))?, run(&specs::DROP, 62.0, Place::Outdoor)?)?;
    let west = after(home, west, Part::Equalizer(&specs::EQUALIZER))?;
    let west = after(home, west, Part::Splitter(&specs::THREE_WAY))?;
    let office = home.add(home.port(west, Way::Output(1))?, run(&specs::INSIDE, 28.0, Place::Indoor)?)?;
    let guest = home.add(home.port(west, Way::Output(2))?, run(&specs::INSIDE, 19.0, Place::Indoor)?)?;
    let porch = home.add(home.port(west, Way::Output(3))?, run(&specs::DROP, 44.0, Place::Outdoor)?)?;
    outlet(home, office, Outlet::new(Device::Modem))?;
    outlet(home, guest, Outlet::new(Device::Tv))?;
    outlet(home, porch, Outlet::new(Device::Tv))?;

    let loft = home.add(home.port(closet, Way::Output(4))?, run(&specs::DROP, 70.0, Place::Indoor)?)?;
    let loft = after(home, loft, Part::Pad(Db::constant(3.0)))?;
    let loft = after(home, loft, Part::Joint(&specs::BARREL))?;
    let loft = outlet(home, loft, Outlet::new(Device::SetTop))?;
    home.join(loft)?;

    let feed = home.add(home.port(closet, Way::Power)?, run(&specs::INSIDE, 30.0, Place::Indoor)?)?;
    let feed = after(home, feed, Part::Joint(&specs::BARREL))?;
    let (volts, amps, spread, source) = specs::SUPPLY;
    home.add_supply(home.port(feed, Way::Only)?, Supply::new(volts, amps).with(spread, source))?;
    Ok(())
}

fn judge_by(home: &mut Home) -> Result<(), Error> {
    let degrees = Temperature::new;
    home.set_climate(Climate::REFERENCE.with(Place::Indoor, degrees(15.0)?, degrees(30.0)?)?.with(
        Place::Outdoor,
        degrees(-25.0)?,
        degrees(45.0)?,
    )?);
    home.set_limits(Device::VoiceModem, specs::VOICE_MODEM);
    home.set_limits(Device::Modem, specs::MODEM);
    home.set_limits(Device::SetTop, specs::SET_TOP);
    home.set_limits(Device::Tv, specs::TV);
    home.set_target(Device::VoiceModem, specs::TARGET);
    home.set_home_network(HomeNetwork { band: specs::NETWORK, max_loss: 50.0 });
    Ok(())
}

fn mhz(mhz: f32) -> Frequency {
    Frequency::constant(mhz)
}
fn run(spec: &'static legwork::Cable<'static>, feet: f32, place: Place) -> Result<Part<'static>, Error> {
    Ok(Part::Cable { spec, length: Length::from_feet(feet)?, place })
}
fn after(home: &mut Home, part: PartId, next: Part<'static>) -> Result<PartId, Error> {
    home.add(home.port(part, Way::Only)?, next)
}
fn outlet(home: &mut Home, part: PartId, outlet: Outlet) -> Result<legwork::OutletId, Error> {
    home.add_outlet(home.port(part, Way::Only)?, outlet)
}
