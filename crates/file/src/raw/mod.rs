//! A premises file as plain values, borrowed from its text where they can be.
//!
//! The same structures are read from TOML, from JSON, and, when something is wrong, from a tree
//! that remembers where everything stood. Nothing is required here and no text is taken apart:
//! what is missing or makes no sense is for the next step to say, which can say all of it at once.

mod curve;
mod list;
mod named;
mod need;
mod part;
mod scalar;
mod spec;
mod table;

pub use curve::{Curve, OneOrMany, Pair, Window};
pub use list::List;
pub use named::Named;
pub use need::{Item, Need, Panel, Run, Stock, StockSupply, Wanted};
pub use part::{Kind, Part};
pub use scalar::Scalar;
pub use spec::{Amplifier, Cable, Coupler, Equalizer, Filter, Inserter, Joint, Specs, Splitter};

use serde::Deserialize;

use table::tables;

/// A kind of file: what its text is read into.
pub trait File {
    /// The plain values of a text.
    type Of<'a>: Deserialize<'a>;
}

/// Premises files.
#[derive(Debug)]
pub enum PremisesFile {}

impl File for PremisesFile {
    type Of<'a> = Premises<'a>;
}

/// Need files, and files with a stock alone.
#[derive(Debug)]
pub enum NeedFile {}

impl File for NeedFile {
    type Of<'a> = Need<'a>;
}

tables! { Premises, Service, Block, Entry, Climate, Outlet, Supply, PerDevice, Limits, HomeNetwork }

/// A premises file.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Premises<'a> {
    /// The version of the format: 1.
    #[serde(borrow)]
    pub format: Option<Scalar<'a>>,
    /// What the home is called.
    pub name: Option<Scalar<'a>>,
    /// What the network offers.
    pub service: Option<Service<'a>>,
    /// What was read at the entry.
    pub entry: Option<Entry<'a>>,
    /// How warm it gets.
    pub climate: Option<Climate<'a>>,
    /// The parts.
    pub part: List<Part<'a>>,
    /// The outlets.
    pub outlet: List<Outlet<'a>>,
    /// The supplies.
    pub supply: List<Supply<'a>>,
    /// Specs of the file's own.
    pub spec: Specs<'a>,
    /// Limits of devices.
    pub limits: PerDevice<'a>,
    /// The operator's targets.
    pub target: PerDevice<'a>,
    /// Devices that talk over the coax.
    pub home_network: Option<HomeNetwork<'a>>,
}

/// `[service]`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Service<'a> {
    /// Return and forward band.
    #[serde(borrow)]
    pub split: Option<Scalar<'a>>,
    /// The loaded channels.
    pub carriers: Option<List<Block<'a>>>,
    /// The bandwidth of noise.
    pub noise_bandwidth: Option<Scalar<'a>>,
    /// Channels a modem sends at once.
    pub return_channels: Option<Scalar<'a>>,
}

/// One of `carriers`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Block<'a> {
    /// The first centre.
    #[serde(borrow)]
    pub first: Option<Scalar<'a>>,
    /// The last centre.
    pub last: Option<Scalar<'a>>,
    /// From one to the next.
    pub step: Option<Scalar<'a>>,
    /// Level against the entry's readings.
    pub offset: Option<Scalar<'a>>,
}

/// `[entry]`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Entry<'a> {
    /// Forward readings.
    #[serde(borrow)]
    pub forward: Option<Curve<'a>>,
    /// Carrier-to-noise ratio.
    pub cnr: Option<Curve<'a>>,
    /// Transmit levels.
    pub transmit: Option<Curve<'a>>,
    /// How far all of these move.
    pub spread: Option<Scalar<'a>>,
    /// Whether the shield is bonded ahead of it.
    pub bonded: Option<Scalar<'a>>,
}

/// `[climate]`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Climate<'a> {
    /// Coldest and hottest in a room.
    #[serde(borrow)]
    pub indoor: Option<Window<'a>>,
    /// In the open.
    pub outdoor: Option<Window<'a>>,
    /// Under the roof.
    pub attic: Option<Window<'a>>,
}

/// `[[outlet]]`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Outlet<'a> {
    /// Its id.
    #[serde(borrow)]
    pub id: Option<Scalar<'a>>,
    /// The port it hangs on.
    pub after: Option<Scalar<'a>>,
    /// What stands there.
    pub device: Option<Scalar<'a>>,
    /// Whether it has to stay up through a mains cut.
    pub lifeline: Option<Scalar<'a>>,
}

/// `[[supply]]`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Supply<'a> {
    /// Its id.
    #[serde(borrow)]
    pub id: Option<Scalar<'a>>,
    /// The port it hangs on.
    pub after: Option<Scalar<'a>>,
    /// Its voltage.
    pub volts: Option<Scalar<'a>>,
    /// Plus or minus.
    pub spread: Option<Scalar<'a>>,
    /// Its own resistance.
    pub source_ohms: Option<Scalar<'a>>,
    /// What it can give.
    pub amps: Option<Scalar<'a>>,
}

/// `[limits.DEVICE]` or `[target.DEVICE]`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct PerDevice<'a> {
    /// A cable modem.
    #[serde(borrow)]
    pub modem: Option<Limits<'a>>,
    /// One that carries the telephone.
    #[serde(rename = "voice-modem")]
    pub voice_modem: Option<Limits<'a>>,
    /// A set-top box.
    #[serde(rename = "set-top")]
    pub set_top: Option<Limits<'a>>,
    /// A television set.
    pub tv: Option<Limits<'a>>,
}

/// The limits of one device.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Limits<'a> {
    /// Lowest and highest level.
    #[serde(borrow)]
    pub forward: Option<Window<'a>>,
    /// Highest total.
    pub total: Option<Scalar<'a>>,
    /// Largest tilt.
    pub tilt: Option<Scalar<'a>>,
    /// Lowest carrier-to-noise ratio.
    pub cnr: Option<Scalar<'a>>,
    /// Lowest and highest transmit level.
    pub transmit: Option<Window<'a>>,
    /// Largest difference between transmit levels.
    pub window: Option<Scalar<'a>>,
    /// Highest level from another outlet's modem.
    pub neighbour: Option<Scalar<'a>>,
}

/// `[home_network]`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct HomeNetwork<'a> {
    /// Its band.
    #[serde(borrow)]
    pub band: Option<Window<'a>>,
    /// The outlets that belong to it.
    pub members: Option<List<Scalar<'a>>>,
    /// The most loss between two of them.
    pub max_loss: Option<Scalar<'a>>,
}
