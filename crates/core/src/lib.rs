//! Signal levels, noise and DC powering of a home's broadband coax.
#![no_std]
#![warn(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod between;
mod channels;
mod check;
mod climate;
mod curve;
mod error;
mod feed;
mod forward;
mod limits;
mod load;
mod math;
mod noise;
mod parts;
mod premises;
pub mod quick;
mod reverse;
pub mod tables;
mod units;
mod walk;

pub use channels::{Band, Block, Service, Split};
pub use check::{AmplifierReport, At, Code, DcReport, Finding, LinkReport, OutletReport, Report, Verdict, Workspace};
pub use climate::{Case, Climate, Figure, Place};
pub use curve::{Curve, Point, Points};
pub use error::Error;
pub use feed::Feed;
pub use limits::{Device, Limits};
pub use parts::{
    Amplifier, Bond, Cable, Conductor, Coupler, DcPorts, Draw, Equalizer, Filter, Inserter, Joint, Legs, Part,
    Splitter, Way,
};
pub use premises::{Entry, HomeNetwork, Occupant, Outlet, OutletId, PartId, PortId, Premises, Supply, SupplyId, Tree};
pub use units::{Amps, Awg, Db, Frequency, Length, Level, METRES_PER_FOOT, Ohms, Percent, Temperature, Volts, Watts};
