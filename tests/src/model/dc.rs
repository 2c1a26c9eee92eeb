//! Voltages and currents, by sweeping down from the unloaded voltage.
//!
//! With every draw worked out at the voltages so far, a lower voltage draws at least the same current, so each
//! sweep only lowers them: they end at the highest solution there is, or pass zero where there is none.

use super::{
    reach::Reach,
    tree::{Home, Supply},
};

/// Temperature and supply voltage of a solution.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Weather {
    /// 20 C and the nominal voltage.
    Nominal,
    /// The hottest, and the lowest voltage.
    Hot,
    /// The coldest, and the highest voltage.
    Cold,
}

/// Volts at every node, amperes of every load.
#[derive(Clone, Debug)]
pub(crate) struct Solution {
    pub(crate) volts: Vec<f64>,
    pub(crate) amps: Vec<f64>,
}

impl Solution {
    /// What the supply gives.
    pub(crate) fn supply_amps(&self) -> f64 {
        self.amps.iter().sum()
    }
}

/// Most sweeps before a voltage counts as found.
const SWEEPS: usize = 100_000;

/// Volts and amperes of a feed; none where it has collapsed. Draws count `factor` times.
pub(crate) fn solve(supply: &Supply, reach: &Reach, weather: Weather, factor: f64) -> Option<Solution> {
    let source = match weather {
        Weather::Nominal => supply.volts,
        Weather::Hot => supply.volts * (1.0 - supply.spread),
        Weather::Cold => supply.volts * (1.0 + supply.spread),
    };
    let ohms: Vec<f64> = reach
        .nodes
        .iter()
        .map(|node| {
            let celsius = match (node.climate, weather) {
                (None, _) | (_, Weather::Nominal) => 20.0,
                (Some((_, hottest)), Weather::Hot) => hottest,
                (Some((coldest, _)), Weather::Cold) => coldest,
            };
            node.ohms * (1.0 + 0.00393 * (celsius - 20.0))
        })
        .collect();
    let mut volts = vec![source; reach.nodes.len()];
    for _ in 0..SWEEPS {
        let amps = amps(reach, &volts, factor);
        let next = sweep(reach, &ohms, source, &amps);
        if reach.loads.iter().any(|load| next[load.node] <= 0.0) {
            return None;
        }
        let moved = volts.iter().zip(&next).map(|(before, after)| (before - after).abs());
        let moved = moved.fold(0.0, f64::max);
        volts = next;
        if moved < 1e-13 * source {
            break;
        }
    }
    let amps = amps(reach, &volts, factor);
    Some(Solution { volts, amps })
}

/// The current of every load at its node's voltage.
fn amps(reach: &Reach, volts: &[f64], factor: f64) -> Vec<f64> {
    let loads = reach.loads.iter();
    loads.map(|load| load.draw.times(factor).amps(volts[load.node])).collect()
}

/// The voltages that those currents leave.
fn sweep(reach: &Reach, ohms: &[f64], source: f64, amps: &[f64]) -> Vec<f64> {
    let mut flows = vec![0.0; reach.nodes.len()];
    for (load, amps) in reach.loads.iter().zip(amps) {
        flows[load.node] += amps;
    }
    for at in (1..flows.len()).rev() {
        let nearer = reach.nodes[at].nearer.expect("a node nearer to the supply");
        flows[nearer] += flows[at];
    }
    let mut volts = Vec::with_capacity(flows.len());
    for (at, node) in reach.nodes.iter().enumerate() {
        let before = node.nearer.map_or(source, |nearer: usize| volts[nearer]);
        volts.push(before - ohms[at] * flows[at]);
    }
    volts
}

/// The three solutions of a feed, nominal first; an extreme is worked out even where the nominal one is none.
pub(crate) fn solutions(supply: &Supply, reach: &Reach) -> [Option<Solution>; 3] {
    [Weather::Nominal, Weather::Hot, Weather::Cold].map(|weather| solve(supply, reach, weather, 1.0))
}

/// The places of the other supplies whose port a supply's current reaches.
pub(crate) fn joined(home: &Home, supply: usize, reach: &Reach) -> Vec<usize> {
    let all = 0..home.supplies.len();
    all.filter(|&other| other != supply && reach.node(&home.supplies[other].after).is_some()).collect()
}
