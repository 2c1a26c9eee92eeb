//! Signal levels, noise and DC powering of a home's broadband coax.
//!
//! A technician has measured what comes in at the point of entry and knows the wiring: this crate works out what
//! arrives at every outlet and what a modem there has to send, nominal and at both extremes, holds all of it against what
//! the devices take, and says what is wrong. It is made for firmware first, and gives the same bits on a host.
//!
//! ```
//! use legwork::{tables, Block, Code, Db, Device, Entry, Frequency, Length, Outlet, Part, Place, Point, Points};
//! use legwork::{PortId, Premises, Service, Split, Verdict, Way, Workspace};
//!
//! // The service, and what was read at the entry: 2 dBmV at 57 MHz, -3 dBmV at 861 MHz.
//! let mhz = Frequency::constant;
//! let blocks = [Block::new(mhz(57.0), mhz(861.0), mhz(6.0), Db::ZERO)?];
//! let service = Service::new(Split { return_top: mhz(42.0), forward_bottom: mhz(54.0) }, &blocks)?;
//! let readings = [Point::constant(57.0, 2.0), Point::constant(861.0, -3.0)];
//! let entry = Entry { bonded: true, ..Entry::new(Points::new(&readings)?)? };
//!
//! // The home: a long run, a splitter, a modem; room for 8 parts, 16 ports, 4 outlets, 1 supply.
//! let mut home = Premises::<8, 16, 4, 1>::new(service, entry);
//! let run = Part::Cable { spec: &tables::SERIES_6, length: Length::from_feet(160.0)?, place: Place::Indoor };
//! let run = home.add(PortId::ENTRY, run)?;
//! let splitter = home.add(home.port(run, Way::Only)?, Part::Splitter(&tables::SPLITTER_2))?;
//! home.add_outlet(home.port(splitter, Way::Output(1))?, Outlet::new(Device::Modem))?;
//! home.terminate(home.port(splitter, Way::Output(2))?)?;
//!
//! // The check, in a room of its own.
//! let tree = home.tree();
//! let mut room = Workspace::<16, 8, 40, 1, 16>::new();
//! let report = room.check(&tree)?;
//! for finding in report.findings() {
//!     println!("{}", finding.brief());
//! }
//! assert_eq!(report.verdict(), Verdict::Fail);
//! assert_eq!(report.findings()[0].code, Code::ForwardLow);
//! assert_eq!(report.findings()[0].brief(), "low: -16.6 dBmV at 861 MHz");
//! # Ok::<(), legwork::Error>(())
//! ```
//!
//! # Where to begin
//!
//! - [`Premises`] builds a home, [`Workspace::check`] checks it, [`Report`] is what came out.
//! - [`Tree::level_at`] and [`Tree::transmit_at`] are the levels at one place and frequency, without a check.
//! - [`Locator::locate`] says which part has more loss than it should, by what was read, and where to read next.
//! - [`quick`] is what a technician works out ten times a day, without a home.
//! - [`tables`] is what is built in, each number with its source.
//! - [`firmware`] is the chapter for a board: capacities, RAM, flash, and how each promise is checked.
//!
//! # What is promised
//!
//! - **No std, no heap.** Capacities are const generics; full is an error that names the capacity, and nothing has changed.
//! - **No panic** in any function that runs on a board, proved at link time, and no `unsafe`.
//! - **The same bits** on every target: `libm` by name, and nothing whose rounding a compiler may choose.
//! - **Every number has its unit**: in its type ([`Level`], [`Db`], [`Length`]), or in the words beside it.
//!
//! # Features
//!
//! None is on by default; each only adds, and changes no figure.
//!
//! - `serde`: `Serialize` for quantities, ids, figures, findings and the rows of a report.
//! - `defmt`: `defmt::Format` for the same.

// Runs where there is no operating system; there is no feature that would bring std in.
#![no_std]
// A board that panics is a dead meter: what can is denied here, in tests allowed one by one with a reason. That nothing
// is left is proved at link time. `unsafe` is forbidden and documentation demanded by the workspace's lints.
#![deny(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod between;
mod channels;
mod check;
mod climate;
mod curve;
mod error;
mod feed;
pub mod firmware;
mod forward;
mod limits;
mod load;
mod locate;
mod math;
pub mod mend;
mod noise;
mod parts;
pub mod plan;
mod premises;
pub mod quick;
mod reverse;
pub mod tables;
mod units;
mod walk;

pub use channels::{Band, Block, Service, Split};
pub use check::{
    AmplifierReport, At, Code, DcReport, Finding, LinkReport, Margin, Near, OutletReport, Report, Verdict, Workspace,
};
pub use climate::{Case, Climate, Figure, Place};
pub use curve::{Curve, Point, Points};
pub use error::Error;
pub use feed::Feed;
pub use limits::{Device, Limits};
pub use locate::{Diagnosis, Expected, ExtraLoss, Locator, NextReading, READING_ERROR, Reading, Shape, Suspect};
pub use parts::{
    Amplifier, Bond, Cable, Conductor, Coupler, DcPorts, Draw, Equalizer, Filter, Inserter, Joint, Legs, Part,
    Splitter, Way,
};
pub use premises::{Entry, HomeNetwork, Occupant, Outlet, OutletId, PartId, PortId, Premises, Supply, SupplyId, Tree};
pub use units::{Amps, Awg, Db, Frequency, Length, Level, METRES_PER_FOOT, Ohms, Percent, Temperature, Volts, Watts};
