//! A need file: what is wanted at each outlet, and what is on the truck.

use serde::Deserialize;

use super::table::tables;
use super::{Climate, Entry, HomeNetwork, List, PerDevice, Scalar, Service, Specs};

tables! { Need, Panel, Run, Wanted, Stock, Item, StockSupply }

/// A need file, or a file with a stock alone.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Need<'a> {
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
    /// Where the runs meet.
    pub panel: Option<Panel<'a>>,
    /// The outlets that are wanted.
    pub outlet: List<Wanted<'a>>,
    /// Specs of the file's own.
    pub spec: Specs<'a>,
    /// Limits of devices.
    pub limits: PerDevice<'a>,
    /// The operator's targets.
    pub target: PerDevice<'a>,
    /// Devices that talk over the coax.
    pub home_network: Option<HomeNetwork<'a>>,
    /// What is on the truck.
    pub stock: Option<Stock<'a>>,
}

/// `[panel]`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Panel<'a> {
    /// Whether there is a wall socket.
    #[serde(borrow)]
    pub mains: Option<Scalar<'a>>,
    /// The cable from the entry.
    pub lead_in: Option<Run<'a>>,
}

/// A run of cable.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Run<'a> {
    /// Its kind.
    #[serde(borrow)]
    pub cable: Option<Scalar<'a>>,
    /// Its length.
    pub length: Option<Scalar<'a>>,
    /// Where it lies.
    pub place: Option<Scalar<'a>>,
}

/// `[[outlet]]` of a need.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Wanted<'a> {
    /// Its id.
    #[serde(borrow)]
    pub id: Option<Scalar<'a>>,
    /// What stands there.
    pub device: Option<Scalar<'a>>,
    /// Whether it has to stay up through a mains cut.
    pub lifeline: Option<Scalar<'a>>,
    /// Its run from the panel.
    pub run: Option<Run<'a>>,
    /// Whether there is a wall socket.
    pub mains: Option<Scalar<'a>>,
}

/// `[stock]`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Stock<'a> {
    /// What is wanted between every extreme and its limit.
    #[serde(borrow)]
    pub margin: Option<Scalar<'a>>,
    /// What is on the truck.
    pub item: List<Item<'a>>,
}

/// One of `item`: a kind, and how many at what cost.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct Item<'a> {
    /// A cable by the roll.
    #[serde(borrow)]
    pub cable: Option<Scalar<'a>>,
    /// A splitter.
    pub splitter: Option<Scalar<'a>>,
    /// A directional coupler.
    pub coupler: Option<Scalar<'a>>,
    /// An equalizer.
    pub equalizer: Option<Scalar<'a>>,
    /// A filter.
    pub filter: Option<Scalar<'a>>,
    /// An amplifier.
    pub amplifier: Option<Scalar<'a>>,
    /// A DC power inserter.
    pub inserter: Option<Scalar<'a>>,
    /// A grounding block.
    pub bond: Option<Scalar<'a>>,
    /// A connector pair or barrel.
    pub joint: Option<Scalar<'a>>,
    /// A pad.
    pub pad: Option<Scalar<'a>>,
    /// A plug-in DC supply.
    pub supply: Option<StockSupply<'a>>,
    /// How many.
    pub count: Option<Scalar<'a>>,
    /// What one costs.
    pub cost: Option<Scalar<'a>>,
}

/// A supply on the truck.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(remote = "Self", default, deny_unknown_fields)]
pub struct StockSupply<'a> {
    /// Its voltage.
    #[serde(borrow)]
    pub volts: Option<Scalar<'a>>,
    /// Plus or minus.
    pub spread: Option<Scalar<'a>>,
    /// Its own resistance.
    pub source_ohms: Option<Scalar<'a>>,
    /// What it can give.
    pub amps: Option<Scalar<'a>>,
}
