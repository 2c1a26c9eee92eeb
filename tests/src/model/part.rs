//! One part: its ways out, what each loses, and what direct current meets in it.

use std::collections::HashMap;

use serde_json::Value;

use super::{
    amplifier::Amplifier,
    quantity::{self, text},
    tables::Curve,
};

/// Which of the three figures of one quantity is meant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Case {
    /// At 20 C, with every spread zero.
    Nominal,
    /// Every part at its most loss.
    Most,
    /// Every part at its least loss.
    Least,
}

/// The three cases, the nominal one first.
pub(crate) const CASES: [Case; 3] = [Case::Nominal, Case::Most, Case::Least];

/// A run of cable.
#[derive(Clone, Debug)]
pub(crate) struct Cable {
    /// Loss of one `per` over frequency, in dB.
    pub(crate) loss: Curve,
    /// How many times `per` the run is long.
    pub(crate) times: f64,
    /// Coldest and hottest where it lies, in C.
    pub(crate) climate: (f64, f64),
}

/// What a way out does to the signal.
#[derive(Clone, Debug)]
pub(crate) enum Through {
    /// The loss of the part's cable.
    Cable,
    /// A loss in dB over frequency.
    Loss(Curve),
    /// The gain of the part's amplifier.
    Amplified,
    /// Nothing: direct current only.
    DcOnly,
}

/// One way out of a part.
#[derive(Clone, Debug)]
pub(crate) struct Way {
    /// The name other rows of the file hang on.
    pub(crate) port: String,
    /// What the signal meets.
    pub(crate) through: Through,
    /// Resistance from the part's input at 20 C, if direct current passes.
    pub(crate) ohms: Option<f64>,
    /// Whether a 75 ohm terminator sits on it.
    pub(crate) terminated: bool,
}

/// One `[[part]]`.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    pub(crate) id: String,
    pub(crate) after: String,
    pub(crate) ways: Vec<Way>,
    /// Plus or minus, in dB; for a cable a fraction.
    pub(crate) spread: f64,
    pub(crate) band: Option<(f64, f64)>,
    pub(crate) isolation: Curve,
    pub(crate) cable: Option<Cable>,
    pub(crate) amplifier: Option<Amplifier>,
    pub(crate) reflects: Option<(f64, f64)>,
    pub(crate) is_bond: bool,
    /// Length of the bonding conductor in metres.
    pub(crate) conductor_length: Option<f64>,
    /// Gauge of the bonding conductor.
    pub(crate) conductor: Option<f64>,
}

/// Two frequencies in MHz.
pub(crate) fn band(value: &Value) -> Option<(f64, f64)> {
    let edges = value.as_array()?;
    Some((quantity::mhz(&edges[0]), quantity::mhz(&edges[1])))
}

const KINDS: [&str; 10] =
    ["cable", "splitter", "coupler", "equalizer", "filter", "amplifier", "inserter", "bond", "joint", "pad"];

impl Part {
    /// Reads a row of the file, its spec from `specs`, and the climate of its place.
    pub(crate) fn read(row: &Value, specs: &Value, climates: &HashMap<String, (f64, f64)>) -> Self {
        let kind = KINDS.into_iter().find(|kind| !row[kind].is_null()).unwrap_or_else(|| panic!("no kind in {row}"));
        let id = text(&row["id"]).to_owned();
        let nothing = Value::Null;
        let spec = if kind == "pad" {
            &nothing
        } else {
            let name = text(&row[kind]);
            let spec = &specs[kind][name];
            assert!(!spec.is_null(), "no spec for {kind} {name:?}");
            spec
        };
        let optional = |key: &str, read: fn(&Value) -> f64| Some(&row[key]).filter(|v| !v.is_null()).map(read);
        let spread = match (&spec["spread"], kind) {
            (Value::Null, _) => 0.0,
            (spread, "cable") => quantity::fraction(spread),
            (spread, _) => quantity::db(spread),
        };
        let isolation = match &spec["isolation"] {
            Value::Null => Curve::flat(20.0),
            value => Curve::read(value, quantity::db),
        };
        let cable = (kind == "cable").then(|| Cable {
            loss: Curve::read(&spec["loss"], quantity::db),
            times: quantity::metres(&row["length"]) / quantity::metres(&spec["per"]),
            climate: climates[row["place"].as_str().unwrap_or("indoor")],
        });
        let amplifier = (kind == "amplifier").then(|| Amplifier::read(&id, spec));
        let mut ways = ways(kind, &id, row, spec, cable.as_ref());
        for ended in row["terminated"].as_array().into_iter().flatten() {
            let name = ended.as_str().map_or_else(|| ended.to_string(), str::to_owned);
            let port = format!("{id}.{name}");
            let is_only = name == "1" && ways.len() == 1;
            let way = ways.iter_mut().find(|way| way.port == port || is_only);
            way.unwrap_or_else(|| panic!("no port {port:?}")).terminated = true;
        }
        Self {
            after: text(&row["after"]).to_owned(),
            ways,
            spread,
            band: band(&spec["band"]),
            isolation,
            cable,
            amplifier,
            reflects: band(&spec["reflects"]),
            is_bond: kind == "bond",
            conductor_length: optional("conductor_length", quantity::metres),
            conductor: optional("conductor", quantity::gauge),
            id,
        }
    }

    /// The loss from the input to a way out in dB, at a frequency in MHz: below zero is gain.
    pub(crate) fn loss(&self, way: usize, mhz: f64, case: Case) -> f64 {
        let moved = match case {
            Case::Nominal => 0.0,
            Case::Most => self.spread,
            Case::Least => -self.spread,
        };
        match &self.ways[way].through {
            Through::Cable => {
                let cable = self.cable.as_ref().expect("a cable");
                let celsius = match case {
                    Case::Nominal => 20.0,
                    Case::Most => cable.climate.1,
                    Case::Least => cable.climate.0,
                };
                let cold = cable.loss.in_root(mhz).max(0.0) * cable.times;
                (cold * (1.0 + 0.002 * (celsius - 20.0)) * (1.0 + moved)).max(0.0)
            }
            Through::Loss(curve) => (curve.linear(mhz) + moved).max(0.0),
            Through::Amplified => moved - self.amplifier().gain.linear(mhz),
            Through::DcOnly => panic!("no signal at {}", self.ways[way].port),
        }
    }

    /// The loss from a way out to the input; none where there is no return path.
    pub(crate) fn return_loss(&self, way: usize, mhz: f64, case: Case) -> Option<f64> {
        if !self.is_amplified(way) {
            return Some(self.loss(way, mhz, case));
        }
        let gain = self.amplifier().return_gain.as_ref()?.linear(mhz);
        Some(match case {
            Case::Nominal => -gain,
            Case::Most => self.spread - gain,
            Case::Least => -self.spread - gain,
        })
    }

    /// Whether a way out is an amplifier's output.
    pub(crate) fn is_amplified(&self, way: usize) -> bool {
        matches!(self.ways[way].through, Through::Amplified)
    }

    /// The amplifier this part is.
    pub(crate) fn amplifier(&self) -> &Amplifier {
        self.amplifier.as_ref().expect("an amplifier")
    }
}

/// The ways out of a part of a kind.
fn ways(kind: &str, id: &str, row: &Value, spec: &Value, cable: Option<&Cable>) -> Vec<Way> {
    let loss = |value: &Value| Through::Loss(Curve::read(value, quantity::db));
    let way = |port: String, through, ohms| Way { port, through, ohms, terminated: false };
    let dc_ohms = match &spec["dc_ohms"] {
        Value::Null => 0.0,
        value => quantity::ohms(value),
    };
    let lists = |name: &str| {
        let named = |leg: &Value| leg.as_str() == Some(name) || leg.as_u64().is_some_and(|n| n.to_string() == name);
        let list = spec["dc_pass"].as_array();
        list.is_some_and(|legs| legs.iter().any(named)).then_some(dc_ohms)
    };
    let flag = (spec["dc_pass"] == Value::Bool(true)).then_some(dc_ohms);
    match kind {
        "cable" => {
            let times = cable.map_or(0.0, |cable| cable.times);
            let ohms = quantity::ohms(&spec["loop"]) * times;
            vec![way(id.to_owned(), Through::Cable, Some(ohms))]
        }
        "splitter" => (1..=spec["legs"].as_u64().expect("legs"))
            .map(|leg| {
                let own = &spec["leg_loss"][(leg - 1) as usize];
                let through = loss(if own.is_null() { &spec["loss"] } else { own });
                way(format!("{id}.{leg}"), through, lists(&leg.to_string()))
            })
            .collect(),
        "coupler" => ["through", "tap"].map(|name| way(format!("{id}.{name}"), loss(&spec[name]), lists(name))).into(),
        "inserter" => vec![
            way(format!("{id}.rf"), loss(&spec["loss"]), None),
            way(format!("{id}.dc"), Through::DcOnly, Some(dc_ohms)),
        ],
        "filter" | "equalizer" => vec![way(id.to_owned(), loss(&spec["loss"]), flag)],
        "joint" | "bond" => vec![way(id.to_owned(), loss(&spec["loss"]), Some(dc_ohms))],
        "pad" => vec![way(id.to_owned(), loss(&row["pad"]), None)],
        "amplifier" => {
            let mut all: Vec<Way> = (1..=spec["outputs"].as_u64().expect("outputs"))
                .map(|output| way(format!("{id}.{output}"), Through::Amplified, None))
                .collect();
            if !spec["passive"].is_null() {
                all.push(way(format!("{id}.passive"), loss(&spec["passive"]), None));
            }
            if spec["dc_ports"].as_array().is_some_and(|ports| ports.iter().any(|port| port == "power")) {
                all.push(way(format!("{id}.power"), Through::DcOnly, None));
            }
            all
        }
        _ => panic!("no kind {kind:?}"),
    }
}
