//! The keys of a premises file.
#![allow(dead_code, reason = "only their shape is used")]

use schemars::JsonSchema;
use serde_json::{Value, json};

use super::quantity::{Amps, Frequency, Gain, Length, Level, Loss, Ohms, Percent, Split, Temperature, Volts, WireSize};
use super::shape::{Curve, OrNone, Range, Way, Window};
use super::spec::Specs;

/// A home, or a flat or small building, as a tree from the point of entry: what Legwork checks
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Premises {
    /// The version of the format
    pub(crate) format: Format,
    /// What the home is called
    pub(crate) name: Option<String>,
    /// What the network offers
    pub(crate) service: Service,
    /// What was read at the point of entry, on the house side
    pub(crate) entry: Entry,
    /// How cold and how hot it gets; 20 C unless said
    pub(crate) climate: Option<Climate>,
    /// The parts, in any order
    #[schemars(length(max = 1024))]
    pub(crate) part: Option<Vec<Part>>,
    /// The outlets
    pub(crate) outlet: Option<Vec<Outlet>>,
    /// Plug-in DC supplies
    pub(crate) supply: Option<Vec<Supply>>,
    /// Specs of the file's own, which go before built-in ones of the same name
    pub(crate) spec: Option<Specs>,
    /// Limits of devices, in place of the built-in ones; "none" is not checked
    pub(crate) limits: Option<PerDevice>,
    /// The operator's targets, narrower than the limits: a nominal figure outside is marginal
    pub(crate) target: Option<PerDevice>,
    /// Devices that talk to each other over the coax
    pub(crate) home_network: Option<HomeNetwork>,
}

/// The version of the format: 1
#[derive(JsonSchema)]
#[schemars(transparent, extend("const" = 1))]
pub(crate) struct Format(u8);

/// What the network offers
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Service {
    /// Top of the return band / bottom of the forward band
    pub(crate) split: Split,
    /// The loaded channels, in blocks that rise and do not overlap
    #[schemars(length(min = 1))]
    pub(crate) carriers: Vec<Block>,
    /// Bandwidth of noise; left out, a first step of 6 MHz implies 5.360537 MHz, 8 MHz 6.952 MHz, another itself
    pub(crate) noise_bandwidth: Option<Frequency>,
    /// Channels that a modem sends at once; 1 unless said
    #[schemars(range(min = 1, max = 1024))]
    pub(crate) return_channels: Option<u16>,
}

/// Channels in even steps
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Block {
    /// The centre of the first
    pub(crate) first: Frequency,
    /// The centre of the last
    pub(crate) last: Frequency,
    /// From one to the next
    pub(crate) step: Frequency,
    /// Their level against the entry's readings, in totals alone; 0 dB unless said
    pub(crate) offset: Option<Gain>,
}

/// What was read at the point of entry
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Entry {
    /// Levels that were read, [frequency, level], rising in frequency
    #[schemars(length(min = 2))]
    pub(crate) forward: Vec<(Frequency, Level)>,
    /// Carrier-to-noise ratio; left out, noise is not worked out
    pub(crate) cnr: Option<Curve<Gain>>,
    /// What a modem plugged in right at the entry sends, per channel, [frequency, level]; left out, nothing is said of return
    #[schemars(length(min = 1))]
    pub(crate) transmit: Option<Vec<(Frequency, Level)>>,
    /// How far all of these move with season and meter; 0 dB unless said
    pub(crate) spread: Option<Loss>,
    /// Whether the shield is bonded ahead of the entry; false unless said
    pub(crate) bonded: Option<bool>,
}

/// Coldest and hottest, by place
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Climate {
    /// In rooms
    pub(crate) indoor: Option<Range<Temperature>>,
    /// In the open
    pub(crate) outdoor: Option<Range<Temperature>>,
    /// Under the roof
    pub(crate) attic: Option<Range<Temperature>>,
}

/// A name of your choice, unlike that of any other part, outlet or supply
#[derive(JsonSchema)]
#[schemars(transparent, extend("not" = json!({ "const": "entry" })))]
pub(crate) struct Id(
    #[schemars(regex(
        pattern = r"^[^.\u0000-\u001f\u007f-\u009f]*[^.\s\u0000-\u001f\u007f-\u009f][^.\u0000-\u001f\u007f-\u009f]*$"
    ))]
    String,
);

/// The port that it hangs on: `entry`, the id of a part with one way out, or id.1, id.2, id.through, id.tap, id.passive, id.power, id.rf, id.dc
#[derive(JsonSchema)]
#[schemars(transparent)]
pub(crate) struct After(
    #[schemars(regex(pattern = r"^[^.]+(\.([1-9][0-9]*|through|tap|passive|power|rf|dc))?$"))] String,
);

/// Where a cable lies, which says how cold and how hot it gets
#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
pub(crate) enum Place {
    /// In rooms
    Indoor,
    /// In the open
    Outdoor,
    /// Under the roof
    Attic,
}

/// What stands at an outlet
#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
pub(crate) enum Device {
    /// A cable modem
    Modem,
    /// A cable modem that carries the telephone
    VoiceModem,
    /// A set-top box
    SetTop,
    /// A television set
    Tv,
    /// A jack with nothing on it
    Unused,
}

/// A part of exactly one kind; the kind's key names a spec, built in or of this file
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, extend("oneOf" = kinds(), "dependencies" = whose()))]
pub(crate) struct Part {
    pub(crate) id: Id,
    pub(crate) after: After,
    /// A cable: series-59, series-6, series-6-copper, series-7, series-11, or a [spec.cable.NAME]
    pub(crate) cable: Option<String>,
    /// A splitter: 2-way, 3-way, 3-way-unequal, 4-way, 6-way, 8-way, or a [spec.splitter.NAME]
    pub(crate) splitter: Option<String>,
    /// A directional coupler: 6-dB, 9-dB, 12-dB, 16-dB, or a [spec.coupler.NAME]
    pub(crate) coupler: Option<String>,
    /// An equalizer: a [spec.equalizer.NAME]
    pub(crate) equalizer: Option<String>,
    /// A filter: entry-filter, or a [spec.filter.NAME]
    pub(crate) filter: Option<String>,
    /// An amplifier: a [spec.amplifier.NAME]
    pub(crate) amplifier: Option<String>,
    /// A DC power inserter: inserter, or a [spec.inserter.NAME]
    pub(crate) inserter: Option<String>,
    /// A grounding block: bond, or a [spec.bond.NAME]
    pub(crate) bond: Option<String>,
    /// A connector pair or barrel: joint, or a [spec.joint.NAME]
    pub(crate) joint: Option<String>,
    /// A pad, by its loss
    pub(crate) pad: Option<Loss>,
    /// A cable's length
    pub(crate) length: Option<Length>,
    /// Where a cable lies; indoor unless said
    pub(crate) place: Option<Place>,
    /// The size of a bond's conductor
    pub(crate) conductor: Option<WireSize>,
    /// The length of a bond's conductor
    pub(crate) conductor_length: Option<Length>,
    /// Ways out that carry a 75 ohm terminator, by number or name
    pub(crate) terminated: Option<Vec<Way>>,
}

/// What makes a part: one kind, and of a cable its length.
fn kinds() -> Vec<Value> {
    let one = |kind: &str| {
        if kind == "cable" { json!({ "required": ["cable", "length"] }) } else { json!({ "required": [kind] }) }
    };
    super::KINDS.map(one).to_vec()
}

/// Keys that belong to one kind of part.
fn whose() -> Value {
    json!({ "length": ["cable"], "place": ["cable"], "conductor": ["bond"], "conductor_length": ["bond"] })
}

/// A wall outlet and what stands there
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Outlet {
    pub(crate) id: Id,
    pub(crate) after: After,
    pub(crate) device: Device,
    /// Whether it has to stay up through a mains cut; false unless said
    pub(crate) lifeline: Option<bool>,
}

/// A plug-in DC supply
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Supply {
    pub(crate) id: Id,
    pub(crate) after: After,
    /// Its voltage with nothing drawing
    pub(crate) volts: Volts,
    /// Plus or minus; 0 % unless said
    pub(crate) spread: Option<Percent>,
    /// Its own resistance; zero unless said
    pub(crate) source_ohms: Option<Ohms>,
    /// What it can give
    pub(crate) amps: Amps,
}

/// Figures for each kind of device
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, rename_all = "kebab-case")]
pub(crate) struct PerDevice {
    /// A cable modem
    pub(crate) modem: Option<Limits>,
    /// A cable modem that carries the telephone
    pub(crate) voice_modem: Option<Limits>,
    /// A set-top box
    pub(crate) set_top: Option<Limits>,
    /// A television set
    pub(crate) tv: Option<Limits>,
}

/// What a device takes
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Limits {
    /// Lowest and highest level of one channel
    pub(crate) forward: Option<Window>,
    /// Highest total power of all carriers
    pub(crate) total: Option<OrNone<Level>>,
    /// Largest difference between the last and the first carrier
    pub(crate) tilt: Option<OrNone<Loss>>,
    /// Lowest carrier-to-noise ratio
    pub(crate) cnr: Option<OrNone<Loss>>,
    /// Lowest and highest transmit level of one channel
    pub(crate) transmit: Option<Window>,
    /// Largest difference between transmit levels at two return frequencies
    pub(crate) window: Option<OrNone<Loss>>,
    /// Highest level from another outlet's modem; left out, in limits that of total
    pub(crate) neighbour: Option<OrNone<Level>>,
}

/// Devices that talk to each other over the coax
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct HomeNetwork {
    /// Its band
    pub(crate) band: Range<Frequency>,
    /// The ids of the outlets that belong to it
    pub(crate) members: Vec<String>,
    /// The most loss between two of them; not checked unless said
    pub(crate) max_loss: Option<OrNone<Loss>>,
}
