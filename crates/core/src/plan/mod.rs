//! The best set of parts for a home: which to take from the truck, where each goes, how to power them.
//!
//! A [`Need`] says what is wanted at the end of each run, a stock of [`Item`]s what is at hand. A [`Planner`] finds the
//! tree of parts at the panel that makes everything good, by [`Workspace::check`](crate::Workspace::check) and with the
//! wanted margin, with the fewest amplifiers, at the lowest cost, with the largest smallest margin.
//!
//! ```
//! use legwork::plan::{Bench, Build, Item, Need, Outcome, Planner, Run, Stocked, Wanted};
//! use legwork::{Block, Db, Device, Entry, Frequency, Length, Outlet, Part, Place, Point, Points, Premises, Service};
//! use legwork::{Split, tables};
//!
//! let mhz = Frequency::constant;
//! let blocks = [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO)?];
//! let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks)?;
//! let readings = [Point::constant(57.0, 9.0), Point::constant(861.0, 7.0)];
//! let entry = Entry { bonded: true, ..Entry::new(Points::new(&readings)?)? };
//!
//! // A modem and a TV, each at the end of its run, and two splitters on the truck.
//! let run = Run { spec: &tables::SERIES_6, length: Length::constant(12.0), place: Place::Indoor };
//! let wanted = |device| Wanted { outlet: Outlet::new(device), run, mains: false, member: false };
//! let outlets = [wanted(Device::Modem), wanted(Device::Tv)];
//! let need = Need { outlets: &outlets, lead_in: None, mains: false, network: None, margin: Db::constant(1.0) };
//! let item = |part, cost| Item { what: Stocked::Part(part), count: 1, cost };
//! let stock = [item(Part::Splitter(&tables::SPLITTER_4), 500), item(Part::Splitter(&tables::SPLITTER_2), 300)];
//!
//! let mut bench = Bench::<16, 48, 4, 1, 7, 0, 8, 80, 1, 32>::new(Premises::new(service, entry));
//! let mut planner = Planner::<4, 12, 8, 4, 8>::new();
//! let Outcome::Found(plan) = planner.plan(&need, &stock, &mut bench, |_| true)? else { panic!("there is one") };
//! assert_eq!((plan.amplifiers, plan.cost, plan.proved), (0, 300, true));
//!
//! // The home that comes of it, on the bench.
//! plan.build(&need, &stock, &mut bench, |_| {})?;
//! assert_eq!(bench.tree().parts().len(), 3);
//! # Ok::<(), legwork::Error>(())
//! ```

mod bench;
mod cuts;
mod design;
mod fleets;
mod grow;
mod judge;
pub(crate) mod leaf;
mod matching;
pub(crate) mod menu;
mod need;
mod planner;
mod powering;
mod prices;
mod reach;
mod relaxed;
mod rounds;
mod routes;
mod rows;
mod search;
mod shares;
mod slots;
mod swap;
mod wants;

pub use bench::{Bench, Build};
pub use design::{MOST_SUPPLIES, Origin};
pub use leaf::is_in_the_way;
pub use need::{Item, Need, Run, Stocked, Wanted};
pub use planner::{Outcome, Plan, Planner};
pub use search::Progress;
