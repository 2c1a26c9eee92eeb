//! A small need and a home that fails, with what is on the truck: for plans and repairs on a board. All invented.

use legwork::mend::{Mended, Mender};
use legwork::plan::{Bench, Item, Need, Outcome, Planner, Run, Stocked, Wanted};
use legwork::{Db, Device, Error, Margin, Outlet, Part, Place, PortId, Premises, Way, Workspace, tables};

use crate::room::Room;
use crate::specs::{self, feet};

/// Room for candidates of 4 outlets.
pub type Table = Bench<'static, 20, 48, 16, 2, 19, 0, 12, 200, 1, 48>;
/// A planner for 6 kinds of stock with 24 ways out, trees of 16 ways out and 4 outlets.
pub type Small = Planner<6, 24, 16, 4, 16>;
/// A mender for homes of at most 16 parts, and 4 outlets.
pub type Handy = Mender<'static, 16, 4>;
/// A home that fails.
pub type Failing = Premises<'static, 8, 16, 4, 1>;

static SMALL: Room<Small> = Room::new(Planner::new());
static HANDY: Room<Handy> = Room::new(Mender::new());

const fn run(length: f32) -> Run<'static> {
    Run { spec: &tables::SERIES_6, length: feet(length), place: Place::Indoor }
}

const fn wanted(device: Device, length: f32) -> Wanted<'static> {
    Wanted { outlet: Outlet::new(device), run: run(length), mains: true, member: false }
}

static WANTED: [Wanted<'static>; 4] =
    [wanted(Device::Modem, 30.0), wanted(Device::Tv, 40.0), wanted(Device::Tv, 20.0), wanted(Device::SetTop, 35.0)];

const fn item(part: Part<'static>, count: u16, cost: u32) -> Item<'static> {
    Item { what: Stocked::Part(part), count, cost }
}

/// Six kinds.
pub static STOCK: [Item<'static>; 6] = [
    item(Part::Splitter(&tables::SPLITTER_2), 3, 300),
    item(Part::Splitter(&tables::SPLITTER_3), 2, 400),
    item(Part::Splitter(&tables::SPLITTER_4), 1, 500),
    item(Part::Coupler(&tables::COUPLER_9), 1, 350),
    item(Part::Pad(Db::constant(3.0)), 2, 150),
    item(Part::Pad(Db::constant(6.0)), 2, 200),
];

/// What is asked of a plan.
#[must_use]
pub fn need() -> Need<'static, 'static> {
    Need { outlets: &WANTED, lead_in: Some(run(20.0)), mains: true, network: None, margin: Db::constant(1.0) }
}

/// A bench, and the rooms for both searches, handed out once.
///
/// # Errors
/// [`Error::Full`] the second time.
pub fn rooms() -> Result<(Table, &'static mut Small, &'static mut Handy), Error> {
    const TWICE: Error = Error::Full { what: "trucks", capacity: 1 };
    let table = Bench::new(Premises::new(specs::SERVICE, specs::ENTRY));
    Ok((table, SMALL.take().ok_or(TWICE)?, HANDY.take().ok_or(TWICE)?))
}

/// A home in which one outlet gets too much and another hangs behind too much: two changes put it right.
///
/// # Errors
/// None: its capacities fit.
pub fn failing() -> Result<Failing, Error> {
    let mut home = Failing::new(specs::SERVICE, specs::ENTRY);
    let lead_in = home.add(PortId::ENTRY, run(20.0).part())?;
    let first = home.add(home.port(lead_in, Way::Only)?, Part::Splitter(&tables::SPLITTER_2))?;
    let near = home.add(home.port(first, Way::Output(1))?, run(3.0).part())?;
    home.add_outlet(home.port(near, Way::Only)?, Outlet::new(Device::Modem))?;
    let pad = home.add(home.port(first, Way::Output(2))?, Part::Pad(Db::constant(20.0)))?;
    let far = home.add(home.port(pad, Way::Only)?, run(90.0).part())?;
    home.add_outlet(home.port(far, Way::Only)?, Outlet::new(Device::Tv))?;
    Ok(home)
}

/// Plans for [`need`].
///
/// # Errors
/// [`Error::Full`] where a room is too small.
pub fn plan(table: &mut Table, small: &mut Small) -> Result<Outcome<16>, Error> {
    small.plan(&need(), &STOCK, table, |_| true)
}

/// Mends [`failing`].
///
/// # Errors
/// As [`plan`].
pub fn mend(table: &mut Table, handy: &mut Handy, home: &Failing) -> Result<Option<Mended>, Error> {
    handy.mend(&home.tree(), &STOCK, 0.5, 3, table, |_| true)
}

/// The smallest margin of a home in dB, and a count that changes with its ways out, its limits and its parts; then it
/// is emptied.
///
/// # Errors
/// [`Error::Full`] where a room is too small.
pub fn weigh(mut home: Failing) -> Result<(f32, usize), Error> {
    let mut desk = Workspace::<16, 8, 60, 1, 24>::new();
    let mut margins = [Margin::NONE; 4 + Margin::FURTHER];
    let tree = home.tree();
    let report = desk.check_margins(&tree, &mut margins)?;
    let smallest =
        report.margins().iter().fold(f32::INFINITY, |least, margin| if margin.db < least { margin.db } else { least });
    let limited = report.near().filter(|(near, _)| *near != legwork::Near::Between).count();
    let ways = limited + tree.part_id(1).map_or(0, |part| tree.ways_out(part).len());
    let ways = ways + tree.parts().map(|(_, part)| part.name().len()).sum::<usize>();
    let wrong = report.findings().iter().filter(|finding| legwork::plan::is_in_the_way(finding));
    let smallest = wrong.fold(smallest, |least, finding| least - finding.decibels_beyond().unwrap_or(0.0));
    let ways = ways + report.feeds_through(PortId::ENTRY).count();
    home.clear();
    Ok((smallest, ways))
}
