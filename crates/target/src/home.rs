//! The reference home, and room for its report: fixed capacities, chosen here as a firmware author would. It is
//! built while the program is compiled, and lies in flash.

use legwork::{Db, Device, Error, HomeNetwork, Locator, Outlet, Part, Place, PortId, Premises, Way, Workspace};

use crate::room::Room;
use crate::specs::{self, feet};

/// 23 parts, 32 ports, 8 outlets, 1 supply.
pub type Home = Premises<'static, 23, 32, 8, 1>;
/// Room to check it in.
pub type Desk = Workspace<32, 12, 96, 1, 16>;
/// Room to locate a fault in it, by at most 32 readings.
pub type Finder = Locator<23, 32>;

static HOME: Home = match build(&PARTS) {
    Ok(home) => home,
    Err(_) => panic!("a capacity is too small"),
};
static DESK: Room<Desk> = Room::new(Workspace::new());
static FINDER: Room<Finder> = Room::new(Locator::new());

/// A part, and the way out of which earlier one it hangs on: none for the entry.
pub type Wired = (u8, Way, Part<'static>);
/// Each part.
pub static PARTS: [Wired; 23] = {
    use Way::{Only, Output, Passive, Power};
    const CLOSET: u8 = 3;
    const fn inside(length: f32) -> Part<'static> {
        Part::Cable { spec: &specs::INSIDE, length: feet(length), place: Place::Indoor }
    }
    const fn outdoor(length: f32) -> Part<'static> {
        Part::Cable { spec: &specs::DROP, length: feet(length), place: Place::Outdoor }
    }
    const BARREL: Part<'static> = Part::Joint(&specs::BARREL);
    [
        (NOTHING, Only, Part::Filter(&specs::ENTRY_FILTER)),
        (0, Only, outdoor(85.0)),
        (1, Only, Part::Bond(&specs::BLOCK, specs::CONDUCTOR)),
        (2, Only, Part::Amplifier(&specs::AMPLIFIER)),
        // The study, which works without power.
        (CLOSET, Passive, inside(32.0)),
        (4, Only, BARREL),
        // The den.
        (CLOSET, Output(1), inside(48.0)),
        (6, Only, BARREL),
        // East: bedroom and nursery.
        (CLOSET, Output(2), inside(40.0)),
        (8, Only, Part::Splitter(&specs::TWO_WAY)),
        (9, Output(1), inside(22.0)),
        (9, Output(2), inside(35.0)),
        // West: office, guest room and porch.
        (CLOSET, Output(3), outdoor(62.0)),
        (12, Only, Part::Equalizer(&specs::EQUALIZER)),
        (13, Only, Part::Splitter(&specs::THREE_WAY)),
        (14, Output(1), inside(28.0)),
        (14, Output(2), inside(19.0)),
        (14, Output(3), outdoor(44.0)),
        // The loft.
        (CLOSET, Output(4), Part::Cable { spec: &specs::DROP, length: feet(70.0), place: Place::Indoor }),
        (18, Only, Part::Pad(Db::constant(3.0))),
        (19, Only, BARREL),
        // The supply's cable.
        (CLOSET, Power, inside(30.0)),
        (SUPPLY - 1, Only, BARREL),
    ]
};
/// Stands for the entry.
const NOTHING: u8 = u8::MAX;
/// The part that the supply hangs on.
const SUPPLY: u8 = 22;
/// Each outlet, the part it hangs on, and whether it is a member of the home network.
static OUTLETS: [(u8, Outlet, bool); 8] = [
    (5, Outlet::lifeline(Device::VoiceModem), true),
    (7, Outlet::new(Device::Tv), false),
    (10, Outlet::new(Device::SetTop), true),
    (11, Outlet::new(Device::Tv), false),
    (15, Outlet::new(Device::Modem), false),
    (16, Outlet::new(Device::Tv), false),
    (17, Outlet::new(Device::Tv), false),
    (20, Outlet::new(Device::SetTop), true),
];

/// `?`, which a `const fn` cannot have.
macro_rules! attempt {
    ($made:expr) => {
        match $made {
            Ok(made) => made,
            Err(error) => return Err(error),
        }
    };
}

/// Builds the home of these parts.
///
/// # Errors
/// [`Error::Full`] where a capacity above is too small.
pub const fn build(parts: &[Wired; 23]) -> Result<Home, Error> {
    let mut home = Premises::new(specs::SERVICE, specs::ENTRY);
    let (mut parts, mut outlets, mut limits): (&[_], &[_], &[_]) = (parts, &OUTLETS, &specs::LIMITS);
    while let [(after, way, part), others @ ..] = parts {
        let after = attempt!(port(&home, *after, *way));
        attempt!(home.add(after, *part));
        parts = others;
    }
    while let [(after, outlet, joins), others @ ..] = outlets {
        let after = attempt!(port(&home, *after, Way::Only));
        let outlet = attempt!(home.add_outlet(after, *outlet));
        if *joins {
            attempt!(home.join(outlet));
        }
        outlets = others;
    }
    let after = attempt!(port(&home, SUPPLY, Way::Only));
    attempt!(home.add_supply(after, specs::SUPPLY));
    home.set_climate(specs::CLIMATE);
    while let [(device, of), others @ ..] = limits {
        home.set_limits(*device, *of);
        limits = others;
    }
    home.set_target(Device::VoiceModem, specs::TARGET);
    home.set_home_network(HomeNetwork { band: specs::NETWORK, max_loss: 50.0 });
    Ok(home)
}

/// A way out of the part of a number.
const fn port(home: &Home, part: u8, way: Way) -> Result<PortId, Error> {
    match home.tree().part_id(part as usize) {
        Some(part) => home.port(part, way),
        None => Ok(PortId::ENTRY),
    }
}

/// The home, and a place to check it, once in a program's life.
///
/// # Errors
/// [`Error::Full`] the second time.
pub fn desk() -> Result<(&'static Home, &'static mut Desk), Error> {
    let desk = DESK.take().ok_or(Error::Full { what: "desks", capacity: 1 })?;
    Ok((&HOME, desk))
}

/// A place to locate a fault, handed out once.
///
/// # Errors
/// [`Error::Full`] the second time.
pub fn finder() -> Result<&'static mut Finder, Error> {
    FINDER.take().ok_or(Error::Full { what: "finders", capacity: 1 })
}
