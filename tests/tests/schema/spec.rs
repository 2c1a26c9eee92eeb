//! `[spec.KIND.NAME]`: specs of a file's own.
#![allow(dead_code, reason = "only their shape is used")]

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde_json::{Value, json};

use super::quantity::{Draw, Frequency, Gain, Level, Loss, Ohms, Percent, Split, UnitLength, Volts};
use super::shape::{Curve, OrNone, Range};

/// Specs by their names
type Named<T> = Option<BTreeMap<String, T>>;

/// Specs of the file's own, by kind and name
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Specs {
    /// Cables by their names
    #[schemars(extend("maxProperties" = 1024))]
    pub(crate) cable: Named<Cable>,
    /// Splitters by their names
    #[schemars(extend("maxProperties" = 1024))]
    pub(crate) splitter: Named<Splitter>,
    /// Directional couplers by their names
    #[schemars(extend("maxProperties" = 1024))]
    pub(crate) coupler: Named<Coupler>,
    /// DC power inserters by their names
    #[schemars(extend("maxProperties" = 1024))]
    pub(crate) inserter: Named<Inserter>,
    /// Filters by their names
    #[schemars(extend("maxProperties" = 1024))]
    pub(crate) filter: Named<Filter>,
    /// Equalizers by their names
    #[schemars(extend("maxProperties" = 1024))]
    pub(crate) equalizer: Named<Equalizer>,
    /// Amplifiers by their names
    #[schemars(extend("maxProperties" = 1024))]
    pub(crate) amplifier: Named<Amplifier>,
    /// Connector pairs and barrels by their names
    #[schemars(extend("maxProperties" = 1024))]
    pub(crate) joint: Named<Joint>,
    /// Grounding blocks by their names
    #[schemars(extend("maxProperties" = 1024))]
    pub(crate) bond: Named<Joint>,
}

/// A cable
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Cable {
    /// Loss of one length, linear in the square root of frequency between points
    pub(crate) loss: Curve<Loss>,
    /// The length that loss and loop are given for, above zero
    pub(crate) per: UnitLength,
    /// DC resistance there and back per that length, at 20 C
    pub(crate) r#loop: Ohms,
    /// Fraction of the speed of light, without quotes
    #[schemars(extend("exclusiveMinimum" = 0), range(max = 1))]
    pub(crate) velocity: f64,
    /// Plus or minus, in percent of its loss; 0 % unless said
    pub(crate) spread: Option<Percent>,
    /// Where its maker vouches for it
    pub(crate) band: Option<Range<Frequency>>,
}

/// A splitter: either `legs` and one `loss`, or a `leg_loss` for each
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, extend("oneOf" = legs(), "not" = json!({ "required": ["loss", "leg_loss"] }), "if" = passes(&json!({ "minItems": 1 })), "then" = resists()))]
pub(crate) struct Splitter {
    /// How many legs
    #[schemars(range(min = 1, max = 16))]
    pub(crate) legs: Option<u8>,
    /// From the input to a leg, one for all legs
    pub(crate) loss: Option<Curve<Loss>>,
    /// From the input to a leg, one for each leg
    #[schemars(length(min = 1, max = 16))]
    pub(crate) leg_loss: Option<Vec<Curve<Loss>>>,
    /// From one leg to another; 20 dB unless said
    pub(crate) isolation: Option<Curve<Loss>>,
    /// The numbers of the legs that pass DC; none unless said
    #[schemars(inner(range(min = 1, max = 16)))]
    pub(crate) dc_pass: Option<Vec<u8>>,
    /// DC resistance from the input to a leg; needed where one passes DC
    pub(crate) dc_ohms: Option<Ohms>,
    /// Plus or minus; 0 dB unless said
    pub(crate) spread: Option<Loss>,
    /// Where its maker vouches for it
    pub(crate) band: Option<Range<Frequency>>,
}

fn legs() -> Value {
    json!([{ "required": ["legs", "loss"] }, { "required": ["leg_loss"] }])
}

/// Whether `dc_pass` lets anything through.
fn passes(when: &Value) -> Value {
    json!({ "required": ["dc_pass"], "properties": { "dc_pass": when } })
}

fn resists() -> Value {
    json!({ "required": ["dc_ohms"] })
}

/// A way out of a coupler
#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
pub(crate) enum CouplerWay {
    /// Straight through
    Through,
    /// To the tap
    Tap,
}

/// A directional coupler
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, extend("if" = passes(&json!({ "minItems": 1 })), "then" = resists()))]
pub(crate) struct Coupler {
    /// From the input to the tap
    pub(crate) tap: Curve<Loss>,
    /// From the input straight through
    pub(crate) through: Curve<Loss>,
    /// From tap to through; 20 dB unless said
    pub(crate) isolation: Option<Curve<Loss>>,
    /// The ways out that pass DC; none unless said
    pub(crate) dc_pass: Option<Vec<CouplerWay>>,
    /// DC resistance from the input to a way out; needed where one passes DC
    pub(crate) dc_ohms: Option<Ohms>,
    /// Plus or minus; 0 dB unless said
    pub(crate) spread: Option<Loss>,
    /// Where its maker vouches for it
    pub(crate) band: Option<Range<Frequency>>,
}

/// A DC power inserter: DC goes between its port `dc` and its input, and not to its port `rf`
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Inserter {
    /// From the input to the port `rf`
    pub(crate) loss: Curve<Loss>,
    /// DC resistance; zero unless said
    pub(crate) dc_ohms: Option<Ohms>,
    /// Plus or minus; 0 dB unless said
    pub(crate) spread: Option<Loss>,
    /// Where its maker vouches for it
    pub(crate) band: Option<Range<Frequency>>,
}

/// A filter
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, extend("if" = passes(&json!({ "const": true })), "then" = resists()))]
pub(crate) struct Filter {
    /// Its loss
    pub(crate) loss: Curve<Loss>,
    /// The band that it sends back
    pub(crate) reflects: Option<Range<Frequency>>,
    /// Whether it passes DC; false unless said
    pub(crate) dc_pass: Option<bool>,
    /// DC resistance; needed where it passes DC
    pub(crate) dc_ohms: Option<Ohms>,
    /// Plus or minus; 0 dB unless said
    pub(crate) spread: Option<Loss>,
    /// Where its maker vouches for it
    pub(crate) band: Option<Range<Frequency>>,
}

/// An equalizer
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, extend("if" = passes(&json!({ "const": true })), "then" = resists()))]
pub(crate) struct Equalizer {
    /// Its loss
    pub(crate) loss: Curve<Loss>,
    /// Whether it passes DC; false unless said
    pub(crate) dc_pass: Option<bool>,
    /// DC resistance; needed where it passes DC
    pub(crate) dc_ohms: Option<Ohms>,
    /// Plus or minus; 0 dB unless said
    pub(crate) spread: Option<Loss>,
    /// Where its maker vouches for it
    pub(crate) band: Option<Range<Frequency>>,
}

/// A connector pair or barrel, or a grounding block; both pass DC
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Joint {
    /// Its loss
    pub(crate) loss: Curve<Loss>,
    /// DC resistance, there and back; zero unless said
    pub(crate) dc_ohms: Option<Ohms>,
    /// Plus or minus; 0 dB unless said
    pub(crate) spread: Option<Loss>,
    /// Where its maker vouches for it
    pub(crate) band: Option<Range<Frequency>>,
}

/// A port through which an amplifier can be powered: "power", "in", or the number of an output
#[derive(JsonSchema)]
#[schemars(untagged)]
pub(crate) enum DcPort {
    Output(#[schemars(range(min = 1, max = 16))] u8),
    Name(#[schemars(regex(pattern = r"^(power|in|\+?0*([1-9]|1[0-6]))$"))] String),
}

/// An amplifier
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct Amplifier {
    /// How many outputs
    #[schemars(range(min = 1, max = 16))]
    pub(crate) outputs: u8,
    /// From the input to any output
    pub(crate) gain: Curve<Gain>,
    /// From an output back to the input, negative without amplification; left out, there is no return path
    pub(crate) return_gain: Option<Curve<Gain>>,
    /// Loss from the input to a port `passive` that needs no power; left out, there is none
    pub(crate) passive: Option<Curve<Loss>>,
    /// Noise figure at the input, forward
    pub(crate) noise_figure: Curve<Loss>,
    /// Between two ways out; 20 dB unless said
    pub(crate) isolation: Option<Curve<Loss>>,
    /// From input to output in the home network's band; left out, it blocks it
    pub(crate) network_loss: Option<Curve<Loss>>,
    /// The most total power of all carriers at the input
    pub(crate) max_input_total: Option<OrNone<Level>>,
    /// The most total power of all carriers at an output
    pub(crate) max_output_total: Option<OrNone<Level>>,
    /// The most total power at an output from the modems behind it
    pub(crate) max_return_total: Option<OrNone<Level>>,
    /// Top of its return band / bottom of its forward band
    pub(crate) split: Option<Split>,
    /// What it draws
    pub(crate) draw: Draw,
    /// Lowest and highest voltage at its port
    pub(crate) runs_on: Range<Volts>,
    /// Ports through which it can be powered
    pub(crate) dc_ports: Option<Vec<DcPort>>,
    /// Plus or minus, of gain, return gain and passive loss; 0 dB unless said
    pub(crate) spread: Option<Loss>,
    /// Where its maker vouches for it
    pub(crate) band: Option<Range<Frequency>>,
}
