//! The keys of a need file: what is wanted at each outlet, and what is on the truck.
#![allow(dead_code, reason = "only their shape is used")]

use schemars::JsonSchema;
use serde_json::{Value, json};

use super::premises::{Climate, Device, Entry, Format, HomeNetwork, Id, PerDevice, Place, Service};
use super::quantity::{Amps, Length, Loss, Ohms, Percent, Volts};
use super::spec::Specs;

/// What is wanted at each outlet of a home and what is on the truck, for a plan; or a stock alone, to mend a home from
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, extend("dependencies" = plan()))]
pub(crate) struct Need {
    /// The version of the format
    pub(crate) format: Option<Format>,
    /// What the home is called
    pub(crate) name: Option<String>,
    /// What the network offers
    pub(crate) service: Option<Service>,
    /// What was read at the point of entry, on the house side
    pub(crate) entry: Option<Entry>,
    /// How cold and how hot it gets; 20 C unless said
    pub(crate) climate: Option<Climate>,
    /// Where the runs meet
    pub(crate) panel: Option<Panel>,
    /// The outlets that are wanted, each with its run from the panel
    #[schemars(length(min = 1, max = 64))]
    pub(crate) outlet: Option<Vec<Wanted>>,
    /// Specs of the file's own, which go before built-in ones of the same name
    pub(crate) spec: Option<Specs>,
    /// Limits of devices, in place of the built-in ones; "none" is not checked
    pub(crate) limits: Option<PerDevice>,
    /// The operator's targets, narrower than the limits
    pub(crate) target: Option<PerDevice>,
    /// Devices that talk to each other over the coax
    pub(crate) home_network: Option<HomeNetwork>,
    pub(crate) stock: Stock,
}

/// What a plan needs besides a stock.
fn plan() -> Value {
    let all = ["format", "service", "entry", "panel", "outlet"];
    json!({ "panel": all, "outlet": all })
}

/// Where the runs meet
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Panel {
    /// Whether there is a wall socket; false unless said
    pub(crate) mains: Option<bool>,
    /// The cable from the entry, where there is one
    pub(crate) lead_in: Option<Run>,
}

/// A run of cable
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Run {
    /// Its kind: series-59, series-6, series-6-copper, series-7, series-11, or a [spec.cable.NAME]
    pub(crate) cable: String,
    pub(crate) length: Length,
    /// Where it lies; indoor unless said
    pub(crate) place: Option<Place>,
}

/// An outlet that is wanted
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Wanted {
    pub(crate) id: Id,
    /// What will stand there; a plan is for outlets with a device
    #[schemars(extend("not" = json!({ "const": "unused" })))]
    pub(crate) device: Device,
    /// Whether it has to stay up through a mains cut; false unless said
    pub(crate) lifeline: Option<bool>,
    /// Its run from the panel
    pub(crate) run: Run,
    /// Whether there is a wall socket, where a supply could stand; false unless said
    pub(crate) mains: Option<bool>,
}

/// What is on the truck
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Stock {
    /// What is wanted between every extreme and its limit; 0 dB unless said
    pub(crate) margin: Option<Loss>,
    /// What is there, one entry a kind
    #[schemars(length(max = 64))]
    pub(crate) item: Option<Vec<Item>>,
}

/// A thing on the truck, of exactly one kind, and how many at what cost
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, extend("oneOf" = kinds()))]
pub(crate) struct Item {
    /// A cable by the roll
    pub(crate) cable: Option<String>,
    /// A splitter
    pub(crate) splitter: Option<String>,
    /// A directional coupler
    pub(crate) coupler: Option<String>,
    /// An equalizer
    pub(crate) equalizer: Option<String>,
    /// A filter
    pub(crate) filter: Option<String>,
    /// An amplifier
    pub(crate) amplifier: Option<String>,
    /// A DC power inserter
    pub(crate) inserter: Option<String>,
    /// A grounding block
    pub(crate) bond: Option<String>,
    /// A connector pair or barrel
    pub(crate) joint: Option<String>,
    /// A pad, by its loss
    pub(crate) pad: Option<Loss>,
    /// A plug-in DC supply
    pub(crate) supply: Option<StockSupply>,
    /// How many; 1 unless said
    #[schemars(range(max = 9999))]
    pub(crate) count: Option<u16>,
    /// What one costs, with at most two decimals, without quotes; nothing unless said
    #[schemars(range(min = 0, max = 1_000_000))]
    pub(crate) cost: Option<f64>,
}

fn kinds() -> Vec<Value> {
    super::KINDS.iter().chain(&["supply"]).map(|kind| json!({ "required": [kind] })).collect()
}

/// A plug-in DC supply on the truck
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct StockSupply {
    /// Its voltage with nothing drawing
    pub(crate) volts: Volts,
    /// Plus or minus; 0 % unless said
    pub(crate) spread: Option<Percent>,
    /// Its own resistance; zero unless said
    pub(crate) source_ohms: Option<Ohms>,
    /// What it can give
    pub(crate) amps: Amps,
}
