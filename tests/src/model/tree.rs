//! The whole home: service, entry, parts, outlets and supplies, and the ways through them.

use std::collections::HashMap;

use serde_json::Value;

use super::{
    limits::Limits,
    part::{Part, Through, band},
    quantity::{self, text},
    tables::Curve,
};

/// One loaded channel.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Carrier {
    pub(crate) mhz: f64,
    /// Against the entry's readings, in dB; counts in totals alone.
    pub(crate) offset: f64,
    /// The channel spacing of its block.
    pub(crate) step: f64,
}

/// A part and one of its ways out.
pub(crate) type Step = (usize, usize);

/// An `[[outlet]]`.
#[derive(Clone, Debug)]
pub(crate) struct Outlet {
    pub(crate) id: String,
    pub(crate) after: String,
    pub(crate) device: String,
    pub(crate) lifeline: bool,
}

impl Outlet {
    /// Whether a modem of either kind hangs on it.
    pub(crate) fn is_modem(&self) -> bool {
        matches!(self.device.as_str(), "modem" | "voice-modem")
    }
}

/// A `[[supply]]`, in volts, ohms and amperes; the spread as a fraction.
#[derive(Clone, Debug)]
pub(crate) struct Supply {
    pub(crate) id: String,
    pub(crate) after: String,
    pub(crate) volts: f64,
    pub(crate) spread: f64,
    pub(crate) source_ohms: f64,
    pub(crate) amps: f64,
}

/// The `[home_network]`.
#[derive(Clone, Debug)]
pub(crate) struct Network {
    pub(crate) band: (f64, f64),
    /// Places in the list of outlets.
    pub(crate) members: Vec<usize>,
    pub(crate) max_loss: f64,
}

/// A premises file, read.
#[derive(Clone, Debug)]
pub(crate) struct Home {
    pub(crate) name: String,
    pub(crate) split: (f64, f64),
    pub(crate) carriers: Vec<Carrier>,
    pub(crate) noise_bandwidth_mhz: f64,
    pub(crate) return_channels: f64,
    pub(crate) forward: Curve,
    pub(crate) cnr: Option<Curve>,
    pub(crate) transmit: Option<Curve>,
    pub(crate) spread: f64,
    pub(crate) bonded: bool,
    pub(crate) parts: Vec<Part>,
    pub(crate) outlets: Vec<Outlet>,
    pub(crate) supplies: Vec<Supply>,
    pub(crate) network: Option<Network>,
    pub(crate) limits: HashMap<String, Limits>,
    pub(crate) targets: HashMap<String, Limits>,
}

/// The rows of an array that may be left out.
fn rows(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().into_iter().flatten()
}

/// A value that may be left out.
fn or(value: &Value, read: fn(&Value) -> f64, otherwise: f64) -> f64 {
    if value.is_null() { otherwise } else { read(value) }
}

impl Home {
    /// Reads a valid premises.
    pub(crate) fn read(premises: &Value) -> Self {
        let (service, entry) = (&premises["service"], &premises["entry"]);
        let carriers: Vec<Carrier> = rows(&service["carriers"]).flat_map(block).collect();
        let implied = match carriers[0].step {
            6.0 => 5.360537,
            8.0 => 6.952,
            step => step,
        };
        let optional = |value: &Value, read| Some(value).filter(|v| !v.is_null()).map(|v| Curve::read(v, read));
        let climates = climates(premises);
        let outlets: Vec<Outlet> = rows(&premises["outlet"]).map(outlet).collect();
        let network = &premises["home_network"];
        let member = |id: &Value| outlets.iter().position(|o| o.id == text(id)).expect("a member");
        Self {
            name: text(&premises["name"]).to_owned(),
            split: quantity::split(&service["split"]),
            noise_bandwidth_mhz: or(&service["noise_bandwidth"], quantity::mhz, implied),
            return_channels: service["return_channels"].as_f64().unwrap_or(1.0),
            carriers,
            forward: Curve::read(&entry["forward"], quantity::dbmv),
            cnr: optional(&entry["cnr"], quantity::db as fn(&Value) -> f64),
            transmit: optional(&entry["transmit"], quantity::dbmv as fn(&Value) -> f64),
            spread: or(&entry["spread"], quantity::db, 0.0),
            bonded: entry["bonded"].as_bool().unwrap_or(false),
            parts: rows(&premises["part"]).map(|row| Part::read(row, &premises["spec"], &climates)).collect(),
            supplies: rows(&premises["supply"]).map(supply).collect(),
            network: band(&network["band"]).map(|band| Network {
                band,
                members: rows(&network["members"]).map(member).collect(),
                max_loss: quantity::db(&network["max_loss"]),
            }),
            limits: Limits::read_all(&premises["limits"]),
            targets: Limits::read_targets(&premises["target"]),
            outlets,
        }
    }

    /// The part and way behind a port; none for the entry.
    pub(crate) fn step(&self, port: &str) -> Option<Step> {
        let way = |part: &Part| part.ways.iter().position(|way| way.port == port);
        let found = self.parts.iter().enumerate();
        let mut found = found.filter_map(|(at, part)| way(part).map(|way| (at, way)));
        let step = found.next();
        assert!(step.is_some() || port == "entry", "no port {port:?}");
        step
    }

    /// The steps from the entry down to a port.
    pub(crate) fn way_to(&self, port: &str) -> Vec<Step> {
        let Some(step) = self.step(port) else {
            return Vec::new();
        };
        let mut way = self.way_to(&self.parts[step.0].after);
        way.push(step);
        way
    }

    /// The places of the outlets with a device.
    pub(crate) fn devices(&self) -> Vec<usize> {
        let all = 0..self.outlets.len();
        all.filter(|&at| self.outlets[at].device != "unused").collect()
    }

    /// The steps down to an outlet.
    pub(crate) fn way_to_outlet(&self, outlet: usize) -> Vec<Step> {
        self.way_to(&self.outlets[outlet].after)
    }

    /// Whether a port carries direct current alone.
    pub(crate) fn is_dc_only(&self, port: &str) -> bool {
        let dc_only = |step: &Step| matches!(self.parts[step.0].ways[step.1].through, Through::DcOnly);
        self.way_to(port).iter().any(dc_only)
    }

    /// The frequencies of forward and noise rows: the entry's, and the first and last carrier.
    pub(crate) fn forward_frequencies(&self) -> Vec<f64> {
        let mut all = self.forward.frequencies();
        all.push(self.carriers[0].mhz);
        all.push(self.carriers[self.carriers.len() - 1].mhz);
        all.sort_by(f64::total_cmp);
        all.dedup_by(|left, right| (*left - *right).abs() < 1e-6);
        all
    }

    /// The frequencies of return rows.
    pub(crate) fn return_frequencies(&self) -> Vec<f64> {
        self.transmit.as_ref().map_or_else(Vec::new, Curve::frequencies)
    }
}

/// Coldest and hottest of each place, in C.
pub(crate) fn climates(premises: &Value) -> HashMap<String, (f64, f64)> {
    let climates = ["indoor", "outdoor", "attic"].map(|place| {
        let range = premises["climate"][place].as_array();
        let range = range.map_or((20.0, 20.0), |ends| (quantity::celsius(&ends[0]), quantity::celsius(&ends[1])));
        (place.to_owned(), range)
    });
    HashMap::from(climates)
}

/// The carriers of one block.
fn block(row: &Value) -> Vec<Carrier> {
    let (first, last) = (quantity::mhz(&row["first"]), quantity::mhz(&row["last"]));
    let step = quantity::mhz(&row["step"]);
    let offset = or(&row["offset"], quantity::db, 0.0);
    let centres = (0..100_000).map(|i| first + f64::from(i) * step);
    centres.take_while(|mhz| *mhz <= last + 1e-6 * step).map(|mhz| Carrier { mhz, offset, step }).collect()
}

/// One `[[outlet]]`.
pub(crate) fn outlet(row: &Value) -> Outlet {
    Outlet {
        id: text(&row["id"]).to_owned(),
        after: text(&row["after"]).to_owned(),
        device: text(&row["device"]).to_owned(),
        lifeline: row["lifeline"].as_bool().unwrap_or(false),
    }
}

/// One `[[supply]]`.
pub(crate) fn supply(row: &Value) -> Supply {
    Supply {
        id: text(&row["id"]).to_owned(),
        after: text(&row["after"]).to_owned(),
        volts: quantity::volts(&row["volts"]),
        spread: or(&row["spread"], quantity::fraction, 0.0),
        source_ohms: or(&row["source_ohms"], quantity::ohms, 0.0),
        amps: quantity::amps(&row["amps"]),
    }
}
