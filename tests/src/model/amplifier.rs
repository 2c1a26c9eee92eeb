//! What an amplifier's spec says.

use serde_json::Value;

use super::{
    quantity::{self, text},
    tables::Curve,
};

/// What an amplifier draws, whatever the voltage.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Draw {
    /// Watts.
    Power(f64),
    /// Amperes.
    Current(f64),
}

impl Draw {
    /// The current in amperes at a voltage.
    pub(crate) fn amps(self, volts: f64) -> f64 {
        match self {
            Self::Power(watts) => watts / volts,
            Self::Current(amps) => amps,
        }
    }

    /// So many times the draw.
    pub(crate) fn times(self, factor: f64) -> Self {
        match self {
            Self::Power(watts) => Self::Power(watts * factor),
            Self::Current(amps) => Self::Current(amps * factor),
        }
    }
}

/// A `[spec.amplifier.NAME]`, in MHz, dB, dBmV and volts.
#[derive(Clone, Debug)]
pub(crate) struct Amplifier {
    pub(crate) outputs: usize,
    pub(crate) gain: Curve,
    pub(crate) return_gain: Option<Curve>,
    pub(crate) noise_figure: Curve,
    pub(crate) max_input_total: f64,
    pub(crate) max_output_total: Option<f64>,
    pub(crate) max_return_total: Option<f64>,
    pub(crate) network_loss: Option<Curve>,
    pub(crate) split: Option<(f64, f64)>,
    pub(crate) draw: Draw,
    pub(crate) runs_on: (f64, f64),
    /// The names of its ports through which it can be powered, without its id: `in`, `power`, `1`.
    pub(crate) dc_ports: Vec<String>,
}

impl Amplifier {
    /// Reads the spec of an amplifier; `id` is for the message alone.
    pub(crate) fn read(id: &str, spec: &Value) -> Self {
        let curve = |key: &str| {
            let value = Some(&spec[key]).filter(|value| !value.is_null())?;
            Some(Curve::read(value, quantity::db))
        };
        let needed = |key: &str| curve(key).unwrap_or_else(|| panic!("{id} has no {key}"));
        let level = |key: &str| {
            let value = Some(&spec[key]).filter(|value| !value.is_null())?;
            Some(quantity::dbmv(value))
        };
        let draw = if text(&spec["draw"]).ends_with('W') {
            Draw::Power(quantity::watts(&spec["draw"]))
        } else {
            Draw::Current(quantity::amps(&spec["draw"]))
        };
        let ports = spec["dc_ports"].as_array().into_iter().flatten();
        Self {
            outputs: spec["outputs"].as_u64().expect("outputs") as usize,
            gain: needed("gain"),
            return_gain: curve("return_gain"),
            noise_figure: needed("noise_figure"),
            max_input_total: level("max_input_total").expect("max_input_total"),
            max_output_total: level("max_output_total"),
            max_return_total: level("max_return_total"),
            network_loss: curve("network_loss"),
            split: Some(&spec["split"]).filter(|v| !v.is_null()).map(quantity::split),
            draw,
            runs_on: (quantity::volts(&spec["runs_on"][0]), quantity::volts(&spec["runs_on"][1])),
            dc_ports: ports.map(|port| text(port).to_owned()).collect(),
        }
    }
}
